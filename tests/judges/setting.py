#!/usr/bin/env python3
"""Looks at how finished papers for a customer are set: what a machine can hold of a page that is read at once.

    setting.py FILE.pdf...
    setting.py --self-test

Of each file, with `NAME.page.json` beside it where there is one:

- size: no letter below 10.5 points (14 in large print, 11.5 on a phone), and the body with an x-height from
  1.95 mm (clear print guides ask for 12 points; the x-height is that of a 12-point text face);
- leading: from base to base at least 1.35 times the size, in lines of prose that follow each other;
- length: no line of prose above 80 characters; the median of full lines in a column as wide as the text from 60 to
  75 (typographers' usual rule), in two columns from 45;
- lists: at most seven items;
- fill: no page but the last of a part is less than half full;
- words: a proposal has at most 2,500 before its details;
- pages: at most 10 with one floor to sign for, 15 with more, 6 where none is offered yet, 4 more for each further space, and 1 for a
  second kind of moisture test; a second copy, notices and
  blank backs are not counted, and Spanish may take more. Usual edition alone. Fewer would be better; size, leading and length of lines win;
- overlaps: no text runs into other text, no drawing runs out of its page;
- order: what belongs together on page one is read aloud together: label, figure, note;
- actors: each stop, wait and caution names who does something about it.

Prints one line a file; exit 0 only if every file passes.
"""

import json
import re
import statistics
import sys
from pathlib import Path

import pymupdf
from readability import bare, structure

LEAST = {"usual": 10.5, "large": 14.0, "phone": 11.5}
X_HEIGHT_MM, LEADING, LONGEST = 1.95, 1.35, 82
FULL_WIDTH, IN_COLUMNS = (60, 75), 45
ITEMS, WORDS = 7, 2500
PAGES = {0: 6, 1: 10}
PAGES_OF_MORE = 15
PAGES_OF_A_SPACE = 4
PAGES_OF_A_TEST = 1
# Spanish takes about a fifth more room.
MORE_IN_SPANISH = {0: 2, 1: 4}
# Share of the em, from the OS/2 table of the face.
X_HEIGHTS = {"NotoSerif": 0.536, "Inter": 0.546}
SLACK = 0.05
# Height of a capital and depth of a `p` as shares of the size, in both faces.
CAPITAL, FOOT = 0.71, 0.2
DETAILS = ("Details", "Detalles")
# Words by which a page that is not counted is known: the second copy, the notice of cancellation.
NOT_COUNTED = re.compile(r"notice of cancellation|aviso de cancelaci", re.I)


def face(name):
    return name.split("+")[-1].split("-")[0]


def lines_of(page):
    """(text, size, face, left, baseline, right) of each line of the page's body, without the margins."""
    top, bottom = page.rect.height * 0.055, page.rect.height * 0.945
    for block in page.get_text("dict", flags=pymupdf.TEXT_PRESERVE_WHITESPACE)["blocks"]:
        for line in block.get("lines", ()):
            spans = [s for s in line["spans"] if s["text"].strip()]
            if not spans or line["dir"] != (1.0, 0.0):
                continue
            base = spans[0]["origin"][1]
            if top < base < bottom:
                text = "".join(s["text"] for s in line["spans"])
                yield (text.strip(), spans[0]["size"], face(spans[0]["font"]), line["bbox"][0], base, line["bbox"][2])


def sizes(pdf, edition):
    least = LEAST[edition] - SLACK
    for number, page in enumerate(pdf, 1):
        for text, size, _, _, _, _ in lines_of(page):
            if size < least:
                yield f"page {number}: {size:.1f} points, below {LEAST[edition]}: {text[:60]}"


def overlaps(pdf):
    """Lines of text that run into each other, and lines of a drawing that run out of a page."""
    for number, page in enumerate(pdf, 1):
        lines = []
        for block in page.get_text("dict")["blocks"]:
            for line in block.get("lines", ()):
                for span in line["spans"] if line["dir"] == (1.0, 0.0) else ():
                    if span["text"].strip():
                        # From the height of a capital to the foot of a `p`: no other text may stand there.
                        x0, _, x1, _ = span["bbox"]
                        base = span["origin"][1]
                        lines.append((base - span["size"] * CAPITAL, base + span["size"] * FOOT, x0 + 0.5, x1 - 0.5, span["text"].strip()))
        lines.sort()
        for at, (_, foot, left, right, text) in enumerate(lines):
            for top, _, other_left, other_right, other in lines[at + 1 :]:
                if top >= foot:
                    break
                if other_left < right and left < other_right:
                    yield f"page {number}: text runs into text: {text[:40]} / {other[:40]}"
        for drawn in page.get_cdrawings():
            x0, y0, x1, y1 = drawn["rect"]
            if x1 > page.rect.width + 1 or y1 > page.rect.height + 1 or x0 < -1 or y0 < -1:
                yield f"page {number}: a drawing runs out of the page: {[round(v) for v in drawn['rect']]}"


