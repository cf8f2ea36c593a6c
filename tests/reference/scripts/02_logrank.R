source(file.path(dirname(sub("^--file=", "", grep("^--file=", commandArgs(FALSE), value = TRUE)[1])), "common.R"))
# The five input files were taken from package KMsurv (drug6mp, kidney, bmt, larynx, hodg), which a rerun does not need.
fre <- input("freireich.csv"); larynx <- input("larynx.csv"); names(larynx)[2] <- "delta"
kcath <- input("kidney_catheter_placement.csv"); kcath$delta <- kcath$status; kcath$type <- factor(kcath$type, c("surgical", "percutaneous"))
marrow <- input("bmt_dfs.csv"); marrow$group <- factor(marrow$group, c("ALL", "AML low risk", "AML high risk"))
bmt <- data.frame(t2 = marrow$time, d3 = marrow$status, group = as.integer(marrow$group))
hodg <- input("hodgkin_transplant.csv"); hodg <- data.frame(time = hodg$time, delta = hodg$status,
  gtype = match(hodg$graft, c("allogeneic", "autologous")), dtype = match(hodg$disease, c("NHL", "HOD")), score = hodg$score, wtime = hodg$waiting)
family <- list(logrank = list("logrank"), gehanBreslow = list("gehan"), taroneWare = list("taroneWare"), petoPeto = list("petoPeto"),
               modifiedPetoPeto = list("modifiedPetoPeto"), fh_1_0 = list("fh", 1, 0), fh_0_1 = list("fh", 0, 1), fh_1_1 = list("fh", 1, 1),
               fh_0.5_0.5 = list("fh", .5, .5), fh_0.5_2 = list("fh", .5, 2), fh_3_1 = list("fh", 3, 1), fh_1_3 = list("fh", 1, 3))
fam <- function(t, s, g, strata = NULL, scores = NULL, entry = NULL, which = names(family)) lapply(family[which], function(a) {
  r <- wlr(t, s, g, a[[1]], if (length(a) > 1) a[[2]] else 0, if (length(a) > 2) a[[3]] else 0, strata, scores, entry)
  c(list(U = arr(r$U), V = unname(r$V), chisq = r$chisq, df = r$df, p = r$p), if (!is.null(scores)) list(trend = r$trend))
})
callText <- "At each distinct event time: U_j = w (d_j - n_j d/n), V = w^2 d (n-d)/(n-1) (diag(n_j/n) - outer). Weights: logrank 1; gehanBreslow n; taroneWare sqrt(n); petoPeto S~(t) = prod(1 - d/(n+1)) up to and including t; modifiedPetoPeto S~(t) n/(n+1); fh_p_q = S(t-)^p (1-S(t-))^q with the pooled Kaplan-Meier just before t. Chi-square from the first k-1 groups. U and V are in group order as listed."

csv(fre, "freireich.csv")
r <- wlr(fre$time, fre$status, factor(fre$arm, c("6-MP", "placebo"))); sd1 <- survdiff(Surv(time, status) ~ arm, fre)
stopifnot(abs(r$chisq - sd1$chisq) < 1e-9, abs(wlr(fre$time, fre$status, fre$arm, "fh", 1, 0)$chisq - survdiff(Surv(time, status) ~ arm, fre, rho = 1)$chisq) < 1e-9)
fr <- fam(fre$time, fre$status, factor(fre$arm, c("6-MP", "placebo")))
pub <- c(logrank = 16.79, gehanBreslow = 13.46, taroneWare = 15.12, petoPeto = 14.08, fh_3_1 = 8.99, fh_1_3 = 12.26)
rec("logrank.freireich", "Log-rank and weighted log-rank tests, two groups", "6-MP versus placebo (Freireich 1963)", "freireich.csv",
    list(time = "time", status = "status", group = "arm (order: 6-MP, placebo)"), call = callText,
    expected = list(observed = r$observed, expected = r$expected, tests = fr, z = r$U[1] / sqrt(r$V[1, 1]),
                    logrankConservativeOE = sum((r$observed - r$expected)^2 / r$expected), hazardRatioPetoOneStep = exp(r$U[2] / r$V[2, 2]),
                    hazardRatioPetoCI = exp(r$U[2] / r$V[2, 2] + c(-1, 1) * qnorm(.975) / sqrt(r$V[2, 2]))),
    published = list(source = "Kleinbaum & Klein, Survival Analysis: A Self-Learning Text, chapter 2 (log-rank 16.79; other weights table)", figures = pub,
                     agrees = vapply(names(pub), function(n) agree(fr[[n]]$chisq, pub[n], 2), ""),
                     note = "The two Fleming-Harrington figures are recalled without confidence and are not reproduced with S(t-) nor with S(t) weights; the other four agree."), tolerance = "rel 1e-10")

k <- fam(kcath$time, kcath$delta, factor(kcath$type))
csv(data.frame(time = kcath$time, status = kcath$delta, type = as.character(kcath$type)), "kidney_catheter_placement.csv")
pubP <- c(logrank = .112, gehanBreslow = .964, taroneWare = .526, petoPeto = .237, modifiedPetoPeto = .259, fh_0_1 = .002, fh_1_0 = .239, fh_1_1 = .002, fh_0.5_0.5 = .002, fh_0.5_2 = .004)
pubX <- c(logrank = 2.53, gehanBreslow = .002, taroneWare = .40, petoPeto = 1.40, modifiedPetoPeto = 1.28, fh_0_1 = 9.67, fh_1_0 = 1.39, fh_1_1 = 9.83, fh_0.5_0.5 = 9.28, fh_0.5_2 = 8.18)
rec("logrank.kidney_catheter", "Weighted log-rank tests, crossing hazards", "Klein & Moeschberger Example 7.2 / Table 7.3 (KMsurv kidney)", "kidney_catheter_placement.csv",
    list(time = "time", status = "status", group = "type (order: surgical, percutaneous)"), call = callText, expected = list(tests = k),
    published = list(source = "Klein & Moeschberger Table 7.3", figures = list(chisq = pubX, p = pubP),
        agrees = vapply(names(pubX), function(n) paste0("chisq ", agree(k[[n]]$chisq, pubX[n], if (n == "gehanBreslow") 3 else 2), "; p ", agree(k[[n]]$p, pubP[n], 3)), "")), tolerance = "rel 1e-10",
    edge = "Early and late weights give opposite conclusions here.")

