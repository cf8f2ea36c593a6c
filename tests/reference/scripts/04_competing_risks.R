source(file.path(dirname(sub("^--file=", "", grep("^--file=", commandArgs(FALSE), value = TRUE)[1])), "common.R"))
# The committed file also holds seEtmGreenwood, from package etm (etmCIF), and prodlim was run beside it: both are left out of a
# rerun, which needs no further package. seDeltaGreenwood is the same number from the formula written out below.
suppressMessages(library(cmprsk))
m <- survival::mgus2
d <- data.frame(id = m$id, age = m$age, sex = as.character(m$sex), mspike = m$mspike, hgb = m$hgb, time = ifelse(m$pstat == 1, m$ptime, m$futime), event = ifelse(m$pstat == 1, 1L, 2L * m$death))
d$event <- as.integer(d$event); csv(d, "mgus2.csv")
src <- paste("mgus2 (Kyle et al. 2002) from R survival: 1 = plasma-cell malignancy, 2 = death without it, 0 = censored; months")
tt <- c(12, 60, 120, 180, 240, 300)
# own Aalen-Johansen with two variance estimators, to say exactly what each number is
aj <- function(time, event, times, cause = 1) {
  ut <- sort(unique(time[event > 0])); S <- 1; Ft <- 0; P <- NULL
  for (u in ut) { n <- sum(time >= u); dk <- sum(time == u & event == cause); da <- sum(time == u & event > 0)
    P <- rbind(P, c(u, n, dk, da, S, Ft + S * dk / n)); Ft <- Ft + S * dk / n; S <- S * (1 - da / n) }
  colnames(P) <- c("t", "n", "dk", "d", "Sminus", "F")
  one <- function(t0) { Q <- P[P[, "t"] <= t0, , drop = FALSE]; if (!nrow(Q)) return(c(0, 0, 0)); f0 <- Q[nrow(Q), "F"]
    D <- f0 - Q[, "F"]; n <- Q[, "n"]; dd <- Q[, "d"]; dk <- Q[, "dk"]; S <- Q[, "Sminus"]
    # Greenwood/binomial (Dinse-Larson / delta method), as in several texts
    v1 <- sum(D^2 * ifelse(n == dd, 0, dd / (n * (n - dd)))) + sum(S^2 * (n - dk) * dk / n^3) - 2 * sum(D * S * dk / n^2)
    # counting-process (Aalen) form
    Fk <- Q[, "F"]
    v2 <- sum(((f0 - (Fk - S * dk / n) - S)^2) * dk / n^2 + (f0 - (Fk - S * dk / n))^2 * (dd - dk) / n^2)  # Poisson-type increments, F and S just before t
    c(f0, v1, v2) }
  r <- t(vapply(times, one, numeric(3))); list(est = r[, 1], seDelta = sqrt(r[, 2]), seAalenPoisson = sqrt(r[, 3]))
}
out <- list()
for (sx in c("F", "M")) {
  q <- d[d$sex == sx, ]
  f <- survfit(Surv(time, factor(event, 0:2)) ~ 1, data = q, conf.type = "log"); s <- summary(f, times = tt, extend = TRUE)
  fp <- survfit(Surv(time, factor(event, 0:2)) ~ 1, data = q, conf.type = "plain"); sp <- summary(fp, times = tt, extend = TRUE)
  fl <- survfit(Surv(time, factor(event, 0:2)) ~ 1, data = q, conf.type = "log-log"); sl <- summary(fl, times = tt, extend = TRUE)
  cu <- timepoints(cuminc(q$time, q$event), tt)
  own <- lapply(1:2, function(k) aj(q$time, q$event, tt, k))
  stopifnot(max(abs(own[[1]]$est - cu$est[1, ])) < 1e-10, max(abs(own[[2]]$est - s$pstate[, 3])) < 1e-10)
  out[[sx]] <- list(times = tt, n = nrow(q), atRisk = s$n.risk[, 1],
     cause1 = list(cif = s$pstate[, 2], seInfinitesimalJackknife = s$std.err[, 2], logLower = s$lower[, 2], logUpper = s$upper[, 2], plainLower = sp$lower[, 2], plainUpper = sp$upper[, 2], loglogLower = sl$lower[, 2], loglogUpper = sl$upper[, 2],
                   seCmprsk = unname(sqrt(cu$var[1, ])), seDeltaGreenwood = own[[1]]$seDelta),
     cause2 = list(cif = s$pstate[, 3], seInfinitesimalJackknife = s$std.err[, 3], logLower = s$lower[, 3], logUpper = s$upper[, 3], plainLower = sp$lower[, 3], plainUpper = sp$upper[, 3], loglogLower = sl$lower[, 3], loglogUpper = sl$upper[, 3],
                   seCmprsk = unname(sqrt(cu$var[2, ])), seDeltaGreenwood = own[[2]]$seDelta),
     eventFree = s$pstate[, 1])
}
rec("cif.mgus2_by_sex", "Aalen-Johansen cumulative incidence, four standard errors, CIs", src, "mgus2.csv", list(time = "time (months)", event = "event (0,1,2)", group = "sex"),
    call = "Cumulative incidence of each cause at the listed months. SEs: infinitesimal jackknife (survival::survfit, robust); cmprsk::cuminc (Aalen-type); etm (Greenwood-type); delta = sum D^2 d/(n(n-d)) + sum S-^2 dk(n-dk)/n^3 - 2 sum D S- dk/n^2 with D = F(t) - F(u). CI transforms applied with the infinitesimal-jackknife se: log, plain, and log-log as R does it (on the state probability).",
    expected = out, tolerance = "estimates rel 1e-11; each se rel 1e-9")
