"""One cause behind many signs: nothing runs on a whole cable, or on the whole controller."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
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
    found: list[Cause] = []
    for whose in sorted({evidence.controllers.get(end.name, "") for end in evidence.controller}):
        found += _at_controller(evidence, whose)
    return tuple(found), _without(evidence, found)


def _at_controller(evidence: Evidence, whose: str) -> list[Cause]:
    """The causes that the terminals of one controller share."""
    cables = {
        end.name: end.cable
        for end in evidence.controller
        if evidence.controllers.get(end.name, "") == whose
    }
    tested, metered = _by_cable(evidence.ran, cables), _by_cable(evidence.readings, cables)
    dark = {cable: names for cable, names in tested.items() if _dark(cable, names, evidence)}
    causes = [
        _cause(cable, dark.get(cable, []), metered.get(cable, []), evidence)
        for cable in sorted(tested.keys() | metered.keys())
    ]
    found = [cause for cause in causes if cause is not None]
    if len(dark) > 1 and dark == tested:
        every = sorted(name for names in tested.values() for name in names)
        found = [cause for cause in found if cause.metered]
        found.append(Cause("supply", tuple(every), ""))
    return found


def _dark(cable: str, tested: Sequence[str], evidence: Evidence) -> bool:
    """Whether nothing ran at any tested terminal of a cable whose common is in place."""
    nothing = len(tested) >= FEWEST and not any(evidence.ran[name] for name in tested)
    return nothing and not _common_elsewhere(evidence, cable)


def _cause(
    cable: str, dark: Sequence[str], metered: Sequence[str], evidence: Evidence
) -> Cause | None:
    """What the terminals of one cable share, by tests (`dark`) and by the meter."""
    read = {evidence.readings[name] for name in metered}
    if len(metered) >= FEWEST and read == {"open"}:
        return Cause("common", tuple(sorted({*dark, *metered})), cable, metered=True)
    if not dark:
        return None
    # Where the meter finds the coils, wire and common are whole.
    whole = any(evidence.readings.get(name) == "sound" for name in dark)
    return Cause("supply" if whole else "common", tuple(sorted(dark)), cable)


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
