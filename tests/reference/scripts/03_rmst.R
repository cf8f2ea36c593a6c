source(file.path(dirname(sub("^--file=", "", grep("^--file=", commandArgs(FALSE), value = TRUE)[1])), "common.R"))
contrast <- function(a, b) {   # a minus b
  d <- a$rmst - b$rmst; sd <- sqrt(a$se^2 + b$se^2); z <- qnorm(.975)
  lr <- log(a$rmst / b$rmst); sl <- sqrt((a$se / a$rmst)^2 + (b$se / b$rmst)^2)
  lt <- log(a$rmtl / b$rmtl); st <- sqrt((a$se / a$rmtl)^2 + (b$se / b$rmtl)^2)
  list(difference = c(estimate = d, se = sd, lower = d - z * sd, upper = d + z * sd, p = 2 * pnorm(-abs(d / sd))),
       ratio = c(estimate = exp(lr), lower = exp(lr - z * sl), upper = exp(lr + z * sl), p = 2 * pnorm(-abs(lr / sl))),
       ratioTimeLost = c(estimate = exp(lt), lower = exp(lt - z * st), upper = exp(lt + z * st), p = 2 * pnorm(-abs(lt / st))))
}
callT <- "Area under the Kaplan-Meier step function from 0 to tau; variance = sum over event times t <= tau of (area from t to tau)^2 d/(n(n-d)), no small-sample factor; difference with normal CI; ratios on the log scale by the delta method; time lost = tau - RMST."
pb <- survival::pbc[1:312, ]; d <- data.frame(time = pb$time / 365.25, status = as.integer(pb$status == 2), arm = as.integer(pb$trt == 1), days = pb$time)
csv(d, "pbc_trial.csv")
a <- rmst(d$time[d$arm == 1], d$status[d$arm == 1], 10); b <- rmst(d$time[d$arm == 0], d$status[d$arm == 0], 10)
tb <- summary(survfit(Surv(time, status) ~ arm, d), rmean = 10)$table
stopifnot(max(abs(tb[, "rmean"] - c(b$rmst, a$rmst))) < 1e-9, max(abs(tb[, "se(rmean)"] - c(b$se, a$se))) < 1e-9)
ct <- contrast(a, b)
fig <- list(rmstArm1 = 7.146, seArm1 = .283, rmstArm0 = 7.283, seArm0 = .295, difference = -0.137, lower = -0.939, upper = 0.665, p = 0.738, ratio = 0.981, ratioLower = 0.878, ratioUpper = 1.096)
rec("rmst.pbc_tau10", "Restricted mean survival time, difference and ratios", "Mayo PBC trial, 312 randomised patients, death, years = days/365.25 (survival pbc)", "pbc_trial.csv",
    list(time = "time (years)", status = "status", group = "arm (1 = D-penicillamine)"), call = callT, args = list(tau = 10),
    expected = c(list(arm1 = a, arm0 = b), ct),
    published = list(source = "survRM2 package vignette output", figures = fig, agrees = agree(c(a$rmst, a$se, b$rmst, b$se, ct$difference[c("estimate", "lower", "upper", "p")], ct$ratio[1:3]), fig, 3)),
    tolerance = "rel 1e-11")
fre <- input("freireich.csv")
f <- function(x, tau) rmst(fre$time[fre$arm == x], fre$status[fre$arm == x], tau)
rec("rmst.freireich", "Restricted mean, tau at an event time, between times and beyond one arm's last event", "6-MP versus placebo", "freireich.csv", list(time = "time", status = "status", group = "arm"), call = callT,
    expected = lapply(c(tau20 = 20, tau22 = 22, tau23 = 23, tau35 = 35), function(tau) { a <- f("6-MP", tau); b <- f("placebo", tau); c(list(tau = tau, sixMP = a, placebo = b), contrast(a, b)) }),
    edge = "Placebo curve reaches 0 at 23, so its restricted mean is estimable at any tau >= 23 (8.667 = plain mean); 6-MP's last time is a censored 35, so tau > 35 must be refused or flagged. At tau = 22 an event at exactly tau adds no area and a zero term to the variance.", tolerance = "rel 1e-11")
finish("03_rmst")
