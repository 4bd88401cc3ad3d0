"""The wire in pictures: each terminal with its swatch and word, how sure it is, the cables."""

from __future__ import annotations

from dataclasses import replace
from xml.etree import ElementTree

import pytest
from builders import bare_job, energised, put, row, sound_job
from examples import examples
from hypothesis import given
from hypothesis import strategies as st
from job_parts import CABLE, common_terminal, conductors, terminal, valve, wired_job, zone
from rich.cells import cell_len

from fieldbook.checks.wire.wire_links import Status, wire_links
from fieldbook.papers.cable_tree import cables_picture
from fieldbook.papers.picture import Picture, Role
from fieldbook.papers.wire_map import map_picture
from fieldbook.papers.wire_pictures import (
    box_pictures,
    strip_picture,
    valve_status,
)
from fieldbook.papers.wire_sheet import wire_svg
from fieldbook.papers.wire_signs import SIGNS
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.wires import Cable, Splice, ValveBox
from fieldbook.screens.pages.wire_page import wire_help
from fieldbook.trade.colours import BASE_COLOURS

THREE = ("red", "blue", "green")


def boxed(job: LoadedJob) -> LoadedJob:
    """The job with all its valves in box A."""
    boxes = (row(ValveBox, "box-a", name="A", location="at the step"),)
    job = replace(job, valve_boxes=boxes)
    for one in job.valves:
        job = put(job, "valve", one.id, box_id="box-a")
    return job


def every_status() -> LoadedJob:
    """Zone 1 seen to run, zone 2 by colours alone, 3 and 4 exchanged, 5 entered at one end."""
    box = ("red", "blue", "green", "yellow", None)
    job = wired_job(box, ("red", "blue", "yellow", "green", "tan"))
    return boxed(energised(job, 1, "zone-1"))


def all_pictures(job: LoadedJob, width: int) -> list[Picture]:
    """Every picture of the wire."""
    return [
        map_picture(job, width),
        strip_picture(job, width),
        cables_picture(job, width),
        *box_pictures(job, width),
    ]


def test_signs_words_and_meanings_differ_and_so_do_colours_of_what_matters() -> None:
    for part in ("sign", "word", "means"):
        assert len({getattr(sign, part) for sign in SIGNS.values()}) == len(SIGNS)
    roles: dict[Status, Role] = {status: sign.role for status, sign in SIGNS.items()}
    assert len({roles["proven"], roles["unproven"], roles["doubt"], roles["wrong"]}) == 4
    for sign in SIGNS.values():
        assert f"{sign.sign}  {sign.word}: {sign.means}." in wire_help()


def test_each_terminal_has_its_sign_its_word_and_its_swatch() -> None:
    job = every_status()
    found = {link.terminal.number: link.status for link in wire_links(job)}
    assert found[1] == "proven"
    assert found[2] == "unproven"
    assert found[3] == found[4] == "doubt"
    assert found[5] == "open"
    lines = map_picture(job).lines
    for link in wire_links(job):
        name = f"Terminal {link.terminal.number}" if link.terminal.role == "zone" else "Common"
        (line,) = (one for one in lines if any(part.text.startswith(name) for part in one))
        sign = SIGNS[link.status]
        assert line[0].text == f"{sign.sign} "
        assert [part.text.strip() for part in line if part.swatch] == [link.colour]
        assert line[-1].role == sign.role
        assert link.status == "open" or line[-1].text.startswith(sign.word)


def test_the_strip_marks_doubtful_ends() -> None:
    job = every_status()
    lines = strip_picture(job, 110).lines
    marks = [part.text for line in lines for part in line if part.text.strip()]
    for status in ("proven", "unproven", "doubt", "open"):
        assert f"{SIGNS[status].sign} {SIGNS[status].word}" in marks
    doubtful = [part for line in lines for part in line if part.text.startswith("3 or 4?")]
    assert len(doubtful) == 2
    assert {part.role for part in doubtful} == {"tight"}


def test_a_valve_in_its_box_has_the_sign_of_its_wire() -> None:
    job = every_status()
    statuses = [valve_status(job, one) for one in job.valves]
    assert statuses[:4] == ["proven", "unproven", "doubt", "doubt"]
    (box,) = box_pictures(job)
    text = box.text()
    assert "= valve of zone 1" in text
    assert "~ valve of zone 2" in text
    assert "? valve of zone 3" in text


