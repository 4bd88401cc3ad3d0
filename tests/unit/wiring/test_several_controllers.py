"""More than one controller, and battery controllers beside their valves (common practice)."""

from __future__ import annotations

from builders import CABLE, checked, codes, energised, only, open_words, put, t, wired_job, without

from fieldbook.actions.log_wires import free_at_controller
from fieldbook.checks.wire.wire_evidence import reconciled_wire
from fieldbook.checks.wire.zone_feeds import feed_of
from fieldbook.papers.wire_map import map_lines
from fieldbook.records.ids import terminal_id, valve_id
from fieldbook.records.loaded_job import LoadedJob

B = "controller-B"


def at_b(number: int) -> str:
    """The id of a terminal of controller B."""
    return terminal_id("job-1", "zone", number, B)


def two_controllers() -> LoadedJob:
    """Zones 1 and 2 at the first controller by cable 1, zones 3 and 4 at B by cable 2."""
    job = wired_job(("red", "blue", None, None), ("red", "blue", None, None))
    job = put(job, "cable", CABLE, name="1")
    job = put(job, "other_controller", B, name="B", location="garage", stations=2)
    job = put(job, "cable", "cable-2", name="2", common_colour="white", controller_id=B)
    for number in (1, 2):
        job = put(job, "terminal", t(number), cable_id=CABLE)
        job = put(job, "valve", valve_id(f"zone-{number}"), cable_id=CABLE)
    for number, colour in ((1, "red"), (2, "blue")):
        zone = f"zone-{number + 2}"
        values = {"zone_id": zone, "colour": colour, "cable_id": "cable-2"}
        job = put(job, "valve", valve_id(zone), kind="zone", **values)
        job = put(job, "terminal", at_b(number), role="zone", number=number, controller_id=B)
        job = put(job, "terminal", at_b(number), **values)
    common = terminal_id("job-1", "common", "cable-2", B)
    values = {"role": "common", "cable_id": "cable-2", "controller_id": B, "colour": "white"}
    return put(job, "terminal", common, **values)


def test_the_same_colours_at_two_controllers_are_no_flag() -> None:
    job = two_controllers()
    assert codes(job) == []
    links = {link.terminal: set(link.stations) for link in reconciled_wire(job).links}
    assert links[f"terminal {t(1)}"] == {"zone-1"}
    assert links[f"terminal {at_b(1)}"] == {"zone-3"}


def test_a_zone_of_another_controller_is_no_zone_of_the_first() -> None:
    job = two_controllers()
    third = put(job, "terminal", t(3), role="zone", number=3)
    assert third.terminal_zone(next(one for one in third.terminals if one.id == t(3))) is None
    before = put(job, "terminal", at_b(1), zone_id=None)
    row = put(before, "terminal", t(3), role="zone", number=3)
    zone = row.terminal_zone(next(one for one in row.terminals if one.id == t(3)))
    assert zone is not None
    assert zone.number == 3


def test_flags_name_the_controller() -> None:
    job = energised(two_controllers(), 1, "zone-1")
    job = put(job, "terminal", at_b(1), ran_nothing=True)
    assert "Terminal 1 of controller B was energised" in only(job, "nothing ran").sentence


def test_all_dead_at_one_controller_is_that_controller() -> None:
    job = energised(energised(two_controllers(), 1, "zone-1"), 2, "zone-2")
    for number in (1, 2):
        job = put(job, "terminal", at_b(number), ran_nothing=True)
    flag = only(job, "common broken")
    assert "cable 2" in flag.sentence
    assert "nothing ran" not in codes(job)


def test_two_dead_cables_of_one_controller_are_that_controller() -> None:
    job = energised(energised(two_controllers(), 1, "zone-1"), 2, "zone-2")
    job = put(job, "cable", "cable-3", name="3", common_colour="white", controller_id=B)
    for number in (1, 2):
        cable = "cable-2" if number == 1 else "cable-3"
        job = put(job, "terminal", at_b(number), ran_nothing=True, cable_id=cable)
        job = put(job, "valve", valve_id(f"zone-{number + 2}"), cable_id=cable)
    for number, cable in ((3, "cable-2"), (4, "cable-3")):
        values = {"colour": "green", "cable_id": cable, "ran_nothing": True}
        job = put(job, "terminal", at_b(number), role="zone", number=number, controller_id=B)
        job = put(job, "terminal", at_b(number), **values)
    flag = only(job, "nothing runs anywhere")
    assert "terminals 1, 2, 3 and 4 of controller B" in flag.sentence