def prose_of(pdf):
    """Lines of the body's face and size, by page: the size that most letters have."""
    count = {}
    for page in pdf:
        for text, size, name, *_ in lines_of(page):
            if name == "NotoSerif":
                count[round(size, 1)] = count.get(round(size, 1), 0) + len(text)
    if not count:
        return None, []
    body = max(count, key=count.get)
    return body, [
        [line for line in lines_of(page) if line[2] == "NotoSerif" and abs(line[1] - body) < SLACK] for page in pdf
    ]


def setting(pdf, edition):
    body, pages = prose_of(pdf)
    if body is None:
        yield "no prose found"
        return
    x_height = body * X_HEIGHTS["NotoSerif"] * 25.4 / 72
    if x_height < X_HEIGHT_MM:
        yield f"the body's x-height is {x_height:.2f} mm, below {X_HEIGHT_MM}"
    full, narrow = [], []
    for number, lines in enumerate(pages, 1):
        for text, size, _, left, base, right in lines:
            if len(text) > LONGEST:
                yield f"page {number}: a line of {len(text)} characters: {text[:60]}"
            # The names beside a picture on page one are no lines of one paragraph.
            if number == 1 and left > pdf[0].rect.width * 0.6:
                continue
            below = [b for _, _, _, l, b, _ in lines if abs(l - left) < 1 and 0 < b - base < size * 1.8]
            if below and min(below) - base < size * LEADING - SLACK:
                yield f"page {number}: {(min(below) - base) / size:.2f} from base to base, below {LEADING}: {text[:60]}"
            # A line that goes on below, in a column of prose.
            if below and len(text) > 30:
                (full if right - left > 280 else narrow).append(len(text))
    if edition == "usual" and len(full) >= 8:
        median = statistics.median(full)
        if not FULL_WIDTH[0] <= median <= FULL_WIDTH[1]:
            yield f"the median line of prose has {median} characters, not {FULL_WIDTH[0]} to {FULL_WIDTH[1]}"
    del narrow


def lists(path):
    """The longest list, from the structure: items of one list follow each other at one depth."""
    from readability import run

    depth_of, count = {}, []
    for line in run("pdfinfo", "-struct", path).splitlines():
        depth, tag = len(line) - len(line.lstrip()), line.strip().split(" ")[0]
        if tag == "L":
            count.append(0)
            depth_of[depth] = len(count) - 1
        elif tag == "LI":
            owner = [at for at in depth_of if at < depth]
            if owner:
                count[depth_of[max(owner)]] += 1
    for items in count:
        if items > ITEMS:
            yield f"a list has {items} items, more than {ITEMS}"


def fill(pdf):
    """Faults of pages that end half empty although the part goes on behind them."""
    for number, page in enumerate(pdf, 1):
        if number == len(pdf) or blank(page):
            continue
        after = pdf[number]
        # A notice is a sheet of its own.
        opens = " ".join(line[0] for line in lines_of(after))[:400]
        if blank(after) or starts_part(after) or NOT_COUNTED.search(opens):
            continue
        bottoms = [line[4] for line in lines_of(page)]
        bottoms += [d["rect"].y1 for d in page.get_drawings() if d["rect"].y1 < page.rect.height * 0.945]
        bottoms += [image["bbox"][3] for image in page.get_image_info()]
        if max(bottoms, default=0) < page.rect.height * 0.5:
            yield f"page {number} is less than half full"


def blank(page):
    return not any(True for _ in lines_of(page))


def starts_part(page):
    """True where the first line is a chapter's head."""
    top = min(line[4] for line in lines_of(page))
    return any(line[1] >= 13.5 and line[4] < top + 30 for line in lines_of(page))


