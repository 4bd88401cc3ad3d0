"""Flags from ohm readings and wire tests, through daisy-chained boxes and shared commons."""

from __future__ import annotations

from dataclasses import replace

import pytest
from builders import (
    CABLE,
    bare_job,
    codes,
    common_terminal,
    conductors,
    energised,
    metered,
    number,
    only,
    put,
    row,
    sound_job,
    terminal,
    valve,
    wired_job,
    zone,
)

from fieldbook.checks.wire.circuits import expected_of, reading_of
from fieldbook.checks.wire.doubt_words import LONGEST_LINE, doubt_lines
from fieldbook.checks.wire.ends import joined_wires
from fieldbook.checks.wire.wire_evidence import reconciled_wire
from fieldbook.checks.wire.wire_links import leads_to, link_of
from fieldbook.papers.picture import Picture, Piece, columns, row_of
from fieldbook.papers.wire_map import map_lines, reach_lines
from fieldbook.papers.wire_pictures import box_pictures, strip_picture
from fieldbook.records.ids import once_id, valve_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.controller import Controller
from fieldbook.records.tables.wires import Cable, Splice, ValveBox

THREE = ("red", "blue", "green")
CONTROLLER = once_id("job-1", "controller")


def test_a_test_that_agrees_is_no_flag() -> None:
    job = energised(wired_job(THREE, THREE), 1, "zone-1")
    assert codes(job) == []
    first = job.terminals[1]
    assert link_of(job, first).why == "colours at both ends, seen to run"
    assert leads_to(job, first) == "zone 1"


def test_a_zone_that_ran_against_the_colours_is_flagged() -> None:
    job = energised(wired_job(THREE, THREE), 2, "zone-3")
    flag = only(job, "ran another zone")
    assert (flag.severity, flag.place) == ("stop", "controller")
    assert flag.sentence == (
        "Terminal 2 was energised and zone 3 ran, but its colour leads to zone 2."
    )
    lines = "\n".join(doubt_lines(job))
    assert "do not fit as entered; " in lines
    assert leads_to(job, job.terminals[2]).endswith("?")


def test_a_zone_that_ran_on_another_terminal_is_flagged() -> None:
    job = energised(wired_job((None, "blue", "green"), ("red", None, None)), 1, "zone-2")
    assert "is meant for zone 1, but zone 2 ran" in only(job, "ran another zone").sentence


def test_nothing_ran_asks_for_the_ohms() -> None:
    flag = only(energised(wired_job(THREE, THREE), 1), "nothing ran")
    assert (flag.severity, flag.at.column) == ("fix", "now_ohm")


def test_a_terminal_should_read_its_coil_its_wire_and_its_joints() -> None:
    # 30 ohm coil, 3.83 ohm of loop (copper wire tables), 0.5 ohm of joints.
    job = metered()
    assert expected_of(job, job.terminals[1]) == pytest.approx(34.33, abs=0.01)
    assert reading_of(job, job.terminals[1]) is None
    cold = put(job, "controller", CONTROLLER, soil_deg_f=40)
    assert (expected_of(cold, cold.terminals[1]) or 0) < 34.3


@pytest.mark.parametrize(
    ("ohms", "code", "severity"),
    [
        ({"day_1_ohm": 34.0}, None, None),
        ({"day_1_ohm": 18.8}, "reads two coils", "fix"),
        ({"day_1_ohm": 34.0, "now_ohm": 18.8}, "reads two coils", "fix"),
        ({"day_1_ohm": 34.0, "now_ohm": 9999.0}, "reads open", "fix"),
        ({"day_1_ohm": 34.0, "now_ohm": 3.2}, "reads short", "stop"),
        ({"day_1_ohm": 34.0, "now_ohm": 44.0}, "reads high", "fix"),
        ({"day_1_ohm": 34.0, "now_ohm": 26.0}, "reads low", "fix"),
        ({"day_1_ohm": 34.0, "now_ohm": 35.5}, None, None),
    ],
)
def test_an_odd_reading_is_flagged(
    ohms: dict[str, float], code: str | None, severity: str | None
) -> None:
    job = metered(**ohms)
    flags = [one for one in codes(job) if one.startswith("reads")]
    assert flags == ([code] if code else [])
    if code is not None:
        flag = only(job, code)
        assert flag.severity == severity
        assert number(flag, "reading") == list(ohms.values())[-1]


def test_a_short_says_how_far_away_it_is_at_most() -> None:
    # 3.2 ohm on 18 gauge: 251 ft.
    assert "251 ft of wire away" in only(metered(day_1_ohm=34, now_ohm=3.2), "reads short").sentence


