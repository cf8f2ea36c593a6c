source(file.path(dirname(sub("^--file=", "", grep("^--file=", commandArgs(FALSE), value = TRUE)[1])), "cox-columns.R"))
data$surgeon <- column("cluster")
# An end on day 0 has no length in this language: half a day changes no risk set.
data$exit[data$exit == 0] <- 0.5
timed(function() {
  pieces <- survSplit(Surv(exit, event) ~ ., data, cut = c(1095, 1826), start = "entry", episode = "period")
  split <- as.formula(paste("Surv(entry, exit, event) ~ x1:factor(period) +", paste0("x", 2:10, collapse = " + ")))
  fit <- coxph(split, pieces, ties = "efron", cluster = surgeon)
  exp(coef(fit)[["x1:factor(period)1"]])
})
