"""Accepted pictures of screens as SVG files, kept by syrupy."""

from __future__ import annotations

from pathlib import Path

from syrupy.assertion import SnapshotAssertion
from syrupy.extensions.single_file import SingleFileSnapshotExtension, WriteMode


class PicturesOnDisk(SingleFileSnapshotExtension):
    """One SVG file for each picture, as text, so that a diff shows the line that changed."""

    _write_mode = WriteMode.TEXT
    file_extension = "svg"


def read_picture(kept: SnapshotAssertion, name: str) -> str | None:
    """The accepted picture of this name; None where there is none."""
    file = Path(PicturesOnDisk.get_location(test_location=kept.test_location, index=name))
    return file.read_text("utf-8") if file.exists() else None
