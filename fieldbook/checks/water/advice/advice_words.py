"""Advice on a zone in sentences: what is wrong today, each change, how the zone stands with it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from fieldbook.checks.common.naming import (
    fitting,
    listed,
    quantity,
    sentence,
    speed,
    zone_word,
)
from fieldbook.checks.water.advice.zone_remedies import Advice, Suggestion
from fieldbook.checks.water.advice.zone_result import Result
from fieldbook.checks.water.networks import SERVICE, JobNetwork
from fieldbook.checks.water.zone_flags import street_doubted
from fieldbook.checks.water.zone_solutions import ZoneGroup
from fieldbook.checks.water.zone_status import ZoneStatus, status_of
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.units import FLOW, LENGTH, PRESSURE

_MOST_NAMED = 3
"""Heads of a group that are named each; of more, only the first and the last are."""
_HOW: Mapping[bool | None, str] = {
    True: "the least pipe that is enough",
    False: "not proven to be the least",
    None: "the first runs all alike",
}
_WRONG: Mapping[str, str] = {
    "pressure too high": "a head gets more than its maximum",
    "pressure spread": "its heads get pressures too far apart",
    "surge over rating": "a closing valve sends too much surge up the mainline",
    "zone not solved": "it could not be solved",
}


@dataclass(frozen=True)
class Worded:
    """A change in a sentence, and how the zone would stand with it in another."""

    what: str
    result: str


@dataclass(frozen=True)
class AdviceWords:
    """`now` says how the zone stands, `changes` what would mend it, `notes` what else was found."""

    now: str
    changes: tuple[Worded, ...]
    notes: tuple[str, ...]


def advice_words(job: LoadedJob, group: ZoneGroup, found: Advice) -> AdviceWords:
    """The advice for a group of zones, in the words that its page and the command print."""
    if found.today.met:
        return AdviceWords(_met(job, group), (), tuple(_more(found)))
    changes = tuple(
        Worded(_what(job, found.job_network, one), result_words(job, one.result, found.today))
        for one in found.suggestions
    )
    return AdviceWords(_wrong(job, found.today), changes, tuple(_notes(found)))


def _met(job: LoadedJob, group: ZoneGroup) -> str:
    """That nothing has to be mended; that all is met only where no flag stands, all is checked."""
    statuses: list[ZoneStatus] = [status_of(job, zone, group) for zone in group.zones]
    missing = [lack.words for status in statuses for lack in status.missing]
    if missing:
        words = listed(list(dict.fromkeys(missing)), most=2)
        return f"Nothing entered falls short, but it is not checked: {words}."
    flags = list(dict.fromkeys(flag.sentence for status in statuses for flag in status.flags))
    if flags:
        return fitting(f"Nothing has to be mended, but: {flags[0]}", "It has a note.")
    if street_doubted(job):
        return "Nothing of it falls short, but a figure of the street has a flag of its own."
    return "All that is asked of it is met."


def _more(found: Advice) -> Iterator[str]:
    if found.more is None:
        return
    if found.more == 0:
        yield "It feeds no further head like its last one."
        return
    heads = "1 more head" if found.more == 1 else f"{found.more} more heads"
    yield f"It could feed {heads} like its last one, each as far on."


def _wrong(job: LoadedJob, today: Result) -> str:
    """What is wrong today, the most telling first."""
    failing = []
    if today.margin_psi is not None and today.margin_psi < 0:
        failing.append(f"its worst head is {quantity(job, -today.margin_psi, PRESSURE)} short")
    if "flow over supply" in today.wrong and today.allowed_gpm is not None:
        draw = quantity(job, today.draw_gpm or 0.0, FLOW)
        allowed = quantity(job, today.allowed_gpm, FLOW)
        failing.append(f"it draws {draw}, more than the supply allows ({allowed})")
    if "water too fast" in today.wrong and today.fastest_ft_s and today.limit_ft_s:
        fast, limit = speed(job, today.fastest_ft_s), speed(job, today.limit_ft_s)
        failing.append(f"water runs {fast} where {limit} is the limit")
    failing += [words for code, words in _WRONG.items() if code in today.wrong]
    return f"{sentence(listed(failing))}." if failing else "Its pipe rows are wrong: see its flags."


def result_words(job: LoadedJob, result: Result, today: Result) -> str:
    """How the zone would stand, beside today."""
    parts = []
    if result.worst_psi is not None and result.margin_psi is not None:
        psi = quantity(job, result.worst_psi, PRESSURE)
        spare = quantity(job, result.margin_psi, PRESSURE)
        now = "" if today.worst_psi is None else f"; today {_psi(job, today)}"
        parts.append(f"worst head {psi}, {spare} to spare{now}")
    if result.draw_gpm is not None:
        now = "" if today.draw_gpm is None else f" (today {quantity(job, today.draw_gpm, FLOW)})"
        parts.append(f"draw {quantity(job, result.draw_gpm, FLOW)}{now}")
    if result.fastest_ft_s is not None:
        now = "" if today.fastest_ft_s is None else f" (today {speed(job, today.fastest_ft_s)})"
        parts.append(f"fastest water {speed(job, result.fastest_ft_s)}{now}")
    return f"{sentence('; '.join(parts))}."


def _psi(job: LoadedJob, result: Result) -> str:
    return quantity(job, result.worst_psi or 0.0, PRESSURE)


def _what(job: LoadedJob, network: JobNetwork, one: Suggestion) -> str:
    if one.kind == "one after the other":
        words = listed([zone_word(zone) for zone in network.zones])
        return f"Run {words} one after the other."
    if one.kind == "nozzles":
        return f"Fit nozzles of {100 * one.part:.0f} % of the flow at the same pressure."
    if one.kind == "split":
        groups = [_heads(network, group) for group in one.groups]
        dig = f" {_dig(job, one.dig_ft)}" if one.dig_ft else ""
        long = f"Split it in {len(groups)}: {'; then '.join(groups)}.{dig}"
        return fitting(long, f"Split it in {len(groups)} of about as many heads each.{dig}")
    return _pipe(job, network, one)


def _pipe(job: LoadedJob, network: JobNetwork, one: Suggestion) -> str:
    laid = [f"{runs} in {size} in" for runs, size in _sizes(network, one.sizes)]
    if one.service_size:
        laid.append(f"the service line in {one.service_size} in")
    how = _HOW[one.proven]
    pieces = "1 piece" if one.pieces == 1 else f"{one.pieces} pieces"
    much = f"{quantity(job, one.feet, LENGTH)} in {pieces}"
    end = f": {much}. {_dig(job, one.dig_ft)}" if one.dig_ft else f": {much}, nothing to dig up."
    return fitting(
        f"Lay {listed(laid)} ({how}){end}",
        f"Lay {listed(laid)}{end}",
        f"Lay {len(one.sizes)} runs larger{end}",
    )


def _dig(job: LoadedJob, feet: float) -> str:
    return f"Dig up {quantity(job, feet, LENGTH)} that is buried already."


def _sizes(network: JobNetwork, sizes: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """Runs of one size that follow each other, in words, with their size."""
    for (of, size), names in groupby(sizes, key=lambda name: (_owner(network, name), sizes[name])):
        numbers = [str(network.runs[name].number or "?") for name in names]
        some = f"{numbers[0]} to {numbers[-1]}" if len(numbers) > _MOST_NAMED else listed(numbers)
        runs = "runs" if len(numbers) > 1 else "run"
        yield (f"mainline {runs} {some}" if of is None else f"{runs} {some}{of}"), size


def _owner(network: JobNetwork, name: str) -> str | None:
    """Whose run it is: None for the mainline, " of zone 2", or "" where only one zone runs."""
    run = network.runs[name]
    if run.zone_id is None:
        return None
    if len(network.zones) == 1:
        return ""
    zone = next((zone for zone in network.zones if zone.id == run.zone_id), None)
    return f" of {zone_word(zone)}"


def _heads(network: JobNetwork, group: Sequence[str]) -> str:
    numbers = [network.heads[name].run.number for name in group]
    words = [str(number or "?") for number in numbers]
    if len(words) == 1:
        return f"the head at run {words[0]}"
    known = [number for number in numbers if number is not None]
    follow = known == list(range(known[0], known[0] + len(words))) if known else False
    if len(words) > _MOST_NAMED and follow:
        return f"the heads at runs {words[0]} to {words[-1]}"
    return f"the heads at runs {listed(words, most=12)}"


def _notes(found: Advice) -> Iterator[str]:
    links = {link.name for link in found.job_network.network.links}
    if SERVICE not in links and any(one.service_size for one in found.suggestions):
        yield "The flow test was made through the old service line: test again behind a new one."
    if not found.by_pipe:
        if found.pipe_complete:
            yield (
                "Larger pipe does not mend it: every larger size that is sold was tried, of each "
                "run and of the service line."
            )
        else:
            yield f"No larger pipe that mends it was found in the {found.pipe_tried} ways tried."
    if not found.suggestions:
        yield "Nothing that was tried mends it: look at the supply, or draw less at once."
    if found.feeds == 0:
        yield "As it is, the supply does not feed even its first head well."
    elif found.feeds is not None and found.feeds < len(found.job_network.heads):
        count = len(found.job_network.heads)
        yield f"As it is, the supply feeds the first {found.feeds} of its {count} heads well."
