source(file.path(dirname(sub("^--file=", "", grep("^--file=", commandArgs(FALSE), value = TRUE)[1])), "common.R"))
# births.csv, endometrial.csv and beetles.csv were taken from packages (Epi, brglm2) that a rerun does not need.
glmTight <- glm.control(epsilon = 1e-15, maxit = 200)
firthLogit <- function(X, y, level = .95, w = rep(1, length(y)), profile = TRUE) {   # X with intercept column
  k <- ncol(X)
  height <- function(b) { p <- plogis(as.vector(X %*% b)); v <- sum(w * ifelse(y == 1, log(p), log1p(-p))) + .5 * as.numeric(determinant(t(X * (w * p * (1 - p))) %*% X)$modulus); if (is.finite(v)) v else -1e10 }
  fit <- function(free, fixed, start) { b <- fixed; b[free] <- start
    for (it in 1:500) { p <- plogis(as.vector(X %*% b)); W <- w * p * (1 - p); I <- t(X * W) %*% X; h <- rowSums((X %*% solve(I)) * X) * W
      U <- t(X[, free, drop = FALSE]) %*% (w * (y - p) + h * (.5 - p)); st <- solve(I[free, free, drop = FALSE], U); mx <- max(abs(st)); if (mx > 5) st <- st * 5 / mx; old <- height(b); n <- b; n[free] <- b[free] + as.vector(st)
      # Without halving the iteration for the profile of the constant goes round in a circle and stops anywhere.
      for (half in 1:30) { if (height(n) >= old - 1e-12) break; st <- st / 2; n[free] <- b[free] + as.vector(st) }
      b <- n; if (mx < 1e-12) break }
    p <- plogis(as.vector(X %*% b)); I <- t(X * (w * p * (1 - p))) %*% X
    list(b = b, ll = sum(w * ifelse(y == 1, log(p), log1p(-p))), pll = sum(w * ifelse(y == 1, log(p), log1p(-p))) + .5 * as.numeric(determinant(I)$modulus), V = solve(I)) }
  f <- fit(seq_len(k), numeric(k), numeric(k)); se <- sqrt(diag(f$V)); r <- list(coef = f$b, se = se, penalisedLoglik = f$pll)
  if (profile) { cut <- qchisq(level, 1) / 2
    g <- function(j, v) { fx <- f$b; fx[j] <- v; fr <- setdiff(seq_len(k), j); f$pll - fit(fr, fx, f$b[fr])$pll - cut }
    r$profileLower <- vapply(seq_len(k), function(j) uniroot(function(v) g(j, v), c(f$b[j] - 3 * se[j], f$b[j]), extendInt = "downX", tol = 1e-11)$root, 0)
    r$profileUpper <- vapply(seq_len(k), function(j) uniroot(function(v) g(j, v), c(f$b[j], f$b[j] + 3 * se[j]), extendInt = "upX", tol = 1e-11)$root, 0)
    r$profileP <- vapply(seq_len(k), function(j) pchisq(2 * (g(j, 0) + cut), 1, lower.tail = FALSE), 0) }
  r
}
# glm stops with the weights of the previous iterate, so its vcov is only accurate to about the square root of the
# coefficients' accuracy; a second fit started at the solution repairs that.
glmT <- function(formula, family, data, control = glmTight) { g <- stats::glm(formula, family, data, control = control); environment(formula) <- environment(); s <- coef(g)
  eval(substitute(stats::glm(F, FA, D, control = C, start = S), list(F = formula, FA = family, D = data, C = control, S = s))) }