def test_a_wire_too_long_for_its_coil_is_flagged() -> None:
    job = put(metered(), "valve", valve_id("zone-2"), wire_ft=900.0)
    flag = only(job, "wire too long")
    # Inrush 0.40 A on 18 gauge: 783 ft leave 20 V.
    assert "it needs 20 V, which it gets through 783 ft at most" in flag.sentence
    assert "AWG 16" in flag.mend
    assert number(flag, "margin") < 0
    weaker = put(job, "controller", CONTROLLER, inrush_a=0.3)
    assert "wire too long" not in codes(weaker)
    master = put(weaker, "valve", "m", kind="master", cable_id=CABLE, colour="black")
    assert "wire too long" in codes(master)


def test_a_thicker_wire_reaches_farther() -> None:
    # At 0.40 A, 4 V, 20 C: 783 ft of 18 gauge, 1980 ft of 14 gauge.
    lines = " ".join(reach_lines(metered()))
    assert "AWG 18 783 ft" in lines
    assert "AWG 14 1980 ft" in lines
    with_master = put(metered(), "valve", "m", kind="master")
    assert "of master or relay" in " ".join(reach_lines(with_master))


def test_a_transformer_with_too_much_load_is_flagged() -> None:
    job = put(metered(), "controller", CONTROLLER, transformer_va=8)
    flag = only(job, "transformer overloaded")
    # 24 V times 0.40 A of inrush.
    assert number(flag, "load") == pytest.approx(9.6)
    assert flag.severity == "stop"
    assert codes(put(job, "controller", CONTROLLER, transformer_va=30)) == []
    relay = put(job, "controller", CONTROLLER, transformer_va=15, relay_a=0.3)
    assert number(only(relay, "transformer overloaded"), "load") == pytest.approx(16.8)
    together = put(job, "zone", "zone-2", runs_with="zone-1")
    assert number(only(together, "transformer overloaded"), "load") == pytest.approx(15.6)
    # NEC 725; chapter 9, table 11(A).
    assert "over class 2" in codes(put(job, "controller", CONTROLLER, transformer_va=120))


@pytest.mark.parametrize(
    ("column", "value", "code", "severity"),
    [
        ("splice_kind", "open twist", "splice not sealed", "fix"),
        ("no_bare_copper", False, "splice showing bare copper", "fix"),
        ("stripped", False, "splice not stripped about 1/2 in", "note"),
        ("slack_loop", False, "splice without a slack loop", "note"),
        ("splice_kind", "gel tube", None, None),
        ("no_bare_copper", True, None, None),
    ],
)
def test_splices_that_were_made_wrong_are_flagged(
    column: str, value: object, code: str | None, severity: str | None
) -> None:
    job = put(sound_job(1), "valve", valve_id("zone-1"), **{column: value})
    assert codes(job) == ([code] if code else [])
    if code is not None:
        assert only(job, code).severity == severity


def daisy() -> LoadedJob:
    """Box A on cable 1; from there cable 2 goes on to box B, cut and spliced in A."""
    far = row(Cable, "cable-2", name="2", common_colour="white", fed_from="box-a")
    splices = tuple(
        row(
            Splice,
            f"splice-{no}",
            box_id="box-a",
            cable_id=CABLE,
            colour=here,
            to_cable_id="cable-2",
            to_colour=there,
        )
        for no, (here, there) in enumerate((("white", "white"), ("blue", "red"), ("green", "blue")))
    )
    return bare_job(
        zones=(zone(1), zone(2), zone(3)),
        valve_boxes=(row(ValveBox, "box-a", name="A"), row(ValveBox, "box-b", name="B")),
        cables=(row(Cable, CABLE, name="1", common_colour="white"), far),
        conductors=(
            *conductors("white", "red", "blue", "green"),
            *conductors("white", "red", "blue", cable="cable-2"),
        ),
        splices=splices,
        valves=(
            valve(1, "red", cable_id=CABLE, box_id="box-a"),
            valve(2, "red", cable_id="cable-2", box_id="box-b"),
            valve(3, "blue", cable_id="cable-2", box_id="box-b"),
        ),
        terminals=(
            common_terminal("white"),
            *(terminal(no, colour, cable_id=CABLE) for no, colour in enumerate(THREE, start=1)),
        ),
    )


