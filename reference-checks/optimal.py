"""Asks independent solvers for the least hands-on time of planning tasks, and compares the planner's own answers.

    cargo run -p refettle-plan-check --example write_tasks -- TASKS
    python3 reference-checks/optimal.py TASKS [--seconds 20] [--jobs 2] [--table docs/planner-accuracy.md]

Three judges: Fast Downward's blind A* (`downward.py`), a uniform-cost search with a reader of its own (`uniform_cost.py`),
and the brute force of the crate plan-check, whose answers stand in `TASKS/answers.tsv`. The first two read the PDDL files;
the third knows only the machine sheet's rules, and is alone where the planner refuses a task before any search. Every
judge that finishes must say what the planner says, to the second. Ends on a line `N passed, N failed`.
"""

import argparse
import concurrent.futures
import csv
import dataclasses
import pathlib
import sys
import time

import accuracy_page
import downward
import uniform_cost

# Below these the check would prove too little to be called passed.
LEAST_JUDGED = {"Fast Downward": 300, "uniform cost": 300, "brute force": 300}


@dataclasses.dataclass
class Verdict:
    """What everybody says about one task. Answers are seconds, "none", or None for no answer."""

    task: str
    operators: int
    searched: bool
    planner: int | str | None
    at_least: int | str | None
    planner_ms: int
    judges: dict = dataclasses.field(default_factory=dict)
    took: dict = dataclasses.field(default_factory=dict)
    broken: str = ""

    @property
    def group(self):
        return self.task.split("/")[0]

    def fault(self):
        """Why this task fails, or an empty text."""
        answers = {name: answer for name, answer in self.judges.items() if answer is not None}
        if self.broken:
            return self.broken
        if self.planner is None or self.planner != self.at_least:
            return f"the planner proved nothing: {self.planner}, at least {self.at_least}"
        if differing := {name: answer for name, answer in answers.items() if answer != self.planner}:
            return f"the planner says {self.planner}, but {differing}"
        if not answers and self.group == "chance":
            return "no judge finished"
        return ""


def answer(text):
    return int(text) if text.isdigit() else "none" if text == "none" else None


def asked(tasks: pathlib.Path):
    with open(tasks / "answers.tsv", encoding="utf-8", newline="") as table:
        for row in csv.DictReader(table, delimiter="\t"):
            verdict = Verdict(
                task=row["task"],
                operators=int(row["operators"]),
                searched=row["searched"] == "yes",
                planner=answer(row["hands_on_s"]),
                at_least=answer(row["at_least_s"]),
                planner_ms=int(row["planner_ms"]),
            )
            verdict.judges["brute force"] = answer(row["brute_force_s"])
            yield verdict


def judge(tasks: pathlib.Path, verdict: Verdict, seconds: float) -> Verdict:
    if not verdict.searched:
        return verdict
    for name, solver in (("Fast Downward", downward), ("uniform cost", uniform_cost)):
        begun = time.monotonic()
        try:
            verdict.judges[name] = solver.least_cost(tasks / verdict.task, seconds)
        except Exception as error:  # one broken task must not hide the others
            verdict.broken = f"{name}: {error}"
        verdict.took[name] = time.monotonic() - begun
    return verdict


def summary(verdicts):
    """Lines of a table: by group and judge, how many finished, agreed, were without a plan; the slowest."""
    yield f"{'tasks':<20}{'judge':<15}{'asked':>6}{'finished':>9}{'agreed':>7}{'no plan':>8}{'slowest':>9}"
    for group in dict.fromkeys(v.group for v in verdicts):
        for name in LEAST_JUDGED:
            of = [v for v in verdicts if v.group == group and name in v.judges]
            done = [v for v in of if v.judges[name] is not None]
            agreed = sum(v.judges[name] == v.planner for v in done)
            none = sum(v.judges[name] == "none" for v in done)
            slowest = max((v.took.get(name, 0.0) for v in done), default=0.0)
            shown = f"{slowest:8.1f}s" if slowest else f"{'':>9}"
            yield f"{group:<20}{name:<15}{len(of):>6}{len(done):>9}{agreed:>7}{none:>8}{shown}"
    refused = [v for v in verdicts if not v.searched]
    seen = sum(v.judges["brute force"] is not None for v in refused)
    yield f"refused before any search: {len(refused)}, of these judged by brute force: {seen}"


def too_few(verdicts):
    for name, least in LEAST_JUDGED.items():
        chance = sum(v.judges.get(name) is not None for v in verdicts if v.group == "chance")
        if chance < least:
            yield f"{name} finished only {chance} made-up tasks; {least} are the least that count"


def main():
    options = argparse.ArgumentParser(description="Compare the planner's costs with independent solvers'.")
    options.add_argument("tasks", type=pathlib.Path, help="folder made by the example write_tasks")
    options.add_argument("--seconds", type=float, default=20.0, help="for each solver and task")
    options.add_argument("--jobs", type=int, default=2, help="tasks at a time")
    options.add_argument("--table", type=pathlib.Path, help="also write a Markdown page")
    given = options.parse_args()
    with concurrent.futures.ProcessPoolExecutor(given.jobs) as pool:
        waiting = [pool.submit(judge, given.tasks, verdict, given.seconds) for verdict in asked(given.tasks)]
        verdicts = [future.result() for future in waiting]
    print("\n".join(summary(verdicts)))
    faults = [f"{v.task}: {v.fault()}" for v in verdicts if v.fault()]
    unjudged = [v.task for v in verdicts if all(a is None for a in v.judges.values())]
    if unjudged:
        print(f"no judge finished these in {given.seconds:.0f} s, so they count neither way: {', '.join(unjudged)}")
    shortfalls = list(too_few(verdicts))
    for fault in faults + shortfalls:
        print(f"FAILED {fault}")
    if given.table:
        given.table.write_text(accuracy_page.page(verdicts, LEAST_JUDGED), encoding="utf-8")
    failed = len(faults) + len(shortfalls)
    print(f"{len(verdicts) - len(faults) - len(unjudged)} passed, {failed} failed")
    sys.exit(1 if failed else 0)


if __name__ == "__main__":
    main()