coxLL <- function(b, y, X, ties = "breslow", weights = NULL) {   # log partial likelihood, score, information at b
  X <- as.matrix(X); b <- as.vector(b); k <- ncol(X); m <- as.matrix(y)
  en <- if (ncol(m) == 3) m[, 1] else rep(-Inf, nrow(m)); t <- m[, ncol(m) - 1]; s <- m[, ncol(m)]
  eta <- as.vector(X %*% b); r <- exp(eta - max(eta)); sh <- max(eta); ll <- 0; U <- numeric(k); I <- matrix(0, k, k)
  for (u in sort(unique(t[s == 1]))) {
    R <- which(en < u & t >= u); D <- which(t == u & s == 1); d <- length(D)
    s0 <- sum(r[R]); s1 <- colSums(r[R] * X[R, , drop = FALSE]); s2 <- crossprod(X[R, , drop = FALSE] * r[R], X[R, , drop = FALSE])
    d0 <- sum(r[D]); d1 <- colSums(r[D] * X[D, , drop = FALSE]); d2 <- crossprod(X[D, , drop = FALSE] * r[D], X[D, , drop = FALSE])
    ll <- ll + sum(eta[D]); U <- U + colSums(X[D, , drop = FALSE])
    for (q in seq_len(d)) { f <- if (ties == "efron") (q - 1) / d else 0; a0 <- s0 - f * d0; a1 <- s1 - f * d1; a2 <- s2 - f * d2
      ll <- ll - log(a0) - sh; U <- U - a1 / a0; I <- I + a2 / a0 - tcrossprod(a1) / a0^2 }
  }
  list(ll = ll, score = U, info = I)
}
# Derivatives from five points on each side of the middle; errors of the order of the fourth power of the step.
slope <- function(f, b, h = 1e-3) vapply(seq_along(b), function(j) { e <- replace(numeric(length(b)), j, h); (8 * (f(b + e) - f(b - e)) - (f(b + 2 * e) - f(b - 2 * e))) / (12 * h) }, 0)
curvature <- function(f, b, h = 1e-3) { H <- vapply(seq_along(b), function(j) { e <- replace(numeric(length(b)), j, h); (8 * (slope(f, b + e) - slope(f, b - e)) - (slope(f, b + 2 * e) - slope(f, b - 2 * e))) / (12 * h) }, numeric(length(b))); (H + t(H)) / 2 }
firthCox <- function(y, X, ties = "breslow", level = .95) {
  X <- as.matrix(X); k <- ncol(X)
  pll <- function(b) { z <- coxLL(b, y, X, ties); dt <- determinant(z$info); v <- z$ll + 0.5 * as.numeric(dt$modulus); if (is.finite(v) && dt$sign > 0) v else -1e10 }
  o <- optim(rep(0, k), function(b) -pll(b), method = "BFGS", control = list(reltol = 1e-15, maxit = 500))
  b <- o$par
  for (it in 1:20) { g <- slope(pll, b); H <- curvature(pll, b); st <- solve(H, g); b <- b - as.vector(st); if (max(abs(st)) < 1e-9) break }
  z <- coxLL(b, y, X, ties); V <- solve(z$info); top <- pll(b); cut <- qchisq(level, 1) / 2
  prof <- function(j, v) { if (k == 1) return(pll(v)); idx <- setdiff(seq_len(k), j)
    oo <- optim(b[idx], function(q) { bb <- b; bb[j] <- v; bb[idx] <- q; -pll(bb) }, method = "BFGS", control = list(reltol = 1e-15, maxit = 500)); -oo$value }
  ci <- t(vapply(seq_len(k), function(j) { se <- sqrt(V[j, j]); f <- function(v) top - prof(j, v) - cut
    lo <- uniroot(f, c(b[j] - 8 * se, b[j]), extendInt = "downX", tol = 1e-10)$root; hi <- uniroot(f, c(b[j], b[j] + 8 * se), extendInt = "upX", tol = 1e-10)$root; c(lo, hi) }, numeric(2)))
  p <- vapply(seq_len(k), function(j) pchisq(2 * (top - prof(j, 0)), 1, lower.tail = FALSE), 0)
  list(coef = b, se = sqrt(diag(V)), penalisedLoglik = top, penalisedLoglikNull = pll(rep(0, k)), loglik = z$ll, profileLower = ci[, 1], profileUpper = ci[, 2], profileP = p)
}
b <- input("births.csv"); b <- b[complete.cases(b[, c("lowbw", "gestwks", "hyp", "matage", "sex")]), ]
g <- glmT(lowbw ~ hyp + gestwks + matage + factor(sex), binomial, b)
glmOut <- function(g) list(coef = unname(coef(g)), names = arr(names(coef(g))), vcov = unname(vcov(g)), deviance = deviance(g), nullDeviance = g$null.deviance, loglik = as.numeric(logLik(g)), aic = AIC(g))
hc0 <- unname(vcov(g) %*% crossprod(model.matrix(g) * (g$y - fitted(g))) %*% vcov(g))
Xb <- model.matrix(g); yb <- g$y; prof <- function(j, v) { f <- stats::glm.fit(Xb[, -j], yb, offset = Xb[, j] * v, family = binomial(), control = glmTight); (f$deviance - deviance(g)) - qchisq(.95, 1) }
pe <- t(vapply(seq_len(ncol(Xb)), function(j) { s <- sqrt(vcov(g)[j, j]); b <- coef(g)[[j]]; c(uniroot(function(v) prof(j, v), c(b - 2 * s, b), extendInt = "downX", tol = 1e-11)$root, uniroot(function(v) prof(j, v), c(b, b + 2 * s), extendInt = "upX", tol = 1e-11)$root) }, numeric(2)))
auc <- (function() { p <- fitted(g); y <- g$y; d <- outer(p[y == 1], p[y == 0], "-"); (sum(d > 0) + .5 * sum(d == 0)) / length(d) })()
rec("logistic.births", "Logistic regression, Wald and profile-likelihood intervals, robust variance, c-statistic", paste("Epi births data (500 singleton births);", computedWith("stats")), "births.csv", list(y = "lowbw", covariates = "hyp, gestwks, matage, sex==2", note = "complete cases"), call = "Maximum likelihood by IRLS to 1e-15; profile intervals by root finding on the deviance (profileLower/Upper); HC0 and HC1 sandwich; c-statistic with ties counted half.",
    expected = c(list(n = nrow(b)), glmOut(g), list(profileLower = pe[, 1], profileUpper = pe[, 2], hc0 = hc0, hc1 = hc0 * nrow(b) / (nrow(b) - length(coef(g))), cStatistic = auc, brier = mean((g$y - fitted(g))^2))), tolerance = "rel 1e-8 (confint* 1e-3, do not test)")
