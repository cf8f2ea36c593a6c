source(file.path(dirname(sub("^--file=", "", grep("^--file=", commandArgs(FALSE), value = TRUE)[1])), "common.R"))
# freireich.csv and channing.csv were taken from package KMsurv (drug6mp, channing), which a rerun does not need.
fre <- input("freireich.csv")
srcF <- "Freireich et al 1963 / Gehan 1965, 6-MP versus placebo remission times (data via KMsurv drug6mp; Klein & Moeschberger section 1.2)"

kmAll <- function(d, types = c("plain", "log", "log-log", "logit", "arcsin"), ...) {
  out <- list()
  for (ct in types) {
    f <- survfit(Surv(time, status) ~ 1, data = d, conf.type = ct, conf.int = 0.95)
    k <- kmTable(f)
    if (is.null(out$time)) {
      out <- list(time = arr(k$time), nRisk = arr(k$nRisk), nEvent = arr(k$nEvent), survival = arr(k$survival), se = arr(k$se),
                  cumulativeHazardNelsonAalen = arr(f$cumhaz[f$n.event > 0]), seCumulativeHazard = arr(f$std.chaz[f$n.event > 0]), ci = list())
    }
    q <- quantile(f, probs = c(0.25, 0.5, 0.75))
    out$ci[[ct]] <- list(lower = arr(k$lower), upper = arr(k$upper),
        quantiles = list(p = c(0.25, 0.5, 0.75), estimate = unname(q$quantile), lower = unname(q$lower), upper = unname(q$upper)))
  }
  out
}
sixmp <- fre[fre$arm == "6-MP", ]; plac <- fre[fre$arm == "placebo", ]
e <- kmAll(sixmp)
pubS <- c(0.857, 0.807, 0.753, 0.690, 0.627, 0.538, 0.448); pubSE <- c(0.0764, 0.0869, 0.0963, 0.1068, 0.1141, 0.1282, 0.1346)
rec("km.freireich.6mp", "Kaplan-Meier, Greenwood SE, pointwise CIs, quantiles", srcF, "freireich.csv",
    list(time = "time", status = "status (1 = event)", filter = "arm == 6-MP"),
    call = "Product-limit estimate at each event time; se = S * sqrt(sum d/(n(n-d))); 95% pointwise CI under each transform (plain, log, log-log, logit, arcsin = arcsine square root), limits cut to [0,1]; quantile p = first time at which S(t) <= 1-p, CI of the quantile by inverting the pointwise limits of the same transform; null where the limit curve never falls to 1-p. Cumulative hazard is Nelson-Aalen with variance sum d/n^2.",
    expected = e,
    published = list(source = "Klein & Moeschberger, Survival Analysis, Table 4.1A", figures = list(survival = pubS, se = pubSE, median = 23),
        agrees = c(survival = agree(e$survival[[1]], pubS, 3), se = agree(e$se[[1]], pubSE, 4))),
    tolerance = "rel 1e-12 (curves and limits); times exact")
e <- kmAll(plac)
rec("km.freireich.placebo", "Kaplan-Meier, all subjects have the event (curve reaches 0)", srcF, "freireich.csv",
    list(time = "time", status = "status", filter = "arm == placebo"),
    call = "As km.freireich.6mp. No censoring: S = 1 - i/n. At the last event S = 0: R prints NaN for se and null limits there (log and log-log limits are undefined).",
    expected = e, published = list(source = "widely printed", figures = list(median = 8), agrees = "agrees"),
    edge = "S = 0 at the last time: se is 0*Inf. A program should report S = 0 with no limits (or say so) rather than crash or print NaN.", tolerance = "rel 1e-12")

f <- survfit(Surv(time, status) ~ arm, data = fre, conf.type = "log-log")
s <- summary(f, times = c(0, 5, 6, 7, 10.5, 20, 23, 35, 40), extend = TRUE)
rec("km.freireich.at_times", "Kaplan-Meier at asked times (step function, right-continuous), number at risk", srcF, "freireich.csv",
    list(time = "time", status = "status", group = "arm"),
    call = "S(t) and number at risk just before t (subjects with time >= t) for each arm; log-log 95% CI; a time after the last observation keeps the last value (extend).",
    expected = list(strata = as.character(s$strata), time = s$time, nRisk = s$n.risk, survival = s$surv, se = s$std.err, lower = s$lower, upper = s$upper),
    edge = "t = 0; t after the last follow-up: most reports should show S as not estimable beyond the last observed time (6-MP arm last time 35 censored).",
    tolerance = "rel 1e-12")

