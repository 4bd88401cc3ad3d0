"""How zones stand by all checks of their water, in the few figures that a change is judged by."""

from __future__ import annotations

from dataclasses import dataclass

from fieldbook.checks.water.zone_solutions import speeds, zone_groups
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
    worst = min(
        (status.worst for status in statuses if status.worst is not None),
        key=lambda head: head.margin_psi,
        default=None,
    )
    most = max(statuses, key=_drawn_part, default=None)
    pipes = [pipe for group in groups for pipe in speeds(job, group)]
    fastest = max(pipes, key=lambda pipe: pipe.excess, default=None)
    wrong = dict.fromkeys(
        flag.code for status in statuses for flag in status.flags if flag.severity != "note"
    )
    return Result(
        worst.result.psi if worst is not None else None,
        worst.margin_psi if worst is not None else None,
        most.flow_gpm if most is not None else None,
        most.available.flow_gpm if most is not None and most.available is not None else None,
        fastest.ft_s if fastest is not None else None,
        fastest.limit_ft_s if fastest is not None else None,
        tuple(wrong),
        all(group.solved for group in groups),
    )


def _drawn_part(status: ZoneStatus) -> float:
    """The draw as a part of what is allowed; the draw itself where nothing is."""
    draw_gpm = status.flow_gpm or 0.0
    return draw_gpm / status.available.flow_gpm if status.available else draw_gpm
