"""Quantiles and means of earnings of the walk-away price, by numpy and scipy.

Written from the model in words: the price of the bike in order is lognormal or log-Student held within its middle
99.8 %; faults come or not; costs are triangles. Two million draws by the inverse distribution functions of scipy, or, where
nothing but the price strays, scipy's own quantile. Writes data/offer_scipy.tsv beside this script, and prints the same.
"""

import pathlib

import numpy as np
import scipy
from scipy import stats

OUT = pathlib.Path(__file__).parent / "data" / "offer_scipy.tsv"
ROUNDS = 2_000_000
CHANCES = (0.05, 0.1, 0.2, 0.5, 0.8, 0.95)

# name, price, spread of its logarithm, degrees (inf: normal), base seconds, own hour, transport,
# faults as chance:seconds:parts least/usual/most:cut least/usual/most. Money in whole units.
CASES = [
    ("price-alone", 2600.0, 0.3, float("inf"), 0, 0.0, 120.0, ""),
    ("price-alone-heavy", 2600.0, 0.25, 5.0, 0, 0.0, 0.0, ""),
    ("work", 2600.0, 0.2, float("inf"), 20000, 25.0, 60.0, ""),
    ("one-fault", 1800.0, 0.1, float("inf"), 9000, 15.0, 0.0, "0.3:10000:20/35/60:0/0/0"),
    ("price-cut", 4000.0, 0.15, 8.0, 9000, 30.0, 40.0, "0.25:0:0/0/0:0.3/0.45/0.6"),
    ("many", 3200.0, 0.22, 6.0, 15000, 22.5, 80.0,
     "0.12:0:0/0/0:0.3/0.45/0.6 0.5:13000:160/220/300:0/0/0 0.8:12000:20/35/60:0/0/0 0.4:9000:25/38/55:0/0/0 1:3000:35/65/110:0/0/0"),
]
# Costs of every case but the first two, as the tool has them: least, usual, most; the season is the best one.
BASE_PARTS, ALLOWANCE, SELLING = (40, 65, 110), (0.1, 0.2, 0.3), (4, 7, 12)
PAPERS, ADVERTISEMENT, DAYS, STANDING = (50, 150, 400), (0, 0, 60), (3, 10, 21), (1, 2, 4)


def triangle(rng, figures):
    least, usual, most = figures
    if most == least:
        return np.full(ROUNDS, float(least))
    return stats.triang.ppf(rng.random(ROUNDS), (usual - least) / (most - least), least, most - least)


def draw(rng, case):
    name, price, spread, degrees, base, hour, transport, faults = case
    law = stats.norm() if np.isinf(degrees) else stats.t(degrees)
    worth = price * np.exp(spread * np.clip(law.ppf(rng.random(ROUNDS)), law.ppf(0.001), law.ppf(0.999)))
    plain = name.startswith("price-alone")
    seconds, parts = np.full(ROUNDS, float(base)), np.zeros(ROUNDS) if plain else triangle(rng, BASE_PARTS)
    for fault in faults.split():
        chance, work, parts_of, cut = fault.split(":")
        there = rng.random(ROUNDS) < float(chance)
        seconds += there * float(work)
        parts += there * triangle(rng, [float(v) for v in parts_of.split("/")])
        worth *= 1 - there * triangle(rng, [float(v) for v in cut.split("/")])
    if plain:
        return worth - transport
    work = seconds / 3600 * rng.uniform(1.0, 1.5, ROUNDS) * hour
    costs = (work + parts) * (1 + triangle(rng, ALLOWANCE)) + triangle(rng, SELLING) * hour + triangle(rng, PAPERS)
    costs += triangle(rng, ADVERTISEMENT) + triangle(rng, DAYS) * triangle(rng, STANDING) + transport
    return worth - costs


def exact(case, p):
    _, price, spread, degrees, _, _, transport, _ = case
    law = stats.norm() if np.isinf(degrees) else stats.t(degrees)
    return price * np.exp(spread * law.ppf(p)) - transport


def main():
    rng = np.random.default_rng(20)
    lines = [f"# scipy {scipy.__version__}; {ROUNDS} draws, the first two cases exact", "name\tprice\tspread\tdegrees\tbase_s\thour\ttransport\tfaults\tmean\t" + "\t".join(f"q{p}" for p in CHANCES)]
    for case in CASES:
        value = draw(rng, case)
        quantiles = [exact(case, p) if case[0].startswith("price-alone") else np.quantile(value, p) for p in CHANCES]
        figures = [f"{v:.3f}" for v in (value.mean(), *quantiles)]
        lines.append("\t".join([*(str(c) for c in case), *figures]))
    text = "\n".join(lines) + "\n"
    OUT.write_text(text, encoding="utf-8")
    print(text, end="")


if __name__ == "__main__":
    main()
