"""The valve boxes: boxes, cables, the wire at each valve, spare conductors, splices, ties."""

from __future__ import annotations

from collections.abc import Mapping

from fieldbook.actions.log_wires import add_splice
from fieldbook.actions.rows import add_box, add_fixed_point, add_tie
from fieldbook.checks.finding import CellRef
from fieldbook.checks.ground.fixed_points import by_compass
from fieldbook.checks.ground.positions import position_words
from fieldbook.checks.wire.zone_feeds import feed_of, master_decoder
from fieldbook.records.base import facts_of
from fieldbook.records.fact import Fact
from fieldbook.records.ids import master_valve_id, valve_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.ties import FixedPoint, Tie
from fieldbook.records.tables.wires import Cable, Conductor, Splice, Valve, ValveBox
from fieldbook.records.values import Value
from fieldbook.screens.sheets.options import (
    common_options,
    default_cable,
    link_cell,
    splice_options,
    valve_options,
    zone_label,
)
from fieldbook.screens.sheets.presses import AddCable, AddMasterValve, AddRow, TypeConductors
from fieldbook.screens.sheets.sheet import (
    Asked,
    Cell,
    CellMaker,
    Count,
    Row,
    Section,
    Sheet,
    add_line,
    blanks,
)
from fieldbook.screens.sheets.sign_off_sections import sign_off_section
from fieldbook.screens.sheets.two_wire_sections import open_two_wire, two_wire_sections
from fieldbook.trade.cautions import cautions_at
from fieldbook.units import System

_COLOURS = Fact(
    "colours",
    "Colours",
    "Every conductor seen at the cut end, in any order: white, red, blue, red/black ... "
    "No order of colours is standard.",
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
            *two_wire_sections(job, system),
            _points(job, system),
            _ties(job, system),
            sign_off_section(job, "wire backfill"),
        )
    )


def open_at_boxes(job: LoadedJob) -> Count:
    """How many cells the sheet asks for and how many are open, counted without building it."""
    valves = [(zone.id, job.valve_of(zone.id)) for zone in job.zones]
    if (master := job.master_valve()) is not None:
        valves.append(("", master))
    coloured = {conductor.cable_id for conductor in job.conductors if conductor.colour}
    colours = Count(sum(cable.id not in coloured for cable in job.cables), len(job.cables))
    points = (blanks(FixedPoint, [one], _asked_of_point(one)) for one in job.fixed_points)
    return (
        blanks(ValveBox, job.valve_boxes)
        + blanks(Cable, job.cables)
        + colours
        + sum((_blanks_of_valve(job, zone_id, one) for zone_id, one in valves), Count())
        + open_two_wire(job)
        + blanks(Splice, job.splices)
        + sum(points, Count())
        + blanks(Tie, job.ties)
    )


def _boxes(job: LoadedJob, system: System) -> Section:
    rows = []
    for box in job.valve_boxes:
        make = CellMaker(ValveBox, box.id, box, system)
        cells = make.cells(name=5, location=40, on_base=9, lid_at_grade=12)
        rows.append(Row("Box", cells, removable=("valve_box", box.id)))
    rows.append(add_line(AddRow("valve_box", "box", "location", add_box), "+ a valve box"))
    heads = ("Box", "Where", "On a base", "Lid at grade")
    return Section("Boxes", tuple(rows), heads, 8, cautions_at("boxes"))


def _cables(job: LoadedJob, system: System) -> Section:
    rows: list[Row] = []
    for cable in job.cables:
        make, removable = CellMaker(Cable, cable.id, cable, system), ("cable", cable.id)
        cells = (
            make.cell("name", 6),
            make.cell("gauge_awg", 4),
            make.cell("common_colour", 15, options=common_options(job, cable)),
            make.cell("common_waterproof", 10),
            make.cell("cover_in", 7),
            make.cell("under_driveway", 8),
            link_cell(make, job, "fed_from", 10),
            link_cell(make, job, "common_with", 11),
            *(_by_controller(make, job, cable) if job.other_controllers else ()),
        )
        rows.append(Row("Cable", cells, removable=removable))
        rows.append(Row("colours", (_conductors(job, cable),), removable=removable))
    rows.append(add_line(AddCable(), "+ a cable"))
    heads = (
        *("Cable", "Gauge AWG", "Common", "Waterproof", "Cover", "Driveway"),
        *("Comes from", "Common with"),
        *(("Controller", "Serves also", "Second common") if job.other_controllers else ()),
    )
    return Section("Cables", tuple(rows), heads, 8, cautions_at("cables"))


