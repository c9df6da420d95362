"""Compares the published values that the tests copied with the originals: `copies.py PUBLISHED COPIED ...`.

A copy is known by what it is about; two of the published never are about the same. Name, value, unit and tolerance of
all that is expected have to be the original's, with all that goes in. A copy may state more of what goes in, where the
original leaves it to its source, and may name its source in other words; both are counted. `index.json` says where each
published value is kept, and has to name every one of them. What is about something else comes from sources that the
tests name themselves, and nothing here can be compared with it.
"""

import json
import sys
from collections import Counter
from pathlib import Path

INDEX = "index.json"
LEFT_OUT = "left_out.json"

failures = []


def lines(entry, part, *keys):
    """How often an entry states what in one of its lists: a value may stand in several units under one name."""
    return Counter(json.dumps([line.get(key) for key in keys]) for line in entry.get(part, []))


def compare(path, copy, original):
    about = f"{path.name}: {copy['quantity']!r}"
    said, source = (lines(entry, "expected", "name", "value", "unit", "tol") for entry in (copy, original))
    if said != source:
        failures.append(f"{about}: expects {[*(said - source)]}, its source {[*(source - said)]}")
    given, asked = (lines(entry, "inputs", "name", "value", "unit") for entry in (copy, original))
    if asked - given:
        failures.append(f"{about}: {[*(asked - given)]} does not go in, by its source it does")
    if copy.get("from_memory") != original.get("from_memory"):
        failures.append(f"{about}: from memory or not is not said as its source does")
    return [
        kind
        for kind, differs in (
            ("state more of what goes in", given - asked),
            ("name their source in other words", copy["source"]["title"] != original["source"]["title"]),
        )
        if differs
    ]


def main():
    published = {entry["quantity"]: entry for entry in json.load(open(sys.argv[1]))["entries"]}
    kept, own, told = {}, Counter(), Counter()
    for path in map(Path, sys.argv[2:]):
        entries = json.load(open(path)).get("entries", [])
        if path.name == INDEX:
            index = {entry["id"]: (entry["quantity"], entry["home"]) for entry in entries}
            continue
        for entry in entries:
            original = published.get(entry["quantity"])
            if original is None:
                own[path.name] += 1
            else:
                kept.setdefault(entry["quantity"], []).append(path.name)
                told.update(compare(path, entry, original))
    for quantity, entry in published.items():
        if index.get(entry["id"], ("",))[0] != quantity or index[entry["id"]][1] not in kept.get(quantity, []):
            failures.append(f"{entry['id']} {quantity!r} is not kept where {INDEX} says")
    for number in index.keys() - {entry["id"] for entry in published.values()}:
        failures.append(f"{INDEX}: {number} is none of the published")
    left_out = sum(LEFT_OUT in files for files in kept.values())
    print(
        f"copied values: {len(kept)} of {len(published)} published, {len(kept) - left_out} tested and "
        f"{left_out} left out with the reason; {sum(map(len, kept.values()))} copies"
    )
    for kind, count in sorted(told.items()):
        print(f"  {count} of the copies {kind}")
    print(f"  not among them, from sources that the tests name themselves: {sum(own.values())} "
          f"({', '.join(f'{count} in {name}' for name, count in sorted(own.items()))})")
    if failures:
        sys.exit("\n".join(failures))


main()
