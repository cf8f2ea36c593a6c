source(file.path(dirname(sub("^--file=", "", grep("^--file=", commandArgs(FALSE), value = TRUE)[1])), "cox-columns.R"))
timed(function() exp(coef(coxph(model, data, ties = "efron"))[["x1"]]))
