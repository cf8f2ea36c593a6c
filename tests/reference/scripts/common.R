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
