source(file.path(dirname(sub("^--file=", "", grep("^--file=", commandArgs(FALSE), value = TRUE)[1])), "common.R"))
# Two input files were taken from package KMsurv (drug6mp, larynx), which a rerun does not need.
fre <- input("freireich.csv"); larynx <- input("larynx.csv"); names(larynx)[2] <- "delta"
csv(fre, "freireich.csv"); fre$x <- as.numeric(fre$arm == "placebo")
fits <- lapply(c(breslow = "breslow", efron = "efron", exact = "exact"), function(t) coxph(Surv(time, status) ~ x, fre, ties = t, control = tight))
mo <- optimize(function(b) coxMarginalLL(b, fre$time, fre$status, fre$x), c(0, 4), maximum = TRUE, tol = 1e-11)
lrt <- wlr(fre$time, fre$status, fre$arm)$chisq
pub <- c(breslow = 1.509, efron = 1.572, discrete = 1.628, marginal = 1.598)
got <- c(coef(fits$breslow), coef(fits$efron), coef(fits$exact), mo$maximum)
rec("cox.freireich_ties", "Cox regression, four ways with ties", "6-MP versus placebo; x = 1 for placebo", "freireich.csv", list(time = "time", status = "status", x = "arm == placebo"),
    call = "Breslow; Efron; 'exact' of R = exact conditional (discrete logistic) partial likelihood; marginal = average over orderings of tied events (the other 'exact' found in some packages), here by numerical integration. The score test under the discrete likelihood equals the log-rank chi-square.",
    expected = list(breslow = coxOut(fits$breslow), efron = coxOut(fits$efron), discreteExact = coxOut(fits$exact), marginalExact = list(coef = mo$maximum, loglik = mo$objective), logrankChisq = lrt, concordanceEfron = conc(fits$efron)),
    published = list(source = "widely printed package outputs for these data (Breslow 1.509 also Kleinbaum & Klein; HR 4.523)", figures = pub, agrees = agree(got, pub, 3)), tolerance = "rel 1e-9 (marginal rel 1e-6)")
fs <- coxph(Surv(time, status) ~ x + strata(pair), fre, ties = "efron", control = tight)
rec("cox.freireich_pairs", "Cox stratified by pair", "6-MP matched pairs", "freireich.csv", list(time = "time", status = "status", x = "arm == placebo", strata = "pair"), call = "21 strata of two; exp(coef) = ratio of discordant pairs in which placebo failed first to those in which 6-MP did.", expected = coxOut(fs), tolerance = "rel 1e-9")

csv(data.frame(time = larynx$time, status = larynx$delta, stage = larynx$stage, age = larynx$age, diagyr = larynx$diagyr), "larynx.csv")
lb <- coxph(Surv(time, delta) ~ factor(stage) + age, larynx, ties = "breslow", control = tight); le <- update(lb, ties = "efron"); ld <- coxph(Surv(time, delta) ~ factor(stage) + age, larynx, ties = "exact", control = tight)
li <- coxph(Surv(time, delta) ~ factor(stage) * age, larynx, ties = "breslow", control = tight)
pubc <- c(.1386, .6383, 1.6931, .0189); pubs <- c(.4623, .3561, .4222, .0143)
wl <- function(f, i) as.numeric(t(coef(f)[i]) %*% solve(f$var[i, i]) %*% coef(f)[i])
rec("cox.larynx", "Cox with a 4-level factor and a continuous covariate; joint tests; interaction", "Klein & Moeschberger Example 8.2 (larynx cancer)", "larynx.csv", list(time = "time", status = "status", covariates = "stage as factor (I reference), age"),
    call = "Breslow, Efron, discrete exact; local Wald test of stage (3 df) after age; local likelihood-ratio test of stage; stage x age interaction model.",
    expected = list(breslow = coxOut(lb), efron = coxOut(le), discreteExact = coxOut(ld), waldStage = list(chisq = wl(lb, 1:3), df = 3, p = pchisq(wl(lb, 1:3), 3, lower.tail = FALSE)),
                    lrtStage = (function() { a <- coxph(Surv(time, delta) ~ age, larynx, ties = "breslow", control = tight); x <- 2 * (lb$loglik[2] - a$loglik[2]); list(chisq = x, df = 3, p = pchisq(x, 3, lower.tail = FALSE)) })(),
                    interactionBreslow = coxOut(li)),
    published = list(source = "Klein & Moeschberger Table 8.1", figures = list(coef = pubc, se = pubs), agrees = c(coef = agree(coef(lb), pubc, 4), se = agree(sqrt(diag(lb$var)), pubs, 4))), tolerance = "rel 1e-9")

