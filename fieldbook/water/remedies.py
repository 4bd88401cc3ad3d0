"""What mends a zone that fails: larger pipe, fewer heads at once, smaller nozzles.

Every suggestion is verified by solving the network with it. "Smallest" is the least length of
pipe laid anew, then the smallest size; a search that was cut short says so (`proven` false).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations, islice, product

from fieldbook.water.network import Head, Link, Network, NetworkError, Node, Pipe
from fieldbook.water.solution import Solution
from fieldbook.water.solve import solve

MOST_TRIES = 600
"""Solves spent on a search before it is cut short."""


@dataclass(frozen=True)
class Aim:
    """What is asked of a network.

    needed_psi: of each head by name (heads not named need nothing). most_gpm: the supply's limit,
    against which each head counts for its `draw_gpm` (None: as solved). most_ft_s: the velocity
    limit in every pipe.
    """

    needed_psi: Mapping[str, float]
    most_gpm: float | None = None
    most_ft_s: float | None = None
    draw_gpm: Mapping[str, float] | None = None


@dataclass(frozen=True)
class Verdict:
    """How a network stands: the least spare pressure at a head in psi, spare flow and speed."""

    margin_psi: float
    spare_gpm: float
    spare_ft_s: float
    converged: bool

    @property
    def good(self) -> bool:
        """Whether all that is asked is met."""
        least = min(self.margin_psi, self.spare_gpm, self.spare_ft_s)
        return self.converged and least >= -1e-9


@dataclass(frozen=True)
class Larger:
    """A larger pipe that a link could be: the word for its size, its bore and C."""

    size: str
    bore_in: float
    c: float


Choices = Mapping[str, Sequence[Larger]]
"""For each pipe link by name the larger sizes it could be, smallest first."""


@dataclass(frozen=True)
class Upsizing:
    """Lay these links in these sizes."""

    sizes: Mapping[str, str]
    length_ft: float
    verdict: Verdict
    proven: bool = True


@dataclass(frozen=True)
class Split:
    """Run the heads in these contiguous groups, one after the other."""

    groups: tuple[tuple[str, ...], ...]
    verdict: Verdict


@dataclass(frozen=True)
class Nozzles:
    """Nozzles that give `part` of the flow at the same pressure."""

    part: float
    verdict: Verdict


@dataclass(frozen=True)
class Mending:
    """All that was found. `pipe_helps`: whether pipe without any loss would mend it."""

    now: Verdict
    pipe_helps: bool
    upsizing: Upsizing | None = None
    split: Split | None = None
    nozzles: Nozzles | None = None
    most_heads: int = 0


def judge(network: Network, aim: Aim) -> Verdict:
    """Solve a network and hold it against what is asked of it."""
    try:
        return _judge(solve(network), aim)
    except NetworkError:
        return Verdict(-1.0, 0.0, 0.0, converged=False)


def _judge(solution: Solution, aim: Aim) -> Verdict:
    margins = [
        head.psi - aim.needed_psi[head.name]
        for head in solution.heads.values()
        if head.name in aim.needed_psi
    ]
    spare_gpm = float("inf")
    if aim.most_gpm is not None:
        spare_gpm = aim.most_gpm * (1 + 1e-9) - _drawn(solution, aim)
    fastest = max((link.ft_s or 0.0 for link in solution.links.values()), default=0.0)
    spare_ft_s = float("inf") if aim.most_ft_s is None else aim.most_ft_s - fastest
    return Verdict(min(margins, default=0.0), spare_gpm, spare_ft_s, solution.converged)


def _drawn(solution: Solution, aim: Aim) -> float:
    if aim.draw_gpm is None:
        return solution.supply_gpm
    return sum(aim.draw_gpm.get(name, 0.0) for name in solution.heads)


def mend(network: Network, aim: Aim, choices: Choices, heads: Sequence[str]) -> Mending:
    """Find what mends a network; `heads` are those that may be split, in order along the pipe."""
    now = judge(network, aim)
    if now.good:
        return Mending(now, pipe_helps=True, most_heads=len(heads))
    helps = judge(_ideal(network, choices), aim).good
    return Mending(
        now,
        helps,
        _upsizing(network, aim, choices) if helps else None,
        _split(network, aim, heads),
        _nozzles(network, aim, heads),
        most_heads(network, aim, heads),
    )


def _ideal(network: Network, choices: Choices) -> Network:
    """The network with every pipe that may be changed without any loss."""

    def without(link: Link) -> Link:
        if link.name not in choices or not isinstance(link.kind, Pipe):
            return link
        return link._replace(kind=Pipe(0.0, 1000.0))

    return replace(network, links=tuple(map(without, network.links)), _node_at={})


def _upsizing(network: Network, aim: Aim, choices: Choices) -> Upsizing | None:
    """The smallest single upsizing that mends it, else the smallest pair."""
    lengths = {
        link.name: link.kind.length_ft for link in network.links if isinstance(link.kind, Pipe)
    }
    tries = 0
    for count in (1, 2):
        options = sorted(_options(choices, lengths, count), key=lambda one: (one[0], one[1]))
        proven = len(options) + tries <= MOST_TRIES
        for length_ft, _, change in islice(options, MOST_TRIES - tries):
            tries += 1
            verdict = judge(resized(network, change), aim)
            if verdict.good:
                sizes = {name: one.size for name, one in change.items()}
                return Upsizing(sizes, length_ft, verdict, proven)
    return None


Option = tuple[float, float, dict[str, Larger]]


def _options(choices: Choices, lengths: Mapping[str, float], count: int) -> Iterable[Option]:
    """Every way to change `count` links: length laid, sum of bores, the change."""
    for names in combinations([name for name in choices if choices[name]], count):
        length_ft = sum(lengths[name] for name in names)
        for larger in product(*(choices[name] for name in names)):
            change = dict(zip(names, larger, strict=True))
            yield length_ft, sum(one.bore_in for one in larger), change


def resized(network: Network, change: Mapping[str, Larger]) -> Network:
    """The network with some pipes of other sizes."""

    def sized(link: Link) -> Link:
        larger = change.get(link.name)
        if larger is None or not isinstance(link.kind, Pipe):
            return link
        return link._replace(kind=link.kind._replace(bore_in=larger.bore_in, c=larger.c))

    return replace(network, links=tuple(map(sized, network.links)), _node_at={})


def only_heads(network: Network, kept: Iterable[str], all_heads: Iterable[str]) -> Network:
    """The network in which, of `all_heads`, only those `kept` run."""
    gone = set(all_heads) - set(kept)
    nodes = tuple(
        node._replace(heads=tuple(head for head in node.heads if head.name not in gone))
        for node in network.nodes
    )
    return replace(network, nodes=nodes, _node_at={})


def _split(network: Network, aim: Aim, heads: Sequence[str]) -> Split | None:
    """The fewest contiguous groups of about equal size that each run well alone."""
    for count in range(2, len(heads) + 1):
        groups = _groups(heads, count)
        verdicts = [judge(only_heads(network, group, heads), _part(aim, group)) for group in groups]
        if all(verdict.good for verdict in verdicts):
            return Split(groups, min(verdicts, key=lambda one: one.margin_psi))
    return None


def _groups(heads: Sequence[str], count: int) -> tuple[tuple[str, ...], ...]:
    size, more = divmod(len(heads), count)
    found, at = [], 0
    for no in range(count):
        end = at + size + (no < more)
        found.append(tuple(heads[at:end]))
        at = end
    return tuple(found)


def _part(aim: Aim, kept: Iterable[str]) -> Aim:
    """What is asked when only some heads run."""
    wanted = set(kept)
    needed = {name: psi for name, psi in aim.needed_psi.items() if name in wanted}
    return replace(aim, needed_psi=needed)


def most_heads(network: Network, aim: Aim, heads: Sequence[str]) -> int:
    """How many heads, counted from the first, run well together."""
    low, high = 0, len(heads)
    while low < high:
        middle = (low + high + 1) // 2
        kept = heads[:middle]
        if judge(only_heads(network, kept, heads), _part(aim, kept)).good:
            low = middle
        else:
            high = middle - 1
    return low


def _nozzles(network: Network, aim: Aim, heads: Sequence[str]) -> Nozzles | None:
    """The largest nozzles, in steps of 5 %, with which it runs well; none under a quarter."""
    for percent in range(95, 20, -5):
        part = percent / 100.0
        draws = aim.draw_gpm and {name: gpm * part for name, gpm in aim.draw_gpm.items()}
        verdict = judge(_scaled(network, set(heads), part), replace(aim, draw_gpm=draws))
        if verdict.good:
            return Nozzles(part, verdict)
    return None


def _scaled(network: Network, names: set[str], part: float) -> Network:
    def scaled(head: Head) -> Head:
        return head._replace(k=head.k * part) if head.name in names else head

    nodes: tuple[Node, ...] = tuple(
        node._replace(heads=tuple(map(scaled, node.heads))) for node in network.nodes
    )
    return replace(network, nodes=nodes, _node_at={})
