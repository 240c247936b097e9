#!/usr/bin/env python3
"""Reads mail drafts back with Python's own email package, which had no part in writing them.

    mail.py FILE.eml...

Holds each against RFC 5322 and MIME: lines of at most 998 bytes that end in CRLF (2.1.1, 2.3), the
fields that have to be there and none twice (3.6), no defect that the parser knows, a text and an HTML
part of the same words (RFC 2046, 5.1.4), one PDF with a plain file name (RFC 2183, 2.3) that is the
same to the byte as the file of its name nearby, if there is one. HTML: well formed, a language, no
element that fetches or runs anything. Text: the reading grade that is promised to the homeowner, by
the judge of the PDFs. The same file with its sender dropped, with bare line ends, with another
boundary and with a script in it must be refused: a judge that cannot say no is none. Prints one line
a file; exit 0 only if every file passes.
"""

import re
import sys
from email import message_from_bytes, policy
from email.utils import parsedate_to_datetime
from html.parser import HTMLParser
from pathlib import Path

from readability import grade, sentences, words

NEEDED = ["content-type", "date", "from", "mime-version", "subject", "x-unsent"]
ALLOWED = {*NEEDED, "to"}
# HTML, "Void elements".
VOID = {"br", "hr", "img", "input", "link", "meta", "col", "source", "wbr", "area", "base", "embed", "track"}
ELEMENTS = set("html head meta title body table tr td div p h1 h2 ul ol li strong span a br".split())
ATTRIBUTES = set(
    "lang charset name content style role width cellpadding cellspacing border bgcolor href".split()
)
# A link calls or writes; it opens no page.
LINKS = ("tel:", "mailto:")
MOST_GRADE, MOST_CAUTION, MOST_WORDS = 8, 7, 30
ENGLISH_CAUTIONS = "What can hurt someone"


class Reader(HTMLParser):
    """The words of an HTML file, and what is wrong with its elements."""

    def __init__(self):
        super().__init__()
        self.open, self.said, self.faults, self.language = [], [], [], ""
        self.number = 0

    def handle_starttag(self, tag, attributes):
        self.faults += [] if tag in ELEMENTS else [f"an element <{tag}>"]
        self.faults += [f"an attribute {name}" for name, _ in attributes if name not in ATTRIBUTES]
        given = dict(attributes)
        if "url(" in (given.get("style") or ""):
            self.faults.append("a style that fetches")
        if "href" in given and not (given["href"] or "").startswith(LINKS):
            self.faults.append(f"a link to {given['href']}")
        # What a browser counts by itself stands in the text as a number.
        if tag == "ol":
            self.number = 0
        if tag == "li" and "ol" in self.open:
            self.number += 1
            self.said.append(f"{self.number}. ")
        if tag == "html":
            self.language = given.get("lang") or ""
        if tag == "table" and given.get("role") != "presentation":
            self.faults.append("a table that is read aloud as one")
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag):
        if not self.open or self.open.pop() != tag:
            self.faults.append(f"</{tag}> closes nothing")

    def handle_data(self, data):
        if "body" in self.open:
            self.said.append(data)


def letters(text):
    return "".join(c for c in text if c.isalnum())


def faults_of_html(html, text):
    reader = Reader()
    reader.feed(html)
    reader.close()
    found = reader.faults + [f"<{tag}> is never closed" for tag in reader.open]
    if not html.startswith("<!DOCTYPE html>"):
        found.append("HTML without its doctype")
    if not re.fullmatch(r"[a-z]{2}", reader.language):
        found.append("HTML without a language")
    if letters("".join(reader.said)) != letters(text):
        found.append("text and HTML do not say the same")
    return found, reader.language


def blocks(text):
    """Kind and text of each paragraph and point; headings and the signature are left out. Figures
    with their notes indented below them are a text a line."""
    found, kind = [], "body"
    parts = text.replace("\r\n", "\n").split("\n\n")
    for part in parts[:-1]:
        lines = part.split("\n")
        if len(lines) > 1 and set(lines[1]) == {"-"}:
            kind = "caution" if lines[0] == ENGLISH_CAUTIONS else "body"
            lines = lines[2:]
        if not lines[0].startswith("- ") and any(line.startswith("  ") for line in lines):
            found += [(kind, line.strip()) for line in lines]
            continue
        points = re.split(r"\n(?:- |\d\. )", "\n" + "\n".join(lines))
        found += [(kind, " ".join(point.split())) for point in points if point.strip()]
    return found


