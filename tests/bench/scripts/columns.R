# Follow-up columns that the bench wrote: whole numbers of 32 bits. A script sources this file, then times its step.
arguments <- commandArgs(TRUE)
folder <- arguments[1]
self <- sub("^--file=", "", grep("^--file=", commandArgs(FALSE), value = TRUE)[1])

column <- function(name) {
  path <- file.path(folder, paste0(name, ".int32"))
  readBin(path, "integer", n = file.size(path) / 4, size = 4, endian = "little")
}

# Prints seconds, megabytes and the number that Node is to find as well.
timed <- function(work) {
  invisible(gc(reset = TRUE))
  answer <- NA
  seconds <- system.time(answer <- work())[["elapsed"]]
  cat(sprintf('{"seconds":%.4f,"megabytes":%.1f,"answer":%.15g}\n', seconds, sum(gc()[, 6]), answer))
}
