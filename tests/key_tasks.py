"""Twelve everyday tasks, each done by keys on the demo and counted, with the most keys it may take.

Each begins at the street of an open property, or on the board where the task belongs there, and
ends with what was asked for in the book or on the screen. `count_keys.py` prints the figures,
`tests/bulk/test_count_keys.py` holds them, and a table in DEVELOPERS.md lists them.
"""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Mapping
from pathlib import Path

from crew import Crew, at_the_truck
from PIL import Image

from fieldbook.actions import signing
from fieldbook.actions.cells import enter
from fieldbook.actions.files.attach import attach
from fieldbook.checks.finding import CellRef
from fieldbook.screens.job.job_screen import JobScreen
from fieldbook.screens.pages.page import Page
from fieldbook.screens.widgets.dialogs import Choose

DONE, FLAGGED = "14 Alder Lane", "31 Mill Street"
"""Demo properties: one with everything entered, one with wires that are mixed up."""
Task = Callable[[Crew], Awaitable[None]]


async def log_a_wire_colour(crew: Crew) -> None:
    """The colour of a valve's wire was wiped: go to the boxes, which open there, and press it."""
    valve = crew.open_job.job.valves[0]
    colour = valve.colour
    await begin(crew, lambda: enter(crew.open_job, CellRef("valve", valve.id, "colour"), None))
    await crew.go("boxes")
    await crew.press(next(one.key for one in crew.cell.options if one.word == colour))
    assert crew.open_job.job.valves[0].colour == colour


async def tick_a_flush(crew: Crew) -> None:
    """A zone is not flushed yet: go to the ground, which opens there, and press Space."""
    zone_id = crew.open_job.job.zones[1].id
    await begin(crew, lambda: signing.tick_flush(crew.open_job, zone_id))
    assert not signing.flushed(crew.open_job.job, zone_id)
    await crew.go("ground")
    await crew.press("home", "space")
    assert signing.flushed(crew.open_job.job, zone_id)


async def add_a_head(crew: Crew) -> None:
    """From the last run of a zone: down to the line that repeats it, and Enter."""
    zone = crew.open_job.job.zones[0]
    heads = len(crew.open_job.job.heads_of(zone.id))
    await crew.go("ground")
    last = crew.open_job.job.runs_of(zone.id)[-1]
    await crew.stand_on("pipe_run", "size", last.id)
    crew.keys = 0
    await crew.press("down", "enter")
    assert len(crew.open_job.job.heads_of(zone.id)) == heads + 1


async def record_a_terminal(crew: Crew) -> None:
    """What is under a terminal is not known: go to the controller, and press the wire's key."""
    end = next(end for end in crew.open_job.job.terminals if end.number == 2)
    colour = end.colour
    await begin(crew, lambda: enter(crew.open_job, CellRef("terminal", end.id, "colour"), None))
    await crew.go("controller")
    await crew.press(next(one.key for one in crew.cell.options if one.word == colour))
    assert any(one.colour == colour for one in crew.open_job.job.terminals if one.number == 2)


async def record_a_static_pressure(crew: Crew) -> None:
    """Nothing is read at the street yet: it opens there; two digits and Enter."""
    supply = crew.open_job.job.supply
    assert supply is not None
    await begin(
        crew, lambda: enter(crew.open_job, CellRef("supply", supply.id, "static_psi"), None)
    )
    await crew.go("street")
    await crew.enter("62")
    assert crew.open_job.job.supply is not None
    assert crew.open_job.job.supply.static_psi == 62


async def jump_to_a_flag(crew: Crew) -> None:
    """The worst flag: to the list, and Enter."""
    await crew.press("ctrl+b")
    await crew.open(FLAGGED, "desk")
    worst = crew.open_job.findings[0]
    crew.keys = 0
    await crew.press("ctrl+f", "enter")
    assert crew.cell.at == worst.at


async def find_a_property(crew: Crew) -> None:
    """On the board: some letters of it, Enter for the search, Enter to open it."""
    await crew.press("ctrl+b")
    crew.keys = 0
    await crew.type("qua")
    await crew.press("enter", "enter")
    assert crew.open_job.job.job.address == "208 Quarry Road"


