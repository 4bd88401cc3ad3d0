"""Flags on the pair of a two-wire system: joints, loop, surge grounding, volts at the far end."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.naming import path_name, quantity, sentence
from fieldbook.checks.finding import CellRef, Finding, Missing, Number
from fieldbook.checks.looked import Looked
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.two_wire import TwoWirePath
from fieldbook.units import LENGTH
from fieldbook.wiring import OHM_PER_1000_FT, ohm_per_ft

ONE_ROD_OHM = 25.0
"""NEC 250.53(A)(2), 2011: a single rod needs a second unless it reads 25 ohm or less."""


def check_path(job: LoadedJob, path: TwoWirePath) -> Iterator[Finding | Looked]:
    """One path: what is not entered of it, then what is wrong."""
    name = path_name(path)
    asked = (
        ("colour_1", f"the first wire of {name}"),
        ("colour_2", f"the second wire of {name}"),
        ("joins_waterproof", f"the joints of {name}"),
        ("surge_grounded", f"the surge grounding of {name}"),
    )
    lacks = [
        Missing(words, CellRef("two_wire_path", path.id, column))
        for column, words in asked
        if getattr(path, column) in (None, "")
    ]
    yield Looked(name, frozenset({path.id}), tuple(lacks))
    if path.colour_1 and path.colour_1 == path.colour_2:
        yield Finding(
            "pair of one colour",
            "stop",
            f"Both wires of {name} are {path.colour_1}: decoders can't be joined like to like.",
            "Look at the jacket again and correct one; else mark one wire in every box.",
            CellRef("two_wire_path", path.id, "colour_2"),
        )
    yield from _joints(path, name)
    yield from _grounding(path, name)
    yield from _far_volts(job, path)


def _joints(path: TwoWirePath, name: str) -> Iterator[Finding]:
    if path.joins_waterproof is False:
        yield Finding(
            "splice not waterproof",
            "fix",
            f"Joints of {name} are not waterproof: one can stop every decoder behind it.",
            "Remake them with filled connectors listed for direct burial, then tick it.",
            CellRef("two_wire_path", path.id, "joins_waterproof"),
            source="NEC 110.14(B): listed for direct burial; UL 486D sealed connectors.",
        )
    if path.loop_open is False:
        yield Finding(
            "path closed to a loop",
            "note",
            f"{sentence(name)} closes on itself: a break or short in it is hard to find.",
            "Open the loop in one box, cap both ends, and tick Loop left open.",
            CellRef("two_wire_path", path.id, "loop_open"),
            source="Common practice, as told in the trade press.",
        )


def _grounding(path: TwoWirePath, name: str) -> Iterator[Finding]:
    if path.surge_grounded is False:
        yield Finding(
            "no surge grounding",
            "fix",
            f"{sentence(name)} has no surge grounding: lightning nearby can end its decoders.",
            "Fit it where the decoders' own sheet says, then tick it at the valve boxes.",
            CellRef("two_wire_path", path.id, "surge_grounded"),
            source="Common practice, no source; the decoders' sheet decides.",
        )
    ohm = amount(path, "ground_ohm")
    if ohm is not None and ohm > ONE_ROD_OHM and path.ground_rods == 1:
        yield Finding(
            "one rod is not enough",
            "fix",
            f"The one ground rod of {name} reads {ohm:.0f} ohm, over {ONE_ROD_OHM:.0f}.",
            "Add a second rod at least 6 ft away, away from marked lines, and enter both.",
            CellRef("two_wire_path", path.id, "ground_rods"),
            source="NEC 250.53(A)(2) and (3), 2011; local electrical code governs.",
            numbers=(Number("ground", ohm, "ohm"), Number("most", ONE_ROD_OHM, "ohm")),
        )


def _far_volts(job: LoadedJob, path: TwoWirePath) -> Iterator[Finding]:
    """Volts at the farthest decoder: what the pair loses, from the load that was entered."""
    length_ft, load_a = amount(path, "length_ft"), amount(path, "load_a")
    out_v, least_v = amount(path, "output_v"), amount(path, "least_v")
    gauge = path.gauge_awg or ""
    if length_ft is None or load_a is None or out_v is None or least_v is None:
        return
    if gauge not in OHM_PER_1000_FT:
        return
    loop_ohm = 2 * length_ft * ohm_per_ft(gauge)
    volts = out_v - loop_ohm * load_a
    if volts < least_v - 1e-9:
        yield Finding(
            "path too long",
            "fix",
            f"{sentence(path_name(path))} leaves {volts:.1f} V at its farthest decoder, "
            f"{quantity(job, length_ft, LENGTH)} of AWG {gauge} away; it needs {least_v:g} V.",
            "Pull thicker wire, run fewer valves at once, or correct length, load or volts.",
            CellRef("two_wire_path", path.id, "length_ft"),
            source="Copper wire tables at 20 C; all the load is taken to be at the far end.",
            numbers=(Number("loop", loop_ohm, "ohm"), Number("at the decoder", volts, "V")),
        )
