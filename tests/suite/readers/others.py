"""Readers that are not ours, each brought to one form: a picture in shades of gray to a list of texts."""

import cv2
import zxingcpp
from pyzbar import pyzbar

cv2.setNumThreads(1)
_opencv = cv2.QRCodeDetector()


def zxing_cpp(picture):
    return [code.text for code in zxingcpp.read_barcodes(picture, formats=zxingcpp.BarcodeFormat.QRCode)]


def zbar(picture):
    return [
        code.data.decode("utf-8", "replace") for code in pyzbar.decode(picture, symbols=[pyzbar.ZBarSymbol.QRCODE])
    ]


def opencv(picture):
    try:
        _, texts, _, _ = _opencv.detectAndDecodeMulti(picture)
    except cv2.error:  # It has been seen to give up on pictures of a few pixels.
        return []
    return [text for text in texts if text]


OTHERS = {"zxing-cpp": zxing_cpp, "zbar": zbar, "OpenCV": opencv}


def same(text, expected):
    """Whether a text is the expected one: line ends and outer space apart, and whatever letters a reader took the
    bytes for. A code does not say how its bytes are to be read, and zbar often takes UTF-8 for Shift JIS."""
    plain = text.replace("\r\n", "\n").strip()
    if plain == expected:
        return True
    for letters in ("shift_jis", "cp932", "big5", "latin-1"):
        try:
            if plain.encode(letters).decode("utf-8").strip() == expected:
                return True
        except UnicodeError:
            pass
    return False
