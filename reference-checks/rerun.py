"""Asks the independent programs again and compares with the tables under `data/`. Changes nothing.

Works on a copy, since some scripts write their table. Ends on a line `N passed, N failed`.
"""

import difflib
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile

HERE = pathlib.Path(__file__).parent
TABLES = {
    "coolant.py": "coolant_coolprop.tsv",
    "selections.py": "selections_highs.tsv",
    "offer_quantiles.py": "offer_scipy.tsv",
    "robust.py": "robust_statsmodels.tsv",
    "shims.py": "shims_scipy.tsv",
    "student.py": "student_scipy.tsv",
    "units.py": "units_scipy.tsv",
    "weeks.py": "weeks_strftime.tsv",
}


def fault(script: str, table: str) -> str:
    """Why the table no longer stands, or an empty text."""
    with tempfile.TemporaryDirectory() as folder:
        shutil.copy(HERE / script, folder)
        os.mkdir(os.path.join(folder, "data"))
        command = [sys.executable, os.path.join(folder, script)]
        done = subprocess.run(command, capture_output=True, text=True, check=False)
    if done.returncode != 0:
        return done.stderr
    # A solver may announce itself before the table's first line.
    now = done.stdout.splitlines()
    first = next((at for at, line in enumerate(now) if line.startswith("#")), 0)
    kept = (HERE / "data" / table).read_text(encoding="utf-8")
    differing = difflib.unified_diff(kept.splitlines(), now[first:], "kept", "now", lineterm="", n=0)
    return "\n".join(differing)


def main():
    untested = {path.name for path in (HERE / "data").iterdir()} - set(TABLES.values())
    faults = {table: "no script here makes this table" for table in untested}
    for script, table in TABLES.items():
        if text := fault(script, table):
            faults[table] = text
    for table, text in sorted(faults.items()):
        print(f"FAILED {table}\n{text}")
    print(f"{len(TABLES) + len(untested) - len(faults)} passed, {len(faults)} failed")
    sys.exit(1 if faults else 0)


if __name__ == "__main__":
    main()