def faults_of_words(text):
    found = []
    by_kind = {"body": [], "caution": []}
    for kind, block in blocks(text):
        by_kind[kind] += sentences(block)
    for kind, most in (("body", MOST_GRADE), ("caution", MOST_CAUTION)):
        if not by_kind[kind]:
            found.append(f"no {kind} text")
        elif round(grade(by_kind[kind]), 2) > most:
            found.append(f"{kind} text has grade {grade(by_kind[kind]):.2f}, more than {most}")
        found += [f"{len(words(s))} words: {s}" for s in by_kind[kind] if len(words(s)) > MOST_WORDS]
    return found


def attached(message, near):
    """Faults of the file that goes with it."""
    files = list(message.iter_attachments())
    if [file.get_content_type() for file in files] != ["application/pdf"]:
        return ["not one PDF attached"]
    name, pdf = files[0].get_filename() or "", files[0].get_content()
    found = []
    if not re.fullmatch(r"[A-Za-z0-9-]+\.pdf", name):
        found.append(f"a file name that is not plain: {name!r}")
    if not pdf.startswith(b"%PDF-") or b"%%EOF" not in pdf[-16:]:
        found.append("what is attached is no whole PDF")
    for beside in (near / name, near.parent / "papers" / name):
        if name and beside.is_file() and beside.read_bytes() != pdf:
            found.append(f"not the same as {beside}")
    return found


def faults(raw, near):
    found = []
    lines = raw.split(b"\r\n")
    if lines[-1] or any(b"\n" in line or b"\r" in line for line in lines):
        found.append("a line that does not end in CRLF")
    found += [f"a line of {len(line)} bytes" for line in lines if len(line) > 998]
    message = message_from_bytes(raw, policy=policy.SMTP.clone(raise_on_defect=False))
    for part in message.walk():
        found += [f"{part.get_content_type()}: {defect!r}" for defect in part.defects]
        for name, value in part.items():
            found += [f"{name}: {defect!r}" for defect in getattr(value, "defects", [])]
    names = [name.lower() for name in message.keys()]
    found += [f"no {name}" for name in NEEDED if name not in names]
    found += [f"a field {name}" for name in names if name not in ALLOWED]
    if len(set(names)) != len(names):
        found.append("a field twice")
    if found:
        return found
    if message["x-unsent"] != "1" or message.get_content_type() != "multipart/mixed":
        found.append("no draft of parts")
    # No field without a receiver; two where a second person signs.
    if len(message["from"].addresses) != 1 or len(getattr(message["to"], "addresses", "x")) not in (1, 2):
        found.append("not one sender and at most two receivers")
    noon = parsedate_to_datetime(message["date"])
    if (noon.utcoffset().total_seconds(), noon.hour, noon.minute, noon.second) != (0, 12, 0, 0):
        found.append(f"a date that is no noon: {message['date']}")
    text, html = (message.get_body((kind,)) for kind in ("plain", "html"))
    if text is None or html is None:
        return [*found, "text or HTML is missing"]
    said = text.get_content()
    found += [f"{len(line)} characters in a line: {line}" for line in said.splitlines()
              if len(line) > 78 and " " in line.strip(" -")]
    of_html, language = faults_of_html(html.get_content(), said)
    found += of_html + attached(message, near)
    # The grade is a measure of English.
    return found + (faults_of_words(said) if language == "en" else [])


def spoiled(raw):
    """The file with one thing wrong, in several ways."""
    sender = re.search(rb"^From: .*\r\n(?:[ \t].*\r\n)*", raw, re.M)[0]
    boundary = re.search(rb'boundary="([^"]+)"', raw)[1]
    yield "without a sender", raw.replace(sender, b"", 1)
    yield "with bare line ends", raw.replace(b"\r\n", b"\n")
    yield "with another boundary", raw.replace(boundary, boundary + b"x", 1)
    yield "with a script", raw.replace(b"</body>", b"<script></script></body>", 1)
    yield "with a second receiver", raw.replace(b"X-Unsent", b"Bcc: a@b.example\r\nX-Unsent", 1)


def main(paths):
    failed = False
    for path in map(Path, paths):
        raw = path.read_bytes()
        found = faults(raw, path.parent)
        if not found:
            found = [f"passes {how}" for how, less in spoiled(raw) if not faults(less, path.parent)]
        failed |= bool(found)
        print("\n  ".join([f"{'FAIL' if found else 'PASS'} {path}: mail, RFC 5322 and MIME", *found]))
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
