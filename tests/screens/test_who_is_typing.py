"""Who is typing: F9 changes it without a restart, and a licensed member countersigns."""

from __future__ import annotations

from pathlib import Path

import pytest
from crew import at_a_new_property, at_the_truck

from fieldbook.checks.progress.countersignatures import over_entries, over_sign_off

SIZES = ((80, 24), (120, 40), (60, 18))


async def test_f9_asks_who_is_typing_and_the_entries_carry_it(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.enter("62")
        await crew.press("f9")
        assert "AB" in crew.screen()
        await crew.press("end", "enter")
        await crew.enter("cd")
        assert crew.said == "CD is typing from now on."
        await crew.stand_on("job", "phone")
        await crew.enter("555 0100")
        job = crew.open_job
        values = job.book.past_values(job.job_id, job.job_id, "phone")
        assert [turn.who for turn in values][-1] == "CD"
        # The one who typed before is the first choice: two keys change turns.
        await crew.press("f9", "enter")
        assert crew.open_job.by == "AB"
        assert crew.screen().splitlines()[0].rstrip().endswith("AB")
        await crew.press("ctrl+b", "f9", "enter")
        assert crew.screen().splitlines()[0].rstrip().endswith("CD")
        assert crew.book.by == "CD"
    async with at_the_truck(book_file) as crew:
        assert crew.book.by == "CD"
        assert crew.book.book.laptop.people() == ["CD", "AB"]


async def test_initials_that_are_none_are_refused_and_esc_changes_nothing(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.press("f9", "end", "enter")
        await crew.enter("--")
        assert "letters or digits" in crew.screen()
        await crew.press("escape")
        assert crew.open_job.by == "AB"


@pytest.mark.parametrize("size", SIZES)
async def test_a_signature_is_countersigned_and_shows_it(
    book_file: Path, size: tuple[int, int]
) -> None:
    async with at_a_new_property(book_file, size) as crew:
        await crew.go("desk")
        await crew.stand_on("sign_off", "sign off", "price")
        await crew.press("ctrl+k")
        assert "Nobody has signed here yet" in " ".join(crew.said.split())
        await crew.press("ctrl+o")
        await crew.enter("A. Foreman", "the customer knows")
        await crew.press("ctrl+k")
        assert "somebody else countersigns" in " ".join(crew.said.split())
        await crew.press("f9", "end", "enter")
        await crew.enter("cd")
        await crew.stand_on("sign_off", "sign off", "price")
        await crew.press("ctrl+k")
        assert "Licence of CD" in crew.screen()
        await crew.enter("LI 2041")
        found = over_sign_off(crew.open_job.job, "price", None)
        assert found is not None
        assert found.licence == "LI 2041"
        assert "countersigned by CD, licence LI 2041" in crew.screen()
        await crew.press("f1")
        assert "countersigned by CD, licence LI 2041" in " ".join(
            crew.screen().replace("│", " ").split()
        )
        await crew.press("escape", "ctrl+z")
        assert "It is a signature." in crew.screen()
        await crew.press("down", "enter")
        assert over_sign_off(crew.open_job.job, "price", None) is None


async def test_the_entries_of_an_apprentice_are_countersigned(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.enter("62")
        await crew.press("f9", "end", "enter")
        await crew.enter("cd")
        await crew.press("ctrl+k")
        assert "Whose entries at the street?" in crew.screen()
        await crew.press("enter")
        await crew.enter("LI 2041")
        (found,) = over_entries(crew.open_job.job, "street")
        assert (found.person, found.row.signed_by) == ("AB", "CD")
        await crew.press("ctrl+end")
        assert "Countersigned" in crew.said
