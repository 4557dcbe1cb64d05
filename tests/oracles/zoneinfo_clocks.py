"""Writes tests/fixtures/clocks/zoneinfo.json: Python's zoneinfo on how long it is between two clock times, through clock changes.

Run from the project's root:  python3 tests/oracles/zoneinfo_clocks.py
Each case is [zone, date of the start, start, end, readings]; the end is on the date of the start where it is the later time, else
on the next. A reading is [offset of the start, offset of the end, minutes]: one where each time comes once, several where one comes
twice, none where one does not exist. The zones' changes of 2025 and 2026 are found by looking at every day; those after are governments'
plans and differ between versions of tzdata.
"""

import datetime
import json
import pathlib
import platform
import zoneinfo

ZONES = [
    "Africa/Casablanca", "America/Santiago", "America/Sao_Paulo", "America/St_Johns",
    "Australia/Lord_Howe", "Europe/Dublin", "Pacific/Auckland", "Pacific/Chatham",
]
# The table of the reference's own cases first: zone, date, start, end.
PLAIN = [
    ("Europe/Dublin", "2026-10-24", "23:10", "03:40"),
    ("Europe/Dublin", "2026-10-25", "00:40", "01:30"),
    ("Europe/Dublin", "2026-03-28", "23:30", "02:15"),
    ("America/St_Johns", "2026-03-08", "00:30", "04:00"),
    ("Australia/Lord_Howe", "2026-04-04", "22:00", "04:00"),
    ("Australia/Lord_Howe", "2026-10-03", "22:00", "04:00"),
    ("Pacific/Auckland", "2026-04-04", "23:00", "05:00"),
    ("Africa/Casablanca", "2026-02-14", "22:00", "05:00"),
    ("America/Sao_Paulo", "2026-02-14", "22:00", "04:00"),
]
STARTS = ["20:10", "22:00", "23:10", "23:50"]
EARLY = ["00:05", "00:40", "01:10", "01:40", "02:20", "02:50"]
ENDS = ["00:20", "00:55", "01:15", "01:29", "01:45", "02:00", "02:10", "02:40", "03:00", "03:20", "04:30"]


def version():
    for folder in zoneinfo.TZPATH:
        said = pathlib.Path(folder) / "tzdata.zi"
        if said.exists():
            return said.read_text().splitlines()[0].removeprefix("# version ").strip()
    import tzdata

    return tzdata.IANA_VERSION


def instants(zone, date, clock):
    """The instants of a clock time: (UTC, minutes ahead of UTC), none where it does not exist."""
    hour, minute = map(int, clock.split(":"))
    found = []
    for fold in (0, 1):
        local = datetime.datetime.combine(date, datetime.time(hour, minute), zone).replace(fold=fold)
        utc = local.astimezone(datetime.timezone.utc)
        back = utc.astimezone(zone)
        # A time that does not exist comes back as another.
        if back.replace(tzinfo=None) == local.replace(tzinfo=None):
            ahead = int(back.utcoffset().total_seconds()) // 60
            if (utc, ahead) not in found:
                found.append((utc, ahead))
    return found


def case(name, day, start, end):
    zone = zoneinfo.ZoneInfo(name)
    date = datetime.date.fromisoformat(day)
    last = date if end > start else date + datetime.timedelta(days=1)
    readings = []
    for first, before in instants(zone, date, start):
        for second, after in instants(zone, last, end):
            minutes = int((second - first).total_seconds()) // 60
            if minutes > 0:
                readings.append([before, after, minutes])
    return [name, day, start, end, readings]


def changes(name):
    zone = zoneinfo.ZoneInfo(name)
    date = datetime.date(2025, 1, 1)
    while date < datetime.date(2027, 1, 1):
        noon = datetime.datetime.combine(date, datetime.time(12), zone)
        before = noon - datetime.timedelta(days=1)
        if noon.utcoffset() != before.utcoffset():
            yield date
        date += datetime.timedelta(days=1)


def main():
    cases = [case(*plain) for plain in PLAIN]
    for name in ZONES:
        days = list(changes(name)) or [datetime.date(2026, 2, 15), datetime.date(2026, 10, 18)]
        for date in days:
            eve = (date - datetime.timedelta(days=1)).isoformat()
            cases += [case(name, eve, start, end) for start in STARTS for end in ENDS]
            cases += [case(name, date.isoformat(), start, end) for start in EARLY for end in ENDS if end > start]
    cases = [list(one) for one in {json.dumps(one): one for one in cases}.values()]
    head = {"python": platform.python_version(), "tzdata": version()}
    rows = ",\n".join("  " + json.dumps(one) for one in cases)
    text = f'{{\n"library": "zoneinfo of Python {head["python"]}",\n"tzdata": "{head["tzdata"]}",\n"cases": [\n{rows}\n]\n}}\n'
    path = pathlib.Path("tests/fixtures/clocks/zoneinfo.json")
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text)
    print(len(cases), "cases, tzdata", head["tzdata"])


main()
