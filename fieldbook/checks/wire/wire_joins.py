"""Flags on wires whose two ends were both entered and disagree: doubled, crossed or misread."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fieldbook.checks.common.naming import (
    LONGEST_SENTENCE,
    cable_name,
    is_or_are,
    listed,
    sentence,
    short,
)
from fieldbook.checks.finding import Finding
from fieldbook.checks.wire.ends import WireEnds, is_common
from fieldbook.checks.wire.wire_tests import ran_at
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.controller import Terminal
from fieldbook.records.tables.wires import Cable, Valve, ValveBox
from fieldbook.wiring import Conductor, Double, End, Join, Misread, Wire, closed

_WHERE = {"box": "at the valve boxes", "controller": "at the controller"}


def doubled_ends(
    job: LoadedJob, ends: WireEnds, joined: Join, explained: set[End]
) -> Iterator[Finding]:
    """Conductors at several parts; a colour twice at both sides may be of two cables."""
    sides = [{_conductor(double) for double in joined.doubles if double.side == "box"}]
    sides.append({_conductor(double) for double in joined.doubles if double.side != "box"})
    both = sides[0] & sides[1]
    for cable_id in dict.fromkeys(cable for cable, _ in sorted(both)):
        cable = job.row(cable_id)
        doubles = [one for one in joined.doubles if _conductor(one) in both]
        doubles = [one for one in doubles if one.ends[0].cable == cable_id]
        colours = listed(list(dict.fromkeys(short(one.ends[0].colour) for one in doubles)), 3)
        name = cable_name(cable if isinstance(cable, Cable) else None)
        yield Finding(
            "two cables as one",
            "stop",
            f"In {name} {colours} {is_or_are(len(doubles) // 2)} at two valves and under two "
            "terminals: two cables may be entered as one.",
            "Look which wires come from which cable; enter the second cable, and it for its ends.",
            ends.at[doubles[0].ends[-1].name],
        )
    for double in joined.doubles:
        if _conductor(double) not in both:
            yield _double(job, ends, joined, double, explained)


def _conductor(double: Double) -> Conductor:
    return double.ends[0].cable, double.ends[0].colour


def _double(
    job: LoadedJob, ends: WireEnds, joined: Join, double: Double, explained: set[End]
) -> Finding:
    """One conductor at several parts of one side.

    The flag points at an end whose own conductor is alone at the other side: it was likely misread.
    """
    first = double.ends[0]
    others = joined.controller_only if double.side == "box" else joined.box_only
    lone = {end.station: end for end in others}
    wrong = next((end for end in reversed(double.ends) if end.station in lone), double.ends[-1])
    explained.update(lone[end.station] for end in double.ends if end.station in lone)
    whose = listed([ends.whose[end.name] for end in double.ends])
    used = f"{_wire(job, first)} is used {_times(len(double.ends))}"
    look = f"Look at {ends.whose[wrong.name]} again"
    mend = f"{look} and correct its colour{_or_meant(double)}."
    if wrong.station in lone:
        other = lone[wrong.station]
        may_be = f"{look}: it may be {short(other.colour)}, only {_holds(ends, other)}"
        mend = f"{may_be}{_or_meant(double)}."
    said = _first_fitting(
        mend,
        f"{used} {_WHERE[double.side]}: by {whose}.",
        f"{used}: by {whose}.",
        f"{used} {_WHERE[double.side]}.",
    )
    return Finding("colour used twice", "stop", said, mend, ends.at[wrong.name])


def _first_fitting(mend: str, *versions: str) -> str:
    """The first sentence that is short enough together with its mend, else the last."""
    return next(
        (said for said in versions if len(f"{said} {mend}") <= LONGEST_SENTENCE), versions[-1]
    )


def _or_meant(double: Double) -> str:
    """The other way out: two valves on one wire by intent."""
    zones = double.side == "box" and not any(is_common(end) for end in double.ends)
    return "; or, if both are meant, enter Runs with" if zones else ""


def crossed_wires(job: LoadedJob, ends: WireEnds, group: Sequence[Wire]) -> Finding:
    """Wires whose terminal is meant for another station than their end at the box."""
    seen = [
        f"{_colour(job, wire.box)} from {_of(ends, wire.box)} is under "
        f"{ends.whose[wire.controller.name]}"
        for wire in group[:2]
    ]
    under = [wire.controller for wire in group]
    terminals = _terminals([ends.whose[end.name] for end in under])
    if closed(group):
        seen[0] = f"{terminals} look {'swapped' if len(group) == 2 else 'mixed up'}: {seen[0]}"
    first = min(under, key=ends.controller.index)
    live = min([end for end in under if not is_common(end)] or under, key=ends.controller.index)
    whose = ends.whose[live.name]
    mend = f"Energise {whose} and see what runs: then exchange the wires, or correct the colours."
    shown = [_test_shows(job, wire) for wire in group]
    if set(shown) == {"colours"}:
        mend = "Tests show that the colours are right: exchange the wires at the controller."
    elif set(shown) == {"terminals"}:
        mend = "Tests show that each runs its own zone: correct the colours at the valve boxes."
    elif any(is_common(end) for end in under):
        mend = (
            "Energise another terminal: if nothing runs, they are exchanged. A coil runs either "
            "way round."
        )
    said = _first_fitting(mend, *(sentence("; ".join(seen[:most])) + "." for most in (2, 1)))
    return Finding("wires crossed", "stop", said, mend, ends.at[first.name])


def _test_shows(job: LoadedJob, wire: Wire) -> str:
    """Whether what ran at a crossed wire's terminal bears out the colours or the terminal."""
    terminal = job.row(wire.controller.name.removeprefix("terminal "))
    ran = ran_at(job, terminal) if isinstance(terminal, Terminal) else None
    if ran == frozenset({wire.box.station}):
        return "colours"
    return "terminals" if ran == frozenset({wire.controller.station}) else ""


