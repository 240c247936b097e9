#!/usr/bin/env python3
"""Reads finished PDFs back and measures how hard they are to read.

    readability.py [--page page.json] [-v] FILE.pdf...
    readability.py --self-test

Judges three things of each file: the Flesch-Kincaid grade of the body text and of the cautions, and
the length of the longest sentence. Prints one line a file; exit 0 only if every file passes.

Which text is judged? With page data (`--page`, or `NAME.page.json` beside `NAME.pdf`): the sentences
in it, and each must really stand in the PDF. Page data is either the program's own tree of values, of
which the keys below are taken, or a list of {"part", "kind": "body" | "caution", "text"}. Without page
data: the paragraphs, list items, table cells and captions of the PDF's own structure, in the order in
which a screen reader reads them.

Grade = 0.39 words/sentences + 11.8 syllables/words - 15.59 (Kincaid and others, 1975). Syllables come
from textstat, which asks the CMU dictionary first. A paper whose page data names Spanish as its
language is held to a reading ease instead: 206.84 - 60 syllables/words - 1.02 words/sentences
(Fernandez Huerta, 1959, as usually printed). Its scale, from memory: 60 to 70 is read in the seventh
and eighth grade, 70 to 80 in the sixth. Sentences are split here, because a plain splitter
breaks at "3.5 mils". A line without a full stop counts as one sentence from six words on; a shorter
one is a label and is not graded (common practice, no published source).
"""

import argparse
import json
import re
import subprocess
import sys
import unicodedata
from dataclasses import dataclass
from pathlib import Path

import textstat

# Texts that the program writes for a homeowner. Left out on purpose: fixed labels, figures, what a
# person typed (names, photo captions), a claim as it is heard, the shop's own warranty, and the
# cancellation notice, whose words the law sets.
KEYS = set(
    """always as_agreed ask assumptions back better_at cannot caption care cheapest choose_if dated defer does earns excluded
    first harder_at headline here hurt included intro leaves_out left_out lifts moisture_notes no_verdict note questions
    reason rule said says speaks_against speaks_for steps summary terms to_do todo truth unknown walk_list we
    why_not you""".split()
)
KEY_ENDS = ("_intro", "_note", "_notes")
CAUTION_KEYS = {"hurt", "always", "defer", "air_note"}
CAUTION_HEADS = re.compile(r"safe|hurt|harm|caution|warning", re.I)
LEGAL_HEADS = re.compile(r"cancel", re.I)
LABEL_WORDS = 6
INLINE = ("Code", "Em", "Link", "Span", "Strong")

# A point after one of these does not end a sentence, whatever follows.
ABBREVIATIONS = {"approx.", "dr.", "e.g.", "fig.", "i.e.", "mr.", "mrs.", "ms.", "no.", "st.", "vs."}
# A list of names, each with its value behind a colon, is no one sentence.
SENTENCE_END = re.compile(r"""[.!?]+["'”’)\]]*(?=\s+["'“‘(\[¿¡]*[A-ZÁÉÍÓÚÑ0-9$])|;(?=\s+[A-ZÁÉÍÓÚÑ][^.;]*: )""")
# Each of these has a vowel of its own in a syllable; between them, i and u only glide.
STRONG, WEAK = "aeoáéóíú", "iuü"


@dataclass
class Block:
    part: str
    kind: str
    text: str


def sentences(text):
    """Sentences of one block; each line of it ends one."""
    found = []
    for line in text.splitlines():
        start = 0
        for end in SENTENCE_END.finditer(line):
            last = line[start : end.end()].split()[-1].lower()
            if last not in ABBREVIATIONS:
                found.append(line[start : end.end()].strip())
                start = end.end()
        found.append(line[start:].strip())
    return [s for s in found if words(s) and (s[-1] in ".!?\"”’)" or len(words(s)) >= LABEL_WORDS)]


def words(text):
    """Words as read: a hyphened word is one, "and/or" is two, a figure is one, a lone sign is none."""
    return [w for w in re.split(r"[\s/]+", text) if any(c.isalnum() for c in w)]


def syllables(word):
    """A figure counts as one syllable, as in textstat; a hyphened word as the sum of its parts."""
    parts = [p for p in re.split(r"[-‐‑–—]", word) if any(c.isalpha() for c in p)]
    return max(1, sum(max(1, textstat.syllable_count(p.replace("’", "'"))) for p in parts))


def spanish_syllables(word):
    """Syllables by the vowels: i and u join a neighbor unless they bear the accent, two strong vowels
    part, and the u of que, qui, gue and gui is mute (Ortografia de la lengua espanola, from memory)."""
    count = 0
    for part in re.split(r"[-‐‑–—]", unicodedata.normalize("NFC", word.casefold())):
        part = re.sub(r"(?<=[gq])u(?=[eiéí])", "", part)
        part = re.sub(r"y\b", "i", part)
        for run_of_vowels in re.findall(f"[{STRONG}{WEAK}]+", part):
            strong = sum(c in STRONG for c in run_of_vowels)
            count += max(1, strong)
    return max(1, count)