endometrial <- input("endometrial.csv"); X <- cbind(1, as.matrix(endometrial[, c("NV", "PI", "EH")])); f <- firthLogit(X, endometrial$HG)
fig <- c(2.929, -.035, -2.604, .610, 7.855)
ml <- suppressWarnings(glm(HG ~ NV + PI + EH, binomial, endometrial)); lim <- glmT(HG ~ PI + EH, binomial, endometrial[endometrial$NV == 0, ])
rec("firth.endometrial", "Firth penalised logistic regression; separation", "Endometrial cancer grade data (Heinze & Schemper 2002; Agresti), via brglm2", "endometrial.csv", list(y = "HG", covariates = "NV, PI, EH"), call = "Maximise loglik + 0.5 log det information. se from the inverse information at the estimate (unpenalised information, as brglm2); profile penalised-likelihood 95% limits and p. Ordinary maximum likelihood: NV infinite; the other coefficients at the limit are those of the fit to the NV = 0 rows.",
    expected = c(f, list(mlNvIsInfinite = TRUE, mlOthersAtLimit = unname(coef(lim)))),
    published = list(source = "Heinze & Schemper 2002 (NV, PI, EH and the profile limits of NV)", figures = fig, agrees = agree(c(f$coef[2:4], f$profileLower[2], f$profileUpper[2]), fig, 3)), tolerance = "coef rel 1e-7, limits rel 1e-6")
d <- data.frame(dose = c(1.6907, 1.7242, 1.7552, 1.7842, 1.8113, 1.8369, 1.8610, 1.8839), n = c(59, 60, 62, 56, 63, 59, 62, 60), dead = c(6, 13, 18, 28, 52, 53, 61, 60)); csv(d, "beetles.csv"); gb <- glmT(cbind(dead, n - dead) ~ dose, binomial, d)
rec("logistic.grouped", "Grouped (binomial count) logistic regression", "Bliss beetle mortality, as in Dobson", "beetles.csv", list(successes = "dead", totals = "n", x = "dose"), call = "ML.", expected = glmOut(gb), published = list(source = "Dobson, Introduction to Generalized Linear Models", figures = c(-60.72, 34.27, deviance = 11.23), agrees = agree(c(coef(gb), deviance(gb)), c(-60.72, 34.27, 11.23), 2)), tolerance = "rel 1e-8")
# Firth Cox
mo <- data.frame(time = c(2, 3, 5, 6, 8, 9, 11, 12, 14, 15, 18, 20), status = c(1, 1, 0, 1, 1, 0, 1, 0, 0, 0, 0, 0), x = c(1, 1, 1, 1, 1, 1, 1, 0, 0, 0, 0, 0)); mo$time[8:12] <- c(4, 7, 10, 13, 16); mo$z <- c(.4, 1.2, -.3, .7, .1, -1.1, .9, .2, -.6, 1.4, -.2, .3); csv(mo, "firth_cox.csv")
y <- Surv(mo$time, mo$status); fc <- firthCox(y, cbind(mo$x, mo$z), "breslow")
ov <- survival::ovarian; fo <- firthCox(Surv(ov$futime, ov$fustat), cbind(age = ov$age, rx2 = ov$rx - 1), "breslow"); mlo <- coxph(Surv(futime, fustat) ~ age + I(rx - 1), ov, ties = "breslow", control = tight)
csv(data.frame(time = ov$futime, status = ov$fustat, age = ov$age, resid = ov$resid.ds, rx = ov$rx, ecog = ov$ecog.ps), "ovarian.csv")
rec("firth_cox.monotone", "Firth penalised Cox under monotone likelihood", "method: Heinze & Schemper 2001; direct maximisation", "firth_cox.csv", list(time = "time", status = "status", covariates = "x, z"), call = "Maximise log partial likelihood (Breslow; no ties here) + 0.5 log det information; profile penalised 95% limits and p.", expected = fc, tolerance = "coef rel 1e-6, limits rel 1e-5")
rec("firth_cox.ovarian", "Firth penalised Cox, ordinary data", "method: Heinze & Schemper 2001; direct maximisation; survival ovarian", "ovarian.csv", list(time = "time", status = "status", covariates = "age, rx == 2"), call = "As above; ordinary Cox beside it.", expected = list(firth = fo, ordinary = coxOut(mlo)), tolerance = "coef rel 1e-6, limits rel 1e-5")
finish("09_logistic_propensity")