def _of(ends: WireEnds, end: End) -> str:
    """The station of an end at the box, in few words: "zone 3", "the common of cable 1"."""
    return ends.whose[end.name].removeprefix("the valve of ")


def misread_ends(job: LoadedJob, ends: WireEnds, pairs: Sequence[Misread]) -> Iterator[Finding]:
    """Stations with one colour at the box and another at the controller.

    Several valves of one box are likely on a cable whose splice is not entered.
    """
    by_box: dict[str, list[Misread]] = {}
    for pair in pairs:
        valve = job.row(ends.at[pair.box.name].row_id)
        box_id = valve.box_id if isinstance(valve, Valve) else None
        by_box.setdefault(box_id or pair.box.name, []).append(pair)
    for box_id, group in by_box.items():
        box = job.row(box_id)
        if len(group) > 1 and isinstance(box, ValveBox):
            yield _no_splice(ends, group)
        else:
            for pair in group:
                yield _misread(job, ends, pair)


def _no_splice(ends: WireEnds, group: Sequence[Misread]) -> Finding:
    """Valves of one box whose colours are all unknown at the controller."""
    zones = listed([_of(ends, pair.box).removeprefix("zone ") for pair in group], 4)
    return Finding(
        "splice not entered",
        "fix",
        f"No colour at the valves of zones {zones} is at the controller: a splice may be missing.",
        "If another cable comes in, enter it and its splices at the valve boxes; else look again.",
        ends.at[group[0].box.name],
    )


def _misread(job: LoadedJob, ends: WireEnds, pair: Misread) -> Finding:
    """A station with one colour at the box and another at the controller."""
    box, controller = pair.box, pair.controller
    whose, under = ends.whose[box.name], ends.whose[controller.name]
    said = (
        f"{sentence(whose)} is {_colour(job, box)} but {_colour(job, controller)} is under "
        f"{under}, and neither is at the other end."
    )
    mend = "Look at both ends and correct the one that is wrong."
    return Finding("ends disagree", "stop", said, mend, ends.at[controller.name])


def _wire(job: LoadedJob, end: End) -> str:
    """Such as "Red in cable 1"."""
    cable = job.row(end.cable)
    return sentence(short(end.colour)) + (
        f" in {cable_name(cable)}" if isinstance(cable, Cable) else ""
    )


def _colour(job: LoadedJob, end: End) -> str:
    """An end's colour, with its cable where the job has several."""
    cable = job.row(end.cable)
    if len(job.cables) > 1 and isinstance(cable, Cable):
        return f"{short(end.colour)} of {cable_name(cable)}"
    return short(end.colour)


def _holds(ends: WireEnds, end: End) -> str:
    """Where an end is: "under terminal 5" or "on the valve of zone 5"."""
    under = end in ends.controller
    return f"under {ends.whose[end.name]}" if under else f"on {ends.whose[end.name]}"


def _terminals(words: Sequence[str]) -> str:
    """Terminals in words, by number: "terminals 3 and 4"."""
    numbers = [word.removeprefix("terminal ") for word in words]
    if len(words) > 1 and all(number.isdecimal() for number in numbers):
        return f"terminals {listed(sorted(numbers, key=int))}"
    return listed(words)


def _times(count: int) -> str:
    return "twice" if count == 2 else f"{count} times"
