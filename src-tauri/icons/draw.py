#!/usr/bin/env python3
"""Draws the app's icons: a head between two datum lines. Needs nothing but Python itself.

Run it after changing the mark; the files it writes are kept in the repository.
"""

import struct
import zlib
from pathlib import Path

GROUND = (0x06, 0x34, 0x3F)
LINE = (0xFF, 0xFF, 0xFF)
# On a field of 32 by 32: the same lines as ui/public/mark.svg.
HALF_STROKE = 1.5
CORNER = 6.0
STROKES = [
    ((5, 9), (27, 9)),
    ((5, 23), (14, 23)),
    ((20, 9), (20, 23)),
    ((16.5, 13.5), (20, 9)),
    ((20, 9), (23.5, 13.5)),
    ((16.5, 18.5), (20, 23)),
    ((20, 23), (23.5, 18.5)),
]
# Sub-pixels a side: enough that no step is seen.
FINE = 4


def distance(point, stroke):
    (px, py), ((ax, ay), (bx, by)) = point, stroke
    dx, dy = bx - ax, by - ay
    along = ((px - ax) * dx + (py - ay) * dy) / (dx * dx + dy * dy)
    along = max(0.0, min(1.0, along))
    return ((px - ax - along * dx) ** 2 + (py - ay - along * dy) ** 2) ** 0.5


def inside(x, y):
    dx = max(CORNER - x, x - (32 - CORNER), 0.0)
    dy = max(CORNER - y, y - (32 - CORNER), 0.0)
    return dx * dx + dy * dy <= CORNER * CORNER


def pixel(size, column, row):
    red = green = blue = seen = 0
    for i in range(FINE * FINE):
        x = (column + (i % FINE + 0.5) / FINE) * 32 / size
        y = (row + (i // FINE + 0.5) / FINE) * 32 / size
        if not inside(x, y):
            continue
        near = any(distance((x, y), stroke) <= HALF_STROKE for stroke in STROKES)
        colour = LINE if near else GROUND
        seen += 1
        red, green, blue = red + colour[0], green + colour[1], blue + colour[2]
    if seen == 0:
        return bytes(4)
    return bytes((red // seen, green // seen, blue // seen, seen * 255 // (FINE * FINE)))


def chunk(kind, data):
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def png(size):
    rows = (b"\0" + b"".join(pixel(size, c, r) for c in range(size)) for r in range(size))
    head = struct.pack(">IIBBBBB", size, size, 8, 6, 0, 0, 0)
    body = zlib.compress(b"".join(rows), 9)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", body) + chunk(b"IEND", b"")


def ico(picture, size):
    entry = struct.pack("<BBBBHHII", size % 256, size % 256, 0, 0, 1, 32, len(picture), 22)
    return struct.pack("<HHH", 0, 1, 1) + entry + picture


def main():
    folder = Path(__file__).parent
    for name, size in [("32x32.png", 32), ("128x128.png", 128), ("128x128@2x.png", 256), ("icon.png", 512)]:
        (folder / name).write_bytes(png(size))
    (folder / "icon.ico").write_bytes(ico(png(256), 256))


main()
