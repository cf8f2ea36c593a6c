source(file.path(dirname(sub("^--file=", "", grep("^--file=", commandArgs(FALSE), value = TRUE)[1])), "cox-columns.R"))
data$surgeon <- column("cluster")
timed(function() sqrt(coxph(model, data, ties = "efron", cluster = surgeon)$var[1, 1]))