# test data set 1 of Therneau & Grambsch appendix, closed forms
t1 <- data.frame(time = c(9, 3, 1, 1, 6, 6, 8), status = c(1, NA, 1, 0, 1, 1, 0), x = c(0, 2, 1, 1, 1, 0, 0)); csv(t1, "cox_test1.csv"); t1c <- t1[!is.na(t1$status), ]
f1 <- lapply(c(breslow = "breslow", efron = "efron", exact = "exact"), function(t) suppressWarnings(coxph(Surv(time, status) ~ x, t1c, ties = t, control = tight)))
rb <- (3 + sqrt(33)) / 2; th <- acos((45 / 23) * sqrt(3 / 23)); re <- (sqrt(23) / sqrt(3)) * 2 * cos(th / 3) 
full <- function(f, ty) list(coef = unname(coef(f)), info = 1 / f$var[1], loglik = f$loglik, score = f$score, martingale = unname(residuals(f, "martingale")), scoreResid = unname(residuals(f, "score")), schoenfeld = unname(residuals(f, "schoenfeld")),
   deviance = unname(residuals(f, "deviance")), dfbeta = unname(residuals(f, "dfbeta")), basehaz0 = (function() { b <- basehaz(f, centered = FALSE); list(time = b$time, hazard = b$hazard) })(),
   survivalAtX0 = (function() { s <- survfit(f, newdata = data.frame(x = 0), conf.type = "log"); list(time = s$time, surv = s$surv, se = s$std.err) })())
stopifnot(abs(coef(f1$breslow) - log(rb)) < 1e-9)
cat("efron closed form", log(re), "R", coef(f1$efron), "\n")
rec("cox.test1", "Cox on a six-row data set with closed-form answers: residuals, baseline hazard, predicted survival", "Therneau & Grambsch, Modeling Survival Data, Appendix E test data (also the validation vignette of R survival)", "cox_test1.csv", list(time = "time", status = "status (row 2 missing: drop)", x = "x"),
    call = "Breslow solution exp(b) = (3 + sqrt 33)/2; Efron from a cubic. Residuals in data order (row 2 dropped). basehaz0 = cumulative baseline hazard at x = 0; survivalAtX0 se is that of R's survfit.coxph, the se of the cumulative hazard (log-survival) scale.",
    expected = list(closedForm = list(breslow = log(rb)), breslow = full(f1$breslow), efron = full(f1$efron), discreteExact = list(coef = Inf, supremumLoglik = -log(9), loglikNull = f1$exact$loglik[1], note = "monotone under this tie method: R stops at an arbitrary large value with a warning")),
    published = list(source = "Therneau & Grambsch Appendix E", figures = c(breslow = 1.475285, efron = 1.676857), agrees = agree(c(coef(f1$breslow), coef(f1$efron)), c(1.475285, 1.676857), 6)), tolerance = "rel 1e-9")

