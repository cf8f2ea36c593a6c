source(file.path(dirname(sub("^--file=", "", grep("^--file=", commandArgs(FALSE), value = TRUE)[1])), "common.R"))
# Restricted mean and rate with variance between clusters, and a hazard smoothed over a window. Clusters as in 19_clustered.R.
d <- input("mgus2.csv"); d$cluster <- (seq_len(nrow(d)) - 1) %% 40
src <- "mgus2 from package survival (months; 1 malignancy, 2 death without it); clusters invented: row number from 0, modulo 40"
columns <- list(time = "time (months)", event = "event (0,1,2)", group = "sex", cluster = "row number from 0, modulo 40")
z <- qnorm(.975); sexes <- c(F = "F", M = "M")
# Degrees of freedom after "shares" (Satterthwaite; Bell and McCaffrey 2002): the matrix of the corrected sums were rows independent,
# written out. s: shares of the clusters in each group, v: variance of each group's estimate were rows independent.
freedom <- function(s, v) { g <- Reduce(`+`, Map(function(s, v) v * (diag(s) - s %o% s) / ((1 - s) %o% (1 - s)), s, v)); sum(diag(g))^2 / sum(g^2) }

# Influence of every row on the area under its Kaplan-Meier curve: the influence on the curve, integrated from 0 to tau.
area <- function(sex, tau) {
  q <- d[d$sex == sex, ]; f <- survfit(Surv(time, event > 0) ~ 1, data = q, influence = 1)
  at <- which(f$time < tau); grid <- c(0, f$time[at], tau)
  list(mean = sum(c(1, f$surv[at]) * diff(grid)), influence = as.vector(f$influence.surv[, at] %*% diff(grid[-1])), cluster = factor(q$cluster, 0:39))
}
# "shares": the influence of a cluster over one minus its share of the rows of its sex.
byCluster <- function(a, shares) { u <- as.vector(tapply(a$influence, a$cluster, sum)); if (shares) u / (1 - as.vector(table(a$cluster)) / length(a$influence)) else u }
mean2 <- function(tau, shares = FALSE) {
  a <- lapply(sexes, area, tau = tau); u <- lapply(a, byCluster, shares = shares); root <- function(x) sqrt(sum(x^2))
  for (sex in sexes) stopifnot(abs(root(a[[sex]]$influence) - rmst(d$time[d$sex == sex], as.numeric(d$event[d$sex == sex] > 0), tau)$se) < 1e-10)
  lost <- lapply(a, function(x) tau - x$mean)
  # Each contrast weighs the two groups in its own way, by w, and leaves degrees of freedom of its own.
  dfOf <- function(w) if (shares) freedom(lapply(a, function(x) as.vector(table(x$cluster)) / length(x$influence)), Map(function(x, w) w^2 * sum(x$influence^2), a, w)) else Inf
  df <- dfOf(c(1, 1)); z <- qt(.975, df)
  ratio <- function(v, s) { e <- root(s * u$F / v$F - s * u$M / v$M); r <- v$F / v$M; df <- dfOf(c(1 / v$F, 1 / v$M)); z <- qt(.975, df); list(estimate = r, lower = r * exp(-z * e), upper = r * exp(z * e), p = 2 * pt(-abs(log(r)) / e, df), df = if (shares) df) }
  se <- root(u$F - u$M); diff <- a$F$mean - a$M$mean
  list(mean = vapply(a, function(x) x$mean, 0), se = vapply(u, root, 0), difference = list(estimate = diff, se = se, lower = diff - z * se, upper = diff + z * se, p = 2 * pt(-abs(diff) / se, df), df = if (shares) df),
       ratio = ratio(lapply(a, function(x) x$mean), 1), ratioLost = ratio(lost, -1))
}
rec("clustered.restricted_mean", "Restricted mean with variance between clusters", src, "mgus2.csv", columns,
    call = "survfit(influence = 1): influence on the curve integrated to tau months and summed by cluster; F minus M, F over M. With each row alone it is the Greenwood-type variance, which the script checks. Event = malignancy or death; months.",
    expected = list(tau60 = mean2(60), tau120 = mean2(120)), tolerance = "rel 1e-9")
rec("clustered.restricted_mean.shares", "Restricted mean between clusters, widened by shares", src, "mgus2.csv", columns,
    call = "as clustered.restricted_mean, each cluster's influence over one minus its share of the rows of its sex; t on the degrees of freedom of the shares, each contrast on its own.",
    expected = list(tau60 = mean2(60, TRUE), tau120 = mean2(120, TRUE)), tolerance = "rel 1e-9")

