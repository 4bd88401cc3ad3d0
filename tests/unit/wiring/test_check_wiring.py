"""Flags on the wire map: each is raised by its mistake alone and goes once it is mended."""

from __future__ import annotations

import pytest
from builders import (
    CABLE,
    bare_job,
    checked,
    codes,
    common_terminal,
    conductors,
    mend,
    only,
    open_words,
    put,
    row,
    sound_job,
    terminal,
    valve,
    wired_job,
    without,
    zone,
)

from fieldbook.checks.looked import Looked
from fieldbook.checks.wire.doubt_words import doubt_lines
from fieldbook.checks.wire.wire_colours import check_wiring
from fieldbook.records.base import natural_id
from fieldbook.records.ids import terminal_id, valve_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.wires import Cable, Valve

THREE = ("red", "blue", "green")
JOB_TERMINAL_4 = terminal_id("job-1", "zone", 4)
FOUR = ("red", "blue", "green", "orange")


def lacking(job: LoadedJob) -> list[str]:
    """What the check of the wiring still has to know."""
    looked = [one for one in check_wiring(job) if isinstance(one, Looked)]
    return [missing.words for one in looked for missing in one.missing]


def test_wires_that_join_have_no_flags() -> None:
    assert codes(wired_job(FOUR, FOUR)) == []


def test_wires_entered_at_one_end_only_have_no_flags() -> None:
    assert codes(wired_job(FOUR, (None,) * 4)) == []
    assert codes(wired_job((None,) * 4, FOUR)) == []


def test_a_swap_is_one_stop_that_names_both_terminals() -> None:
    job = wired_job(FOUR, ("red", "blue", "orange", "green"))
    swap = only(job, "wires crossed")
    assert codes(job) == ["wires crossed"]
    assert (swap.severity, swap.place) == ("stop", "controller")
    assert swap.sentence == (
        "Terminals 3 and 4 look swapped: green from zone 3 is under terminal 4; orange from zone 4 "
        "is under terminal 3."
    )
    assert swap.mend.startswith("Energise terminal 3 and see what runs")


def test_a_swap_mended_at_the_controller_has_no_flags() -> None:
    job = wired_job(FOUR, ("red", "blue", "orange", "green"))
    job = mend(job, only(job, "wires crossed"), "green")
    job = put(job, "terminal", terminal_id("job-1", "zone", 4), colour="orange")
    assert codes(job) == []


def test_three_wires_in_a_ring_are_one_stop() -> None:
    job = wired_job(FOUR, ("green", "red", "blue", "orange"))
    assert codes(job) == ["wires crossed"]
    assert "mixed up" in only(job, "wires crossed").sentence


def test_a_terminal_set_to_another_zone_is_no_swap() -> None:
    job = wired_job(
        ("red", "blue"),
        (None, None),
        terminals=(
            common_terminal("white"),
            terminal(1, "blue", zone_id="zone-2"),
            terminal(2, "red", zone_id="zone-1"),
        ),
    )
    assert codes(job) == []


def test_a_doubled_colour_at_the_box_is_flagged_with_the_colours_it_may_be() -> None:
    job = wired_job(("red", "blue", "blue", "orange"), FOUR)
    double = only(job, "colour used twice")
    assert codes(job) == ["colour used twice"]
    assert (double.severity, double.place) == ("stop", "boxes")
    assert "valve of zone 2" in double.sentence
    assert "valve of zone 3" in double.sentence
    assert "green" in double.mend
    assert double.at.row_id == valve_id("zone-3")
    assert codes(mend(job, double, "green")) == []


def test_a_valve_on_the_common_is_a_double() -> None:
    job = wired_job(("red", "white"), (None, None))
    double = only(job, "colour used twice")
    assert "the common of cable 1" in double.sentence
    assert codes(mend(job, double, "blue")) == []


def test_a_doubled_colour_at_the_controller_is_flagged() -> None:
    job = wired_job(FOUR, ("red", "blue", "green", "red"))
    double = only(job, "colour used twice")
    assert codes(job) == ["colour used twice"]
    assert double.place == "controller"
    assert double.at.row_id == JOB_TERMINAL_4
    assert "orange" in double.mend
    assert codes(mend(job, double, "orange")) == []


def test_a_colour_listed_twice_in_a_cable_is_a_stop() -> None:
    job = wired_job((None,), (None,), conductors=conductors("white", "red", "red"))
    assert only(job, "colour listed twice").severity == "stop"
    assert (
        codes(wired_job((None,), (None,), conductors=conductors("white", "red", "red/black"))) == []
    )


def test_what_is_not_entered_is_not_checked_and_not_wrong() -> None:
    # A controller half entered, a sheet typed before the boxes, a valve never logged.
    half = wired_job(FOUR, ("red", "blue", "green", None))
    assert codes(half) == []
    assert "the wire under the terminal of zone 4" in lacking(half)
    assert codes(wired_job(FOUR, ("red", None, None, None))) == []
    never_logged = wired_job(("red", None), ("red", "blue"))
    assert codes(never_logged) == []
    assert "the wire at the valve of zone 2" in lacking(never_logged)


