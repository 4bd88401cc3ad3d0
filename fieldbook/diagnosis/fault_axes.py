"""Every single fault of a zone, by what it changes in the water.

Faults that change the same thing at the same place form one axis: a nozzle that is clogged and one
that is too small both let less through, and no gauge tells them apart. An axis is simulated at a
few severities; each of its causes covers a part of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Literal, NamedTuple

from fieldbook.diagnosis.zone_parts import ZoneParts
from fieldbook.water import Pipe

Change = Literal[
    "none",
    "less at a head",
    "more at a node",
    "more before the valve",
    "lateral loses",
    "valve loses",
    "shared part loses",
    "street loses",
    "street pressure",
    "regulator low",
    "regulator open",
]
"""What a fault changes in the water. none: nothing while the zone runs."""
Kind = Literal[
    "blocked",
    "too_small",
    "too_large",
    "missing",
    "leak",
    "obstructed",
    "kink",
    "undersized",
    "valve_part_closed",
    "filter",
    "regulator_low",
    "regulator_open",
    "isolation",
    "assembly",
    "street_valve",
    "supply_fallen",
    "main_leak",
    "seat",
]

_PART_SHUT = (0.15, 0.35, 0.55, 0.75, 0.9, 1.0)
_MORE_GPM = (0.4, 0.8, 1.6, 3.2, 6.4, 12.8, 25.6)
_LOST_PSI = (1.0, 2.5, 6.0, 15.0, 40.0, 100.0, 250.0)
_FALLEN_PART = (0.04, 0.08, 0.15, 0.25, 0.4, 0.6)
_LOW_PART = (0.1, 0.2, 0.35, 0.55, 0.75)


class Cause(NamedTuple):
    """A kind of fault at a place, and the severities of its axis that it covers."""

    kind: Kind
    place: str
    least: float
    most: float


class Axis(NamedTuple):
    """One change of the water at one place, the severities simulated, the causes it stands for.

    severities: of less, the part of the nozzle that is shut; of more, gpm at the pressure there as
    recorded; of a loss, psi at the recorded flow; of pressures, the part that is lost.
    """

    change: Change
    place: str
    severities: tuple[float, ...]
    causes: tuple[Cause, ...]


def axes_of(parts: ZoneParts) -> list[Axis]:
    """Every axis of a zone, each once."""
    found: list[Axis] = []
    for head in parts.heads:
        found += _head_axes(head)
    found += _lateral_axes(parts)
    found += _series_axes(parts)
    return found


def _head_axes(head: str) -> Iterator[Axis]:
    yield Axis(
        "less at a head",
        head,
        _PART_SHUT,
        (Cause("blocked", head, 0.15, 1.0), Cause("too_small", head, 0.2, 0.65)),
    )
    # A missing nozzle opens the whole bore of the body, whatever the nozzle was.
    yield Axis(
        "more at a node",
        head,
        _MORE_GPM,
        (
            Cause("too_large", head, 0.4, 3.0),
            Cause("missing", head, 3.0, 25.6),
            Cause("leak", head, 0.4, 25.6),
        ),
    )
    yield Axis("none", head, (1.0,), (Cause("obstructed", head, 1.0, 1.0),))


def _lateral_axes(parts: ZoneParts) -> Iterator[Axis]:
    """Losses of the lateral's pipes, and leaks where pipes meet without a head."""
    links = {link.name: link for link in parts.network.links}
    headed = {foot for foot, _ in lateral_ends(parts).values()}
    trunk = trunk_of(parts)
    for series in pipes_in_series(parts):
        pipes = [name for name in series if _has_bore(links[name].kind)]
        if pipes and series != trunk:
            yield Axis("lateral loses", pipes[-1], _LOST_PSI, _pipe_causes(pipes))
    for name in parts.laterals:
        end = links[name].end
        if end not in headed:
            yield Axis("more at a node", end, _MORE_GPM, (Cause("leak", name, 0.4, 25.6),))


def _pipe_causes(pipes: Iterable[str]) -> tuple[Cause, ...]:
    kinds: tuple[Kind, ...] = ("kink", "undersized")
    return tuple(Cause(kind, name, _LOST_PSI[0], _LOST_PSI[-1]) for name in pipes for kind in kinds)


