"""Random wirings as a crew leaves them: what hands and eyes do wrong, and what is then entered.

The faults are told from the trade's side (hands, spades, dirt, poor light), not from the search's
idea of a mistake, and several may fall on one wire. How often each occurs is common practice, no
source: a guess that leans towards colours misread and rows slipped.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from random import Random

from fieldbook.wiring import End, Evidence, Meaning

Conductor = tuple[str, str]
PALETTE = (
    *("red", "blue", "green", "yellow", "orange", "brown", "black", "violet", "pink", "tan"),
    *("gray", "turquoise", "red/black", "blue/black", "green/black", "orange/black"),
)
LOOKS_LIKE = (
    *(("red", "orange"), ("red", "pink"), ("blue", "violet"), ("blue", "black"), ("tan", "yellow")),
    *(("brown", "red"), ("gray", "tan"), ("green", "turquoise"), ("brown", "black")),
    *(("red", "red/black"), ("blue", "blue/black"), ("green", "green/black")),
    *(("orange", "orange/black"), ("gray", "blue"), ("green", "blue")),
)
Nothing: frozenset[str] = frozenset()


def common_of(cable: str) -> str:
    """The station of a cable's common, which is also the name of its end at the box."""
    return f"common {cable}"


@dataclass
class Lawn:
    """The wire as it truly lies, and the entries as they were typed.

    `lead`: by station, the conductor at its valve (or the cable's common). `under`: by terminal,
    the conductor. A zone's terminal is "t" and its number. `rows` are the stations in the order
    in which they lie in the boxes.
    """

    cables: dict[str, list[str]]
    lead: dict[str, Conductor] = field(default_factory=dict)
    under: dict[str, Conductor] = field(default_factory=dict)
    cut: set[Conductor] = field(default_factory=set)
    touching: list[frozenset[Conductor]] = field(default_factory=list)
    dead_coil: set[str] = field(default_factory=set)
    no_water: set[str] = field(default_factory=set)
    typed_box: dict[str, Conductor] = field(default_factory=dict)
    typed_under: dict[str, Conductor] = field(default_factory=dict)
    faults: list[str] = field(default_factory=list)

    @property
    def rows(self) -> list[str]:
        """The zones, in the order of the boxes."""
        return [station for station in self.lead if not station.startswith("common")]

    def leads_to(self, terminal: str) -> frozenset[str]:
        """The stations whose lead is on the conductor under a terminal."""
        own = self.under[terminal]
        return frozenset(station for station, lead in self.lead.items() if lead == own)

    def _live(self, conductor: Conductor) -> set[Conductor]:
        """The conductors that carry what is put on one at the controller."""
        live = {conductor}
        for pair in self.touching:
            live |= pair if pair & live else set()
        return live - self.cut

    def runs(self, terminal: str) -> frozenset[str]:
        """The stations that run as a terminal is energised.

        Current needs a way out on the terminal's conductor, through one coil, and back on what is
        under the common terminal. Through two coils in a row neither pulls in.
        """
        ran: set[str] = set()
        for cable in self.cables:
            back, joint = self.under[f"t common {cable}"], self.lead[common_of(cable)]
            if joint in self.cut or back in self.cut:
                continue
            out = self._live(self.under[terminal])
            if back == joint:
                live = out - {joint}
            elif joint in out:
                live = {back}
            else:
                continue
            ran |= {
                station
                for station in self.rows
                if self.lead[station] in live and self.lead[station][0] == cable
            }
        return frozenset(ran - self.dead_coil - self.no_water)

    def reads(self, terminal: str, pick: Random) -> Meaning:
        """What a meter between the lifted common and a terminal's wire shows."""
        own = self.under[terminal]
        cable = own[0]
        back, joint = self.under[f"t common {cable}"], self.lead[common_of(cable)]
        if {own, back, joint} & self.cut:
            return "open"
        if back != joint:
            through = [back] if own == joint else [back, own]
            alive = all(self._coils({one}) for one in through)
            return "open" if not alive else "sound" if len(through) == 1 else "high"
        coils = self._coils(self._live(own))
        if coils == 1 and pick.random() < 0.03:
            return "high"
        return "open" if coils == 0 else "sound" if coils == 1 else "two coils"

    def _coils(self, conductors: set[Conductor]) -> int:
        on = {station for station in self.rows if self.lead[station] in conductors}
        return len(on - self.dead_coil)


