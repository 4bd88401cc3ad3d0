"""How many keys a whole six-zone property takes, part by part, and how many the everyday tasks.

`python tests/count_keys.py` prints the figures; `tests/bulk/test_count_keys.py` holds them. Every
key goes through the app, from `Ins` on an empty board to the last signature. The crew counted here
knows its keys: it goes from cell to cell on the shortest way that arrows, Home, End, PgUp, PgDn,
Ctrl+N and Alt+1 to 6 offer, so that the count is that of the screens and not of wrong turns.
"""

from __future__ import annotations

import asyncio
import copy
import sys
import tempfile
from collections import deque
from collections.abc import Callable, Mapping, Sequence
from datetime import date, timedelta
from pathlib import Path

sys.path.insert(0, str(Path(__file__).with_name("support")))

from crew import Crew, at_the_truck
from key_tasks import BUDGETS, keys_of

from fieldbook.checks.desk.owner_shown import WALK_THROUGH
from fieldbook.checks.progress.holds import SIGN_OFFS
from fieldbook.checks.progress.standing import proven
from fieldbook.checks.registry import instant
from fieldbook.screens.job.cursor import Cursor
from fieldbook.screens.job.job_screen import JobScreen
from fieldbook.screens.sheets.sheet import Cell
from fieldbook.screens.widgets.dialogs import Choose

MOST_KEYS = 1100
"""The goal for a whole property of six zones."""
ZONES = ("front lawn", "back lawn", "side lawn", "drive strip", "rose beds", "herb beds")
WIRES = ("red", "blue", "green", "orange", "black", "yellow")
FIRST_RUN_FT = ("12", "18", "9", "22", "14", "16")
COIL_OHMS = ("31.2", "30.8", "31.5", "29.9", "32.1", "30.4")
_MOVES: Mapping[str, Callable[[Cursor], object]] = {
    "down": lambda cursor: cursor.move(1, 0),
    "right": lambda cursor: cursor.move(0, 1),
    "up": lambda cursor: cursor.move(-1, 0),
    "left": lambda cursor: cursor.move(0, -1),
    "home": lambda cursor: cursor.to_edge(end=False),
    "end": lambda cursor: cursor.to_edge(end=True),
    "pagedown": lambda cursor: cursor.move_section(1),
    "pageup": lambda cursor: cursor.move_section(-1),
    "ctrl+n": lambda cursor: cursor.next_open(),
}


def days_ago(days: int) -> str:
    """A day before today, as it is typed."""
    return (date.today() - timedelta(days=days)).isoformat()


def shortest_way(cursor: Cursor, wanted: Callable[[Cell], bool]) -> list[str]:
    """The fewest keys from the cursor to a wanted cell of its sheet."""
    begin = copy.copy(cursor)
    ways: deque[tuple[Cursor, list[str]]] = deque([(begin, [])])
    seen = {(begin.row_no, begin._cell_no)}
    while ways:
        here, keys = ways.popleft()
        if here.cell is not None and wanted(here.cell):
            return keys
        for key, move in _MOVES.items():
            there = copy.copy(here)
            move(there)
            if (there.row_no, there._cell_no) not in seen:
                seen.add((there.row_no, there._cell_no))
                ways.append((there, [*keys, key]))
    raise AssertionError("the cell is not on this sheet")


_KEEPS: Mapping[str, Callable[[Cursor], object]] = {
    "enter": lambda cursor: cursor.go_on(),
    **{key: _MOVES[key] for key in ("down", "up", "ctrl+n", "pagedown", "pageup")},
}
"""Keys that keep what is typed, and where the cursor then goes."""


