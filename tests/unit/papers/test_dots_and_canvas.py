"""The drawing core: dots at known places, lines and bars as characters, and the same as SVG."""

from __future__ import annotations

from itertools import pairwise
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldbook.papers.canvas import Canvas
from fieldbook.papers.dots import Dots
from fieldbook.papers.zone_water.plot_axes import Scale, round_step

SVG = "{http://www.w3.org/2000/svg}"


def drawn(*points: tuple[float, float], dashed: bool = False) -> dict[tuple[int, int], str]:
    dots = Dots()
    dots.draw(points, dashed=dashed)
    return {(column, row): char for column, row, char in dots.characters()}


@pytest.mark.parametrize(
    ("x", "y", "char"),
    # The Unicode Standard, Braille Patterns: dots 1 to 8 are the bits of U+2800 from the lowest.
    [(0, 0, "⠁"), (0, 1, "⠂"), (0, 2, "⠄"), (1, 0, "⠈"), (1, 1, "⠐"), (1, 2, "⠠"), (0, 3, "⡀")],
)
def test_each_dot_has_its_place_in_a_cell(x: int, y: int, char: str) -> None:
    dots = Dots()
    dots.set(x, y)
    dots.set(x + 4, y + 8)
    assert list(dots.characters()) == [(0, 0, char), (2, 2, char)]


def test_a_dot_outside_the_grid_is_left_out() -> None:
    dots = Dots()
    dots.set(-1, 0)
    dots.set(0, -1)
    assert not list(dots.characters())


def test_lines_are_drawn_without_gaps() -> None:
    assert drawn((0, 0), (2.9, 0)) == {(0, 0): "⠉", (1, 0): "⠉", (2, 0): "⠉"}
    assert drawn((0, 0), (0, 1.9)) == {(0, 0): "⡇", (0, 1): "⡇"}
    assert drawn((0, 0), (1, 0.5)) == {(0, 0): "⠑", (1, 0): "⠄"}
    assert drawn((1, 1)) == {(1, 1): "⠁"}
    assert drawn() == {}


def test_a_dashed_line_has_half_the_dots_of_a_whole_one() -> None:
    whole, dashed = drawn((0, 0), (11.9, 0)), drawn((0, 0), (11.9, 0), dashed=True)
    assert "".join(whole.values()) == "⠉" * 12
    assert "".join(dashed.values()) == "⠉⠁⠉⠁⠉⠁⠉⠁"


@given(st.lists(st.tuples(st.floats(0, 30), st.floats(0, 12)), min_size=2, max_size=6))
def test_a_line_never_leaves_a_gap(points: list[tuple[float, float]]) -> None:
    dots = Dots()
    seen: list[tuple[int, int]] = []
    dots.set = lambda x, y: seen.append((x, y))  # type: ignore[method-assign]
    dots.draw(points)
    for (x, y), (to_x, to_y) in pairwise(seen):
        assert max(abs(to_x - x), abs(to_y - y)) == 1


def test_lines_that_meet_have_the_character_of_their_joint() -> None:
    canvas = Canvas()
    canvas.link((0, 0), (0, 3))
    canvas.link((0, 1), (2, 1))
    canvas.link((2, 1), (2, 2))
    assert canvas.text().splitlines() == ["╷", "├─┐", "│ ╵", "╵"]


def test_a_bar_begins_and_ends_at_half_a_cell() -> None:
    canvas = Canvas()
    canvas.bar(0, 0.0, 3.0)
    canvas.bar(1, 3.0, 4.5)
    canvas.bar(2, 4.5, 5.5)
    canvas.bar(3, 5.5, 5.5)
    canvas.bar(4, 6.0, 6.0)
    assert canvas.text().splitlines() == ["███", "   █▌", "    ▐▌", "     │", "      ▏"]


def test_words_cover_lines_and_lines_cover_dotted_ones() -> None:
    canvas = Canvas()
    canvas.dotted(1, range(3))
    canvas.bar(1, 0.0, 2.0)
    canvas.say(1, 2, "need")
    assert canvas.text().splitlines() == [" ┊", "██", " need"]
    assert canvas.is_free(0, 0, "ab")
    assert not canvas.is_free(0, 1, "ab")


def test_wide_and_combining_characters_keep_the_columns() -> None:
    canvas = Canvas()
    canvas.say(0, 0, "泉e\u0301|")
    canvas.say(4, 0, "x")
    assert canvas.text() == "泉e\u0301|x"
    assert canvas.columns == 5


def test_a_drawing_below_another_keeps_its_own_shape() -> None:
    canvas, other = Canvas(), Canvas()
    canvas.say(0, 0, "a")
    other.link((0, 0), (1, 0))
    other.bar(1, 0.0, 1.0)
    other.dotted(0, [2])
    canvas.add_below(other)
    assert canvas.text().splitlines() == ["a", "", "╶╴", "█", "┊"]
    assert canvas.rows == 5


def test_svg_has_the_words_as_text_and_the_shapes_in_their_cells() -> None:
    canvas = Canvas()
    canvas.say(0, 0, "<run & 1>", "wrong")
    canvas.bar(1, 2.0, 4.0)
    canvas.link((0, 1), (0, 2))
    canvas.curve([(0, 0), (1, 1)], dashed=True)
    root = ElementTree.fromstring(canvas.svg('a "title"'))
    assert root.get("aria-label") == 'a "title"'
    (text,) = root.iter(f"{SVG}text")
    assert text.text == "<run & 1>"
    assert text.get("font-weight") == "bold"
    bar = list(root.iter(f"{SVG}rect"))[1]
    assert (bar.get("x"), bar.get("width")) == ("28", "16")
    ways = [path.get("d") for path in root.iter(f"{SVG}path")]
    assert ways == ["M12 12L20 30", "M16 39L16 48", "M16 57L16 48"]


def test_a_spot_with_a_sign_is_shown_everywhere_and_one_without_in_a_print() -> None:
    canvas = Canvas()
    canvas.link((0, 0), (0, 1))
    canvas.spot((0.5, 0.5), "◆", "good")
    canvas.spot((0.5, 1.5))
    below = Canvas()
    below.add_below(canvas)
    assert below.text().splitlines() == ["◆", "╵"]
    root = ElementTree.fromstring(below.svg("spots"))
    (dot,) = root.iter(f"{SVG}circle")
    assert (dot.get("cx"), dot.get("cy")) == ("16", "39")
    (diamond,) = [path for path in root.iter(f"{SVG}path") if "Z" in (path.get("d") or "")]
    assert diamond.get("d") == "M11 21L16 16L21 21L16 26Z"


@pytest.mark.parametrize(
    ("most", "count", "step"),
    [(40, 4, 10), (41, 4, 20), (62, 4, 20), (4.3, 5, 1), (0.9, 3, 0.5), (100, 10, 10), (3, 1, 5)],
)
def test_steps_of_an_axis_are_round(most: float, count: int, step: float) -> None:
    assert round_step(most, count) == pytest.approx(step)


@given(st.floats(0.05, 900), st.integers(9, 120), st.integers(2, 8))
def test_an_axis_reaches_its_most_and_keeps_its_room(most: float, cells: int, gap: int) -> None:
    scale = Scale(most, cells, gap)
    assert scale.end >= most * (1 - 1e-9)
    assert scale.cells <= cells
    marks = list(scale.marks())
    assert marks[0] == (0, marks[0][1])
    assert float(marks[0][1]) == 0
    assert marks[-1][0] == scale.cells
    for cell, label in marks:
        assert float(label) == pytest.approx(scale.end * cell / scale.cells)
