source(file.path(dirname(sub("^--file=", "", grep("^--file=", commandArgs(FALSE), value = TRUE)[1])), "common.R"))
# Linear and logistic regression with robust and clustered variance, written out from the definition.
sumsBy <- function(S, g) rowsum(S, g)
lmOut <- function(X, y, w = rep(1, length(y)), g = NULL) {
  q <- qr(X * sqrt(w)); b <- qr.coef(q, y * sqrt(w)); r <- as.vector(y - X %*% b); B <- chol2inv(qr.R(q)); k <- ncol(X); n <- length(y)
  s2 <- sum(w * r^2) / (n - k); S <- X * (w * r); V <- unname(B %*% crossprod(S) %*% B)
  out <- list(coef = unname(b), modelVcov = B * s2, residualSd = sqrt(s2), hc0 = V)
  if (!is.null(g)) { C <- sumsBy(S, g); out$clustered <- unname(B %*% crossprod(C) %*% B); out$clusters <- nrow(C) }
  out
}
data(longley); csv(longley, "longley.csv")
m <- lm(Employed ~ ., longley); f <- summary(m)$fstatistic
# Certified by the National Institute of Standards and Technology, Statistical Reference Datasets, "Longley" where employment is in thousands
# and other columns are in other units.
cert <- c(-3482258.63459582, 15.0618722713733, -0.0358191792925910, -2.02022980381683, -1.03322686717359, -0.0511041056535807, 1829.15146461355) / 1000 * c(1, 1, 1000, 10, 10, 1000, 1)
rec("linear.longley", "Linear regression, badly conditioned", paste("longley of R datasets;", computedWith("stats")), "longley.csv", list(y = "Employed", covariates = "GNP.deflator, GNP, Unemployed, Armed.Forces, Population, Year"),
    call = "lm. Certified coefficients brought to the units of these columns.", expected = list(coef = unname(coef(m)), se = unname(sqrt(diag(vcov(m)))), residualSd = sigma(m), loglik = as.numeric(logLik(m)), fStatistic = unname(f), p = pf(f[[1]], f[[2]], f[[3]], lower.tail = FALSE), ssr = deviance(m)),
    published = list(source = "NIST Statistical Reference Datasets, Longley (certified; read as the tests of statsmodels and of the GNU Scientific Library quote it)", figures = cert, agrees = if (max(abs(coef(m) / cert - 1)) < 1e-8) "agrees to nine digits" else "differs"), valueFromMemory = FALSE, tolerance = "rel 1e-8")
l <- input("lalonde.csv"); X <- cbind(1, l$treat, l$age, l$educ, l$race == "hispan", l$race == "white", l$married)
w <- 1 + (seq_len(nrow(l)) %% 5) / 2
rec("linear.lalonde", "Linear regression with model-based, robust and clustered variance, and sampling weights", paste("LaLonde / Dehejia-Wahba subset;", computedWith("stats")), "lalonde.csv", list(y = "re78", covariates = "treat, age, educ, race (black reference), married", cluster = "educ", weight = "1 + (row %% 5) / 2, rows from 1"),
    call = "HC0: sum over rows of squared score shares; clustered: over sums by cluster, no G / (G - 1).", expected = list(plain = lmOut(X, l$re78, g = l$educ), weighted = lmOut(X, l$re78, w, l$educ)), tolerance = "rel 1e-8")
g <- glm.control(epsilon = 1e-15, maxit = 200); y <- as.numeric(l$re78 > 0); Z <- cbind(1, l$treat, l$age, l$married)
logitOut <- function(w) { b <- suppressWarnings(glm.fit(Z, y, w, family = binomial(), control = g)$coefficients); p <- as.vector(plogis(Z %*% b)); B <- solve(crossprod(Z * (w * p * (1 - p)), Z)); S <- Z * (w * (y - p)); C <- sumsBy(S, l$educ)
  list(coef = unname(b), modelVcov = B, hc0 = B %*% crossprod(S) %*% B, clustered = unname(B %*% crossprod(C) %*% B), clusters = nrow(C)) }
rec("logistic.lalonde", "Logistic regression with robust and clustered variance, and sampling weights", paste("LaLonde / Dehejia-Wahba subset;", computedWith("stats")), "lalonde.csv", list(y = "re78 > 0", covariates = "treat, age, married", cluster = "educ", weight = "1 + (row %% 5) / 2, rows from 1"),
    call = "As above.", expected = list(plain = logitOut(rep(1, nrow(l))), weighted = logitOut(w)), tolerance = "rel 1e-8")
finish("22_linear")
