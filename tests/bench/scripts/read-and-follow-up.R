source(file.path(dirname(sub("^--file=", "", grep("^--file=", commandArgs(FALSE), value = TRUE)[1])), "columns.R"))
path <- file.path(folder, "cases.csv")
cut <- as.integer(as.Date(sub('.*"dataCut":"([0-9-]+)".*', "\\1", paste(readLines(file.path(folder, "datapackage.json")), collapse = ""))))
fast <- requireNamespace("data.table", quietly = TRUE)
timed(function() {
  cases <- if (fast) data.table::fread(path, colClasses = "character", showProgress = FALSE)
           else read.csv(path, colClasses = "character")
  day <- function(text) {
    days <- rep(NA_integer_, length(text))
    given <- grepl("^[0-9]{4}-[0-9]{2}-[0-9]{2}$", text)
    days[given] <- as.integer(as.Date(text[given]))
    days
  }
  end <- pmin(day(cases$revision_date), day(cases$death_date), cut, na.rm = TRUE)
  sum(end - day(cases$operation_date))
})
