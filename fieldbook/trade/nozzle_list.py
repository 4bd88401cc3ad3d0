"""The firm's own list of nozzles, as TOML or CSV: what a crew's name for a nozzle stands for.

The product ships no figures of any nozzle: a firm copies them from the sheets of what it fits.
Flows are in gpm at a pressure in psi, arcs in degrees, radii in ft.
"""

from __future__ import annotations

import csv
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from fieldbook.trade.shorthand import LARGEST_RADIUS_FT

COLUMNS = ("name", "kind", "gpm", "psi", "arc", "radius")
_MOST = {"gpm": 200.0, "psi": 150.0, "arc": 360.0, "radius": LARGEST_RADIUS_FT}
MOST_NOZZLES = 2000
LONGEST_NAME = 40
EXAMPLE = """\
# The firm's nozzles: a name typed on a sprinkler head enters all that stands here.
# Keep this file as nozzles.toml beside the book, or the same columns as nozzles.csv.
# The figures below are an example and no nozzle's: put in those of the sheets of what you fit.

[[nozzle]]
name = "example 15H"   # what the crew types
kind = "spray"
gpm = 1.8              # at this pressure
psi = 30
arc = 180              # degrees
radius = 15            # ft
"""


@dataclass(frozen=True)
class ListedNozzle:
    """One line of the list; None for what it does not give."""

    name: str
    kind: str
    gpm: float
    psi: float
    arc_deg: float | None = None
    radius_ft: float | None = None


class NozzleListError(ValueError):
    """One sentence that says which line of the list is wrong, and why."""


def read_toml(text: str) -> tuple[ListedNozzle, ...]:
    """The nozzles of a TOML file with a table [[nozzle]] for each. Raises NozzleListError."""
    try:
        found = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise NozzleListError(f"It is no TOML: {error}.") from error
    rows = found.get("nozzle", [])
    if not isinstance(rows, list) or set(found) - {"nozzle"}:
        raise NozzleListError("It may hold tables [[nozzle]] and nothing else.")
    return _listed(rows)


def read_csv(text: str) -> tuple[ListedNozzle, ...]:
    """The nozzles of a CSV file with a head of the COLUMNS. Raises NozzleListError."""
    try:
        lines = list(csv.reader(text.splitlines()))
    except csv.Error as error:
        raise NozzleListError(f"It is no CSV: {error}.") from error
    if not lines:
        return ()
    head = [name.strip().casefold() for name in lines[0]]
    if not {"name", "gpm", "psi"} <= set(head) or set(head) - set(COLUMNS):
        raise NozzleListError(f"Its first line must name columns of {', '.join(COLUMNS)}.")
    rows = [dict(zip(head, line, strict=False)) for line in lines[1:] if any(line)]
    return _listed(rows)


def find(nozzles: Iterable[ListedNozzle], typed: str) -> ListedNozzle | None:
    """The nozzle whose name was typed, whatever its capitals and blanks."""
    wanted = _folded(typed)
    return next((one for one in nozzles if _folded(one.name) == wanted), None)


def _folded(name: str) -> str:
    return "".join(name.split()).casefold()


def _listed(rows: Iterable[object]) -> tuple[ListedNozzle, ...]:
    found: dict[str, ListedNozzle] = {}
    for number, row in enumerate(rows, start=1):
        if number > MOST_NOZZLES:
            raise NozzleListError(f"It has more than {MOST_NOZZLES} nozzles.")
        try:
            nozzle = _nozzle(row)
        except ValueError as error:
            raise NozzleListError(f"Nozzle {number}: {error}") from error
        if _folded(nozzle.name) in found:
            raise NozzleListError(f"Nozzle {number}: the name {nozzle.name} is there twice.")
        found[_folded(nozzle.name)] = nozzle
    return tuple(found.values())


def _nozzle(row: object) -> ListedNozzle:
    if not isinstance(row, Mapping) or set(row) - set(COLUMNS):
        raise ValueError(f"it may have {', '.join(COLUMNS)} and nothing else.")
    name = str(row.get("name") or "").strip()
    if not name or len(name) > LONGEST_NAME or not name.isprintable():
        raise ValueError(f"it needs a name of at most {LONGEST_NAME} characters.")
    if not any(char.isalpha() for char in name):
        raise ValueError(f"the name {name} needs a letter, or it reads as a number.")
    figures = {column: _figure(row, column) for column in _MOST}
    gpm, psi = figures["gpm"], figures["psi"]
    if gpm is None or psi is None:
        raise ValueError("it needs gpm, and the psi at which it gives them.")
    kind = str(row.get("kind") or "").strip()
    return ListedNozzle(name, kind, gpm, psi, figures["arc"], figures["radius"])


def _figure(row: Mapping[str, object], column: str) -> float | None:
    held = row.get(column)
    if held is None or held == "":
        return None
    try:
        value = float(str(held))
    except ValueError:
        raise ValueError(f"{column} takes a number.") from None
    if isinstance(held, bool) or not 0.0 < value <= _MOST[column]:
        raise ValueError(f"{column} must be above zero and at most {_MOST[column]:g}.")
    return value
