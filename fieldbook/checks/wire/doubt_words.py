"""A doubt about the wire in words: the test first, then what could explain it, likeliest first.

Every line is at most `LONGEST_LINE` characters. What could explain a doubt is worded as what may
be; only what tests show is worded as known.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from fieldbook.checks.common.naming import cable_name, listed, sentence, short
from fieldbook.checks.wire.ends import is_common, wire_ends
from fieldbook.checks.wire.shared_causes import terminals_explained
from fieldbook.checks.wire.wire_evidence import reconciled_wire, station_words
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.wires import Cable
from fieldbook.wiring import Conductor, Doubt, Explanation, Mistake

LONGEST_LINE = 160
_MOST_SHOWN = 4
_LEAST_TOLD, _SPOKEN_OF = 0.02, 0.2


def doubt_lines(job: LoadedJob) -> list[str]:
    """Every doubt: the test that tells most, then the likeliest explanations."""
    return [
        short(line, LONGEST_LINE)
        for doubt in reconciled_wire(job).doubts
        if not _is_told_elsewhere(job, doubt)
        for line in _doubt(job, doubt)
    ]


def _is_told_elsewhere(job: LoadedJob, doubt: Doubt) -> bool:
    """Whether a flag on a shared cause, such as a cut cable, says all that there is to say."""
    explained = {f"terminal {row_id}" for row_id in terminals_explained(job)}
    terminals = set(doubt.explanations[0].map) & set(doubt.ends)
    return _only_dead(doubt) and terminals <= explained


def _only_dead(doubt: Doubt) -> bool:
    """Whether colours fit, and all that is likely is that no current gets through."""
    return {one.kind for each in doubt.likely() for one in each.mistakes} == {"broken"}


def _doubt(job: LoadedJob, doubt: Doubt) -> Iterator[str]:
    ends = sentence(ends_words(job, doubt.ends))
    if _only_dead(doubt):
        dead = {end for one in doubt.explanations[0].mistakes for end in one.ends}
        words = ends_words(job, dead)
        yield f"{sentence(words)}: the colours fit, but nothing runs, or the meter shows no coil."
        return
    if doubt.settled:
        yield f"{ends} do not fit as entered."
        yield _fitting(f"Shown by tests: {_explained(job, doubt.explanations[0], ())}", "")
        return
    yield f"{ends} do not fit as entered; {_count(doubt)}."
    yield from test_lines(job, doubt)
    yield from _ranked(job, doubt)


def _ranked(job: LoadedJob, doubt: Doubt) -> Iterator[str]:
    """What could explain a doubt, the likeliest first; what all of it shares is said once."""
    likely = doubt.likely()[:_MOST_SHOWN]
    shared = [one for one in likely[0].mistakes if all(one in each.mistakes for each in likely)]
    if len(likely) == 1 or not all(len(each.mistakes) > len(shared) for each in likely):
        shared = []
    if shared:
        yield f"By all that is likely, {_mistakes(job, shared)}. Beside that:"
    for each in likely:
        yield f"- {odds(each.chance)}: {_explained(job, each, shared)}"
    rest = doubt.explanations[len(likely) :]
    chance = sum(one.chance for one in rest)
    if chance >= _LEAST_TOLD:
        others = "1 other" if len(rest) == 1 else f"{len(rest)} others"
        yield f"- {odds(chance)}: {others}{' together' if rest[1:] else ''}"


def _count(doubt: Doubt) -> str:
    """How many things could explain a doubt."""
    likely, others = len(doubt.likely()), len(doubt.explanations)
    if others == 1:
        return "one explanation was found, and no test shows it yet"
    return "one explanation is likely" if likely == 1 else f"{likely} explanations are likely"


def test_lines(job: LoadedJob, doubt: Doubt) -> Iterator[str]:
    """The next test, and why not the obvious one."""
    test = doubt.test
    if test is None:
        return
    terminal = ends_words(job, [test.terminal])
    outcome = "that settles it" if test.settles else "that tells most"
    if test.kind == "ring out":
        yield f"With the power off, ring out the wire under {terminal} to the valve box: {outcome}."
        return
    if test.kind == "meter":
        yield f"Power off, common lifted: read ohms from the common to {terminal}: {outcome}."
        yield from _readings_mean(job, doubt, test.terminal)
        return
    yield f"Energise {terminal} and see what runs: {outcome}."
    for mistake in (one for each in doubt.likely(_SPOKEN_OF) for one in each.mistakes):
        hot = [end for end in mistake.ends if not is_common_end(job, end) and end != test.terminal]
        if mistake.kind == "common exchanged" and len(hot) == 1:
            whose = ends_words(job, hot)
            yield f"Not {whose}: a coil runs either way round, so it would show the same both ways."
            return


_SHOWN = {
    "open": "Over range",
    "sound": "One coil's ohms",
    "two coils": "About half of a coil's ohms",
    "high": "About two coils' ohms",
}


def _readings_mean(job: LoadedJob, doubt: Doubt, terminal: str) -> Iterator[str]:
    """What each reading of a terminal would tell: where it then most likely leads."""
    told: dict[str, str] = {}
    for each in doubt.explanations:
        shown = _SHOWN.get(each.reads.get(terminal, ""), "")
        if shown:
            told.setdefault(shown, _stations(job, each.map.get(terminal, frozenset())))
    means = [f"{shown}: {words}" for shown, words in told.items()]
    if means:
        yield f"{'; '.join(means)}."


def is_common_end(job: LoadedJob, name: str) -> bool:
    """Whether an end is a common's, by its name."""
    ends = wire_ends(job)
    return any(is_common(end) for end in (*ends.box, *ends.controller) if end.name == name)


