"""What a record drawing shows by 21 NCAC 23 .0301, from both sides; Orlando and others ask less.

The list there: shut-offs, source, backflow, valves, splices and wire paths, controller, sensors,
grounding, main, pumps, filters, quick couplers.
"""

from __future__ import annotations

import pytest
from builders import (
    open_words,
    put,
    ruled,
    sound_job,
    sound_up_to,
    words_of,
)

from fieldbook.checks.registry import verdicts
from fieldbook.checks.verdicts import Answer
from fieldbook.records.ids import once_id, valve_id
from fieldbook.records.loaded_job import LoadedJob

CHECK = "positions"


def drawing(job: LoadedJob) -> Answer:
    """What is said of the record drawing as handover is asked for."""
    found = verdicts(job, None, None, "handover").answers
    return next(one for one in found if one.thing.startswith("record drawing"))


@pytest.mark.parametrize(
    ("table", "row_id", "change", "words"),
    [
        ("supply", once_id("job-1", "supply"), {"meter_size": None}, "the meter's size"),
        ("backflow_assembly", "backflow-1", {"name": ""}, "where the PVB stands"),
        ("valve", valve_id("zone-1"), {"box_id": None}, "the box of zone 1 (lawn 1)"),
        ("splice", "s", {"box_id": None, "colour": "red"}, "the box of a splice"),
        ("controller", once_id("job-1", "controller"), {"location": ""}, "where the controller"),
        ("controller", once_id("job-1", "controller"), {"rain_sensor": None}, "a rain sensor"),
        ("pipe_run", "main-1", {"length_ft": None}, "the length of each mainline run"),
        ("supply", once_id("job-1", "supply"), {"pump": True}, "where the pump stands"),
    ],
)
def test_each_kind_of_thing_on_the_list_is_asked_for(
    table: str, row_id: str, change: dict[str, object], words: str
) -> None:
    assert drawing(sound_job(1)).word == "sound"
    lacking = drawing(put(sound_job(1), table, row_id, **change))
    assert lacking.word == "not checked"
    assert words in lacking.missing[0].words
    short = ruled(put(sound_job(1), table, row_id, **change), "record_drawing", ["grounding"])
    assert drawing(short).word == "sound"


def test_a_filter_stands_in_the_box_of_its_valve() -> None:
    job = ruled(sound_job(1), "record_drawing", ["filters"])
    no_box = put(job, "valve", valve_id("zone-1"), filter_curve="5 1, 10 3", box_id=None)
    assert drawing(no_box).missing[0].words == "the box of a filter"
    assert drawing(put(no_box, "valve", valve_id("zone-1"), box_id="box-1")).word == "sound"


def test_a_pump_that_is_tied_is_shown() -> None:
    job = put(sound_job(1), "supply", once_id("job-1", "supply"), pump=True)
    tied = put(job, "tie", "p", thing="pump", name="pump", point_1_id="corner-1", tape_1_ft=9.0)
    assert drawing(tied).word == "sound"


def test_what_the_record_holds_only_once_it_is_tied_is_named_and_not_called_shown() -> None:
    said = drawing(sound_job(1)).thing
    assert said == "record drawing (nothing entered of shut-offs, grounding and quick couplers)"
    job = sound_job(1)
    for thing in ("shut-off", "ground rod", "quick coupler"):
        job = put(job, "tie", thing, thing=thing, name=thing)
    assert drawing(job).thing == "record drawing"


def test_a_tie_without_two_tapes_is_not_checked() -> None:
    """Plane geometry: one tape gives a circle."""
    job = put(sound_job(1), "tie", "tie-1", tape_2_ft=None)
    answers = {a.thing: a for a in verdicts(job, None, None, "handover").answers}
    found = answers["position of valve box A"]
    assert found.word == "not checked"
    assert found.missing[0].at.column == "tape_2_ft"


def test_the_drawing_is_not_due_before_the_handover() -> None:
    """Common practice, no source."""
    early = put(sound_up_to("control"), "valve", valve_id("zone-1"), box_id=None)
    assert words_of(early, CHECK) == {"not due", "sound"}
    assert open_words(early, CHECK) == []
    assert drawing(early).word == "not checked"
