"""How zones stand by all checks of their water, in the few figures that a change is judged by."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fieldbook.checks.water.zone_solutions import Speed, speeds, zone_groups
from fieldbook.checks.water.zone_status import ZoneStatus, status_of
from fieldbook.records.loaded_job import LoadedJob


@dataclass(frozen=True)
class Result:
    """The worst of some zones: pressures in psi, flows in gpm, velocities in ft/s.

    `worst_psi` is at the head with the least to spare and `margin_psi` what it has to spare;
    `fastest_ft_s` is in the pipe nearest its limit. wrong: the flags that are a stop or a fix, by
    code. None for what is not known.
    """

    worst_psi: float | None
    margin_psi: float | None
    draw_gpm: float | None
    allowed_gpm: float | None
    fastest_ft_s: float | None
    limit_ft_s: float | None
    wrong: tuple[str, ...]
    solved: bool

    @property
    def met(self) -> bool:
        """Whether the zones are solved and nothing of their water has to be mended."""
        return self.solved and not self.wrong


def result_of(job: LoadedJob) -> Result:
    """How all zones of a job stand, the worst figure of each."""
    groups = zone_groups(job)
    statuses = [status_of(job, zone, group) for group in groups for zone in group.zones]
    wrong = dict.fromkeys(
        flag.code for status in statuses for flag in status.flags if flag.severity != "note"
    )
    return Result(
        *_worst(statuses),
        *_drawn(statuses),
        *_fastest([pipe for group in groups for pipe in speeds(job, group)]),
        tuple(wrong),
        all(group.solved for group in groups),
    )


_Two = tuple[float | None, float | None]


def _worst(statuses: Sequence[ZoneStatus]) -> _Two:
    """The pressure at the head with the least to spare, and what it has to spare."""
    heads = [status.worst for status in statuses if status.worst is not None]
    worst = min(heads, key=lambda head: head.margin_psi, default=None)
    return (None, None) if worst is None else (worst.result.psi, worst.margin_psi)


def _drawn(statuses: Sequence[ZoneStatus]) -> _Two:
    """The draw that is the largest part of what is allowed, and what is allowed."""
    most = max(statuses, key=_drawn_part, default=None)
    if most is None:
        return None, None
    return most.flow_gpm, most.available.flow_gpm if most.available is not None else None


def _fastest(pipes: Sequence[Speed]) -> _Two:
    """The velocity nearest its limit, and that limit."""
    fastest = max(pipes, key=lambda pipe: pipe.excess, default=None)
    return (None, None) if fastest is None else (fastest.ft_s, fastest.limit_ft_s)


def _drawn_part(status: ZoneStatus) -> float:
    """The draw as a part of what is allowed; the draw itself where nothing is."""
    draw_gpm = status.flow_gpm or 0.0
    # A test at which no water has enough pressure allows no flow at all.
    return draw_gpm / max(status.available.flow_gpm, 1e-6) if status.available else draw_gpm
