"""Job files: a bad one is refused with the path inside it, a good one is read without loss."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from builders import sound_job
from examples import examples
from hypothesis import given
from hypothesis import strategies as st

from fieldbook.actions.properties import demo_files
from fieldbook.jobfile.parse import JobFileError
from fieldbook.jobfile.read import JobFile, read_job
from fieldbook.jobfile.schema import TABLE_OF, job_schema
from fieldbook.jobfile.write import write_job
from fieldbook.records.loaded_job import FIELD_OF, TABLES, LoadedJob
from fieldbook.records.tables.job import Job

Document = dict[str, Any]
ALL_DEMO_FILES = demo_files()


def document(**tables: object) -> Document:
    """A small good file, with the tables given."""
    return {"fieldbook": 1, "job": {"id": "elm", "address": "12 Elm Street"}, **tables}


def read(held: object) -> JobFile:
    """Read what a file with this content gives."""
    return read_job(json.dumps(held).encode())


def refusal(held: object) -> str:
    """The one sentence that a file is refused with."""
    with pytest.raises(JobFileError) as why:
        read(held)
    return one_sentence(str(why.value))


def one_sentence(said: str) -> str:
    assert said.endswith(".")
    assert "\n" not in said
    assert said.isprintable()
    assert len(said) < 260
    return said


def loaded(file: JobFile) -> LoadedJob:
    """The job that a file's rows make, without a book."""
    tables: dict[str, list[Any]] = {}
    for row in file.rows[1:]:
        record = TABLES[row.table]
        held: dict[str, Any] = {**row.values, "id": row.row_id, "job_id": file.job_id}
        tables.setdefault(row.table, []).append(record(**held))
    fields: dict[str, Any] = {
        FIELD_OF[table]: rows[0] if TABLES[table].once else tuple(rows)
        for table, rows in tables.items()
    }
    held = dict(file.rows[0].values)
    return LoadedJob(job=Job(id=file.job_id, **held), **fields)


RUN = {"id": "r1", "number": 1, "size": "1", "pipe_class": "pvc sch 40", "length_ft": 10}
ZONE = {"id": "z1", "number": 1}


