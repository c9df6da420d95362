"""Writes crops of open photographs that hold no code, with an index: `bare.py FOLDER PARTS`.

The photographs come inside the pinned packages scikit-image and scikit-learn (textures, faces, coins, printed pages,
a retina, stars ...). Each is taken whole and, with 2 or 3 PARTS, in quarters and in
ninths; twice as large where it is small.
"""

import csv
import sys
from pathlib import Path

import cv2
import skimage
import sklearn

folder = Path(sys.argv[1])
folder.mkdir(parents=True, exist_ok=True)
sources = sorted((Path(skimage.__file__).parent / "data").glob("*.[jp][pn]g"))
sources += sorted((Path(sklearn.__file__).parent / "datasets/images").glob("*.jpg"))
with open(folder / "index.csv", "w", newline="", encoding="utf-8") as index:
    rows = csv.writer(index)
    rows.writerow(["file", "category", "expected"])
    for source in sources:
        picture = cv2.imread(str(source), cv2.IMREAD_GRAYSCALE)
        for parts in range(1, int(sys.argv[2]) + 1):
            high, wide = picture.shape[0] // parts, picture.shape[1] // parts
            if min(high, wide) < 40:
                continue
            for at in range(parts * parts):
                top, left = at // parts * high, at % parts * wide
                crop = picture[top : top + high, left : left + wide]
                if max(crop.shape) < 300:
                    crop = cv2.resize(crop, None, fx=2, fy=2, interpolation=cv2.INTER_CUBIC)
                name = f"{source.stem}-{parts}-{at}.png"
                cv2.imwrite(str(folder / name), crop)
                rows.writerow([name, "whole" if parts == 1 else f"a {parts * parts}th", "[]"])