def dug(pick: Random, zones: int, cables: int) -> Lawn:
    """A wiring without faults, typed as it is. Zones lie box by box, each box on one cable."""
    lawn = Lawn({})
    for no in range(cables):
        colours = list(PALETTE)
        pick.shuffle(colours)
        lawn.cables[f"cable {no}"] = colours
    edges = sorted(pick.sample(range(1, zones), cables - 1)) if cables > 1 else []
    bounds = [0, *edges, zones]
    for no, cable in enumerate(lawn.cables):
        own = range(bounds[no] + 1, bounds[no + 1] + 1)
        for zone, colour in zip(own, lawn.cables[cable], strict=False):
            lawn.lead[str(zone)] = lawn.under[f"t{zone}"] = (cable, colour)
        # Every cable has a spare or three that no valve is on.
        lawn.cables[cable] = lawn.cables[cable][: len(own) + pick.randint(1, 3)]
        lawn.lead[common_of(cable)] = lawn.under[f"t common {cable}"] = (cable, "white")
    return lawn


class Crew:
    """Makes faults in a lawn: first in the wire, then in what is typed of it."""

    def __init__(self, lawn: Lawn, pick: Random) -> None:
        """Work on this lawn."""
        self.lawn, self.pick = lawn, pick

    def work(self, faults: int) -> None:
        """Make so many faults, and type the rest as it is."""
        kinds = self.pick.choices(list(SLIPS), [often for _, often in SLIPS.values()], k=faults)
        self.work_on(kinds)

    def work_on(self, kinds: list[str]) -> None:
        """Make these faults; those of the wire come first, since entries are made of it."""
        for kind in kinds:
            if kind in HANDS:
                self._make(kind)
        self.lawn.typed_box = dict(self.lawn.lead)
        self.lawn.typed_under = dict(self.lawn.under)
        for kind in kinds:
            if kind not in HANDS:
                self._make(kind)

    def _make(self, kind: str) -> None:
        if SLIPS[kind][0](self):
            self.lawn.faults.append(kind)

    def _beside(self, count: int) -> list[str]:
        """Zones of one cable, mostly beside each other, since most slips are to a neighbour."""
        rows = self.lawn.rows
        if self.pick.random() < 0.12:
            cable = self.lawn.lead[self.pick.choice(rows)][0]
            rows = [zone for zone in rows if self.lawn.lead[zone][0] == cable]
            return self.pick.sample(rows, count) if len(rows) >= count else []
        runs = [
            rows[at : at + count]
            for at in range(len(rows) - count + 1)
            if len({self.lawn.lead[zone][0] for zone in rows[at : at + count]}) == 1
        ]
        return list(self.pick.choice(runs)) if runs else []

    def _spare(self, cable: str) -> Conductor | None:
        used = {colour for home, colour in self.lawn.lead.values() if home == cable}
        free = [colour for colour in self.lawn.cables[cable] if colour not in used]
        return (cable, self.pick.choice(free)) if free else None

    def rotate(self, held: dict[str, Conductor], names: list[str]) -> bool:
        """Move what each of these holds to the next one."""
        moved = [held[name] for name in names]
        held.update(zip(names, [*moved[1:], *moved[:1]], strict=True))
        return bool(names)

    # What hands do to the wire.

    def landed_swapped(self) -> bool:
        return self.rotate(self.lawn.under, [f"t{zone}" for zone in self._beside(2)])

    def landed_shifted(self) -> bool:
        return self.rotate(self.lawn.under, [f"t{zone}" for zone in self._beside(3)])

    def doubled_up(self) -> bool:
        pair = self._beside(2)
        if pair:
            self.lawn.lead[pair[0]] = self.lawn.lead[pair[1]]
        return bool(pair)

    def spade(self) -> bool:
        hit = self._beside(self.pick.choice((1, 1, 2)))
        self.lawn.cut |= {self.lawn.lead[zone] for zone in hit}
        return bool(hit)

    def nicked(self) -> bool:
        pair = frozenset(self.lawn.lead[zone] for zone in self._beside(2))
        if len(pair) == 2:
            self.lawn.touching.append(pair)
        return len(pair) == 2

    def coil_died(self) -> bool:
        self.lawn.dead_coil.add(self.pick.choice(self.lawn.rows))
        return True

    def water_shut(self) -> bool:
        self.lawn.no_water.add(self.pick.choice(self.lawn.rows))
        return True

    def hot_and_common(self) -> bool:
        zone = self.pick.choice(self.lawn.rows)
        cable = self.lawn.lead[zone][0]
        return self.rotate(self.lawn.under, [f"t{zone}", f"t common {cable}"])

    def spare_landed(self) -> bool:
        zone = self.pick.choice(self.lawn.rows)
        spare = self._spare(self.lawn.lead[zone][0])
        if spare is not None:
            self.lawn.under[f"t{zone}"] = spare
        return spare is not None

    # What eyes and pencils do to the entries.

    def misread(self) -> bool:
        held = self.pick.choice((self.lawn.typed_box, self.lawn.typed_under))
        name = self.pick.choice([name for name in held if "common" not in name])
        cable, colour = held[name]
        alike = [b if a == colour else a for a, b in LOOKS_LIKE if colour in (a, b)]
        held[name] = cable, self.pick.choice(alike or [c for c in PALETTE if c != colour])
        return True

    def rows_slipped(self) -> bool:
        pair = self._beside(2)
        if self.pick.random() < 0.5:
            return self.rotate(self.lawn.typed_box, pair)
        return self.rotate(self.lawn.typed_under, [f"t{zone}" for zone in pair])

    def column_slipped(self) -> bool:
        three = self._beside(3)
        if self.pick.random() < 0.5:
            return self.rotate(self.lawn.typed_box, three)
        return self.rotate(self.lawn.typed_under, [f"t{zone}" for zone in three])

    def wrong_cable(self) -> bool:
        if len(self.lawn.cables) < 2:
            return False
        held = self.pick.choice((self.lawn.typed_box, self.lawn.typed_under))
        name = self.pick.choice([name for name in held if "common" not in name])
        cable, colour = held[name]
        held[name] = self.pick.choice([c for c in self.lawn.cables if c != cable]), colour
        return True

    def splice_not_entered(self) -> bool:
        """The last box hangs on a second cable, whose colours were typed as if of the first."""
        far = self._beside(2) or self._beside(1)
        colours = self.pick.sample(PALETTE, len(far))
        for zone, colour in zip(far, colours, strict=True):
            self.lawn.typed_box[zone] = self.lawn.lead[zone][0], colour
        return bool(far)


