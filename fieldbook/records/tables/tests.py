"""Tests with a gauge: the pressure test of a stretch, and the backflow assembly's own test."""

from typing import Annotated, ClassVar

from fieldbook.records.base import Place, Record
from fieldbook.records.fact import amount, choice, clock, day, hidden, link, tick, whole, words
from fieldbook.units import MINUTES, PRESSURE

_TEST = "By a licensed tester with a calibrated gauge; it is recorded here, not certified."


class PressureTest(Record, table="pressure_test"):
    """The pressure test of the mainline (no zone) or of a lateral, and the cement before it."""

    title: ClassVar[str] = "pressure test"
    sheet: ClassVar[Place] = "ground"

    zone_id: Annotated[str | None, hidden("Zone", "zone")] = None
    cemented_at: Annotated[
        str | None,
        clock(
            "Last joint at",
            "When the last joint was cemented. Ventilate, no flames; nothing is tested before it "
            "has cured.",
        ),
    ] = None
    label_min: Annotated[
        float | None,
        amount(
            "Cure time",
            MINUTES,
            (0, 10000),
            "From the label of the cement in hand: it governs.",
        ),
    ] = None
    air_deg_f: Annotated[
        int | None, whole("Air, deg F", -20, 130, "While it cured; cold takes longer.")
    ] = None
    humidity_pct: Annotated[
        int | None, whole("Humidity, %", 0, 100, "Over 60 % takes half as long again.")
    ] = None
    water_only: Annotated[
        bool | None,
        tick(
            "Water only",
            "Air in plastic pipe bursts it: the stored energy is thousands of times that of water.",
            source="PPFA User Bulletin 4-80; ASTM D2241, note 1.",
            good="Filled slowly, air bled, nobody over the joints.",
        ),
    ] = None
    began_at: Annotated[str | None, clock("Began", "When the gauge was read first.")] = None
    start_psi: Annotated[float | None, amount("At the start", PRESSURE, (0, 400))] = None
    ended_at: Annotated[str | None, clock("Ended", "When it was read last.")] = None
    end_psi: Annotated[float | None, amount("At the end", PRESSURE, (0, 400))] = None


class BackflowTest(Record, table="backflow_test"):
    """One field test of an assembly, as the tester read it."""

    title: ClassVar[str] = "backflow test"
    sheet: ClassVar[Place] = "street"

    assembly_id: Annotated[
        str | None, link("Assembly", "backflow_assembly", "Blank is the job's only one.")
    ] = None
    tested_on: Annotated[str | None, day("Tested", _TEST, wanted=True)] = None
    tester: Annotated[str, words("Tester", "Who tested and certified it.", wanted=True)] = ""
    tester_no: Annotated[str, words("Tester no.", "The tester's own number.")] = ""
    check_1_psi: Annotated[
        float | None, amount("Check 1", PRESSURE, (0, 30), "PVB and SVB: the check valve.")
    ] = None
    check_2_psi: Annotated[float | None, amount("Check 2", PRESSURE, (0, 30))] = None
    relief_psi: Annotated[float | None, amount("Relief opens", PRESSURE, (0, 30), "RP only.")] = (
        None
    )
    inlet_psi: Annotated[
        float | None, amount("Inlet opens", PRESSURE, (0, 30), "PVB and SVB: the air inlet.")
    ] = None
    check_1_tight: Annotated[
        bool | None, tick("Check 1 tight", "DC: check 1 held against back-pressure.")
    ] = None
    check_2_tight: Annotated[
        bool | None, tick("Check 2 tight", "RP and DC: check 2 held against back-pressure.")
    ] = None
    opened_fully: Annotated[
        bool | None, tick("Opened fully", "SVB: the air inlet opened fully at no pressure.")
    ] = None
    certified: Annotated[
        bool | None, tick("Certified", "The tester's signed report is filed.", wanted=True)
    ] = None
    why: Annotated[
        str | None,
        choice("Why", ("new", "yearly", "repaired", "moved"), "What it was tested for."),
    ] = None
