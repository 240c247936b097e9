#!/usr/bin/env python3
"""Makes a folder of many different jobs: names, sizes, readings and notes differ from job to job.

    benches/jobs.py FOLDER COUNT [--own-photos] [--photos-from FOLDER]

The jobs are those of examples/two-car-barrier with other people and other figures; all are invented.
Without --own-photos they share its three photos. With it each job has photos of its own: the same
views with other values in their tables of fineness (the DQT segments of ITU-T T.81), so that no two
jobs have a pixel row in common and none is larger or smaller than what a camera gives. --photos-from
takes photos of the same names from another folder, such as large ones.
"""

import argparse
import os
import random
import re
import shutil
from pathlib import Path

EXAMPLES = Path(__file__).resolve().parent.parent / "examples"
FIRST = "Ada Bela Cleo Dora Edda Finn Gero Hale Ines Jory Kaia Lior Mira Nolo Orla Pia Quin Runa Sune Tova".split()
LAST = "Alderbrook Birchfen Cranemoor Dunwater Elmsgate Fallowby Gorsehill Heronsley Ivystone Juniper".split()
STREETS = "Heron Sedge Willow Marsh Pebble Cattail Otter Plover Reed Alder".split()
NOTES = [
    "The slab is colder along the north wall.",
    "Tire marks in both bays.",
    "The door seal lets rain in at the left.",
    "A workbench has to be moved before the first day.",
    "The floor drains to the door.",
]


def own_photo(data, number):
    """The same JPEG with other quantization values, chosen by a number."""
    out, at, seed = bytearray(data), 2, random.Random(number)
    while out[at + 1] != 0xDA:
        size = out[at + 2] * 256 + out[at + 3]
        if out[at + 1] == 0xDB:
            for place in seed.sample(range(6, 65), 12):
                out[at + 4 + place] = max(1, out[at + 4 + place] + seed.choice((-1, 1)))
        at += 2 + size
    return bytes(out)


def job(text, number):
    chance = random.Random(number)
    family = f"{chance.choice(FIRST)} and {chance.choice(FIRST)} {chance.choice(LAST)}"
    wide = chance.choice(range(20, 31))
    deep = chance.choice(range(22, 29))
    swaps = {
        'number = "2026-0142"': f'number = "B-{number:05}"',
        '"Rosa and Emil Tannenwald"': f'"{family}"',
        '"8 Cattail Court"': f'"{chance.choice(range(1, 400))} {chance.choice(STREETS)} Lane"',
        'outline = [["0 ft", "0 ft"], ["22 ft", "0 ft"], ["22 ft", "21 ft"], ["16 ft", "21 ft"], ["16 ft", "24 ft"], ["0 ft", "24 ft"]]':
            f'outline = [["0 ft", "0 ft"], ["{wide} ft", "0 ft"], ["{wide} ft", "21 ft"], ["16 ft", "21 ft"], ["16 ft", "{deep} ft"], ["0 ft", "{deep} ft"]]',
        'length = "38 ft"': f'length = "{chance.choice(range(20, 60))} ft"',
        'length = "11 ft"\n': f'length = "{chance.choice(range(3, 30))} ft"\n',
        'temperature = "66 F"': f'temperature = "{chance.choice(range(62, 75))} F"',
        'humidity = "54 %"': f'humidity = "{chance.choice(range(40, 60))} %"',
        'after = "222.4 g"': f'after = "{222.4 + chance.choice(range(-8, 6)) / 10:.1f} g"',
        'after = "222.5 g"\nset = 2026-05-05T09:15': f'after = "{222.5 + chance.choice(range(-8, 6)) / 10:.1f} g"\nset = 2026-05-05T09:15',
        '[customer]': f'notes = ["{chance.choice(NOTES)}"]\n\n[customer]',
    }
    for old, new in swaps.items():
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


def main():
    wanted = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    wanted.add_argument("folder", type=Path)
    wanted.add_argument("count", type=int)
    wanted.add_argument("--own-photos", action="store_true")
    wanted.add_argument("--photos-from", type=Path, default=EXAMPLES / "two-car-barrier" / "photos")
    wanted = wanted.parse_args()
    example = EXAMPLES / "two-car-barrier"
    text = (example / "job.toml").read_text()
    photos = re.findall(r'file = "(.*)"', text)
    wanted.folder.mkdir(parents=True)
    for name in ("book.toml", "shop.toml", "logo.png"):
        shutil.copy(EXAMPLES / name, wanted.folder / name)
    for number in range(wanted.count):
        folder = wanted.folder / f"job-{number:05}"
        (folder / "photos").mkdir(parents=True)
        (folder / "job.toml").write_text(job(text, number))
        for at, photo in enumerate(photos):
            source = wanted.photos_from / Path(photo).name
            if wanted.own_photos:
                (folder / photo).write_bytes(own_photo(source.read_bytes(), number * 10 + at))
            elif number == 0:
                shutil.copy(source, folder / photo)
            else:
                # One file under many names: no link may lead out of a job's folder.
                os.link(wanted.folder / "job-00000" / photo, folder / photo)


main()
