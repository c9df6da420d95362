"""Our reader beside others on folders of pictures: `compare.py PROGRAM OUT PROFILE NAME=FOLDER ...`.

PROGRAM is our `readers`. A folder holds `index.csv` with the columns file, category, expected (a JSON list of texts,
one of which is a pass) and perhaps truth; a picture whose truth is `none` is left out. All readers get the same
pictures in shades of gray, one after the other. Only the reading is timed, by the processor's time, so that what else the
machine does is not counted; none of them uses more than one processor. OUT gets what every reader said.

Fails where ours reads a wrong text or anything where nothing is, where it does on the set named `photographs` less
than was asked of it, and where a picture of the set named `labels` is not read by ours and two of the others. PROFILE
tells how ours was built: only a release build is held to times, and only then one picture is looked at at a time; else
two.
"""

import csv
import json
import multiprocessing
import subprocess
import sys
import time
from dataclasses import dataclass
from pathlib import Path

import cv2

import labels
from others import OTHERS, same
from tally import Tally, table, times, total
from wrong import wrong_of

OURS = ["ours, frame", "ours, photo", "ours, full"]
READERS = OURS + list(OTHERS)

failures = []


@dataclass
class Picture:
    category: str
    expected: list
    read_by: set


def hold(what, value, limit, most=False):
    good = value <= limit if most else value >= limit
    print(f"{'holds' if good else 'FAILS'}: {what}: {value:.4g}, {'at most' if most else 'at least'} {limit:g}")
    if not good:
        failures.append(what)


def begin(path):
    """Starts our reader for the process that this runs in; it ends with its input."""
    global program
    program = subprocess.Popen([path, "read"], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)


def ours(path):
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


def look_at(path):
    return [*ours(path), *others(cv2.imread(str(path), cv2.IMREAD_GRAYSCALE))]


def look_through(pool, folder, note, all_known):
    index = csv.DictReader(open(folder / "index.csv", encoding="utf-8"))
    pictures = [row for row in index if row.get("truth") != "none"]
    rows, looked_at = {}, []
    for row, seen in zip(pictures, pool.imap(look_at, [folder / row["file"] for row in pictures]), strict=True):
        expected = json.loads(row.get("expected") or row["expected_any_of_json"])
        expected = [text.replace("\r\n", "\n").strip() for text in expected]
        tallies = rows.setdefault(row["category"], {reader: Tally() for reader in READERS})
        picture = Picture(row["category"], expected, set())
        looked_at.append(picture)
        for reader, texts, ms, stopped, longest in seen:
            right = any(same(text, wanted) for text in texts for wanted in expected)
            by_others = [text for other, texts, *_ in seen if other in OTHERS and other != reader for text in texts]
            wrong = wrong_of(texts, expected, all_known, by_others)
            tallies[reader].add(row["file"], wrong, right, ms, stopped, longest)
            if right:
                picture.read_by.add(reader)
            note.writerow([folder.name, row["file"], row["category"], reader, int(right), f"{ms:.2f}", int(stopped),
                           json.dumps(texts)])
    return rows, looked_at


def judge(name, rows, all_known):
    all_of = total(rows)
    wrong = "where a text was read that is not there"
    if not all_known:
        wrong += ": nobody expected it, and no other reader read it too or nothing right was read beside it"
    table(name, {**rows, "all": all_of}, wrong)
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


def main():
    said, bare = [], 0
    one_at_a_time = sys.argv[3] == "release"
    with open(sys.argv[2], "w", newline="", encoding="utf-8") as out, \
            multiprocessing.Pool(1 if one_at_a_time else 2, begin, [sys.argv[1]]) as pool:
        note = csv.writer(out)
        note.writerow(["set", "file", "category", "reader", "right", "ms", "stopped", "texts"])
        for told in sys.argv[4:]:
            name, folder = told.split("=", 1)
            all_known = name != "photographs"
            rows, pictures = look_through(pool, Path(folder), note, all_known)
            all_of = judge(name, rows, all_known)
            full = all_of["ours, full"]
            bare += sum(not picture.expected for picture in pictures)
            if name == "photographs":
                said.append(judge_photographs(all_of))
            elif name == "labels":
                said.append(labels.judge(pictures, "ours, full", set(OTHERS), hold))
            elif full.read:
                said.append(f"{name}: {full.read} of {full.pictures}")
            else:
                said.append(f"{name}: {len(full.wrong)} read of {full.pictures}")
    hold("pictures without a code that were looked at", bare, 200 if one_at_a_time else 50)
    print(f"\nresult: {'; '.join(said)}")
    if failures:
        sys.exit(f"{len(failures)} of what was asked does not hold: {'; '.join(failures)}")


main()