lg <- survival::lung; lg <- data.frame(inst = lg$inst, time = lg$time, status = lg$status - 1, age = lg$age, sex = lg$sex, ecog = lg$ph.ecog, karno = lg$ph.karno, wtloss = lg$wt.loss); csv(lg, "lung.csv")
cc <- lg[complete.cases(lg[, c("inst", "time", "status", "age", "sex", "ecog")]), ]
fl <- coxph(Surv(time, status) ~ age + sex + ecog, cc, ties = "efron", control = tight); fb <- update(fl, ties = "breslow")
fr <- coxph(Surv(time, status) ~ age + sex + ecog, cc, ties = "efron", cluster = inst, control = tight); frb <- update(fr, ties = "breslow")
fi <- coxph(Surv(time, status) ~ age + sex + ecog, cc, ties = "efron", robust = TRUE, cluster = seq_len(nrow(cc)), control = tight)
fst <- coxph(Surv(time, status) ~ age + ecog + strata(sex), cc, ties = "efron", control = tight)
nd <- data.frame(age = c(60, 70), sex = c(1, 2), ecog = c(0, 2)); sv <- summary(survfit(fl, newdata = nd, conf.type = "log"), times = c(180, 365, 730))
rec("cox.lung", "Cox, naive, robust and clustered variance, strata, concordance, baseline hazard, prediction", paste("survival lung data;", computedWith("survival")), "lung.csv",
    list(time = "time", status = "status", covariates = "age, sex (1,2), ecog", cluster = "inst", note = "complete cases on inst, age, sex, ecog"), call = "Efron unless said. Robust = sum of squared dfbeta summed within cluster, no small-sample factor.",
    expected = list(n = nrow(cc), efron = coxOut(fl), breslow = coxOut(fb), clusteredVcovEfron = unname(fr$var), clusteredVcovBreslow = unname(frb$var), robustScoreTest = fr$rscore, clusteredWald = unname(fr$wald.test), rowRobustVcovEfron = unname(fi$var), clusters = length(unique(cc$inst)),
                    stratifiedBySex = coxOut(fst), concordance = conc(fl), concordanceStratified = conc(fst), baseHazardAtZero = (function() { b <- basehaz(fl, centered = FALSE); i <- vapply(c(100, 365, 700), function(t) max(which(b$time <= t)), 1L); list(time = c(100, 365, 700), cumhaz = b$hazard[i]) })(),
                    baseHazardAtZeroBreslow = (function() { b <- basehaz(fb, centered = FALSE); i <- vapply(c(100, 365, 700), function(t) max(which(b$time <= t)), 1L); list(time = c(100, 365, 700), cumhaz = b$hazard[i]) })(),
                    prediction = list(newdata = as.list(nd), times = sv$time, survival = sv$surv, seSurvival = sv$std.err, lower = sv$lower, upper = sv$upper)), tolerance = "rel 1e-8")
rec("cox.lung_zph", "Proportional-hazards test from Schoenfeld residuals", paste("survival lung data;", computedWith("survival")), "lung.csv", list(time = "time", status = "status", covariates = "age, sex, ecog", note = "complete cases on inst, age, sex, ecog"),
    call = "scoreTest: cox.zph of survival >= 3.0 (score test of adding x*g(t), exact information). approximation: Grambsch & Therneau 1994 formula with scaled Schoenfeld residuals and average variance (survival < 3.0 and several other packages). g: km = 1 - left-continuous Kaplan-Meier, identity, log, rank.",
    expected = list(scoreTest = zphAll(fl), approximation = list(km = zphApprox(fl, "km"), identity = zphApprox(fl, "identity"), log = zphApprox(fl, "log"), rank = zphApprox(fl, "rank")), schoenfeldFirst5 = unname(residuals(fl, "schoenfeld")[1:5, ])), tolerance = "rel 1e-7",
    edge = "The two versions give visibly different p values; say which is implemented.")

h <- survival::heart; hd <- data.frame(id = h$id, start = h$start, stop = h$stop, event = h$event, age = h$age, year = h$year, surgery = h$surgery, transplant = as.integer(as.character(h$transplant))); csv(hd, "heart.csv")
f1h <- coxph(Surv(start, stop, event) ~ age + year + surgery + transplant, hd, ties = "efron", control = tight); f2h <- coxph(Surv(start, stop, event) ~ (age + surgery) * transplant, hd, ties = "breslow", control = tight); f3h <- coxph(Surv(start, stop, event) ~ age + surgery + transplant, hd, ties = "efron", cluster = id, control = tight)
rec("cox.heart_counting", "Cox with time-dependent covariate in (start, stop] form", paste("Stanford heart transplant data (Crowley & Hu 1977; survival heart);", computedWith("survival")), "heart.csv", list(entry = "start", exit = "stop", status = "event", covariates = "age, year, surgery, transplant", cluster = "id"),
    call = "Efron main-effects model; Breslow (age + surgery) x transplant; Efron with variance clustered on person.", expected = list(main = coxOut(f1h), interaction = coxOut(f2h), clustered = c(coxOut(f3h), list(naiveVcov = unname(f3h$naive.var))), zph = zphAll(f1h, c("km", "identity")), concordance = conc(f1h)), tolerance = "rel 1e-8")