class Typist:
    """A crew that goes the shortest way to each cell and types what it takes."""

    def __init__(self, crew: Crew, zones: Sequence[str]) -> None:
        self.crew, self.zones = crew, zones
        self.wires = WIRES[: len(zones)]
        self.parts: dict[str, int] = {}
        self._typing = False

    async def part(self, name: str) -> None:
        """Keep what is typed, and put the keys since the last part under a name."""
        if self._typing:
            await self._keep("enter")
        self.parts[name] = self.parts.get(name, 0) + self.crew.keys
        self.crew.keys = 0

    async def go(self, place: str) -> None:
        """Go to a place, which keeps what is typed."""
        self._typing = False
        await self.crew.go(place)

    async def at(self, table: str, column: str, number: int = 0) -> None:
        """Go to the cell of this column in the row of this number on the sheet."""
        ids = [
            cell.at.row_id
            for cell in self.crew.cells
            if (cell.at.table, cell.at.column) == (table, column)
        ]
        assert number < len(ids), (table, column, number, ids)

        def wanted(cell: Cell) -> bool:
            at = cell.at
            return (at.table, at.column, at.row_id) == (table, column, ids[number])

        if self._typing:
            await self._keep(self._nearest(wanted))
        await self.crew.press(*shortest_way(self.crew.place.cursor, wanted))
        assert self.crew.at == (table, column), (table, column, self.crew.at)

    def _nearest(self, wanted: Callable[[Cell], bool]) -> str:
        """The key that keeps what is typed and leaves the cursor nearest to a cell."""
        ways = {}
        for key, move in _KEEPS.items():
            there = copy.copy(self.crew.place.cursor)
            # Ctrl+N goes to another place where this one wants nothing more.
            if move(there) is not False:
                ways[key] = len(shortest_way(there, wanted))
        return min(ways, key=lambda key: ways[key])

    async def _keep(self, key: str) -> None:
        cell = self.crew.cell
        await self.crew.press(key)
        assert not self.crew.place.sheet.typing, (cell.at, self.crew.said)
        self._typing = False

    async def put(self, table: str, number: int = 0, /, **texts: str) -> None:
        """Type each text in its column of a row. The key that goes on keeps it."""
        for column, text in texts.items():
            await self.at(table, column, number)
            await self._type(text)

    async def _type(self, text: str) -> None:
        """Type a text: a field stays open until the key that goes on, a list takes Enter."""
        await self.crew.type(text)
        await self.crew.pilot.pause()
        self._typing = isinstance(self.crew.app.screen, JobScreen)
        if not self._typing:
            await self.crew.press("enter")

    async def yes(self, table: str, *columns: str, number: int = 0) -> None:
        """Answer ticks with yes."""
        await self._answer("y", table, columns, number)

    async def no(self, table: str, *columns: str, number: int = 0) -> None:
        """Answer ticks with no."""
        await self._answer("n", table, columns, number)

    async def _answer(self, key: str, table: str, columns: tuple[str, ...], number: int) -> None:
        for column in columns:
            await self.at(table, column, number)
            await self.crew.press(key)

    async def add(self, table: str, name: str, text: str = "", number: int = 0) -> None:
        """Add a row by typing its first value on the line that adds one, and Enter."""
        await self.at(table, f"add {name}", number)
        await self.crew.type(text)
        await self.crew.press("enter")

    async def wire(self, table: str, colours: tuple[str, ...], first: int = 0) -> None:
        """Press the key of each colour, from the row of this number on."""
        for number, colour in enumerate(colours, start=first):
            await self.at(table, "colour", number)
            option = next((one for one in self.crew.cell.options if one.word == colour), None)
            assert option is not None, (colour, self.crew.cell.options)
            await self.crew.press(option.key)

    async def same_box(self, box: str, rows: range) -> None:
        """Enter the box of a valve, and fill it in from above in the rows that follow."""
        await self.put("valve", rows[0], box_id=box)
        for number in rows[1:]:
            await self.at("valve", "box_id", number)
            await self.crew.press("ctrl+g")

    async def sign(self, table: str, column: str, number: int = 0) -> None:
        """Sign where the cursor is sent."""
        await self.at(table, column, number)
        await self.crew.press("space")
        if isinstance(self.crew.app.screen, Choose):
            await self.crew.press("down", "enter")

    async def sign_off(self, kind: str) -> None:
        """Sign one of the sign-offs of the whole job."""
        kinds = [cell.at.row_id for cell in self.crew.cells if cell.at.table == "sign_off"]
        await self.sign("sign_off", "sign off", kinds.index(kind))
        job = self.crew.open_job.job
        assert job.signed(kind) is not None, (kind, self.crew.said)


