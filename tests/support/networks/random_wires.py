"""Random wirings, faults made in them, and what a crew would see and enter."""

from __future__ import annotations

from dataclasses import dataclass, field
from random import Random

from fieldbook.wiring import End, Evidence, Meaning

Conductor = tuple[str, str]


@dataclass
class Wiring:
    """The true state: the conductor of each valve and terminal, and what is broken."""

    box: dict[str, Conductor] = field(default_factory=dict)
    controller: dict[str, Conductor] = field(default_factory=dict)
    spare: list[Conductor] = field(default_factory=list)
    broken: set[Conductor] = field(default_factory=set)
    touching: set[frozenset[Conductor]] = field(default_factory=set)

    def leads_to(self, terminal: str) -> frozenset[str]:
        """The stations on a terminal's conductor."""
        own = self.controller[terminal]
        return frozenset(station for station, one in self.box.items() if one == own)

    def runs(self, terminal: str) -> frozenset[str]:
        """The stations that run when a terminal is energised."""
        live = {self.controller[terminal]}
        for pair in self.touching:
            live |= pair if pair & live else set()
        live -= self.broken
        return frozenset(station for station, one in self.box.items() if one in live)

    def reading(self, terminal: str) -> Meaning:
        """What an ohm reading at a terminal means."""
        own = self.controller[terminal]
        coils = 0 if own in self.broken else len(self.leads_to(terminal))
        return "open" if coils == 0 else "sound" if coils == 1 else "two coils"


def sound(zones: int, cables: int, pick: Random) -> Wiring:
    """A wiring without faults: terminal n leads to zone n; each cable has two spares."""
    wiring = Wiring()
    for no in range(1, zones + 1):
        conductor = (f"cable {pick.randrange(cables)}", f"colour {no}")
        wiring.box[str(no)] = wiring.controller[f"t{no}"] = conductor
    for cable in range(cables):
        wiring.spare += [(f"cable {cable}", f"spare {no}") for no in range(2)]
    return wiring


class Seen:
    """A wiring and what is entered of it; each fault is made on zones that have no other."""

    def __init__(self, wiring: Wiring, pick: Random) -> None:
        """Enter everything as it truly is."""
        self.wiring, self.pick = wiring, pick
        self._left = list(wiring.box)
        pick.shuffle(self._left)
        self._misread: dict[str, Conductor] = {}
        self.faults: list[str] = []

    def fault(self, kind: str) -> None:
        """Make a fault of this kind, if zones are left for it."""
        pairs = [
            (one, other)
            for one in self._left
            for other in self._left
            if one != other and self.wiring.box[one][0] == self.wiring.box[other][0]
        ]
        if not pairs:
            return
        one, other = self.pick.choice(pairs)
        self._left = [zone for zone in self._left if zone not in (one, other)]
        self.faults.append(f"{kind} {one} {other}")
        getattr(self, f"_{kind}")(one, other)

    def _swap(self, one: str, other: str) -> None:
        held = self.wiring.controller
        held[f"t{one}"], held[f"t{other}"] = held[f"t{other}"], held[f"t{one}"]

    def _parallel(self, one: str, other: str) -> None:
        self.wiring.box[one] = self.wiring.box[other]

    def _break(self, one: str, _other: str) -> None:
        self.wiring.broken.add(self.wiring.box[one])

    def _touch(self, one: str, other: str) -> None:
        self.wiring.touching.add(frozenset((self.wiring.box[one], self.wiring.box[other])))

    def _misread_box(self, one: str, other: str) -> None:
        self._misread[one] = self._wrong(one, other)

    def _misread_controller(self, one: str, other: str) -> None:
        self._misread[f"t{one}"] = self._wrong(one, other)

    def _exchange_box(self, one: str, other: str) -> None:
        self._misread[one] = self.wiring.box[other]
        self._misread[other] = self.wiring.box[one]

    def _exchange_controller(self, one: str, other: str) -> None:
        self._misread[f"t{one}"] = self.wiring.controller[f"t{other}"]
        self._misread[f"t{other}"] = self.wiring.controller[f"t{one}"]

    def _wrong(self, one: str, other: str) -> Conductor:
        """Another conductor of the cable: a spare, or the other zone's."""
        cable = self.wiring.box[one][0]
        spares = [
            spare
            for spare in self.wiring.spare
            if spare[0] == cable and spare not in self._misread.values()
        ]
        return self.pick.choice([*spares, self.wiring.box[other]])

    def evidence(self, blank: float, tested: float, read: float) -> Evidence:
        """What a crew has entered; the arguments are the parts left blank, tested and metered."""
        box = tuple(
            End(station, station, *self._misread.get(station, conductor))
            for station, conductor in self.wiring.box.items()
            if self.pick.random() >= blank
        )
        controller = tuple(
            End(name, name[1:], *self._misread.get(name, conductor))
            for name, conductor in self.wiring.controller.items()
            if self.pick.random() >= blank
        )
        names = [end.name for end in controller]
        return Evidence(
            box,
            controller,
            {name: self.wiring.runs(name) for name in names if self.pick.random() < tested},
            {name: self.wiring.reading(name) for name in names if self.pick.random() < read},
        )

    def truth(self, evidence: Evidence, terminal: str) -> frozenset[str]:
        """The stations that a terminal truly leads to, of those that the evidence mentions."""
        known = {end.station for end in evidence.box} | set(evidence.ran.get(terminal, ()))
        return self.wiring.leads_to(terminal) & known


FAULTS = (
    "swap",
    "parallel",
    "break",
    "touch",
    "misread_box",
    "misread_controller",
    "exchange_box",
    "exchange_controller",
)
