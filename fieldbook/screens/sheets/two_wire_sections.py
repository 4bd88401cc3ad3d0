"""The two-wire path and its decoders, as sections of the sheet of the valve boxes."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.actions.controllers import add_decoder, add_path
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.two_wire import Decoder, TwoWirePath
from fieldbook.screens.sheets.options import link_cell
from fieldbook.screens.sheets.presses import AddRow
from fieldbook.screens.sheets.sheet import Asked, CellMaker, Count, Row, Section, add_line, blanks
from fieldbook.units import System


def two_wire_sections(job: LoadedJob, system: System) -> Iterator[Section]:
    """The paths; where there is one, also the decoders."""
    yield _paths(job, system)
    if job.two_wire_paths or job.decoders:
        yield _decoders(job, system)


def open_two_wire(job: LoadedJob) -> Count:
    """How many cells of these sections are asked for, and how many are open."""
    decoders = sum((blanks(Decoder, [one], _asked(one)) for one in job.decoders), Count())
    return blanks(TwoWirePath, job.two_wire_paths) + decoders


def _paths(job: LoadedJob, system: System) -> Section:
    rows = []
    for path in job.two_wire_paths:
        make, removable = CellMaker(TwoWirePath, path.id, path, system), ("two_wire_path", path.id)
        colours = make.cells(name=5, colour_1=15, colour_2=15)
        ticks = make.cells(joins_waterproof=10, surge_grounded=6, loop_open=9)
        figures = make.cells(gauge_awg=4, length_ft=9, ground_rods=5, ground_ohm=8)
        volts = make.cells(output_v=10, least_v=13, load_a=7)
        named = link_cell(make, job, "controller_id", 10)
        rows.append(Row("Path", (*colours, *ticks, *figures, *volts, named), removable=removable))
    adds = AddRow("two_wire_path", "two-wire path", "colour_1", add_path)
    rows.append(add_line(adds, "+ a two-wire path (decoders)"))
    heads = (
        *("Path", "First wire", "Second wire", "Waterproof", "Surge", "Loop open"),
        *("Gauge AWG", "Farthest", "Rods", "Ground", "Path volts", "Decoder needs", "Load"),
        "Controller",
    )
    return Section("Two-wire paths", tuple(rows), heads, label_width=8)


def _decoders(job: LoadedJob, system: System) -> Section:
    rows = []
    for decoder in job.decoders:
        make = CellMaker(Decoder, decoder.id, decoder, system, asked=_asked(decoder))
        zone = job.zone(decoder.zone_id)
        cells = (
            make.cell("address", 9),
            link_cell(make, job, "zone_id", 5, str(zone.number or zone.name) if zone else ""),
            link_cell(make, job, "box_id", 5),
            *make.cells(like_to_like=12, joins_waterproof=10, output=6, on_master=6),
            link_cell(make, job, "path_id", 5),
        )
        rows.append(Row("Decoder", cells, removable=("decoder", decoder.id)))
    rows.append(add_line(AddRow("decoder", "decoder", "address", add_decoder), "+ a decoder"))
    heads = ("Address", "Zone", "Box", "Like to like", "Waterproof", "Output", "Master", "Path")
    return Section("Decoders: the address on each, seen in its box", tuple(rows), heads, 8)


def _asked(decoder: Decoder) -> Asked:
    """The decoder of the master valve serves no zone."""
    return {"zone_id": not decoder.on_master}
