# Shared helpers of the reference scripts. A topic script sources this file and ends with finish("topic").
#
#   Rscript 01_kaplan_meier.R FOLDER
#
# writes FOLDER/01_kaplan_meier.json and nothing else; input is read from ../data. Needs survival, cmprsk and jsonlite.
if (length(commandArgs(TRUE)) != 1) stop("give the folder to write into")
suppressMessages({library(survival)})
options(digits = 17, stringsAsFactors = FALSE, warn = 1)
.self <- normalizePath(sub("^--file=", "", grep("^--file=", commandArgs(FALSE), value = TRUE)[1]))
.data <- normalizePath(file.path(dirname(.self), "..", "data"))
.rec <- list()

# An input file as it was committed.
input <- function(name) read.csv(file.path(.data, name), check.names = FALSE)

# ---- JSON writer: shortest decimal that reads back to the same double -------------------------------------
.num <- function(x) {
  if (is.na(x) && !is.nan(x)) return("null")
  if (is.nan(x)) return("\"NaN\"")
  if (is.infinite(x)) return(if (x > 0) "\"Inf\"" else "\"-Inf\"")
  if (x == round(x) && abs(x) < 1e15) return(sprintf("%.0f", x + 0))
  for (d in 15:17) { s <- sprintf("%.*g", d, x); if (as.numeric(s) == x) return(s) }
  s
}
.str <- function(s) if (is.na(s)) "null" else {
  s <- gsub("\\", "\\\\", s, fixed = TRUE); s <- gsub("\"", "\\\"", s, fixed = TRUE)
  s <- gsub("\n", "\\n", s, fixed = TRUE); paste0("\"", gsub("\t", " ", s, fixed = TRUE), "\"")
}
.scalars <- function(x) {
  if (is.factor(x)) x <- as.character(x)
  if (is.character(x)) vapply(x, .str, "", USE.NAMES = FALSE)
  else if (is.logical(x)) ifelse(is.na(x), "null", ifelse(x, "true", "false"))
  else vapply(as.numeric(x), .num, "", USE.NAMES = FALSE)
}
arr <- function(x) structure(list(x), class = "jarr")     # force a JSON array even at length 1
toJ <- function(x, ind = 0) {
  pad <- strrep(" ", ind + 1)
  if (is.null(x)) return("null")
  if (inherits(x, "jarr")) return(paste0("[", paste(.scalars(x[[1]]), collapse = ","), "]"))
  if (is.data.frame(x)) { l <- lapply(x, arr); return(toJ(l, ind)) }
  if (is.matrix(x)) {
    rows <- vapply(seq_len(nrow(x)), function(i) paste0("[", paste(.scalars(x[i, ]), collapse = ","), "]"), "")
    return(paste0("[", paste(rows, collapse = ","), "]"))
  }
  if (is.list(x)) {
    if (!length(x)) return(if (is.null(names(x))) "[]" else "{}")
    v <- vapply(x, toJ, "", ind = ind + 1)
    if (is.null(names(x))) return(paste0("[\n", paste0(pad, v, collapse = ",\n"), "\n", strrep(" ", ind), "]"))
    return(paste0("{\n", paste0(pad, vapply(names(x), .str, ""), ": ", v, collapse = ",\n"), "\n", strrep(" ", ind), "}"))
  }
  if (length(names(x))) {   # named atomic vector -> object
    v <- .scalars(x)
    return(paste0("{", paste0(vapply(names(x), .str, ""), ": ", v, collapse = ", "), "}"))
  }
  s <- .scalars(x)
  if (length(s) == 1) s else paste0("[", paste(s, collapse = ","), "]")
}

# ---- records -----------------------------------------------------------------------------------------------
pv <- function(p) as.character(packageVersion(p))
computedWith <- function(...) { p <- c(...); paste0("computed with R ", getRversion(), if (length(p)) paste0(" (", paste(p, vapply(p, pv, ""), collapse = ", "), ")")) }

