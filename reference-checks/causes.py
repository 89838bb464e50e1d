"""Asks a Bayesian network library (pyAgrum) for the chance of every cause, and compares what the tool says.

    cargo run -p refettle-usecases --example write_causes -- 300 > MODELS
    python3 reference-checks/causes.py MODELS

Each line of MODELS is one question. It is built anew as a network: a node for each cause, there or not; one for each
finding, a noisy-or of the causes; one for each answered check; and one that says that at most two causes are there. The
library's inference is exact and knows nothing of sets of causes. A question nothing can explain must have no answer on both
sides. Ends on a line `N passed, N failed`.
"""

import json
import pathlib
import sys

import numpy
import pyagrum

# Both sides add and multiply some hundred numbers of 53 bits.
TOLERANCE = 1e-10
# Below these the check would prove too little to be called passed.
LEAST = {"shipped": 500, "made-up": 200}


def table(bn, node, parents, rows):
    """Fills a node's table; row `m` holds for the parents whose bits are set in `m`."""
    for parent in parents:
        bn.addArc(parent, node)
    bn.cpt(node)[:] = rows.reshape((2,) * len(parents) + (rows.shape[1],))


def network(question):
    findings = question["findings"]
    often, shows = question["how_often"], question["shows"]
    weights = numpy.array([finding["weights"] for finding in findings])
    share = weights / (weights.sum(axis=1) + numpy.array([finding["rest"] for finding in findings]))[:, None]
    top = share.max(axis=0)
    causes = [f"cause{c}" for c in range(len(top))]
    masks = numpy.arange(2 ** len(causes))
    there = (masks[:, None] >> numpy.arange(len(causes))) & 1
    bn, evidence = pyagrum.BayesNet(), {}
    for cause, most in zip(causes, top):
        bn.add(pyagrum.LabelizedVariable(cause, cause, 2))
        odds = often * most / shows
        bn.cpt(cause)[:] = [1 / (1 + odds), odds / (1 + odds)]
    bn.add(pyagrum.LabelizedVariable("few", "few", 2))
    few = (there.sum(axis=1) <= 2).astype(float)
    table(bn, "few", causes, numpy.stack([1 - few, few], axis=1))
    evidence["few"] = 1
    for f, finding in enumerate(findings):
        node = f"finding{f}"
        bn.add(pyagrum.LabelizedVariable(node, node, 2))
        link = numpy.divide(shows * share[f], top, out=numpy.zeros_like(top), where=top > 0)
        hidden = numpy.prod(numpy.where(there == 1, 1 - link, 1.0), axis=1)
        table(bn, node, causes, numpy.stack([hidden, 1 - hidden], axis=1))
        evidence[node] = int(finding["seen"])
    for k, check in enumerate(question["answered"]):
        node = f"check{k}"
        bn.add(pyagrum.LabelizedVariable(node, node, len(check["otherwise"])))
        speaks = numpy.array([row is not None for row in check["given"]], dtype=float)
        rows = numpy.array([row or [0.0] * len(check["otherwise"]) for row in check["given"]])
        speaking = (there * speaks).sum(axis=1)
        mean = (there * speaks) @ rows / numpy.maximum(speaking, 1)[:, None]
        table(bn, node, causes, numpy.where(speaking[:, None] > 0, mean, numpy.array(check["otherwise"])))
        evidence[node] = check["outcome"]
    return bn, causes, evidence


def answer(question):
    """By cause the chance that it is there, and the chance that two are; None where nothing explains the evidence."""
    bn, causes, evidence = network(question)
    inference = pyagrum.LazyPropagation(bn)
    inference.setEvidence(evidence)
    try:
        inference.makeInference()
        there = [float(inference.posterior(cause)[1]) for cause in causes]
    except pyagrum.IncompatibleEvidence:
        return None
    # At most two, at least one: so many causes in the mean as there are pairs more than one.
    return there, sum(there) - 1


def fault(question):
    theirs, ours = answer(question), question["there"]
    if theirs is None or ours is None:
        return None if theirs is None and ours is None else f"{ours} against {theirs}"
    worst = max([abs(a - b) for a, b in zip(ours, theirs[0], strict=True)] + [abs(question["two"] - theirs[1])])
    question["off"] = worst
    return None if worst <= TOLERANCE else f"differs by {worst}"


def main(path):
    passed, failed, worst = {"shipped": 0, "made-up": 0}, 0, 0.0
    for line in pathlib.Path(path).read_text(encoding="utf-8").splitlines():
        question = json.loads(line)
        if wrong := fault(question):
            failed += 1
            print(f"{question['name']}: {wrong}")
        else:
            passed["made-up" if question["name"].startswith("made-up") else "shipped"] += 1
            worst = max(worst, question.get("off", 0.0))
    for kind, least in LEAST.items():
        if passed[kind] < least:
            failed += 1
            print(f"only {passed[kind]} {kind} questions, at least {least} are needed")
    print(f"{passed['shipped']} shipped, {passed['made-up']} made-up; worst difference {worst:.1e}")
    print(f"{sum(passed.values())} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
