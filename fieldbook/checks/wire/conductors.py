"""Flags on the cable itself: too few conductors, colours that repeat, commons, splices."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fieldbook.checks.common.naming import cable_name, listed, sentence, short, valve_name
from fieldbook.checks.finding import CellRef, Finding, Number
from fieldbook.checks.severity import Severity
from fieldbook.checks.wire.ends import WireEnds
from fieldbook.checks.wire.zone_feeds import master_decoder, zones_by
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.wires import Cable, Valve
from fieldbook.wiring import End

SPLICE_SOURCE = "NEC 110.14(B): listed for direct burial; UL 486D sealed connectors."
_LISTED = "conductors"
"""The cell in which all colours of a cable are typed."""


def check_conductors(
    job: LoadedJob, ends: WireEnds, unlisted_ends: Sequence[End]
) -> Iterator[Finding]:
    """Flags on each cable; `unlisted_ends` have a colour that their cable is not listed with."""
    yield from _too_few(job)
    for cable in job.cables:
        yield from _listed_twice(job, cable)
        if cable.common_colour and cable.common_colour != "white":
            yield Finding(
                "common not white",
                "note",
                f"The common of {cable_name(cable)} is {short(cable.common_colour)}, not white.",
                "Check it at the valve boxes; if it is right, mark it at both ends, since the "
                "next person will look for white.",
                CellRef("cable", cable.id, "common_colour"),
            )
    yield from _not_in_cable(job, ends, unlisted_ends)
    yield from _splices(job)


def unlisted(job: LoadedJob, ends: WireEnds) -> list[End]:
    """The ends whose colour is not listed for their cable, where any colour of it is."""
    colours = {cable.id: _colours(job, cable) for cable in job.cables}
    return [
        end
        for end in (*ends.box, *ends.controller)
        if colours.get(end.cable) and end.colour not in colours[end.cable]
    ]


def _colours(job: LoadedJob, cable: Cable) -> list[str]:
    return [one.colour for one in job.conductors_of(cable.id) if one.colour]


def _too_few(job: LoadedJob) -> Iterator[Finding]:
    """Each valve needs a conductor, and each cable a common unless it shares another's."""
    master = 1 if job.master_valve() is not None and master_decoder(job) is None else 0
    zones = set(zones_by(job, "cable"))
    on_cable = [one for one in job.valves if one.kind == "master" or one.zone_id in zones]
    flagged = False
    for cable in job.cables:
        valves = sum(job.cable_of(valve) is cable for valve in on_cable) + _going_on(job, cable)
        if len(job.cables) == 1:
            valves = max(valves, len(zones) + master)
        has, own = len(_colours(job, cable)), int(job.row(cable.common_with) is None)
        own += job.row(cable.second_controller_id) is not None
        if 0 < has < valves + own:
            flagged = True
            yield _short_of(cable, has, valves)
    counts = [len(_colours(job, cable)) for cable in job.home_cables()]
    needed = len(zones) + master + len(job.own_commons())
    if len(counts) > 1 and all(counts) and sum(counts) < needed and not flagged:
        yield Finding(
            "too few conductors",
            "fix",
            f"The cables list {sum(counts)} conductors together, but {len(zones) + master} "
            f"valves and {len(job.own_commons())} commons need {needed}.",
            "Pull another cable, or correct the colours listed at the valve boxes.",
            CellRef("cable", job.cables[-1].id, _LISTED),
            numbers=(Number("conductors", sum(counts), ""), Number("needed", needed, "")),
        )


def _going_on(job: LoadedJob, cable: Cable) -> int:
    """Conductors that are spliced to another cable: each serves a valve there."""
    return sum(
        one.cable_id == cable.id and one.colour not in (None, cable.common_colour)
        for one in job.splices
    )


def _short_of(cable: Cable, has: int, valves: int) -> Finding:
    are = "conductor is" if has == 1 else "conductors are"
    need = "valve and its common need" if valves == 1 else "valves and their common need"
    return Finding(
        "too few conductors",
        "fix",
        f"{has} {are} listed for {cable_name(cable)}, but {valves} {need} {valves + 1}.",
        f"Pull another cable, or correct the colours listed for {cable_name(cable)} at the valve "
        "boxes.",
        CellRef("cable", cable.id, _LISTED),
        numbers=(Number("conductors", has, ""), Number("needed", valves + 1, "")),
    )