def test_a_terminal_beyond_the_zones_points_at_itself() -> None:
    job = wired_job(("red",), ("red",))
    job = put(job, "terminal", terminal_id("job-1", "zone", 9), number=9, colour="blue")
    lone = only(job, "terminal without valve")
    assert lone.at.table == "terminal"
    assert codes(mend(job, lone, None)) == []


def test_one_zone_with_two_colours_is_one_stop() -> None:
    job = wired_job(("red", "blue"), ("red", "green"))
    wrong = only(job, "ends disagree")
    assert codes(job) == ["ends disagree"]
    assert (wrong.severity, wrong.place) == ("stop", "controller")
    assert codes(mend(job, wrong, "blue")) == []


@pytest.mark.parametrize("colours", [("red",), ("red", "blue")])
def test_a_missing_common_is_a_stop_once_all_other_wires_are_entered(
    colours: tuple[str, ...],
) -> None:
    under = [terminal(number, colour) for number, colour in enumerate(colours, start=1)]
    job = wired_job(colours, colours, cables=(_cable(),), terminals=tuple(under))
    assert only(job, "no common at the box").severity == "stop"
    at_controller = only(job, "no common at the controller")
    assert at_controller.severity == "stop"
    assert at_controller.at.row_id == terminal_id("job-1", "common", CABLE)
    job = mend(job, only(job, "no common at the box"), "white")
    job = put(
        job, "terminal", at_controller.at.row_id, role="common", cable_id=CABLE, colour="white"
    )
    assert not {"no common at the box", "no common at the controller"} & set(codes(job))


def test_a_missing_common_is_merely_not_entered_while_the_sheet_is_half_typed() -> None:
    half = wired_job(
        ("red", "blue"), (), cables=(_cable("white"),), terminals=(terminal(1, "red"),)
    )
    assert "no common at the controller" not in codes(half)
    assert "the common terminal of cable 1" in open_words(half, "wire map")
    boxes = wired_job(("red", None), (), cables=(_cable(),), terminals=(terminal(1, "red"),))
    assert "no common at the box" not in codes(boxes)
    assert "the common of cable 1" in open_words(boxes, "wire map")


def test_a_missing_common_is_no_flag_before_the_controller_is_wired() -> None:
    assert codes(wired_job(FOUR, (None,) * 4, cables=(_cable(),))) == []


def test_a_common_of_two_colours_at_its_two_ends_is_flagged() -> None:
    job = wired_job(("red",), ("red",))
    job = put(job, "terminal", terminal_id("job-1", "common", CABLE), colour="black")
    wrong = only(job, "ends disagree")
    assert "common of cable 1 is white" in wrong.sentence
    assert codes(mend(job, wrong, "white")) == []


def test_a_common_that_is_not_white_is_a_note() -> None:
    job = wired_job(
        ("red",),
        (None,),
        cables=(_cable(common_colour="white/red"),),
        conductors=conductors("white/red", "red", "white"),
    )
    note = only(job, "common not white")
    assert note.severity == "note"
    assert codes(mend(job, note, "white")) == []


def test_n_valves_need_n_conductors_and_a_common() -> None:
    job = wired_job(("red", "blue"), (None, None), conductors=conductors("white", "red"))
    job = put(job, "valve", valve_id("zone-2"), colour=None)
    few = only(job, "too few conductors")
    assert few.at.column == "conductors"
    assert [number.value for number in few.numbers] == [2, 3]
    enough = wired_job(("red", "blue"), (None, None), conductors=conductors("white", "red", "blue"))
    assert codes(enough) == []


def test_the_master_valve_needs_a_conductor_too() -> None:
    job = wired_job(("red",), (None,), conductors=conductors("white", "red"))
    assert codes(job) == []
    job = put(job, "valve", natural_id("job-1", "master valve"), kind="master")
    assert codes(job) == ["too few conductors"]


def test_two_cables_together_need_a_common_each() -> None:
    cables = (_cable(common_colour="white"), row(Cable, "cable-2", name="2"))
    job = bare_job(
        zones=(zone(1), zone(2), zone(3)),
        cables=cables,
        conductors=conductors("white", "red") + conductors("white", "red", cable="cable-2"),
    )
    few = only(job, "too few conductors")
    assert [number.value for number in few.numbers] == [4, 5]


def test_a_colour_that_is_not_listed_in_its_cable_is_flagged() -> None:
    job = wired_job(("red", "purple"), ("red", "purple"))
    strange = only(job, "colour not in the cable")
    assert codes(job) == ["colour not in the cable"]
    assert "Purple" in strange.sentence
    listed = wired_job(
        ("red", "purple"), ("red", "purple"), conductors=conductors("white", "red", "purple")
    )
    assert codes(listed) == []


def test_a_cable_with_no_colours_listed_yet_has_no_strange_colours() -> None:
    assert codes(wired_job(("red", "purple"), ("red", "purple"), conductors=())) == []


