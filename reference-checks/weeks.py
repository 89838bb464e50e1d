"""Weeks of dates by the C library's %U: weeks from Sunday, week 1 begins with the first Sunday of the year.

Writes data/weeks_strftime.tsv beside this script, and prints the same. Days before the first Sunday are week 0
there; they belong to the last week of the year before, which is asked for by its last day.
"""

import datetime
import pathlib
import random

OUT = pathlib.Path(__file__).parent / "data" / "weeks_strftime.tsv"


def lines():
    yield "# datetime.date.strftime %U; made by: python3 reference-checks/weeks.py"
    yield "date\tyear\tweek"
    rng = random.Random(574)
    first, last = datetime.date(1971, 1, 1), datetime.date(2060, 12, 31)
    dates = {first + datetime.timedelta(days=rng.randint(0, (last - first).days)) for _ in range(300)}
    for year in range(1995, 2035):
        dates.update({datetime.date(year, 1, 1), datetime.date(year, 1, 7), datetime.date(year, 12, 31)})
    for date in sorted(dates):
        named = date
        if date.strftime("%U") == "00":
            named = datetime.date(date.year - 1, 12, 31)
        yield f"{date.isoformat()}\t{named.year}\t{int(named.strftime('%U'))}"


if __name__ == "__main__":
    text = "\n".join(lines()) + "\n"
    OUT.parent.mkdir(exist_ok=True)
    OUT.write_text(text, encoding="utf-8")
    print(text, end="")