def test_a_cable_that_serves_two_controllers_needs_two_commons() -> None:
    job = put(two_controllers(), "cable", CABLE, second_controller_id=B)
    assert "the common of cable 1 for controller B" in open_words(job, "wire map")
    one = put(job, "cable", CABLE, second_common_colour="white")
    assert only(one, "one common for two controllers").severity == "stop"
    two = put(job, "cable", CABLE, second_common_colour="black")
    assert "one common for two controllers" not in codes(two)
    under = terminal_id("job-1", "common", CABLE, B)
    assert "the common terminal of cable 1 at controller B" in open_words(two, "wire map")
    values = {"role": "common", "cable_id": CABLE, "controller_id": B, "colour": "black"}
    whole = put(two, "terminal", under, **values)
    assert "the common terminal of cable 1 at controller B" not in open_words(whole, "wire map")
    assert codes(whole) == []


def test_one_wire_under_two_controllers_is_a_stop() -> None:
    job = put(two_controllers(), "terminal", at_b(2), cable_id=CABLE, colour="blue")
    wrong = only(job, "wire under two controllers")
    assert "terminal 2 and terminal 2 of controller B" in wrong.sentence


def test_a_colour_is_free_again_at_the_other_controller() -> None:
    job = two_controllers()
    assert "red" not in free_at_controller(job, CABLE, t(3))
    assert "red" in free_at_controller(job, CABLE, at_b(1), B)


def test_a_zone_that_two_controllers_name_is_flagged() -> None:
    job = put(two_controllers(), "terminal", at_b(2), zone_id="zone-3")
    job = put(job, "terminal", t(1), zone_id="zone-3")
    assert "Zone 3 is on terminal 1, terminal 1 of controller B" in (
        only(job, "zone on two controllers").sentence
    )


def test_a_battery_controller_beside_its_valves_needs_no_cable() -> None:
    job = wired_job((None, None), (None, None))
    job = put(job, "valve_box", "box-C", name="C")
    job = put(job, "other_controller", B, name="B", box_id="box-C", powered_by="battery")
    values = {"role": "zone", "number": 1, "controller_id": B, "zone_id": "zone-2"}
    job = put(job, "terminal", at_b(1), **values)
    assert (feed_of(job, "zone-1"), feed_of(job, "zone-2")) == ("cable", "battery")
    words = open_words(job, "wire map")
    assert not [one for one in words if "wire" in one and "zone 2" in one]
    ran = put(job, "terminal", at_b(1), ran_zone_id="zone-2")
    assert any("zone 2" in line and "seen to run" in line for line in map_lines(ran))
    other = put(job, "terminal", at_b(1), ran_zone_id="zone-1")
    assert only(other, "ran another zone").severity == "stop"


def test_the_only_controller_may_lie_in_a_valve_box() -> None:
    job = without(wired_job((None,), (None,)), "cable", "conductor")
    assert "the cable" in missing_words(job)
    job = put(job, "valve_box", "box-C", name="C")
    job = put(job, "controller", "controller-1", box_id="box-C", powered_by="battery")
    assert feed_of(job, "zone-1") == "battery"
    assert not [words for words in missing_words(job) if "cable" in words or "wire at" in words]


def test_no_flag_of_controllers_is_over_200_characters() -> None:
    job = put(two_controllers(), "other_controller", B, name="in the garage by the side door")
    job = put(job, "cable", CABLE, second_controller_id=B, second_common_colour="white")
    job = put(job, "terminal", at_b(2), cable_id=CABLE, colour="blue", zone_id="zone-1")
    job = put(job, "terminal", t(1), zone_id="zone-1")
    job = put(job, "terminal", at_b(1), ran_zone_id="zone-4")
    flags = [flag for flag in checked(job).flags if flag.place in ("boxes", "controller")]
    assert {"wire under two controllers", "zone on two controllers"} <= {one.code for one in flags}
    said = [f"{flag.sentence} {flag.mend}" for flag in flags]
    assert [words for words in said if len(words) > 200] == []
    assert max(map(len, map_lines(job))) <= 160


def missing_words(job: LoadedJob) -> list[str]:
    """What is missing for the wire map, whether it is due yet or not."""
    answers = [one for one in checked(job).answers if one.check == "wire map"]
    return [missing.words for answer in answers for missing in answer.missing]
