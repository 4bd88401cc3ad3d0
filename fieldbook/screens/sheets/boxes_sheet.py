"""The valve boxes: boxes, cables, the wire colour at each valve, spares."""

from __future__ import annotations

from fieldbook.checks.finding import CellRef
from fieldbook.checks.ground.positions import position_words
from fieldbook.records.fact import Fact
from fieldbook.records.ids import master_valve_id, valve_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.ties import FixedPoint, Tie
from fieldbook.records.tables.wires import Cable, Conductor, Splice, Valve, ValveBox
from fieldbook.screens.sheets.options import (
    common_options,
    default_cable,
    link_options,
    splice_options,
    valve_options,
)
from fieldbook.screens.sheets.sheet import (
    Cell,
    CellMaker,
    Option,
    Row,
    Section,
    Sheet,
    add_row,
    table_section,
)
from fieldbook.trade.colours import swatch
from fieldbook.units import System

_COLOURS = Fact(
    "colours",
    "Colours",
    "Every conductor seen at the cut end, in any order: white, red, blue, red/black ... "
    "Orders differ between makers, so the colours are typed, never assumed.",
    wanted=True,
)


def boxes(job: LoadedJob, system: System) -> Sheet:
    """The sheet of the valve boxes."""
    return Sheet(
        (
            _boxes(job, system),
            _cables(job, system),
            _valves(job, system),
            *_spares(job, system),
            _splices(job, system),
            *_ties(job, system),
        )
    )


def _boxes(job: LoadedJob, system: System) -> Section:
    rows = []
    for box in job.valve_boxes:
        make = CellMaker(ValveBox, "valve_box", box.id, box, system)
        cells = (
            make.cell("name", 5),
            make.cell("location", 40),
            make.cell("on_base", 9),
            make.cell("lid_at_grade", 12),
        )
        rows.append(Row("Box", cells, removable=("valve_box", box.id)))
    rows.append(add_row("add box", "valve_box", None, "+ a valve box"))
    return Section(
        "Boxes", tuple(rows), ("Box", "Where", "On a base", "Lid at grade"), label_width=8
    )


def _cables(job: LoadedJob, system: System) -> Section:
    rows: list[Row] = []
    for cable in job.cables:
        make = CellMaker(Cable, "cable", cable.id, cable, system)
        common = cable.common_colour
        removable = ("cable", cable.id)
        rows.append(
            Row(
                "Cable",
                (
                    make.cell("name", 6),
                    make.cell("gauge_awg", 6),
                    make.cell(
                        "common_colour",
                        16,
                        options=common_options(job, cable),
                        swatch=swatch(common) if common else None,
                    ),
                    make.cell("common_waterproof", 10),
                    make.cell(
                        "fed_from", 10, options=_box_links(job), text=_linked(job, cable.fed_from)
                    ),
                    make.cell(
                        "common_with",
                        11,
                        options=_cable_links(job),
                        text=_linked(job, cable.common_with),
                    ),
                ),
                removable=removable,
            )
        )
        rows.append(Row("colours", (_conductors(job, cable),), removable=removable))
    rows.append(add_row("add cable", "cable", None, "+ a cable"))
    heads = ("Cable", "AWG", "Common", "Waterproof", "Comes from", "Common with")
    return Section("Cables", tuple(rows), heads, label_width=8)


def _linked(job: LoadedJob, row_id: str | None) -> str:
    """The name of a box or cable that is linked to."""
    row = job.row(row_id)
    return row.name or "?" if isinstance(row, ValveBox | Cable | FixedPoint) else ""


def _splices(job: LoadedJob, system: System) -> Section:
    """Where a conductor is cut and goes on in another cable."""
    rows = []
    for one in job.splices:
        make = CellMaker(Splice, "splice", one.id, one, system)
        rows.append(
            Row(
                "Splice",
                (
                    make.cell("box_id", 5, options=_box_links(job), text=_linked(job, one.box_id)),
                    make.cell(
                        "cable_id", 5, options=_cable_links(job), text=_linked(job, one.cable_id)
                    ),
                    make.cell(
                        "colour",
                        16,
                        options=splice_options(job, one.id, one.cable_id),
                        swatch=swatch(one.colour) if one.colour else None,
                    ),
                    make.cell(
                        "to_cable_id",
                        6,
                        options=_cable_links(job),
                        text=_linked(job, one.to_cable_id),
                    ),
                    make.cell(
                        "to_colour",
                        16,
                        options=splice_options(job, one.id, one.to_cable_id),
                        swatch=swatch(one.to_colour) if one.to_colour else None,
                    ),
                    make.cell("waterproof", 10),
                ),
                removable=("splice", one.id),
            )
        )
    rows.append(add_row("add splice", "splice", None, "+ a splice on the way"))
    heads = ("Box", "Cable", "Wire", "On in", "On as", "Waterproof")
    return Section("Splices on the way", tuple(rows), heads, label_width=8)


def _conductors(job: LoadedJob, cable: Cable) -> Cell:
    """All of a cable's colours in one cell, typed in a row."""
    colours = [one.colour for one in job.conductors_of(cable.id) if one.colour]
    at = CellRef("cable", cable.id, "conductors")
    return Cell(at, _COLOURS, ", ".join(colours), 62, open=not colours, act="conductors")