# published: list(source, figures, agrees, note) of printed figures; those recalled rather than read are
# flagged through valueFromMemory (default TRUE whenever published is given).
rec <- function(id, method, source = computedWith(), data = NULL, columns = NULL, call, args = NULL, input = NULL,
                expected, published = NULL, valueFromMemory = !is.null(published), tolerance = "rel 1e-9", edge = NULL) {
  r <- list(id = id, method = method, source = source, valueFromMemory = valueFromMemory, data = data,
            columns = columns, input = input, call = call, args = args, expected = expected,
            published = published, tolerance = tolerance, edge = edge)
  if (id %in% vapply(.rec, function(q) q$id, "")) stop("duplicate id ", id)
  .rec[[length(.rec) + 1]] <<- r[!vapply(r, is.null, NA) | names(r) %in% c("data")]
  invisible()
}
# Input that a script builds itself (from a package or by hand) must be what was committed, byte for byte.
csv <- function(d, name) {
  if (!file.exists(file.path(.data, name))) return(invisible(name))
  f <- d
  for (j in names(f)) if (is.numeric(f[[j]])) f[[j]] <- vapply(f[[j]], function(v) if (is.na(v)) "" else .num(v), "")
    else { v <- as.character(f[[j]]); v[is.na(v)] <- ""; f[[j]] <- ifelse(grepl("[,\"]", v), paste0("\"", gsub("\"", "\"\"", v), "\""), v) }
  built <- c(paste(names(f), collapse = ","), do.call(paste, c(unname(as.list(f)), sep = ",")))
  if (!identical(built, readLines(file.path(.data, name)))) stop(name, " is not what the script builds")
  invisible(name)
}
finish <- function(topic) {
  out <- file.path(commandArgs(TRUE)[1], paste0(topic, ".json"))
  names(.rec) <- NULL
  writeLines(toJ(list(topic = topic, generatedWith = R.version.string, records = .rec)), out)
  chk <- jsonlite::fromJSON(out, simplifyVector = FALSE)
  cat(topic, length(chk$records), "records\n")
}

# compare a computed vector with printed figures at the printed number of decimals
agree <- function(computed, printed, decimals) {
  ok <- abs(unlist(computed) - unlist(printed)) <= 0.5 * 10^-decimals * 1.0001
  if (all(ok)) "agrees to the printed digits" else paste("differs at positions", paste(which(!ok), collapse = ","))
}

# ---- weighted log-rank family (written out from the definitions; checked against survdiff where it overlaps) --
# time, status (1 = event), group (k levels), optional strata, weight rule. Returns O-E vector, covariance, chi-square, df.
wlr <- function(time, status, group, weight = "logrank", p = 0, q = 0, strata = NULL, scores = NULL, entry = NULL) {
  g <- factor(group); k <- nlevels(g); if (is.null(strata)) strata <- rep(1, length(time))
  U <- numeric(k); V <- matrix(0, k, k); O <- numeric(k); E <- numeric(k)
  for (s in unique(strata)) {
    i <- strata == s; t <- time[i]; d <- status[i]; gg <- g[i]; en <- if (is.null(entry)) rep(-Inf, sum(i)) else entry[i]
    S <- 1; St <- 1
    for (u in sort(unique(t[d == 1]))) {
      atr <- en < u & t >= u
      n <- sum(atr); nj <- as.vector(table(gg[atr])); dj <- as.vector(table(gg[t == u & d == 1])); dd <- sum(dj)
      SmPP <- St * (1 - dd / (n + 1))                       # Peto-Peto survival at u
      w <- switch(weight, logrank = 1, gehan = n, taroneWare = sqrt(n), petoPeto = SmPP, modifiedPetoPeto = SmPP * n / (n + 1),
                  fh = (if (p == 0) 1 else S^p) * (if (q == 0) 1 else (1 - S)^q), stop("weight"))
      O <- O + dj; E <- E + nj * dd / n
      U <- U + w * (dj - nj * dd / n)
      if (n > 1) V <- V + w^2 * dd * (n - dd) / (n - 1) * (diag(nj / n, k) - outer(nj / n, nj / n))
      S <- S * (1 - dd / n); St <- SmPP
    }
  }
  i <- seq_len(k - 1)
  chi <- as.numeric(t(U[i]) %*% solve(V[i, i, drop = FALSE]) %*% U[i])
  r <- list(observed = O, expected = E, U = U, V = V, chisq = chi, df = k - 1, p = pchisq(chi, k - 1, lower.tail = FALSE))
  if (!is.null(scores)) {
    z <- sum(scores * U) / sqrt(as.numeric(t(scores) %*% V %*% scores))
    r$trend <- list(scores = scores, z = z, chisq = z^2, df = 1, p = pchisq(z^2, 1, lower.tail = FALSE))
  }
  r
}
kmTable <- function(f, i = NULL) {
  s <- summary(if (is.null(i)) f else f[i], censored = FALSE)
  data.frame(time = s$time, nRisk = s$n.risk, nEvent = s$n.event, survival = s$surv, se = s$std.err, lower = s$lower, upper = s$upper)
}
tight <- coxph.control(eps = 1e-13, toler.chol = 1e-15, iter.max = 100)
coxOut <- function(f) {
  s <- summary(f)
  list(coef = unname(coef(f)), names = arr(names(coef(f))), vcov = unname(f$var), se = unname(sqrt(diag(f$var))),
       hazardRatio = unname(exp(coef(f))), loglikNull = f$loglik[1], loglik = f$loglik[2],
       lrtest = unname(s$logtest), waldtest = unname(s$waldtest), scoretest = unname(s$sctest),
       n = f$n, events = f$nevent)
}