def ease(texts):
    """Reading ease of Spanish sentences taken together; None when there are none."""
    heard = [w for t in texts for w in words(t)]
    if not heard:
        return None
    return 206.84 - 60 * sum(map(spanish_syllables, heard)) / len(heard) - 1.02 * len(heard) / len(texts)


def formula(word_count, sentence_count, syllable_count):
    return 0.39 * word_count / sentence_count + 11.8 * syllable_count / word_count - 15.59


def grade(texts):
    """Flesch-Kincaid grade of sentences taken together; None when there are none."""
    heard = [w for t in texts for w in words(t)]
    return formula(len(heard), len(texts), sum(map(syllables, heard))) if heard else None


def blocks_of_page(data):
    """Blocks of page data: a list of blocks, or the program's own tree of values."""
    if isinstance(data, list):
        return [Block(b.get("part", ""), b.get("kind", "body"), b["text"]) for b in data]
    found = []

    def walk(value, part, key, caution):
        if isinstance(value, str):
            if value.strip() and (key in KEYS or key.endswith(KEY_ENDS)):
                kind = "caution" if caution or key in CAUTION_KEYS else "body"
                found.append(Block(part, kind, value))
        elif isinstance(value, list):
            for one in value:
                walk(one, part, key, caution)
        elif isinstance(value, dict) and "path" not in value:
            serious = value.get("severity") in ("stop", "caution")
            for name, one in value.items():
                if name not in ("labels", "cancellation"):
                    walk(one, part or name, name, caution or serious)

    walk(data, "", "", False)
    return found


def structure(pdf):
    """(tag, text) of each element with text of its own, in reading order, without page furniture."""
    found, path = [], []
    for line in run("pdfinfo", "-struct-text", pdf).splitlines():
        depth, text = len(line) - len(line.lstrip()), line.strip()
        while path and path[-1][0] >= depth:
            path.pop()
        if len(text) > 1 and text[0] == text[-1] == '"':
            # Pieces of a line belong to the element around them.
            owner = next((e for e in reversed(path) if e[1] not in INLINE), (0, ""))
            if found and found[-1][0] is owner:
                found[-1][1] += text[1:-1]
            else:
                found.append([owner, text[1:-1]])
        elif text and text[0].isalpha():
            path.append((depth, re.match(r"\w+", text)[0]))
    return [(owner[1], text) for owner, text in found]


def blocks_of_structure(elements):
    found, head = [], ""
    for tag, text in elements:
        if re.fullmatch(r"H\d?|Title", tag):
            head = text
        elif tag in ("P", "LBody", "TD", "Caption", "Note", "BlockQuote") and not LEGAL_HEADS.search(head):
            found.append(Block(head, "caution" if CAUTION_HEADS.search(head) else "body", text))
    return found


def bare(text):
    """Letters and figures alone, so that line breaks, hyphens and quotes cannot hide a text."""
    return "".join(c for c in unicodedata.normalize("NFKC", text).casefold() if c.isalnum())


def run(*command):
    done = subprocess.run(command, capture_output=True, text=True, encoding="utf-8", errors="replace")
    if done.returncode:
        raise RuntimeError(f"{command[0]}: exit {done.returncode}: {' '.join(done.stderr.split())}")
    return done.stdout


def as_printed(data):
    """The page data without the sentences of the other edition: the leaf on a telephone has some of its own."""
    leaf = data.get("accept") if isinstance(data, dict) else None
    if isinstance(leaf, dict) and "on_phone" in leaf:
        on_phone = leaf.pop("on_phone")
        if data.get("edition") == "phone":
            leaf.update(on_phone)
    return data


def judge(pdf, page, limits, verbose):
    faults = []
    measure, least = grade, None
    if page:
        data = as_printed(json.loads(Path(page).read_text(encoding="utf-8")))
        if isinstance(data, dict) and data.get("language") == "es":
            measure, least = ease, limits["ease"]
        blocks = blocks_of_page(data)
        seen = bare(run("pdftotext", "-raw", pdf, "-"))
        missing = [b for b in blocks if bare(b.text) not in seen]
        # A text that a page's end parts stands whole in the structure; reading that takes long.
        tagged = bare("".join(text for _, text in structure(pdf))) if missing else ""
        faults += [f"not in the PDF ({b.part}): {b.text}" for b in missing if bare(b.text) not in tagged]
    else:
        blocks = blocks_of_structure(structure(pdf))
    by_kind = {
        kind: [s for b in blocks if b.kind == kind for s in sentences(b.text)]
        for kind in limits["grade"]
    }
    everything = [s for texts in by_kind.values() for s in texts]
    if not everything:
        faults.append("no sentence found")
    grades = {kind: measure(texts) for kind, texts in by_kind.items()}
    for kind, most in limits["grade"].items():
        found = grades[kind]
        if found is None:
            continue
        if least and round(found, 2) < least[kind]:
            faults.append(f"{kind} text has reading ease {found:.1f}, less than {least[kind]}; the hardest:")
        elif not least and round(found, 2) > most:
            faults.append(f"{kind} text has grade {found:.2f}, more than {most}; the hardest:")
        else:
            continue
        hard = sorted(by_kind[kind], key=lambda s: measure([s]) if least else -measure([s]))[:8]
        faults += [f"  {measure([s]):5.1f}  {s}" for s in hard]
    for s in everything:
        if len(words(s)) > limits["words"]:
            faults.append(f"{len(words(s))} words in one sentence, more than {limits['words']}: {s}")
    told = " ".join(f"{k}={g:.1f}" for k, g in grades.items() if g is not None)
    longest = max((len(words(s)) for s in everything), default=0)
    source = "page data" if page else "structure"
    scale = "ease" if least else "grades"
    print(f"{'FAIL' if faults else 'PASS'} read {pdf} {scale}: {told} longest={longest} words "
          f"sentences={len(everything)} from={source}")
    for fault in faults:
        print("  " + fault)
    if verbose:
        for part in dict.fromkeys(b.part for b in blocks):
            texts = [s for b in blocks if b.part == part for s in sentences(b.text)]
            if texts:
                print(f"  {measure(texts):5.1f}  {len(texts):3} sentences  {part}")
    return not faults


