"""The backflow assembly: its kind, how high it stands, what it loses, what is around it."""

from typing import Annotated, ClassVar

from fieldbook.records.base import Place, Record
from fieldbook.records.fact import amount, choice, day, pairs, tick, words
from fieldbook.trade.backflow import BACKFLOW_KINDS
from fieldbook.trade.pipes import PIPE_SIZES
from fieldbook.units import LENGTH, PRESSURE, SHORT_LENGTH


class BackflowAssembly(Record, table="backflow_assembly"):
    """One assembly, or the anti-siphon valves of the zones that name it."""

    title: ClassVar[str] = "backflow assembly"
    sheet: ClassVar[Place] = "street"

    name: Annotated[str, words("Name", "Where it stands, such as “left of the garage”.")] = ""
    kind: Annotated[
        str | None,
        choice(
            "Kind",
            BACKFLOW_KINDS,
            "Which kinds are allowed is a local rule. A licensed tester tests and certifies it.",
            wanted=True,
        ),
    ] = None
    make: Annotated[str, words("Make", "As on its label: the tester's report names it.")] = ""
    model: Annotated[str, words("Model", "As on its label, so that a part fits.")] = ""
    size: Annotated[str | None, choice("Size", PIPE_SIZES)] = None
    serial: Annotated[str, words("Serial", "The tester's report names it.", wanted=True)] = ""
    installed_on: Annotated[
        str | None, day("Installed", "Its test is made on this day or after it.", wanted=True)
    ] = None
    moved_on: Annotated[str | None, day("Moved", "It is tested again after it was moved.")] = None
    repaired_on: Annotated[
        str | None, day("Repaired", "It is tested again after a repair or a new part.")
    ] = None
    inspected_on: Annotated[
        str | None,
        day(
            "Inspected",
            "AVB: it has no field test; height, no valve after it, and 12 h in 24 are looked at.",
        ),
    ] = None
    inspected_by: Annotated[str, words("Inspected by", "Who looked at the AVB.")] = ""
    critical_level_ft: Annotated[
        float | None,
        amount(
            "Critical level",
            LENGTH,
            (-2000, 15000),
            "Height of the critical-level mark above the job's datum. It must stand over "
            "the highest sprinkler, measured at its retracted top.",
            wanted=True,
            source="30 Tex. Admin. Code 344.50 for the way it is measured.",
        ),
    ] = None
    above_grade_in: Annotated[
        float | None,
        amount(
            "Above grade", SHORT_LENGTH, (-120, 120), "Clearance of the assembly over the soil."
        ),
    ] = None
    loss_psi: Annotated[
        float | None,
        amount("Loss", PRESSURE, (0, 60), "From the assembly's own curve at the zone's flow."),
    ] = None
    loss_curve: Annotated[
        str,
        pairs("Loss curve", "Flow and loss in pairs, from its own sheet: 5 3.5, 10 4, 20 6.1."),
    ] = ""
    valve_after: Annotated[
        bool | None,
        tick("Valve after it", "Is any shut-off or zone valve downstream of it?", either=True),
    ] = None
    back_pressure: Annotated[
        bool | None,
        tick(
            "Back-pressure",
            "Can anything downstream push back: a pump, a tank, higher pipe?",
            either=True,
        ),
    ] = None
    drain: Annotated[
        bool | None, tick("Relief drains", "RP: its relief port can drain in full, by an air gap.")
    ] = None
    exposed_pvc: Annotated[
        bool | None, tick("PVC in the sun", "Is any PVC above ground?", wanted=True, either=True)
    ] = None
    pvc_painted: Annotated[
        bool | None,
        tick(
            "PVC painted",
            "PVC in the sun loses impact strength.",
            source="Plastic pipe association report UNI-TR-5: light water-based paint.",
            good="Every exposed inch under light-coloured water-based paint.",
        ),
    ] = None