@pytest.mark.parametrize(
    ("held", "path"),
    [
        ({}, "fieldbook"),
        ({"fieldbook": 2, "job": {}}, "fieldbook is 2"),
        ({"fieldbook": True, "job": {}}, "fieldbook is True"),
        ({"fieldbook": 1}, "job is missing"),
        ({"fieldbook": 1, "job": []}, "job is []"),
        ({"fieldbook": 1, "job": {"id": "a"}}, "job.address"),
        ({"fieldbook": 1, "job": {"address": "  "}}, "job.address"),
        ([], "one JSON object"),
        (document(pumps=[]), "pumps is no part"),
        (document(zones={}), "zones must be a list"),
        (document(zones=["one"]), "zones[0] is one"),
        (document(zones=[{"number": 1, "colour": "red"}]), "zones[0].colour"),
        (document(zones=[{"number": "1"}]), "zones[0].number"),
        (document(zones=[{"number": 1.5}]), "zones[0].number"),
        (document(zones=[{"number": True}]), "zones[0].number"),
        (document(zones=[{"number": 0}]), "zones[0].number"),
        (document(zones=[{"number": 1, "name": ["x"]}]), "zones[0].name"),
        (document(zones=[{"number": 1, "head_kind": "geyser"}]), "zones[0].head_kind"),
        (document(supply=[]), "supply is []"),
        (document(supply={"static_psi": "62"}), "supply.static_psi"),
        (document(supply={"static_psi": "62 gpm"}), "supply.static_psi"),
        (document(supply={"static_psi": "62 smoots"}), "supply.static_psi"),
        (document(supply={"static_psi": "about 62 psi"}), "supply.static_psi"),
        (document(supply={"static_psi": 1e308}), "supply.static_psi"),
        (document(supply={"static_psi": 10**400}), "supply.static_psi"),
        (document(supply={"static_psi": -1}), "supply.static_psi"),
        (document(supply={"static_psi": True}), "supply.static_psi"),
        (document(supply={"static_psi": [62]}), "supply.static_psi"),
        (document(supply={"meter_size": "4"}), "supply.meter_size"),
        (document(zones=[ZONE, {"id": "z1", "number": 2}]), "zones[1] is the same thing"),
        (document(zones=[{**ZONE, "id": ""}]), "zones[0].id"),
        (document(zones=[{**ZONE, "id": 7}]), "zones[0].id"),
        (document(zones=[{**ZONE, "id": "a\nb"}]), "zones[0].id"),
        (document(zones=[{**ZONE, "id": "x" * 81}]), "zones[0].id"),
        (document(valves=[{"zone_id": "z9"}]), "valves[0].zone_id"),
        (document(valves=[{"kind": "zone"}]), "valves[0].zone_id"),
        (document(valves=[{"kind": "gate"}]), "valves[0].kind"),
        (document(zones=[ZONE], valves=[{"zone_id": "z1"}] * 2), "valves[1] is the same thing"),
        (document(terminals=[{"role": "zone"}]), "terminals[0].number"),
        (document(terminals=[{"role": "common"}]), "terminals[0].cable_id"),
        (document(terminals=[{"number": 4}, {"number": 4}]), "terminals[1] is the same thing"),
        (
            document(zones=[ZONE], wire_tests=[{"ran_also_id": "z1", "ran_nothing": True}]),
            "wire_tests[0] has both a zone that ran and ran_nothing",
        ),
        (document(heads=[{"nozzle_gpm": 1}]), "heads[0].run_id"),
        (document(flushes=[{"ran_clear": "yes"}]), "flushes[0].ran_clear"),
        (document(pipe_runs=[{"size": "1"}]), "pipe_runs[0].number"),
        (document(pipe_runs=[RUN, {**RUN, "id": "r2"}]), "pipe_runs[1].number 1 stands twice"),
        (document(pipe_runs=[{**RUN, "after": 9}]), "pipe_runs[0].after 9"),
        (document(pipe_runs=[{**RUN, "after": 1}]), "pipe_runs[0].after goes round"),
        (
            document(pipe_runs=[{**RUN, "after": 2}, {**RUN, "id": "r2", "number": 2, "after": 1}]),
            "goes round in a circle",
        ),
        (document(notes=[{"text": "x" * 5000}]), "notes[0].text"),
        (document(notes=[{"text": "bell \x07 rings"}]), "notes[0].text"),
        (document(notes=[{"text": "right \u202e to left"}]), "notes[0].text"),
        (document(notes=[{"text": "half \ud800 a pair"}]), "notes[0].text"),
    ],
)
def test_a_bad_file_is_refused_by_the_path_inside_it(held: object, path: str) -> None:
    assert path in refusal(held)


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        (b"", "not JSON"),
        (b"{", "line 1"),
        (b'{"fieldbook": 1,,}', "line 1, column 17"),
        (b"\xff\xfe", "UTF-8"),
        (b'{"fieldbook": 1, "job": {"address": "a"}, "supply": {"static_psi": NaN}}', "NaN"),
        (b'{"fieldbook": 1, "job": {"address": "a"}, "supply": {"static_psi": Infinity}}', "Inf"),
        (b'{"fieldbook": 1, "job": {"address": "a", "address": "b"}}', "stands twice"),
        (b'{"fieldbook": ' + b"9" * 5000 + b"}", "too many digits"),
        (b'{"a": ' * 100_000 + b"1" + b"}" * 100_000, "nests deeper"),
        (b"[" * 200_000, "nests deeper"),
        (b'{"fieldbook": "' + b"[" * 50 + b'"}', "fieldbook is [["),
        (b" " * 50_000_000, "50 MB"),
    ],
)
def test_a_file_that_is_no_job_is_refused(raw: bytes, said: str) -> None:
    with pytest.raises(JobFileError) as why:
        read_job(raw)
    assert said in one_sentence(str(why.value))