def test_what_a_test_shows_against_the_entries_is_wrong_at_both_ends() -> None:
    job = wired_job(THREE, ("red", "green", "blue"))
    for number, ran in ((1, "zone-1"), (2, "zone-3"), (3, "zone-2")):
        job = energised(job, number, ran)
    job = boxed(job)
    found = {link.terminal.number: link.status for link in wire_links(job)}
    assert (found[2], found[3]) == ("wrong", "wrong")
    assert [valve_status(job, one) for one in job.valves][1:] == ["wrong", "wrong"]
    assert "! wrong" in strip_picture(job).text()


def daisy() -> LoadedJob:
    """A cable to box A, and one that goes on from there to box B, spliced in A."""
    cables = (
        row(Cable, CABLE, name="1", common_colour="white", gauge_awg="18"),
        row(Cable, "cable-2", name="2", fed_from="box-a", common_with=CABLE),
    )
    splice = row(
        Splice,
        "splice-1",
        box_id="box-a",
        cable_id=CABLE,
        colour="blue",
        to_cable_id="cable-2",
        to_colour="red",
    )
    return bare_job(
        zones=(zone(1), zone(2)),
        valve_boxes=(row(ValveBox, "box-a", name="A"), row(ValveBox, "box-b", name="B")),
        cables=cables,
        conductors=(*conductors("white", "red", "blue"), *conductors("red", cable="cable-2")),
        splices=(splice,),
        valves=(
            valve(1, "red", cable_id=CABLE, box_id="box-a"),
            valve(2, "red", cable_id="cable-2", box_id="box-b"),
        ),
        terminals=(
            common_terminal("white"),
            terminal(1, "red", cable_id=CABLE),
            terminal(2, "blue", cable_id=CABLE),
        ),
    )


def test_cables_are_a_tree_from_the_controller_through_the_boxes() -> None:
    lines = cables_picture(daisy(), 78).text().splitlines()
    assert lines == [
        "Cables",
        "Controller",
        "└─ cable 1, AWG 18, 3 conductors",
        "   └─ Valve box A: zone 1 ~",
        "      └─ cable 2, 1 conductor",
        "         └─ Valve box B: zone 2 ~",
    ]
    assert "No cable is entered yet." in cables_picture(bare_job(), 78).text()


def test_a_splice_shows_both_conductors_with_their_swatches() -> None:
    first, second = box_pictures(daisy())
    (line,) = (one for one in first.lines if any("spliced on:" in part.text for part in one))
    assert [part.text for part in line if part.swatch] == ["blue BU", "red of cable 2"]
    (line,) = (one for one in second.lines if any("valve of" in part.text for part in one))
    assert [part.text for part in line if part.swatch] == ["red RD"]


def test_cables_that_feed_each_other_in_a_circle_are_drawn_once() -> None:
    job = put(daisy(), "cable", CABLE, fed_from="box-b")
    assert cables_picture(job, 78).text().count("cable 2") <= 1
    assert wire_svg(job)


@pytest.mark.parametrize("width", [45, 53, 73, 99])
def test_every_picture_fits_its_width(width: int) -> None:
    for job in (every_status(), daisy(), sound_job(7)):
        for picture in all_pictures(job, width):
            for line in picture.text().splitlines():
                assert cell_len(line) <= width, line


COLOURS = st.sampled_from([None, *list(BASE_COLOURS)[:6]])


@given(st.lists(st.tuples(COLOURS, COLOURS), min_size=1, max_size=6), st.integers(45, 110))
@examples(15)
def test_a_swatch_always_has_its_word(
    ends: list[tuple[str | None, str | None]], width: int
) -> None:
    job = boxed(wired_job([box for box, _ in ends], [end for _, end in ends]))
    drawn = {value: word for word, value in BASE_COLOURS.items()}
    for picture in all_pictures(job, width):
        for line in picture.lines:
            for part in line:
                if part.swatch is not None:
                    assert part.text.startswith(drawn[part.swatch[0]])
    shown = strip_picture(job, width).text()
    for link in wire_links(job):
        assert (link.colour or "-") in shown


def test_the_sheet_stands_alone_with_every_picture() -> None:
    job = put(every_status(), "valve_box", "box-a", location="</svg><b>&")
    svg = wire_svg(job)
    root = ElementTree.fromstring(svg)
    words = " ".join(root.itertext())
    for wanted in ("Wire map, 12 Elm Street", "Controller", "Cables", "= proven", "? in doubt"):
        assert wanted in words
    assert "</svg><b>&" in words
    assert "href" not in svg
    assert "Power off" in words
