"""The README's commands run as they stand there; .ci/run runs those that set things up."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from an_office import Office

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text("utf-8")
OFFICE = re.compile(r"postgresql://keeper@[\w./]+|(?<=\")\$FIELDBOOK_OFFICE")


def commands() -> list[str]:
    """Every line of every shell block, in order."""
    blocks = re.findall(r"```sh\n(.*?)```", README, re.DOTALL)
    return [line for block in blocks for line in block.splitlines() if line.strip()]


SET_UP, OTHERS = commands()[:2], commands()[2:]


def test_the_readme_is_short_and_says_first_what_it_is_for() -> None:
    lines = README.splitlines()
    assert len(lines) <= 200
    assert lines[0] == "# fieldbook"
    assert lines[2].startswith("The offline-first job record of a residential irrigation installer")
    for picture in re.findall(r"!\[[^\]]+\]\(([^)]+)\)", README):
        assert (ROOT / picture).read_text("utf-8").startswith("<svg")


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


def test_every_other_command_runs(tmp_path: Path) -> None:
    for name in ("demo_jobs", "tests"):
        (tmp_path / name).symlink_to(ROOT / name)
    lines = [line.replace(".venv/bin/", "") for line in OTHERS if not OFFICE.search(line)]
    assert lines
    run(lines, tmp_path)


def test_every_command_with_an_office_runs(tmp_path: Path, office: Office) -> None:
    addresses = {"p": office.url, "$": office.laptop()}
    lines = [
        OFFICE.sub(lambda found: addresses[found.group()[0]], line)
        for line in OTHERS
        if OFFICE.search(line)
    ]
    assert lines
    run(lines, tmp_path)


def run(lines: list[str], tmp_path: Path) -> None:
    """Run commands as they stand. Each exits with 0, and one of fieldbook prints something."""
    environment = {
        **os.environ,
        "FIELDBOOK_BOOK": str(tmp_path / "book.sqlite"),
        "PATH": f"{Path(sys.executable).parent}{os.pathsep}{os.environ['PATH']}",
    }
    for line in lines:
        ran = subprocess.run(
            line,
            shell=True,
            cwd=tmp_path,
            env=environment,
            capture_output=True,
            text=True,
            timeout=120,
            check=False,
        )
        assert ran.returncode == 0, (line, ran.stderr)
        assert ran.stdout or "fieldbook" not in line, line


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md"])
def test_every_file_and_folder_named_is_there(name: str) -> None:
    text = (ROOT / name).read_text("utf-8")
    for link in re.findall(r"\]\(([^)#:]+)\)", text):
        assert (ROOT / link).exists(), link
    for path in re.findall(r"`((?:fieldbook|tests|demo_jobs|\.ci)/[\w./]*)`", text):
        assert (ROOT / path).exists(), path