# ---- restricted mean (area under Kaplan-Meier to tau) with Greenwood-type variance -------------------------
rmst <- function(time, status, tau) {
  ut <- sort(unique(time[status == 1 & time <= tau]))
  n <- vapply(ut, function(u) sum(time >= u), 0); d <- vapply(ut, function(u) sum(time == u & status == 1), 0)
  S <- cumprod(1 - d / n); grid <- c(0, ut, tau); Sv <- c(1, S)
  areas <- Sv * diff(grid)
  right <- rev(cumsum(rev(areas)))[-1]                      # area from each event time to tau
  v <- sum(ifelse(n == d, 0, right^2 * d / (n * (n - d))))
  list(rmst = sum(areas), se = sqrt(v), rmtl = tau - sum(areas))
}

# ---- Cox helpers used where no package routine exists ------------------------------------------------------
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
# first and second derivatives by central differences, the error of order h^2 taken out by halving h
derivatives <- function(f, b, h = 1e-3) {
  k <- length(b); e <- diag(k)
  at <- function(h) {
    step <- function(i, s) b + s * h * e[i, ]
    list(gradient = vapply(seq_len(k), function(i) (f(step(i, 1)) - f(step(i, -1))) / (2 * h), 0),
         hessian = outer(seq_len(k), seq_len(k), Vectorize(function(i, j) if (i == j) (f(step(i, 1)) - 2 * f(b) + f(step(i, -1))) / h^2 else
           (f(b + h * e[i, ] + h * e[j, ]) - f(b + h * e[i, ] - h * e[j, ]) - f(b - h * e[i, ] + h * e[j, ]) + f(b - h * e[i, ] - h * e[j, ])) / (4 * h^2))))
  }
  one <- at(h); two <- at(h / 2)
  list(gradient = (4 * two$gradient - one$gradient) / 3, hessian = (4 * two$hessian - one$hessian) / 3)
}
firthCox <- function(y, X, ties = "breslow", level = .95) {
  X <- as.matrix(X); k <- ncol(X)
  pll <- function(b) { z <- coxLL(b, y, X, ties); dt <- determinant(z$info); v <- z$ll + 0.5 * as.numeric(dt$modulus); if (is.finite(v) && dt$sign > 0) v else -1e10 }
  o <- optim(rep(0, k), function(b) -pll(b), method = "BFGS", control = list(reltol = 1e-15, maxit = 500))
  b <- o$par
  for (it in 1:20) { d <- derivatives(pll, b); st <- solve(d$hessian, d$gradient); b <- b - as.vector(st); if (max(abs(st)) < 1e-9) break }
  z <- coxLL(b, y, X, ties); V <- solve(z$info); top <- pll(b); cut <- qchisq(level, 1) / 2
  prof <- function(j, v) { if (k == 1) return(pll(v)); idx <- setdiff(seq_len(k), j)
    oo <- optim(b[idx], function(q) { bb <- b; bb[j] <- v; bb[idx] <- q; -pll(bb) }, method = "BFGS", control = list(reltol = 1e-15, maxit = 500)); -oo$value }
  ci <- t(vapply(seq_len(k), function(j) { se <- sqrt(V[j, j]); f <- function(v) top - prof(j, v) - cut
    lo <- uniroot(f, c(b[j] - 8 * se, b[j]), extendInt = "downX", tol = 1e-10)$root; hi <- uniroot(f, c(b[j], b[j] + 8 * se), extendInt = "upX", tol = 1e-10)$root; c(lo, hi) }, numeric(2)))
  p <- vapply(seq_len(k), function(j) pchisq(2 * (top - prof(j, 0)), 1, lower.tail = FALSE), 0)
  list(coef = b, se = sqrt(diag(V)), penalisedLoglik = top, penalisedLoglikNull = pll(rep(0, k)), loglik = z$ll, profileLower = ci[, 1], profileUpper = ci[, 2], profileP = p)
}
# log-likelihood of the marginal ("exact" by averaging orderings, Kalbfleisch-Prentice) tie method, by quadrature
coxMarginalLL <- function(b, time, status, X) {
  X <- as.matrix(X); r <- exp(as.vector(X %*% b)); ll <- 0
  for (u in sort(unique(time[status == 1]))) {
    D <- time == u & status == 1; R <- time >= u & !D; sR <- sum(r[R]); rd <- r[D]
    if (sum(D) == 1) ll <- ll + log(rd / (sR + rd)) else if (sR == 0) ll <- ll + 0 else {
      f <- function(t) vapply(t, function(q) exp(-q) * prod(1 - exp(-rd * q / sR)), 0)
      ll <- ll + log(integrate(f, 0, Inf, rel.tol = 1e-12, subdivisions = 2000L)$value) }
  }
  ll
}
# large-sample approximation of the proportional-hazards test used before R survival 3.0 (Grambsch & Therneau 1994)
zphApprox <- function(fit, transform = "km") {
  sr <- residuals(fit, "schoenfeld"); sr <- as.matrix(sr); tt <- as.numeric(rownames(sr)); if (!length(tt)) tt <- as.numeric(names(residuals(fit, "schoenfeld")))
  g <- switch(transform, identity = tt, log = log(tt), rank = rank(tt), km = { y <- fit$y; s <- survfit(y ~ 1); ff <- stepfun(s$time, c(1, s$surv)); 1 - (vapply(tt, function(u) { i <- which(s$time < u); if (length(i)) s$surv[max(i)] else 1 }, 0)) })
  gc <- g - mean(g); d <- nrow(sr); V <- fit$var; rs <- sr %*% V * d
  num <- colSums(gc * rs); chi <- num^2 / (d * diag(V) * sum(gc^2))
  u <- colSums(gc * sr); gl <- as.numeric(t(u) %*% V %*% u) * d / sum(gc^2)
  list(chisq = unname(chi), p = unname(pchisq(chi, 1, lower.tail = FALSE)), global = gl, globalP = pchisq(gl, ncol(sr), lower.tail = FALSE))
}
zphAll <- function(fit, transforms = c("km", "identity", "log", "rank")) lapply(setNames(transforms, transforms), function(tr) {
  z <- cox.zph(fit, transform = tr, global = TRUE)$table; list(terms = arr(rownames(z)), chisq = unname(z[, 1]), df = unname(z[, 2]), p = unname(z[, 3])) })
