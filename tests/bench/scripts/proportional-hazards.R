source(file.path(dirname(sub("^--file=", "", grep("^--file=", commandArgs(FALSE), value = TRUE)[1])), "cox-columns.R"))
fit <- coxph(model, data, ties = "efron")
timed(function() cox.zph(fit)$table["GLOBAL", "chisq"])
