"""The recipes of DEVELOPERS.md for a fact and a check, followed in a copy of the source."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from fieldbook.actions.properties import fill_demo
from fieldbook.store.book import Book

ROOT = Path(__file__).resolve().parents[2]

FACT = """    hose_tap: Annotated[str, words("Hose tap", "Which tap the gauge was on.")] = ""
    static_where: """
CHECK = '''

def check_hose_tap(job: LoadedJob) -> Iterator[Finding]:
    """A tap that is said to drip."""
    if job.supply is not None and job.supply.hose_tap == "drips":
        at = CellRef("supply", job.supply.id, "hose_tap")
        yield Finding("tap drips", "note", "The hose tap drips.", "Mend it.", at)
'''
USE = """
import json, sys
from pathlib import Path
from fieldbook.actions.cells import enter_text
from fieldbook.actions.job_files import export_text, import_file
from fieldbook.actions.open_job import OpenJob
from fieldbook.checks.finding import CellRef
from fieldbook.screens.sheets import BUILDERS
from fieldbook.store.book import Book
from fieldbook.store.mending.verify import verify

book_file, job_file = map(Path, sys.argv[1:])
with Book(book_file) as book:
    job = next(one for one in book.jobs() if "Alder" in one.address)
    open_job = OpenJob(book, job.id, "AB")
    before = [flag.code for flag in open_job.findings]
    enter_text(open_job, CellRef("supply", open_job.job.supply.id, "hose_tap"), "drips")
    flags = [flag.code for flag in open_job.findings if flag.code not in before]
    sheet = BUILDERS["street"](open_job.job, "us")
    cells = [cell.text for section in sheet.sections for row in section.rows for cell in row.cells]
    job_file.write_text(export_text(book, job.id), "utf-8")
    copy = import_file(book, job_file, "AB", copy=True)
    taken = book.load(copy.job_id).supply.hose_tap
    open_job.undo()
    undone = open_job.job.supply.hose_tap
print(json.dumps([flags, "drips" in cells, taken, undone, list(verify(book_file).wrong)]))
"""


def replaced(path: Path, pattern: str, by: str) -> None:
    """Edit a file of the copy as a developer would, at the one place that matches."""
    text = path.read_text("utf-8")
    edited, count = re.subn(pattern, by, text, count=1, flags=re.MULTILINE)
    assert count == 1, (path, pattern)
    path.write_text(edited, "utf-8")


@pytest.fixture
def source(tmp_path: Path) -> Path:
    """A copy of the source in which the recipes for a fact and a check were followed."""
    for name in ("fieldbook", "demo_jobs"):
        shutil.copytree(ROOT / name, tmp_path / name, ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    package = tmp_path / "fieldbook"
    replaced(package / "records" / "tables" / "supply.py", r"^    static_where: ", FACT)
    sheet = package / "screens" / "sheets" / "street_sheet.py"
    replaced(sheet, r'^( +)"static_where",$', r'\1"static_where",\n\1"hose_tap",')
    room = package / "checks" / "street" / "supply_limits.py"
    room.write_text(room.read_text("utf-8") + CHECK, "utf-8")
    registry = package / "checks" / "registry.py"
    row = r'^( +_of_record\("supply",.*)check_supply\),$'
    replaced(registry, row, r"\g<0>\n\1check_hose_tap),")
    replaced(
        registry, r'_of_record\("supply",(.*)check_hose', r'_of_record("hose tap",\1check_hose'
    )
    imported = r"^(from fieldbook\.checks\.street\.supply_limits import )(.*)$"
    replaced(registry, imported, r"\1check_hose_tap, \2")
    return tmp_path


def ran(source: Path, *command: str) -> subprocess.CompletedProcess[str]:
    """A command in the copy, which sees the copy's package."""
    environment = {**os.environ, "PYTHONPATH": str(source)}
    return subprocess.run(
        command, cwd=source, env=environment, capture_output=True, text=True, check=False
    )


def test_a_new_fact_and_check_work_in_a_book_made_before(source: Path, book_file: Path) -> None:
    with Book(book_file) as book:
        fill_demo(book)
    used = ran(source, sys.executable, "-c", USE, str(book_file), str(source / "alder.json"))
    assert used.returncode == 0, used.stderr
    assert json.loads(used.stdout) == [
        # The property is handed over, so a later entry is also a change after its sign-offs.
        ["changed after sign-off", "tap drips"],
        True,
        "drips",
        "",
        [],
    ]


def test_the_recipes_leave_lint_and_import_contracts_kept(source: Path) -> None:
    tools = Path(sys.executable).parent
    for command in ((str(tools / "ruff"), "check", "fieldbook"), (str(tools / "lint-imports"),)):
        checked = ran(source, *command)
        assert checked.returncode == 0, checked.stdout + checked.stderr


@pytest.mark.slow
def test_the_recipes_leave_the_types_whole(source: Path) -> None:
    checked = ran(source, sys.executable, "-m", "mypy", "fieldbook")
    assert checked.returncode == 0, checked.stdout
