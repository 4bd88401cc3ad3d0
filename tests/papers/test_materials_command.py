"""The materials of a property: printed, as CSV and JSON, priced by the firm's own list."""

from __future__ import annotations

import csv
import json
from decimal import Decimal
from pathlib import Path

from click.testing import CliRunner, Result
from hypothesis import given
from hypothesis import strategies as st

from fieldbook.actions.files.materials import PRICES_FILE
from fieldbook.actions.files.spreadsheet import csv_text
from fieldbook.actions.open_job import OpenJob
from fieldbook.cli.main import main
from fieldbook.records.values import Value
from fieldbook.store.book import Book


def run(alder_book: Path, *arguments: str) -> Result:
    words = ["--book", str(alder_book), "materials", "14 Alder Lane", *arguments]
    return CliRunner().invoke(main, words)


def test_the_takeoff_is_printed(alder_book: Path) -> None:
    result = run(alder_book)
    assert result.exit_code == 0, result.output
    assert "pipe 1-1/4 pvc sch 40" in result.output
    assert "Not counted: elbows at bends" in result.output
    assert "Cost" not in result.output.splitlines()[-1]


def test_the_price_list_beside_the_book_makes_a_quote(alder_book: Path, tmp_path: Path) -> None:
    text = "item,cost,price\npipe,0.50,1.25\n"
    (alder_book.parent / PRICES_FILE).write_text(text, "utf-8")
    file = tmp_path / "quote.json"
    assert run(alder_book, str(file)).exit_code == 0
    made = json.loads(file.read_text("utf-8"))
    feet = sum(one["count"] for one in made["items"] if one["group"] == "pipe")
    assert Decimal(made["price"]) == Decimal("1.25") * Decimal(str(feet))
    assert "head spray" in made["not_priced"]


def test_the_csv_has_a_row_an_item(alder_book: Path, tmp_path: Path) -> None:
    file = tmp_path / "list.csv"
    assert run(alder_book, str(file), "--waste", "5").exit_code == 0
    with file.open(newline="", encoding="utf-8") as read:
        rows = list(csv.DictReader(read))
    assert {"pipe", "fittings", "heads", "valves", "wire"} <= {row["group"] for row in rows}
    assert "5 % of waste" in rows[0]["how it was counted"]
    again = run(alder_book, str(file))
    assert again.exit_code == 2
    assert "is there already" in again.output


def test_a_fault_in_the_price_list_names_the_file(alder_book: Path, tmp_path: Path) -> None:
    list_file = tmp_path / "mine.csv"
    list_file.write_text("item,cost,price\npipe,x,1\n", "utf-8")
    result = run(alder_book, "--prices", str(list_file))
    assert result.exit_code == 2
    assert "mine.csv: 'x' of pipe is no price" in result.output


@given(st.lists(st.tuples(st.text(), st.floats(allow_nan=False) | st.none())))
def test_no_text_begins_as_a_formula(rows: list[tuple[str, float | None]]) -> None:
    # OWASP, CSV injection: cells that begin with = + - @ tab or carriage return are run.
    text = csv_text(("=a", "b"), rows)
    read = list(csv.reader(text.splitlines(keepends=True)))
    assert read[0] == ["'=a", "b"]
    for cells in read[1:]:
        assert not cells or not cells[0].startswith(("=", "+", "-", "@", "\t", "\r"))


def test_agreed_changes_are_in_the_quote(alder_book: Path, tmp_path: Path) -> None:
    (alder_book.parent / PRICES_FILE).write_text("item,cost,price\npipe,0.50,1.00\n", "utf-8")
    before = json.loads(written(alder_book, tmp_path / "before.json"))
    with Book(alder_book) as book:
        agreed: dict[str, Value] = {"agreed_by": "R. Okonjo", "agreed_at": "2026-05-03T18:20"}
        for number, price, refused in ((1, 340.0, None), (2, 190.0, True)):
            change: dict[str, Value] = {"number": number, "changed": "=drip", "price": price}
            open_job = OpenJob(book, book.jobs()[0].id, "RO")
            open_job.add("change_order", {**change, **agreed, "refused": refused}, "change")
    after = json.loads(written(alder_book, tmp_path / "after.json"))
    assert after["price"] == before["price"]
    assert Decimal(after["price_of_changes"]) == 340
    assert Decimal(after["price_with_changes"]) == Decimal(before["price"]) + 340
    table = written(alder_book, tmp_path / "after.csv")
    row = next(line for line in table.splitlines() if line.startswith("agreed change"))
    assert "change order 1: =drip" in row
    assert "agreed by R. Okonjo" in row
    assert row.endswith("340.00")
    printed = " ".join(run(alder_book).output.split())
    assert "Agreed changes 340.00; with them the price is" in printed


def written(alder_book: Path, file: Path) -> str:
    """The materials, written to a file."""
    assert run(alder_book, str(file)).exit_code == 0
    return file.read_text("utf-8")
