suppressMessages(library(survival))
source(file.path(dirname(sub("^--file=", "", grep("^--file=", commandArgs(FALSE), value = TRUE)[1])), "columns.R"))
exit <- column("exit"); event <- column("event"); group <- column("group")
timed(function() {
  fit <- survfit(Surv(exit, event == 1) ~ group, conf.type = "log-log")
  summary(fit[1], times = 3652)$surv
})
