"""The shell lines of the README, and a way to run them as they stand there."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text("utf-8")
WHEN_WRONG = "When it goes wrong"
OFFICE = re.compile(r"postgresql://keeper@[\w./]+|(?<=\")\$FIELDBOOK_OFFICE")
"""An address of the office in a line: its keeper's, or the laptop's."""


def shell_lines(text: str) -> list[str]:
    """Every line of every shell block in a text, in order."""
    blocks = re.findall(r"```sh\n(.*?)```", text, re.DOTALL)
    return [line for block in blocks for line in block.splitlines() if line.strip()]


def section(title: str) -> str:
    """The README's section with this title."""
    return README.split(f"\n## {title}\n")[1].split("\n## ")[0]


def in_a_shell(line: str) -> str:
    """What a line prints, run as it stands there."""
    ran = subprocess.run(line, shell=True, capture_output=True, text=True, check=False)
    assert ran.returncode == 0, (line, ran.stderr)
    return ran.stdout
