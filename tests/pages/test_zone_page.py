"""The zone's page by keys, at three sizes: verdict first, pictures, help, and the file as SVG."""

from __future__ import annotations

import re
from pathlib import Path
from xml.etree import ElementTree

import pytest
from builders import put, sound_job
from click.testing import CliRunner
from crew import Crew, at_the_truck, click_on

from fieldbook.checks.water.zone_status import ZoneStatus, zone_statuses
from fieldbook.cli.main import main
from fieldbook.papers.zone_water.zone_sheet import zone_sheet
from fieldbook.records.ids import valve_id
from fieldbook.screens.pages.page import styled
from fieldbook.screens.pages.zone_help import ZONE_HELP
from fieldbook.screens.pages.zone_page import ZonePage
from fieldbook.screens.widgets.dialogs import AskLine, Read

SIZES = ((80, 24), (120, 40), (60, 18))


async def open_zone(crew: Crew) -> ZoneStatus:
    """Open the page of a zone that draws too much; returns how it stands."""
    await crew.open("208 Quarry Road", "desk")
    job = crew.open_job.job
    status = next(one for one in zone_statuses(job) if one.zone.number == 2)
    await crew.stand_on("zone", "water", status.zone.id)
    await crew.press("enter")
    assert isinstance(crew.app.screen, ZonePage)
    return status


@pytest.mark.parametrize("size", SIZES)
async def test_the_first_screen_has_the_verdict_and_what_governs(size: tuple[int, int]) -> None:
    async with at_the_truck(None, size) as crew:
        status = await open_zone(crew)
        assert status.worst is not None
        lines = crew.screen().splitlines()
        assert "Zone 2 (orchard)   ✗ wrong: over supply" in lines[1]
        shown = "\n".join(lines)
        for words in ("now", "limit", "spare", "Governs: ", "STOP Zone 2", "Esc close", "Ctrl+S"):
            assert words in shown, words
        read = await crew.read_page()
        for words in (
            "◆ zone 2 works at 17 gpm, 63.6 psi",
            "left at the head",
            "The tree of the zone, from its valve",
            f"◂ worst head: run 7, {status.worst.result.psi:.1f} psi; it needs 35 psi.",
        ):
            assert words in read, words
        # What mends it stands after the pictures.
        assert read.index("The tree of the zone") < read.index("What mends it")


async def test_the_desk_row_and_the_page_show_the_same_figures() -> None:
    async with at_the_truck(None, (120, 40)) as crew:
        await crew.open("14 Alder Lane", "desk")
        await crew.stand_on("zone", "water")
        zone = crew.cell.at.row_id
        row = " ".join(cell.text for cell in crew.cells if cell.at.row_id == zone).split()
        await crew.press("enter")
        read = await crew.read_page()
        figures = [word for word in row if word.replace(".", "").isdigit()]
        assert len(figures) >= 4
        for figure in figures:
            number = float(figure)
            assert f"{number:.1f}" in read or f"{number:.2f}" in read, figure


@pytest.mark.parametrize("key", ["question_mark", "f1"])
async def test_the_page_explains_its_headers_and_signs(key: str) -> None:
    async with at_the_truck(None) as crew:
        await open_zone(crew)
        await crew.press(key)
        assert isinstance(crew.app.screen, Read)
        read = await crew.read_page()
        for words in ("now:", "limit:", "spare:", "Governs:", "◆", "┊", "●", "◂", "◇", "to spare"):
            assert words in read, words
        await crew.press("escape")
        assert isinstance(crew.app.screen, ZonePage)


def test_every_header_and_label_of_a_sheet_is_explained() -> None:
    job = put(
        sound_job(1), "valve", valve_id("zone-1"), regulator_psi=40.0, filter_curve="0 1, 9 2"
    )
    text = zone_sheet(job, zone_statuses(job)[0], 73).text()
    heads = [line.split() for line in text.splitlines() if re.search(r" now | run +size ", line)]
    labels = re.findall(r"^([a-z][a-z ]+?)(?: \d+)?(?:,.*?)?  +[-=]? *\d", text, re.MULTILINE)
    assert {"draw", "worst head", "static pressure", "regulator", "left at the head"} <= set(labels)
    for word in [*heads[0], *heads[1], *labels]:
        assert word in ZONE_HELP, word
    for sign in set(re.findall(r"[^\w\s.,;:()/'^*%<>=+█▌▐⠀-⣿\u2500-\u257f-]", text)) - {"▏"}:
        assert sign in ZONE_HELP, sign


def test_a_name_is_shown_as_it_was_typed_and_never_obeyed() -> None:
    job = put(sound_job(1), "zone", "zone-1", name="[/] [bold]x <b>&")
    drawn = zone_sheet(job, zone_statuses(job)[0], 73)
    assert styled(drawn.lines()[0]).plain == "Zone 1 ([/] [bold]x <b>&)   ✓ sound"


async def test_the_keys_of_the_page_are_clicked() -> None:
    async with at_the_truck(None, (60, 18)) as crew:
        await open_zone(crew)
        await click_on(crew, "? explain")
        assert isinstance(crew.app.screen, Read)
        await crew.press("escape")
        await click_on(crew, "Ctrl+S write as SVG")
        assert isinstance(crew.app.screen, AskLine)
        await crew.press("escape")
        await click_on(crew, "Esc close")
        assert crew.at == ("zone", "water")


async def test_ctrl_s_writes_the_pictures_and_never_over_a_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("HOME", str(tmp_path))
    async with at_the_truck(None) as crew:
        await open_zone(crew)
        for name in ("208-quarry-road-zone-2.svg", "208-quarry-road-zone-2-2.svg"):
            await crew.press("ctrl+s", "enter")
            assert isinstance(crew.app.screen, ZonePage)
            assert "Wrote " in crew.screen()
            assert "Esc close" in crew.screen()
            root = ElementTree.parse(tmp_path / name).getroot()
            assert root.get("aria-label") == "208 Quarry Road: zone 2 (orchard)"
        await crew.press("ctrl+s")
        await crew.enter(f"{tmp_path}/208-quarry-road-zone-2.svg")
        assert isinstance(crew.app.screen, AskLine)
        assert "208-quarry-road-zone-2.svg is there already" in crew.screen()
        await crew.press("escape", "ctrl+s")
        await crew.enter(f"{tmp_path}/orchard")
        assert (tmp_path / "orchard.svg").is_file()
        assert len(list(tmp_path.iterdir())) == 3


def test_the_command_prints_and_writes_the_pictures(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("FIELDBOOK_BOOK", str(tmp_path / "book.sqlite"))
    demo = Path(__file__).parents[2] / "demo_jobs" / "alder_lane.json"

    def run(*arguments: str) -> tuple[int, str]:
        result = CliRunner().invoke(main, arguments)
        return result.exit_code, result.output

    assert run("import", str(demo))[0] == 0
    code, printed = run("picture", "Alder", "2")
    assert code == 0
    assert printed.startswith("Zone 2 (side strip)   ✓ sound")
    assert max(map(len, printed.splitlines())) <= 78
    tree = tmp_path / "tree.svg"
    assert run("picture", "Alder", "2", str(tree), "--only", "tree")[0] == 0
    words = tree.read_text("utf-8")
    assert "The tree of the zone" in words
    assert "left at the head" not in words
    assert run("picture", "Alder", "2", str(tree))[0] == 2
    assert run("picture", "Alder", "2", str(tree), "--over")[0] == 0
    code, refused = run("picture", "Alder", "9")
    assert (code, "14 Alder Lane has no zone 9: its zones are 1, 2, 3 and 4." in refused) == (
        2,
        True,
    )
