"""A table from a spreadsheet: read, entered by the same parsing as typing, or refused whole."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldbook.actions import cells, log_wires, rows
from fieldbook.actions.bulk.pasted_text import is_table, read_table
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import new_property
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.finding import CellRef
from fieldbook.jobfile.write import write_job
from fieldbook.records.base import Place
from fieldbook.screens.sheets import BUILDERS
from fieldbook.screens.sheets.pasting import Pasted, paste_table
from fieldbook.store.book import Book

VALUES = st.text(st.characters(codec="ascii", categories=("L", "N")), min_size=1, max_size=8)


@pytest.fixture
def open_job(book: Book) -> OpenJob:
    return OpenJob(book, new_property(book, "12 Elm Street", "AB"), "AB")


def paste(open_job: OpenJob, place: Place, at: CellRef, text: str) -> Pasted:
    return paste_table(open_job, BUILDERS[place], at, text)


def add_line(table: str, name: str, row_id: str = "") -> CellRef:
    return CellRef(table, row_id, f"add {name}")


@pytest.mark.parametrize(
    ("text", "table"),
    [
        ("a\tb\nc\td", [["a", "b"], ["c", "d"]]),
        ("a\tb\r\nc\t\r\n", [["a", "b"], ["c", ""]]),
        ("a\rb\r", [["a"], ["b"]]),
        ("a;b\nc;d", [["a", "b"], ["c", "d"]]),
        ("a,b\nc,d\n", [["a", "b"], ["c", "d"]]),
        ("front lawn, street\nback", [["front lawn, street"], ["back"]]),
        ('a,"b, c"\nd,"e, f"', [["a", "b, c"], ["d", "e, f"]]),
        ('6"\t12\' 6"\n3/4"\t1', [['6"', "12' 6\""], ['3/4"', "1"]]),
        ('"two\nlines"\tb\nc\td', [["two lines", "b"], ["c", "d"]]),
        ("a\t\x1b[31mb", [["a", "[31mb"]]),
    ],
)
def test_a_table_is_read_by_its_separator(text: str, table: list[list[str]]) -> None:
    assert read_table(text) == table


@given(st.lists(st.lists(VALUES, min_size=2, max_size=4), min_size=2, max_size=6))
def test_what_a_spreadsheet_copies_comes_back(table: list[list[str]]) -> None:
    width = max(map(len, table))
    square = [line + [""] * (width - len(line)) for line in table]
    text = "\n".join("\t".join(line) for line in square)
    assert is_table(text)
    assert read_table(text) == square


def test_one_value_is_no_table_and_too_much_is_refused() -> None:
    assert not is_table("front lawn, street side")
    assert not is_table("62\n")
    assert is_table("62\t30")
    with pytest.raises(RefusedError, match="at most 500 at once"):
        read_table("1\t2\n" * 501)
    with pytest.raises(RefusedError, match="too much"):
        read_table("1" * 200_001)


@pytest.mark.parametrize("there", [0, 2])
@pytest.mark.parametrize("text", ["beds\tdrip\nside\tspray", "3\tbeds\tdrip\n4\tside\tspray"])
def test_a_table_without_heads_begins_where_typing_would(
    open_job: OpenJob, there: int, text: str
) -> None:
    for _ in range(there):
        rows.add_zone(open_job)
    paste(open_job, "ground", add_line("zone", "zone"), text).keep()
    added = [(zone.name, zone.head_kind) for zone in open_job.job.zones[there:]]
    assert added == [("beds", "drip"), ("side", "spray")]


def test_a_pasted_table_makes_the_zones_it_needs(open_job: OpenJob) -> None:
    text = "No.\tName\tHeads\n1\tfront lawn\tspray\n2\tback lawn\trotor\n3\tbeds\tdrip\n"
    pasted = paste(open_job, "ground", add_line("zone", "zone"), text)
    assert (pasted.rows_filled, pasted.rows_added) == (0, 3)
    assert not open_job.job.zones
    pasted.keep()
    assert [(zone.number, zone.name, zone.head_kind) for zone in open_job.job.zones] == [
        (1, "front lawn", "spray"),
        (2, "back lawn", "rotor"),
        (3, "beds", "drip"),
    ]
    assert open_job.undo() == "3 rows pasted"
    assert not open_job.job.zones


def test_rows_that_are_there_are_filled_and_others_added(open_job: OpenJob) -> None:
    zone_id = rows.add_zone(open_job)
    run_id = rows.repeat_run(open_job, zone_id)
    at = CellRef("pipe_run", run_id, "size")
    text = "1 1/4\"\tpvc sdr 21\t12'6\n1\tpvc sdr 21\t3.5m\n3/4\t\t8\n"
    pasted = paste(open_job, "ground", at, text)
    assert (pasted.rows_filled, pasted.rows_added) == (1, 2)
    assert pasted.lines[0] == "Run 1: Size 1-1/4, Class pvc sdr 21, Length 12.5 ft"
    pasted.keep()
    runs = open_job.job.runs_of(zone_id)
    assert [run.size for run in runs] == ["1-1/4", "1", "3/4"]
    assert [round(run.length_ft or 0, 2) for run in runs] == [12.5, 11.48, 8]
    assert [run.pipe_class for run in runs] == ["pvc sdr 21"] * 3
    # A new row repeats the one above, so its class is there though the table left it blank.
    assert [run.after for run in runs] == [None, 1, 2]


def test_heads_are_made_with_the_runs_they_stand_on(open_job: OpenJob) -> None:
    zone_id = rows.add_zone(open_job)
    text = "Size;Length;Nozzle;Rated at\n1;12;2;30\n1;10;1.5;30\n"
    paste(open_job, "ground", add_line("pipe_run", "run", zone_id), text).keep()
    heads = open_job.job.heads_of(zone_id)
    assert [(head.nozzle_gpm, head.rated_psi) for head in heads] == [(2, 30), (1.5, 30)]


@pytest.mark.parametrize(
    ("text", "refusal"),
    [
        ("1\tfront\tspray\nx\tback\tspray", r"^Line 2, Zone: Zone takes a whole number such as 3"),
        (
            "1\tfront\tspray\n2\tback\tcannon",
            r"^Line 2, Head type: Head type takes one of",
        ),
        (
            "No.\tName\tHeads\n1\tfront\tspray\n2\tback\t7",
            r"^Line 3, Head type: .*Nothing",
        ),
        (
            "No.\tName\tColour\n1\tfront\tred",
            r"^No column here has the head “Colour”: use No",
        ),
    ],
)
def test_one_refused_value_keeps_nothing(open_job: OpenJob, text: str, refusal: str) -> None:
    before = write_job(open_job.job)
    with pytest.raises(RefusedError, match=refusal) as refused:
        paste(open_job, "ground", add_line("zone", "zone"), text)
    assert len(str(refused.value)) <= 200
    open_job.refresh()
    assert write_job(open_job.job) == before


def test_a_section_that_can_not_grow_says_so(open_job: OpenJob) -> None:
    rows.add_zone(open_job)
    log_wires.set_conductors(open_job, rows.add_cable(open_job), "white red blue green")
    sheet = BUILDERS["boxes"](open_job.job, "us")
    at = next(cell.at for cell in sheet.cells() if cell.at.table == "valve")
    with pytest.raises(RefusedError, match=r"^Line 2 has no row here: 1 row is left"):
        paste(open_job, "boxes", at, "red\nblue")


def test_pasted_colours_are_wires_like_typed_ones(open_job: OpenJob) -> None:
    for _ in range(3):
        rows.add_zone(open_job)
    log_wires.set_conductors(open_job, rows.add_cable(open_job), "white red blue green")
    sheet = BUILDERS["boxes"](open_job.job, "us")
    at = next(cell.at for cell in sheet.cells() if cell.at.table == "valve")
    with pytest.raises(RefusedError, match="Line 2, Wire: “zz” is not one of them"):
        paste(open_job, "boxes", at, "red\nzz\ngreen")
    paste(open_job, "boxes", at, "red\tyes\nb\tyes\ngreen\tno").keep()
    valves = [open_job.job.valve_of(zone.id) for zone in open_job.job.zones]
    assert [(valve.colour, valve.splice_waterproof) for valve in valves if valve] == [
        ("red", True),
        ("blue", True),
        ("green", False),
    ]


def test_a_form_takes_a_column_of_values(open_job: OpenJob) -> None:
    at = CellRef("job", open_job.job_id, "customer")
    pasted = paste(open_job, at.place, at, "A. Customer\n555 0100\n")
    assert pasted.rows_filled == 2
    pasted.keep()
    assert (open_job.job.job.customer, open_job.job.job.phone) == ("A. Customer", "555 0100")
    with pytest.raises(RefusedError, match="entered here already"):
        paste(open_job, at.place, at, "A. Customer\n555 0100")
    with pytest.raises(RefusedError, match="Line 1, column 2: there is no cell for “b”"):
        paste(open_job, at.place, at, "a\tb\nc\td")


def test_cells_that_only_a_key_fills_are_passed_over(open_job: OpenJob) -> None:
    zone_id = rows.add_zone(open_job)
    at = next(
        cell.at
        for cell in BUILDERS["ground"](open_job.job, "us").cells()
        if (cell.at.table, cell.at.column) == ("backfill", "cover_in")
    )
    with pytest.raises(RefusedError, match="Line 1, column 7: there is no cell for “AB”"):
        paste(open_job, "ground", at, "12\tyes\tyes\tyes\tyes\tyes\tAB")
    with pytest.raises(RefusedError, match="Line 2, Sign: Sign is a key to press"):
        paste(open_job, "ground", at, "Cover\tSigned\n12\tAB")
    paste(open_job, "ground", at, "12\tyes\tyes\tyes\t\t").keep()
    stretch = open_job.job.backfill_of(zone_id)
    assert stretch is not None
    assert (stretch.cover_in, stretch.heads_at_grade, stretch.signed_by) == (12, True, "")


def test_columns_are_named_by_heads_or_labels_and_twice_in_turn(open_job: OpenJob) -> None:
    zone_id = rows.add_zone(open_job)
    text = "Length\tNozzle flow\tRated at\n12\t1.5\t30"
    rows.repeat_run(open_job, zone_id)
    at = CellRef("pipe_run", open_job.job.pipe_runs[0].id, "after")
    paste(open_job, "ground", at, text).keep()
    (head,) = open_job.job.heads
    assert (open_job.job.pipe_runs[0].length_ft, head.nozzle_gpm) == (12, 1.5)
    for name in ("left", "right"):
        cells.enter_text(
            open_job, CellRef("fixed_point", rows.add_fixed_point(open_job), "name"), name
        )
    tie = CellRef("tie", rows.add_tie(open_job), "thing")
    text = "What\tFrom\tTape\tAnd from\tTape\ndrain\tleft\t12'6\tright\t9"
    paste(open_job, "boxes", tie, text).keep()
    (row,) = open_job.job.ties
    assert (row.thing, row.tape_1_ft, row.tape_2_ft) == ("drain", 12.5, 9)


def test_a_draft_ends_as_the_acts_would_have(open_job: OpenJob) -> None:
    """Pasting is typing: the same values entered one by one give the same job."""
    text = "1\tlawn\tspray\n2\tbeds\tdrip"
    paste(open_job, "ground", add_line("zone", "zone"), text).keep()
    pasted = [(zone.number, zone.name, zone.head_kind) for zone in open_job.job.zones]
    open_job.undo()
    for line in text.splitlines():
        zone_id = rows.add_zone(open_job)
        for column, value in zip(("number", "name", "head_kind"), line.split("\t"), strict=True):
            cells.enter_text(open_job, CellRef("zone", zone_id, column), value)
    assert [(zone.number, zone.name, zone.head_kind) for zone in open_job.job.zones] == pasted