SLIPS: dict[str, tuple[Callable[[Crew], bool], float]] = {
    "landed swapped": (Crew.landed_swapped, 14),
    "landed shifted": (Crew.landed_shifted, 3),
    "doubled up": (Crew.doubled_up, 8),
    "spade": (Crew.spade, 8),
    "nicked": (Crew.nicked, 4),
    "coil died": (Crew.coil_died, 5),
    "water shut": (Crew.water_shut, 4),
    "hot and common": (Crew.hot_and_common, 3),
    "spare landed": (Crew.spare_landed, 4),
    "misread": (Crew.misread, 26),
    "rows slipped": (Crew.rows_slipped, 12),
    "column slipped": (Crew.column_slipped, 3),
    "wrong cable": (Crew.wrong_cable, 3),
    "splice not entered": (Crew.splice_not_entered, 3),
}
"""By fault: what makes it, and how often out of a hundred (common practice, no source)."""
HANDS = frozenset(list(SLIPS)[:9])
"""The faults in the wire; the others are in the entries."""


@dataclass(frozen=True)
class Amount:
    """How much of a lawn a crew has entered: parts from 0 to 1."""

    box: float = 1.0
    controller: float = 1.0
    tested: float = 0.0
    metered: float = 0.0
    scattered: bool = False

    @classmethod
    def usual(cls, pick: Random) -> Amount:
        """As a record stands on some evening: often whole, often a box or a row short."""
        part = pick.uniform(0.5, 1.0)
        box, controller = pick.choice(((1.0, 1.0), (1.0, 1.0), (part, 1.0), (1.0, part)))
        tested = pick.choice((0.0, 0.0, pick.random(), 1.0))
        metered = pick.choice((0.0, 0.0, pick.random(), 1.0))
        return cls(box, controller, tested, metered, pick.random() < 0.4)


def entered(lawn: Lawn, amount: Amount, pick: Random) -> Evidence:
    """The record of a lawn: the first rows of it, or some here and there."""

    def some(names: list[str], part: float) -> list[str]:
        if not amount.scattered:
            return names[: round(part * len(names))]
        return [name for name in names if pick.random() < part]

    box = some(list(lawn.typed_box), amount.box)
    under = some(list(lawn.typed_under), amount.controller)
    live = [name for name in under if "common" not in name]
    tested = [name for name in live if pick.random() < amount.tested]
    metered = [name for name in live if pick.random() < amount.metered]
    return Evidence(
        tuple(End(name, name, *lawn.typed_box[name]) for name in box),
        tuple(End(name, name[1:].strip(), *lawn.typed_under[name]) for name in under),
        {name: lawn.runs(name) for name in tested},
        {name: lawn.reads(name, pick) for name in metered},
        frozenset(name for name in under if "common" in name),
        frozenset(name for name in lawn.lead if "common" in name),
        tuple(lawn.rows),
    )


def truth(lawn: Lawn, evidence: Evidence, terminal: str) -> frozenset[str]:
    """The stations that a terminal truly leads to, of those that the record mentions."""
    known = {end.station for end in evidence.box} | set(evidence.ran.get(terminal, ()))
    return lawn.leads_to(terminal) & known