async def undo(crew: Crew) -> None:
    """Take the last entry back."""
    at = CellRef("job", crew.open_job.job_id, "customer")
    before = crew.open_job.job.job.customer
    await begin(crew, lambda: enter(crew.open_job, at, "Somebody else"))
    await crew.press("ctrl+z")
    assert crew.open_job.job.job.customer == before


async def attach_a_photo(crew: Crew) -> None:
    """To the next thing without a photo, and attach the newest one of the folder used last."""
    folder = crew.book.book.path.parent / "photos"
    folder.mkdir()
    for name in ("1.jpg", "2.jpg"):
        Image.new("RGB", (4, 4)).save(folder / name)
    job_id = crew.open_job.job_id
    await begin(crew, lambda: attach(crew.open_job, "job", job_id, str(folder / "1.jpg")))
    await crew.press("ctrl+t", "ctrl+a", "enter")
    assert crew.open_job.job.attachments[-1].name == "2.jpg"
    assert crew.open_job.job.attachments[-1].note


async def sign_a_stretch(crew: Crew) -> None:
    """All of a zone's stretch is entered: go to the ground, which opens there, and sign."""
    zone_id = crew.open_job.job.zones[0].id
    await begin(crew, lambda: signing.sign_backfill(crew.open_job, zone_id))
    await crew.go("ground")
    assert crew.at == ("backfill", "sign")
    await crew.press("space")
    if isinstance(crew.app.screen, Choose):
        await crew.press("down", "enter")
    stretch = crew.open_job.job.backfill_of(zone_id)
    assert stretch is not None
    assert stretch.signed_by


async def copy_a_zone(crew: Crew) -> None:
    """From any row of the zone: one more like it."""
    zones = len(crew.open_job.job.zones)
    await crew.go("ground")
    await crew.stand_on("zone", "name")
    crew.keys = 0
    await crew.press("ctrl+r", "enter")
    assert len(crew.open_job.job.zones) == zones + 1


async def open_the_day_list(crew: Crew) -> None:
    """On the board: what can be done today on every property."""
    await crew.press("ctrl+b")
    crew.keys = 0
    await crew.press("f7")
    assert isinstance(crew.app.screen, Page)


BUDGETS: Mapping[str, tuple[int, Task]] = {
    "log a wire colour": (2, log_a_wire_colour),
    "tick a flush": (3, tick_a_flush),
    "add a head like the last": (2, add_a_head),
    "record a terminal": (2, record_a_terminal),
    "record a static pressure": (4, record_a_static_pressure),
    "jump to a flag": (2, jump_to_a_flag),
    "find a property": (5, find_a_property),
    "undo": (1, undo),
    "attach a photo": (3, attach_a_photo),
    "sign a stretch": (4, sign_a_stretch),
    "copy a zone": (2, copy_a_zone),
    "open the day list": (1, open_the_day_list),
}
"""By the name of the task: the most keys it may take, and how it is done."""


async def begin(crew: Crew, set_up: Callable[[], object]) -> None:
    """Make the record as the task needs it, stand at the street, and count from there."""
    set_up()
    assert isinstance(crew.app.screen, JobScreen)
    crew.place.redraw()
    await crew.go("street")
    crew.keys = 0


async def keys_of(task: Task) -> int:
    """The keys that a task takes, at the demo property that has everything entered."""
    async with at_the_truck(None) as crew:
        await crew.open(DONE, "street")
        crew.keys = 0
        await task(crew)
        return crew.keys


def listed_in(path: Path) -> dict[str, int]:
    """The budgets that a Markdown table lists: rows of a task and a number."""
    rows = [line.strip("| ").split(" | ") for line in path.read_text("utf-8").splitlines()]
    return {
        cells[at]: int(cells[at + 1])
        for cells in rows
        for at in range(0, len(cells) - 1, 2)
        if cells[at] in BUDGETS
    }
