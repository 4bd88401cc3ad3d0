"""Two-wire systems: addresses at both ends, tests, the pair. Common practice where no source."""

from __future__ import annotations

import pytest
from builders import checked, codes, energised, number, only, open_words, put, t, with_rows
from job_parts import zone

from fieldbook.checks.progress.holds import unmet
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.job import Job
from fieldbook.wiring import ohm_per_ft

NOW = "2026-05-01T08:00:00-05:00"


def two_wire(noted: tuple[int | None, ...], assigned: tuple[int | None, ...]) -> LoadedJob:
    """A job whose zones have decoders with these addresses, and terminals with those."""
    job = LoadedJob(job=Job(id="job-1", address="12 Elm Street"))
    zones = tuple(zone(n) for n in range(1, max(len(noted), len(assigned)) + 1))
    job = with_rows(job, "zone", zones)
    job = put(job, "valve_box", "box-A", name="A")
    good = {"joins_waterproof": True, "surge_grounded": True, "loop_open": True}
    job = put(job, "two_wire_path", "path-1", name="1", colour_1="red", colour_2="black", **good)
    for n, address in enumerate(noted, start=1):
        if address is not None:
            values = {"address": address, "zone_id": f"zone-{n}", "box_id": "box-A"}
            job = put(job, "decoder", f"decoder-{n}", **values)
    for n, address in enumerate(assigned, start=1):
        if address is not None:
            job = put(job, "terminal", t(n), role="zone", number=n, address=address)
    return job


def test_addresses_that_agree_are_no_flag_and_ask_for_no_cable() -> None:
    job = two_wire((11, 12, 13), (11, 12, 13))
    assert codes(job) == []
    assert not [words for words in open_words(job, "wire map") if "cable" in words]
    assert not [words for words in open_words(job, "wire map") if "the wire at" in words]


def test_an_address_at_two_decoders_is_a_stop() -> None:
    twice = only(two_wire((11, 12, 12), (11, 12, 13)), "address twice in the boxes")
    assert (twice.severity, twice.place) == ("stop", "boxes")
    assert twice.sentence == (
        "Address 12 is noted at the decoders of zone 2 and zone 3: both would open together."
    )


def test_two_outputs_of_one_decoder_are_two_ends() -> None:
    job = two_wire((11, 12, 12), (11, 12, 12))
    for n in (2, 3):
        job = put(job, "decoder", f"decoder-{n}", output=n - 1)
        job = put(job, "terminal", t(n), output=n - 1)
    assert codes(job) == []
    job = put(put(job, "valve_box", "box-B", name="B"), "decoder", "decoder-3", box_id="box-B")
    boxes = only(job, "decoder in two boxes")
    assert "valve box A and valve box B" in boxes.sentence


def test_an_address_assigned_to_two_terminals_is_a_stop() -> None:
    twice = only(two_wire((11, 12, 13), (11, 12, 12)), "address assigned twice")
    assert "Address 12 is assigned to terminal 2 and terminal 3" in twice.sentence


def test_addresses_exchanged_are_one_stop_whose_mend_follows_the_tests() -> None:
    job = two_wire((11, 12, 13), (11, 13, 12))
    crossed = only(job, "addresses crossed")
    assert codes(job) == ["addresses crossed"]
    assert crossed.mend.startswith("Run terminal 3 and see what opens")
    shown = energised(energised(job, 2, "zone-3"), 3, "zone-2")
    assert "correct the assignment" in only(shown, "addresses crossed").mend
    shown = energised(energised(job, 2, "zone-2"), 3, "zone-3")
    assert "correct the addresses noted" in only(shown, "addresses crossed").mend


def test_a_zone_with_two_addresses_is_a_stop() -> None:
    wrong = only(two_wire((11, 12), (11, 21)), "addresses disagree")
    assert wrong.sentence == (
        "The decoder of zone 2 has address 12, but terminal 2 is assigned address 21."
    )


def test_an_address_never_assigned_is_told_once_the_controller_is_entered() -> None:
    job = two_wire((11, 12), (11, None))
    assert codes(job) == []
    assert "the address at the terminal of zone 2" in open_words(job, "wire map")
    # Another terminal has the second address, so that nothing is left to be entered.
    job = put(job, "terminal", t(5), role="zone", number=5, address=99)
    assert set(codes(job)) == {"address never assigned", "address on no decoder"}
    assert "Address 12 of zone 2 is assigned to no terminal" in (
        only(job, "address never assigned").sentence
    )


def test_a_decoder_without_a_zone_and_a_zone_without_a_decoder() -> None:
    job = put(two_wire((11, 12), (11, 12)), "decoder", "decoder-2", zone_id=None)
    assert only(job, "decoder without zone").at.column == "zone_id"
    whole = put(job, "decoder", "decoder-2", zone_id="zone-2")
    missing = put(put(whole, "zone", "zone-3", number=3), "terminal", t(3), role="zone", number=3)
    missing = put(missing, "terminal", t(3), address=13)
    assert "the decoder of zone 3" in open_words(missing, "wire map")
    master = put(job, "decoder", "decoder-2", on_master=True)
    assert "decoder without zone" not in codes(master)


