"""What heads give at which pressure, as numbers that the solver can evaluate; checked once, here.

Most heads are orifices, q = k sqrt(p), and are solved as plain numbers. A pressure compensating
emitter is such a head too: an orifice up to its least pressure, and regulated from there. The few
with another exponent have a `HeadLaw`.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import NamedTuple

from fieldbook.water.network import Head, NetworkError

_LEAST_K, _MOST_K = 1e-9, 1e6
# Below this exponent, but for 0, powers of a head's flow leave the range of numbers.
_LEAST_EXPONENT = 0.01
# A step as small as this part of the pressure follows the tangent: the secant's difference of two
# flows that are nearly the same has no digits left.
_SMALL = 1e-4
# No pressure that is solved for is beyond this; it bounds the flow of a head with another law.
_MOST_PSI = 1e7


class HeadLaw(NamedTuple):
    """q = k p^(1/n): `n` is one over the head's exponent."""

    k: float
    n: float

    def psi(self, gpm: float) -> float:
        """The pressure in psi that a flow of 0 or more needs."""
        return float((gpm / self.k) ** self.n)

    def gpm(self, psi: float) -> float:
        """The flow in gpm at a pressure of 0 or more."""
        return float(self.k * psi ** (1.0 / self.n))

    def gentler(self, most_n: float) -> HeadLaw:
        """The law with `n` no more than this; both give `k` at 1 psi."""
        return self._replace(n=min(self.n, most_n))

    def softness(self, gpm: float, mismatch: float, most: float) -> float:
        """How much more it gives for a psi more, in gpm per psi; 0 on its bound.

        `mismatch` is the pressure that it needs at `gpm` less what it has.
        """
        if mismatch >= 0.0:
            return self._tangent(gpm, mismatch)
        if gpm >= most:
            return 0.0
        psi = self.psi(gpm)
        if -mismatch < _SMALL * psi:
            return self._tangent(gpm, mismatch)
        return (min(self.gpm(psi - mismatch), most) - gpm) / -mismatch

    def _tangent(self, gpm: float, mismatch: float) -> float:
        steep = self.n * self.psi(gpm)
        if steep > 0.0:
            return gpm / steep
        # So near to no flow the powers are 0: what is left goes in one step.
        return gpm / mismatch if mismatch > 0.0 else 0.0


class HeadFigures(NamedTuple):
    """The figures of some heads, as parallel lists.

    Of each: `inverse` 1/k^2 of an orifice, and `most`, the largest flow in gpm that it lets pass.
    `laws` has the heads that are no orifice, and `ranged` those with a range of pressures, by
    their place in the lists.
    """

    inverse: list[float]
    most: list[float]
    laws: dict[int, HeadLaw]
    ranged: list[int]


def head_figures(heads: list[Head]) -> HeadFigures:
    """The figures of heads. Raises NetworkError, naming the head, for impossible ones."""
    figures = HeadFigures([], [], {}, [])
    inverse, most_gpm = figures.inverse, figures.most
    for number, head in enumerate(heads):
        _, k, regulated, exponent, least, most = head
        if not _LEAST_K <= k <= _MOST_K:
            raise NetworkError(f"Head {head.name}: its k must be above zero, and below a million.")
        if regulated is not None and not 0.0 < regulated <= _MOST_K:
            raise NetworkError(f"Head {head.name}: its regulated pressure must be above zero.")
        if exponent == 0.5:
            inverse.append(1.0 / (k * k))
            most_gpm.append(math.inf if regulated is None else k * math.sqrt(regulated))
        else:
            _add_other(figures, number, head)
        if least is not None or most is not None:
            _check_range(head)
            figures.ranged.append(number)
    return figures


def _add_other(figures: HeadFigures, number: int, head: Head) -> None:
    """Add the figures of a head that is no orifice."""
    if head.exponent == 0.0:
        if head.least_psi is None or head.regulated_psi is not None:
            raise NetworkError(
                f"Head {head.name}: with the exponent 0 it takes the least pressure at which it "
                "gives its flow, and no regulated pressure."
            )
        figures.inverse.append(head.least_psi / head.k**2)
        figures.most.append(head.k)
        return
    if not _LEAST_EXPONENT <= head.exponent <= 1.0:
        raise NetworkError(f"Head {head.name}: its exponent must be 0, or from 0.01 to 1.")
    law = HeadLaw(head.k, 1.0 / head.exponent)
    figures.inverse.append(1.0 / head.k**2)
    figures.most.append(law.gpm(_MOST_PSI if head.regulated_psi is None else head.regulated_psi))
    figures.laws[number] = law


def _check_range(head: Head) -> None:
    figures = [psi for psi in (0.0, head.least_psi, head.most_psi) if psi is not None]
    rising = all(low < high for low, high in pairwise(figures))
    if not (rising and figures[-1] <= _MOST_PSI):
        raise NetworkError(
            f"Head {head.name}: its least pressure must be above zero, and below its most."
        )


def is_outside(head: Head, psi: float) -> bool:
    """Whether a pressure in psi is outside the range in which the head's law holds."""
    below = head.least_psi is not None and psi < head.least_psi
    return below or (head.most_psi is not None and psi > head.most_psi)
