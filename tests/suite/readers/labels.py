"""Printed labels, picture by picture: each is read by ours and by at least two of the others.

A picture's category says how its label was printed and how it was photographed: `PDF at 200 dpi, held well`.
"""

from collections import Counter, defaultdict

# How many of the others a picture wants.
ENOUGH = 2
# Told, and asked of ours alone: nobody keeps a picture that is out of focus and grainy at once, and the others do not
# read all of them.
BEYOND = {"soft and noisy"}


def counted(pictures, others):
    """For each scene and for each printed label, how many of its pictures are read by how many of the others."""
    scenes, printed = defaultdict(Counter), defaultdict(Counter)
    for picture in pictures:
        how, scene = picture.category.split(", ", 1)
        readers = len(picture.read_by & others)
        scenes[scene][readers] += 1
        if scene not in BEYOND:
            printed[how, picture.expected[0]][readers] += 1
    return scenes, printed


def enough(counts):
    return sum(pictures for readers, pictures in counts.items() if readers >= ENOUGH)


def table(scenes, others):
    readers = range(len(others) + 1)
    wide = max(map(len, scenes)) + 2
    print("\nlabels: how many pictures of a scene are read by how many of the others")
    print(f"{'':{wide}}{'of':>6}" + "".join(f"{f'by {count}':>8}" for count in readers))
    for scene, counts in scenes.items():
        print(f"{scene:{wide}}{counts.total():>6}" + "".join(f"{counts[count]:>8}" for count in readers))


def judge(pictures, ours, others, hold):
    """Holds every picture to be read by ours, and every one that a person would keep by enough of the others."""
    scenes, printed = counted(pictures, others)
    table(scenes, others)
    hold("labels: pictures not read by ours", sum(ours not in picture.read_by for picture in pictures), 0, most=True)
    for scene, counts in scenes.items():
        if scene not in BEYOND:
            hold(f"labels, {scene}: pictures read by fewer than {ENOUGH} of the others",
                 counts.total() - enough(counts), 0, most=True)
    asked = len(scenes.keys() - BEYOND)
    whole = sum(enough(counts) == counts.total() == asked for counts in printed.values())
    hold(f"labels: percent of {len(printed)} printed labels that {ENOUGH} of the others read in each of {asked} scenes",
         100 * whole / len(printed), 100)
    told = "; ".join(f"{scene}: {enough(scenes[scene])} of {scenes[scene].total()}" for scene in scenes.keys() & BEYOND)
    return f"labels: {whole} of {len(printed)} printed, each in {asked} scenes, read by {ENOUGH} of the others ({told})"
