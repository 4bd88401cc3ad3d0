"""`fieldbook serve` as a process of its own, as a crew starts it."""

from __future__ import annotations

import re
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from urllib.parse import urlsplit


@dataclass(frozen=True)
class Served:
    """A running server: what it printed, and the address that it printed."""

    printed: str
    url: str

    @property
    def host(self) -> str:
        """The address with its port, without the key."""
        return urlsplit(self.url).netloc

    @property
    def bare(self) -> str:
        """The address without the key."""
        return f"http://{self.host}/"


@contextmanager
def a_server(*options: str) -> Iterator[Served]:
    """`fieldbook [--book ...] serve [options]`, until the block ends; then Ctrl+C ends it well."""
    process = subprocess.Popen(
        [sys.executable, "-m", "fieldbook", *options],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    assert process.stdout is not None
    try:
        printed = "".join(process.stdout.readline() for _ in range(3))
        found = re.search(r"http://\S+", printed)
        assert found is not None, (printed, process.communicate()[1])
        yield Served(printed, found.group())
    finally:
        process.send_signal(signal.SIGINT)
        _, complaints = process.communicate(timeout=60)
    assert process.returncode == 0, complaints
    assert "Traceback" not in complaints, complaints