# delayed entry (age as time scale) and weights
mg <- survival::mgus2; mg$time <- ifelse(mg$pstat == 1, mg$ptime, mg$futime); mg$ev <- ifelse(mg$pstat == 1, 1, 2 * mg$death); ad <- data.frame(id = mg$id, ageIn = mg$age, ageOut = mg$age + mg$time / 12, death = as.integer(mg$ev == 2), pcm = as.integer(mg$ev == 1), male = as.integer(mg$sex == "M"), hgb = mg$hgb)
ad <- ad[!is.na(ad$hgb) & ad$ageOut > ad$ageIn, ]; ad$w <- round(ifelse(ad$male == 1, 0.8, 1.3) + (ad$id %% 5) / 10, 2); csv(ad, "mgus2_age_scale.csv")
fa <- coxph(Surv(ageIn, ageOut, death) ~ male + hgb, ad, ties = "efron", control = tight); faw <- coxph(Surv(ageIn, ageOut, death) ~ male + hgb, ad, weights = w, ties = "efron", robust = TRUE, cluster = id, control = tight); fab <- update(faw, ties = "breslow")
rec("cox.delayed_entry_weighted", "Cox with delayed entry on the age scale, case weights", computedWith("survival"), "mgus2_age_scale.csv", list(entry = "ageIn", exit = "ageOut (fractions of 1/12: rounding ties, see 18)", status = "death", covariates = "male, hgb", weight = "w"),
    call = "Unweighted Efron; weighted Efron and Breslow with robust variance. R's weighted Efron uses the mean weight of the tied deaths in the correction.", expected = list(unweighted = coxOut(fa), weightedEfron = c(coxOut(faw), list(naiveVcov = unname(faw$naive.var))), weightedBreslow = c(coxOut(fab), list(naiveVcov = unname(fab$naive.var)))), tolerance = "rel 1e-8")
# frequency weights equal row repetition only for Breslow
aml <- survival::aml; aml$w <- c(1, 2, 1, 3, 1, 1, 2, 1, 1, 2, 1, 1, 1, 2, 1, 3, 1, 1, 2, 1, 1, 1, 2); aml$x1 <- as.numeric(aml$x == "Nonmaintained"); rp <- aml[rep(1:23, aml$w), ]
csv(data.frame(time = aml$time, status = aml$status, x = aml$x1, w = aml$w), "aml_freq.csv")
rec("cox.frequency_weights", "Whole-number weights versus repeated rows", computedWith("survival"), "aml_freq.csv", list(time = "time", status = "status", x = "x", weight = "w"), call = "Breslow: weights and repetition agree. Efron: they do not (repetition makes new ties).",
    expected = list(breslowWeighted = unname(coef(coxph(Surv(time, status) ~ x1, aml, weights = w, ties = "breslow", control = tight))), breslowRepeated = unname(coef(coxph(Surv(time, status) ~ x1, rp, ties = "breslow", control = tight))),
                    efronWeighted = unname(coef(coxph(Surv(time, status) ~ x1, aml, weights = w, ties = "efron", control = tight))), efronRepeated = unname(coef(coxph(Surv(time, status) ~ x1, rp, ties = "efron", control = tight)))), tolerance = "rel 1e-9")