def self_test():
    """The formula and the counting, against figures published with the formula.

    Grades 7.6 and 11.3 and the sentence "This sentence, taken as a reading passage ..." stand in the
    usual description of the Flesch-Kincaid test (from memory). The counts-only rows are the formula as
    printed in the US Department of Veterans Affairs' page of research instruments.
    """
    published = [
        ("The cat sat on the mat.", 6, 1, 6, -1.450),
        ("This sentence, taken as a reading passage unto itself, is being used to prove a point.",
         16, 1, 23, 7.613),
        ("The Australian platypus is seemingly a hybrid of a mammal and reptilian creature.",
         13, 1, 24, 11.265),
    ]
    for text, w, s, sy, expected in published:
        split = sentences(text)
        counted = (len(words(text)), len(split), sum(map(syllables, words(text))))
        assert counted == (w, s, sy), f"counted {counted}, published {(w, s, sy)}: {text}"
        assert abs(grade(split) - expected) < 0.001, text
        assert abs(textstat.flesch_kincaid_grade(text) - expected) < 0.06, text
    for w, s, sy, expected in [(100, 5, 140, 8.730), (250, 20, 350, 5.805), (120, 4, 210, 16.760)]:
        assert abs(formula(w, s, sy) - expected) < 0.001, (w, s, sy)
    split = sentences("It is 3.5 mils thick, about 22 ft. by 20 ft. wide. Is it dry? Ask us.\nEight ft² kits")
    assert [len(words(x)) for x in split] == [12, 3, 2], split
    # Divisions that every Spanish grammar prints, from memory.
    divided = ("a-é-re-o pa-ís ciu-dad hue-co pin-güi-no gui-ta-rra que-so ba-úl le-er te-o-rí-a"
               " rey ho-jue-las va-por con-cre-to")
    for word in divided.split():
        bare_word = word.replace("-", "")
        assert spanish_syllables(bare_word) == word.count("-") + 1, (word, spanish_syllables(bare_word))
    # The formula as textstat has it, at the counts made here.
    text = "El gato duerme en la casa. La losa se seca con el sol."
    textstat.set_lang("es")
    assert abs(ease(sentences(text)) - textstat.fernandez_huerta(text)) < 2.5, (
        ease(sentences(text)), textstat.fernandez_huerta(text))
    textstat.set_lang("en_US")
    assert words("and/or - a 1/8-in. bit") == ["and", "or", "a", "1", "8-in.", "bit"]


def main():
    ask = argparse.ArgumentParser(description="Measures how hard finished PDFs are to read.")
    ask.add_argument("pdf", nargs="*")
    ask.add_argument("--page", help="page data of the one PDF")
    ask.add_argument("--max-grade", type=float, default=8)
    ask.add_argument("--max-caution", type=float, default=7)
    ask.add_argument("--min-ease", type=float, default=60, help="of Spanish")
    ask.add_argument("--min-caution-ease", type=float, default=65, help="of Spanish")
    ask.add_argument("--max-words", type=int, default=30)
    ask.add_argument("--self-test", action="store_true")
    ask.add_argument("-v", action="store_true", help="also the grade of each part")
    said = ask.parse_args()
    if said.self_test:
        self_test()
    elif not said.pdf or (said.page and len(said.pdf) > 1):
        ask.error("name PDFs, or one PDF with --page")
    limits = {"grade": {"body": said.max_grade, "caution": said.max_caution}, "words": said.max_words,
              "ease": {"body": said.min_ease, "caution": said.min_caution_ease}}
    passed = True
    for pdf in said.pdf:
        beside = Path(pdf).with_suffix(".page.json")
        page = said.page or (beside if beside.exists() else None)
        try:
            passed = judge(pdf, page, limits, said.v) and passed
        except (RuntimeError, OSError, ValueError) as fault:
            print(f"FAIL read {pdf} cannot be judged: {fault}")
            passed = False
    sys.exit(0 if passed else 1)


if __name__ == "__main__":
    main()
