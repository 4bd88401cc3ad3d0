"""The round of photos: what ought to have one, in which order, and where it comes from."""

from __future__ import annotations

import os
from dataclasses import replace
from pathlib import Path

import pytest
from job_parts import bare_job, row
from PIL import Image

from fieldbook.actions.bulk.photo_round import missing_shots, next_shot, shot_of, shots
from fieldbook.actions.files.attach import attach, newest_photo
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import new_property
from fieldbook.actions.refused import RefusedError
from fieldbook.actions.rows import add_box, add_zone, repeat_run
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.backflow_assembly import BackflowAssembly
from fieldbook.records.tables.controller import Controller
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.ties import Tie
from fieldbook.records.tables.wires import Cable, ValveBox
from fieldbook.records.tables.zones import Zone
from fieldbook.store.book import Book


def laid_out() -> LoadedJob:
    """A mainline with a tee, a zone, a box, a sleeve, an assembly and a controller."""
    mainline = [(1, None), (2, 1), (3, 1)]
    return replace(
        bare_job(),
        backflow_assemblies=(row(BackflowAssembly, "b", kind="PVB"),),
        zones=(row(Zone, "z", number=1, name="front"),),
        pipe_runs=tuple(
            row(PipeRun, f"m{number}", number=number, after=after) for number, after in mainline
        ),
        ties=(row(Tie, "t", thing="sleeve", name="drive"), row(Tie, "v", thing="drain")),
        cables=(row(Cable, "c", name="1", under_driveway=True),),
        valve_boxes=(row(ValveBox, "A", name="A", location="by the drive"),),
        controller=row(Controller, "k", location="garage"),
    )


def test_the_photos_are_asked_for_in_the_order_of_the_work() -> None:
    assert [shot.shows for shot in shots(laid_out())] == [
        "PVB with its critical level",
        "tee after mainline run 1",
        "sleeve drive and what crosses in it",
        "cable 1 under the drive",
        "valve box A (by the drive), lid off",
        "trench of the mainline, open",
        "trench of zone 1 (front), open",
        "controller, door open, wires in sight",
    ]


def test_the_round_goes_on_from_the_row_and_round_the_end() -> None:
    job = laid_out()
    every = shots(job)
    shot, missing = next_shot(job, None)
    assert (shot, missing) == (every[0], 8)
    for now, then in zip(every, [*every[1:], every[0]], strict=True):
        assert next_shot(job, now.at)[0] == then


def test_an_empty_job_has_nothing_to_photograph() -> None:
    with pytest.raises(RefusedError, match="Nothing to photograph"):
        next_shot(bare_job(), None)


@pytest.fixture
def open_job(book: Book) -> OpenJob:
    return OpenJob(book, new_property(book, "12 Elm Street", "AB"), "AB")


def picture(folder: Path, name: str, minute: int) -> Path:
    folder.mkdir(exist_ok=True)
    path = folder / name
    Image.new("RGB", (4, 4), (minute, 0, 0)).save(path)
    os.utime(path, (minute, minute))
    return path


def test_the_newest_photo_of_the_folder_is_taken_by_a_blank(
    open_job: OpenJob, tmp_path: Path
) -> None:
    add_zone(open_job)
    repeat_run(open_job, open_job.job.zones[0].id)
    box_id = add_box(open_job)
    with pytest.raises(RefusedError, match="No new photo is in the folder"):
        attach(open_job, "valve_box", box_id, "")
    camera = tmp_path / "camera"
    first = picture(camera, "one.jpg", 1)
    assert attach(open_job, "valve_box", box_id, str(first), "box A") == "one.jpg"
    picture(camera, "two.jpg", 2)
    picture(camera, "three.png", 3)
    (camera / "list.txt").write_text("not a picture")
    (trench,) = (shot for shot in missing_shots(open_job.job) if shot.at.table == "backfill")
    assert attach(open_job, "backfill", trench.at.row_id, " ", trench.shows) == "three.png"
    assert newest_photo(open_job) == camera / "two.jpg"
    assert attach(open_job, "job", open_job.job_id, "two.jpg") == "two.jpg"
    assert newest_photo(open_job) is None
    notes = {file.name: file.note for file in open_job.job.attachments}
    assert notes == {"one.jpg": "box A", "three.png": "trench of zone 1, open", "two.jpg": ""}
    assert not missing_shots(open_job.job)
    with pytest.raises(RefusedError, match="has a photo"):
        next_shot(open_job.job, None)


def test_a_paper_is_no_photo_and_undo_asks_for_the_photo_again(
    open_job: OpenJob, tmp_path: Path
) -> None:
    box_id = add_box(open_job)
    paper = tmp_path / "box.pdf"
    paper.write_bytes(b"%PDF")
    attach(open_job, "valve_box", box_id, str(paper))
    assert shot_of(open_job.job, box_id) in missing_shots(open_job.job)
    attach(open_job, "valve_box", box_id, str(picture(tmp_path, "box.jpg", 1)))
    assert not missing_shots(open_job.job)
    open_job.undo()
    assert shot_of(open_job.job, box_id) in missing_shots(open_job.job)
