"""Writes tests/fixtures/dates/dateutil.json: dateutil's opinion of the last good day of items good for so many months.

Run from the project's root:  python3 tests/oracles/dateutil_days.py
Each case is [what the label says, months, last good day]; the last is null beyond the calendar. Policy, as in
src/book/due_dates.rs: a day counts to the same day (29 February and days a month does not have become the month's last, which
is what relativedelta does); a month counts to the end of the month so many months on; a year is its December.
"""

import datetime
import json
import pathlib

import dateutil
from dateutil.relativedelta import relativedelta

MONTHS = [1, 2, 6, 11, 12, 13, 18, 24, 36, 48, 60, 84, 97, 120, 1200]
DAYS = [
    "2000-02-29", "2004-02-29", "2020-02-29", "2024-02-29", "2096-02-29", "2023-02-28", "2024-02-28", "2024-03-01",
    "2021-01-31", "2021-03-31", "2021-05-31", "2021-07-31", "2021-08-31", "2021-10-31", "2021-12-31",
    "2021-04-30", "2021-06-30", "2021-09-30", "2021-11-30", "2021-01-29", "2021-01-30", "2022-07-15", "2026-08-03",
    "1999-12-31", "2099-12-31", "2100-02-28", "9998-12-31", "9999-12-31",
]


def end_of(year, month, months):
    # `day=31` takes the month's last day where it has fewer.
    return datetime.date(year, month, 1) + relativedelta(months=months, day=31)


def case(label, months, compute):
    try:
        return [label, months, compute().isoformat()]
    except (OverflowError, ValueError):
        return [label, months, None]


cases = []
for text in DAYS:
    day = datetime.date.fromisoformat(text)
    for months in MONTHS:
        cases.append(case(text, months, lambda: day + relativedelta(months=months)))
for year in [1999, 2000, 2019, 2020, 2021, 2023, 2024, 2099, 9998]:
    for month in range(1, 13):
        for months in MONTHS:
            cases.append(case(f"{year:04}-{month:02}", months, lambda: end_of(year, month, months)))
for year in [2016, 2019, 2020, 2099, 9999]:
    for months in MONTHS:
        cases.append(case(f"{year:04}", months, lambda: end_of(year, 12, months)))

out = pathlib.Path("tests/fixtures/dates")
out.mkdir(parents=True, exist_ok=True)
lines = ",\n".join("  " + json.dumps(one) for one in cases)
text = f'{{\n"library": "python-dateutil {dateutil.__version__}",\n"cases": [\n{lines}\n]\n}}\n'
(out / "dateutil.json").write_text(text)
