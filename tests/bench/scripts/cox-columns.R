# Ten covariates beside the follow-up columns. A script sources this file, then times its step.
suppressMessages(library(survival))
source(file.path(dirname(sub("^--file=", "", grep("^--file=", commandArgs(FALSE), value = TRUE)[1])), "columns.R"))
data <- as.data.frame(lapply(setNames(1:10, paste0("x", 1:10)), function(at) as.numeric(column(paste0("covariate-", at)))))
data$exit <- column("exit"); data$event <- as.integer(column("event") == 1)
model <- as.formula(paste("Surv(exit, event) ~", paste0("x", 1:10, collapse = " + ")))