conc <- function(f) { k <- concordance(f); list(concordance = unname(k$concordance), variance = unname(k$var), se = sqrt(unname(k$var)), counts = k$count) }

# ---- proportions and two-sample helpers --------------------------------------------------------------------
wilson <- function(x, n, level = .95) { z <- qnorm(1 - (1 - level) / 2); p <- x / n; m <- (p + z^2 / (2 * n)) / (1 + z^2 / n); h <- z / (1 + z^2 / n) * sqrt(p * (1 - p) / n + z^2 / (4 * n^2)); c(lower = max(0, m - h), upper = min(1, m + h)) }
wilsonCC <- function(x, n, level = .95) { z <- qnorm(1 - (1 - level) / 2); p <- x / n; q <- 1 - p
  lo <- if (x == 0) 0 else (2 * n * p + z^2 - 1 - z * sqrt(z^2 - 2 - 1 / n + 4 * p * (n * q + 1))) / (2 * (n + z^2)); up <- if (x == n) 1 else (2 * n * p + z^2 + 1 + z * sqrt(z^2 + 2 - 1 / n + 4 * p * (n * q - 1))) / (2 * (n + z^2)); c(lower = max(0, lo), upper = min(1, up)) }
clopper <- function(x, n, level = .95) { a <- (1 - level) / 2; c(lower = if (x == 0) 0 else qbeta(a, x, n - x + 1), upper = if (x == n) 1 else qbeta(1 - a, x + 1, n - x)) }
newcombe <- function(a, m, b, n, level = .95) { p1 <- a / m; p2 <- b / n; w1 <- wilson(a, m, level); w2 <- wilson(b, n, level); d <- p1 - p2
  c(difference = d, lower = d - sqrt((p1 - w1[[1]])^2 + (w2[[2]] - p2)^2), upper = d + sqrt((w1[[2]] - p1)^2 + (p2 - w2[[1]])^2)) }
