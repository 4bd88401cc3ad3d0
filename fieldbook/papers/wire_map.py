"""The wire map in words: where each terminal leads and what says so, and every doubt about it."""

from __future__ import annotations

from collections.abc import Iterator

from rich.cells import cell_len, set_cell_size

from fieldbook.checks.common.naming import (
    cable_name,
    listed,
    quantity,
    sentence,
    short,
    terminal_name,
)
from fieldbook.checks.wire.circuits import currents_of, reading_of, soil_deg_f
from fieldbook.checks.wire.wire_evidence import WireStory, end_name, station_words, wire_story
from fieldbook.papers.wire_pictures import leads_to
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.controller import Terminal
from fieldbook.records.tables.wires import Cable
from fieldbook.units import LENGTH
from fieldbook.wiring import THICKEST_FIRST, Conductor, Doubt, Explanation, Mistake, longest_ft

_ROLE = {"common": "Common", "master": "Master valve"}


def map_lines(job: LoadedJob) -> list[str]:
    """One line a terminal: the wire under it, where it leads, the evidence for that."""
    rows = [
        (
            _ROLE.get(terminal.role) or sentence(terminal_name(terminal)),
            short(terminal.colour or "-"),
            leads_to(job, terminal),
            because(job, terminal),
        )
        for terminal in job.terminals
        if terminal.colour or terminal.ran_zone_id
    ]
    widths = [max((cell_len(row[no]) for row in rows), default=0) for no in range(3)]
    return [
        "  ".join([*(set_cell_size(row[no], widths[no]) for no in range(3)), row[3]])
        for row in rows
    ]


def reach_lines(job: LoadedJob) -> list[str]:
    """How far a valve may be, by gauge, with the job's coils, soil and master valve."""
    currents, deg_f = currents_of(job), soil_deg_f(job)
    far = []
    for gauge in reversed(THICKEST_FIRST):
        most_ft = longest_ft(gauge, gauge, currents, deg_f=deg_f)
        far.append(f"AWG {gauge} {quantity(job, round(most_ft), LENGTH)}")
    master = f", {currents.master_a:g} A of master or relay" if currents.master_a else ""
    return [
        f"One way, at {currents.inrush_a:g} A of inrush{master}, {currents.output_v:g} V out and "
        f"{currents.pull_in_v:g} V needed, soil {deg_f:.0f} F:",
        ", ".join(far) + ".",
    ]


def because(job: LoadedJob, terminal: Terminal) -> str:
    """What says where a terminal leads."""
    story, name = wire_story(job), end_name(terminal)
    link = story.found.link_of(name)
    if link is None:
        in_doubt = story.found.doubt_of(name) is not None
        return "in doubt, see below" if in_doubt else "its other end is not entered yet"
    said = []
    if "colours" in link.basis:
        said.append("colours at both ends")
    if "ran" in link.basis:
        said.append("seen to run")
    reading = reading_of(job, terminal)
    if reading is not None and "ohms" in link.basis:
        said.append(f"{reading.ohm:.1f} ohm")
    return ", ".join(said)


def doubt_lines(job: LoadedJob) -> list[str]:
    """Every doubt: what could explain it, and the one test that would settle it."""
    story = wire_story(job)
    lines: list[str] = []
    for doubt in story.found.doubts:
        lines += _doubt(job, story, doubt)
    return lines


def _doubt(job: LoadedJob, story: WireStory, doubt: Doubt) -> Iterator[str]:
    order = list(story.ends.whose)
    ends = sorted(doubt.ends, key=order.index)
    whose = listed([story.ends.whose[name] for name in ends])
    if not doubt.explanations:
        yield f"{sentence(whose)} do not fit in more ways than can be told: look at each again."
        return
    if len(doubt.explanations) == 1:
        yield f"{sentence(whose)} fit in one way: {_explained(job, story, doubt.explanations[0])}."
        return
    yield f"{sentence(whose)} fit in {len(doubt.explanations)} ways:"
    for one in doubt.explanations:
        yield f"- {_explained(job, story, one)}"
    if doubt.test is not None:
        does = "settles it" if doubt.test.settles else "tells most of them apart"
        whose = story.ends.whose[doubt.test.terminal]
        if doubt.test.ring_out:
            yield f"Power off, ring out the wire under {whose} to the valve box: it {does}."
        else:
            yield f"To energise {whose} and see what runs {does}."


def _explained(job: LoadedJob, story: WireStory, one: Explanation) -> str:
    order = list(story.ends.whose)
    said = "; ".join(mistake_words(job, story, mistake) for mistake in one.mistakes)
    leads = [
        f"{story.ends.whose[name]} leads to "
        + (listed([station_words(job, station) for station in sorted(stations)]) or "nothing seen")
        for name, stations in sorted(one.map.items(), key=lambda item: order.index(item[0]))
    ]
    return f"{said} (so {listed(leads)})" if leads else said


def mistake_words(job: LoadedJob, story: WireStory, mistake: Mistake) -> str:
    """One mistake in words."""
    order = list(story.ends.whose)
    whose = listed([story.ends.whose[name] for name in sorted(mistake.ends, key=order.index)])
    if mistake.kind == "misread":
        if mistake.to is None:
            return f"{whose} has another conductor than entered"
        return f"{whose} has {_conductor(job, mistake.to)}, not what was entered"
    if mistake.kind == "wires exchanged" and len(mistake.ends) == 1:
        return f"the wire under {whose} is meant for another terminal"
    return _WORDS[mistake.kind].format(whose=whose)


_WORDS = {
    "entries exchanged": "the entries of {whose} were exchanged",
    "wires exchanged": "the wires under {whose} are exchanged",
    "shared wire": "{whose} share one wire",
    "leads nowhere": "the conductor at {whose} leads nowhere that was seen",
    "broken": "the wire of {whose} is broken, or its coil is dead",
    "touching": "the wire of {whose} touches another",
    "reading doubtful": "the reading of {whose} is doubtful: read it again",
}


def _conductor(job: LoadedJob, conductor: Conductor) -> str:
    cable = job.row(conductor[0])
    of = f" of {cable_name(cable)}" if isinstance(cable, Cable) and len(job.cables) > 1 else ""
    return f"{short(conductor[1])}{of}"
