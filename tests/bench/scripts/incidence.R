suppressMessages(library(cmprsk))
source(file.path(dirname(sub("^--file=", "", grep("^--file=", commandArgs(FALSE), value = TRUE)[1])), "columns.R"))
exit <- column("exit"); event <- column("event"); group <- column("group")
# One group at a time: with several, the same function also runs Gray's test.
timed(function() {
  fits <- lapply(0:2, function(g) cuminc(exit[group == g], event[group == g], cencode = 0))
  timepoints(fits[[1]], 3652)$est[1]
})
