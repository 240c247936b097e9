#!/usr/bin/env python3
"""Holds results against their JSON Schemas with jsonschema, which had no part in writing either.

    results.py KIND.schema.json...

Judges every NAME.KIND.json beside a schema. Each must pass, and each with any one key dropped, at any
depth, must be refused: a judge that cannot say no is none. Prints one line a file; exit 0 only if
every file passes.
"""

import json
import sys
from copy import deepcopy
from pathlib import Path

from jsonschema import Draft7Validator


def keys(value, path=()):
    """The paths of all keys of all objects in a value; of a list its first item stands for all."""
    if isinstance(value, dict):
        for key, field in value.items():
            yield (*path, key)
            yield from keys(field, (*path, key))
    elif isinstance(value, list) and value:
        yield from keys(value[0], (*path, 0))


def without(value, path):
    less = deepcopy(value)
    inner = less
    for step in path[:-1]:
        inner = inner[step]
    del inner[path[-1]]
    return less


def finite(text):
    """JSON has no infinity; Python would read one."""
    def refuse(name):
        raise ValueError(f"{name} is no JSON")

    return json.loads(text, parse_constant=refuse)


def faults(form, validator):
    found = [f"{error.json_path}: {error.message[:200]}" for error in validator.iter_errors(form)]
    for path in [] if found else keys(form):
        if validator.is_valid(without(form, path)):
            found.append("passes without " + "/".join(map(str, path)))
    return found


def main():
    failed = False
    for schema_path in map(Path, sys.argv[1:]):
        schema = finite(schema_path.read_text(encoding="utf-8"))
        Draft7Validator.check_schema(schema)
        kind = schema_path.name.removesuffix(".schema.json")
        paths = sorted(schema_path.parent.glob(f"*.{kind}.json"))
        if not paths:
            failed = True
            print(f"FAIL {schema_path}: no *.{kind}.json beside it")
        for path in paths:
            form = finite(path.read_text(encoding="utf-8"))
            found = faults(form, Draft7Validator(schema))
            failed = failed or bool(found)
            verdict = "FAIL" if found else "PASS"
            print(f"{verdict} {path}: {kind}, {sum(1 for _ in keys(form))} keys, each one needed")
            for fault in found[:20]:
                print(f"  {fault}")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
