"""Draw the accepted pictures of all screens on sheets to look at.

Run it: python tests/draw_contact_sheets.py

Chromium draws them. It prints the sheets' paths; words after the command choose the pictures whose
names hold them all, as in `python tests/draw_contact_sheets.py wire 80x24`.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path

KEPT = Path(__file__).with_name("snapshots") / "__snapshots__" / "test_pictures"
COLUMNS, PER_SHEET = 3, 12
_CELL = (640, 440)
_STYLE = (
    "body{margin:0;background:#777;font:14px sans-serif}"
    "figure{display:inline-block;vertical-align:top;margin:4px;width:632px}"
    "img{width:632px;max-height:400px;object-fit:contain;object-position:left top}"
)


def name_of(file: Path) -> str:
    """The name of a picture: what stands in the last brackets of its file's name."""
    return file.stem.rpartition("[")[2].rstrip("]")


def chosen(words: Sequence[str]) -> list[Path]:
    """The pictures whose names hold all these words, those of one size and theme together."""
    files = [file for file in KEPT.glob("*.svg") if all(word in name_of(file) for word in words)]
    return sorted(files, key=lambda file: (name_of(file).rsplit("-", 2)[1:], file.name))


def sheets(files: Sequence[Path], folder: Path) -> Iterator[Path]:
    """Draw the sheets into a folder, each with PER_SHEET pictures."""
    for number, first in enumerate(range(0, len(files), PER_SHEET), start=1):
        shown = files[first : first + PER_SHEET]
        figures = "".join(
            f'<figure><figcaption>{name_of(file)}</figcaption><img src="{file.as_uri()}"></figure>'
            for file in shown
        )
        page, sheet = folder / f"sheet-{number:02}.html", folder / f"sheet-{number:02}.png"
        page.write_text(f"<style>{_STYLE}</style>{figures}", "utf-8")
        rows = -(-len(shown) // COLUMNS)
        subprocess.run(
            [
                "chromium", "--headless=new", "--no-sandbox", "--disable-gpu", "--hide-scrollbars",
                f"--window-size={_CELL[0] * COLUMNS},{_CELL[1] * rows}",
                f"--screenshot={sheet}", page.as_uri(),
            ],
            check=True,
            capture_output=True,
        )  # fmt: skip
        yield sheet


if __name__ == "__main__":
    for drawn in sheets(chosen(sys.argv[1:]), Path(tempfile.mkdtemp(prefix="contact-sheets-"))):
        print(drawn)
