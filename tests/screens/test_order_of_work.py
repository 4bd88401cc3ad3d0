"""The sheets follow the work: what comes first on the property comes first on the sheet."""

from __future__ import annotations

from pathlib import Path

from builders import sound_job
from crew import at_a_new_property

from fieldbook.records.base import PLACES, Place
from fieldbook.records.tables.sign_offs import SIGN_OFF_PLACES
from fieldbook.screens.sheets import BUILDERS


def titles(place: Place) -> list[str]:
    """The titles of a place's sections, top to bottom."""
    return [section.title for section in BUILDERS[place](sound_job(), "us").sections]


def test_who_and_where_come_first() -> None:
    assert titles("street")[0] == "Property"
    first = BUILDERS["street"](sound_job(), "us").sections[0]
    assert [row.label for row in first.rows][:3] == ["Address", "Customer", "Phone"]


def test_the_ground_goes_from_the_permit_to_the_backfill() -> None:
    order = [
        "Zones",
        "Permits",
        "Locate ticket",
        "What each utility answered to the ticket",
        "Sign-off",
        "Mainline",
        "Lateral of zone 1 lawn 1",
        "Cement, before the pressure test",
        "Pressure test, water only",
        "Flush, the mainline first",
        "Inspections",
        "Backfill",
    ]
    at = [titles("ground").index(title) for title in order]
    assert at == sorted(at)
    # What the schedule needs to know of a zone is no part of the work, and comes after it.
    assert titles("ground")[-2] == "Backfill"
    assert titles("ground")[-1].startswith("Watering of the zones")


def test_the_desk_holds_only_what_is_done_at_a_desk() -> None:
    tables = {cell.at.table for cell in BUILDERS["desk"](sound_job(), "us").cells()}
    assert not tables & {"job", "permit", "locate_ticket", "utility_answer", "inspection"}


def test_every_sign_off_is_signed_once_where_its_work_is() -> None:
    found = {
        cell.at.row_id: place
        for place in PLACES
        for cell in BUILDERS[place](sound_job(), "us").cells()
        if cell.at.table == "sign_off"
    }
    assert found == SIGN_OFF_PLACES


async def test_a_new_property_begins_with_its_customer_and_the_title_points_on(
    book_file: Path,
) -> None:
    async with at_a_new_property(book_file, (120, 40)) as crew:
        assert "Next here: Read the static pressure." in crew.screen()
        assert crew.screen().index("Customer") < crew.screen().index("Static")
        await crew.go("boxes")
        assert "Next here: Add the first valve box." in crew.screen()
        await crew.go("desk")
        assert "Next at the street: Read the static pressure." in crew.screen()
