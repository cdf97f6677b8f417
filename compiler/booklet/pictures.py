"""Pictures made of pixels, for the file and before it; in: the bytes of a PNG or JPEG, out: whether they are one, and
the name of the picture in a PDF file.
"""

import re
import warnings
from io import BytesIO
from typing import Any

from compiler.booklet.isolation import isolated

with isolated():
    from reportlab.lib.utils import ImageReader

_MARK_JPEG, _MARK_PNG = b"\xff\xd8", b"\x89PNG\r\n\x1a\n"
_FRAMES = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}
"""JPEG segments that hold the size (ITU-T T.81, table B.1: start of frame)."""
_ALONE = frozenset({0x01, *range(0xD0, 0xD8)})
"""JPEG markers without a segment."""


def pixel_size(data: bytes) -> tuple[int, int] | None:
    """Columns and rows of pixels by the head of the file alone, so that none is unpacked that is too large.

    None for what is neither PNG (ISO/IEC 15948, 11.2.2) nor JPEG (ITU-T T.81, B.2.2).
    """
    if data.startswith(_MARK_PNG):
        if data[12:16] != b"IHDR" or len(data) < 24:
            return None
        return int.from_bytes(data[16:20]), int.from_bytes(data[20:24])
    if data.startswith(_MARK_JPEG):
        return _jpeg_size(data)
    return None


def _jpeg_size(data: bytes) -> tuple[int, int] | None:
    place = 2
    while place + 4 <= len(data) and data[place] == 0xFF:
        marker = data[place + 1]
        if marker == 0xFF:  # a fill byte
            place += 1
        elif marker in _ALONE:
            place += 2
        elif marker in _FRAMES:
            frame = data[place + 5 : place + 9]
            return (int.from_bytes(frame[2:]), int.from_bytes(frame[:2])) if len(frame) == 4 else None
        else:
            place += 2 + int.from_bytes(data[place + 2 : place + 4])
    return None


def unpacks(data: bytes) -> bool:
    """Whether the pixels can be read, all of them."""
    try:
        with isolated(), warnings.catch_warnings():
            warnings.simplefilter("error")
            ImageReader(BytesIO(data)).getRGBData()
    except Exception:  # whatever a broken file makes the library raise
        return False
    return True


def registered(canvas: Any, data: bytes) -> str:
    """Puts a picture into the file, once however often it is drawn; gives the name that `Do` shows it by."""
    kept, canvas._code = canvas._code, []
    canvas.drawImage(ImageReader(BytesIO(data)), 0, 0, 1, 1, mask="auto")
    drawn, canvas._code = canvas._code, kept
    found = re.search(r"/(\S+) Do", "\n".join(drawn))
    if found is None:
        raise ValueError("the picture was not put into the file")
    return found[1]
