"""Fixtures that several folders of tests use, and a report of the tests that take long.

Tests marked `slow` are left out unless they are asked for: `pytest -m slow` runs them alone,
`pytest -m "slow or not slow"` runs everything. `FIELDBOOK_EXAMPLES=random pytest` tries properties
on new examples, and on more of them.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from importlib.util import find_spec
from pathlib import Path

import pytest
from an_office import Office, a_server
from examples import LOOKS_FOR_NEW
from hypothesis import settings

from fieldbook.store.book import Book
from fieldbook.store.paths import STATE_VARIABLE

# No deadline: how long an example takes says more of the machine than of the code.
settings.register_profile("chosen", derandomize=not LOOKS_FOR_NEW, deadline=None)
settings.load_profile("chosen")

# EPANET comes as a wheel up to Python 3.12: where it is missing, its comparisons are left out.
collect_ignore_glob = [] if find_spec("epanet") else ["published/*_epanet.py"]

LONG_S = 5.0
"""Processor seconds above which a test without the mark `slow` is reported, but not failed."""
_CPU_S = "cpu_s"
_began = pytest.StashKey[float]()


def pytest_report_header() -> str:
    """Name what is left out, since tests that are not collected show nowhere else."""
    return "EPANET isn't installed: its comparisons are left out." if collect_ignore_glob else ""


def pytest_xdist_auto_num_workers() -> int:
    """Two workers a core, or six: a test of a screen mostly waits for the app to be idle."""
    return max(2 * (os.cpu_count() or 1), 6)


def _processor_s() -> float:
    """Processor seconds of this process and of the children it has waited for."""
    return sum(os.times()[:4])


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_setup(item: pytest.Item) -> None:
    """Note what the processor has done before a test."""
    item.stash[_began] = _processor_s()


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_makereport(item: pytest.Item, call: pytest.CallInfo[None]) -> None:
    """Let the test's last report carry its processor seconds to the summary."""
    if call.when == "teardown" and item.get_closest_marker("slow") is None:
        item.user_properties.append((_CPU_S, _processor_s() - item.stash[_began]))


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """List the unmarked tests that took long. Teardown reports have the category ''."""
    for report in terminalreporter.stats.get("", ()):
        for name, value in report.user_properties:
            if name == _CPU_S and value > LONG_S:
                terminalreporter.write_line(
                    f"{report.nodeid} took {value:.1f} s of the processor: "
                    "make it smaller or mark it slow."
                )


@pytest.fixture
def stick(tmp_path: Path) -> Path:
    """A stick with nothing on it."""
    folder = tmp_path / "stick"
    folder.mkdir()
    return folder


@pytest.fixture(autouse=True)
def state_folder(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Keep the tokens that tell a copied book from its original away from this machine's own."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv(STATE_VARIABLE, str(tmp_path_factory.getbasetemp() / "state"))
        yield


@pytest.fixture
def book_file(tmp_path: Path) -> Path:
    """The path of this test's book, which does not exist yet."""
    return tmp_path / "truck" / "book.sqlite"


@pytest.fixture
def book(book_file: Path) -> Iterator[Book]:
    """An open empty book whose crew signs as AB."""
    with Book(book_file) as opened:
        opened.laptop.set_initials("AB")
        yield opened


@pytest.fixture(scope="session")
def server() -> Iterator[str]:
    """The address of a PostgreSQL server's administrator: the one named, or one for this run."""
    with a_server() as address:
        yield address


@pytest.fixture(scope="module")
def office(server: str) -> Iterator[Office]:
    """A hub for one file of tests."""
    made = Office(server)
    yield made
    made.drop()
