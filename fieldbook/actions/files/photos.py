"""What a photo tells of itself, and a thumbnail of it in half blocks."""

from __future__ import annotations

import warnings
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from fieldbook.records.values import printable

_TAKEN, _OFFSET, _EXIF, _GPS = 36867, 36881, 0x8769, 0x8825
_MOST_PIXELS = 100_000_000


@dataclass(frozen=True)
class PhotoFacts:
    """When a photo was taken (as its camera says) and where: "40.71280, -74.00600"; or nothing."""

    taken_at: str = ""
    position: str = ""


Pixel = tuple[int, int, int]


def photo_facts(path: Path) -> PhotoFacts:
    """The time and position that a photo holds; nothing for what is no photo."""
    with suppress(Exception), warnings.catch_warnings():
        # A file may be anything, and a library for images may fail on it in any way.
        warnings.simplefilter("ignore")
        from PIL import Image  # noqa: PLC0415

        with Image.open(path) as image:
            exif = image.getexif()
            taken = exif.get_ifd(_EXIF)
            return PhotoFacts(_time(taken), _position(exif.get_ifd(_GPS)))
    return PhotoFacts()


def _time(taken: dict[int, Any]) -> str:
    """EXIF writes 2026:05:01 10:30:00."""
    text = printable(str(taken.get(_TAKEN, ""))).strip()
    day, _, clock = text.partition(" ")
    if day.count(":") != 2 or not clock:
        return ""
    return f"{day.replace(':', '-')} {clock} {printable(str(taken.get(_OFFSET, '')))}".strip()


def _position(gps: dict[int, Any]) -> str:
    north, east = _degrees(gps.get(2)), _degrees(gps.get(4))
    if north is None or east is None:
        return ""
    north = -north if gps.get(1) == "S" else north
    east = -east if gps.get(3) == "W" else east
    return f"{north:.5f}, {east:.5f}"


def _degrees(parts: Any) -> float | None:  # noqa: ANN401
    """Degrees, minutes and seconds as one number; None for what is none."""
    try:
        degrees, minutes, seconds = (float(part) for part in parts)
    except (TypeError, ValueError, ZeroDivisionError):
        return None
    return degrees + minutes / 60.0 + seconds / 3600.0


def thumbnail(path: Path, columns: int, rows: int) -> list[list[tuple[Pixel, Pixel]]]:
    """A photo as rows of cells, each its upper and lower pixel; nothing for what is no photo."""
    with suppress(Exception), warnings.catch_warnings():
        warnings.simplefilter("ignore")
        from PIL import Image, ImageOps  # noqa: PLC0415

        with Image.open(path) as image:
            if image.width * image.height > _MOST_PIXELS:
                return []
            image.draft("RGB", (columns * 2, rows * 4))
            small = ImageOps.exif_transpose(image).convert("RGB")
            small.thumbnail((columns, rows * 2))
            pixels = small.load()
            if pixels is None:
                return []
            return [
                [
                    (_pixel(pixels[x, y]), _pixel(pixels[x, min(y + 1, small.height - 1)]))
                    for x in range(small.width)
                ]
                for y in range(0, small.height, 2)
            ]
    return []


def _pixel(found: Any) -> Pixel:  # noqa: ANN401
    red, green, blue = found[:3]
    return int(red), int(green), int(blue)
