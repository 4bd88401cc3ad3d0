"""Readings of a zone as a crew types them: "static 55, flow 12.1, head 3 28, saw 5 dry".

Each reading is a word and a value; the command's options have the same words. Pressures and flows
are in the job's units, or in any that is typed with them.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import TypeVar, get_args

from fieldbook.audit import gauge_error_psi, timed_gpm
from fieldbook.checks.common.naming import listed, system_of, zone_word
from fieldbook.checks.diagnosing.running_zone import head_numbered, run_numbered
from fieldbook.checks.diagnosing.still_zone import (
    ohms_at_controller,
    ohms_of_coil,
)
from fieldbook.diagnosis.dead_zone import volts_shown
from fieldbook.diagnosis.zone_parts import (
    Measured,
    Meter,
    Others,
    Weeping,
    ZoneParts,
    ZoneReadings,
)
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.zones import Zone
from fieldbook.trade.water_faults import SIGNS, Sign
from fieldbook.units import FLOW, PRESSURE, RESISTANCE, VOLTAGE, Measure, UnitError, parse

ONE_TURN_GAL = 7.48
"""A turn of a sweep hand, 1 ft3: by it the error of a flow is taken that was typed as a flow."""
_DIAL_GAL = 0.2


_Word = TypeVar("_Word", bound=str)
_OTHERS: tuple[Others, ...] = get_args(Others)
_METER: tuple[Meter, ...] = get_args(Meter)
_WEEPS: tuple[Weeping, ...] = get_args(Weeping)

_TESTS: Mapping[str, tuple[str, tuple[str, ...]]] = {
    "ohms": ("ohms", ()),
    "coil": ("coil", ()),
    "volts": ("volts", ()),
    "box-volts": ("box_volts", ()),
    "other-zones": ("others", ("run", "none")),
    "ran": ("what_ran", ("nothing", "another")),
    "by-hand": ("by_hand", ("runs", "dry")),
    "moved": ("moved", ("runs", "nothing")),
}
"""By word, the test of `dead_zone_faults.toml` and what it can show; none where it is a figure."""


class ReadingError(ValueError):
    """One sentence that says which reading can't be, and what it may be."""


@dataclass(frozen=True)
class TypedReadings:
    """What was typed: readings of a zone that runs, and tests of one that does not.

    dead: whether it was said that the zone does not run.
    """

    running: ZoneReadings = field(default_factory=ZoneReadings)
    shown: Mapping[str, str] = field(default_factory=dict)
    dead: bool = False


