"""Two trucks with names."""

from __future__ import annotations

from pathlib import Path

import pytest
from trucks import Truck

from fieldbook.store.seals.laptop_key import name_laptop


@pytest.fixture
def trucks(tmp_path: Path) -> tuple[Truck, Truck]:
    """Two trucks with empty books, each with a name."""
    made = Truck(tmp_path, "AB"), Truck(tmp_path, "CD")
    for truck in made:
        with truck.open():
            name_laptop(f"truck {truck.who}")
    return made
