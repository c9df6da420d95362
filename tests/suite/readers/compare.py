"""Our reader beside others on folders of pictures: `compare.py PROGRAM OUT PROFILE NAME=FOLDER ...`.

PROGRAM is our `readers`. A folder holds `index.csv` with the columns file, category, expected (a JSON list of texts,
one of which is a pass) and perhaps truth; a picture whose truth is `none` is left out. All readers get the same
pictures in shades of gray, one after the other. Only the reading is timed, by the processor's time, so that what else the
machine does is not counted; none of them uses more than one processor. OUT gets what every reader said.

Fails where ours reads a wrong text or anything where nothing is, and where it does on the set named `photographs` less
than was asked of it. PROFILE tells how ours was built: only a release build is held to times.
"""

import csv
import json
import subprocess
import sys
import time
from pathlib import Path

import cv2

from others import OTHERS, same
from tally import Tally, table, times, total

OURS = ["ours, frame", "ours, photo", "ours, full"]
READERS = OURS + list(OTHERS)

failures = []


def hold(what, value, limit, most=False):
    good = value <= limit if most else value >= limit
    print(f"{'holds' if good else 'FAILS'}: {what}: {value:.4g}, {'at most' if most else 'at least'} {limit:g}")
    if not good:
        failures.append(what)


def ours(program, path):
    program.stdin.write(f"{path}\n")
    program.stdin.flush()
    answer = json.loads(program.stdout.readline())
    for reader in OURS:
        seen = answer[reader.removeprefix("ours, ")]
        yield reader, seen["texts"], seen["ms"], seen["stopped"], seen["longest_ms"]


def others(picture):
    for reader, read in OTHERS.items():
        begun = time.process_time()
        texts = read(picture)
        yield reader, texts, (time.process_time() - begun) * 1e3, False, 0


def look_through(program, folder, note):
    rows = {}
    for row in csv.DictReader(open(folder / "index.csv", encoding="utf-8")):
        if row.get("truth") == "none":
            continue
        expected = json.loads(row.get("expected") or row["expected_any_of_json"])
        expected = [text.replace("\r\n", "\n").strip() for text in expected]
        path = folder / row["file"]
        picture = cv2.imread(str(path), cv2.IMREAD_GRAYSCALE)
        tallies = rows.setdefault(row["category"], {reader: Tally() for reader in READERS})
        for reader, texts, ms, stopped, longest in [*ours(program, path), *others(picture)]:
            right = any(same(text, wanted) for text in texts for wanted in expected)
            tallies[reader].add(row["file"], texts, right, ms, stopped, longest)
            note.writerow([folder.name, row["file"], row["category"], reader, int(right), f"{ms:.2f}", int(stopped),
                           json.dumps(texts)])
    return rows


def judge(name, rows):
    all_of = total(rows)
    table(name, {**rows, "all": all_of})
    times(name, all_of)
    for reader in OURS:
        for file, texts in all_of[reader].wrong:
            print(f"  {reader} took {file} for {texts}")
        hold(f"{name}: wrong texts, {reader}", len(all_of[reader].wrong), 0, most=True)
    return all_of


def judge_photographs(all_of):
    full = all_of["ours, full"]
    hold("photographs: percent read at full effort", 100 * full.read / full.pictures, 90)
    ratio = full.at(5) / all_of["zxing-cpp"].at(5)
    if sys.argv[3] == "release":
        hold("photographs: nine tenths of the times, ms", full.at(9), 150, most=True)
        hold("photographs: median time to zxing-cpp's", ratio, 6, most=True)
    best = max(100 * all_of[reader].read / full.pictures for reader in OTHERS)
    return f"{full.read} of {full.pictures} photographs read at full effort (best other {best:.1f} %), " \
           f"median {full.at(5):.1f} ms, nine tenths {full.at(9):.1f} ms, {ratio:.2f} times zxing-cpp's median"


def judge_labels(all_of):
    """Every printed label is read by ours and by at least two of the others."""
    full = all_of["ours, full"]
    hold("labels: not read by ours at full effort", full.pictures - full.read, 0, most=True)
    others = sorted((all_of[reader].read for reader in OTHERS), reverse=True)
    hold("labels: percent read by the second best of the others", 100 * others[1] / full.pictures, 90)
    return f"labels: {full.read} of {full.pictures}, others {', '.join(str(read) for read in others)}"


def main():
    program = subprocess.Popen([sys.argv[1], "read"], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
    said = []
    with open(sys.argv[2], "w", newline="", encoding="utf-8") as out:
        note = csv.writer(out)
        note.writerow(["set", "file", "category", "reader", "right", "ms", "stopped", "texts"])
        for told in sys.argv[4:]:
            name, folder = told.split("=", 1)
            all_of = judge(name, look_through(program, Path(folder), note))
            full = all_of["ours, full"]
            if name == "photographs":
                said.append(judge_photographs(all_of))
            elif name == "labels":
                said.append(judge_labels(all_of))
            elif full.read:
                said.append(f"{name}: {full.read} of {full.pictures}")
            else:
                said.append(f"{name}: {len(full.wrong)} read of {full.pictures}")
    program.stdin.close()
    program.wait()
    print(f"\nresult: {'; '.join(said)}")
    if failures:
        sys.exit(f"{len(failures)} of what was asked does not hold: {'; '.join(failures)}")


main()
