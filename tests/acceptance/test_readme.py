"""The README's commands run as they stand there; .ci/run runs those that set things up."""

from __future__ import annotations

import os
import re
import shlex
import sys
from collections.abc import Callable
from pathlib import Path
from urllib.request import urlopen

import pytest
from a_server import a_server
from an_office import Office
from click.testing import CliRunner
from readme_commands import OFFICE, README, ROOT, WHEN_WRONG, in_a_shell, section, shell_lines

from fieldbook.cli.main import main

SERVE = "fieldbook serve"
# What stands under "When it goes wrong" is run by test_when_it_goes_wrong.py, on damaged books.
COMMANDS = shell_lines(README.replace(section(WHEN_WRONG), ""))
SET_UP, OTHERS = COMMANDS[:2], COMMANDS[2:]


def test_the_readme_is_short_and_says_first_what_it_is_for() -> None:
    lines = README.splitlines()
    assert len(lines) <= 200
    assert lines[0] == "# fieldbook"
    assert lines[2].startswith("The offline-first job record of a residential irrigation installer")
    for picture in re.findall(r"!\[[^\]]+\]\(([^)]+)\)", README):
        content = (ROOT / picture).read_bytes()
        assert content.startswith((b"<svg", b"\x89PNG"))
        # A screen drawn too small says so instead of showing anything.
        assert b"fieldbook needs" not in content


def test_the_gate_runs_the_two_set_up_commands() -> None:
    # They make a virtual environment, so the gate runs them rather than a test inside one.
    gate = (ROOT / ".ci" / "run").read_text("utf-8")
    read = re.findall(r"^(\w+)=\$\(grep -m1 '(.*)' README\.md\)$", gate, re.MULTILINE)
    found = [re.search(f"{start}.*", README, re.MULTILINE) for _, start in read]
    assert [line and line.group() for line in found] == SET_UP
    for name, _ in read:
        assert re.search(rf'^run "\${name}(?: \| cat)?"', gate, re.MULTILINE), name
    assert SET_UP[0].startswith("python3 -m venv .venv && .venv/bin/pip install . && ")
    assert SET_UP[1] == ".venv/bin/pip install -e '.[test]' && .venv/bin/pytest"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Stand in an empty folder, beside links to the files of the checkout that commands name."""
    for name in ("demo_jobs", "tests"):
        (tmp_path / name).symlink_to(ROOT / name)
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("FIELDBOOK_BOOK", str(tmp_path / "book.sqlite"))
    programs = f"{Path(sys.executable).parent}{os.pathsep}{os.environ['PATH']}"
    monkeypatch.setenv("PATH", programs)


def in_this_process(line: str) -> str:
    """What a line prints; its calls of fieldbook run here, where all is imported already."""
    printed = ""
    for command in line.split(" && "):
        program, *arguments = shlex.split(command)
        if program == "fieldbook":
            result = CliRunner().invoke(main, arguments)
            assert result.exit_code == 0, (command, result.output)
            printed += result.stdout
        else:
            printed += in_a_shell(command)
    return printed


WAYS = pytest.mark.parametrize(
    "run", [in_this_process, pytest.param(in_a_shell, marks=pytest.mark.slow)]
)


@WAYS
@pytest.mark.usefixtures("folder")
def test_every_other_command_runs(run: Callable[[str], str]) -> None:
    lines = [line.replace(".venv/bin/", "") for line in OTHERS if not OFFICE.search(line)]
    assert SERVE in lines
    lines.remove(SERVE)  # It runs until it is ended: the test below.
    for line in lines:
        assert run(line) or "fieldbook" not in line, line


@WAYS
@pytest.mark.usefixtures("folder")
def test_every_command_with_an_office_runs(run: Callable[[str], str], office: Office) -> None:
    addresses = {"p": office.url, "$": office.laptop()}
    lines = [line for line in OTHERS if OFFICE.search(line)]
    assert lines
    for line in lines:
        assert run(OFFICE.sub(lambda found: addresses[found.group()[0]], line)), line


@pytest.mark.usefixtures("folder")
def test_the_book_is_served() -> None:
    with a_server(*SERVE.split()[1:]) as served, urlopen(served.url) as page:
        assert "<title>fieldbook</title>" in page.read().decode()


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md"])
def test_every_file_and_folder_named_is_there(name: str) -> None:
    text = (ROOT / name).read_text("utf-8")
    for link in re.findall(r"\]\(([^)#:]+)\)", text):
        assert (ROOT / link).exists(), link
    for path in re.findall(r"`((?:fieldbook|tests|demo_jobs|\.ci)/[\w./]*)`", text):
        assert (ROOT / path).exists(), path
