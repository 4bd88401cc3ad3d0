"""Every screen of the app, one after another, for its picture to be taken.

Each tour is one run of the app. It stands still at each name that it yields; the size and the
theme of the terminal may be changed there and are as before when it goes on.
"""

from __future__ import annotations

from collections.abc import AsyncIterator, Callable

from crew import Crew

from fieldbook.records.base import PLACES

Tour = Callable[[Crew], AsyncIterator[str]]


async def of_the_board(crew: Crew) -> AsyncIterator[str]:
    """The board, and what opens over it."""
    yield "board"
    await crew.press("question_mark")
    yield "board keys"
    await crew.press("escape", "f7")
    yield "day list"
    await crew.press("escape", "insert")
    yield "new property"
    await crew.press("escape", "slash")
    await crew.enter("castellane")
    yield "found"
    await crew.press("escape", "ctrl+e")
    yield "exchange"
    await crew.press("escape")


async def of_the_places(crew: Crew) -> AsyncIterator[str]:
    """The six places of a property with crossed wires."""
    await crew.open("31 Mill Street", "street")
    for place in PLACES:
        await crew.go(place)
        yield place


async def of_other_places(crew: Crew) -> AsyncIterator[str]:
    """Places where other work is done: digging, flushing, signing."""
    for address, place in (
        ("208 Quarry Road", "ground"),
        ("5 Harbor View", "ground"),
        ("5 Harbor View", "desk"),
        ("14 Alder Lane", "boxes"),
    ):
        await crew.press("home")
        await crew.open(address, place)
        yield f"{place} of {address.split(' ', 1)[1]}"
        await crew.press("ctrl+b")


async def of_the_cells(crew: Crew) -> AsyncIterator[str]:
    """What opens on a cell: a field, a refusal, a list, an explanation, a signature."""
    await crew.open("31 Mill Street", "street")
    await crew.stand_on("supply", "static_psi")
    await crew.type("62 ps")
    yield "a field"
    await crew.press("escape")
    await crew.enter("1-5")
    yield "a refusal"
    await crew.press("escape", "question_mark")
    yield "an explanation"
    await crew.press("escape")
    await crew.stand_on("supply", "meter_size")
    await crew.press("enter")
    yield "a list"
    await crew.press("escape", "ctrl+f")
    yield "flags"
    await crew.press("escape", "escape")
    yield "choosing a place"
    await crew.go("controller")
    await crew.stand_on("terminal", "colour")
    yield "wire colours"
    await crew.press("escape")
    await crew.go("desk")
    await crew.stand_on("sign_off", "sign off", "handover")
    await crew.press("space")
    yield "a signature refused"
    await crew.press("ctrl+b", "home")
    await crew.open("14 Alder Lane", "desk")
    await crew.stand_on("sign_off", "sign off", "handover")
    await crew.press("space")
    yield "a signature"


async def of_the_pages(crew: Crew) -> AsyncIterator[str]:
    """The pages over a place."""
    await crew.open("31 Mill Street", "controller")
    await crew.press("f2")
    yield "wire map"
    await crew.press("escape", "f4")
    yield "plan of nothing located"
    await crew.press("escape", "f5")
    yield "history"
    await crew.press("escape", "f3")
    yield "rule sets"
    await crew.press("down", "enter")
    yield "rules compared"
    await crew.press("escape")
    await crew.go("desk")
    await crew.stand_on("zone", "water")
    await crew.press("enter")
    await crew.app.workers.wait_for_complete()
    yield "zone page"
    await crew.press("escape", "ctrl+b", "home")
    await crew.open("14 Alder Lane", "boxes")
    await crew.press("f2")
    yield "wire map without doubt"
    await crew.press("escape", "f4")
    yield "plan"


async def of_the_palette(crew: Crew) -> AsyncIterator[str]:
    """Every action of the board, and what is found at a place."""
    await crew.press("ctrl+p")
    yield "palette of the board"
    await crew.press("escape")
    await crew.open("31 Mill Street", "controller")
    await crew.press("ctrl+p")
    await crew.type("wire")
    await crew.app.workers.wait_for_complete()
    yield "palette of a place"


async def of_the_guide(crew: Crew) -> AsyncIterator[str]:
    """The first steps of the guided job."""
    crew.app.start_guide()
    await crew.pilot.pause()
    yield "guide on the board"
    await crew.press("insert")
    await crew.enter("9 Fern Way")
    yield "guide at the street"


async def of_a_new_book(crew: Crew) -> AsyncIterator[str]:
    """What a laptop shows first."""
    yield "first run"
    await crew.enter("ab")
    yield "empty board"
    await crew.press("insert")
    await crew.enter("12 Elm Street")
    yield "new street"
    await crew.go("boxes")
    yield "new boxes"
    await crew.go("controller")
    yield "new controller"


async def of_what_differs(crew: Crew) -> AsyncIterator[str]:
    """A property that two laptops entered differently."""
    await crew.press("enter", "f6")
    yield "what differs"
    await crew.press("t")
    yield "another value"


async def of_a_paste(crew: Crew) -> AsyncIterator[str]:
    """A pasted table, before it is kept."""
    await crew.open("31 Mill Street", "boxes")
    await crew.stand_on("valve", "colour")
    crew.place.paste("red\tyes\nblue\tno\n")
    await crew.pilot.pause()
    yield "a paste"


async def of_a_row(crew: Crew) -> AsyncIterator[str]:
    """A whole row as a page, and the question which photo is attached to it."""
    await crew.open("31 Mill Street", "boxes")
    await crew.stand_on("valve", "colour")
    await crew.press("f10")
    yield "a whole row"
    await crew.press("escape", "ctrl+a")
    yield "attaching a photo"


async def of_the_years_after(crew: Crew) -> AsyncIterator[str]:
    """A property in service: its visits, a diagnosis, the programmes and their month."""
    await crew.open("3 Juniper Court", "service")
    yield "service in use"
    await crew.press("alt+v")
    yield "visits"
    await crew.press("escape", "alt+w")
    await crew.app.workers.wait_for_complete()
    yield "diagnosis"
    await crew.press("escape")
    await crew.go("controller")
    await crew.stand_on("programme", "starts")
    yield "programmes"
    await crew.press("alt+m")
    yield "month"


async def of_another_language(crew: Crew) -> AsyncIterator[str]:
    """The board and two places in Spanish."""
    await crew.press("alt+l")
    yield "board in Spanish"
    await crew.open("31 Mill Street", "street")
    yield "street in Spanish"
    await crew.go("service")
    yield "service in Spanish"
    # The language is one setting of the program, which the next test shares.
    await crew.press("alt+l")


DEMO_TOURS: tuple[Tour, ...] = (
    of_the_board,
    of_the_places,
    of_other_places,
    of_the_cells,
    of_the_pages,
    of_the_guide,
    of_a_paste,
    of_a_row,
    of_the_years_after,
    of_another_language,
)
"""Tours of the demo's properties."""