katz <- function(a, m, b, n, level = .95) { z <- qnorm(1 - (1 - level) / 2); r <- (a / m) / (b / n); s <- sqrt(1 / a - 1 / m + 1 / b - 1 / n); c(ratio = r, lower = exp(log(r) - z * s), upper = exp(log(r) + z * s), seLog = s) }
woolf <- function(a, m, b, n, level = .95) { z <- qnorm(1 - (1 - level) / 2); o <- a * (n - b) / (b * (m - a)); s <- sqrt(1 / a + 1 / (m - a) + 1 / b + 1 / (n - b)); c(odds = o, lower = exp(log(o) - z * s), upper = exp(log(o) + z * s), seLog = s) }
caTrend <- function(x, n, w) { N <- sum(n); p <- sum(x) / N; wb <- sum(n * w) / N; T <- sum(x * (w - wb)); v <- p * (1 - p) * sum(n * (w - wb)^2); z <- T / sqrt(v); c(z = z, chisq = z^2, p = pchisq(z^2, 1, lower.tail = FALSE), slope = T / sum(n * (w - wb)^2)) }
smdCont <- function(x1, x0, w1 = rep(1, length(x1)), w0 = rep(1, length(x0))) { m <- function(x, w) sum(w * x) / sum(w); v <- function(x, w) { k <- sum(w); mu <- m(x, w); sum(w * (x - mu)^2) * k / (k^2 - sum(w^2)) }; (m(x1, w1) - m(x0, w0)) / sqrt((v(x1, w1) + v(x0, w0)) / 2) }
smdBin <- function(p1, p0) (p1 - p0) / sqrt((p1 * (1 - p1) + p0 * (1 - p0)) / 2)
smdCat <- function(p1, p0) { T <- p1[-1]; C <- p0[-1]; S <- matrix(0, length(T), length(T)); for (k in seq_along(T)) for (l in seq_along(T)) S[k, l] <- if (k == l) (T[k] * (1 - T[k]) + C[k] * (1 - C[k])) / 2 else -(T[k] * T[l] + C[k] * C[l]) / 2
  d <- T - C; sqrt(as.numeric(t(d) %*% solve(S) %*% d)) }