# step-function time-varying effect
v <- survival::veteran; vd <- data.frame(id = seq_len(nrow(v)), trt = v$trt, celltype = as.character(v$celltype), time = v$time, status = v$status, karno = v$karno, diagtime = v$diagtime, age = v$age, prior = v$prior); csv(vd, "veteran.csv")
vs <- survSplit(Surv(time, status) ~ ., data = vd, cut = c(90, 180), episode = "tg", id = "pid"); fv <- coxph(Surv(tstart, time, status) ~ trt + prior + karno:strata(tg), vs, ties = "efron", control = tight)
pubv <- c(-0.048755, 0.008050, -0.008349)
rec("cox.veteran_steps", "Time-varying coefficient by splitting follow-up at 90 and 180 days", "R survival vignette on time dependent covariates (veteran data)", "veteran.csv", list(time = "time", status = "status", covariates = "trt (1,2), prior, karno within each period"), call = "Rows split at 90 and 180 days, baseline stratified by period, karno slope per period.",
    expected = c(list(rows = nrow(vs)), coxOut(fv)), published = list(source = "vignette output (karno per period)", figures = pubv, agrees = agree(coef(fv)[3:5], pubv, 6)), tolerance = "rel 1e-8")
# monotone likelihood
mo1 <- data.frame(time = c(2, 3, 5, 6, 8, 9, 11, 12, 14, 15, 18, 20), status = c(1, 1, 0, 1, 1, 0, 1, 0, 0, 0, 0, 0), x = c(1, 1, 1, 1, 1, 1, 1, 0, 0, 0, 0, 0)); mo1$time[8:12] <- c(4, 7, 10, 13, 16); csv(mo1, "monotone.csv")
w <- NULL; fm <- withCallingHandlers(coxph(Surv(time, status) ~ x, mo1), warning = function(e) { w <<- c(w, conditionMessage(e)); invokeRestart("muffleWarning") })
y <- Surv(mo1$time, mo1$status); sup <- coxLL(40, y, cbind(mo1$x), "efron")$ll
llo <- uniroot(function(b) 2 * (sup - coxLL(b, y, cbind(mo1$x), "efron")$ll) - qchisq(.95, 1), c(-5, 30), tol = 1e-11)$root
fi <- firthCox(y, cbind(mo1$x), "breslow")
rec("cox.monotone", "Monotone likelihood: all events in one group", computedWith("survival"), "monotone.csv", list(time = "time", status = "status", x = "x"), call = "x = 0 group has no event; the partial likelihood rises to a finite limit as b -> +infinity.",
    expected = list(rCoef = unname(coef(fm)), rSe = sqrt(fm$var[1]), rWarning = arr(w), supremumLoglik = sup, loglikNull = fm$loglik[1], lrtest = 2 * (sup - fm$loglik[1]), lrP = pchisq(2 * (sup - fm$loglik[1]), 1, lower.tail = FALSE), scoreTest = fm$score, logrank = wlr(mo1$time, mo1$status, mo1$x)[c("chisq", "p")], profileLowerLimit95 = llo, profileUpperLimit95 = Inf, firthBreslow = fi),
    edge = "A good program does not print the iteration's stopping point and Wald interval. It says the estimate is infinite (no events in group 0), gives the likelihood-ratio or score p, a one-sided profile limit (HR > exp(lower)), and offers a penalised (Firth) estimate. R's own coefficient is an arbitrary stopping point.", tolerance = "profile and likelihood values rel 1e-6; do not compare rCoef")
