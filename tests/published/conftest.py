"""EPANET comes as a wheel up to Python 3.12: where it is missing, its comparisons are left out."""

from __future__ import annotations

from importlib.util import find_spec

HELD_AGAINST_EPANET = "*_epanet.py"
collect_ignore_glob = [] if find_spec("epanet") else [HELD_AGAINST_EPANET]


def pytest_report_header() -> str:
    """Say so, since tests that are not collected show nowhere else."""
    return "EPANET isn't installed: its comparisons are left out." if collect_ignore_glob else ""