km58 <- data.frame(time = c(0.8, 1.0, 2.7, 3.1, 5.4, 7.0, 9.2, 12.1), status = c(1, 0, 0, 1, 1, 0, 1, 0))
csv(km58, "kaplan_meier_1958.csv")
e <- kmAll(km58, c("plain", "log", "log-log"))
rec("km.kaplan_meier_1958", "Kaplan-Meier", "Kaplan & Meier 1958 worked example of 8 items (deaths .8 3.1 5.4 9.2, losses 1.0 2.7 7.0 12.1)", "kaplan_meier_1958.csv",
    list(time = "time", status = "status"), call = "As km.freireich.6mp.", expected = e,
    published = list(source = "Kaplan & Meier, JASA 1958, section 2 example", figures = list(survival = c(7/8, 7/10, 21/40, 21/80)), agrees = agree(e$survival[[1]], c(.875, .7, .525, .2625), 6)),
    tolerance = "rel 1e-12")

# ties between event and censoring; median on a flat at exactly 0.5
tie <- data.frame(time = c(2, 2, 2, 4, 4, 5, 7, 7, 9, 11), status = c(1, 0, 1, 0, 0, 1, 0, 1, 1, 0))
csv(tie, "ties_event_censor.csv")
rec("km.ties_event_censor", "Kaplan-Meier, ties between events and censorings", computedWith("survival"), "ties_event_censor.csv",
    list(time = "time", status = "status"), call = "A censoring tied with an event is taken to be after it: it still counts at risk at that time.",
    expected = kmAll(tie, c("plain", "log", "log-log")), tolerance = "rel 1e-12")
flat <- data.frame(time = c(1, 2, 3, 4, 6, 8, 9, 10), status = c(1, 1, 1, 1, 1, 0, 1, 0))
csv(flat, "median_flat.csv")
f <- survfit(Surv(time, status) ~ 1, data = flat, conf.type = "log-log"); q <- quantile(f, c(.25, .5, .75))
rec("km.median_flat", "Median when the curve is exactly 0.5 over an interval", computedWith("survival"), "median_flat.csv",
    list(time = "time", status = "status"),
    call = "S(t) = 0.5 exactly on [4, 6). Textbook rule: smallest t with S(t) <= 0.5. R's rule: midpoint of the flat stretch (with tolerance sqrt(machine epsilon)).",
    expected = list(survival = list(time = f$time[f$n.event > 0], survival = f$surv[f$n.event > 0]), medianTextbook = 4, medianMidpoint = unname(q$quantile[2]),
                    quartileTextbook = c(2, 4, 9), quartileR = unname(q$quantile), lowerR = unname(q$lower), upperR = unname(q$upper)),
    edge = "The two conventions give different medians (4 or 5) from the same curve; the program should state its rule. A product such as (7/8)(6/7)(5/6)(4/5) may be 0.5000000000000001 in floating point: compare with a tolerance.", tolerance = "exact")

# delayed entry
ch <- input("channing.csv")
ok <- ch$exit > ch$entry
for (sx in c("male", "female")) {
  d <- ch[ok & ch$sex == sx, ]
  f <- survfit(Surv(entry, exit, status) ~ 1, data = d, conf.type = "log-log")
  k <- kmTable(f)
  d68 <- d[d$exit > 816, ]; d68$entry <- pmax(d68$entry, 816)
  f68 <- survfit(Surv(entry, exit, status) ~ 1, data = d68, conf.type = "log-log"); k68 <- kmTable(f68)
  q <- quantile(f68, c(.25, .5))
  rec(paste0("km.delayed_entry.channing.", sx), "Kaplan-Meier with delayed entry (left truncation)",
      paste("Channing House data, Klein & Moeschberger section 1.16 and Example 4.3;", computedWith("survival")), "channing.csv",
      list(entry = "entry (age in months)", exit = "exit", status = "status", filter = paste0("sex == ", sx, " and exit > entry (rows with exit = entry carry no time at risk and are dropped)")),
      call = "At risk at t: entry < t <= exit. (a) unconditional product-limit from the first entry; (b) conditional on survival to 816 months (68 years): rows with exit <= 816 dropped, entry raised to 816. Greenwood SE, log-log CI.",
      expected = list(rowsUsed = nrow(d), unconditional = lapply(k, arr), conditional816 = c(list(rows = nrow(d68)), lapply(k68, arr)),
                      quantiles816 = list(p = c(.25, .5), estimate = unname(q$quantile), lower = unname(q$lower), upper = unname(q$upper))),
      edge = "For men the early risk set is tiny: the unconditional curve falls to 0 at an early age (all at risk die) and stays 0. A program should warn when the risk set empties.",
      tolerance = "rel 1e-12")
}

