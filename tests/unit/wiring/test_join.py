"""Joining the colours seen at the box with those seen at the controller."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from fieldbook.wiring import End, Join, closed, join

COLOURS = ("red", "blue", "green", "orange", "black", "brown")


def box(*colours: str) -> list[End]:
    """Valves of stations 1, 2 ... with these colours; an empty word is not entered yet."""
    return _ends("valve", colours)


def controller(*colours: str) -> list[End]:
    """Terminals of stations 1, 2 ... with these colours."""
    return _ends("terminal", colours)


def _ends(what: str, colours: tuple[str, ...]) -> list[End]:
    return [
        End(f"{what} {at}", str(at), "A", colour)
        for at, colour in enumerate(colours, start=1)
        if colour
    ]


def names(ends: tuple[End, ...]) -> list[str]:
    return [end.name for end in ends]


def wire_map(joined: Join) -> dict[str, tuple[str, str]]:
    """By the name of a box end, its colour and the name of its controller end."""
    return {wire.box.name: (wire.box.colour, wire.controller.name) for wire in joined.wires}


def test_same_colours_join_straight_through() -> None:
    joined = join(box("red", "blue"), controller("red", "blue"))
    assert wire_map(joined) == {"valve 1": ("red", "terminal 1"), "valve 2": ("blue", "terminal 2")}
    assert joined == Join(joined.wires, (), (), (), (), ())


def test_two_terminals_swapped_are_one_closed_group() -> None:
    joined = join(box("red", "blue", "green"), controller("blue", "red", "green"))
    (group,) = joined.crossings
    assert [(wire.box.name, wire.controller.name) for wire in group] == [
        ("valve 1", "terminal 2"),
        ("valve 2", "terminal 1"),
    ]
    assert closed(group)


def test_three_wires_in_a_ring_are_one_group() -> None:
    joined = join(box("red", "blue", "green"), controller("green", "red", "blue"))
    (group,) = joined.crossings
    assert len(group) == 3
    assert closed(group)


def test_two_swaps_are_two_groups() -> None:
    joined = join(box("red", "blue", "green", "black"), controller("blue", "red", "black", "green"))
    assert [len(group) for group in joined.crossings] == [2, 2]


def test_one_wire_under_another_terminal_is_an_open_group() -> None:
    joined = join(box("red"), controller("", "red"))
    (group,) = joined.crossings
    assert not closed(group)


def test_a_double_at_the_box_joins_nothing_and_leaves_the_missed_terminal_alone() -> None:
    joined = join(box("red", "red"), controller("red", "blue"))
    (double,) = joined.doubles
    assert (double.side, names(double.ends)) == ("box", ["valve 1", "valve 2"])
    assert joined.wires == ()
    assert names(joined.controller_only) == ["terminal 2"]


def test_a_double_at_the_controller_joins_nothing() -> None:
    joined = join(box("red", "blue"), controller("red", "red"))
    (double,) = joined.doubles
    assert (double.side, names(double.ends)) == ("controller", ["terminal 1", "terminal 2"])
    assert names(joined.box_only) == ["valve 2"]


def test_one_station_with_two_lone_colours_is_misread() -> None:
    joined = join(box("red", "blue"), controller("red", "green"))
    (pair,) = joined.misread
    assert (pair.box.colour, pair.controller.colour) == ("blue", "green")
    assert joined.box_only == joined.controller_only == ()


def test_a_valve_without_terminal_and_a_terminal_without_valve_stay_alone() -> None:
    joined = join(box("red", "", "green"), controller("red", "blue"))
    assert names(joined.box_only) == ["valve 3"]
    assert names(joined.controller_only) == ["terminal 2"]


def test_the_same_colour_in_two_cables_is_no_double() -> None:
    ends = [End("v1", "1", "A", "red"), End("v2", "2", "B", "red")]
    other = [End("t1", "1", "A", "red"), End("t2", "2", "B", "red")]
    joined = join(ends, other)
    assert joined.doubles == ()
    assert wire_map(joined) == {"v1": ("red", "t1"), "v2": ("red", "t2")}


colour_lists = st.lists(st.sampled_from(("", *COLOURS)), max_size=8)


@given(colour_lists, colour_lists)
def test_every_end_is_reported_exactly_once(left: list[str], right: list[str]) -> None:
    at_box, at_controller = box(*left), controller(*right)
    joined = join(at_box, at_controller)
    doubled = {end.colour for double in joined.doubles for end in double.ends}
    reported_box = [wire.box for wire in joined.wires] + [pair.box for pair in joined.misread]
    reported_box += joined.box_only
    assert sorted(names(tuple(reported_box))) == sorted(
        end.name for end in at_box if end.colour not in doubled
    )
    reported = [wire.controller for wire in joined.wires]
    reported += [pair.controller for pair in joined.misread] + list(joined.controller_only)
    assert sorted(names(tuple(reported))) == sorted(
        end.name for end in at_controller if end.colour not in doubled
    )


@given(st.permutations(COLOURS))
def test_a_permuted_controller_end_gives_closed_groups_only(colours: list[str]) -> None:
    joined = join(box(*COLOURS), controller(*colours))
    moved = sum(seen != meant for seen, meant in zip(colours, COLOURS, strict=True))
    assert sum(len(group) for group in joined.crossings) == moved
    assert all(closed(group) for group in joined.crossings)


@given(colour_lists, colour_lists)
def test_the_order_of_entry_does_not_matter(left: list[str], right: list[str]) -> None:
    at_box, at_controller = box(*left), controller(*right)
    one = join(at_box, at_controller)
    two = join(at_box[::-1], at_controller[::-1])
    assert wire_map(one) == wire_map(two)
    assert {frozenset(group) for group in one.crossings} == {
        frozenset(group) for group in two.crossings
    }
    assert set(one.misread) == set(two.misread)
