#!/usr/bin/env python3
"""Time of `roll` over many jobs.

    cargo build --release
    benches/roll.py [COUNT [PROFILE]]

Makes a folder of COUNT jobs (10,000 without it), all invented: one proposal is written by the program, and
its record is copied under the number of each job and sealed anew. A third of the jobs has no paper yet, a third
has an offer, a third was signed and has a crew and a first day. Prints the seconds of three runs of each form.
"""

import hashlib
import pathlib
import shutil
import subprocess
import sys
import tempfile
import time

root = pathlib.Path(__file__).resolve().parent.parent
count = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
program = root / "target" / (sys.argv[2] if len(sys.argv) > 2 else "release") / "slableaf"
SEAL = "\n[seal]\n# Of every byte above the empty line before this table.\nsha256 = "


def sealed_anew(text, old, new):
    body = text.rpartition(SEAL)[0].replace(old, new)
    return f'{body}{SEAL}"{hashlib.sha256(body.encode()).hexdigest()}"\n'


with tempfile.TemporaryDirectory() as name:
    folder = pathlib.Path(name)
    first = folder / "first"
    shutil.copytree(root / "examples" / "two-car-barrier", first, ignore=shutil.ignore_patterns("papers", "records"))
    for file in ("book.toml", "shop.toml", "logo.png"):
        shutil.copy(root / "examples" / file, folder)
    subprocess.run([program, "write", first / "job.toml"], check=True, stdout=subprocess.DEVNULL)
    old = "2026-0142"
    record = first / "records" / f"{old}-proposal-r1"
    facts = (record / "record.toml").read_text()
    job = (first / "job.toml").read_text()
    inputs = {file: (record / "inputs" / file).read_bytes() for file in ("job.toml", "book.toml", "shop.toml")}
    for number in range(count):
        new = f"R-{number:05}"
        own = folder / "jobs" / new
        own.mkdir(parents=True)
        text = job.replace(old, new)
        if number % 3 == 2:
            crew = ("North", "South", "East")[number // 3 % 3]
            text = text.replace("[plan]", f'[plan]\ncrew-name = "{crew}"', 1)
            text += '\n[accepted]\nrevision = 1\nfloor = "barrier"\non = 2026-05-20\n'
        (own / "job.toml").write_text(text)
        if number % 3:
            copy = own / "records" / f"{new}-proposal-r1"
            (copy / "inputs").mkdir(parents=True)
            (copy / "record.toml").write_text(sealed_anew(facts, old, new))
            for file, data in inputs.items():
                (copy / "inputs" / file).write_bytes(data.replace(old.encode(), new.encode()))
    for form in ("table", "json", "csv"):
        times = []
        for _ in range(3):
            begun = time.perf_counter()
            run = subprocess.run([program, "roll", folder / "jobs", "--format", form], capture_output=True)
            times.append(time.perf_counter() - begun)
            assert run.returncode == 0, run.stderr.decode()
        print(f"roll of {count} jobs as {form}: " + ", ".join(f"{seconds:.2f} s" for seconds in times))
