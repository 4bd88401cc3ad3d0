"""What makes a failing zone good: larger pipe, fewer heads at once, smaller nozzles.

Every suggestion is solved with its change made before it is returned. The "smallest" upsizing is
the one that lays the least length of pipe anew, then the smallest size; a search that was cut
short says so (`proven` is false).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations, islice, product

from fieldbook.water.network import Head, Link, Network, NetworkError, Pipe
from fieldbook.water.solution import Solution
from fieldbook.water.solver import solve

MOST_TRIES = 600
"""Solves spent on one search before it is cut short."""


@dataclass(frozen=True)
class Requirements:
    """What a network must meet.

    needed_psi: of each head by name; a head that is not named needs nothing. most_gpm: the flow
    that the supply allows, which is held against the sum of `draw_gpm` by head, or against the
    solved flow where that is None. most_ft_s: the velocity limit in every pipe.
    """

    needed_psi: Mapping[str, float]
    most_gpm: float | None = None
    most_ft_s: float | None = None
    draw_gpm: Mapping[str, float] | None = None

    def of_heads(self, names: Iterable[str]) -> Requirements:
        """The requirements when only these heads run."""
        wanted = set(names)
        needed = {name: psi for name, psi in self.needed_psi.items() if name in wanted}
        return replace(self, needed_psi=needed)


@dataclass(frozen=True)
class Margins:
    """How far a network is inside its requirements; a negative margin is outside.

    margin_psi: the least spare pressure at any head. spare_gpm and spare_ft_s: what is left of
    the flow and the velocity allowed, infinite where none is asked for.
    """

    margin_psi: float
    spare_gpm: float
    spare_ft_s: float
    converged: bool

    @property
    def met(self) -> bool:
        """Whether every requirement is met."""
        least = min(self.margin_psi, self.spare_gpm, self.spare_ft_s)
        return self.converged and least >= -1e-9


@dataclass(frozen=True)
class PipeChoice:
    """A pipe that a link could be: the word for its size, its bore in inches, its C."""

    size: str
    bore_in: float
    c: float


PipeChoices = Mapping[str, Sequence[PipeChoice]]
"""For each pipe link by name the larger sizes that it could be, smallest first."""


@dataclass(frozen=True)
class Upsizing:
    """Lay these links, `length_ft` in all, in these sizes."""

    sizes: Mapping[str, str]
    length_ft: float
    margins: Margins
    proven: bool = True


@dataclass(frozen=True)
class Split:
    """Run the heads in these groups, one after the other; the margins are those of the worst."""

    groups: tuple[tuple[str, ...], ...]
    margins: Margins


@dataclass(frozen=True)
class SmallerNozzles:
    """Fit nozzles that give `part` of the flow at the same pressure."""

    part: float
    margins: Margins


@dataclass(frozen=True)
class Remedies:
    """All remedies found; None where none of the kind helps.

    now: the margins as the network is. pipe_helps: whether pipe without any loss would be enough.
    most_heads: how many heads, counted from the first, run well together as the network is.
    """

    now: Margins
    pipe_helps: bool
    upsizing: Upsizing | None = None
    split: Split | None = None
    nozzles: SmallerNozzles | None = None
    most_heads: int = 0


def assess(network: Network, required: Requirements) -> Margins:
    """Solve a network and hold it against its requirements.

    A network that can't be solved has not `converged`, so it never counts as good.
    """
    try:
        return _margins(solve(network), required)
    except NetworkError:
        return Margins(-1.0, 0.0, 0.0, converged=False)


def _margins(solution: Solution, required: Requirements) -> Margins:
    margins = [
        head.psi - required.needed_psi[head.name]
        for head in solution.heads.values()
        if head.name in required.needed_psi
    ]
    spare_gpm = spare_ft_s = float("inf")
    if required.most_gpm is not None:
        spare_gpm = required.most_gpm * (1 + 1e-9) - _drawn_gpm(solution, required)
    if required.most_ft_s is not None:
        fastest = max((link.ft_s or 0.0 for link in solution.links.values()), default=0.0)
        spare_ft_s = required.most_ft_s - fastest
    return Margins(min(margins, default=0.0), spare_gpm, spare_ft_s, solution.converged)


def _drawn_gpm(solution: Solution, required: Requirements) -> float:
    if required.draw_gpm is None:
        return solution.supply_gpm
    return sum(required.draw_gpm.get(name, 0.0) for name in solution.heads)


def find_remedies(
    network: Network, required: Requirements, choices: PipeChoices, heads: Sequence[str]
) -> Remedies:
    """Find what makes a network meet its requirements.

    `heads` names those that may be split or get smaller nozzles, in order along the pipe.
    """
    now = assess(network, required)
    if now.met:
        return Remedies(now, pipe_helps=True, most_heads=len(heads))
    # Pipe without loss is solved first: where even that fails, no size needs to be tried.
    helps = assess(_without_loss(network, choices), required).met
    return Remedies(
        now,
        helps,
        _upsizing(network, required, choices) if helps else None,
        _split(network, required, heads),
        _nozzles(network, required, heads),
        most_heads(network, required, heads),
    )


def _without_loss(network: Network, choices: PipeChoices) -> Network:
    """The network with every pipe that may be changed without any loss."""

    def changed(link: Link) -> Link:
        if link.name not in choices or not isinstance(link.kind, Pipe):
            return link
        return link._replace(kind=Pipe(0.0, 1000.0))

    return network._replace(links=tuple(map(changed, network.links)))


def _upsizing(network: Network, required: Requirements, choices: PipeChoices) -> Upsizing | None:
    """The smallest upsizing of one pipe that is enough, else the smallest of two."""
    lengths = {
        link.name: link.kind.length_ft for link in network.links if isinstance(link.kind, Pipe)
    }
    tries = 0
    for count in (1, 2):
        options = sorted(_options(choices, lengths, count), key=lambda option: option[:2])
        proven = len(options) + tries <= MOST_TRIES
        for length_ft, _, change in islice(options, MOST_TRIES - tries):
            tries += 1
            margins = assess(resized(network, change), required)
            if margins.met:
                sizes = {name: choice.size for name, choice in change.items()}
                return Upsizing(sizes, length_ft, margins, proven)
    return None


Option = tuple[float, float, dict[str, PipeChoice]]


def _options(choices: PipeChoices, lengths: Mapping[str, float], count: int) -> Iterable[Option]:
    """Every way to change `count` links: length laid, sum of bores, the change."""
    for names in combinations([name for name in choices if choices[name]], count):
        length_ft = sum(lengths[name] for name in names)
        for chosen in product(*(choices[name] for name in names)):
            change = dict(zip(names, chosen, strict=True))
            yield length_ft, sum(choice.bore_in for choice in chosen), change


def resized(network: Network, change: Mapping[str, PipeChoice]) -> Network:
    """The network with some pipes, by link name, of other sizes."""

    def sized(link: Link) -> Link:
        choice = change.get(link.name)
        if choice is None or not isinstance(link.kind, Pipe):
            return link
        return link._replace(kind=link.kind._replace(bore_in=choice.bore_in, c=choice.c))

    return network._replace(links=tuple(map(sized, network.links)))


def only_heads(network: Network, kept: Iterable[str], all_heads: Iterable[str]) -> Network:
    """The network in which, of `all_heads`, only those `kept` run."""
    gone = set(all_heads) - set(kept)
    nodes = tuple(
        node._replace(heads=tuple(head for head in node.heads if head.name not in gone))
        for node in network.nodes
    )
    return network._replace(nodes=nodes)


def _split(network: Network, required: Requirements, heads: Sequence[str]) -> Split | None:
    """The fewest groups of neighbours, of about equal size, that each run well alone."""
    for count in range(2, len(heads) + 1):
        groups = _groups(heads, count)
        margins = [
            assess(only_heads(network, group, heads), required.of_heads(group)) for group in groups
        ]
        if all(group_margins.met for group_margins in margins):
            return Split(groups, min(margins, key=lambda one: one.margin_psi))
    return None


def _groups(heads: Sequence[str], count: int) -> tuple[tuple[str, ...], ...]:
    size, more = divmod(len(heads), count)
    found, start = [], 0
    for number in range(count):
        end = start + size + (number < more)
        found.append(tuple(heads[start:end]))
        start = end
    return tuple(found)


def most_heads(network: Network, required: Requirements, heads: Sequence[str]) -> int:
    """How many heads, counted from the first, run well together."""
    low, high = 0, len(heads)
    while low < high:
        middle = (low + high + 1) // 2
        kept = heads[:middle]
        if assess(only_heads(network, kept, heads), required.of_heads(kept)).met:
            low = middle
        else:
            high = middle - 1
    return low


def _nozzles(
    network: Network, required: Requirements, heads: Sequence[str]
) -> SmallerNozzles | None:
    """The largest nozzles, in steps of 5 %, with which it runs well; none under a quarter."""
    for percent in range(95, 20, -5):
        part = percent / 100.0
        draws = required.draw_gpm and {name: gpm * part for name, gpm in required.draw_gpm.items()}
        smaller = replace(required, draw_gpm=draws)
        margins = assess(_with_nozzles(network, set(heads), part), smaller)
        if margins.met:
            return SmallerNozzles(part, margins)
    return None


def _with_nozzles(network: Network, names: set[str], part: float) -> Network:
    """The network with the nozzles of these heads giving `part` of their flow."""

    def scaled(head: Head) -> Head:
        return head._replace(k=head.k * part) if head.name in names else head

    nodes = tuple(node._replace(heads=tuple(map(scaled, node.heads))) for node in network.nodes)
    return network._replace(nodes=nodes)