async def street(crew: Typist) -> None:
    """Whose property it is, pressure, meter, flow test, hazards, assembly and its test."""
    await crew.put("job", customer="A. Customer", phone="555 0142", access="gate code 4")
    await crew.part("customer")
    await crew.put("supply", static_psi="62")
    await crew.no("supply", "behind_regulator")
    await crew.put("supply", static_where="hose bib 7 am", meter_size="3/4")
    await crew.put("supply", service_class="copper l", service_size="1", service_length_ft="40")
    await crew.part("supply")
    await crew.add("flow_test_point", "flow test", "50")
    await crew.put("flow_test_point", flow_gpm="12")
    await crew.part("flow test")
    await crew.at("supply", "none of these")
    await crew.crew.press("space")
    await crew.add("backflow_assembly", "backflow", "pvb")
    await crew.put("backflow_assembly", name="left of garage", size="1")
    await crew.put("backflow_assembly", serial="A 1207", installed_on="t", critical_level_ft="1.5")
    await crew.no("backflow_assembly", "valve_after", "back_pressure", "exposed_pvc")
    await crew.add("backflow_test", "backflow test", "t")
    await crew.put("backflow_test", why="new", tester="T. Tester", tester_no="BT 77")
    await crew.put("backflow_test", check_1_psi="1.8", inlet_psi="1.6")
    await crew.yes("backflow_test", "certified")
    await crew.part("assembly and test")


async def zones(crew: Typist) -> None:
    """Zones, permit, locate ticket, mainline, the laterals with their sprinkler heads."""
    await crew.go("ground")
    await crew.add("zone", "zone", ZONES[0])
    await crew.put("zone", head_kind="spray")
    await crew.part("zones")
    await crew.add("permit", "permit", "irrigation")
    await crew.put("permit", number="26-118", issued_on="t")
    await crew.add("locate_ticket", "ticket", "2604-118")
    await crew.put("locate_ticket", called_on=days_ago(7))
    await crew.yes("locate_ticket", "private_lines")
    await crew.put("locate_ticket", clear_on=days_ago(4))
    await crew.at("utility_answer", "add utility answer")
    await crew.crew.press("enter")
    for number, answer in enumerate(("marked", "marked", "marked", "clear", "marked")):
        await crew.put("utility_answer", number, answer=answer)
    await crew.sign_off("dig")
    await crew.part("permit and locate")
    await crew.add("pipe_run", "run", "1")
    await crew.put("pipe_run", pipe_class="pvc sdr 21", length_ft="30")
    await crew.add("pipe_run", "run", "20")
    await crew.add("pipe_run", "run", "1", 1)
    await crew.put("pipe_run", 2, pipe_class="pvc sdr 21", length_ft=FIRST_RUN_FT[0])
    await crew.put("head", nozzle_gpm="1.5", rated_psi="30", arc_deg="15h")
    for _ in range(2):
        await crew.add("pipe_run", "run", number=1)
    await crew.part("pipes and heads")
    await crew.at("zone", "name")
    await crew.crew.press("ctrl+r")
    await crew.crew.enter(str(len(crew.zones) - 1))
    for number, name in enumerate(crew.zones[1:], start=1):
        await crew.put("zone", number, name=name)
    await crew.part("zones")
    for number, length_ft in enumerate(FIRST_RUN_FT[1 : len(crew.zones)], start=1):
        await crew.put("pipe_run", 2 + 3 * number, length_ft=length_ft)
    await crew.part("pipes and heads")


async def boxes(crew: Typist) -> None:
    """Two boxes, a cable, the wire and the splice at each valve, ties to two corners."""
    await crew.go("boxes")
    for number, where in enumerate(("by the drive", "behind the shed")):
        await crew.add("valve_box", "box", where)
        await crew.yes("valve_box", "on_base", "lid_at_grade", number=number)
    await crew.part("boxes")
    await crew.add("cable", "cable", f"white, {', '.join(crew.wires)}, brown")
    await crew.put("cable", gauge_awg="18")
    await crew.yes("cable", "common_waterproof")
    await crew.wire("valve", crew.wires)
    half = len(crew.zones) // 2
    await crew.same_box("a", range(half))
    await crew.same_box("b", range(half, len(crew.zones)))
    for number in range(len(crew.zones)):
        await crew.yes("valve", "splice_waterproof", number=number)
    for number, ohms in enumerate(COIL_OHMS[: len(crew.zones)]):
        await crew.put("valve", number, coil_ohm=ohms)
    await crew.part("valves and wires")
    for corner, east in (("garage left", ""), ("garage right", "24")):
        number = int(bool(east))
        await crew.add("fixed_point", "fixed point", corner)
        if east:
            await crew.put("fixed_point", number, along_ft=east)
    for number, (left, right) in enumerate((("14'6", "19'"), ("31'", "22'8"))):
        await crew.add("tie", "tie")
        await crew.put("tie", number, tape_1_ft=left, tape_2_ft=right, side="right")
    await crew.part("ties")


