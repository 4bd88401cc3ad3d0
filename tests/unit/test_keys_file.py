"""The file keys.toml: other keys for actions, and a sentence for each fault."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

from fieldbook.actions.keymap import (
    ACTIONS,
    KEY_IN_TEXT,
    action_for,
    in_keys_in_use,
    key_named,
    key_of,
    use_keys,
)
from fieldbook.actions.keys_file import KEYS_FILE, as_toml, read_keys


@pytest.fixture
def keys_file(tmp_path: Path) -> Iterator[Path]:
    yield tmp_path / KEYS_FILE
    use_keys({})


def test_without_a_file_the_usual_keys_hold(keys_file: Path) -> None:
    read = read_keys(keys_file)
    assert (read.keys, read.faults) == ({}, ())
    assert key_of("undo") == "Ctrl+Z"


def test_an_action_gets_the_keys_of_the_file(keys_file: Path) -> None:
    keys_file.write_text(
        '[keys]\nundo = ["Alt+Z", "Alt+K"]\nnext_section = ["ctrl+PgDn"]\nnext_place = ["alt+j"]\n'
    )
    read = read_keys(keys_file)
    assert read.faults == ()
    use_keys(read.keys)
    assert key_of("undo") == "Alt+Z"
    asked = [action_for(key, "place") for key in ("alt+z", "alt+k", "ctrl+pagedown", "alt+j")]
    assert [action.name for action in asked if action] == [
        *("undo", "undo", "next_section", "next_place"),
    ]
    assert action_for("ctrl+z", "place") is None
    assert in_keys_in_use("Ctrl+Z undoes; F5 shows it.") == "Alt+Z undoes; F5 shows it."


def test_two_actions_may_swap_their_keys(keys_file: Path) -> None:
    keys_file.write_text('[keys]\nundo = ["ctrl+y"]\nredo = ["ctrl+z"]\n')
    read = read_keys(keys_file)
    assert read.faults == ()
    use_keys(read.keys)
    assert in_keys_in_use("Ctrl+Z undoes, Ctrl+Y redoes.") == "Ctrl+Y undoes, Ctrl+Z redoes."


def test_the_printed_file_is_the_usual_keys(keys_file: Path) -> None:
    keys_file.write_text(as_toml())
    read = read_keys(keys_file)
    assert read.faults == ()
    assert read.keys == {action.name: action.keys for action in ACTIONS}
    assert set(tomllib.loads(as_toml())) == {"keys"}


@pytest.mark.parametrize(
    ("written", "words"),
    [
        ("undos = ['f11']", ("no action “undos”", "did you mean undo?")),
        ("zzz = ['f11']", ("no action “zzz”", "fieldbook keys lists them")),
        ("undo = ['ctrl+ö']", ("undo", "no key that a terminal sends")),
        ("undo = ['f99']", ("undo", "no key that a terminal sends")),
        ("undo = ['hyper+x']", ("undo", "no key that a terminal sends")),
        ("undo = ['u']", ("undo", "“u”", "begins a value in a cell")),
        ("undo = ['7']", ("undo", "begins a value in a cell")),
        ("undo = ['?']", ("undo", "begins a value in a cell")),
        ("undo = ['ctrl+i']", ("undo", "the same as Tab")),
        ("undo = ['enter']", ("undo", "moves or edits in every cell")),
        ("undo = ['ctrl+b']", ("Ctrl+B", "both undo and board")),
        ("undo = ['f13']\nredo = ['F13']", ("F13", "both undo and redo")),
        ("undo = 'f11'", ("undo needs a list of keys",)),
        ("undo = []", ("undo needs a list of keys",)),
        ("undo = [7]", ("undo", "no text in quotes")),
        ("undo = [", ("can't be read",)),
        ("[key]\nundo = ['f11']", ("“key” is unknown",)),
    ],
)
def test_a_fault_is_one_sentence_and_the_usual_keys_hold(
    keys_file: Path, written: str, words: tuple[str, ...]
) -> None:
    keys_file.write_text(f"[keys]\nflags = ['ctrl+f', 'alt+f11']\n{written}\n", encoding="utf-8")
    read = read_keys(keys_file)
    assert read.keys == {}
    (sentence,) = read.faults
    assert sentence.startswith(KEYS_FILE)
    assert sentence.endswith((".", "?"))
    assert all(word in sentence for word in words), sentence


def test_a_key_may_stand_for_one_action_of_the_board_and_one_of_a_place(keys_file: Path) -> None:
    keys_file.write_text("[keys]\nday = ['alt+f11']\nplan = ['alt+f11']\n")
    assert read_keys(keys_file).faults == ()


def test_a_file_that_is_no_text_is_one_sentence(keys_file: Path) -> None:
    keys_file.write_bytes(b"\xff\xfe[keys]")
    (sentence,) = read_keys(keys_file).faults
    assert "can't be read" in sentence


README = Path(__file__).parents[2] / "README.md"
IN_README = {
    **{"wire_map": "F2", "compare_rules": "F3", "plan": "F4", "history": "F5", "settle": "F6"},
    **{"attach": "Ctrl+A", "next_photo": "Ctrl+T", "copy_zone": "Ctrl+R", "override": "Ctrl+O"},
    **{"countersign": "Ctrl+K", "who": "F9", "day": "F7", "exchange": "Ctrl+E", "find": "F8"},
    **{"undo": "Ctrl+Z", "redo": "Ctrl+Y", "explain": "F1", "theme": "Ctrl+L", "palette": "Ctrl+P"},
    **{"next_wanted": "Ctrl+N", "flags": "Ctrl+F", "next_place": "Ctrl+PgDn"},
}


def test_the_table_of_keys_in_the_readme_is_that_of_the_keymap() -> None:
    table = README.read_text("utf-8").split("| key | what it does |")[1].split("\n\n")[0]
    named = " ".join(line.split("|")[1] for line in table.splitlines() if line)
    shown = set(KEY_IN_TEXT.findall(named))
    assert {name: key_of(name) for name in IN_README} == IN_README
    assert set(IN_README.values()) <= shown
    keys = {key for action in ACTIONS for key in action.keys}
    assert {key_named(word) for word in shown} <= keys
