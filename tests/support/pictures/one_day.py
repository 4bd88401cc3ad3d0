"""The day and the laptop of every picture, so that it is the same wherever it is drawn."""

from __future__ import annotations

import socket
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from unittest.mock import patch

import time_machine

DAY = datetime(2026, 10, 20, 9, 30, tzinfo=UTC)
"""After the last entry of the demo's properties."""


@contextmanager
def on_one_day() -> Iterator[time_machine.Traveller]:
    """Let it be that day, on a laptop of one name, until the block ends; gives its clock."""
    with patch.object(socket, "gethostname", lambda: "truck-1"), time_machine.travel(DAY) as clock:
        yield clock