def _by_controller(make: CellMaker, job: LoadedJob, cable: Cable) -> tuple[Cell, ...]:
    """Which controller a cable comes from, and the second one that it serves."""
    return (
        link_cell(make, job, "controller_id", 10),
        link_cell(make, job, "second_controller_id", 11),
        make.cell("second_common_colour", 15, options=common_options(job, cable)),
    )


def _splices(job: LoadedJob, system: System) -> Section:
    """Where a conductor is cut and goes on in another cable."""
    rows = []
    for splice in job.splices:
        make = CellMaker(Splice, splice.id, splice, system)
        cells = (
            link_cell(make, job, "box_id", 5),
            link_cell(make, job, "cable_id", 5),
            make.cell("colour", 16, options=splice_options(job, splice.id, splice.cable_id)),
            link_cell(make, job, "to_cable_id", 6),
            make.cell("to_colour", 16, options=splice_options(job, splice.id, splice.to_cable_id)),
            make.cell("waterproof", 10),
        )
        rows.append(Row("Splice", cells, removable=("splice", splice.id)))
    rows.append(add_line(AddRow("splice", "splice", "colour", add_splice), "+ a splice on the way"))
    heads = ("Box", "Cable", "Wire", "On in cable", "On as wire", "Waterproof")
    return Section("Splices on the way", tuple(rows), heads, label_width=8)


def _conductors(job: LoadedJob, cable: Cable) -> Cell:
    """The cell of a cable's colours: all of them, typed in a row."""
    colours = [wire.colour for wire in job.conductors_of(cable.id) if wire.colour]
    at = CellRef("cable", cable.id, "conductors")
    press = TypeConductors(cable.id)
    return Cell(at, _COLOURS, ", ".join(colours), 62, asked=True, open=not colours, press=press)