def _valves(job: LoadedJob, system: System) -> Section:
    rows = [
        _valve(
            job,
            system,
            f"{zone.number or '?'} {zone.name}".strip(),
            valve_id(zone.id),
            job.valve_of(zone.id),
            {"zone_id": zone.id, "kind": "zone"},
        )
        for zone in job.zones
    ]
    master = job.master_valve()
    if master is not None:
        rows.append(_valve(job, system, "Master valve", master.id, master, {"kind": "master"}))
    else:
        row_id = master_valve_id(job.job.id)
        rows.append(add_row("add master", "valve", row_id, "+ a master valve"))
    heads = (
        "Wire",
        "Waterproof",
        "Box",
        "Cable",
        "Coil",
        "Wire length",
        "Splice",
        "Stripped",
        "No copper",
        "Slack loop",
        "Loss",
        "Run",
        "Cv",
        "Regulator",
        "Filter curve",
    )
    return Section("Wire at each valve", tuple(rows), heads, label_width=16)


def _valve(
    job: LoadedJob,
    system: System,
    label: str,
    row_id: str,
    valve: Valve | None,
    seed: dict[str, str | int | float | bool | None],
) -> Row:
    full = {**seed, **_usual(job)}
    make = CellMaker(Valve, "valve", row_id, valve, system, full)
    own = valve.colour if valve is not None else None
    cable = default_cable(job, valve)
    cells = (
        make.cell(
            "colour",
            15,
            options=valve_options(job, row_id, cable),
            swatch=swatch(own) if own else None,
        ),
        make.cell("splice_waterproof", 10),
        make.cell("box_id", 5, options=_box_links(job), text=_box_name(job, valve)),
        make.cell("cable_id", 5, options=_cable_links(job), text=cable.name if cable else ""),
        make.cell("coil_ohm", 8),
        make.cell("wire_ft", 11),
        make.cell("splice_kind", 22),
        make.cell("stripped", 8),
        make.cell("no_bare_copper", 9),
        make.cell("slack_loop", 10),
        make.cell("loss_psi", 7),
        make.cell("main_run", 3),
        make.cell("cv", 5),
        make.cell("regulator_psi", 9),
        make.cell("filter_curve", 20),
    )
    removable = ("valve", row_id) if valve is not None and valve.kind == "master" else None
    return Row(label, cells, removable=removable)


def _usual(job: LoadedJob) -> dict[str, str | int | float | bool | None]:
    """What a new valve starts with: the box of the last one, or the only box."""
    known = [valve.box_id for valve in job.valves if valve.box_id]
    if known:
        return {"box_id": known[-1]}
    return {"box_id": job.valve_boxes[0].id} if len(job.valve_boxes) == 1 else {}


def _box_links(job: LoadedJob) -> tuple[Option, ...]:
    return link_options([(box.id, box.name or "?") for box in job.valve_boxes])


def _cable_links(job: LoadedJob) -> tuple[Option, ...]:
    return link_options([(cable.id, cable.name or "?") for cable in job.cables])


def _box_name(job: LoadedJob, valve: Valve | None) -> str:
    box = job.row(valve.box_id) if valve is not None else None
    return box.name if isinstance(box, ValveBox) else ""


def _ties(job: LoadedJob, system: System) -> tuple[Section, Section]:
    """The fixed points, and what is tied to them by tape."""
    points = table_section(
        job.fixed_points,
        FixedPoint,
        system,
        "Fixed points (corners at grade; trees and fences move)",
        (("name", 34), ("east_ft", 9), ("north_ft", 9)),
        "fixed point",
    )
    links = link_options([(one.id, one.name or "?") for one in job.fixed_points])
    rows = []
    for one in job.ties:
        make = CellMaker(Tie, "tie", one.id, one, system)
        ends = [
            cell
            for no in (1, 2, 3)
            for cell in (
                make.cell(
                    f"point_{no}_id",
                    12,
                    options=links,
                    text=_linked(job, getattr(one, f"point_{no}_id")),
                ),
                make.cell(f"tape_{no}_ft", 9),
            )
        ]
        cells = (
            make.cell("thing", 10),
            make.cell("name", 10),
            *ends[:4],
            make.cell("side", 6),
            *ends[4:],
            make.cell("box_id", 5, options=_box_links(job), text=_linked(job, one.box_id)),
            make.cell("depth_in", 7),
        )
        rows.append(Row("Tie", cells, tail=position_words(job, one), removable=("tie", one.id)))
    rows.append(add_row("add tie", "tie", None, "+ a tied thing"))
    heads = (
        *("What", "Name", "From", "Tape", "And from", "Tape", "Side", "And from", "Tape"),
        *("Box", "Depth"),
    )
    title = "Ties: two or three tapes to each buried thing (F4 draws the plan)"
    return points, Section(title, tuple(rows), heads, label_width=4)


def _spares(job: LoadedJob, system: System) -> list[Section]:
    """Conductors that nothing uses: tick the ones pulled back and kept."""
    rows = []
    for cable in job.cables:
        used = {valve.colour for valve in job.valves if job.cable_of(valve) is cable}
        used.add(cable.common_colour)
        for one in job.conductors_of(cable.id):
            if one.colour in used:
                continue
            make = CellMaker(Conductor, "conductor", one.id, one, system)
            rows.append(Row(f"cable {cable.name}, {one.colour}", (make.cell("kept", 18),)))
    if not rows:
        return []
    return [Section("Spare conductors", tuple(rows), ("Kept at both ends",), label_width=26)]
