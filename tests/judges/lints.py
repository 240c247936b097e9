#!/usr/bin/env python3
"""Looks at finished PDFs for what the validators do not look at.

    lints.py FILE.pdf...
    lints.py --self-test

- contrast: each text against what is painted below it, by WCAG 2 (4.5 to 1; 3 to 1 for text from
  18 points, or from 14 points in bold);
- tables: each has head cells, and each head cell says whether it heads a row or a column
  (ISO 14289-1, 7.5);
- drawings: curves and slanted lines lie within the box of a figure, which has an alternative text; a
  frame with round corners is no drawing, nor is a mark as high as the line whose words say the same;
- hidden direction: no override or isolate of writing direction (Unicode UAX 9, 2.4 and 2.5), and no
  other character that cannot be seen, in text, alternative texts, outline or metadata.

Prints one line a file; exit 0 only if every file passes.
"""

import re
import sys
import tempfile

import pikepdf
import pymupdf

WHITE = (1.0, 1.0, 1.0)
READABLE, READABLE_LARGE = 4.5, 3.0
LARGE, LARGE_BOLD = 18.0, 14.0
# Points: what a line's own width may stand out, and how large a mark beside a word that says the same.
SLACK, MARK = 3.0, 20.0
HIDDEN = re.compile("[\u061c\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff\ufff9-\ufffb\U000e0000-\U000e007f]")


def luminance(color):
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in color]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def ratio(a, b):
    a, b = sorted((luminance(a), luminance(b)), reverse=True)
    return (a + 0.05) / (b + 0.05)


def rgb(color):
    return tuple(color) * 3 if len(color) == 1 else tuple(color)


def contrasts(page):
    """Fault of each text that cannot be told from what lies below it."""
    painted = [d for d in page.get_drawings() if d.get("fill") is not None and (d.get("fill_opacity") or 1) == 1]
    for span in page.get_texttrace():
        if span["type"] == 3:
            continue
        bold = "bold" in span["font"].lower() or "semi" in span["font"].lower()
        large = span["size"] >= (LARGE_BOLD if bold else LARGE)
        least = READABLE_LARGE if large else READABLE
        seen = set()
        for code, _, _, box in span["chars"]:
            if chr(code).isspace():
                continue
            x, y = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
            below = [d for d in painted if d["seqno"] < span["seqno"] and covers(d, x, y)]
            ground = rgb(below[-1]["fill"]) if below else WHITE
            if ground not in seen:
                seen.add(ground)
                found = ratio(rgb(span["color"]), ground)
                if found < least:
                    text = "".join(chr(c[0]) for c in span["chars"])
                    yield f"contrast {found:.2f} to 1, less than {least}: {text!r}"


def covers(drawing, x, y):
    """True when a shape of straight or round corners covers a point; other shapes cover nothing."""
    if any(item[0] == "l" and item[1].x != item[2].x and item[1].y != item[2].y for item in drawing["items"]):
        return False
    box = drawing["rect"]
    return box.x0 <= x <= box.x1 and box.y0 <= y <= box.y1


def pictorial(drawing):
    """Slanted lines, and curves that are more than the corners of a frame."""
    lines = [item for item in drawing["items"] if item[0] == "l"]
    slanted = any(abs(i[1].x - i[2].x) > 0.5 and abs(i[1].y - i[2].y) > 0.5 for i in lines)
    curved = not lines and any(item[0] == "c" for item in drawing["items"])
    return (slanted or curved) and max(drawing["rect"].width, drawing["rect"].height) > MARK


def loose_drawings(page, figures):
    for drawing in page.get_drawings():
        box = drawing["rect"]
        if pictorial(drawing) and not any(
            f.x0 - SLACK <= box.x0 and f.y0 - SLACK <= box.y0 and box.x1 <= f.x1 + SLACK and box.y1 <= f.y1 + SLACK
            for f in figures
        ):
            yield f"a drawing outside every figure at {[round(v) for v in box]}"


def elements(file):
    """Every element of the structure, with the page that it or an element around it names."""
    root = file.Root.get("/StructTreeRoot")
    todo = [(root, None)] if root is not None else []
    while todo:
        element, page = todo.pop()
        if isinstance(element, pikepdf.Array):
            todo.extend((kid, page) for kid in element)
        elif isinstance(element, pikepdf.Dictionary):
            page = element.get("/Pg", page)
            if "/S" in element:
                yield element, page
            if "/K" in element:
                todo.append((element.K, page))