@pytest.mark.parametrize(
    ("table", "row_id", "column"),
    [
        ("valve", valve_id("zone-1"), "splice_waterproof"),
        ("cable", CABLE, "common_waterproof"),
    ],
)
def test_a_splice_that_is_not_waterproof_is_flagged(table: str, row_id: str, column: str) -> None:
    job = put(sound_job(), table, row_id, **{column: False})
    wet = only(job, "splice not waterproof")
    assert codes(job) == ["splice not waterproof"]
    assert wet.severity == "fix"
    assert codes(mend(job, wet, True)) == []


def test_a_colour_without_its_cable_is_flagged_where_there_are_several() -> None:
    cables = (_cable(), row(Cable, "cable-2", name="2"))
    job = bare_job(zones=(zone(1),), cables=cables, valves=(valve(1, "red"),))
    lost = only(job, "wire of no cable")
    assert codes(mend(job, lost, CABLE)) == []


def test_the_master_valve_is_joined_like_a_zone() -> None:
    master = natural_id("job-1", "master valve")
    under = terminal_id("job-1", "master")
    job = wired_job(("red",), ("red",))
    job = put(job, "valve", master, kind="master", colour="brown")
    assert codes(job) == []
    assert "the wire under the terminal of the master valve" in lacking(job)
    job = put(job, "terminal", under, role="master", colour="brown")
    assert codes(job) == []


def test_a_valve_whose_zone_was_removed_raises_no_error() -> None:
    job = bare_job(cables=(_cable(),), valves=(row(Valve, "v", zone_id="nobody", colour="red"),))
    assert codes(job) == []


def _cable(common_colour: str | None = None) -> Cable:
    return row(Cable, CABLE, name="1", common_colour=common_colour)


def test_a_lone_colour_that_is_not_in_the_cable_is_one_flag() -> None:
    assert codes(wired_job(("red", "purple"), ("red", None))) == ["colour not in the cable"]


@pytest.mark.parametrize("column", ["common_with", "fed_from"])
def test_zones_whose_only_cable_brings_no_common_are_not_checked(column: str) -> None:
    job = put(
        sound_job(), "cable", CABLE, **{column: CABLE if column == "common_with" else "box-1"}
    )
    assert "the cable that brings the common to the controller" in open_words(job, "wire map")
    assert open_words(without(job, "cable"), "wire map") == ["the cable"]


def boxed(*colours: str) -> LoadedJob:
    """Four zones whose terminals are `FOUR`; zones 3 and 4 are in box B, with these colours."""
    job = wired_job(("red", "blue", *colours), FOUR)
    job = put(job, "valve_box", "box-b", name="box B")
    for number in (3, 4):
        job = put(job, "valve", valve_id(f"zone-{number}"), box_id="box-b")
    return job


def test_a_box_full_of_unknown_colours_may_lack_a_splice() -> None:
    # The cable goes on from another box under other colours: both ends are right.
    job = boxed("violet", "pink")
    flag = only(job, "splice not entered")
    assert codes(job) == ["splice not entered"]
    assert "zones 3 and 4" in flag.sentence
    assert "enter it and its splices" in flag.mend
    assert (flag.severity, flag.place) == ("fix", "boxes")
    # One valve alone is more likely misread.
    assert codes(boxed("violet", "orange")) == ["ends disagree"]


def test_two_cables_entered_as_one_are_one_flag() -> None:
    job = wired_job(("red", "blue", "red", "blue"), ("red", "blue", "red", "blue"))
    flag = only(job, "two cables as one")
    assert codes(job) == ["two cables as one"]
    assert "red and blue are at two valves and under two terminals" in flag.sentence


def test_common_and_hot_exchanged_name_the_test_that_tells() -> None:
    job = wired_job(THREE, ("white", "blue", "green"))
    job = put(job, "terminal", terminal_id("job-1", "common", CABLE), colour="red")
    flag = only(job, "wires crossed")
    assert codes(job) == ["wires crossed"]
    assert "A coil runs either way round." in flag.mend
    (test,) = [line for line in doubt_lines(job) if line.startswith("Energise")]
    assert test.startswith("Energise terminal 2 ")
    assert any(line.startswith("Not terminal 1: a coil runs") for line in doubt_lines(job))


def test_every_flag_of_the_wire_is_short_with_its_mend() -> None:
    jobs = [
        wired_job(FOUR, ("red", "blue", "orange", "green")),
        wired_job(FOUR, ("green", "red", "blue", "orange")),
        wired_job(("red", "blue", "blue", "orange"), FOUR),
        wired_job(("red", "blue", "red", "blue"), ("red", "blue", "red", "blue")),
        wired_job(("red", "blue"), ("red", "green")),
        boxed("violet", "pink"),
    ]
    for job in jobs:
        for flag in checked(job).flags:
            assert len(f"{flag.sentence} {flag.mend}") <= 200, flag.sentence