def test_what_ran_speaks_against_the_box() -> None:
    job = energised(two_wire((11, 12, 13), (11, 12, 13)), 2, "zone-3")
    wrong = only(job, "ran another zone")
    assert wrong.sentence == (
        "Terminal 2 was run and zone 3 ran, but address 12 is noted at the decoder of zone 2."
    )
    assert "ran another zone" not in codes(energised(job, 2, "zone-2"))


def test_one_silent_decoder_is_its_own_and_all_silent_are_the_path() -> None:
    job = two_wire((11, 12, 13), (11, 12, 13))
    one = energised(energised(job, 1, "zone-1"), 2)
    assert "called address 12 and nothing ran" in only(one, "nothing ran").sentence
    all_silent = energised(energised(job, 1), 2)
    assert "path 1 is broken or shorted" in only(all_silent, "path dead").sentence
    assert "nothing ran" not in codes(all_silent)


@pytest.mark.parametrize(
    ("table", "column", "code"),
    [
        ("decoder", "like_to_like", "decoder joined crosswise"),
        ("decoder", "joins_waterproof", "splice not waterproof"),
        ("two_wire_path", "joins_waterproof", "splice not waterproof"),
        ("two_wire_path", "loop_open", "path closed to a loop"),
        ("two_wire_path", "surge_grounded", "no surge grounding"),
    ],
)
def test_what_was_seen_not_to_be_so_is_flagged(table: str, column: str, code: str) -> None:
    row_id = "decoder-1" if table == "decoder" else "path-1"
    job = two_wire((11,), (11,))
    assert only(put(job, table, row_id, **{column: False}), code).at.column == column
    assert code not in codes(put(job, table, row_id, **{column: True}))


def test_both_wires_of_one_colour_is_a_stop() -> None:
    job = put(two_wire((11,), (11,)), "two_wire_path", "path-1", colour_2="red")
    assert only(job, "pair of one colour").severity == "stop"


def test_one_rod_over_25_ohm_needs_a_second() -> None:
    # NEC 250.53(A)(2), 2011: a second rod unless the first reads 25 ohm or less.
    job = put(two_wire((11,), (11,)), "two_wire_path", "path-1", ground_rods=1, ground_ohm=30.0)
    assert number(only(job, "one rod is not enough"), "ground") == 30.0
    for values in ({"ground_ohm": 25.0}, {"ground_rods": 2}):
        better = put(job, "two_wire_path", "path-1", **values)
        assert "one rod is not enough" not in codes(better)


def test_the_far_decoder_gets_what_the_pair_leaves() -> None:
    # Loop of 14 AWG: 2 x 2.525 = 5.05 ohm per 1,000 ft at 20 C (copper wire tables).
    assert 2 * 1000 * ohm_per_ft("14") == pytest.approx(5.05)
    values = {"gauge_awg": "14", "length_ft": 2000.0, "output_v": 28.0, "load_a": 0.5}
    job = put(two_wire((11,), (11,)), "two_wire_path", "path-1", least_v=24.0, **values)
    far = only(job, "path too long")
    assert number(far, "loop") == pytest.approx(10.1)
    assert number(far, "at the decoder") == pytest.approx(22.95)
    assert "path too long" not in codes(put(job, "two_wire_path", "path-1", least_v=22.0))


def test_the_wire_may_be_buried_once_decoders_and_coils_are_entered() -> None:
    from fieldbook.records.days import time_of

    when = time_of(NOW)
    assert when is not None
    job = two_wire((11, None), (11, 12))
    words = [one.words for each in unmet(job, "wire backfill", None, when) for one in each.missing]
    assert "the decoder of zone 2" in words
    assert not [one for one in words if "cable" in one or one.startswith("the wire of")]


@pytest.mark.parametrize(
    ("noted", "assigned"),
    [
        ((11, 12, 12), (11, 12, 13)),
        ((1234567, 2345678, 3456789), (1234567, 3456789, 2345678)),
        ((1234567, 2345678), (1234567, 3456789)),
        ((1234567, 2345678, 3456789), (2345678, 3456789, 1234567)),
    ],
)
def test_no_flag_of_decoders_is_over_200_characters(
    noted: tuple[int, ...], assigned: tuple[int, ...]
) -> None:
    job = two_wire(noted, assigned)
    for column in ("like_to_like", "joins_waterproof"):
        job = put(job, "decoder", "decoder-1", **{column: False})
    for column in ("loop_open", "joins_waterproof", "surge_grounded"):
        job = put(job, "two_wire_path", "path-1", **{column: False})
    job = energised(energised(job, 1), 2)
    job = put(job, "two_wire_path", "path-1", ground_rods=1, ground_ohm=31.0, colour_2="red")
    flags = checked(job).flags
    assert len(flags) > 5
    too_long = [flag for flag in flags if len(f"{flag.sentence} {flag.mend}") > 200]
    assert [f"{flag.sentence} {flag.mend}" for flag in too_long] == []
