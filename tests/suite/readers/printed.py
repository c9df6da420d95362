"""Renders sheets of labels by PDFium and cuts the labels out: `printed.py FOLDER`.

FOLDER holds PDF files and `labels.csv` (pdf, dpi, text, and in millimetres x, y, width, height, module); it gets a
picture of each label at the resolution it was made for, and `crops.csv` (file, dpi, text, pixels a module).
"""

import csv
import sys
from pathlib import Path

import pypdfium2

INCH = 25.4

folder = Path(sys.argv[1])
pages = {}
with open(folder / "crops.csv", "w", newline="", encoding="utf-8") as crops:
    rows = csv.writer(crops)
    rows.writerow(["file", "dpi", "text", "module"])
    for at, label in enumerate(csv.DictReader(open(folder / "labels.csv", encoding="utf-8"))):
        dots = int(label["dpi"]) / INCH
        if label["pdf"] not in pages:
            page = pypdfium2.PdfDocument(folder / label["pdf"])[0]
            pages[label["pdf"]] = page.render(scale=int(label["dpi"]) / 72, grayscale=True).to_pil()
        left, top, wide, high = (float(label[name]) * dots for name in ("x", "y", "width", "height"))
        box = (round(left), round(top), round(left + wide), round(top + high))
        name = f"{at:04}.png"
        pages[label["pdf"]].crop(box).save(folder / name)
        rows.writerow([name, label["dpi"], label["text"], float(label["module"]) * dots])
