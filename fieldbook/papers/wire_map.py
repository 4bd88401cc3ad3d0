"""The wire map in words: where each terminal leads, the evidence for it, and every doubt."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

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
from fieldbook.checks.wire.ends import wire_ends
from fieldbook.checks.wire.wire_evidence import end_name, reconciled_wire, station_words
from fieldbook.papers.wire_pictures import leads_to
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.controller import Terminal
from fieldbook.records.tables.wires import Cable
from fieldbook.units import LENGTH
from fieldbook.wiring import THICKEST_FIRST, Conductor, Doubt, Explanation, Mistake, longest_ft

_ROLE = {"common": "Common", "master": "Master valve"}


def map_lines(job: LoadedJob) -> list[str]:
    """One line per terminal: the wire under it, where it leads, the evidence for that."""
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
    # The evidence is last and may be as long as it is.
    widths = [max(map(cell_len, column)) for column in list(zip(*rows, strict=True))[:3]]
    padded = [[*map(set_cell_size, row, widths), row[3]] for row in rows]
    return ["  ".join(cells) for cells in padded]


def reach_lines(job: LoadedJob) -> list[str]:
    """How far away a valve may be, by AWG size, with the job's coils, soil and master valve."""
    currents, deg_f = currents_of(job), soil_deg_f(job)
    reach = []
    for gauge in reversed(THICKEST_FIRST):
        most_ft = longest_ft(gauge, gauge, currents, deg_f=deg_f)
        reach.append(f"AWG {gauge} {quantity(job, round(most_ft), LENGTH)}")
    master = f", {currents.master_a:g} A of master or relay" if currents.master_a else ""
    return [
        f"One way, at {currents.inrush_a:g} A of inrush{master}, {currents.output_v:g} V out and "
        f"{currents.pull_in_v:g} V needed, soil {deg_f:.0f} F:",
        ", ".join(reach) + ".",
    ]


def because(job: LoadedJob, terminal: Terminal) -> str:
    """The evidence for where a terminal leads."""
    found, name = reconciled_wire(job), end_name(terminal)
    link = found.link_of(name)
    if link is None:
        in_doubt = found.doubt_of(name) is not None
        return "in doubt, see below" if in_doubt else "its other end is not entered yet"
    evidence = []
    if "colours" in link.basis:
        evidence.append("colours at both ends")
    if "ran" in link.basis:
        evidence.append("seen to run")
    reading = reading_of(job, terminal)
    if reading is not None and "ohms" in link.basis:
        evidence.append(f"{reading.ohm:.1f} ohm")
    return ", ".join(evidence)


def doubt_lines(job: LoadedJob) -> list[str]:
    """Every doubt: which explanations fit, and the test that rules out most of them."""
    return [line for doubt in reconciled_wire(job).doubts for line in _doubt(job, doubt)]


def _doubt(job: LoadedJob, doubt: Doubt) -> Iterator[str]:
    ends = sentence(_whose(job, doubt.ends))
    explained = [_explained(job, explanation) for explanation in doubt.explanations]
    if not explained:
        yield f"{ends} do not fit together in any way that could be found: look at each again."
        return
    if len(explained) == 1:
        yield f"{ends} do not fit as entered; one explanation does: {explained[0]}."
        return
    yield f"{ends} do not fit as entered; {len(explained)} explanations do:"
    for words in explained:
        yield f"- {words}"
    if doubt.test is not None:
        outcome = "that settles it" if doubt.test.settles else "that rules some of them out"
        terminal = _whose(job, [doubt.test.terminal])
        if doubt.test.ring_out:
            yield (
                f"With the power off, ring out the wire under {terminal} to the valve box: "
                f"{outcome}."
            )
        else:
            yield f"Energise {terminal} and see what runs: {outcome}."


def _whose(job: LoadedJob, names: Iterable[str]) -> str:
    """Ends in words, in the order in which the crew entered them."""
    whose = wire_ends(job).whose
    order = {name: number for number, name in enumerate(whose)}
    return listed([whose[name] for name in sorted(names, key=order.__getitem__)])


def _explained(job: LoadedJob, explanation: Explanation) -> str:
    """The mistakes of an explanation, and where each terminal leads if they were made."""
    whose = wire_ends(job).whose
    order = {name: number for number, name in enumerate(whose)}
    mistakes = "; ".join(_mistake(job, mistake) for mistake in explanation.mistakes)
    leads = [
        f"{whose[name]} leads to "
        + (listed([station_words(job, station) for station in sorted(stations)]) or "nothing seen")
        for name, stations in sorted(explanation.map.items(), key=lambda item: order[item[0]])
    ]
    return f"{mistakes} (so {listed(leads)})" if leads else mistakes


def _mistake(job: LoadedJob, mistake: Mistake) -> str:
    whose = _whose(job, mistake.ends)
    if mistake.kind == "misread":
        if mistake.to is None:
            return f"{whose} has another conductor than entered"
        return f"{whose} has {_conductor(job, mistake.to)}, not what was entered"
    if mistake.kind == "wires exchanged" and len(mistake.ends) == 1:
        return f"the wire under {whose} belongs under another terminal"
    return _WORDS[mistake.kind].format(whose=whose)


_WORDS = {
    "entries exchanged": "the entries of {whose} were exchanged",
    "wires exchanged": "the wires under {whose} are exchanged",
    "shared wire": "{whose} share one wire",
    "leads nowhere": "the conductor at {whose} is joined to nothing that was seen",
    "broken": "the wire of {whose} is broken, or its coil is dead",
    "touching": "the wire of {whose} touches another",
    "reading doubtful": "the ohm reading of {whose} is wrong: read it again",
}


def _conductor(job: LoadedJob, conductor: Conductor) -> str:
    cable = job.row(conductor[0])
    of = f" of {cable_name(cable)}" if isinstance(cable, Cable) and len(job.cables) > 1 else ""
    return f"{short(conductor[1])}{of}"
