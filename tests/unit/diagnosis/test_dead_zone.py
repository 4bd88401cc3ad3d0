"""Why a zone does not run: signatures of the field's table, invariants, the next test.

The signatures are those of trade magazines on finding faults with a meter (Irrigation & Lighting;
a superintendents' journal, 2016); the chances are common practice, no source.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldbook.diagnosis.dead_zone import (
    DeadReadings,
    ohms_shown,
    volts_shown,
    why_dead,
)
from fieldbook.trade.dead_zone_faults import dead_zone_faults, parse_dead_zone_faults

TABLE = dead_zone_faults()


def first(**shown: str) -> str:
    return why_dead(DeadReadings(shown)).ranked[0][0]


@pytest.mark.parametrize(
    ("shown", "cause"),
    [
        # A low coil alone is the coil; a good one behind an open reading is the wire.
        ({"ohms": "short", "coil": "short"}, "coil"),
        ({"ohms": "open", "coil": "open"}, "coil"),
        ({"ohms": "high", "coil": "sound"}, "splice"),
        ({"ohms": "open", "coil": "sound", "box_volts": "none", "others": "run"}, "station_wire"),
        ({"ohms": "open", "others": "none", "volts": "there"}, "common"),
        ({"volts": "none", "others": "none", "ohms": "sound"}, "supply"),
        ({"volts": "none", "others": "run", "ohms": "sound"}, "output"),
        ({"what_ran": "another", "others": "run"}, "swapped"),
        ({"by_hand": "dry", "others": "none", "volts": "there"}, "water_shut"),
        ({"ohms": "sound", "volts": "there", "box_volts": "there", "by_hand": "dry",
          "others": "run"}, "valve_stuck"),
        ({"moved": "runs", "volts": "there", "ohms": "sound"}, "terminal"),
    ],
)  # fmt: skip
def test_what_tests_show_points_at_the_cause(shown: dict[str, str], cause: str) -> None:
    assert first(**shown) == cause


SHOWN = st.fixed_dictionaries(
    {},
    optional={
        name: st.sampled_from(sorted(test.shows["other"])) for name, test in TABLE.tests.items()
    },
)


@given(SHOWN, st.none() | st.floats(0.0, 1.0), st.booleans(), st.booleans())
def test_chances_add_up_and_tests_made_are_not_proposed(
    shown: dict[str, str], elsewhere: float | None, common: bool, supply: bool
) -> None:
    found = why_dead(DeadReadings(shown, elsewhere, common, supply))
    assert sum(chance for _, chance in found.ranked) == pytest.approx(1.0)
    assert [chance for _, chance in found.ranked] == sorted(
        (chance for _, chance in found.ranked), reverse=True
    )
    assert not {one.name for one in found.nexts} & shown.keys()
    worth = [one.bits / one.test.minutes for one in found.nexts]
    assert worth == sorted(worth, reverse=True)


@given(SHOWN)
def test_the_order_of_tests_does_not_matter(shown: dict[str, str]) -> None:
    backwards = dict(reversed(shown.items()))
    one, two = why_dead(DeadReadings(shown)), why_dead(DeadReadings(backwards))
    assert dict(one.ranked) == pytest.approx(dict(two.ranked))


def test_the_wire_map_joins_in() -> None:
    usual = dict(why_dead(DeadReadings()).ranked)
    crossed = dict(why_dead(DeadReadings(leads_elsewhere=0.9)).ranked)
    assert crossed["swapped"] == pytest.approx(0.9)
    assert dict(why_dead(DeadReadings(leads_elsewhere=0.0)).ranked)["swapped"] < usual["swapped"]
    assert why_dead(DeadReadings(common_open=True)).ranked[0][0] == "common"
    assert why_dead(DeadReadings(no_supply=True)).ranked[0][0] == "supply"


def test_the_first_test_is_cheap_and_tells_much() -> None:
    found = why_dead(DeadReadings())
    assert not found.found
    assert found.nexts[0].name in ("ohms", "volts")


def test_nothing_more_is_proposed_once_all_is_tested() -> None:
    shown = {"ohms": "short", "coil": "short", "volts": "there", "box_volts": "there"}
    shown |= {"others": "run", "what_ran": "nothing", "by_hand": "runs", "moved": "nothing"}
    found = why_dead(DeadReadings(shown))
    assert found.found
    assert found.nexts == ()


def test_readings_count_as_what_the_table_knows() -> None:
    assert volts_shown(24.6) == "there"
    assert volts_shown(3.0) == "none"
    assert ohms_shown("two coils") == ohms_shown("low") == "short"
    with pytest.raises(KeyError):
        why_dead(DeadReadings({"smell": "burnt"}))


ROW = """
[cause.coil]
chance = 0.5
words = "w"
look = "l"
[test.ohms]
words = "read"
minutes = 3
[test.ohms.shows]
other = { open = 0.5, sound = 0.5 }
"""


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("chance = 0.5", "chance = 0", "chance of coil is 0"),
        ("open = 0.5,", "open = 0.6,", "add up to 1"),
        ("other = {", "coil = {", "needs a row"),
        ("minutes = 3", "minutes = 0", "minutes"),
        ("open = 0.5, sound = 0.5", "open = 0.0, sound = 1.0", "above zero"),
    ],
)
def test_a_table_that_can_not_be_is_refused(old: str, new: str, said: str) -> None:
    assert parse_dead_zone_faults(ROW).chance == {"coil": 0.5}
    with pytest.raises(ValueError, match=said):
        parse_dead_zone_faults(ROW.replace(old, new))
