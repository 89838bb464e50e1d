"""Fast Downward (Helmert 2006), asked for the least cost of a PDDL task: A* with the blind heuristic, so no estimate
that could be wrong takes part. The package up-fast-downward brings the translator and the search program.
"""

import importlib.util
import pathlib
import re
import resource
import subprocess
import sys
import tempfile

# The package itself is not imported: it would ask for a modelling library that is not needed here.
PACKAGE = importlib.util.find_spec("up_fast_downward")
if PACKAGE is None:
    raise SystemExit("up-fast-downward is not installed: pip install -r reference-checks/requirements.txt")
SEARCH = pathlib.Path(PACKAGE.submodule_search_locations[0], "downward", "builds", "release", "bin", "downward")
# Two run side by side; blind search stops by itself when this is full.
MEMORY_BYTES = 3 << 30
# Exit statuses, from the program's documentation. 12 is also that of a search which could not be complete, so there its
# words decide.
SOLVED, NO_PLAN, NONE_FOUND, OUT_OF_MEMORY = 0, 11, 12, 22
ALL_SEEN = "Completely explored state space"


class Broken(Exception):
    """The program failed in a way that is no answer."""


def _limit_memory():
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY_BYTES, MEMORY_BYTES))


def _run(command, seconds, folder, source=None):
    return subprocess.run(
        command,
        stdin=source,
        cwd=folder,
        timeout=seconds,
        capture_output=True,
        text=True,
        preexec_fn=_limit_memory,
        check=False,
    )


def least_cost(task: pathlib.Path, seconds: float):
    """The least cost, "none" when there is no plan, or None when time or memory ran out."""
    with tempfile.TemporaryDirectory() as folder:
        files = [str((task / name).resolve()) for name in ("domain.pddl", "problem.pddl")]
        try:
            translator = _run([sys.executable, "-m", "fast_downward.translate", *files], seconds, folder)
            if translator.returncode != 0:
                raise Broken(f"translator: status {translator.returncode}: {translator.stderr[-500:]}")
            with open(pathlib.Path(folder) / "output.sas", encoding="utf-8") as grounded:
                search = _run([str(SEARCH), "--search", "astar(blind())"], seconds, folder, grounded)
        except subprocess.TimeoutExpired:
            return None
    if search.returncode == SOLVED:
        return int(re.search(r"Plan cost: (\d+)", search.stdout)[1])
    if search.returncode == NO_PLAN or (search.returncode == NONE_FOUND and ALL_SEEN in search.stdout):
        return "none"
    if search.returncode == OUT_OF_MEMORY:
        return None
    raise Broken(f"search: status {search.returncode}: {search.stdout[-300:]} {search.stderr[-300:]}")
