#!/usr/bin/env python3
"""Reads calendar files back with the package icalendar, which had no part in writing them.

    calendars.py FILE.ics...

Holds each against RFC 5545: lines of at most 75 bytes that end in CRLF (3.1), one VCALENDAR with
VERSION and PRODID (3.6), in every event one UID of its own, a DTSTAMP in universal time (3.8.4.7,
3.8.7.2), a DTSTART, an end after it if any (3.8.2.2). The same file with an event's UID dropped, with
its lines ended otherwise and with its last line gone must be refused: a judge that cannot say no is
none. Prints one line a file; exit 0 only if every file passes.
"""

import sys
from datetime import timedelta
from pathlib import Path

from icalendar import Calendar


def faults(raw):
    found = []
    lines = raw.split(b"\r\n")
    if lines[-1] or any(b"\n" in line or b"\r" in line for line in lines):
        found.append("a line that does not end in CRLF")
    found += [f"a line of {len(line)} bytes" for line in lines if len(line) > 75]
    try:
        calendars = Calendar.from_ical(raw, multiple=True)
    except ValueError as error:
        return [*found, f"cannot be read: {error}"]
    if len(calendars) != 1:
        return [*found, f"{len(calendars)} calendars"]
    calendar = calendars[0]
    found += [f"no {name}" for name in ("VERSION", "PRODID") if name not in calendar]
    events = calendar.walk("VEVENT")
    if not events or len(events) != len(calendar.subcomponents):
        found.append(f"{len(events)} events among {len(calendar.subcomponents)} parts")
    uids = [str(event.get("UID", "")) for event in events]
    if "" in uids or len(set(uids)) != len(uids):
        found.append("an event without a UID of its own")
    for event in events:
        if event.errors:
            found.append(f"{event.errors}")
        try:
            stamp, start = event["DTSTAMP"].dt, event["DTSTART"].dt
            if stamp.utcoffset() != timedelta(0):
                found.append("a DTSTAMP that is not in universal time")
            if "DTEND" in event and event["DTEND"].dt <= start:
                found.append(f"an event that ends before it starts: {start}")
        except (KeyError, TypeError, AttributeError) as error:
            found.append(f"times that cannot be read: {error!r}")
    return found


def spoiled(raw):
    """The file with one thing wrong, in several ways."""
    lines = raw.split(b"\r\n")
    uid = next(line for line in lines if line.startswith(b"UID:"))
    yield "without a UID", raw.replace(uid + b"\r\n", b"", 1)
    yield "with bare line ends", raw.replace(b"\r\n", b"\n")
    yield "cut off", b"\r\n".join(lines[:-2]) + b"\r\n"


def main(paths):
    failed = False
    for path in map(Path, paths):
        raw = path.read_bytes()
        found = faults(raw)
        if not found:
            found = [f"passes {how}" for how, less in spoiled(raw) if not faults(less)]
        failed |= bool(found)
        print("\n  ".join([f"{'FAIL' if found else 'PASS'} {path}: calendar, RFC 5545", *found]))
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
