"""Pipe, fittings and cemented joints, counted from the tree of runs of each stretch.

A run ends at a node. One pipe going on is a reducer where the size changes, else nothing; each
further outlet, pipe or head, is a tee; no outlet is a cap. Bends are not in the record, so elbows
aren't counted. Rigid pipe comes in sticks: couplings = ceil(run / stick) - 1.
"""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence

from fieldbook.materials.item import Allowances, Item
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.trade.pipes import PIPE_SIZES
from fieldbook.trade.solvent_cement import is_cemented

_IN_COILS = ("pe ", "pex")
"""Classes of pipe that come in coils: no coupling is counted along a run."""
_JOINTS = {"coupling": 2, "reducer": 2, "tee": 3, "adapter": 1, "cap": 1}
"""Cemented joints of one fitting: one for each of its ends that takes pipe."""

Fittings = Counter[tuple[str, str]]
"""How many of each fitting, by its name with sizes and by the class of its pipe."""


def pipe_items(job: LoadedJob, allowances: Allowances) -> Iterator[Item]:
    """The pipe in feet, the fittings and the joints of all stretches."""
    runs = [run for run in job.pipe_runs if amount(run, "length_ft") is not None]
    yield from _lengths(runs, allowances)
    fittings: Fittings = Counter()
    for zone_id in (None, *(zone.id for zone in job.zones)):
        fittings += _of_stretch(job, zone_id, allowances)
    for (what, pipe_class), count in sorted(fittings.items(), key=lambda one: _rank(*one[0])):
        yield Item("fittings", f"{what} {pipe_class}", count, "each", "from the tree of the runs")
    joints = sum(
        _JOINTS[what.split()[0]] * count
        for (what, pipe_class), count in fittings.items()
        if is_cemented(pipe_class)
    )
    if joints:
        yield Item("cement", "cemented joint", joints, "joints", "of the fittings above")


def uncounted_pipe(job: LoadedJob) -> list[str]:
    """What the record doesn't say of pipe, in words."""
    blank = [run for run in job.pipe_runs if amount(run, "length_ft") is None]
    found = [f"{len(blank)} runs without a length"] if blank else []
    return [*found, "elbows at bends", "what joins each head to its pipe"] if job.pipe_runs else []


def _lengths(runs: Sequence[PipeRun], allowances: Allowances) -> Iterator[Item]:
    feet: dict[tuple[str, str], float] = defaultdict(float)
    for run in runs:
        feet[_class(run), run.size or "size not recorded"] += amount(run, "length_ft") or 0.0
    how = "as laid"
    if allowances.waste_pct:
        how = f"as laid and {allowances.waste_pct:g} % of waste"
    by_class = sorted(feet, key=lambda one: (one[0], _size_rank(one[1])))
    for pipe_class, size in by_class:
        length = feet[pipe_class, size]
        more = length * (1 + allowances.waste_pct / 100)
        yield Item("pipe", f"pipe {size} {pipe_class}", round(more, 1), "ft", how)


def _of_stretch(job: LoadedJob, zone_id: str | None, allowances: Allowances) -> Fittings:
    """The fittings of the mainline (None) or of one lateral, with the adapters of its valves."""
    runs = job.runs_of(zone_id)
    after: dict[int, list[PipeRun]] = defaultdict(list)
    for run in runs:
        if run.after is not None:
            after[run.after].append(run)
    fittings: Fittings = Counter()
    valves = _valves_on(job, runs) if zone_id is None else Counter()
    for run in runs:
        pipes = after[run.number] if run.number is not None else []
        others = ["1/2 thread"] * (job.head_at(run.id) is not None)
        # A zone valve on the mainline takes a branch of the main's own size.
        others += [run.size or "?"] * valves[run.id]
        fittings += _at_end(run, pipes, others)
        fittings += _along(run, allowances)
    for first in (run for run in runs if run.after is None and zone_id is not None):
        fittings["adapter " + (first.size or "?"), _class(first)] += 1
    for run in runs:
        if valves[run.id]:
            fittings["adapter " + (run.size or "?"), _class(run)] += valves[run.id]
    return fittings


def _valves_on(job: LoadedJob, mainline: Sequence[PipeRun]) -> Counter[str]:
    """How many zone valves stand at the end of each mainline run."""
    by_number = {run.number: run.id for run in mainline}
    last = mainline[-1].id if mainline else ""
    found: Counter[str] = Counter()
    for valve in job.valves:
        if valve.kind == "zone" and mainline:
            found[by_number.get(valve.main_run, last) if valve.main_run else last] += 1
    return found


def _at_end(run: PipeRun, pipes: Sequence[PipeRun], others: Sequence[str]) -> Fittings:
    """The fittings at the node where a run ends: outlets are pipes, and `others` by their size."""
    size, pipe_class = run.size or "?", _class(run)
    found: Fittings = Counter()
    largest_first = sorted(pipes, key=lambda one: _size_rank(one.size or "?"), reverse=True)
    sizes = [one.size or "?" for one in largest_first]
    outlets = [*sizes, *others]
    if not outlets:
        found[f"cap {size}", pipe_class] += 1
    elif len(outlets) == 1 and sizes and sizes[0] != size:
        found[f"reducer {size} x {sizes[0]}", pipe_class] += 1
    # The first outlet goes straight on; each of the others leaves by a tee, the last tee first.
    through = outlets[0] if outlets else size
    for branch in outlets[1:]:
        found[f"tee {size} x {through} x {branch}", pipe_class] += 1
    return found


def _along(run: PipeRun, allowances: Allowances) -> Fittings:
    """The couplings of a run that is longer than a stick."""
    length = amount(run, "length_ft")
    if length is None or _class(run).startswith(_IN_COILS):
        return Counter()
    couplings = max(math.ceil(length / allowances.stick_ft) - 1, 0)
    return Counter({(f"coupling {run.size or '?'}", _class(run)): couplings} if couplings else {})


def _class(run: PipeRun) -> str:
    return run.pipe_class or "class not recorded"


def _size_rank(size: str) -> int:
    return PIPE_SIZES.index(size) if size in PIPE_SIZES else -1


def _rank(what: str, pipe_class: str) -> tuple[str, int, str, str]:
    """By the kind of fitting, then by size from small to large."""
    kind, _, sizes = what.partition(" ")
    return kind, _size_rank(sizes.split(" x ")[0]), what, pipe_class