def _has_bore(kind: object) -> bool:
    # A riser that only has a height is a pipe of no length: nothing in it can be kinked.
    return isinstance(kind, Pipe) and kind.length_ft > 0.0


def lateral_ends(parts: ZoneParts) -> dict[str, tuple[str, str]]:
    """By head, the node where its run ends and the node where it stands itself.

    They differ where a head stands on a riser, at another height than its run.
    """
    standing = {head.name: node.name for node in parts.network.nodes for head in node.heads}
    laterals = set(parts.laterals)
    below = {link.end: link.start for link in parts.network.links if link.name not in laterals}
    ends = {link.end for link in parts.network.links if link.name in laterals}
    found = {}
    for head in parts.heads:
        node = standing[head]
        foot = node if node in ends else below.get(node, node)
        found[head] = (foot, node)
    return found


def pipes_in_series(parts: ZoneParts) -> list[list[str]]:
    """The lateral's pipes, those together that pass the same water: no gauge tells them apart."""
    links = [link for link in parts.network.links if link.name in set(parts.laterals)]
    leaving: dict[str, int] = {}
    for link in parts.network.links:
        leaving[link.start] = leaving.get(link.start, 0) + 1
    headed = {node.name for node in parts.network.nodes if node.heads}
    arriving = {link.end: link.name for link in links}
    found: dict[str, list[str]] = {}
    for link in links:
        before = arriving.get(link.start)
        same = before in found and leaving[link.start] == 1 and link.start not in headed
        series = found[before] if same and before is not None else []
        series.append(link.name)
        found[link.name] = series
    return list({id(series): series for series in found.values()}.values())


def trunk_of(parts: ZoneParts) -> list[str]:
    """The lateral's first pipes, which pass the whole zone's water as its valve does."""
    end = {link.name: link.end for link in parts.network.links}
    start = {link.name: link.start for link in parts.network.links}
    last = next(name for name in (parts.regulator, parts.filter, parts.valve) if name is not None)
    first = [name for name in parts.laterals if start[name] == end[last]]
    if len(first) != 1:
        return []
    return next(series for series in pipes_in_series(parts) if first[0] in series)


def _series_axes(parts: ZoneParts) -> Iterator[Axis]:
    """Faults of what the whole zone's water passes, from the street to the valve."""
    at_valve: list[Kind] = ["valve_part_closed"]
    if parts.filter is not None:
        at_valve.append("filter")
    if parts.regulator is not None:
        yield Axis(
            "regulator low", "", _LOW_PART, (Cause("regulator_low", "", _LOW_PART[0], 0.75),)
        )
        yield Axis("regulator open", "", (1.0,), (Cause("regulator_open", "", 1.0, 1.0),))
    links = {link.name: link for link in parts.network.links}
    trunk = [name for name in trunk_of(parts) if _has_bore(links[name].kind)]
    yield Axis("valve loses", "", _LOST_PSI, (*_whole(at_valve, _LOST_PSI), *_pipe_causes(trunk)))
    shared: list[Kind] = ["isolation"]
    if parts.assembly:
        shared.append("assembly")
    mains = [name for name in parts.before if _has_bore(links[name].kind)]
    yield Axis(
        "shared part loses", "", _LOST_PSI, (*_whole(shared, _LOST_PSI), *_pipe_causes(mains))
    )
    yield Axis("street loses", "", _LOST_PSI, _whole(["street_valve"], _LOST_PSI))
    yield Axis("street pressure", "", _FALLEN_PART, _whole(["supply_fallen"], _FALLEN_PART))
    yield Axis("more before the valve", "", _MORE_GPM, _whole(["main_leak"], _MORE_GPM))
    yield Axis("none", "", (1.0,), (Cause("seat", "", 1.0, 1.0),))


def _whole(kinds: list[Kind], severities: tuple[float, ...]) -> tuple[Cause, ...]:
    return tuple(Cause(kind, "", severities[0], severities[-1]) for kind in kinds)