bg <- factor(c("ALL", "AML low risk", "AML high risk")[bmt$group], c("ALL", "AML low risk", "AML high risk"))
csv(data.frame(time = bmt$t2, status = bmt$d3, group = as.character(bg)), "bmt_dfs.csv")
b <- fam(bmt$t2, bmt$d3, bg); sdb <- survdiff(Surv(t2, d3) ~ group, bmt); stopifnot(abs(sdb$chisq - b$logrank$chisq) < 1e-9)
rec("logrank.bmt_3groups", "k-sample log-rank", "Klein & Moeschberger Example 7.4 (disease-free survival, three groups)", "bmt_dfs.csv",
    list(time = "time", status = "status", group = "group (order ALL, AML low risk, AML high risk)"), call = callText,
    expected = list(observed = unname(sdb$obs), expected = unname(sdb$exp), tests = b,
                    trend_1_2_3 = wlr(bmt$t2, bmt$d3, bg, scores = 1:3)$trend),
    published = list(source = "Klein & Moeschberger Example 7.4", figures = list(logrank = 13.8037, gehan = 16.2407), agrees = c(logrank = agree(b$logrank$chisq, 13.8037, 4), gehan = agree(b$gehanBreslow$chisq, 16.2407, 4))), tolerance = "rel 1e-10")
# pairwise with multiplicity
pw <- combn(levels(bg), 2, simplify = FALSE); pp <- vapply(pw, function(x) { i <- bg %in% x; wlr(bmt$t2[i], bmt$d3[i], droplevels(bg[i]))$p }, 0)
rec("logrank.bmt_pairwise", "Pairwise log-rank tests with Holm / BH adjustment", computedWith("survival"), "bmt_dfs.csv", list(time = "time", status = "status", group = "group"),
    call = "Two-group log-rank on each pair's rows only; adjusted by Holm and Benjamini-Hochberg.",
    expected = list(pairs = vapply(pw, paste, "", collapse = " vs "), p = pp, holm = p.adjust(pp, "holm"), bh = p.adjust(pp, "BH")), tolerance = "rel 1e-9")

csv(data.frame(time = larynx$time, status = larynx$delta, stage = larynx$stage, age = larynx$age, diagyr = larynx$diagyr), "larynx.csv")
l <- fam(larynx$time, larynx$delta, larynx$stage, scores = 1:4)
rec("logrank.larynx_trend", "Log-rank trend test across ordered groups", "Klein & Moeschberger section 7.4 (larynx cancer, stages I-IV)", "larynx.csv",
    list(time = "time", status = "status", group = "stage (1..4)", scores = "1,2,3,4"), call = paste(callText, "Trend: z = sum(a U) / sqrt(a' V a)."), expected = list(tests = l),
    published = list(source = "Klein & Moeschberger Example 7.6", figures = list(zLogrank = 3.72), agrees = agree(abs(l$logrank$trend$z), 3.72, 2)), tolerance = "rel 1e-10")

csv(data.frame(time = hodg$time, status = hodg$delta, graft = c("allogeneic", "autologous")[hodg$gtype], disease = c("NHL", "HOD")[hodg$dtype], score = hodg$score, waiting = hodg$wtime), "hodgkin_transplant.csv")
sdh <- survdiff(Surv(time, delta) ~ gtype + strata(dtype), hodg); h <- fam(hodg$time, hodg$delta, hodg$gtype, strata = hodg$dtype)
stopifnot(abs(sdh$chisq - h$logrank$chisq) < 1e-9)
rec("logrank.hodgkin_stratified", "Stratified log-rank", "Klein & Moeschberger section 1.10 data (KMsurv hodg)", "hodgkin_transplant.csv",
    list(time = "time", status = "status", group = "graft (order allogeneic, autologous)", strata = "disease"),
    call = "U and V summed over strata before forming the chi-square (weights from within-stratum curves and counts).",
    expected = list(tests = h, unstratified = wlr(hodg$time, hodg$delta, hodg$gtype)[c("U", "chisq", "p")],
                    byStratum = lapply(c(NHL = 1, HOD = 2), function(i) wlr(hodg$time[hodg$dtype == i], hodg$delta[hodg$dtype == i], hodg$gtype[hodg$dtype == i])[c("U", "chisq", "p")])), tolerance = "rel 1e-10")
sdp <- survdiff(Surv(time, status) ~ arm + strata(pair), fre); rp <- wlr(fre$time, fre$status, fre$arm, strata = fre$pair)
rec("logrank.freireich_pairs", "Log-rank stratified by matched pair", "6-MP pairs (Freireich 1963)", "freireich.csv", list(time = "time", status = "status", group = "arm (order 6-MP, placebo)", strata = "pair"),
    call = "As above with 21 strata of two; equals the sign test without continuity correction.",
    expected = list(U = arr(rp$U), V = unname(rp$V), chisq = rp$chisq, p = rp$p), tolerance = "rel 1e-10")
finish("02_logrank")