def test_hostile_text_is_kept_as_it_is_or_refused() -> None:
    kept = read(document(notes=[{"text": "[/] [bold red]$(reboot)[/] %s {0}"}]))
    assert kept.rows[1].values["text"] == "[/] [bold red]$(reboot)[/] %s {0}"
    assert "\x1b" not in refusal(document(**{"\x1b[2J": 1}))


def test_quantities_in_any_unit_are_read_in_the_record_s_units() -> None:
    held = document(
        supply={"static_psi": "3.1 bar", "service_length_ft": "12 m", "elevation_ft": 3}
    )
    values = read(held).rows[1].values
    assert values["static_psi"] == pytest.approx(44.96, abs=0.005)
    assert values["service_length_ft"] == pytest.approx(39.37, abs=0.005)
    assert values["elevation_ft"] == 3


def test_words_as_ids_give_the_same_rows_each_time_and_a_copy_gives_others() -> None:
    held = json.dumps(document(zones=[ZONE], valves=[{"zone_id": "z1", "colour": "red"}])).encode()
    first, again, copy = read_job(held), read_job(held), read_job(held, copy=True)
    assert first == again
    assert first.job_id != copy.job_id
    assert {row.row_id for row in first.rows}.isdisjoint({row.row_id for row in copy.rows})
    assert copy.rows[2].values["zone_id"] == copy.rows[1].row_id


@pytest.mark.parametrize("path", ALL_DEMO_FILES, ids=lambda path: path.stem)
def test_a_file_read_and_written_again_is_the_same_to_the_byte(path: Path) -> None:
    first = write_job(loaded(read_job(path.read_bytes())))
    assert write_job(loaded(read_job(first.encode()))) == first


def test_a_job_built_in_memory_survives_its_file() -> None:
    written = write_job(sound_job(6))
    assert write_job(loaded(read_job(written.encode(), copy=False))).count("\n") == written.count(
        "\n"
    )


TEXT = st.text(
    st.characters(codec="utf-8", exclude_categories=("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp")),
    min_size=1,
    max_size=30,
).filter(lambda text: text.strip() == text and text != "")


@examples(60)
@given(
    TEXT,
    st.lists(TEXT, max_size=4),
    st.floats(0, 300, allow_nan=False),
    st.sampled_from(["us", "metric"]),
)
def test_any_record_is_written_and_read_the_same(
    address: str, texts: list[str], static_psi: float, units: str
) -> None:
    held = document(
        supply={"static_psi": static_psi},
        notes=[{"id": f"n{at}", "text": text} for at, text in enumerate(texts)],
    )
    held["job"].update(address=address, units=units)
    once = write_job(loaded(read(held)))
    assert write_job(loaded(read_job(once.encode()))) == once
    assert json.loads(once).get("supply", {}).get("static_psi", 0) == static_psi


@examples(150)
@given(
    st.recursive(
        st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8),
        lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=6), inner),
        max_leaves=8,
    ),
    st.sampled_from(["job", *TABLE_OF]),
)
def test_a_table_with_anything_in_it_is_read_or_refused(held: object, key: str) -> None:
    try:
        read({**document(), key: held})
    except JobFileError as why:
        one_sentence(str(why))


@cache
def schema() -> jsonschema.Draft202012Validator:
    """The schema of a job file, which is a schema itself: looked at once, since that takes long."""
    jsonschema.Draft202012Validator.check_schema(job_schema())
    return jsonschema.Draft202012Validator(job_schema())


@pytest.mark.parametrize("path", ALL_DEMO_FILES, ids=lambda path: path.stem)
def test_the_schema_holds_for_every_demo_file(path: Path) -> None:
    schema().validate(json.loads(path.read_text("utf-8")))


@pytest.mark.parametrize(
    "held",
    [
        document(pumps=[]),
        document(zones=[{"number": 1, "colour": "red"}]),
        document(supply={"static_psi": "62"}),
        {"fieldbook": 1, "job": {}},
    ],
)
def test_the_schema_refuses_what_the_reader_refuses(held: Document) -> None:
    refusal(held)
    with pytest.raises(jsonschema.ValidationError):
        schema().validate(held)