ci <- cuminc(d$time, d$event, d$sex)
ng <- survdiff(Surv(time, event == 1) ~ sex, d); ng2 <- survdiff(Surv(time, event == 2) ~ sex, d)
rec("gray.mgus2_sex", "Gray's k-sample test (rho = 0) and cause-specific log-rank", src, "mgus2.csv", list(time = "time", event = "event", group = "sex"),
    call = "Gray (1988) test for each cause as in cmprsk::cuminc (rho 0); cause-specific log-rank (competing events censored) beside it.",
    expected = list(gray = list(cause1 = list(stat = unname(ci$Tests["1", "stat"]), p = unname(ci$Tests["1", "pv"]), df = 1), cause2 = list(stat = unname(ci$Tests["2", "stat"]), p = unname(ci$Tests["2", "pv"]), df = 1)),
                    causeSpecificLogrank = list(cause1 = list(chisq = ng$chisq, observed = unname(ng$obs), expected = unname(ng$exp)), cause2 = list(chisq = ng2$chisq, observed = unname(ng2$obs), expected = unname(ng2$exp)))), tolerance = "rel 1e-8")
d$ag3 <- cut(d$age, c(0, 65, 75, 200), right = FALSE, labels = c("<65", "65-74", "75+")); ci3 <- cuminc(d$time, d$event, d$ag3); ci3s <- cuminc(d$time, d$event, d$ag3, strata = d$sex); ci3r <- cuminc(d$time, d$event, d$ag3, rho = 1)
t3 <- function(x) list(cause1 = c(stat = unname(x$Tests["1", "stat"]), p = unname(x$Tests["1", "pv"]), df = 2), cause2 = c(stat = unname(x$Tests["2", "stat"]), p = unname(x$Tests["2", "pv"]), df = 2))
rec("gray.mgus2_age3", "Gray's test, three groups, stratified, rho = 1", src, "mgus2.csv", list(time = "time", event = "event", group = "age cut <65, 65-74, >=75", strata = "sex (second)"), call = "Gray test: plain, stratified by sex, rho = 1.",
    expected = list(plain = t3(ci3), stratifiedBySex = t3(ci3s), rho1 = t3(ci3r)), tolerance = "rel 1e-8")
# regression
x <- d[!is.na(d$mspike), ]; X <- cbind(age10 = x$age / 10, male = as.numeric(x$sex == "M"), mspike = x$mspike)
fg <- crr(x$time, x$event, X, failcode = 1, cencode = 0, gtol = 1e-12, maxiter = 50)
xd <- data.frame(x[, c("id", "time")], ev = factor(x$event, 0:2), X)
g1 <- finegray(Surv(time, ev) ~ ., data = xd, etype = "1")
cb <- coxph(Surv(fgstart, fgstop, fgstatus) ~ age10 + male + mspike, data = g1, weights = fgwt, ties = "breslow", cluster = id, control = tight)
ce <- coxph(Surv(fgstart, fgstop, fgstatus) ~ age10 + male + mspike, data = g1, weights = fgwt, ties = "efron", cluster = id, control = tight)
cat("FG crr", fg$coef, "finegray breslow", coef(cb), "efron", coef(ce), "\n se", sqrt(diag(fg$var)), sqrt(diag(cb$var)), sqrt(diag(ce$naive.var)), "\n")
pr <- predict(fg, rbind(c(7, 1, 1.5), c(6, 0, 0.5))); ip <- vapply(c(60, 120, 240), function(t) max(which(pr[, 1] <= t)), 1L)
rec("finegray.mgus2", "Fine-Gray subdistribution hazard regression", src, "mgus2.csv", list(time = "time", event = "event", covariates = "age/10, male = (sex == M), mspike; rows with missing mspike dropped"),
    call = "Cause 1. crr: Breslow-type ties, censoring weights from one overall Kaplan-Meier of censoring, sandwich variance that accounts for estimating the weights. finegray + weighted coxph: Breslow and Efron ties; robust variance clustered on id (weights taken as known) and naive inverse information.",
    expected = list(n = nrow(x), crr = list(coef = unname(fg$coef), vcov = unname(fg$var), invInf = unname(fg$inf), loglik = fg$loglik, loglikNull = fg$loglik.null, converged = fg$converged, expandedRows = nrow(g1),
                      cifPrediction = list(covariates = rbind(c(7, 1, 1.5), c(6, 0, .5)), times = c(60, 120, 240), cif = unname(pr[ip, -1]))),
                    finegrayBreslow = list(coef = unname(coef(cb)), robustVcov = unname(cb$var), naiveVcov = unname(cb$naive.var)),
                    finegrayEfron = list(coef = unname(coef(ce)), robustVcov = unname(ce$var), naiveVcov = unname(ce$naive.var))), tolerance = "coef rel 1e-7; variance rel 1e-6")
