"""Large selections solved by HiGHS beside our own answers and times.

`cargo bench -p refettle-judgement --bench selection -- --write FILE` writes them. Ends on a line `N passed, N failed`: a
selection passes when both optima are equal. Each is solved three times and the middle time counts; making the model does
not.
"""

import statistics
import sys
import time

import highspy

import selections


def read(path):
    for line in open(path, encoding="utf-8"):
        cells = line.rstrip("\n").split("\t")
        places = lambda text: [int(p) for p in text.split(",") if p]
        options = []
        for piece in cells[5].split(";"):
            value, parts, seconds, stand, needs, requires = piece.split(":")
            options.append((int(value), int(parts), int(seconds), stand, places(needs), places(requires)))
        shared = [tuple(map(int, piece.split(":"))) for piece in cells[6].split(";")]
        pairs = [tuple(map(int, piece.split(":"))) for piece in cells[7].split(";") if piece]
        case = (int(cells[2]), int(cells[3]), int(cells[4]), options, shared, pairs)
        yield int(cells[1]), case, int(cells[8]), float(cells[9])


def timed(case):
    """The optimum, and the middle of three solver times in milliseconds."""
    times, optimum = [], None
    maximize = highspy.Highs.maximize
    for _ in range(3):
        def watched(self, *arguments):
            begun = time.perf_counter()
            outcome = maximize(self, *arguments)
            times.append((time.perf_counter() - begun) * 1e3)
            return outcome

        highspy.Highs.maximize = watched
        try:
            optimum = selections.by_highs(case)
        finally:
            highspy.Highs.maximize = maximize
    return optimum, statistics.median(times)


def main(path):
    passed = failed = 0
    ours, theirs = [], []
    for number, case, gain, milliseconds in read(path):
        optimum, taken = timed(case)
        equal = optimum == gain
        passed, failed = passed + equal, failed + (not equal)
        ours.append(milliseconds)
        theirs.append(taken)
        print(f"{number}\t{milliseconds:.1f} ms\tHiGHS {taken:.1f} ms\t{taken / milliseconds:.1f} times\t{'equal' if equal else f'{gain} against {optimum}'}")
    ratios = [b / a for a, b in zip(ours, theirs)]
    print(f"ours: middle {statistics.median(ours):.1f} ms, worst {max(ours):.1f} ms; HiGHS: middle {statistics.median(theirs):.1f} ms, worst {max(theirs):.1f} ms; HiGHS takes {statistics.median(ratios):.1f} times as long in the middle, {sum(theirs) / sum(ours):.1f} times in all")
    print(f"{passed} passed, {failed} failed")
    sys.exit(1 if failed or not passed else 0)


if __name__ == "__main__":
    main(sys.argv[1])
