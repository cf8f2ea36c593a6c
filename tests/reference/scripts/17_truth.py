# Tail probabilities and quantiles in 60 digits (mpmath) -> FOLDER/special_functions_truth.csv, the truth of values/17_special_functions.json.
# Usage: python3 17_truth.py FOLDER 17_args.txt   (one value a line: function, arguments). Needs mpmath; not part of the rerun in R.
import sys, csv, os
from mpmath import mp, mpf, gammainc, betainc, erfc, findroot, sqrt, log, gamma, loggamma, nstr, beta as B, exp, erfinv
mp.dps = 60
out, args_file = sys.argv[1], sys.argv[2]
half = mpf(1) / 2
_mpbeta = betainc
def betainc(a, b, x1, x2, regularized=True):
    try: return _mpbeta(a, b, x1, x2, regularized=True)
    except ValueError: return series(a, b, x2)
def series(a, b, x2):   # positive-term series I_x(a,b) = x^a (1-x)^b / (a B(a,b)) * sum (a+b)_n/(a+1)_n x^n
    a, b, x = mpf(a), mpf(b), mpf(x2)
    if x <= 0: return mpf(0)
    if x >= 1: return mpf(1)
    term = total = mpf(1); n = 0
    while True:
        term *= (a + b + n) / (a + 1 + n) * x; total += term; n += 1
        if term < total * mpf(10) ** -65 and (a + b + n) / (a + 1 + n) * x < 1: break
        if n > 3000000: raise ValueError('series too long')
    return exp(a * log(x) + b * log(1 - x) - log(a) - (loggamma(a) + loggamma(b) - loggamma(a + b))) * total
def num(s): return mpf(float(s))        # the double nearest to the decimal, so that the input is exactly what a program sees
def Q(a, x): return gammainc(a, x, mp.inf, regularized=True)
def P(a, x): return gammainc(a, 0, x, regularized=True)
def I(a, b, x): return betainc(a, b, 0, x, regularized=True) if x < mpf(a)/(a+b) else 1 - betainc(b, a, 0, 1 - x, regularized=True)
def Ic(a, b, x, y=None):                # 1 - I without cancellation; y = 1 - x exactly
    y = 1 - x if y is None else y
    return betainc(b, a, 0, y, regularized=True)
F = {
 'chisq_upper': lambda x, df: Q(df / 2, x / 2), 'chisq_lower': lambda x, df: P(df / 2, x / 2),
 'norm_upper': lambda z: erfc(z / sqrt(2)) / 2, 'norm_lower': lambda z: erfc(-z / sqrt(2)) / 2,
 't_upper': lambda t, df: betainc(df / 2, half, 0, df / (df + t * t), regularized=True) / 2,
 'f_upper': lambda f, d1, d2: betainc(d2 / 2, d1 / 2, 0, d2 / (d2 + d1 * f), regularized=True),
 'beta_lower': lambda x, a, b: betainc(a, b, 0, x, regularized=True), 'beta_upper': lambda x, a, b: betainc(b, a, 0, 1 - x, regularized=True),
 'gamma_upper': lambda x, a: Q(a, x), 'gamma_lower': lambda x, a: P(a, x),
 'poisson_upper_incl': lambda k, m: P(k, m) if k > 0 else mpf(1), 'poisson_lower': lambda k, m: Q(k + 1, m),
 'binom_lower': lambda k, n, p: betainc(n - k, k + 1, 0, 1 - p, regularized=True),
 'lgamma': lambda x: loggamma(x), 'log_norm_upper': lambda z: log(erfc(z / sqrt(2)) / 2),
}
def root(f, lo, hi):
    return findroot(f, (lo, hi), solver='anderson', tol=mpf(10) ** -45, maxsteps=400, verify=False)
def bis(f, lo, hi, n=230):              # monotone bisection in 60 digits, then secant polish
    lo, hi = mpf(lo), mpf(hi); s = f(lo) > 0
    for _ in range(n):
        m = (lo + hi) / 2
        if (f(m) > 0) == s: lo = m
        else: hi = m
    return (lo + hi) / 2
QF = {
 'norm_quantile_upper': lambda p: bis(lambda z: log(F['norm_upper'](z)) - log(p), -45, 45),
 'chisq_quantile_upper': lambda p, df: bis(lambda x: log(F['chisq_upper'](x, df)) - log(p), mpf(10) ** -40, max(mpf(3000), 3 * df)),
 'chisq_quantile_lower': lambda p, df: exp(bis(lambda y: log(F['chisq_lower'](exp(y), df)) - log(p), -200, 8)),
 't_quantile_upper': lambda p, df: exp(bis(lambda y: log(F['t_upper'](exp(y), df)) - log(p), -60, 120)),
 'f_quantile_upper': lambda p, a, b: exp(bis(lambda y: log(F['f_upper'](exp(y), a, b)) - log(p), -60, 120)),
 'beta_quantile_lower': lambda p, a, b: exp(bis(lambda y: log(F['beta_lower'](exp(y), a, b)) - log(p), -400, mpf("-1e-30"))),
}
LIST = [l.split() for l in open(args_file) if l.strip()]
rows = []
for r in LIST:
    fn, args = r[0], [num(a) for a in r[1:]]
    if fn == 'chisq_upper' and args[0] == 0: v = mpf(1)
    else: v = (QF.get(fn) or F[fn])(*args)
    rows.append([fn, ' '.join(repr(float(a)) for a in args), nstr(v, 30, strip_zeros=False), repr(float(v))])
with open(os.path.join(out, 'special_functions_truth.csv'), 'w') as f:
    w = csv.writer(f, lineterminator='\n'); w.writerow(['fn', 'args', 'truth30', 'nearestDouble']); w.writerows(rows)
print(len(rows), 'rows')
