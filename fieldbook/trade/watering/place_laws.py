"""Published watering rules of some places, as starters for a job's own rule."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import lru_cache
from importlib import resources
from typing import Any

from fieldbook.trade.watering.law_reading import text_of


@lru_cache(maxsize=1)
def places() -> Mapping[str, str]:
    """The JSON text of each place's rule, by the name of the place, as a job would keep it."""
    file = resources.files("fieldbook.trade.watering").joinpath("places.toml")
    found: list[dict[str, Any]] = tomllib.loads(file.read_text("utf-8"))["place"]
    return {place["name"]: text_of(place["watering"]) for place in found}
