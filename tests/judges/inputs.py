#!/usr/bin/env python3
"""Holds the files of the examples against the schemas of input files, with tomllib and jsonschema,
which had no part in writing either.

    inputs.py FOLDER

FOLDER holds job.schema.json, book.schema.json, shop.schema.json and system.schema.json, as
`slableaf schema KIND --out FOLDER` writes them. Each shipped file must pass; the job that shows
mistakes must not. Each file of a list of broken ones, made by one edit from one that passes, must be
refused, and each of a list of unusual but right ones must pass: a judge that cannot say no is none,
and a schema that says no to what is right is a nuisance. Prints counts; exit 0 only if all is so.
"""

import datetime
import json
import sys
import tomllib
from copy import deepcopy
from pathlib import Path

from jsonschema import Draft7Validator, FormatChecker

ROOT = Path(__file__).resolve().parent.parent.parent
KINDS = ("job", "book", "shop", "system")
GONE = object()


def plain(value):
    """A TOML value as JSON: dates and times become texts, as TOML writes them."""
    if isinstance(value, dict):
        return {key: plain(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [plain(inner) for inner in value]
    if isinstance(value, (datetime.datetime, datetime.date, datetime.time)):
        return value.isoformat()
    return value


def read(path):
    return plain(tomllib.loads(path.read_text(encoding="utf-8")))


def edited(base, path, value):
    """A copy with the value at a path replaced, added, or taken out when it is GONE."""
    copy = deepcopy(base)
    inner = copy
    for step in path[:-1]:
        inner = inner[step]
    if value is GONE:
        del inner[path[-1]]
    elif callable(value):
        inner[path[-1]] = value(inner[path[-1]])
    else:
        inner[path[-1]] = value
    return copy


# One edit each, and every one of them a mistake: kind of file, path, new value.
BROKEN = [
    # Keys that nobody knows, and slips of the pen.
    ("job", ("color",), "red"),
    ("job", ("customer", "adress"), ["1 Nowhere Street"]),
    ("job", ("area", 0, "lenght"), "22 ft"),
    ("job", ("slab", "thicknes"), "4 in"),
    ("job", ("moisture", "dishes", "dish", 0, "weight"), "1 g"),
    ("job", ("garage", "sold_at_home"), True),
    ("book", ("terms", "markup"), "20 %"),
    ("book", ("product", 0, "mver"), "3 lb"),
    ("book", ("product", 0, "kit", 0, "cost"), "$5.00"),
    ("shop", ("website",), "example"),
    ("shop", ("payment", 0, "amount"), "$5.00"),
    ("system", ("coat", 0, "color"), "red"),
    # What has to be there and is not.
    ("job", ("number",), GONE),
    ("job", ("date",), GONE),
    ("job", ("units",), GONE),
    ("job", ("offer",), GONE),
    ("job", ("customer",), GONE),
    ("job", ("area",), GONE),
    ("job", ("area",), []),
    ("job", ("area", 0, "outline"), GONE),
    ("job", ("slab", "on-ground"), GONE),
    ("job", ("moisture", "dishes", "scale"), GONE),
    ("job", ("moisture", "dishes", "dish"), GONE),
    ("job", ("moisture", "dishes", "room-humidity"), GONE),
    ("job", ("air", "slab"), GONE),
    ("job", ("photo", 0, "caption"), GONE),
    ("book", ("labor",), GONE),
    ("book", ("terms", "margin"), GONE),
    ("book", ("product", 0, "kit"), GONE),
    ("book", ("product", 0, "cure"), GONE),
    ("book", ("product", 0, "spread"), GONE),
    ("book", ("product", 0, "isocyanate"), GONE),
    ("shop", ("payment",), GONE),
    ("system", ("coat",), GONE),
    ("system", ("life-to",), GONE),
    # Quantities without a unit. What only the grammar of a unit could tell is for the reader to
    # refuse: tests/keys.rs has a list of it.
    ("job", ("slab", "thickness"), "4"),
    ("job", ("slab", "thickness"), 4),
    ("job", ("air", "temperature"), 70),
    ("book", ("labor", "burden"), "0.3"),
    ("system", ("life-from",), "2 years"),
    # Words that are none of the known ones.
    ("job", ("units",), "imperial"),
    ("job", ("language",), "fr"),
    ("job", ("slab", "water-drop"), "soaks in"),
    ("job", ("slab", "vapor-retarder"), True),
    ("job", ("wishes",), ["cheap"]),
    ("job", ("joint", 0, "treatment"), "caulk"),
    ("book", ("currency",), "dollars"),
    ("book", ("terms", "tax-on"), "everything"),
    ("shop", ("calendar", "closed"), ["Sunday"]),
    ("system", ("coat", 0, "look"), "shiny"),
    # The wrong kind of value.
    ("job", ("number",), 142),
    ("job", ("number",), "2026/0142"),
    ("job", ("date",), "May 12, 2026"),
    ("job", ("date",), "2026-02-30"),
    ("job", ("offer",), "barrier"),
    ("job", ("slab", "on-ground"), "yes"),
    ("job", ("slab",), []),
    ("job", ("area",), {"length": "22 ft", "width": "20 ft"}),
    ("job", ("crack", 0, "path"), ["11 ft", "0 ft"]),
    ("job", ("door", 0, "from"), ["3 ft"]),
    ("job", ("moisture", "dishes", "dish", 0, "set"), "2026-05-05"),
    ("job", ("customer", "name"), ""),
    ("job", ("customer", "email"), "rosa at home"),
    ("job", ("steps", 0, "count"), -2),
    ("job", ("steps", 0, "count"), 2.5),
    ("job", ("house", "built"), 94),
    ("book", ("product", 0, "key"), "Epoxy Primer"),
    ("book", ("labor", "crew"), 0),
    ("book", ("labor", "day-starts"), "half past seven"),
    ("shop", ("accent",), "blue"),
    ("shop", ("calendar", "time-zone"), "CST"),
    # Too many.
    ("job", ("offer",), ["a", "b", "c", "d", "e", "f"]),
    ("job", ("offer",), ["barrier", "barrier"]),
    ("job", ("photo",), lambda photos: photos * 5),
    ("job", ("crack",), lambda cracks: cracks * 201),
    ("book", ("product", 0, "kit"), lambda kits: kits * 4),
    ("system", ("coat",), lambda coats: coats * 3),
    # Keys that do not go together.
    ("job", ("area", 0, "length"), "22 ft"),
    ("job", ("slab", "poured"), "1994-05-01"),
    ("book", ("product", 0, "film"), "10 mil"),
    ("book", ("product", 0, "voc-masses"), {"volatiles": "5 g", "volume": "1 L"}),
    ("book", ("product", 0, "flake"), {"full": "0.15 lb/ft2", "scattered": "0.03 lb/ft2", "thickness": "20 mil"}),
    ("book", ("change",), [{"from": "2027-01-01"}]),
    ("book", ("change",), [{"from": "2027-01-01", "percent": "4.5 %"}]),
    ("book", ("change",), [{"from": "2027-01-01", "percent": "+4.5 %", "amount": "+$3.00"}]),
]

# One edit each, unusual and right.
RIGHT = [
    ("job", ("slab", "thickness"), "4in"),
    ("job", ("slab", "thickness"), " 4 1/2\u00a0in "),
    ("job", ("slab", "thickness"), "0.33 ft"),
    ("job", ("slab", "thickness"), ".33 ft"),
    ("job", ("crack", 0, "length"), "22'6\""),
    ("job", ("crack", 0, "length"), "22\u2032 6 1/2\u2033"),
    ("job", ("crack", 0, "length"), "22 feet 6 inches"),
    ("job", ("crack", 0, "length"), "1,000 ft"),
    ("job", ("crack", 0, "length"), "6.86 m"),
    ("job", ("crack", 0, "length"), "1 m 20 cm 5 mm"),
    ("job", ("slab", "texture"), "100 \u00b5m"),
    ("job", ("moisture", "dishes", "dish", 0, "exposed"), "424 cm\u00b2"),
    ("job", ("moisture", "dishes", "dish", 0, "exposed"), "0.456 sq ft"),
    ("job", ("air", "temperature"), "-4 \u00b0C"),
    ("job", ("air", "temperature"), "\u22124 C"),
    ("job", ("air", "temperature"), "61.5 deg F"),
    ("job", ("air", "humidity"), "100 %"),
    ("job", ("air", "humidity"), "54% RH"),
    ("job", ("customer", "name"), "\u0141ucja O'Neil-M\u00e5sv\u00e6r {{ 7 }} <b>"),
    ("job", ("photo", 0, "file"), "photos/door side..jpg"),
    ("job", ("extras",), {"clear-epoxy": ["urethane-coat"]}),
    ("job", ("moisture", "dishes", "dish", 0, "set"), "2026-05-05 09:10:00"),
    ("book", ("terms", "minimum"), 1800),
    ("book", ("terms", "minimum"), "1,800.00 USD"),
    ("book", ("terms", "minimum"), "USD 1800"),
    ("book", ("terms", "consumables"), "$0.345 / sf"),
    ("book", ("labor", "wage"), "$32/hour"),
    ("book", ("product", 0, "mix"), "2:1:0.5"),
    ("book", ("product", 0, "mver-limit"), "170 ug/(m2 s)"),
    ("book", ("product", 0, "mver-limit"), "3 lb/1000 ft2/24 h"),
    ("book", ("rates", "clean-up"), "1 h 15 min"),
    ("book", ("change",), [{"from": "2027-01-01", "percent": "\u22121.25 %"}]),
    ("book", ("change",), [{"from": "2027-01-01", "amount": "-$3.00", "supplier": "Invented Resins"}]),
    ("shop", ("calendar", "time-zone"), "America/Argentina/Buenos_Aires"),
    ("shop", ("accent",), "#aabbcc"),
    ("system", ("coat", 0, "film"), "1/2 mil"),
]


def main():
    if len(sys.argv) != 2:
        sys.exit("usage: inputs.py FOLDER")
    judges = {}
    for kind in KINDS:
        schema = json.loads((Path(sys.argv[1]) / f"{kind}.schema.json").read_text(encoding="utf-8"))
        Draft7Validator.check_schema(schema)
        judges[kind] = Draft7Validator(schema, format_checker=FormatChecker(["date"]))

    failed = []

    def must(kind, value, good, name):
        errors = sorted(f"{error.json_path}: {error.message[:160]}" for error in judges[kind].iter_errors(value))
        if bool(errors) == good:
            failed.append(name)
            print(f"FAIL {name}: {'refused' if good else 'passed'}")
            for error in errors[:10]:
                print(f"  {error}")

    shipped = [(path, path.stem) for path in sorted((ROOT / "examples").rglob("*.toml")) if path.stem in KINDS]
    shipped += [(path, "system") for path in sorted((ROOT / "layouts/systems").glob("*.toml"))]
    for path, kind in shipped:
        good = path.parent.name != "several-mistakes"
        must(kind, read(path), good, str(path.relative_to(ROOT)))

    base = {
        "job": read(ROOT / "examples/two-car-barrier/job.toml"),
        "book": read(ROOT / "examples/book.toml"),
        "shop": read(ROOT / "examples/shop.toml"),
        "system": read(ROOT / "layouts/systems/barrier.toml"),
    }
    for good, edits in ((False, BROKEN), (True, RIGHT)):
        for kind, path, value in edits:
            shown = "gone" if value is GONE else "more of it" if callable(value) else repr(value)
            name = f"{kind} with {'/'.join(map(str, path))} {shown}"
            must(kind, edited(base[kind], path, value), good, name)

    verdict = "FAIL" if failed else "PASS"
    print(
        f"{verdict} schemas of input files: {len(shipped)} shipped files, {len(BROKEN)} broken ones to be "
        f"refused, {len(RIGHT)} unusual ones to pass; {len(failed)} wrong"
    )
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