def attributes(element):
    found = element.get("/A", [])
    return list(found) if isinstance(found, pikepdf.Array) else [found]


def structure_faults(file):
    for element, _ in elements(file):
        if element.S == "/Table":
            heads = [e for e, _ in within(element) if e.S == "/TH"]
            if not heads:
                yield "a table without head cells"
            for head in heads:
                if not any("/Scope" in a for a in attributes(head)):
                    yield "a head cell that does not say what it heads"
        if element.S == "/Figure" and not str(element.get("/Alt", "")).strip():
            yield "a figure without a text in its place"


def within(element):
    todo = [element.get("/K")]
    while todo:
        one = todo.pop()
        if isinstance(one, pikepdf.Array):
            todo.extend(one)
        elif isinstance(one, pikepdf.Dictionary):
            if "/S" in one:
                yield one, None
            todo.append(one.get("/K"))


def figures_by_page(file):
    """Boxes of figures, by the number of their page, in points from the top left."""
    numbers = {page.objgen: at for at, page in enumerate(file.pages)}
    heights = [float(page.mediabox[3]) for page in file.pages]
    found = {}
    for element, page in elements(file):
        if element.S != "/Figure":
            continue
        for attribute in attributes(element):
            if "/BBox" in attribute:
                at = numbers.get(page.objgen) if page is not None else None
                x0, y0, x1, y1 = (float(v) for v in attribute.BBox)
                # Without a page the box may stand on any.
                for number in range(len(heights)) if at is None else [at]:
                    top = heights[number]
                    found.setdefault(number, []).append(pymupdf.Rect(x0, top - y1, x1, top - y0))
    return found


def hidden(file, document):
    texts = [("metadata", str(v)) for v in (document.metadata or {}).values()]
    texts += [("outline", title) for _, title, *_ in document.get_toc()]
    texts += [("text", page.get_text()) for page in document]
    for element, _ in elements(file):
        texts += [(key, str(element[key])) for key in ("/Alt", "/ActualText", "/T", "/E") if key in element]
    for place, text in texts:
        for found in HIDDEN.finditer(text):
            yield f"U+{ord(found[0]):04X} in {place}: {text[max(0, found.start() - 20):found.end() + 20]!r}"


def faults_of(path):
    with pikepdf.open(path) as file, pymupdf.open(path) as document:
        figures = figures_by_page(file)
        yield from structure_faults(file)
        yield from hidden(file, document)
        for number, page in enumerate(document):
            for fault in [*contrasts(page), *loose_drawings(page, figures.get(number, []))]:
                yield f"page {number + 1}: {fault}"


def self_test():
    """WCAG's own figures, and a page on which everything is wrong."""
    assert abs(ratio((0, 0, 0), WHITE) - 21) < 1e-9
    # The gray that WCAG's techniques name as the lightest that passes on white: #767676 (G18).
    gray = (0x76 / 255,) * 3
    assert 4.5 <= ratio(gray, WHITE) < 4.6
    with tempfile.NamedTemporaryFile(suffix=".pdf") as spoiled:
        document = pymupdf.open()
        page = document.new_page()
        page.draw_rect(pymupdf.Rect(50, 50, 300, 100), color=None, fill=(0.3, 0.3, 0.3))
        page.insert_text((60, 80), "dark on dark", fontsize=11, color=(0.4, 0.4, 0.4))
        page.insert_text((60, 180), "light on white", fontsize=11, color=(0.8, 0.8, 0.8))
        page.insert_text((60, 280), "black on white", fontsize=11)
        page.draw_line((60, 300), (200, 400))
        document.set_metadata({"title": "a \u202ename"})
        document.save(spoiled.name)
        found = list(faults_of(spoiled.name))
        for wanted in ("dark on dark", "light on white", "outside every figure", "U+202E"):
            assert any(wanted in fault for fault in found), (wanted, found)
        assert not any("black on white" in fault for fault in found), found


def main():
    passed = True
    for path in sys.argv[1:]:
        if path == "--self-test":
            self_test()
            continue
        faults = list(dict.fromkeys(faults_of(path)))
        print(f"{'FAIL' if faults else 'PASS'} lint {path} faults={len(faults)}")
        for fault in faults[:12]:
            print("  " + fault)
        passed = passed and not faults
    return 0 if passed else 1


if __name__ == "__main__":
    sys.exit(main())
