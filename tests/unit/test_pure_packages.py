"""The pure packages import nothing of the screen, the book or the disk, proven in a new process."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

import fieldbook

PACKAGE = Path(fieldbook.__file__).parent
HEAVY = (
    "textual",
    "rich",
    "sqlmodel",
    "sqlalchemy",
    "pydantic",
    "click",
    "sqlite3",
    "platformdirs",
)


MODEL = {"sqlmodel", "sqlalchemy", "pydantic"}
"""What only a book that is made, or compared with the model, needs."""


def modules_of(*names: str) -> list[str]:
    """Every module under these packages of fieldbook."""
    found = []
    for name in names:
        paths = [PACKAGE / f"{name}.py", *sorted((PACKAGE / name).rglob("*.py"))]
        for path in paths:
            if path.is_file():
                parts = path.relative_to(PACKAGE.parent).with_suffix("").parts
                found.append(".".join(part for part in parts if part != "__init__"))
    return found


def modules_loaded_by(modules: list[str]) -> set[str]:
    """Every module that a fresh interpreter has after importing these."""
    code = "import sys\n" + "".join(f"import {name}\n" for name in modules)
    code += "print(*sys.modules)"
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    return set(ran.stdout.split())


def loaded_by(modules: list[str]) -> set[str]:
    """The top-level packages that a fresh interpreter has after importing these."""
    return {name.partition(".")[0] for name in modules_loaded_by(modules)}


@pytest.mark.parametrize(
    "name", ["units", "trade", "water", "watering", "wiring", "audit", "season", "diagnosis"]
)
def test_a_pure_package_needs_the_standard_library_only(name: str) -> None:
    modules = modules_of(name)
    assert modules
    assert loaded_by(modules).isdisjoint(HEAVY)


def test_checks_and_job_files_need_no_screen() -> None:
    assert loaded_by(modules_of("checks", "jobfile")).isdisjoint({"textual", "rich", "click"})


def test_the_first_frame_needs_neither_the_record_nor_the_store() -> None:
    light = loaded_by(["fieldbook.cli.main", "fieldbook.screens.app"])
    assert "textual" in light
    assert light.isdisjoint(MODEL)


def test_an_open_property_needs_neither_the_model_nor_a_page() -> None:
    loaded = modules_loaded_by(["fieldbook.screens.open_book"])
    assert "fieldbook.screens.job.job_screen" in loaded
    assert not [name for name in loaded if name.startswith("fieldbook.screens.pages.")]
    assert {name.partition(".")[0] for name in loaded}.isdisjoint(MODEL)


def test_the_list_of_properties_needs_no_check_and_the_checks_no_screen() -> None:
    of_jobs = modules_loaded_by(
        [
            "fieldbook.cli.main",
            "fieldbook.actions.board.board",
            "fieldbook.cli.board_output",
            "fieldbook.store.snapshot",
        ]
    )
    assert of_jobs.isdisjoint(
        {"fieldbook.checks.registry", "fieldbook.water", "fieldbook.wiring", "asyncio", "uuid6"}
    )
    of_day = loaded_by(
        [
            "fieldbook.cli.main",
            "fieldbook.actions.board.day_list",
            "fieldbook.cli.output",
            "fieldbook.store.snapshot",
        ]
    )
    assert of_day.isdisjoint(MODEL | {"textual", "asyncio"})


def test_every_module_says_what_it_is() -> None:
    for path in PACKAGE.rglob("*.py"):
        assert path.read_text("utf-8").startswith('"""'), path


def test_nothing_that_opens_a_book_loads_what_signs() -> None:
    opening = ["fieldbook.screens.open_book", "fieldbook.store.exchange.folder"]
    assert "cryptography" not in loaded_by([*opening, *modules_of("store/seals")])