# weighted
data(cancer, package = "survival")
aml <- survival::aml
aml$w <- c(1, 2, 1, 3, 1, 1, 2, 1, 1, 2, 1, 1, 1, 2, 1, 3, 1, 1, 2, 1, 1, 1, 2)
aml$wf <- round(0.5 + (seq_len(23) * 7 %% 11) / 11 + aml$w / 3, 3)
csv(data.frame(time = aml$time, status = aml$status, group = as.character(aml$x), wInt = aml$w, wFrac = aml$wf, id = 1:23), "aml_weighted.csv")
f1 <- survfit(Surv(time, status) ~ x, data = aml, weights = w, robust = FALSE, conf.type = "log")
f2 <- survfit(Surv(time, status) ~ x, data = aml, weights = wf, robust = TRUE, id = 1:23, conf.type = "log")
f3 <- survfit(Surv(time, status) ~ x, data = aml, weights = wf, robust = FALSE, conf.type = "log")
mk <- function(f) lapply(setNames(1:2, levels(aml$x)), function(i) lapply(kmTable(f, i), arr))
rec("km.weighted.integer", "Weighted Kaplan-Meier, whole-number (frequency) weights", paste("survival aml data;", computedWith("survival")), "aml_weighted.csv",
    list(time = "time", status = "status", group = "group", weight = "wInt"),
    call = "Weighted counts in place of counts: S = prod(1 - dw/nw), Greenwood with weighted counts (same as repeating rows). log CI.",
    expected = mk(f1), tolerance = "rel 1e-12")
rec("km.weighted.robust", "Weighted Kaplan-Meier, fractional weights, robust (infinitesimal jackknife) SE", computedWith("survival"), "aml_weighted.csv",
    list(time = "time", status = "status", group = "group", weight = "wFrac", id = "id"),
    call = "S from weighted counts dw, nw; robust variance = sum over subjects of (w_i * I_i(t))^2 with I_i(t) = -S(t) * sum over event times u <= t of [dN_i(u) - Y_i(u) dw(u)/nw(u)] / (nw(u) - dw(u)); log CI uses the robust se. naive = Greenwood formula with weighted counts (not valid as a sampling SE for fractional weights).",
    expected = list(robust = mk(f2), naive = mk(f3)), tolerance = "rel 1e-10")

# check of the influence formula against survfit
chk <- function(d, w, t0) { ut <- sort(unique(d$time[d$status == 1])); ut <- ut[ut <= t0]; S <- 1; I <- numeric(nrow(d))
  for (u in ut) { nw <- sum(w[d$time >= u]); dw <- sum(w[d$time == u & d$status == 1]); S <- S * (1 - dw / nw)
    I <- I + ((d$time == u & d$status == 1) - (d$time >= u) * dw / nw) / (nw - dw) }
  sqrt(sum((w * S * I)^2)) }
m <- aml[aml$x == "Maintained", ]; stopifnot(abs(chk(m, m$wf, 30) - summary(f2[1], times = 30)$std.err) < 1e-10)

# reverse KM
ov <- survival::ovarian
csv(data.frame(time = ov$futime, status = ov$fustat, age = ov$age, resid = ov$resid.ds, rx = ov$rx, ecog = ov$ecog.ps), "ovarian.csv")
f <- survfit(Surv(futime, fustat == 0) ~ 1, data = ov, conf.type = "log-log"); q <- quantile(f, c(.25, .5, .75)); k <- kmTable(f)
rec("km.reverse_followup.ovarian", "Median follow-up by reverse Kaplan-Meier", paste("survival ovarian data;", computedWith("survival")), "ovarian.csv",
    list(time = "time", status = "status"), call = "Kaplan-Meier with the event indicator reversed (censored = event); quartiles with log-log CI. No ties between events and censorings here.",
    expected = list(curve = lapply(k, arr), quantiles = list(p = c(.25, .5, .75), estimate = unname(q$quantile), lower = unname(q$lower), upper = unname(q$upper)),
                    medianOfAllTimes = median(ov$futime), medianOfCensoredTimes = median(ov$futime[ov$fustat == 0])), tolerance = "rel 1e-12")

# all censored / single subject
f0 <- survfit(Surv(c(3, 5, 8), c(0, 0, 0)) ~ 1, conf.type = "log-log")
csv(data.frame(time = c(3, 5, 8), status = 0), "all_censored.csv")
rec("km.all_censored", "Kaplan-Meier with no events", computedWith("survival"), "all_censored.csv", list(time = "time", status = "status"),
    call = "Curve is 1 throughout, se 0; median not reached. R gives limits as listed (log-log: undefined at S = 1, R reports them as below).",
    expected = list(time = f0$time, survival = f0$surv, se = f0$std.err, lower = f0$lower, upper = f0$upper, median = unname(quantile(f0, .5)$quantile)),
    edge = "With 0 events out of n a zero-width interval is misleading; a good program reports a one-sided exact limit or says the interval is not estimable.", tolerance = "exact")
finish("01_kaplan_meier")
