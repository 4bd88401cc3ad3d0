"""Why a sign-off is held back: the sentence is whole on every screen, and F1 shows every reason."""

from __future__ import annotations

from pathlib import Path

import pytest
from crew import Crew, at_a_new_property

from fieldbook.screens.sheets.presses import Signature

SIZES = [(60, 18), (80, 24), (120, 40)]


def signature_of(crew: Crew) -> Signature:
    press = crew.cell.press
    assert isinstance(press, Signature)
    return press


@pytest.mark.parametrize("size", SIZES)
async def test_a_refusal_is_whole_and_every_reason_is_read(
    book_file: Path, size: tuple[int, int]
) -> None:
    async with at_a_new_property(book_file, size, address="9 Elm Street") as crew:
        await crew.go("desk")
        await crew.stand_on("sign_off", "sign off", "handover")
        await crew.press("space")
        painted = " ".join(crew.screen().split())
        assert crew.said.strip()
        assert " ".join(crew.said.split()) in painted
        reasons = signature_of(crew).reasons(crew.open_job)
        assert len(reasons) > 1
        assert "F1 shows all" in painted
        await crew.press("f1")
        seen = ""
        for _ in range(25):
            seen += crew.screen()
            await crew.press("down")
        words = seen.replace("│", " ").split()
        for reason in reasons:
            missing = [word for word in reason.split() if word not in words]
            assert not missing, reason
        # The keys scroll it as far as its last line, and Esc comes back to the cell.
        await crew.press("end")
        assert "Esc close" in crew.screen()
        await crew.press("escape")
        assert crew.at == ("sign_off", "sign off")
        assert crew.open_job.job.sign_offs == ()
