"""The time and position that a photo holds, and a thumbnail of it for half-block characters."""

from __future__ import annotations

import io
import warnings
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path, PurePath

from fieldbook.records.printable import printable

# Numbers of the EXIF standard (CIPA DC-008): DateTimeOriginal, OffsetTimeOriginal, and the blocks
# of photo and GPS tags. In the GPS block 1 and 3 are N/S and E/W, 2 and 4 latitude and longitude.
_TAKEN, _OFFSET, _EXIF, _GPS = 36867, 36881, 0x8769, 0x8825
_PICTURES = (".jpg", ".jpeg", ".png", ".heic", ".heif", ".webp", ".tif", ".tiff", ".bmp")
_MOST_PIXELS = 100_000_000
"""Larger pictures are not decoded: a small file may claim to be of any size."""
_PRINTED_PX = 1000
"""Pixels of the longer side on paper, about 145 an inch; most cameras have a multiple of it."""
_QUALITY = 78

Pixel = tuple[int, int, int]
"""Red, green and blue, 0 to 255."""


def is_picture_name(name: str) -> bool:
    """Whether a file has the name of a picture."""
    return PurePath(name).suffix.lower() in _PICTURES


@dataclass(frozen=True)
class PhotoFacts:
    """When a photo was taken, as its camera says, and where: "40.71280, -74.00600"; or blanks."""

    taken_at: str = ""
    position: str = ""


def photo_facts(path: Path) -> PhotoFacts:
    """The time and position that a photo holds; blanks for a file that is no photo."""
    # The file may be anything, and the imaging library may raise anything on it.
    with suppress(Exception), warnings.catch_warnings():
        warnings.simplefilter("ignore")
        from PIL import Image  # noqa: PLC0415

        with Image.open(path) as image:
            exif = image.getexif()
            return PhotoFacts(_time(exif.get_ifd(_EXIF)), _position(exif.get_ifd(_GPS)))
    return PhotoFacts()


def _time(tags: Mapping[int, object]) -> str:
    """EXIF's "2026:05:01 10:30:00" as "2026-05-01 10:30:00", with the offset if there is one."""
    day, _, clock = printable(str(tags.get(_TAKEN, ""))).strip().partition(" ")
    if day.count(":") != 2 or not clock:
        return ""
    return f"{day.replace(':', '-')} {clock} {printable(str(tags.get(_OFFSET, '')))}".strip()


def _position(tags: Mapping[int, object]) -> str:
    north, east = _degrees(tags.get(2)), _degrees(tags.get(4))
    if north is None or east is None:
        return ""
    north = -north if tags.get(1) == "S" else north
    east = -east if tags.get(3) == "W" else east
    return f"{north:.5f}, {east:.5f}"


def _degrees(parts: object) -> float | None:
    """Degrees, minutes and seconds as one number of degrees; None for anything else."""
    if not isinstance(parts, tuple) or len(parts) != 3:
        return None
    try:
        degrees, minutes, seconds = map(float, parts)
    except (TypeError, ValueError, ZeroDivisionError):
        return None
    return degrees + minutes / 60.0 + seconds / 3600.0


def why_not_drawn(path: Path) -> str:
    """The sentence for a picture too large to be drawn or printed; "" for any other file."""
    with suppress(Exception), warnings.catch_warnings():
        warnings.simplefilter("ignore")
        from PIL import Image  # noqa: PLC0415

        try:
            with Image.open(path) as image:
                too_large = image.width * image.height > _MOST_PIXELS
        except Image.DecompressionBombError:
            # The imaging library has a limit of its own, about twice ours.
            too_large = True
        if too_large:
            most = _MOST_PIXELS // 1_000_000
            return f"It has over {most} million pixels, too many to draw: attach a smaller copy."
    return ""


def thumbnail(path: Path, columns: int, rows: int) -> list[list[tuple[Pixel, Pixel]]]:
    """A photo as at most `rows` rows of `columns` cells, each its upper and its lower pixel.

    Empty for a file that is no photo, or is too large a picture.
    """
    with suppress(Exception), warnings.catch_warnings():
        warnings.simplefilter("ignore")
        from PIL import Image, ImageOps  # noqa: PLC0415

        with Image.open(path) as image:
            if image.width * image.height > _MOST_PIXELS:
                return []
            # Lets a JPEG be decoded at a fraction of its size.
            image.draft("RGB", (columns * 2, rows * 4))
            small = ImageOps.exif_transpose(image).convert("RGB")
            small.thumbnail((columns, rows * 2))
            return _half_blocks(small.tobytes(), small.width, small.height)
    return []


def printed_jpeg(path: Path) -> bytes | None:
    """A photo as a JPEG for paper; None for a file that is no photo, or is too large a picture.

    It is made anew from the pixels, so what the camera wrote into the file, such as where it was
    taken, is not on the paper.
    """
    with suppress(Exception), warnings.catch_warnings():
        warnings.simplefilter("ignore")
        from PIL import Image, ImageOps  # noqa: PLC0415

        with Image.open(path) as image:
            if image.width * image.height > _MOST_PIXELS:
                return None
            # Lets a JPEG be decoded at a fraction of its size, no smaller than is printed.
            part = _PRINTED_PX / max(image.size)
            image.draft("RGB", (int(image.width * part), int(image.height * part)))
            small = ImageOps.exif_transpose(image).convert("RGB")
            small.thumbnail((_PRINTED_PX, _PRINTED_PX))
            out = io.BytesIO()
            small.save(out, "JPEG", quality=_QUALITY, optimize=True)
            return out.getvalue()
    return None


def _half_blocks(rgb: bytes, width: int, height: int) -> list[list[tuple[Pixel, Pixel]]]:
    """Pixels, three bytes each, two rows at a time; an odd last row stands for both."""

    def pixel(x: int, y: int) -> Pixel:
        at = 3 * (min(y, height - 1) * width + x)
        return rgb[at], rgb[at + 1], rgb[at + 2]

    return [[(pixel(x, y), pixel(x, y + 1)) for x in range(width)] for y in range(0, height, 2)]