class ReadingParser:
    """Reads the words of one zone's readings."""

    def __init__(self, job: LoadedJob, zone: Zone, parts: ZoneParts | None) -> None:
        """`parts` is None for a zone whose network is not entered: its heads have no names yet."""
        self._job, self._zone, self._parts = job, zone, parts
        self.typed = TypedReadings()
        self._takes: Mapping[str, Callable[[str], TypedReadings]] = {
            "static": lambda text: self._keep(replace(self._seen, static=self._psi(text))),
            "running": lambda text: self._keep(replace(self._seen, running=self._psi(text))),
            "flow": lambda text: self._keep(replace(self._seen, flow=self._flow(text))),
            "head": self._head,
            "saw": self._saw,
            "wet": self._wet,
            "looked": lambda _: self._looked(),
            "others": lambda text: self._keep(
                replace(self._seen, others=_one_of("others", text, _OTHERS))
            ),
            "meter": lambda text: self._keep(
                replace(self._seen, meter_off=_one_of("meter", text, _METER))
            ),
            "weeps": lambda text: self._keep(
                replace(self._seen, weeping=_one_of("weeps", text, _WEEPS))
            ),
            "dead": lambda _: replace(self.typed, dead=True),
        }

    def words(self) -> tuple[str, ...]:
        """Every word that a reading begins with."""
        return (*self._takes, *_TESTS)

    def line(self, text: str) -> TypedReadings:
        """Take every reading of a line, commas between them. Raises ReadingError."""
        for part in filter(None, (one.strip() for one in text.split(","))):
            name, _, value = part.partition(" ")
            self.put(name, value)
        return self.typed

    def put(self, name: str, value: str) -> TypedReadings:
        """Take one reading. Raises ReadingError, in one sentence, where it can't be."""
        word = name.strip().casefold()
        if word not in self.words():
            known = listed(list(self.words()), 24)
            raise ReadingError(f"“{name[:20]}” is no reading: type {known}.")
        takes = self._takes.get(word)
        self.typed = takes(value.strip()) if takes else self._test(word, value.strip())
        return self.typed

    @property
    def _seen(self) -> ZoneReadings:
        return self.typed.running

    def _keep(self, readings: ZoneReadings) -> TypedReadings:
        return replace(self.typed, running=readings)

    def _test(self, word: str, text: str) -> TypedReadings:
        """A test of a zone that does not run: typing one says that it does not."""
        name, outcomes = _TESTS[word]
        if outcomes:
            shown = _one_of(word, text, outcomes)
        elif word in ("ohms", "coil"):
            means = ohms_at_controller if word == "ohms" else ohms_of_coil
            shown = means(self._job, self._zone, self._figure(word, text, RESISTANCE))
        else:
            shown = volts_shown(self._figure(word, text, VOLTAGE))
        return replace(self.typed, shown={**self.typed.shown, name: shown}, dead=True)

    def _figure(self, name: str, text: str, measure: Measure) -> float:
        try:
            value = parse(text, measure, system_of(self._job))
        except UnitError as error:
            raise ReadingError(f"{name}: {error}") from error
        if not 0.0 <= value <= 1e6:
            raise ReadingError(f"{name}: it can't be below zero, nor beyond every instrument.")
        return value

    def _psi(self, text: str) -> Measured:
        psi = self._figure("pressure", text, PRESSURE)
        if psi > 300.0:
            raise ReadingError("A pressure of a zone is at most 300 psi.")
        return Measured.within(psi, gauge_error_psi(psi))

    def _flow(self, text: str) -> Measured:
        gpm = self._figure("flow", text, FLOW)
        if gpm <= 0.0:
            raise ReadingError("A zone without flow does not run: type dead.")
        return Measured.within(
            gpm, timed_gpm(ONE_TURN_GAL, 60.0 * ONE_TURN_GAL / gpm, _DIAL_GAL).up
        )

    def _head(self, text: str) -> TypedReadings:
        head, value = self._at_head("head", text, "its pressure, such as head 3 28")
        heads = {**self._seen.heads, head: self._psi(value)}
        return self._keep(replace(self._seen, heads=heads))

    def _saw(self, text: str) -> TypedReadings:
        head, value = self._at_head("saw", text, "what was seen, such as saw 3 dry")
        signs = {**self._seen.signs, head: _one_of("saw", value, SIGNS)}
        return self._keep(replace(self._seen, signs=signs))

    def _wet(self, text: str) -> TypedReadings:
        number = _number("wet", text)
        place = self._of(number, head_numbered) or self._of(number, run_numbered)
        if place is None:
            raise ReadingError(f"wet: {zone_word(self._zone)} has no run {number}.")
        return self._keep(replace(self._seen, wet=self._seen.wet | {place}))

    def _looked(self) -> TypedReadings:
        """Everything was looked at: what nothing is typed of was fine, and the ground dry."""
        heads = self._parts.heads if self._parts is not None else ()
        fine: dict[str, Sign] = dict.fromkeys(heads, "fine")
        return self._keep(replace(self._seen, ground=True, signs={**fine, **self._seen.signs}))

    def _at_head(self, name: str, text: str, wanted: str) -> tuple[str, str]:
        found = re.match(r"(\d+)\s*[=: ]\s*(.+)", text)
        if found is None:
            raise ReadingError(f"{name}: type the number of the head's run and {wanted}.")
        number = int(found[1][:6])
        head = self._of(number, head_numbered)
        if head is None:
            raise ReadingError(f"{name}: {zone_word(self._zone)} has no head at a run {number}.")
        return head, found[2].strip()

    def _of(self, number: int, named: Callable[[ZoneParts, Zone, int], str | None]) -> str | None:
        return named(self._parts, self._zone, number) if self._parts is not None else None


def _one_of(name: str, text: str, choices: tuple[_Word, ...]) -> _Word:
    word = " ".join(text.split()).casefold()
    for choice in choices:
        if choice == word:
            return choice
    raise ReadingError(f"{name}: type {listed(list(choices), 8)}.")


def _number(name: str, text: str) -> int:
    if not re.fullmatch(r"\d{1,6}", text):
        raise ReadingError(f"{name}: type the number of a run.")
    return int(text)
