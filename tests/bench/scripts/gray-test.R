suppressMessages(library(cmprsk))
source(file.path(dirname(sub("^--file=", "", grep("^--file=", commandArgs(FALSE), value = TRUE)[1])), "columns.R"))
exit <- column("exit"); event <- column("event"); group <- column("group")
timed(function() cuminc(exit, event, group, cencode = 0)$Tests[1, 1])