def _listed_twice(job: LoadedJob, cable: Cable) -> Iterator[Finding]:
    """Colours that more than one conductor of a cable has."""
    colours = _colours(job, cable)
    twice = [colour for colour in dict.fromkeys(colours) if colours.count(colour) > 1]
    if twice:
        words = listed([short(colour) for colour in twice])
        are = "are each listed more than once" if twice[1:] else "is listed twice"
        yield Finding(
            "colour listed twice",
            "stop",
            f"In {cable_name(cable)} {words} {are}: two wires of one colour can't be told apart.",
            f"Look at the cut end of {cable_name(cable)} again (stripes differ) and correct its "
            "colours at the valve boxes.",
            CellRef("cable", cable.id, _LISTED),
        )


def _not_in_cable(
    job: LoadedJob, ends: WireEnds, unlisted_ends: Sequence[End]
) -> Iterator[Finding]:
    """One flag for each conductor that is used but not listed."""
    seen: set[tuple[str, str]] = set()
    for end in unlisted_ends:
        cable = job.row(end.cable)
        if (end.cable, end.colour) in seen or not isinstance(cable, Cable):
            continue
        seen.add((end.cable, end.colour))
        name, whose = cable_name(cable), ends.whose[end.name]
        yield Finding(
            "colour not in the cable",
            "fix",
            f"{sentence(short(end.colour))} at {whose} is not among the colours listed for {name}.",
            f"Look again: correct the colour of {whose}, or list {short(end.colour)} in {name} at "
            "the valve boxes.",
            ends.at[end.name],
        )


def _splices(job: LoadedJob) -> Iterator[Finding]:
    """Splices that are not waterproof, or not made well."""
    for cable in job.cables:
        if cable.common_waterproof is False:
            yield _wet(
                f"the common of {cable_name(cable)}",
                CellRef("cable", cable.id, "common_waterproof"),
            )
    for valve in job.valves:
        if valve.splice_waterproof is False:
            yield _wet(valve_name(job, valve), CellRef("valve", valve.id, "splice_waterproof"))
        yield from _workmanship(job, valve)
    for splice in job.splices:
        if splice.waterproof is False:
            whose = f"{short(splice.colour or 'a wire')} on the way"
            yield _wet(whose, CellRef("splice", splice.id, "waterproof"))


_WORK: tuple[tuple[str, Severity, str, str], ...] = (
    ("stripped", "note", "not stripped about 1/2 in", "Strip both wires 1/2 to 5/8 in and remake"),
    ("no_bare_copper", "fix", "showing bare copper", "Push the insulation into the connector of"),
    ("slack_loop", "note", "without a slack loop", "Coil 24 to 36 in of wire in the box for"),
)


def _workmanship(job: LoadedJob, valve: Valve) -> Iterator[Finding]:
    """A valve's splice that was seen not to be sealed, stripped, insulated or slack enough."""
    whose = valve_name(job, valve)
    if valve.splice_kind == "open twist":
        yield Finding(
            "splice not sealed",
            "fix",
            f"The splice of {whose} is an open twist: earth and water reach the copper.",
            "Remake it with a filled connector listed for direct burial, and enter its kind at "
            "the valve boxes.",
            CellRef("valve", valve.id, "splice_kind"),
            source=SPLICE_SOURCE,
        )
    for column, severity, words, mend in _WORK:
        if getattr(valve, column) is False:
            yield Finding(
                f"splice {words}",
                severity,
                f"The splice of {whose} is {words}.",
                f"{mend} the splice of {whose}, then tick it at the valve boxes.",
                CellRef("valve", valve.id, column),
            )


def _wet(whose: str, at: CellRef) -> Finding:
    return Finding(
        "splice not waterproof",
        "fix",
        f"The splice of {whose} is not waterproof.",
        "Remake it with a filled connector listed for direct burial, then tick it at the valve "
        "boxes.",
        at,
        source=SPLICE_SOURCE,
    )
