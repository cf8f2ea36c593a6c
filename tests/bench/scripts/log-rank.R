suppressMessages(library(survival))
source(file.path(dirname(sub("^--file=", "", grep("^--file=", commandArgs(FALSE), value = TRUE)[1])), "columns.R"))
exit <- column("exit"); event <- column("event"); group <- column("group")
timed(function() survdiff(Surv(exit, event == 1) ~ group)$chisq)
