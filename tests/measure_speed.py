"""Measure what a crew waits for, beside an empty Textual app in the same run.

Run it: python tests/measure_speed.py

Prints, for a sheet at 80x24 on a real book: the time to the first frame, the time from a key to
its paint (an entered value is on disk and checked before it is painted), the peak memory, and what
is written to disk while nobody types. Ratios matter; the machine decides the rest. Nothing here
asserts.
"""

from __future__ import annotations

import fcntl
import os
import pty
import resource
import select
import statistics
import struct
import sys
import tempfile
import termios
import time
from pathlib import Path

from fieldbook.actions.properties import fill_demo
from fieldbook.store.book import Book

RUNS = 9
KEYS = 40
IDLE_S = 5.0
EMPTY = """
from textual.app import App
from textual.widgets import Input
class Empty(App):
    def compose(self):
        field = Input(placeholder="ready")
        field.cursor_blink = False
        yield field
Empty().run()
"""


class Terminal:
    """A program on a terminal of its own, 80 by 24."""

    def __init__(self, command: list[str]) -> None:
        """Start the program."""
        self.began = time.perf_counter()
        self.pid, self._fd = pty.fork()
        if self.pid == 0:
            os.environ.update(TERM="xterm-256color", COLORTERM="truecolor")
            os.execvp(command[0], command)
        fcntl.ioctl(self._fd, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))

    def read(self, timeout_s: float) -> bytes:
        """What the program writes next; nothing if it is quiet for so long."""
        ready, _, _ = select.select([self._fd], [], [], timeout_s)
        if not ready:
            return b""
        try:
            return os.read(self._fd, 65536)
        except OSError:
            return b""

    def wait_for(self, text: bytes, timeout_s: float = 20.0) -> float:
        """Seconds from the start until a text was painted; raises TimeoutError."""
        seen, until = b"", time.perf_counter() + timeout_s
        while time.perf_counter() < until:
            seen += self.read(0.05)
            if text in seen:
                return time.perf_counter() - self.began
        raise TimeoutError(f"{text!r} was not painted: {seen[-400:]!r}")

    def settle(self, quiet_s: float = 0.4) -> None:
        """Read until the program is quiet."""
        while self.read(quiet_s):
            pass

    def key(self, key: bytes) -> float:
        """Seconds from a key to the first paint after it; raises TimeoutError after two seconds."""
        sent = time.perf_counter()
        os.write(self._fd, key)
        if not self.read(2.0):
            raise TimeoutError(f"nothing was painted after {key!r}")
        took = time.perf_counter() - sent
        self.settle(0.06)
        return took

    def send(self, keys: bytes) -> None:
        """Press keys without waiting."""
        os.write(self._fd, keys)

    def written_bytes(self) -> int:
        """How many bytes the program wrote so far, to disk and to the terminal."""
        for line in Path(f"/proc/{self.pid}/io").read_text(encoding="ascii").splitlines():
            if line.startswith("wchar:"):
                return int(line.split()[1])
        return 0

    def cpu_s(self) -> float:
        """The processor time of the program so far; other programs do not lengthen it."""
        user, system = (
            Path(f"/proc/{self.pid}/stat").read_text("ascii").rsplit(")")[1].split()[11:13]
        )
        return (int(user) + int(system)) / os.sysconf("SC_CLK_TCK")

    def peak_mb(self) -> float:
        """The most memory the program held."""
        for line in Path(f"/proc/{self.pid}/status").read_text(encoding="ascii").splitlines():
            if line.startswith("VmHWM:"):
                return int(line.split()[1]) / 1024
        return 0.0

    def stop(self) -> None:
        """Press Ctrl+Q; after five seconds kill the program."""
        self.send(b"\x11")
        deadline = time.perf_counter() + 5
        while time.perf_counter() < deadline:
            self.read(0.05)
            if os.waitpid(self.pid, os.WNOHANG)[0]:
                break
        else:
            os.kill(self.pid, 9)
            os.waitpid(self.pid, 0)
        os.close(self._fd)


def first_frame(command: list[str], text: bytes) -> float:
    """Seconds to the first frame, the median of several starts."""
    found = []
    for _ in range(RUNS):
        terminal = Terminal(command)
        found.append(terminal.wait_for(text))
        terminal.settle()
        terminal.stop()
    return statistics.median(found)


def open_sheet(command: list[str]) -> Terminal:
    """The program at the street of the demo's first property, an amount under the cursor."""
    terminal = Terminal(command)
    terminal.wait_for(b"Alder")
    terminal.settle()
    for keys in (b"\r", b"\x1b", b"1"):
        terminal.send(keys)
        time.sleep(0.3)
    terminal.settle()
    return terminal


def stand_on_tick(sheet: Terminal) -> None:
    """Move the cursor from anywhere on the street to its first tick (water with chemicals)."""
    for keys in (b"\x1b[A" * 60, b"\x1b[B" * 8):
        sheet.send(keys)
        sheet.settle()


def typing(terminal: Terminal, keys: list[bytes]) -> float:
    """Seconds from a key to its paint: the median over these keys."""
    return statistics.median(terminal.key(key) for key in keys)


def main() -> None:
    """Measure in a folder of its own, and print."""
    with tempfile.TemporaryDirectory() as folder:
        _measure(Path(folder))


def _measure(folder: Path) -> None:
    book = str(folder / "book.sqlite")
    script = folder / "empty.py"
    script.write_text(EMPTY, encoding="utf-8")
    empty = [sys.executable, str(script)]
    app = [sys.executable, "-m", "fieldbook", "--book", book]
    with Book(Path(book)) as opened:
        fill_demo(opened)
    report(
        "first frame, ms",
        1000 * first_frame(app, b"fieldbook"),
        1000 * first_frame(empty, b"eady"),
        1.5,
    )
    sheet, field = open_sheet(app), Terminal(empty)
    field.settle(1.0)
    moves = [b"\x1b[B", b"\x1b[A"] * (KEYS // 2)
    letters = [b"5"] * KEYS
    plain = typing(field, letters)
    report("key that moves, ms", 1000 * typing(sheet, moves), 1000 * plain, 2.0)
    report("key that types, ms", 1000 * typing(sheet, letters), 1000 * plain, 2.0)
    sheet.send(b"\x1b")
    sheet.settle()
    stand_on_tick(sheet)
    worked = sheet.cpu_s()
    report("key that enters, ms", 1000 * typing(sheet, [b" "] * KEYS), 1000 * plain, 12.0)
    print(f"{'its processor time, ms':<24} {1000 * (sheet.cpu_s() - worked) / KEYS:8.1f}")
    before = sheet.written_bytes()
    time.sleep(IDLE_S)
    idle = (sheet.written_bytes() - before) / IDLE_S
    report("peak memory, MB", sheet.peak_mb(), field.peak_mb(), 2.3)
    print(f"{'idle writes, bytes/s':<24} {idle:8.1f}")
    sheet.stop()
    field.stop()


def report(what: str, ours: float, empty: float, aim: float) -> None:
    """Print one line: our figure, that of the empty app, their ratio, and the aim."""
    ratio = ours / empty
    print(f"{what:<24} {ours:8.1f}  empty {empty:8.1f}  ratio {ratio:5.2f}  aim <= {aim}")


if __name__ == "__main__":
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    main()
