"""The commands: what they print, what they refuse, their exit codes."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner, Result

from fieldbook import __version__
from fieldbook.actions.properties import demo_files, fill_demo, new_property, set_initials
from fieldbook.cli.main import main
from fieldbook.store.book import Book


@pytest.fixture
def demo_book(book_file: Path) -> Path:
    """A book that holds the demo properties, closed."""
    with Book(book_file) as book:
        fill_demo(book)
    return book_file


def run(book: Path, *arguments: str) -> Result:
    """Run one command on a book."""
    return CliRunner().invoke(main, ["--book", str(book), *arguments])


def demo_file(name: str) -> str:
    """The path of a demo file."""
    return str(next(path for path in demo_files() if path.stem == name))


def test_the_board_and_the_day_are_json_for_other_programs(demo_book: Path) -> None:
    rows = json.loads(run(demo_book, "jobs", "--json").output)
    assert sorted(row["address"] for row in rows) == sorted(
        json.loads(path.read_text("utf-8"))["job"]["address"] for path in demo_files()
    )
    alder = next(row for row in rows if row["address"] == "14 Alder Lane")
    assert (alder["zones"], alder["flushed"], alder["counts"]["stop"]) == (4, 4, 0)
    day = json.loads(run(demo_book, "day", "--json").output)
    assert set(day) == {"can", "waits", "runs_out", "flags"}
    assert "Runs out within 30 days, or has" in run(demo_book, "day", "--days", "30").output
    can = {(due["address"], due["what"]) for due in day["can"]}
    assert ("14 Alder Lane", f"Desk: {alder['next']}") in can


def refused(result: Result) -> str:
    """The sentence of a command that was refused."""
    assert result.exit_code == 2
    assert result.stdout == ""
    said = result.stderr.strip()
    assert said.startswith("Error: ")
    assert said.endswith(".")
    assert "\n" not in said
    return said


def test_version_and_help_are_printed(book_file: Path) -> None:
    assert __version__ in run(book_file, "--version").output
    shown = run(book_file, "--help").output
    for command in ("demo", "jobs", "check", "import", "export", "schema"):
        assert command in shown
    assert "certifies nothing" in shown
    assert not book_file.exists()


def test_without_a_terminal_it_says_what_to_use(book_file: Path) -> None:
    assert "fieldbook check" in refused(run(book_file))


def test_demo_without_a_terminal_prints_board_and_checks(book_file: Path) -> None:
    result = run(book_file, "demo")
    assert result.exit_code == 0
    words = " ".join(result.output.split())
    for told in (
        "14 Alder Lane",
        "due so far are checked and sound.",
        "Terminals 2 and 3 look swapped",
        "7 Birch Terrace",
    ):
        assert told in words
    assert not book_file.exists()


def test_demo_leaves_nothing_in_the_folder_of_the_shell(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert CliRunner().invoke(main, ["demo"]).exit_code == 0
    assert list(tmp_path.iterdir()) == []


def test_jobs_lists_the_board(demo_book: Path) -> None:
    result = run(demo_book, "jobs")
    assert result.exit_code == 0
    for line in ("14 Alder Lane", "208 Quarry Road", "5 Harbor View"):
        assert line in result.output


def test_check_exits_with_one_only_when_there_is_a_stop(demo_book: Path) -> None:
    assert run(demo_book, "check").exit_code == 1
    sound = run(demo_book, "check", "alder")
    assert (sound.exit_code, "checked and sound." in sound.output) == (0, True)
    assert run(demo_book, "check", "Mill Street").exit_code == 1


def test_check_as_json_has_numbers_place_and_source(demo_book: Path) -> None:
    result = run(demo_book, "check", "--json", "quarry")
    assert result.exit_code == 1
    (checked,) = json.loads(result.stdout)
    (flag,) = checked["flags"]
    assert checked["address"] == "208 Quarry Road"
    assert (flag["severity"], flag["place"]) == ("stop", "ground")
    numbers = {one["name"]: (one["value"], one["unit"]) for one in flag["numbers"]}
    assert numbers["draw"] == (pytest.approx(17.0), "gpm")
    assert numbers["available flow"][0] == pytest.approx(9.37, abs=0.01)
    assert flag["source"].endswith(".")


def test_check_prints_what_is_open_with_its_place_and_counts_the_rest(demo_book: Path) -> None:
    result = run(demo_book, "check", "Harbor")
    assert result.exit_code == 1
    words = " ".join(result.output.split())
    assert "flush of zone 2 (lee side) │ ground │ the flush of zone 2 (lee side)" in words
    assert "backfill of zone 1" not in words
    (checked,) = json.loads(run(demo_book, "check", "--json", "Harbor").stdout)
    counted = checked["counts"]
    assert (counted["stop"], counted["fix"], counted["note"], counted["not checked"]) == (
        2,
        1,
        0,
        1,
    )
    said = f"Checks: {counted['wrong']} wrong, 1 not checked, {counted['sound']} sound"
    assert f"{said}, {counted['not due']} not due." in words
    sound = " ".join(run(demo_book, "check", "alder").output.split())
    assert "Not checked" not in sound
    assert "checked and sound." in sound


def test_an_open_check_is_no_stop_and_keeps_the_exit_code(book_file: Path) -> None:
    with Book(book_file) as book:
        new_property(book, "12 Elm Street", "AB")
    result = run(book_file, "check")
    assert result.exit_code == 0
    assert "the static pressure" in result.output
    assert "No flags" not in result.output
    (line,) = [line for line in run(book_file, "jobs").output.splitlines() if "Elm" in line]
    assert line.split()[-2:] == ["-", "1"]


def test_check_as_json_carries_every_answer_with_its_cell(demo_book: Path) -> None:
    (checked,) = json.loads(run(demo_book, "check", "--json", "Harbor").stdout)
    by_word: dict[str, list[dict[str, object]]] = {}
    for answer in checked["checks"]:
        by_word.setdefault(answer["answer"], []).append(answer)
    (still_open,) = by_word["not checked"]
    assert (still_open["check"], still_open["thing"]) == ("flush", "flush of zone 2 (lee side)")
    (missing,) = json.loads(json.dumps(still_open["missing"]))
    assert missing["at"] == {"table": "flush", "row_id": missing["at"]["row_id"], "column": "flush"}
    assert {code for one in by_word["wrong"] for code in json.loads(json.dumps(one["flags"]))} == {
        flag["code"] for flag in checked["flags"]
    }
    assert {word: len(by_word.get(word, [])) for word in ("sound", "not due")} == {
        word: checked["counts"][word] for word in ("sound", "not due")
    }


def test_a_property_that_is_not_there_is_named(demo_book: Path) -> None:
    assert "Pine" in refused(run(demo_book, "check", "Pine"))
    assert "names 5 properties" in refused(run(demo_book, "export", "a"))
    (alder,) = json.loads(run(demo_book, "check", "--json", "alder").stdout)
    assert json.loads(run(demo_book, "check", "--json", alder["job"]).stdout) == [alder]
    # The beginning of an id names nothing: it could stand for any word of an address.
    assert "No property" in refused(run(demo_book, "check", alder["job"][:8]))


def test_an_imported_job_is_exported_again(book_file: Path, tmp_path: Path) -> None:
    result = run(book_file, "import", demo_file("alder_lane"))
    assert result.exit_code == 0
    assert result.output.startswith("Imported 14 Alder Lane: ")
    out = tmp_path / "alder.json"
    assert run(book_file, "export", "alder", str(out)).output == f"Wrote {out}.\n"
    assert run(book_file, "export", "alder").stdout_bytes == out.read_bytes()
    assert "is there already" in refused(run(book_file, "export", "alder", str(out)))
    assert run(book_file, "export", "--over", "alder", str(out)).exit_code == 0
    assert "--copy" in refused(run(book_file, "import", str(out)))
    assert run(book_file, "import", "--copy", str(out)).exit_code == 0
    assert len(json.loads(run(book_file, "check", "--json").stdout)) == 2


def test_an_import_that_is_refused_names_file_and_path(book_file: Path, tmp_path: Path) -> None:
    bad = tmp_path / "bad.json"
    bad.write_text('{"fieldbook": 1, "job": {"address": "x"}, "supply": {"static_psi": "62 gpm"}}')
    said = refused(run(book_file, "import", str(bad)))
    assert "bad.json: supply.static_psi" in said
    assert "can't be read" in refused(run(book_file, "import", str(tmp_path / "none.json")))
    assert "No property" in run(book_file, "jobs").output


def test_hostile_text_is_printed_as_plain_text(book_file: Path) -> None:
    with Book(book_file) as book:
        set_initials(book, "AB")
        new_property(book, "[bold]12 Elm[/] [/] \x1b[2J", "AB")
    for command in (["jobs"], ["check"], ["export", "Elm"]):
        result = run(book_file, *command)
        assert result.exit_code == 0
        assert "[bold]12 Elm[/]" in result.output
        assert "\x1b" not in result.output


def test_a_file_that_is_no_book_is_refused_in_one_sentence(tmp_path: Path) -> None:
    notes = tmp_path / "notes.txt"
    notes.write_text("not a book at all, but some notes of the crew\n" * 30)
    assert "not a fieldbook book" in refused(run(notes, "jobs"))


def test_every_export_is_valid_under_the_printed_schema(demo_book: Path) -> None:
    schema = json.loads(run(demo_book, "schema").stdout)
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema)
    for address in ("alder", "birch", "mill", "quarry", "harbor"):
        validator.validate(json.loads(run(demo_book, "export", address).stdout))


def network(tmp_path: Path, **supply: object) -> Path:
    """A network document in a file."""
    file = tmp_path / "zone.json"
    held = {
        "supply": {"node": "street", "static_psi": 60, **supply},
        "nodes": [
            {"name": "street"},
            {"name": "a", "heads": [{"name": "h", "nozzle_gpm": 2, "rated_psi": 30}]},
        ],
        "links": [
            {"name": "p", "from": "street", "to": "a", "kind": "pipe", "length_ft": 9, "bore_in": 1}
        ],
    }
    file.write_text(json.dumps(held))
    return file


def test_solve_answers_a_network_document_without_a_book(book_file: Path, tmp_path: Path) -> None:
    result = run(book_file, "solve", str(network(tmp_path)))
    assert result.exit_code == 0
    found = json.loads(result.stdout)
    assert found["converged"]
    assert found["heads"][0]["state"] == "normal"
    assert not book_file.exists()
    schema = json.loads(run(book_file, "schema", "network").stdout)
    jsonschema.validate(json.loads(network(tmp_path).read_text()), schema)


def test_solve_prints_tables_that_say_what_is_out_of_the_ordinary(
    book_file: Path, tmp_path: Path
) -> None:
    pump = {"shut_off_psi": 20, "points": [{"flow_gpm": 1, "boost_psi": 19}]}
    file = network(tmp_path, pump=pump)
    document = json.loads(file.read_text())
    document["nodes"][1]["heads"][0].update(exponent=0.7, most_psi=50)
    table = {"kind": "device", "points": [{"flow_gpm": 0, "loss_psi": 5}]}
    document["links"].append({"name": "rp", "from": "street", "to": "a", **table})
    file.write_text(json.dumps(document))
    result = run(book_file, "solve", "--table", str(file))
    assert result.exit_code == 0
    assert "beyond its pump's curve." in result.stdout
    rows = {line.split()[0]: line for line in result.stdout.splitlines() if line}
    assert rows["h"].endswith("normal, outside its range")
    assert rows["rp"].endswith("shut")
    assert rows["rp"].split()[1] == "0.000"
    assert rows["p"].endswith("open")


@pytest.mark.parametrize("command", [["solve", "{file}"], ["schema", "network"]])
def test_a_command_without_a_job_loads_no_record(tmp_path: Path, command: list[str]) -> None:
    arguments = [word.format(file=network(tmp_path)) for word in command]
    code = (
        "import sys; from fieldbook.cli.main import main\n"
        "try: main(sys.argv[1:])\n"
        "finally: print(*sys.modules, file=sys.stderr)"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code, *arguments], capture_output=True, text=True, check=True
    )
    assert json.loads(ran.stdout)
    loaded = {name.partition(".")[0] for name in ran.stderr.split()}
    assert "fieldbook" in loaded
    assert loaded.isdisjoint({"sqlmodel", "sqlalchemy", "pydantic", "textual", "rich"})


def test_solve_refuses_in_one_sentence_with_file_and_place(book_file: Path, tmp_path: Path) -> None:
    bad = network(tmp_path, static_kpa=400)
    assert "zone.json: supply.static_kpa is no part" in refused(run(book_file, "solve", str(bad)))
    bad = network(tmp_path, residual_psi=60, test_gpm=9)
    assert "residual 60 psi is not below" in refused(run(book_file, "solve", str(bad)))
    bad.write_text("[1, 2")
    assert "zone.json: " in refused(run(book_file, "solve", str(bad)))
    assert "can't be read" in refused(run(book_file, "solve", str(tmp_path / "none.json")))


@pytest.mark.parametrize("command", ["jobs", "check", "day"])
def test_a_command_that_reads_a_known_book_imports_no_model(demo_book: Path, command: str) -> None:
    code = (
        "import sys; from fieldbook.cli.main import main\n"
        "try: main(sys.argv[1:])\n"
        "finally: print(*sys.modules, file=sys.stderr)"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code, "--book", str(demo_book), command],
        capture_output=True,
        text=True,
        check=False,
    )
    assert "14 Alder Lane" in ran.stdout
    loaded = {name.partition(".")[0] for name in ran.stderr.split()}
    assert loaded.isdisjoint({"sqlmodel", "sqlalchemy", "pydantic", "textual"})