# Poisson regression with log time as offset; sandwich of the scores summed by cluster, written out. Rows of time 0 hold no
# time and here no event.
e <- d[d$time > 0, ]; stopifnot(all(d$event[d$time == 0] == 0))
rate <- function(event, shares = FALSE) {
  y <- as.numeric(e$event %in% event); x <- cbind(women = e$sex == "F", men = e$sex == "M") + 0
  f <- glm(y ~ x - 1 + offset(log(e$time)), family = poisson, control = glm.control(epsilon = 1e-15, maxit = 100)); m <- fitted(f)
  scores <- rowsum(x * (y - m), e$cluster); leverage <- sweep(rowsum(x * m, e$cluster), 2, colSums(x * m), "/")
  meat <- crossprod(if (shares) scores / (1 - leverage) else scores); bread <- solve(crossprod(x, x * m)); v <- bread %*% meat %*% bread; b <- unname(coef(f))
  part <- function(sex) if (shares) freedom(list(leverage[, sex]), 1) else Inf; q <- qt(.975, c(part(1), part(2)))
  dfOf <- function(w) if (shares) freedom(list(leverage[, 1], leverage[, 2]), w^2 * colSums(x * y)) else Inf
  df <- dfOf(1 / colSums(x * y)); z <- qt(.975, df); dfd <- dfOf(1 / colSums(x * e$time)); zd <- qt(.975, dfd)
  s <- unname(sqrt(diag(v))); sr <- sqrt(v[1, 1] + v[2, 2] - 2 * v[1, 2]); g <- exp(b) * 1200
  sd <- sqrt(v[1, 1] * g[1]^2 + v[2, 2] * g[2]^2 - 2 * v[1, 2] * g[1] * g[2])
  list(per100 = g, seLog = s, lower = g * exp(-q * s), upper = g * exp(q * s), ratio = list(estimate = g[1] / g[2], lower = exp(b[1] - b[2] - z * sr), upper = exp(b[1] - b[2] + z * sr), p = 2 * pt(-abs(b[1] - b[2]) / sr, df), df = if (shares) df),
       difference = list(estimate = g[1] - g[2], se = sd, lower = g[1] - g[2] - zd * sd, upper = g[1] - g[2] + zd * sd, p = 2 * pt(-abs(g[1] - g[2]) / sd, dfd), df = if (shares) dfd))
}
rec("clustered.rate", "Rates per 100 years with variance between clusters", src, "mgus2.csv", columns,
    call = "glm(poisson, offset = log(time)), sex F then M; bread meat bread with scores summed by cluster, no small-sample factor; years = months / 12.",
    expected = list(malignancy = rate(1), death = rate(2), either = rate(1:2)), tolerance = "rel 1e-9")
rec("clustered.rate.shares", "Rates per 100 years between clusters, widened by shares", src, "mgus2.csv", columns,
    call = "as clustered.rate, each cluster's scores over one minus its share of the fitted events (of the time) of its sex; t on the degrees of freedom of the shares, of ratio and difference each its own: the variance of a log rate is one over its events, of a rate its events over squared time.",
    expected = list(malignancy = rate(1, TRUE), death = rate(2, TRUE), either = rate(1:2, TRUE)), tolerance = "rel 1e-9")

hazard <- function(sex, code, b, at) {
  q <- d[d$sex == sex, ]; q$y <- as.numeric(q$event == code); f <- survfit(Surv(time, y) ~ 1, data = q)
  k <- outer(at, f$time, function(t, u) { x <- (t - u) / b; ifelse(abs(x) < 1, .75 * (1 - x^2), 0) / b })
  h <- 12 * as.vector(k %*% (f$n.event / f$n.risk)); s <- 12 * sqrt(as.vector(k^2 %*% (f$n.event / f$n.risk^2)))
  list(hazard = h, se = s, lower = h * exp(-z * s / h), upper = h * exp(z * s / h))
}
at <- seq(24, 180, by = 12)
rec("hazard.smoothed", "Kernel-smoothed hazard", src, "mgus2.csv", columns,
    call = "survfit: sum over times of K((t - u) / b) / b d / n with K(x) = 3/4 (1 - x^2), variance the sum of squares with d / n^2; b = 24 months; per year; log limits.",
    expected = list(times = at, malignancy = lapply(sexes, hazard, code = 1, b = 24, at = at), death = lapply(sexes, hazard, code = 2, b = 24, at = at)),
    tolerance = "rel 1e-11")
finish("21_clustered_means")
