"""One cause behind many signs: nothing runs on a whole cable, or on the whole controller."""

from __future__ import annotations

from collections import defaultdict
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
    tested = {name: ran for name, ran in evidence.ran.items() if name in cables}
    if len(tested) >= FEWEST and not any(tested.values()):
        suspects = _by_cable(sorted(tested), cables)
        if len(suspects) > 1:
            names = tuple(sorted(tested))
            return (Cause("supply", names, ""),), _without(evidence, set(names))
    found: list[Cause] = []
    for cable, names in _by_cable(sorted(tested), cables).items():
        dark = len(names) >= FEWEST and not any(tested[name] for name in names)
        if dark and not _common_elsewhere(evidence, cable):
            found.append(Cause("common", tuple(names), cable))
    gone = {name for cause in found for name in cause.terminals}
    evidence = _without(evidence, gone)
    metered = {name: cables[name] for name in sorted(evidence.readings) if name in cables}
    for cable, names in _by_cable(sorted(metered), cables).items():
        if len(names) >= FEWEST and all(evidence.readings[name] == "open" for name in names):
            known = next((one for one in found if one.cable == cable), None)
            if known is not None:
                found.remove(known)
                names = sorted({*names, *known.terminals})
            found.append(Cause("common", tuple(names), cable, metered=True))
            evidence = replace(
                evidence,
                readings={one: seen for one, seen in evidence.readings.items() if one not in names},
            )
    return tuple(found), evidence


def _by_cable(names: list[str], cables: dict[str, str]) -> dict[str, list[str]]:
    found: defaultdict[str, list[str]] = defaultdict(list)
    for name in names:
        found[cables[name]].append(name)
    return dict(found)


def _without(evidence: Evidence, names: set[str]) -> Evidence:
    """The evidence without what ran at these terminals."""
    return replace(evidence, ran={one: ran for one, ran in evidence.ran.items() if one not in names})


def _common_elsewhere(evidence: Evidence, cable: str) -> bool:
    """Whether a cable's common was entered in two colours, or under a zone's terminal."""
    commons = commons_of(evidence)
    at = [*evidence.box, *evidence.controller]
    colours = {end.colour for end in at if end.cable == cable and end.station in commons}
    others = {end.colour for end in at if end.cable == cable and end.station not in commons}
    return len(colours) > 1 or bool(colours & others)
