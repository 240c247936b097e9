#!/usr/bin/env python3
"""Runs a command and prints its seconds and the most memory, in KiB, that it and all its processes held together.

    benches/memory.py COMMAND [ARGUMENT...]

What processes share is counted once (`Pss` of /proc/PID/smaps_rollup, so Linux alone).
"""

import subprocess
import sys
import time
from pathlib import Path

PAUSE = 0.2  # seconds between two looks


def held(pid):
    """KiB that a process and those that it started hold."""
    here = Path("/proc") / str(pid)
    try:
        rollup = (here / "smaps_rollup").read_text()
        started = [task.read_text().split() for task in here.glob("task/*/children")]
    except OSError:
        # It has ended.
        return 0
    own = sum(int(line.split()[1]) for line in rollup.splitlines() if line.startswith("Pss:"))
    return own + sum(held(child) for children in started for child in children)


start = time.monotonic()
command = subprocess.Popen(sys.argv[1:], stdout=subprocess.DEVNULL)
most = 0
while command.poll() is None:
    most = max(most, held(command.pid))
    time.sleep(PAUSE)
print(f"{time.monotonic() - start:.3f} {most}")
sys.exit(command.returncode)
