source(file.path(dirname(sub("^--file=", "", grep("^--file=", commandArgs(FALSE), value = TRUE)[1])), "common.R"))
# Shared gamma frailty with the full matrix between frailties; clustered variance corrected for what each cluster pulled; within and between.
ctl <- coxph.control(eps = 1e-14, toler.chol = 1e-15, iter.max = 50, outer.max = 100)
# slope of the highest integrated likelihood by theta, from the frailties fitted at theta and the events d of each cluster
slope <- function(w, d, theta) -sum(w - expm1(w) - log1p(d * theta) + vapply(d, function(n) if (n == 0) 0 else sum(theta / (1 + theta * (seq_len(n) - 1))), 0)) / theta^2
# theta is where that slope is 0; the variance is the block of the coefficients in the inverse of the whole penalised information
frailtyOut <- function(fit, d, range, k, without) {
  logs <- function(f) unname(coef(f))[-seq_len(k)]
  theta <- uniroot(function(t) slope(logs(fit(t)), d, t), range, tol = 1e-14)$root; f <- fit(theta); i <- seq_len(k); l <- f$history[[1]]$c.loglik
  list(theta = theta, integratedLoglik = l, coef = unname(coef(f))[i], vcov = unname(f$var)[i, i, drop = FALSE], frailties = exp(logs(f)), lrFrailty = 2 * (l - without$loglik[2]))
}
kd <- input("kidney_recurrence.csv"); events <- as.vector(tapply(kd$status, kd$id, sum))
rec("frailty.kidney_full", "Shared gamma frailty, standard errors from the whole information", paste("McGilchrist & Aisbett kidney catheter data;", computedWith("survival")), "kidney_recurrence.csv", list(time = "time", status = "status", covariates = "age, sex", cluster = "id"),
    call = "coxph with frailty(id, dist = gamma, theta, sparse = FALSE), efron and breslow.",
    expected = lapply(c(efron = "efron", breslow = "breslow"), function(ties) frailtyOut(function(t) coxph(Surv(time, status) ~ age + sex + frailty(id, dist = "gamma", theta = t, sparse = FALSE), kd, ties = ties, control = ctl), events, c(.05, 1.5), 2, coxph(Surv(time, status) ~ age + sex, kd, ties = ties, control = tight))),
    tolerance = "rel 1e-8", edge = "With sparse = TRUE, R's default beyond five clusters, the matrix between frailties is taken as diagonal and standard errors come out 2 % larger.")
kd$odd <- kd$id %% 2; kd$entry <- ifelse(seq_len(nrow(kd)) %% 5 == 0, kd$time %/% 2, 0)
rec("frailty.kidney_strata_late", "Shared gamma frailty with strata and late entries", paste("McGilchrist & Aisbett kidney catheter data, with entries made up;", computedWith("survival")), "kidney_recurrence.csv", list(time = "time", status = "status", entry = "time %/% 2 in every fifth row, else 0", covariates = "age, sex", strata = "id %% 2", cluster = "id"),
    call = "Surv(entry, time, status) ~ age + sex + strata(odd) + frailty(id), efron, as above. Frailties are gamma among those who enter.",
    expected = frailtyOut(function(t) coxph(Surv(entry, time, status) ~ age + sex + strata(odd) + frailty(id, dist = "gamma", theta = t, sparse = FALSE), kd, control = ctl), events, c(.05, 3), 2, coxph(Surv(entry, time, status) ~ age + sex + strata(odd), kd, control = tight)),
    tolerance = "rel 1e-8")
l <- subset(input("lung.csv"), !is.na(inst) & !is.na(age) & !is.na(sex) & !is.na(ecog))
# each cluster's own part of the information, and its score, summed over every row of every risk set (Breslow); (I - A_c A^-1)^-1 u_c before squaring
overTheRest <- function(time, status, X, g, b) {
  r <- as.vector(exp(X %*% b)); k <- ncol(X); ids <- sort(unique(g)); A <- lapply(ids, function(i) matrix(0, k, k)); U <- lapply(ids, function(i) numeric(k)); names(A) <- names(U) <- ids
  for (u in sort(unique(time[status == 1]))) {
    R <- which(time >= u); D <- which(time == u & status == 1); m <- colSums(r[R] * X[R, , drop = FALSE]) / sum(r[R])
    for (i in R) { d <- X[i, ] - m; h <- length(D) * r[i] / sum(r[R]); c <- as.character(g[i]); A[[c]] <- A[[c]] + h * tcrossprod(d); U[[c]] <- U[[c]] + ((i %in% D) - h) * d }
  }
  I <- Reduce(`+`, A); B <- solve(I); V <- matrix(0, k, k)
  for (c in names(A)) { s <- solve(diag(k) - A[[c]] %*% B, U[[c]]); V <- V + tcrossprod(s) }
  # Satterthwaite degrees of freedom of each coefficient, from the whole matrix between the corrected scores of clusters were rows independent
  M <- lapply(A, function(a) solve(diag(k) - a %*% B)); n <- length(ids)
  freedom <- function(j) { G <- matrix(0, n, n); for (c in 1:n) for (d in 1:n) G[c, d] <- B[j, ] %*% M[[c]] %*% ((if (c == d) A[[c]] else 0 * A[[c]]) - A[[c]] %*% B %*% A[[d]]) %*% t(M[[d]]) %*% B[, j]; sum(diag(G))^2 / sum(G^2) }
  list(vcov = unname(B %*% V %*% B), clusters = n, df = vapply(1:k, freedom, 0), p = vapply(1:k, function(j) 2 * pt(-abs(b[j]) / sqrt((B %*% V %*% B)[j, j]), freedom(j)), 0))
}
X <- as.matrix(l[, c("age", "sex", "ecog")]); fb <- coxph(Surv(time, status) ~ age + sex + ecog, l, ties = "breslow", control = tight)
rec("cox.lung_over_the_rest", "Clustered variance corrected for each cluster's own part of the information", paste("lung of survival;", computedWith("survival")), "lung.csv", list(time = "time", status = "status", covariates = "age, sex, ecog", cluster = "inst"),
    call = "Written out: u_c becomes (I - A_c A^-1)^-1 u_c (Mancl and DeRouen 2001, carried to the partial likelihood), Breslow.", expected = overTheRest(l$time, l$status, X, l$inst, coef(fb)), tolerance = "rel 1e-9")
l$between <- ave(l$ecog, l$inst); l$within <- l$ecog - l$between
fw <- coxph(Surv(time, status) ~ within + between + cluster(inst), l, control = tight); d <- c(1, -1)
rec("cox.lung_within_between", "A column split into the mean of its cluster and the deviation from it", paste("lung of survival;", computedWith("survival")), "lung.csv", list(time = "time", status = "status", covariates = "ecog split by inst", cluster = "inst"),
    call = "coxph(Surv(time, status) ~ within + between + cluster(inst)); Wald chi-square of within less between.", expected = list(coef = unname(coef(fw)), vcov = unname(fw$var), differenceChisq = as.numeric(sum(d * coef(fw))^2 / (d %*% fw$var %*% d))), tolerance = "rel 1e-8")
finish("23_frailty")
