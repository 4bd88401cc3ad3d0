"""A real PostgreSQL for tests, and in it a database of its own for each file of tests."""

from __future__ import annotations

import os
import subprocess
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from an_office import Office

VARIABLE = "FIELDBOOK_TEST_POSTGRES"
SCRIPT = Path(__file__).resolve().parents[2] / ".ci" / "postgres"


@pytest.fixture(scope="session")
def server() -> Iterator[str]:
    """The address of a server's administrator: the one named, or one started for this run."""
    named = os.environ.get(VARIABLE)
    if named:
        yield named
        return
    with tempfile.TemporaryDirectory(prefix="fieldbook-office-") as folder:
        Path(folder).chmod(0o755)
        place = f"{folder}/server"
        ran = subprocess.run([SCRIPT, "start", place], capture_output=True, text=True, check=False)
        if ran.returncode == 3:
            pytest.skip(f"no PostgreSQL server here: install postgresql, or set {VARIABLE}")
        assert ran.returncode == 0, ran.stderr
        try:
            yield ran.stdout.strip()
        finally:
            subprocess.run([SCRIPT, "stop", place], check=True)


@pytest.fixture(scope="module")
def office(server: str) -> Iterator[Office]:
    """A hub for one file of tests."""
    made = Office(server)
    yield made
    made.drop()
