"""Random series, worked out by SciPy 1.10 and by going through every order,
held against the library by `run trend`.

Where SciPy gives no answer, what the library is to say instead is written out
below: nothing for a tau-b with all days or values equal, nothing for lines
through a single day, the middle slopes as the interval where ties leave Sen's
variance at or below 0.

Usage: scipy_check.py, with TURNSTONE_BUILD set or something built.
"""

import csv
import fractions
import itertools
import math
import pathlib
import random
import subprocess
import sys
import tempfile

import numpy
from scipy import stats

SEED = 20260119
SERIES = 2400
# Going through all orders of more values takes too long, but for a few of 7.
ORDERS_N_MAX = 6
ORDERS_OF_7 = 12
RUN = pathlib.Path(__file__).with_name("run")


def draw_days(rng, n):
    kind = rng.randrange(8)
    if kind == 0:
        return [14 * i for i in range(n)]
    if kind == 1:  # same-day duplicates, now and then all on one day
        return [7 * rng.randrange(max(1, n // 2)) for _ in range(n)]
    if kind == 2:  # parts of a day
        return [rng.randrange(600) / 8 for _ in range(n)]
    if kind == 3:
        return [rng.randrange(9000) / 10 for _ in range(n)]
    return [rng.randrange(120) for _ in range(n)]


def draw_values(rng, n):
    kind = rng.randrange(8)
    if kind == 0:
        return [rng.randrange(28)] * n
    if kind == 1:  # nearly all tied
        values = [rng.randrange(28)] * n
        values[rng.randrange(n)] = rng.randrange(28)
        return values
    if kind <= 3:
        low = rng.randrange(24)
        return [low + rng.randrange(4) for _ in range(n)]
    if kind == 4 and n <= 10:  # no ties
        return rng.sample(range(28), n)
    return [rng.randrange(28) for _ in range(n)]


def draw(rng):
    n = rng.randrange(3, 11)
    series = sorted(zip(draw_days(rng, n), draw_values(rng, n)),
                    key=lambda point: point[0])
    if rng.randrange(4) == 0:  # a slow course, to have small p as well
        series = [(day, value) for (day, _), value in
                  zip(series, sorted(value for _, value in series))]
    return [day for day, _ in series], [value for _, value in series]


def s_of(days, orders):
    """S of each row of `orders`."""
    i, j = numpy.triu_indices(len(days), 1)
    days = numpy.asarray(days)
    orders = numpy.asarray(orders)
    signs = numpy.sign(orders[:, j] - orders[:, i]) * numpy.sign(
        days[j] - days[i])
    return signs.sum(axis=1).astype(int)


def by_every_order(days, values, s):
    all_s = s_of(days, list(itertools.permutations(values)))
    return {"mk_exact_p_two_sided": float(numpy.mean(abs(all_s) >= abs(s))),
            "mk_exact_p_upper": float(numpy.mean(all_s >= s))}


def mann_kendall(days, values, s):
    """z from the p of SciPy's asymptotic tau-b, whose variance takes in ties
    of days and of values; with continuity correction from z."""
    n = len(days)
    row = {"S": s, "tau_a": s / (n * (n - 1) / 2)}
    if len(set(days)) == 1 or len(set(values)) == 1:
        nothing = ("tau_b", "mk_z", "mk_p_normal", "mk_z_cont_corr",
                   "mk_p_cont_corr")
        return row | dict.fromkeys(nothing)
    tau, p = stats.kendalltau(days, values, method="asymptotic")
    z = math.copysign(stats.norm.isf(p / 2), s) if s else 0.0
    corrected = z * (abs(s) - 1) / abs(s) if s else 0.0
    return row | {
        "tau_b": tau, "mk_z": z, "mk_p_normal": p, "mk_z_cont_corr": corrected,
        "mk_p_cont_corr": 2 * stats.norm.sf(abs(corrected))}


def theil_sen(days, values):
    names = ("theil_slope", "theil_intercept_separate", "theil_lo95",
             "theil_hi95")
    if len(set(days)) == 1:
        return dict.fromkeys(names)
    with numpy.errstate(invalid="ignore"):
        line = list(stats.theilslopes(values, days, 0.95, method="separate"))
    if math.isnan(line[2]):  # the variance is below 0
        slopes = sorted((values[j] - values[i]) / (days[j] - days[i])
                        for i, j in itertools.combinations(range(len(days)), 2)
                        if days[i] != days[j])
        line[2], line[3] = slopes[0], slopes[-1]  # nothing is left out
    return dict(zip(names, line))


def exact_line(days, values):
    """Error of the slope and r in fractions: SciPy takes the error from
    1 - r^2, which near a perfect line has few digits left, or none."""
    x = [fractions.Fraction(day) for day in days]
    y = [fractions.Fraction(value) for value in values]
    n = len(x)
    xx = sum(a * a for a in x) - sum(x) ** 2 / n
    yy = sum(b * b for b in y) - sum(y) ** 2 / n
    xy = sum(a * b for a, b in zip(x, y)) - sum(x) * sum(y) / n
    error = math.sqrt((yy - xy ** 2 / xx) / xx / (n - 2))
    return error, math.copysign(math.sqrt(xy ** 2 / (xx * yy)), xy)


def t_975(freedom):
    """SciPy's quantile has 9 digits right; one step of Newton's method on its
    distribution function mends the rest."""
    t = stats.t(freedom)
    rough = t.ppf(0.975)
    return rough + (t.sf(rough) - 0.025) / t.pdf(rough)


def least_squares(days, values):
    names = ("ols_slope", "ols_intercept", "ols_slope_se", "ols_r",
             "ols_p_two_sided", "ols_lo95", "ols_hi95")
    if len(set(days)) == 1:
        return dict.fromkeys(names)
    line = stats.linregress(days, values)
    error, r, p = line.stderr, line.rvalue, line.pvalue
    freedom = len(days) - 2
    if 1 - r * r < 1e-4:
        error, r = exact_line(days, values)
        p = 2 * stats.t.sf(abs(line.slope) / error, freedom) if error else 0.0
    reach = t_975(freedom) * error
    return dict(zip(names, (line.slope, line.intercept, error, r, p,
                            line.slope - reach, line.slope + reach)))


def work_out(days, values, every_order):
    s = int(s_of(days, [values])[0])
    row = {"n": len(days), **mann_kendall(days, values, s),
           **theil_sen(days, values), **least_squares(days, values)}
    if every_order:
        row |= by_every_order(days, values, s)
    elif len(set(days)) == len(set(values)) == len(days):
        # SciPy's exact method knows no ties; this reaches up to n = 10.
        row["mk_exact_p_two_sided"] = stats.kendalltau(
            days, values, method="exact").pvalue
    return row


def tables():
    """{columns: rows}: rows differ in whether probabilities could be had."""
    rng = random.Random(SEED)
    by_columns = {}
    sevens = 0
    for number in range(SERIES):
        days, values = draw(rng)
        sevens += len(days) == 7
        every_order = len(days) <= ORDERS_N_MAX or (len(days) == 7 and
                                                    sevens <= ORDERS_OF_7)
        row = {"case": f"random {number}",
               "t": ";".join(map(repr, days)), "y": ";".join(map(repr, values)),
               **work_out(days, values, every_order)}
        by_columns.setdefault(tuple(row), []).append(row)
    return by_columns


def write(path, rows):
    with open(path, "w", newline="", encoding="utf-8") as file:
        writer = csv.DictWriter(file, list(rows[0]))
        writer.writeheader()
        for row in rows:
            writer.writerow({name: "" if value is None else value
                             for name, value in row.items()})


def run_on(path):
    done = subprocess.run([RUN, "trend", path], capture_output=True, text=True,
                          check=False)
    return done.returncode, done.stdout + done.stderr


def require(condition, said):
    if not condition:
        sys.exit(said)


def require_agreement(path, rows):
    write(path, rows)
    code, said = run_on(path)
    values = len(rows) * (len(rows[0]) - 3)  # but for case, t and y
    require(code == 0, said)
    require(f"{len(rows)} rows, {values} values compared, 0 differ" in said,
            said)
    print(said, end="")


def require_refusal(path, rows):
    """One value of one row, each column in its turn."""
    for number, column in enumerate(list(rows[0])[3:]):
        altered = [dict(row) for row in rows]
        at = number * len(rows) // len(rows[0])
        value = altered[at][column]
        altered[at][column] = 1 if value is None else value + 1e-6 * max(
            1, abs(value))
        write(path, altered)
        code, said = run_on(path)
        require(code == 1 and f"line {at + 2}, column {column}: " in said and
                " 1 differ" in said, f"altered {column}: {code}\n{said}")


def main():
    require(stats.norm.isf(0.5) == 0, "SciPy is not what it was")
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / "random.csv"
        for rows in tables().values():
            require_agreement(path, rows)
            require_refusal(path, rows[:50])


if __name__ == "__main__":
    main()
