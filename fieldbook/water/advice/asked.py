"""What is asked of a zone's network, and how a solution stands against all of it.

Pressures are in psi, flows in gpm, velocities in ft/s.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace

from fieldbook.water.solution import Solution

_CLOSE = 1e-9


@dataclass(frozen=True)
class Asked:
    """Everything that a network must meet.

    needed_psi: of each head by name; a head that is not named needs nothing. most_psi: of each
    head that has a maximum and no regulation of its own. regulated_psi: what a head's body
    regulates to. alike: groups of heads whose nozzle pressures may differ by so many psi.
    most_ft_s: of each pipe by name. most_gpm: the draw that the supply allows; `least_draw_gpm` is
    a draw that counts even where the solution is less.
    """

    needed_psi: Mapping[str, float]
    most_psi: Mapping[str, float] = field(default_factory=dict)
    regulated_psi: Mapping[str, float] = field(default_factory=dict)
    alike: tuple[tuple[frozenset[str], float], ...] = ()
    most_ft_s: Mapping[str, float] = field(default_factory=dict)
    most_gpm: float | None = None
    least_draw_gpm: float = 0.0

    def of_heads(self, names: Collection[str]) -> Asked:
        """The same, when only these heads run."""
        needed = {name: psi for name, psi in self.needed_psi.items() if name in names}
        part = len(needed) / max(len(self.needed_psi), 1)
        return replace(self, needed_psi=needed, least_draw_gpm=self.least_draw_gpm * part)

    def with_more(self, head: str, run: str, more: int) -> Asked:
        """The same with `more` heads like this one behind the run, as `like_last` names them."""
        names = [like_last_name(head, number) for number in range(1, more + 1)]
        links = [more_name(number) for number in range(1, more + 1)]

        def spread(of: Mapping[str, float], like: str, to: list[str]) -> dict[str, float]:
            return {**of, **(dict.fromkeys(to, of[like]) if like in of else {})}

        return replace(
            self,
            needed_psi=spread(self.needed_psi, head, names),
            most_psi=spread(self.most_psi, head, names),
            regulated_psi=spread(self.regulated_psi, head, names),
            alike=tuple(
                (heads | set(names) if head in heads else heads, psi) for heads, psi in self.alike
            ),
            most_ft_s=spread(self.most_ft_s, run, links),
        )


def more_name(number: int) -> str:
    """The name of the run, and of its end, that was added as this many more."""
    return f"more {number}"


def like_last_name(head: str, number: int) -> str:
    """The name of a head that was added like another."""
    return f"{head} + {number}"


@dataclass(frozen=True)
class Outcome:
    """How far a solution is inside what is asked; a negative margin is outside.

    worst: the head with the least to spare, "" where no head needs anything. The margins are
    infinite where nothing is asked.
    """

    converged: bool
    worst: str = ""
    margin_psi: float = float("inf")
    spare_gpm: float = float("inf")
    spare_ft_s: float = float("inf")
    under_most_psi: float = float("inf")
    spread_left_psi: float = float("inf")

    @property
    def met(self) -> bool:
        """Whether everything is met."""
        least = min(
            self.margin_psi,
            self.spare_gpm,
            self.spare_ft_s,
            self.under_most_psi,
            self.spread_left_psi,
        )
        return self.converged and least >= -_CLOSE


NOT_SOLVED = Outcome(converged=False)


def judge(solution: Solution, asked: Asked) -> Outcome:
    """Hold a solution against what is asked; one that has not converged is never met."""
    if not solution.converged:
        return NOT_SOLVED
    psi = {name: head.psi for name, head in solution.heads.items()}
    margins = [(psi[name] - need, name) for name, need in asked.needed_psi.items() if name in psi]
    margin, worst = min(margins, default=(float("inf"), ""))
    over = [most - psi[name] for name, most in asked.most_psi.items() if name in psi]
    spare_gpm = float("inf")
    if asked.most_gpm is not None:
        draw = max(solution.supply_gpm, asked.least_draw_gpm)
        spare_gpm = asked.most_gpm - draw
    return Outcome(
        True,
        worst,
        margin,
        spare_gpm,
        _spare_ft_s(solution, asked.most_ft_s),
        min(over, default=float("inf")),
        min((_left(psi, asked, *group) for group in asked.alike), default=float("inf")),
    )


def _spare_ft_s(solution: Solution, most_ft_s: Mapping[str, float]) -> float:
    links = solution.links
    spare = float("inf")
    for name, most in most_ft_s.items():
        ft_s = links[name].ft_s
        if ft_s is not None:
            spare = min(spare, most - ft_s)
    return spare


def _left(psi: Mapping[str, float], asked: Asked, heads: frozenset[str], most: float) -> float:
    """What is left of the spread allowed to a group, behind each head's own regulation."""
    held = [
        min(max(psi[name], 0.0), asked.regulated_psi.get(name, float("inf")))
        for name in heads
        if name in psi
    ]
    return most - (max(held) - min(held)) if len(held) > 1 else float("inf")
