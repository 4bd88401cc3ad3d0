"""The plan's page at three sizes: in sight without scrolling, explained, written as SVG."""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree

import pytest
from crew import at_the_truck

from fieldbook.screens.pages.picture_page import PicturePage

SIZES = ((80, 24), (120, 40), (60, 18))


@pytest.mark.parametrize("size", SIZES)
async def test_the_map_is_in_sight_with_its_boxes_wall_and_scale(size: tuple[int, int]) -> None:
    async with at_the_truck(None, size) as crew:
        await crew.open("14 Alder Lane", "boxes")
        await crew.press("f4")
        assert isinstance(crew.app.screen, PicturePage)
        shown = crew.screen()
        assert shown.count("■") >= 2
        for words in ("box A", "box B", "━━━", "├", "north is up", "splice", "? explain"):
            assert words in shown, words
        told = await crew.read_page()
        for words in ("Corners, where a tape begins", "Not located: ", "Call before digging"):
            assert words in told, words
        await crew.press("f4")
        assert crew.place.place == "boxes"


async def test_every_header_and_sign_of_the_page_is_explained() -> None:
    async with at_the_truck(None, (120, 60)) as crew:
        await crew.open("14 Alder Lane", "boxes")
        await crew.press("f4", "question_mark")
        told = crew.screen()
        for sign in "▲■✕♦○┄─━":
            assert sign in told
        for words in ("Corners, where a tape begins:", "How to find each part:", "Not located:"):
            assert words in told


async def test_the_plan_is_written_as_svg_and_no_file_is_written_over(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("HOME", str(tmp_path))
    async with at_the_truck(None) as crew:
        await crew.open("14 Alder Lane", "boxes")
        await crew.press("f4", "ctrl+s", "enter")
        written = tmp_path / "14-alder-lane-plan.svg"
        await crew.wait_until(lambda: "Wrote" in crew.screen())
        root = ElementTree.fromstring(written.read_text("utf-8"))
        assert "RECORD DRAWING" in "".join(root.itertext())
        before = written.read_bytes()
        await crew.press("ctrl+s")
        await crew.type(str(written))
        await crew.press("enter")
        await crew.wait_until(lambda: "is there already" in crew.screen())
        assert written.read_bytes() == before
