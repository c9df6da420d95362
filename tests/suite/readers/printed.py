"""Renders labels as printers do, PDF by PDFium and SVG by resvg, and cuts them out: `printed.py FOLDER`.

FOLDER holds PDF, SVG and PNG files and `labels.csv` (printed: the file, dpi, text, and in millimetres x, y, width, height,
module); it gets a picture of each label at the resolution it was made for, and `crops.csv` (file, how it was printed,
text, pixels a module).
"""

import csv
import io
import sys
from pathlib import Path

import pypdfium2
import resvg_py
from PIL import Image

INCH = 25.4


def from_pdf(path, dpi):
    return pypdfium2.PdfDocument(path)[0].render(scale=dpi / 72, grayscale=True).to_pil()


def from_svg(path, dpi):
    return Image.open(io.BytesIO(resvg_py.svg_to_bytes(svg_path=str(path), dpi=dpi))).convert("L")


def from_png(path, dpi):
    picture = Image.open(path)
    if abs(picture.info["dpi"][0] - dpi) > 0.1:
        sys.exit(f"{path.name} says {picture.info['dpi']} dots an inch and was made for {dpi}")
    return picture.convert("L")


RENDER = {".pdf": from_pdf, ".svg": from_svg, ".png": from_png}

folder = Path(sys.argv[1])
pages = {}
with open(folder / "crops.csv", "w", newline="", encoding="utf-8") as crops:
    rows = csv.writer(crops)
    rows.writerow(["file", "how", "text", "module"])
    for at, label in enumerate(csv.DictReader(open(folder / "labels.csv", encoding="utf-8"))):
        printed, dpi = folder / label["printed"], int(label["dpi"])
        dots = dpi / INCH
        left, top, wide, high = (float(label[name]) * dots for name in ("x", "y", "width", "height"))
        if printed not in pages:
            pages[printed] = RENDER[printed.suffix](printed, dpi)
        box = (round(left), round(top), round(left + wide), round(top + high))
        name = f"crop-{at:04}.png"
        pages[printed].crop(box).save(folder / name)
        how = f"{printed.suffix[1:].upper()} at {dpi} dpi"
        rows.writerow([name, how, label["text"], float(label["module"]) * dots])