def _valves(job: LoadedJob, system: System) -> Section:
    rows = [
        _valve(
            job,
            system,
            zone_label(zone),
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
        rows.append(add_line(AddMasterValve(master_valve_id(job.job.id)), "+ a master valve"))
    heads = (
        "Wire",
        "Waterproof",
        "Box",
        "Cable",
        "Coil kind",
        "Coil",
        "Wire length",
        "Splice kind",
        "Stripped",
        "No bare copper",
        "Slack loop",
        "Loss",
        "Main run",
        "Cv",
        "Regulator",
        "Filter curve",
        "Make",
        "Model",
    )
    return Section("Wire at each valve", tuple(rows), heads, label_width=16)


def _valve(
    job: LoadedJob,
    system: System,
    label: str,
    row_id: str,
    valve: Valve | None,
    seed: Mapping[str, Value],
) -> Row:
    asked = _asked_of_valve(job, str(seed.get("zone_id") or ""))
    make = CellMaker(Valve, row_id, valve, system, {**seed, **_usual(job)}, asked)
    cable = default_cable(job, valve)
    cells = (
        make.cell("colour", 15, options=valve_options(job, row_id, cable)),
        make.cell("splice_waterproof", 10),
        link_cell(make, job, "box_id", 5),
        link_cell(make, job, "cable_id", 5, cable.name if cable else ""),
        *make.cells(coil_kind=11, coil_ohm=8, wire_ft=11, splice_kind=22, stripped=8),
        *make.cells(no_bare_copper=9, slack_loop=10, loss_psi=7, main_run=3, cv=5),
        *make.cells(regulator_psi=9, filter_curve=20, make=12, model=14),
    )
    removable = ("valve", row_id) if valve is not None and valve.kind == "master" else None
    return Row(label, cells, removable=removable)


def _asked_of_valve(job: LoadedJob, zone_id: str) -> Asked:
    """A valve on a decoder, or beside a battery controller, has no conductor of a cable.

    `zone_id` is empty for the master valve.
    """
    by_cable = feed_of(job, zone_id) == "cable" if zone_id else master_decoder(job) is None
    return {"colour": by_cable}


def _blanks_of_valve(job: LoadedJob, zone_id: str, valve: Valve | None) -> Count:
    return blanks(Valve, [valve], _asked_of_valve(job, zone_id))


def _usual(job: LoadedJob) -> dict[str, Value]:
    """What a new valve starts with: the box of the last one, or the only box."""
    known = [valve.box_id for valve in job.valves if valve.box_id]
    if known:
        return {"box_id": known[-1]}
    return {"box_id": job.valve_boxes[0].id} if len(job.valve_boxes) == 1 else {}


def _points(job: LoadedJob, system: System) -> Section:
    """The fixed points; east and north only where an older record has them."""
    widths = {"name": 34, "along_ft": 14, "out_ft": 11, "faces": 11, "lat_deg": 14, "lon_deg": 14}
    if by_compass(job):
        del widths["faces"]
        widths = {**widths, "east_ft": 9, "north_ft": 9}
    rows = []
    for count, point in enumerate(job.fixed_points, start=1):
        make = CellMaker(FixedPoint, point.id, point, system, asked=_asked_of_point(point))
        removable = ("fixed_point", point.id)
        # The wall faces one way, whichever of its points says so: the first one is asked.
        shown = {name: width for name, width in widths.items() if name != "faces" or count == 1}
        rows.append(Row(str(count), make.cells(**shown), removable=removable))
    adds = AddRow("fixed_point", "fixed point", "name", add_fixed_point)
    rows.append(add_line(adds, "+ a fixed point"))
    heads = tuple(facts_of(FixedPoint)[name].label for name in widths)
    title = "Fixed points: stand before the wall, left corner first"
    return Section(title, tuple(rows), heads, label_width=4)


def _ties(job: LoadedJob, system: System) -> Section:
    """What is tied to the fixed points by tape."""
    rows = []
    for tie in job.ties:
        make = CellMaker(Tie, tie.id, tie, system)
        ends = [
            cell
            for number in (1, 2, 3)
            for cell in (
                link_cell(make, job, f"point_{number}_id", 12),
                make.cell(f"tape_{number}_ft", 9),
            )
        ]
        cells = (
            make.cell("thing", 10),
            make.cell("name", 10),
            *ends[:4],
            make.cell("side", 6),
            *ends[4:],
            link_cell(make, job, "box_id", 5),
            make.cell("depth_in", 7),
            link_cell(make, job, "run_id", 10),
        )
        rows.append(Row("Tie", cells, tail=position_words(job, tie), removable=("tie", tie.id)))
    rows.append(add_line(AddRow("tie", "tie", "thing", add_tie), "+ a tied thing"))
    heads = (
        *("What", "Name", "From", "Tape 1", "And from", "Tape 2", "Side", "And from", "Tape 3"),
        *("Box", "Depth", "End of run"),
    )
    title = "Ties: two or three tapes to each thing (F4: plan)"
    return Section(title, tuple(rows), heads, label_width=4)


def _asked_of_point(point: FixedPoint) -> Asked:
    """A point of an older record may be placed by east and north instead."""
    return {"along_ft": point.east_ft is None or point.north_ft is None}


def _spares(job: LoadedJob, system: System) -> list[Section]:
    """Conductors that nothing uses; a tick says that one is kept at both ends."""
    rows = []
    for cable in job.cables:
        used = {valve.colour for valve in job.valves if job.cable_of(valve) is cable}
        used.add(cable.common_colour)
        for conductor in job.conductors_of(cable.id):
            if conductor.colour not in used:
                make = CellMaker(Conductor, conductor.id, conductor, system)
                label = f"cable {cable.name}, {conductor.colour}"
                rows.append(Row(label, (make.cell("kept", 18),)))
    if not rows:
        return []
    return [Section("Spare conductors", tuple(rows), ("Kept at both ends",), label_width=26)]