def test_a_wire_is_followed_through_its_splices() -> None:
    job = daisy()
    assert codes(job) == []
    # The wires of three valves, and the common.
    assert [wire.crossed for wire in joined_wires(job).wires] == [False] * 4
    assert [leads_to(job, one) for one in job.terminals[1:]] == ["zone 1", "zone 2", "zone 3"]
    swapped = put(job, "splice", "splice-1", to_colour="blue")
    swapped = put(swapped, "splice", "splice-2", to_colour="red")
    assert codes(swapped) == ["wires crossed"]


def test_boxes_show_what_each_conductor_does() -> None:
    first, second = box_pictures(daisy())
    assert "Cable 1, from the controller" in first.text()
    assert "valve of zone 1" in first.text()
    # The swatch of the other conductor is blank in plain text.
    assert "spliced on:    red of cable 2" in first.text()
    assert "Cable 2, from valve box A" in second.text()
    assert "valve of zone 3" in second.text()
    assert "Cable 1" not in second.text()
    assert max(first.width, second.width) <= 76


def test_a_common_shared_between_cables_is_asked_for_once() -> None:
    other = row(Cable, "cable-2", name="2", common_with=CABLE)
    job = bare_job(
        zones=(zone(1), zone(2)),
        cables=(row(Cable, CABLE, name="1", common_colour="white"), other),
        conductors=(*conductors("white", "red"), *conductors("red", cable="cable-2")),
        valves=(valve(1, "red", cable_id=CABLE), valve(2, "red", cable_id="cable-2")),
        terminals=(
            common_terminal("white"),
            terminal(1, "red", cable_id=CABLE),
            terminal(2, "red", cable_id="cable-2"),
        ),
    )
    assert codes(job) == []
    alone = put(job, "cable", "cable-2", common_with=None)
    assert {"no common at the box", "no common at the controller"} <= set(codes(alone))


def test_the_strip_shows_every_terminal_in_80_columns() -> None:
    job = sound_job(7)
    strip = strip_picture(job)
    text = strip.text()
    for no in range(1, 8):
        assert f"zone {no}" in text
    assert all(len(line) <= 78 for line in text.splitlines())
    assert strip_picture(bare_job()).text().endswith("not entered yet.") or "No wire" in (
        strip_picture(bare_job()).text()
    )


def test_a_picture_is_the_same_in_svg_with_its_words() -> None:
    job = replace(sound_job(2))
    svg = strip_picture(job).svg()
    assert svg.startswith("<svg ")
    for words in (">red<", "zone 1", "zone 2", "#c62828"):
        assert words in svg
    hostile = Picture("<b>&", (row_of(Piece("</svg>", ("#000000", "#ffffff")), "\"'"),))
    assert "</svg>\n" not in hostile.svg()[:-8]
    assert "&lt;/svg&gt;" in hostile.svg()


def test_columns_cut_long_words() -> None:
    (line,) = (columns([Piece("turquoise/orange", ("#35b3b0", "#e67a1e")), Piece("x")], 10),)
    picture = Picture("", (line,))
    assert picture.width == 23
    assert "…" in picture.text()


def test_the_map_names_the_wires_that_are_entered_at_one_end_only() -> None:
    job = wired_job(("red", None, None), THREE)
    lines = map_lines(job)
    assert any("colours at both ends" in line for line in lines)
    assert any("its other end is not entered yet" in line for line in lines)
    assert doubt_lines(job) == []


@pytest.mark.parametrize(
    ("box", "controller", "words"),
    [
        (
            THREE,
            ("red", "green", "blue"),
            "the wires under terminals 2 and 3 are exchanged",
        ),
        (("red", "red", "green"), THREE, "share one wire"),
        (("red", "blue", "brown"), THREE, "is joined to nothing that was seen"),
        (THREE, ("red", "blue", "blue"), "terminal 3 has green, not what was entered"),
    ],
)
def test_a_mistake_is_put_in_words(
    box: tuple[str, ...], controller: tuple[str, ...], words: str
) -> None:
    assert words in "\n".join(doubt_lines(wired_job(box, controller)))


def test_the_settling_test_is_named() -> None:
    lines = doubt_lines(wired_job(THREE, ("red", "green", "blue")))
    # The test comes first, then what could explain it, the likeliest first.
    assert lines[1] == "Energise terminal 2 and see what runs: that tells most."
    assert lines[2].startswith("- 5 in 10: ")
    assert lines[3].startswith("- 5 in 10: ")
    assert max(map(len, lines)) <= LONGEST_LINE
    assert reconciled_wire(wired_job(THREE, THREE)).doubts == ()


def test_a_controller_without_wire_is_silent() -> None:
    job = bare_job(controller=row(Controller, CONTROLLER, transformer_va=30))
    assert codes(job) == []
