"""Every command of the README runs as it stands there; the set-up ones are those of .ci/run."""

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
SET_UP = (
    "python3 -m venv .venv && .venv/bin/pip install . && .venv/bin/fieldbook demo",
    ".venv/bin/pip install -e '.[test]' && .venv/bin/pytest",
)


def commands() -> list[str]:
    """Every line of every shell block, in order."""
    blocks = re.findall(r"```sh\n(.*?)```", README, re.DOTALL)
    return [line for block in blocks for line in block.splitlines() if line.strip()]


def test_the_readme_is_short_and_says_what_it_is_first() -> None:
    lines = README.splitlines()
    assert len(lines) <= 150
    assert lines[0] == "# fieldbook"
    assert lines[2].startswith("The offline-first job record")
    (picture,) = re.findall(r"!\[[^\]]+\]\(([^)]+)\)", README)
    assert (ROOT / picture).read_text("utf-8").startswith("<svg")


def test_the_two_set_up_commands_are_run_by_the_gate() -> None:
    # They make a virtual environment, so the gate runs them rather than a test inside one.
    assert [line for line in commands() if ".venv" in line] == list(SET_UP)
    gate = (ROOT / ".ci" / "run").read_text("utf-8")
    patterns = re.findall(r"""grep -m1 (['"])(.*?)\1 README\.md""", gate)
    read = [re.search(f"{one}.*", README, re.MULTILINE) for _, one in patterns]
    assert [found and found.group() for found in read] == list(SET_UP)


def test_every_other_command_runs(tmp_path: Path) -> None:
    for name in ("demo_jobs", "tests"):
        (tmp_path / name).symlink_to(ROOT / name)
    others = [line for line in commands() if ".venv" not in line and not OFFICE.search(line)]
    assert len(others) > 8
    run(others, tmp_path)


def test_every_command_with_an_office_runs(tmp_path: Path, office: Office) -> None:
    addresses = {"p": office.url, "$": office.laptop()}
    lines = [
        OFFICE.sub(lambda found: addresses[found.group()[0]], line)
        for line in commands()
        if OFFICE.search(line)
    ]
    assert len(lines) > 2
    run(lines, tmp_path)


def run(lines: list[str], tmp_path: Path) -> None:
    """Run commands as they stand; each works and says something."""
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
        assert ran.stdout, line


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md"])
def test_every_file_and_folder_named_is_there(name: str) -> None:
    text = (ROOT / name).read_text("utf-8")
    for link in re.findall(r"\]\(([^)#:]+)\)", text):
        assert (ROOT / link).exists(), link
    for path in re.findall(r"`((?:fieldbook|tests|demo_jobs|\.ci)/[\w./]*)`", text):
        assert (ROOT / path).exists(), path