async def proofs(crew: Typist) -> None:
    """Cement, pressure test, flush, backfill."""
    await crew.go("ground")
    await crew.put("pressure_test", cemented_at="2026-05-04 07:00", label_min="120")
    await crew.put("pressure_test", air_deg_f="70", humidity_pct="40")
    await crew.yes("pressure_test", "water_only")
    await crew.put("pressure_test", began_at="2026-05-04 13:00", start_psi="80")
    await crew.put("pressure_test", ended_at="2026-05-04 15:00", end_psi="80")
    await crew.part("pressure test")
    for number in range(len(crew.zones) + 1):
        await crew.at("flush", "flush", number)
        await crew.crew.press("space")
    await crew.part("flush")
    for number in range(len(crew.zones) + 1):
        await crew.put("backfill", number, cover_in="12")
        await crew.at("backfill", "usual", number)
        await crew.crew.press("space")
    await crew.part("backfill")


async def controller(crew: Typist) -> None:
    """What is under each terminal, what ran, its ohms; the controller itself."""
    await crew.go("controller")
    await crew.wire("terminal", ("white", *crew.wires))
    for number, ohms in enumerate(COIL_OHMS[: len(crew.zones)]):
        await crew.put("terminal", number, day_1_ohm=ohms)
    for number in range(len(crew.zones)):
        await crew.put("terminal", number, ran=str(number + 1))
    await crew.put("controller", location="garage wall", stations=str(len(crew.zones)))
    await crew.no("controller", "outdoors")
    await crew.yes("controller", "supply_near", "wire_in_conduit", "rain_sensor")
    await crew.part("controller terminals")


async def sign_offs(crew: Typist) -> None:
    """The stretches, the crew's licence, then the sign-offs of the whole job."""
    await crew.go("ground")
    for number in range(len(crew.zones) + 1):
        await crew.sign("backfill", "sign", number)
    await crew.go("desk")
    await crew.add("crew_member", "crew member", "A. Builder")
    await crew.put("crew_member", role="irrigator", licence="IR 1207")
    await crew.part("sign-offs")
    # Nothing is left to fill in, so Ctrl+N goes from one sign-off to the next.
    while crew.crew.open_job.job.signed("close") is None:
        await crew.crew.press("ctrl+n")
        assert crew.crew.at[0] == "sign_off", (crew.crew.at, crew.crew.said)
        await crew.crew.press("space", "down", "enter")
    await crew.part("sign-offs")


async def whole_property(path: Path, zones_laid: int = len(ZONES)) -> dict[str, int]:
    """Enter everything of a property with so many zones on a new book; returns the keys by part."""
    async with at_the_truck(path) as crew:
        await crew.enter("ab")
        crew.keys = 0
        typist = Typist(crew, ZONES[:zones_laid])
        await crew.press("insert")
        await crew.enter("12 Elm Street")
        for enter in (street, zones, boxes, proofs, controller, sign_offs):
            await enter(typist)
        job = crew.open_job.job
        assert len(job.zones) == zones_laid
        assert len(job.heads) == 3 * zones_laid
        assert crew.flags == [], crew.open_job.findings
        signed = [kind for kind in SIGN_OFFS if proven(job, kind, None, instant(None))]
        # The generic rules ask for no walk-through with the owner.
        assert signed == [kind for kind in SIGN_OFFS if kind != WALK_THROUGH], signed
        assert all(proven(job, "backfill", zone.id, instant(None)) for zone in job.zones)
        return typist.parts


def main() -> None:
    """Print the keys of each part, of the whole, and of the everyday tasks."""
    with tempfile.TemporaryDirectory() as folder:
        parts = asyncio.run(whole_property(Path(folder) / "book.sqlite"))
    for part, keys in parts.items():
        print(f"{part:<24}{keys:>6}")
    print(f"{'whole property':<24}{sum(parts.values()):>6}\n")
    for task, (most, way) in BUDGETS.items():
        print(f"{task:<24}{asyncio.run(keys_of(way)):>6} of at most {most}")


if __name__ == "__main__":
    main()
