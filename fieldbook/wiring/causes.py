"""One cause behind many signs: nothing runs on a whole cable, or on the whole controller."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import replace

from fieldbook.wiring.evidence import Cause, Evidence
from fieldbook.wiring.tangle import commons_of

FEWEST = 2
"""So many terminals without a sign of life, and none with one, point at what they share."""


def common_causes(evidence: Evidence) -> tuple[tuple[Cause, ...], Evidence]:
    """Causes that terminals share, and the evidence without what those causes explain.

    A test in which nothing ran tells nothing of its own wire while the common, the controller or
    the water may be what is wrong. A common that the colours put elsewhere is left to the search.
    """
    cables = {end.name: end.cable for end in evidence.controller}
    tested = _by_cable(evidence.ran, cables)
    metered = _by_cable(evidence.readings, cables)
    dark = {
        cable: names
        for cable, names in tested.items()
        if len(names) >= FEWEST
        and not any(evidence.ran[name] for name in names)
        and not _common_elsewhere(evidence, cable)
    }
    found: list[Cause] = []
    for cable in sorted(dark.keys() | metered.keys()):
        read = [evidence.readings[name] for name in metered.get(cable, [])]
        names = set(dark.get(cable, []))
        if len(read) >= FEWEST and set(read) == {"open"}:
            names |= set(metered[cable])
            found.append(Cause("common", tuple(sorted(names)), cable, metered=True))
        elif cable in dark:
            # Where the meter finds the coils, wire and common are whole.
            whole = any(evidence.readings.get(name) == "sound" for name in names)
            found.append(Cause("supply" if whole else "common", tuple(sorted(names)), cable))
    every = [name for names in tested.values() for name in names]
    if len(dark) > 1 and sum(map(len, dark.values())) == len(every):
        metered_ones = [cause for cause in found if cause.metered]
        found = [*metered_ones, Cause("supply", tuple(sorted(every)), "")]
    return tuple(found), _without(evidence, found)


def _by_cable(names: Iterable[str], cables: Mapping[str, str]) -> dict[str, list[str]]:
    found: defaultdict[str, list[str]] = defaultdict(list)
    for name in sorted(names):
        if name in cables:
            found[cables[name]].append(name)
    return dict(found)


def _without(evidence: Evidence, causes: Iterable[Cause]) -> Evidence:
    """The evidence without the tests and readings that these causes explain."""
    ran, readings = dict(evidence.ran), dict(evidence.readings)
    for cause in causes:
        for name in cause.terminals:
            ran.pop(name, None)
            if cause.metered:
                readings.pop(name, None)
    return replace(evidence, ran=ran, readings=readings)


def _common_elsewhere(evidence: Evidence, cable: str) -> bool:
    """Whether a cable's common was entered in two colours, or under a zone's terminal."""
    commons = commons_of(evidence)
    at = [*evidence.box, *evidence.controller]
    colours = {end.colour for end in at if end.cable == cable and end.station in commons}
    others = {end.colour for end in at if end.cable == cable and end.station not in commons}
    return len(colours) > 1 or bool(colours & others)
