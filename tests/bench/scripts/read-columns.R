source(file.path(dirname(sub("^--file=", "", grep("^--file=", commandArgs(FALSE), value = TRUE)[1])), "columns.R"))
path <- file.path(folder, "cases.csv")
# Reading alone, without checks: with data.table where it is installed (Debian: r-cran-data.table).
fast <- requireNamespace("data.table", quietly = TRUE)
timed(function() {
  cases <- if (fast) data.table::fread(path, showProgress = FALSE) else read.csv(path)
  nrow(cases)
})
