"""Which ends belong together, and whether they fit: the first step of `reconcile`.

Ends that share a conductor, a station or a test are one group. A group fits when nothing that was
seen speaks against its entries. Groups that do not fit are joined where the same slip could be
behind both: loose colours of one cable, or a common that is not where it should be.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence

from fieldbook.wiring.colour_join import End
from fieldbook.wiring.evidence import Evidence
from fieldbook.wiring.tangle import commons_of

Group = list[End]


def groups_of(evidence: Evidence) -> tuple[list[Group], list[Group]]:
    """All ends in groups: those that fit, then those that do not, joined as far as needed."""
    fitting: list[Group] = []
    unfit: list[Group] = []
    at_box = {end.name for end in evidence.box}
    in_doubt = _commons_in_doubt(evidence)
    for group in _together(evidence):
        drawn_in = any(_shows_common(end, in_doubt, evidence) for end in group)
        fit = not drawn_in and fits(group, at_box, evidence)
        (fitting if fit else unfit).append(group)
    return fitting, _joined(unfit, at_box, evidence)


def _commons_in_doubt(evidence: Evidence) -> set[str]:
    """Cables on which one terminal alone runs anything, as where hot and common are exchanged.

    Two others without a sign of life are asked for, since one alone is more likely broken.
    """
    found = set()
    for cable in {end.cable for end in evidence.controller}:
        ran = [evidence.ran.get(end.name) for end in evidence.controller if end.cable == cable]
        tested = [stations for stations in ran if stations is not None]
        found |= {cable} if len(tested) > 2 and sum(map(bool, tested)) == 1 else set()
    return found


def _shows_common(end: End, cables: set[str], evidence: Evidence) -> bool:
    """Whether an end is the common of one of these cables, or the terminal that alone runs."""
    if end.cable not in cables:
        return False
    return end.station in commons_of(evidence) or bool(evidence.ran.get(end.name))


def fits(group: Group, at_box: set[str], evidence: Evidence) -> bool:
    """Whether a group is one conductor whose ends, test and reading agree, as far as entered."""
    box = [end for end in group if end.name in at_box]
    controller = [end for end in group if end.name not in at_box]
    if len(box) > 1 or len(controller) > 1:
        return False
    if not controller:
        return True
    under = controller[0]
    ran, reading = evidence.ran.get(under.name), evidence.readings.get(under.name)
    if not box:
        return not ran or ran == {under.station}
    seen = box[0]
    same = (seen.cable, seen.colour, seen.station) == (under.cable, under.colour, under.station)
    return same and ran in (None, {under.station}) and reading not in ("open", "two coils")


def united(count: int, together: Iterable[Sequence[int]]) -> list[list[int]]:
    """The numbers below `count` in groups, so that each list of `together` is inside one group."""
    # Union-find with path halving: every number points towards the leader of its group.
    leader = list(range(count))

    def find(number: int) -> int:
        while leader[number] != number:
            leader[number] = leader[leader[number]]
            number = leader[number]
        return number

    for members in together:
        for number in members[1:]:
            leader[find(number)] = find(members[0])
    found: defaultdict[int, list[int]] = defaultdict(list)
    for number in range(count):
        found[find(number)].append(number)
    return list(found.values())


def _together(evidence: Evidence) -> list[Group]:
    """Ends that share a conductor, a station or a test, directly or through others."""
    ends = sorted([*evidence.box, *evidence.controller])
    keys: defaultdict[object, list[int]] = defaultdict(list)
    for number, end in enumerate(ends):
        keys["conductor", end.cable, end.colour].append(number)
        keys["station", end.station].append(number)
        for station in evidence.ran.get(end.name, ()):
            keys["station", station].append(number)
    return [[ends[number] for number in group] for group in united(len(ends), keys.values())]


def _joined(unfit: list[Group], at_box: set[str], evidence: Evidence) -> list[Group]:
    """Join the groups that one slip could lie behind."""
    keys: defaultdict[object, list[int]] = defaultdict(list)
    # A colour misread in one group may be the very colour that is missing in the other.
    for number, group in enumerate(unfit):
        for cable in _loose(group, at_box) | _coils_missing(group, evidence):
            keys["loose", cable].append(number)
    for cable in sorted({end.cable for group in unfit for end in group}):
        keys["common", cable] = _of_common(cable, unfit, evidence)
    return [
        [end for number in group for end in unfit[number]]
        for group in united(len(unfit), keys.values())
    ]


def _of_common(cable: str, unfit: list[Group], evidence: Evidence) -> list[int]:
    """The groups that a cable's common concerns, if it does not fit or a test puts it in doubt.

    With the common elsewhere no terminal of its cable runs anything.
    """
    commons, in_doubt = commons_of(evidence), _commons_in_doubt(evidence)
    here = [no for no, group in enumerate(unfit) if any(end.cable == cable for end in group)]
    lost = [no for no in here if any(end.station in commons for end in unfit[no])]
    if not lost and cable not in in_doubt:
        return []
    dead = [no for no in here if _runs_nothing(unfit[no], evidence)]
    shown = [no for no in here if any(_shows_common(end, in_doubt, evidence) for end in unfit[no])]
    return [*lost, *dead, *shown]


def _runs_nothing(group: Group, evidence: Evidence) -> bool:
    return any(evidence.ran.get(end.name) == frozenset() for end in group)


def _coils_missing(group: Group, evidence: Evidence) -> set[str]:
    """Cables on which a valve that is missing here may be the second coil of another wire."""
    doubled = {
        end.cable for end in evidence.controller if evidence.readings.get(end.name) == "two coils"
    }
    odd = {evidence.readings.get(end.name) for end in group} & {"two coils", "open"}
    return {end.cable for end in group} & doubled if odd else set()


def _loose(group: Group, at_box: set[str]) -> set[str]:
    """Cables with a conductor that is at one end only, or twice at one end."""
    box = [(end.cable, end.colour) for end in group if end.name in at_box]
    under = [(end.cable, end.colour) for end in group if end.name not in at_box]
    twice = {one for side in (box, under) for one in side if side.count(one) > 1}
    return {cable for cable, _ in set(box) ^ set(under) | twice}
