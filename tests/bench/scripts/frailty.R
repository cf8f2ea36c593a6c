source(file.path(dirname(sub("^--file=", "", grep("^--file=", commandArgs(FALSE), value = TRUE)[1])), "cox-columns.R"))
data$surgeon <- column("cluster")
shared <- update(model, . ~ x1 + x2 + x3 + x4 + x5 + frailty(surgeon, distribution = "gamma"))
timed(function() exp(coef(coxph(shared, data, ties = "efron"))[["x1"]]))
