source(file.path(dirname(sub("^--file=", "", grep("^--file=", commandArgs(FALSE), value = TRUE)[1])), "common.R"))
# Rows that share a cluster: 40 invented clusters, row number modulo 40, each with men and women in it.
d <- input("mgus2.csv"); d$cluster <- (seq_len(nrow(d)) - 1) %% 40
d$age3 <- cut(d$age, c(0, 65, 75, 200), right = FALSE, labels = c("<65", "65-74", ">=75"))
src <- "mgus2 from package survival (months; 1 malignancy, 2 death without it); clusters invented: row number from 0, modulo 40"
columns <- list(time = "time (months)", event = "event (0,1,2)", group = "sex or age cut <65, 65-74, >=75", cluster = "row number from 0, modulo 40")

# Cox score test at coefficient 0 with its variance between clusters: with Breslow ties the score is observed minus expected.
robustScore <- function(formula) {
  f <- coxph(formula, data = d, ties = "breslow", cluster = cluster, control = tight)
  df <- length(coef(f)); c(chisq = f$rscore, df = df, p = pchisq(f$rscore, df, lower.tail = FALSE))
}
rec("clustered.logrank", "Log-rank with variance between clusters", src, "mgus2.csv", columns,
    call = "coxph(ties = breslow, cluster)$rscore: score at coefficient 0, variance the sum over clusters of squared summed score residuals, no small-sample factor; chi-square p.",
    expected = list(deathBySex = robustScore(Surv(time, event == 2) ~ sex), malignancyBySex = robustScore(Surv(time, event == 1) ~ sex),
                    deathByAge = robustScore(Surv(time, event == 2) ~ age3), deathByAgeWithinSex = robustScore(Surv(time, event == 2) ~ age3 + strata(sex))),
    tolerance = "rel 1e-10")

times <- c(12, 60, 120, 180)
bySex <- function(f) lapply(c(F = "F", M = "M"), function(sex) f(d[d$sex == sex, ]))
rec("clustered.survival", "Kaplan-Meier with variance between clusters", src, "mgus2.csv", columns,
    call = "survfit(cluster): infinitesimal jackknife summed by cluster; event = malignancy or death.",
    expected = list(times = times, bySex = bySex(function(q) { s <- summary(survfit(Surv(time, event > 0) ~ 1, data = q, cluster = cluster), times = times); list(survival = s$surv, se = s$std.err) })),
    tolerance = "rel 1e-10")

# survival 3.5-3 keeps the influence of every row on a multi-state estimate, with a first slice at time 0, and leaves `cluster` out of
# its own standard error; the sums over clusters are formed here. Each row as its own cluster must give that standard error back.
fits <- bySex(function(q) survfit(Surv(time, factor(event, 0:2)) ~ 1, data = q, id = id, influence = TRUE))
influence <- function(sex, time, cause) fits[[sex]]$influence.pstate[, 1 + max(which(fits[[sex]]$time <= time)), cause + 1]
byCluster <- function(sex, time, cause) as.vector(tapply(influence(sex, time, cause), factor(d$cluster[d$sex == sex], 0:39), sum))
share <- function(sex, time, cause) fits[[sex]]$pstate[max(which(fits[[sex]]$time <= time)), cause + 1]
root <- function(x) sqrt(sum(x^2))
stopifnot(abs(root(influence("F", 120, 2)) - summary(fits$F, times = 120)$std.err[, 3]) < 1e-14)
incidence <- function(sex, cause) list(cif = vapply(times, function(t) share(sex, t, cause), 0), se = vapply(times, function(t) root(byCluster(sex, t, cause)), 0))
rec("clustered.incidence", "Cumulative incidence with variance between clusters", src, "mgus2.csv", columns,
    call = "survfit (multi-state, influence = TRUE): influence summed by cluster, squared and summed; causes 1 and 2.",
    expected = list(times = times, bySex = lapply(c(F = "F", M = "M"), function(sex) list(cause1 = incidence(sex, 1), cause2 = incidence(sex, 2)))),
    tolerance = "rel 1e-10")

# The influence of a cluster on the difference is its influence on one group less that on the other.
difference <- function(cause) list(difference = vapply(times, function(t) share("F", t, cause) - share("M", t, cause), 0),
  se = vapply(times, function(t) root(byCluster("F", t, cause) - byCluster("M", t, cause)), 0))
rec("clustered.difference", "Difference of two incidences that share clusters", src, "mgus2.csv", columns,
    call = "F minus M; se = root of the sum over clusters of (influence on F - influence on M)^2.",
    expected = list(times = times, cause1 = difference(1), cause2 = difference(2)), tolerance = "rel 1e-9")
finish("19_clustered")
