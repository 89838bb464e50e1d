"""Robust regressions by statsmodels, for Huber's and Tukey's shapes.

The first case is the stack loss data (Brownlee 1965), the example statsmodels ships with its robust regression; the
rest are random, some with gross errors. Writes data/robust_statsmodels.tsv beside this script, and prints the same.
"""

import pathlib

import numpy as np
import statsmodels
import statsmodels.api as sm

OUT = pathlib.Path(__file__).parent / "data" / "robust_statsmodels.tsv"
SHAPES = {"huber": sm.robust.norms.HuberT(t=1.345), "tukey": sm.robust.norms.TukeyBiweight(c=4.685)}


def cases():
    stack = sm.datasets.stackloss.load_pandas()
    yield "stackloss", sm.add_constant(stack.exog.to_numpy(), prepend=True), stack.endog.to_numpy()
    rng = np.random.default_rng(1965)
    for at in range(40):
        n, p = int(rng.integers(8, 60)), int(rng.integers(1, 5))
        x = sm.add_constant(np.round(rng.normal(size=(n, p)) * 10, 3), prepend=True, has_constant="add")
        y = x @ rng.normal(size=p + 1) + rng.standard_t(3, size=n)
        gross = rng.random(n) < rng.choice([0.0, 0.1])
        y = np.where(gross, y + rng.choice([-60, 60], size=n), y)
        yield f"random-{at}", x, np.round(y, 6)


def said(values):
    return " ".join(f"{v:.15g}" for v in values)


def main():
    lines = [f"# statsmodels {statsmodels.__version__}, RLM, scale by MAD about nought, standard errors H1, tolerance 1e-13"]
    lines.append("case\twhat\tvalues")
    for name, x, y in cases():
        lines.append(f"{name}\ty\t{said(y)}")
        for column in x.T:
            lines.append(f"{name}\tx\t{said(column)}")
        for shape, norm in SHAPES.items():
            fit = sm.RLM(y, x, M=norm).fit(maxiter=5000, tol=1e-13, conv="coefs", scale_est="mad", cov="H1")
            for what, values in (("b", fit.params), ("se", fit.bse), ("scale", [fit.scale]), ("weights", fit.weights)):
                lines.append(f"{name}\t{shape}-{what}\t" + " ".join(f"{v:.12g}" for v in values))
    text = "\n".join(lines) + "\n"
    OUT.write_text(text, encoding="utf-8")
    print(text, end="")


if __name__ == "__main__":
    main()
