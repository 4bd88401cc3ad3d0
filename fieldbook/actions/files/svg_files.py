"""Write a picture of a property to a file as SVG: a zone's sheet, the plan, the wire map."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from fieldbook.actions.files.file_names import documents_folder, file_stem
from fieldbook.actions.refused import RefusedError, typed_path, write_new
from fieldbook.checks.common.naming import short
from fieldbook.records.loaded_job import LoadedJob


def save_svg(job: LoadedJob, what: str, typed: str, svg: Callable[[], str]) -> Path:
    """Write a picture to a typed file or folder; a blank takes `usual_file`.

    `what` is what the picture shows, such as "plan". Returns the file that was written. Raises
    RefusedError where it is there already, or can't be.
    """
    path = typed_path(typed) if typed.strip() else usual_file(job, what)
    if path.is_dir():
        path /= _name(job, what)
    elif path.suffix.lower() != ".svg":
        path = path.with_name(f"{path.name}.svg")
    if path.exists():
        raise RefusedError(f"{short(path.name)} is there already: type another name.")
    write_new(path, svg())
    return path


def usual_file(job: LoadedJob, what: str) -> Path:
    """The file that a picture is written to unless another is named: none that is there already."""
    first = documents_folder() / _name(job, what)
    path, number = first, 2
    while path.exists():
        path, number = first.with_stem(f"{first.stem}-{number}"), number + 1
    return path


def _name(job: LoadedJob, what: str) -> str:
    return f"{file_stem(job.job.address, what)}.svg"