shift <- x$time + 0.1 * (x$event == 0); fs <- crr(shift, x$event, X, failcode = 1, cencode = 0, gtol = 1e-12, maxiter = 50)
stopifnot(max(abs(fs$coef - coef(cb))) < 1e-8)
rec("finegray.tie_convention", "Fine-Gray: censorings tied with events", src, "mgus2.csv", list(time = "time", event = "event", covariates = "age/10, male, mspike"),
    call = "crr's censoring Kaplan-Meier is the plain reversal (subjects with an event at t are still at risk of censoring at t). finegray takes events out before the censorings at t. Moving every censored time up by 0.1 month makes crr use the second convention, and the two programs then agree on the coefficients to 1e-8; on the raw data they differ in the third digit.",
    expected = list(plainReversal = unname(fg$coef), eventsFirst = unname(coef(cb)), crrAfterShift = unname(fs$coef), crrAfterShiftVcov = unname(fs$var)), tolerance = "rel 1e-7", edge = "State which convention is used.")
fg2 <- crr(x$time, x$event, X, failcode = 2, cencode = 0, gtol = 1e-12, maxiter = 50)
cs <- lapply(1:2, function(k) coxOut(coxph(Surv(time, event == k) ~ X, data = x, ties = "efron", control = tight)))
csb <- lapply(1:2, function(k) unname(coef(coxph(Surv(time, event == k) ~ X, data = x, ties = "breslow", control = tight))))
rec("causespecific.mgus2", "Cause-specific Cox for both causes; Fine-Gray for cause 2", src, "mgus2.csv", list(time = "time", event = "event", covariates = "age/10, male, mspike"), call = "Cox with the other cause censored (Efron; Breslow coefs beside); Fine-Gray (crr) for cause 2.",
    expected = list(cause1 = cs[[1]], cause2 = cs[[2]], breslowCoef = list(cause1 = csb[[1]], cause2 = csb[[2]]), fineGrayCause2 = list(coef = unname(fg2$coef), vcov = unname(fg2$var))), tolerance = "rel 1e-8")
# hand example
h <- data.frame(time = c(1, 2, 3, 3, 4, 5, 6, 7, 8, 10), event = c(1, 0, 2, 1, 0, 1, 2, 2, 0, 1), group = rep(c("A", "B"), 5)); csv(h, "cif_hand.csv")
f <- survfit(Surv(time, factor(event, 0:2)) ~ 1, h); cu <- cuminc(h$time, h$event); own <- lapply(1:2, function(k) aj(h$time, h$event, f$time, k)); tpc <- timepoints(cu, f$time)
gt <- cuminc(h$time, h$event, h$group)$Tests
rec("cif.hand", "Aalen-Johansen on ten rows with ties between causes", computedWith("survival", "cmprsk"), "cif_hand.csv", list(time = "time", event = "event", group = "group"), call = "All times. 1 - KM of cause 1 (competing censored) is listed to show the upward bias. Gray test of A versus B.",
    expected = list(time = f$time, cif1 = f$pstate[, 2], cif2 = f$pstate[, 3], eventFree = f$pstate[, 1], seInfinitesimalJackknife1 = f$std.err[, 2], seInfinitesimalJackknife2 = f$std.err[, 3], seDelta1 = own[[1]]$seDelta, seDelta2 = own[[2]]$seDelta, seCmprsk1 = unname(sqrt(tpc$var[1, ])), seCmprsk2 = unname(sqrt(tpc$var[2, ])),
                    oneMinusKM1 = 1 - survfit(Surv(time, event == 1) ~ 1, h)$surv, gray = list(stat = unname(gt[, "stat"]), p = unname(gt[, "pv"]))), tolerance = "rel 1e-11")
finish("04_competing_risks")