def odds(chance: float) -> str:
    """A chance in words: "6 in 10", "97 in 100", "1 in 30"."""
    if chance >= 0.95:
        return f"{min(99, round(100 * chance))} in 100"
    if chance >= 0.15:
        return f"{round(10 * chance)} in 10"
    return f"1 in {round(1 / max(chance, 0.001))}"


def ends_words(job: LoadedJob, names: Iterable[str]) -> str:
    """Ends in words: "the valves of zones 2 and 3, and terminals 2 and 3"."""
    whose = wire_ends(job).whose
    order = {name: number for number, name in enumerate(whose)}
    words = [whose[name] for name in sorted(set(names), key=lambda name: order.get(name, 0))]
    parts = [
        _numbered(words, "the valve of zone ", "the valves of zones "),
        _numbered(words, "terminal ", "terminals "),
    ]
    known = ("the valve of zone ", "terminal ")
    parts += [word for word in words if not word.startswith(known)]
    return listed([part for part in parts if part], 4)


def _numbered(words: Sequence[str], one: str, several: str) -> str:
    """Words that begin alike and end in a number, as one: "terminals 2 and 3"."""
    numbers = [word.removeprefix(one) for word in words if word.startswith(one)]
    return f"{several if numbers[1:] else one}{listed(numbers)}" if numbers else ""


def _explained(job: LoadedJob, explanation: Explanation, shared: Sequence[Mistake]) -> str:
    """The mistakes of an explanation, and where terminals lead if they were made."""
    own = [one for one in explanation.mistakes if one not in shared]
    ends = wire_ends(job)
    entered = {end.station for end in ends.box}
    meant = {end.name: end.station for end in ends.controller}
    moved = []
    for name, stations in explanation.map.items():
        # A terminal whose valve is not entered leads to nothing seen, which says nothing.
        silent = not stations and meant[name] not in entered
        as_meant = stations == {meant[name]} or is_common_end(job, name)
        if not silent and not as_meant:
            moved.append(f"{ends.whose[name]} leads to {_stations(job, stations)}")
    mistakes = _mistakes(job, own)
    return _fitting(f"{mistakes} ({listed(moved, 3)})" if moved else mistakes, mistakes)


def _stations(job: LoadedJob, stations: Iterable[str]) -> str:
    """Stations in words: "zones 2 and 3", "zone 1 and the common", "nothing seen"."""
    words = [station_words(job, one) for one in sorted(stations)]
    zones = [word for word in words if word.startswith("zone ")]
    rest = [word for word in words if word not in zones]
    found = [one for one in (_numbered(zones, "zone ", "zones "), *rest) if one]
    return listed(found) or "nothing seen"


def _fitting(full: str, brief: str) -> str:
    """The full words, or the brief ones where they would be too long for a line."""
    return full if len(full) <= LONGEST_LINE - 12 or not brief else brief


def _mistakes(job: LoadedJob, mistakes: Sequence[Mistake]) -> str:
    """Mistakes in words; valves misread together are more likely a splice that is not entered."""
    ends = wire_ends(job)
    box = {end.name for end in ends.box}
    misread = [one for one in mistakes if one.kind == "misread" and one.ends[0] in box]
    words = []
    if len(misread) > 1:
        whose = ends_words(job, [one.ends[0] for one in misread])
        words.append(f"{whose} have other colours than entered, or a splice on the way is missing")
    rest = [one for one in mistakes if len(misread) < 2 or one not in misread]
    return "; ".join([*words, *(_mistake(job, one) for one in rest)])


def _mistake(job: LoadedJob, mistake: Mistake) -> str:
    whose = ends_words(job, mistake.ends)
    if mistake.kind == "misread":
        if mistake.to is None:
            return f"{whose} has another conductor than entered"
        return f"{whose} has {_conductor(job, mistake.to)}, not what was entered"
    if mistake.kind == "wires exchanged" and len(mistake.ends) == 1:
        return f"the wire under {whose} belongs under another terminal"
    if mistake.kind == "common exchanged":
        hot = ends_words(job, [end for end in mistake.ends if not is_common_end(job, end)])
        return f"the common and the wire under {hot or 'a terminal'} are exchanged"
    if mistake.kind == "touching" and mistake.ends[1:]:
        return f"the wires of {whose} touch"
    return _WORDS[mistake.kind].format(whose=whose)


_WORDS = {
    "two cables": "two cables are entered as one: {whose} are of the second",
    "entries exchanged": "the entries of {whose} were exchanged",
    "wires exchanged": "the wires under {whose} are exchanged",
    "shared wire": "{whose} share one wire",
    "leads nowhere": "the conductor at {whose} is joined to nothing that was seen",
    "broken": "the wire of {whose} is broken, its coil is dead, or its water is shut",
    "touching": "the wire of {whose} touches another",
    "reading doubtful": "the ohm reading of {whose} is wrong: read it again",
    "test noted wrong": "what ran at {whose} was noted wrongly: test it again",
}


def _conductor(job: LoadedJob, conductor: Conductor) -> str:
    cable = job.row(conductor[0])
    of = f" of {cable_name(cable)}" if isinstance(cable, Cable) and len(job.cables) > 1 else ""
    return f"{short(conductor[1])}{of}"
