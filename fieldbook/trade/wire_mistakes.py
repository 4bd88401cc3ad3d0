"""How often mistakes with wire are made: `wire_mistakes.toml` beside this file, as numbers.

Every figure there is common practice, no source. They rank what could explain a wire that does
not fit and choose the next test; what is called settled rests on tests.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources

SOURCE = "Common practice, no source."
COIL_ROWS = ("no_coil", "one_coil", "two_coils", "series")


@dataclass(frozen=True)
class WireMistakes:
    """Chances from 0 to 1, each over 0.

    chance: by kind of mistake, for each place where it could be made. reading: by row of
    `COIL_ROWS` and by meaning, how often a meter shows it. words: what each kind is. alike:
    colours that are taken for each other.
    """

    chance: Mapping[str, float]
    reading: Mapping[str, Mapping[str, float]]
    words: Mapping[str, str]
    alike: tuple[tuple[str, str], ...]


@lru_cache
def wire_mistakes() -> WireMistakes:
    """The figures that ship with fieldbook."""
    return parse_wire_mistakes(
        resources.files("fieldbook.trade").joinpath("wire_mistakes.toml").read_text("utf-8")
    )


def parse_wire_mistakes(text: str) -> WireMistakes:
    """Read the figures from TOML. Raises ValueError, naming the figure that is not a chance."""
    data = tomllib.loads(text)
    chance = {kind: float(row["chance"]) for kind, row in data["mistake"].items()}
    reading = {row: dict(data["reading"][row]) for row in COIL_ROWS}
    figures = [*chance.items()]
    figures += [
        (f"{row}, {one}", value) for row in COIL_ROWS for one, value in reading[row].items()
    ]
    for name, value in figures:
        if not 0.0 < value <= 1.0:
            raise ValueError(f"The chance of {name} is {value}: give one over 0 and up to 1.")
    words = {kind: str(row["words"]) for kind, row in data["mistake"].items()}
    alike = tuple((str(one), str(other)) for one, other in data["alike"])
    return WireMistakes(chance, reading, words, alike)
