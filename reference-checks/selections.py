"""Random choices among jobs and small parts, solved by HiGHS (mixed-integer) and scipy's maximum flow.

Writes data/selections_highs.tsv beside this script, and prints the same. A test solves every line again and compares.
The models are built here from the words of the problem alone. A gain is worked out from the set in whole numbers, so that
only the set is the solver's.

Only optima are compared: of several equally good sets either side may take any.
"""

import pathlib
import random

import highspy
import numpy
import scipy
from scipy.sparse import csr_matrix
from scipy.sparse.csgraph import maximum_flow
from scipy.stats import poisson

SEED = 20_260_102
SELECTIONS = 300
CLOSURES = 120
KEEPS = 150
OUT = pathlib.Path(__file__).parent / "data" / "selections_highs.tsv"
OPEN, MUST, LEFT = "o", "m", "l"


def solver():
    highs = highspy.Highs()
    highs.setOptionValue("output_flag", False)
    highs.setOptionValue("threads", 1)
    highs.setOptionValue("mip_rel_gap", 0.0)
    highs.setOptionValue("mip_abs_gap", 1e-6)
    highs.setOptionValue("mip_feasibility_tolerance", 1e-9)
    return highs


def random_selection(rng, with_caps):
    count = rng.choice([3, 5, 8, 12, 16, 20, 25, 30])
    shared = [(60 * rng.randint(0, 40), rng.randint(0, 900) if rng.random() < 0.3 else 0) for _ in range(rng.randint(1, count + 3))]
    options = []
    for j in range(count):
        needs = sorted({rng.randrange(len(shared)) for _ in range(rng.randint(0, 5))})
        requires = [rng.randrange(j)] if j and rng.random() < 0.1 else []
        stand = rng.choice([MUST, LEFT] + [OPEN] * 18) if with_caps else OPEN
        options.append((rng.randint(-500, 12_000), rng.randint(0, 5_000), 60 * rng.randint(0, 240), stand, needs, requires))
    rate, hours, cash, pairs = 100 * rng.randint(0, 40), None, None, []
    if with_caps:
        for _ in range(rng.randint(0, count // 3)):
            a, b = rng.randrange(count), rng.randrange(count)
            if a != b and b not in options[a][5] and a not in options[b][5]:
                pairs.append((a, b))
        seconds = sum(o[2] for o in options) + sum(s[0] for s in shared)
        money = sum(o[1] for o in options) + sum(s[1] for s in shared)
        if rng.random() < 0.8:
            hours = seconds * rng.randint(10, 70) // 100
        if rng.random() < 0.7:
            cash = money * rng.randint(10, 70) // 100
    return rate, hours, cash, options, shared, pairs


def gain_of(case, chosen):
    rate, _, _, options, shared, _ = case
    done = {i for j in chosen for i in options[j][4]}
    money = sum(options[j][0] - options[j][1] for j in chosen) - sum(shared[i][1] for i in done)
    seconds = sum(options[j][2] for j in chosen) + sum(shared[i][0] for i in done)
    return 3600 * money - rate * seconds


def by_highs(case):
    """The gain of a best set in 1/3600 of a minor unit, or None when nothing fits."""
    rate, hours, cash, options, shared, pairs = case
    highs = solver()
    x = [highs.addBinary() for _ in options]
    y = [highs.addVariable(lb=0, ub=1) for _ in shared]
    for j, (_, _, _, stand, needs, requires) in enumerate(options):
        if stand != OPEN:
            highs.addConstr(x[j] == (1 if stand == MUST else 0))
        for i in needs:
            highs.addConstr(x[j] <= y[i])
        for k in requires:
            highs.addConstr(x[j] <= x[k])
    for a, b in pairs:
        highs.addConstr(x[a] + x[b] <= 1)
    if hours is not None:
        highs.addConstr(sum(o[2] / 60 * x[j] for j, o in enumerate(options)) + sum(s[0] / 60 * y[i] for i, s in enumerate(shared)) <= hours / 60)
    if cash is not None:
        highs.addConstr(sum(o[1] * x[j] for j, o in enumerate(options)) + sum(s[1] * y[i] for i, s in enumerate(shared)) <= cash)
    value = sum((o[0] - o[1] - rate * o[2] / 3600) * x[j] for j, o in enumerate(options))
    spent = sum((s[1] + rate * s[0] / 3600) * y[i] for i, s in enumerate(shared))
    highs.maximize(value - spent)
    if highs.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        return None
    return gain_of(case, [j for j in range(len(options)) if highs.variableValue(x[j]) > 0.5])


def by_flow(case):
    """The gain of a best closure: what all that pays could bring, less a maximum flow (Picard 1976)."""
    rate, _, _, options, shared, _ = case
    nodes = [3600 * (o[0] - o[1]) - rate * o[2] for o in options] + [-3600 * s[1] - rate * s[0] for s in shared]
    # The flow takes 32-bit numbers: every weight here is a multiple of 1200.
    assert all(w % 1200 == 0 for w in nodes)
    nodes = [w // 1200 for w in nodes]
    source, sink, endless = len(nodes), len(nodes) + 1, 2**30
    arcs = {}
    for v, weight in enumerate(nodes):
        arcs[(source, v) if weight > 0 else (v, sink)] = abs(weight)
    for j, option in enumerate(options):
        for i in option[4]:
            arcs[(j, len(options) + i)] = endless
        for k in option[5]:
            arcs[(j, k)] = endless
    rows, columns = zip(*arcs)
    graph = csr_matrix((numpy.array(list(arcs.values()), dtype=numpy.int32), (rows, columns)), shape=(sink + 1, sink + 1))
    flow = maximum_flow(graph, source, sink).flow_value
    return 1200 * (sum(w for w in nodes if w > 0) - int(flow))


def random_drawer(rng):
    parts = []
    for _ in range(rng.choice([1, 2, 3, 5, 8, 12])):
        rates = {rng.randint(1, 4): round(rng.uniform(0.05, 4.0), 3) for _ in range(rng.randint(1, 3))}
        parts.append((rng.randint(5, 400), rng.choice([0, 0, 1, 2, 5]), rng.randint(100, 4000), rates))
    return rng.randint(0, 3000), parts


def increments(part):
    """What each unit beyond those there prevents, in 1/1000 of a minor unit, down to its price."""
    price, have, held, rates = part
    size = have + 62
    law = numpy.zeros(size)
    law[0] = 1.0
    for units, rate in rates.items():
        one = numpy.zeros(size)
        for jobs in range(size):
            if jobs * units < size:
                one[jobs * units] = poisson.pmf(jobs, rate)
        law = numpy.convolve(law, one)[:size]
    mean = sum(n * rate for n, rate in rates.items()) / sum(rates.values())
    worth = []
    for unit in range(1, 61):
        milli = round(held * 1000 / mean * (1 - law[: have + unit].sum()))
        if milli < price * 1000:
            break
        worth.append(milli)
    return worth


def keep_by_highs(budget, parts):
    highs = solver()
    worth = [(part[0], milli) for part in parts for milli in increments(part)]
    if not worth:
        return 0
    taken = [highs.addBinary() for _ in worth]
    highs.addConstr(sum(price * t for (price, _), t in zip(worth, taken)) <= budget)
    highs.maximize(sum(milli * t for (_, milli), t in zip(worth, taken)))
    return sum(milli for (_, milli), t in zip(worth, taken) if highs.variableValue(t) > 0.5)


def listed(numbers):
    return ",".join(map(str, numbers))


def selection_line(kind, number, case, optimum):
    rate, hours, cash, options, shared, pairs = case
    shown = ";".join(f"{o[0]}:{o[1]}:{o[2]}:{o[3]}:{listed(o[4])}:{listed(o[5])}" for o in options)
    work = ";".join(f"{s[0]}:{s[1]}" for s in shared)
    apart = ";".join(f"{a}:{b}" for a, b in pairs)
    caps = ["-" if cap is None else str(cap) for cap in (hours, cash)]
    return "\t".join([kind, str(number), str(rate), *caps, shown, work, apart, "none" if optimum is None else str(optimum)])


def lines():
    yield f"# highspy {highspy.Highs().version()}, scipy {scipy.__version__}; made by: python3 reference-checks/selections.py"
    yield "# selection and closure: options as value:parts:seconds:stand:needs:requires, shared work as seconds:cash; optimum in 1/3600 minor unit"
    yield "# keep: parts as price:have:held-up:units=jobs,... and the budget under cash; optimum in 1/1000 minor unit"
    yield "kind\tcase\trate\thours\tcash\toptions\tshared\tpairs\toptimum"
    rng = random.Random(SEED)
    for number in range(SELECTIONS):
        case = random_selection(rng, True)
        yield selection_line("selection", number, case, by_highs(case))
    for number in range(CLOSURES):
        case = random_selection(rng, False)
        yield selection_line("closure", number, case, by_flow(case))
    for number in range(KEEPS):
        budget, parts = random_drawer(rng)
        shown = ";".join(f"{p}:{h}:{m}:" + ",".join(f"{n}={r}" for n, r in rates.items()) for p, h, m, rates in parts)
        yield "\t".join(["keep", str(number), "-", "-", str(budget), shown, "", "", str(keep_by_highs(budget, parts))])


if __name__ == "__main__":
    text = "\n".join(lines()) + "\n"
    OUT.parent.mkdir(exist_ok=True)
    OUT.write_text(text, encoding="utf-8")
    print(text, end="")
