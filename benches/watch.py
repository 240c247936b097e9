#!/usr/bin/env python3
"""Time from a save to the renewed PDF of `write --watch`, on the main example.

    cargo build --release
    benches/watch.py [ROUNDS]

Each round saves the price book with another price (under another name, then renamed, as editors do) and
waits until the PDF has been replaced. Prints the median and the longest in milliseconds; the first round
warms up and does not count.
"""

import pathlib
import shutil
import statistics
import subprocess
import sys
import tempfile
import time

root = pathlib.Path(__file__).resolve().parent.parent
rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 30


def inode(path):
    try:
        return path.stat().st_ino, path.stat().st_mtime_ns
    except FileNotFoundError:
        return None


def until(changed):
    for _ in range(200_000):
        if changed():
            return
        time.sleep(0.0003)
    sys.exit("nothing was written")


with tempfile.TemporaryDirectory() as name:
    folder = pathlib.Path(name)
    shutil.copytree(root / "examples" / "two-car-barrier", folder, dirs_exist_ok=True)
    for file in ("book.toml", "shop.toml", "logo.png"):
        shutil.copy(root / "examples" / file, folder)
    for left in ("papers", "records"):
        shutil.rmtree(folder / left, ignore_errors=True)
    pdf = folder / "papers" / "2026-0142-proposal-draft.pdf"
    program = root / "target" / "release" / "slableaf"
    run = subprocess.Popen([program, "write", "job.toml", "--watch"], cwd=folder, stdout=subprocess.DEVNULL)
    try:
        until(lambda: inode(pdf))
        time.sleep(1)
        book = (folder / "book.toml").read_text()
        times = []
        for at in range(rounds + 1):
            other = folder / "book.toml~"
            other.write_text(book.replace("$276.00", f"${280 + at}.00"))
            before = inode(pdf)
            start = time.perf_counter()
            other.rename(folder / "book.toml")
            until(lambda: inode(pdf) != before)
            times.append((time.perf_counter() - start) * 1000)
            time.sleep(0.2)
    finally:
        run.kill()
        run.wait()
print(f"save to PDF, {rounds} saves: median {statistics.median(times[1:]):.0f} ms, longest {max(times[1:]):.0f} ms")