def counted(pdf):
    """Pages that are read: without blank backs, notices and the second copy of a page."""
    seen, count = set(), 0
    for page in pdf:
        text = " ".join(line[0] for line in lines_of(page))
        if not text or NOT_COUNTED.search(text[:400]):
            continue
        # A copy differs from the first in a word or two at its top.
        key = bare(text)[-800:]
        if key and key in seen:
            continue
        seen.add(key)
        count += 1
    return count


def proposal(pdf, path, data):
    faults = []
    text = []
    for page in pdf:
        lines = list(lines_of(page))
        if any(line[0] in DETAILS and line[1] >= 16 for line in lines):
            break
        text += [line[0] for line in lines]
    words = len(" ".join(text).split())
    if words > WORDS:
        faults.append(f"{words} words before the details, more than {WORDS}")
    offered = len([o for o in data["glance"]["options"] if o["price"]])
    most, found = PAGES.get(offered, PAGES_OF_MORE), counted(pdf)
    # Each space has a slab, floors and a comparison of its own.
    most += PAGES_OF_A_SPACE * max(0, len(data.get("spaces", [])) - 1)
    # The chart of a second kind of test takes the place of the dew point on the page of the slab.
    most += PAGES_OF_A_TEST * max(0, len(data["slab"]["moisture"]) - 1)
    if data["language"] == "es":
        most += MORE_IN_SPANISH.get(offered, 3)
    if data["edition"] == "usual" and found > most:
        faults.append(f"{found} pages, more than {most} for {offered} floors with a price")
    told = [bare(t) for _, t in structure(path)]
    whole = "".join(told)
    for fact in data["glance"]["answers"]:
        wanted = bare(fact["label"] + fact["value"] + fact["note"])
        if wanted not in whole:
            faults.append(f"not read aloud together: {fact['label']} / {fact['value']} / {fact['note']}")
    for step in data["glance"]["next"]:
        if bare(step["who"] + step["says"]) not in whole:
            faults.append(f"not read aloud together: {step['who']} {step['says']}")
    for notice in data["slab"]["findings"] + data["safety"]["notices"]:
        if notice["severity"] != "note" and not (notice["we"] or notice["you"]):
            faults.append(f"nobody acts on: {notice['title']}")
        if bare(notice["title"] + notice["about"]) and bare(notice["says"]) not in whole:
            faults.append(f"a finding is not read in one piece: {notice['title']}")
    return faults, f"words={words} pages={found}"


def judge(path):
    pdf = pymupdf.open(path)
    beside = Path(path).with_suffix(".page.json")
    data = json.loads(beside.read_text(encoding="utf-8")) if beside.exists() else {}
    edition = data.get("edition", "usual")
    faults = list(sizes(pdf, edition)) + list(setting(pdf, edition)) + list(lists(path)) + list(overlaps(pdf))
    told = f"pages={len(pdf)}"
    if "glance" in data:
        faults += fill(pdf) if edition == "usual" else []
        more, told = proposal(pdf, path, data)
        faults += more
    print(f"{'FAIL' if faults else 'PASS'} set {path} {told} edition={edition}")
    for fault in faults:
        print("  " + fault)
    return not faults


def self_test():
    """A page set too small, too tight and too wide is found, one that is well set is not."""
    pdf = pymupdf.open()
    page = pdf.new_page()
    page.insert_text((60, 100), "small", fontsize=8)
    page.insert_text((60, 130), "large enough", fontsize=11)
    assert [f for f in sizes(pdf, "usual") if "8.0 points" in f], "a small letter was not found"
    assert len(list(sizes(pdf, "usual"))) == 1
    assert not list(overlaps(pdf)), "lines that are apart were taken for one over the other"
    page.insert_text((60, 133), "printed into it", fontsize=11)
    page.draw_line((60, 500), (60, page.rect.height + 40))
    assert len(list(overlaps(pdf))) == 2, "text over text or a line out of the page was not found"
    assert counted(pdf) == 1 and blank(pdf.new_page())
    assert counted(pdf) == 1, "a blank back was counted"


def main():
    paths = [a for a in sys.argv[1:] if a != "--self-test"]
    if "--self-test" in sys.argv:
        self_test()
    passed = True
    for path in paths:
        try:
            passed = judge(path) and passed
        except (RuntimeError, OSError, ValueError, KeyError) as fault:
            print(f"FAIL set {path} cannot be judged: {fault!r}")
            passed = False
    sys.exit(0 if passed else 1)


if __name__ == "__main__":
    main()