# gamma frailty
kd <- survival::kidney; csv(data.frame(id = kd$id, time = kd$time, status = kd$status, age = kd$age, sex = kd$sex, disease = as.character(kd$disease)), "kidney_recurrence.csv")
ctl <- coxph.control(eps = 1e-11, toler.chol = 1e-15, iter.max = 200, outer.max = 100)
ff <- function(th, ties = "efron") coxph(Surv(time, status) ~ age + sex + frailty(id, dist = "gamma", theta = th), kd, ties = ties, control = ctl)
# integrated log-likelihood as R reports it
il <- function(th, ties = "efron") ff(th, ties)$history[[1]]$c.loglik
op <- optimize(function(t) il(t), c(.05, 1.5), maximum = TRUE, tol = 1e-9); fd <- coxph(Surv(time, status) ~ age + sex + frailty(id, dist = "gamma"), kd)
fth <- ff(op$maximum); nofr <- coxph(Surv(time, status) ~ age + sex, kd, control = tight); opb <- optimize(function(t) il(t, "breslow"), c(.05, 1.5), maximum = TRUE, tol = 1e-9); fthb <- ff(opb$maximum, "breslow")
rec("cox.gamma_frailty_kidney", "Shared gamma frailty Cox model", paste("McGilchrist & Aisbett kidney catheter data (survival kidney);", computedWith("survival")), "kidney_recurrence.csv", list(time = "time", status = "status", covariates = "age, sex", cluster = "id"),
    call = "theta = frailty variance maximising the integrated (marginal) likelihood; coefficients and variance from the penalised fit at that theta (R's frailty(): 'var' = H^-1, 'var2' = H^-1 I H^-1). Likelihood-ratio test of theta = 0 against the fit without frailty.",
    expected = list(efron = list(theta = op$maximum, integratedLoglik = op$objective, coef = unname(coef(fth)), se = unname(sqrt(diag(fth$var)))[1:2], se2 = unname(sqrt(diag(fth$var2)))[1:2], frailties = unname(exp(fth$frail)), lrFrailty = 2 * (op$objective - nofr$loglik[2])),
                    breslow = list(theta = opb$maximum, integratedLoglik = opb$objective, coef = unname(coef(fthb))), rDefaultTheta = fd$history[[1]]$theta, noFrailty = coxOut(nofr)),
    tolerance = "theta abs 1e-4; coef rel 1e-5; integrated loglik rel 1e-8", edge = "Half the usual p for theta = 0 (boundary). With 'disease' added theta goes to 0 in these data.")
kdd <- coxph(Surv(time, status) ~ age + sex + disease + frailty(id), kd); 
rec("cox.frailty_zero", "Gamma frailty estimated at zero", paste("survival kidney data with disease;", computedWith("survival")), "kidney_recurrence.csv", list(time = "time", status = "status", covariates = "age, sex, disease (Other reference, GN, AN, PKD)", cluster = "id"), call = "As above with disease added: theta on the boundary, result = plain Cox.",
    expected = list(rTheta = kdd$history[[1]]$theta, coefPlainCox = unname(coef(coxph(Surv(time, status) ~ age + sex + disease, kd, control = tight)))), tolerance = "coef rel 1e-4", edge = "theta should be reported as 0 (boundary), not as a tiny number with an interval.")
# collinearity, constants, no events
cl <- cc; cl$age2 <- 2 * cl$age + 1; cl$one <- 3; fcl <- coxph(Surv(time, status) ~ age + age2 + one + sex, cl)
rec("cox.collinear", "Collinear and constant covariates", computedWith("survival"), "lung.csv", list(time = "time", status = "status", covariates = "age, 2*age+1, constant 3, sex"), call = "R sets the redundant coefficients to NA and fits the rest.", expected = list(coef = unname(coef(fcl))), edge = "Report which term was dropped; do not fail or return huge numbers.", tolerance = "rel 1e-7")
# conditional logistic
i <- infert; csv(data.frame(stratum = i$stratum, case = i$case, spontaneous = i$spontaneous, induced = i$induced, age = i$age, parity = i$parity, education = as.character(i$education)), "infert.csv"); cl <- clogit(case ~ spontaneous + induced + strata(stratum), i)
clt <- coxph(Surv(rep(1, 248), case) ~ spontaneous + induced + strata(stratum), i, ties = "exact", control = tight)
rec("clogit.infert", "Conditional logistic regression (exact partial likelihood in matched sets)", "Trichopoulos et al 1976 infertility data (R datasets infert)", "infert.csv", list(case = "case", strata = "stratum", covariates = "spontaneous, induced"), call = "83 matched sets.", expected = coxOut(clt),
    published = list(source = "R help page output", figures = c(1.9859, 1.4090, .3524, .3607), agrees = agree(c(coef(clt), sqrt(diag(clt$var))), c(1.9859, 1.4090, .3524, .3607), 4)), tolerance = "rel 1e-9")
finish("05_cox")
