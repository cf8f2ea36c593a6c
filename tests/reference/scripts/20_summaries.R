source(file.path(dirname(sub("^--file=", "", grep("^--file=", commandArgs(FALSE), value = TRUE)[1])), "common.R"))
ll <- input("lalonde.csv")
summaries <- function(x) { q <- quantile(x, c(.25, .5, .75), type = 7, names = FALSE); list(n = length(x), mean = mean(x), sd = sd(x), lowerQuartile = q[1], median = q[2], upperQuartile = q[3], least = min(x), most = max(x)) }
rec("summaries.lalonde", "Mean, sample standard deviation, quartiles linear between ordered values", "LaLonde / Dehejia-Wahba subset (614 rows)", "lalonde.csv", list(group = "treat"),
    call = "mean, sd (n - 1), quantile(type = 7), range, by treat.",
    expected = lapply(c(age = "age", educ = "educ", re74 = "re74"), function(name) list(treated = summaries(ll[[name]][ll$treat == 1]), control = summaries(ll[[name]][ll$treat == 0]))),
    tolerance = "rel 1e-12")
finish("20_summaries")
