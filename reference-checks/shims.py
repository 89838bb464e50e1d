"""Random shim sheets and plain cost tables, solved by scipy.optimize.linear_sum_assignment.

Writes data/shims_scipy.tsv beside this script, and prints the same. A test solves every line again and compares.
The cost tables of the sheets are built here from the sheets alone, by the words of the plan's description: serve
the most valves, buy the fewest shims, disturb the fewest valves, come nearest to the aims, in this order.

Only sums are compared: of several equally good plans either side may take any.
"""

import pathlib
import random

import numpy
import scipy
from scipy.optimize import linear_sum_assignment

SEED = 20_260_101
SHEETS = 400
TABLES = 200
# Each weight outweighs everything below it: at most 64 valves and 1000 micrometres off an aim.
DISTURB, BUY, UNSERVED, FORBIDDEN = 10**6, 10**8, 10**10, 10**13
OUT = pathlib.Path(__file__).parent / "data" / "shims_scipy.tsv"


def random_sheet(rng):
    """Valves of one or two kinds, a drawer, and sizes on sale; all in micrometres."""
    kinds = []
    for _ in range(rng.randint(1, 2)):
        least = rng.choice([80, 100, 110, 130, 160, 200])
        kinds.append((least, least + rng.choice([20, 40, 50, 60, 90])))
    valves = []
    for _ in range(rng.choice([1, 2, 3, 4, 4, 6, 8, 8, 12, 16, 20])):
        least, most = rng.choice(kinds)
        aim = (least + most) // 2 if rng.random() < 0.6 else rng.randint(least, most)
        clearance = max(0, round(rng.gauss((least + most) / 2, 60) / 10) * 10)
        shim = 2300 + 25 * rng.randint(0, 28) + (rng.randint(-6, 6) if rng.random() < 0.3 else 0)
        valves.append((least, most, aim, clearance, shim))
    drawer = [2300 + 25 * rng.randint(0, 28) for _ in range(rng.choice([0, 0, 1, 2, 4, 8, 16]))]
    sale = rng.choice(["any", "2300:3000:25", "2300:3000:50", "2300:3000:100", "2500:2600:50"])
    return valves, drawer, sale


def solve_sheet(valves, drawer, sale):
    """Unserved, bought, disturbed and micrometres off the aims, of a best plan."""
    count = len(valves)
    hand = [v[4] for v in valves] + drawer
    table = numpy.full((count, len(hand) + count), FORBIDDEN, dtype=float)
    for row, (least, most, aim, clearance, shim) in enumerate(valves):
        room = clearance + shim
        for column, thickness in enumerate(hand):
            if least <= room - thickness <= most:
                table[row, column] = abs(room - thickness - aim) + (DISTURB if column != row else 0)
        if sale == "any":
            offs = [0]
        else:
            first, last, step = map(int, sale.split(":"))
            sizes = range(first, last + 1, step)
            offs = [abs(room - t - aim) for t in sizes if least <= room - t <= most]
        table[row, len(hand) + row] = BUY + DISTURB + min(offs) if offs else UNSERVED
    rows, columns = linear_sum_assignment(table)
    chosen = list(zip(rows, columns))
    costs = [int(table[r, c]) for r, c in chosen]
    assert max(costs) < FORBIDDEN
    unserved = sum(c == UNSERVED for c in costs)
    bought = sum(c >= len(hand) and table[r, c] != UNSERVED for r, c in chosen)
    disturbed = sum(c != r and table[r, c] != UNSERVED for r, c in chosen)
    off = sum(c % DISTURB for c in costs if c != UNSERVED)
    return unserved, bought, disturbed, off


def random_table(rng):
    rows = rng.randint(1, 12)
    columns = rows + rng.choice([0, 0, 1, 3, 10])
    span = rng.choice([3, 50, 10**6])
    return [[rng.randint(-span, span) for _ in range(columns)] for _ in range(rows)]


def lines():
    yield f"# scipy {scipy.__version__}, scipy.optimize.linear_sum_assignment; made by: python3 reference-checks/shims.py"
    yield "# sheet: valves as least:most:aim:clearance:shim in micrometres, drawer, sizes on sale; optimum as unserved:bought:disturbed:off-aim"
    yield "# table: rows of costs; optimum as the least sum"
    yield "kind\tcase\tvalves_or_rows\tdrawer\ton_sale\toptimum"
    rng = random.Random(SEED)
    for case in range(SHEETS):
        valves, drawer, sale = random_sheet(rng)
        shown = ";".join(":".join(map(str, v)) for v in valves)
        optimum = ":".join(map(str, solve_sheet(valves, drawer, sale)))
        yield f"sheet\t{case}\t{shown}\t{','.join(map(str, drawer))}\t{sale}\t{optimum}"
    for case in range(TABLES):
        table = random_table(rng)
        costs = numpy.array(table, dtype=float)
        optimum = int(costs[linear_sum_assignment(costs)].sum())
        shown = ";".join(",".join(map(str, row)) for row in table)
        yield f"table\t{case}\t{shown}\t\t\t{optimum}"


if __name__ == "__main__":
    text = "\n".join(lines()) + "\n"
    OUT.parent.mkdir(exist_ok=True)
    OUT.write_text(text, encoding="utf-8")
    print(text, end="")
