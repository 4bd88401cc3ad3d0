"""What a crew sees of the three answers: open checks, cautions where the work is, what is asked."""

from __future__ import annotations

from pathlib import Path

import pytest
from builders import put, sound_job, without
from crew import at_a_new_property, at_the_truck

from fieldbook.actions.job_files import import_bytes
from fieldbook.checks.finding import CellRef
from fieldbook.jobfile.write import write_job
from fieldbook.records.base import Place
from fieldbook.screens.widgets.dialogs import Choose
from fieldbook.store.book import Book
from fieldbook.trade.cautions import CAUTIONS

SIZES = ((80, 24), (120, 40), (60, 18))


@pytest.mark.parametrize("size", SIZES)
async def test_a_new_property_names_what_is_not_checked_and_never_says_no_flags(
    book_file: Path, size: tuple[int, int]
) -> None:
    async with at_a_new_property(book_file, size) as crew:
        await crew.go("street")
        assert crew.flags == []
        assert "the static pressure" in crew.screen()
        for place in ("street", "boxes", "ground", "controller", "desk"):
            await crew.go(place)
            assert "No flags" not in crew.screen()


async def test_enter_on_an_open_check_goes_to_the_cell_it_lacks(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.go("desk")
        await crew.press("ctrl+f", "enter")
        assert crew.place.place == "street"
        assert crew.at == ("supply", "static_psi")
        assert "Enter the static pressure." in crew.said


async def test_the_board_counts_open_checks_apart_from_flags() -> None:
    async with at_the_truck(None, (120, 40)) as crew:
        rows = {row.address: row for row in crew.lines}
        mill = rows["31 Mill Street"]
        assert mill.open == 1
        line = next(line for line in crew.screen().splitlines() if "31 Mill" in line)
        assert line.split()[-1] == "1"
        assert mill.flags in line


@pytest.mark.parametrize(
    ("place", "dangers"),
    [
        ("street", ("contamination", "pressurised lines")),
        ("boxes", ("lids", "insects")),
        ("ground", ("trench", "hand-digging", "cement fumes", "compressed air")),
        ("controller", ("mains",)),
    ],
)
@pytest.mark.parametrize("size", [(80, 24), (60, 18)])
async def test_cautions_stand_where_the_work_is_before_anything_is_entered(
    book_file: Path, size: tuple[int, int], place: Place, dangers: tuple[str, ...]
) -> None:
    async with at_a_new_property(book_file, size) as crew:
        await crew.go(place)
        seen = ""
        for _ in range(40):
            seen += crew.screen()
            await crew.press("down")
        for caution in CAUTIONS:
            if caution.danger in dangers:
                assert caution.line in seen, caution.danger


async def test_one_key_says_that_there_is_no_hazard(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.go("street")
        await crew.stand_on("supply", "chemicals")
        await crew.press("up", "space")
        supply = crew.open_job.job.supply
        assert supply is not None
        asked = (supply.chemicals, supply.septic, supply.second_source, supply.pump)
        assert asked == (False, False, False, False)
        await crew.press("ctrl+z")
        supply = crew.open_job.job.supply
        assert supply is None or supply.chemicals is None


async def test_a_well_is_asked_for_what_it_gives_and_not_for_a_meter(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.go("street")
        assert {cell.at.column for cell in crew.cells} >= {"meter_size", "service_class"}
        await crew.stand_on("supply", "source")
        await crew.enter("well")
        columns = {cell.at.column for cell in crew.cells}
        assert "source_gpm" in columns
        assert columns.isdisjoint({"meter_size", "service_class", "meter_safe_gpm"})


async def test_an_avb_is_inspected_and_has_no_test_to_enter(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.go("street")
        await crew.stand_on("backflow_assembly", "add backflow")
        await crew.press("enter")
        # The new row begins with its kind, chosen from a list.
        await crew.enter("PVB")
        columns = {cell.at.column for cell in crew.cells}
        assert "add backflow test" in columns
        assert "inspected_by" not in columns
        await crew.stand_on("backflow_assembly", "kind")
        await crew.enter("AVB")
        columns = {cell.at.column for cell in crew.cells}
        assert "inspected_by" in columns
        assert "add backflow test" not in columns


async def test_the_usual_utilities_are_one_key_and_each_answers_for_itself(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.go("ground")
        await crew.stand_on("locate_ticket", "add ticket")
        await crew.press("enter")
        await crew.enter("2604-118")
        seen = crew.screen()
        await crew.stand_on("utility_answer", "add utility answer")
        await crew.press("enter")
        answers = crew.open_job.job.utility_answers
        assert len(answers) >= 5
        assert all(answer.answer is None for answer in answers)
        await crew.stand_on("utility_answer", "answer", answers[0].id)
        await crew.enter("marked")
        marked = [answer.answer for answer in crew.open_job.job.utility_answers]
        assert marked == ["marked", *[None] * (len(answers) - 1)]
        for _ in range(30):
            seen += crew.screen()
            await crew.press("down")
        # APWA's colours: red power, yellow gas, blue drinking water; the width comes from a rule.
        for word in ("red", "yellow", "blue", "by hand"):
            assert word in seen.lower(), word


async def test_ctrl_o_on_a_signed_line_says_that_it_is_signed(book_file: Path) -> None:
    async with at_the_truck(None) as crew:
        await crew.open("14 Alder Lane", "ground")
        stretch = crew.open_job.job.backfills[0]
        assert stretch.signed_by
        at = CellRef("backfill", stretch.id, "sign")
        crew.place.open_place("ground", at)
        await crew.pilot.pause()
        before = crew.open_job.job
        await crew.press("ctrl+o")
        assert crew.open_job.job == before
        assert "signed" in crew.said


async def test_whoever_signs_reads_what_is_not_checked(book_file: Path) -> None:
    job = without(sound_job(), "pipe_run", "head")
    for zone_id in ("zone-1", "zone-2"):
        job = put(job, "zone", zone_id, design_flow_gpm=6.0)
    for stretch in job.backfills:
        job = put(job, "backfill", stretch.id, signed_by="", signed_at="")
    with Book(book_file) as book:
        book.laptop.set_initials("AB")
        import_bytes(book, write_job(job).encode("utf-8"), "AB")
    async with at_the_truck(book_file) as crew:
        await crew.press("enter")
        await crew.go("ground")
        zone = crew.open_job.job.zones[0]
        stretch_id = crew.open_job.job.backfill_of(zone.id)
        assert stretch_id is not None
        await crew.stand_on("backfill", "sign", stretch_id.id)
        await crew.press("space")
        assert isinstance(crew.app.screen, Choose), crew.said
        assert "Not checked: the lateral of zone 1" in " ".join(
            crew.screen().replace("│", " ").split()
        )
        await crew.press("enter")
        still = crew.open_job.job.backfill_of(zone.id)
        assert still is not None
        assert not still.signed_by


async def test_a_doubtful_wire_is_not_painted_like_a_proven_one() -> None:
    async with at_the_truck(None, (120, 40)) as crew:
        await crew.open("31 Mill Street", "controller")
        rows = [line.row for line in crew.place.cursor.lines if line.row is not None]
        # The tests of the terminals follow under the same labels.
        tails = {row.label: (row.tail, row.tail_mood) for row in reversed(rows) if row.tail}
        assert tails["Terminal 1"] == ("~ zone 1", "")
        assert tails["Terminal 2"] == ("? 2 or 3?", "tight")
        assert "= " not in "".join(tail for tail, _mood in tails.values())


async def test_a_key_of_the_board_says_inside_a_property_where_it_works(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.press("f7")
        assert "“The day” works on the board: Ctrl+B goes there." in " ".join(crew.said.split())
