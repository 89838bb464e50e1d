"""Quantiles of Student's t by scipy. Writes data/student_scipy.tsv beside this script, and prints the same."""

import pathlib

import scipy
from scipy import stats

OUT = pathlib.Path(__file__).parent / "data" / "student_scipy.tsv"


def main():
    lines = [f"# scipy {scipy.__version__}, stats.t.ppf", "p\tfreedom\tt"]
    for freedom in (1, 2, 3, 4.5, 6, 7, 8, 10, 13, 25, 60, 200, 1000):
        for p in (0.001, 0.01, 0.1, 0.2, 0.35, 0.6, 0.75, 0.9, 0.975, 0.999):
            lines.append(f"{p}\t{freedom}\t{stats.t.ppf(p, freedom):.13g}")
    text = "\n".join(lines) + "\n"
    OUT.write_text(text, encoding="utf-8")
    print(text, end="")


if __name__ == "__main__":
    main()
