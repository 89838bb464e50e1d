"""The page docs/planner-accuracy.md: instances, optimum, reference, times. Called by `optimal.py --table`."""

HEAD = """# How the planner compares with independent solvers

Made by this command, times from one run on two shared cores, the planner a release build:

```sh
cargo run --release -p refettle-plan-check --example write_tasks -- TASKS
python3 reference-checks/optimal.py TASKS --table docs/planner-accuracy.md
```

Costs are hands-on seconds.
The optimum is the planner's, proven by its own lower bound.
*Fast Downward* is its blind A\\* (package up-fast-downward; Helmert 2006).
*Uniform cost* is a search of our own in Python, with its own reader of PDDL (Dijkstra 1959).
*Brute force* is the one in the crate plan-check, which knows only the rules of the machine sheet.
A dash means that it did not finish within its time or size.
"""


def cost(answer):
    return "–" if answer is None else "no plan" if answer == "none" else f"{answer}"


def seconds(verdict, name):
    return f"{verdict.took[name]:.1f}" if verdict.judges.get(name) is not None else "–"


def made_up(verdicts, names):
    """A section that counts the made-up tasks; a table of hundreds would tell nobody anything."""
    written = [v for v in verdicts if v.written]
    rows = (
        ("answered by search", written),
        ("refused before any search", [v for v in verdicts if not v.written and v.planner == "none"]),
        ("nothing to do", [v for v in verdicts if not v.written and v.planner == 0]),
    )
    yield "\n## Made-up tasks\n"
    yield "| tasks | number | without a plan | " + " | ".join(f"{name}: agreed of finished" for name in names) + " |"
    yield "|---|---|---|" + "---|" * len(names)
    for title, of in rows:
        cells = []
        for name in names:
            done = [v for v in of if v.judges.get(name) is not None]
            cells.append(f"{sum(v.judges[name] == v.planner for v in done)} of {len(done)}")
        yield f"| {title} | {len(of)} | {sum(v.planner == 'none' for v in of)} | " + " | ".join(cells) + " |"
    worst = max(written, key=lambda v: v.planner_ms)
    yield f"\nThe planner's slowest took {worst.planner_ms} ms ({worst.task}, {worst.operators} actions)."


def layout(name, verdicts):
    yield f"\n## {name}\n"
    yield "| jobs | actions | optimum | Fast Downward | uniform cost | brute force | planner, ms | Fast Downward, s | uniform cost, s |"
    yield "|---|---|---|---|---|---|---|---|---|"
    for v in verdicts:
        judged = [cost(v.judges.get(judge)) for judge in ("Fast Downward", "uniform cost", "brute force")]
        times = [f"{v.planner_ms}", seconds(v, "Fast Downward"), seconds(v, "uniform cost")]
        cells = [v.task.split("/", 1)[1], f"{v.operators}", cost(v.planner), *judged, *times]
        yield "| " + " | ".join(cells) + " |"


def page(verdicts, names):
    lines = [HEAD]
    for group in dict.fromkeys(v.group for v in verdicts):
        of = [v for v in verdicts if v.group == group]
        lines += made_up(of, names) if group == "chance" else layout(group, of)
    return "\n".join(lines) + "\n"
