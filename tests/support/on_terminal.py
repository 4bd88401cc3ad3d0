"""A program on a terminal of its own, the processor time it took, and its memory.

Processor time (user and system, of all threads) is counted in nanoseconds by the kernel's scheduler
and does not grow with what else the machine does.
"""

from __future__ import annotations

import fcntl
import os
import pty
import select
import signal
import struct
import sys
import termios
import time
from pathlib import Path

KEY_DOWN, KEY_UP, BACKSPACE = b"\x1b[B", b"\x1b[A", b"\x7f"


class Terminal:
    """A program on a terminal of its own, 80 by 24 unless said otherwise."""

    def __init__(self, command: list[str], size: tuple[int, int] = (80, 24)) -> None:
        """Start the program."""
        self.pid, self._fd = pty.fork()
        if self.pid == 0:
            os.environ.update(TERM="xterm-256color", COLORTERM="truecolor")
            # An installed program has its bytecode.
            os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
            os.execvp(command[0], command)
        fcntl.ioctl(self._fd, termios.TIOCSWINSZ, struct.pack("HHHH", size[1], size[0], 0, 0))

    def read(self, timeout_s: float) -> bytes:
        """What the program writes next; nothing if it is quiet for so long."""
        ready, _, _ = select.select([self._fd], [], [], timeout_s)
        if not ready:
            return b""
        try:
            return os.read(self._fd, 65536)
        except OSError:
            return b""

    def wait_for(self, text: bytes, timeout_s: float = 60.0) -> float:
        """Seconds of processor time until a text was painted; raises TimeoutError.

        The program is stopped while they are read, so that nothing after the paint counts.
        """
        seen, until = b"", time.monotonic() + timeout_s
        while time.monotonic() < until:
            seen += self.read(0.02)
            if text in seen:
                os.kill(self.pid, signal.SIGSTOP)
                found = self.cpu_s()
                os.kill(self.pid, signal.SIGCONT)
                return found
        raise TimeoutError(f"{text!r} was not painted: {seen[-400:]!r}")

    def settle(self, quiet_s: float = 0.4) -> bytes:
        """Read until the program is quiet; returns what it wrote."""
        found = b""
        while some := self.read(quiet_s):
            found += some
        return found

    def send(self, keys: bytes) -> None:
        """Press keys without waiting."""
        os.write(self._fd, keys)

    def key(self, key: bytes) -> float:
        """Seconds of processor time for one key, until the program is quiet again."""
        before = self.cpu_s()
        self.send(key)
        # A key that changes nothing paints nothing.
        if self.read(0.5):
            self.settle(0.08)
        return self.cpu_s() - before

    def cpu_s(self) -> float:
        """The processor time so far, of every thread."""
        found = 0
        for task in Path(f"/proc/{self.pid}/task").iterdir():
            found += int((task / "schedstat").read_text("ascii").split()[0])
        return found / 1e9

    def written_bytes(self) -> int:
        """How many bytes the program wrote so far, to disk and to the terminal."""
        for line in Path(f"/proc/{self.pid}/io").read_text("ascii").splitlines():
            if line.startswith("wchar:"):
                return int(line.split()[1])
        return 0

    def peak_mb(self) -> float:
        """The most memory the program held."""
        for line in Path(f"/proc/{self.pid}/status").read_text("ascii").splitlines():
            if line.startswith("VmHWM:"):
                return int(line.split()[1]) / 1024
        return 0.0

    def stop(self) -> None:
        """Kill the program."""
        os.kill(self.pid, signal.SIGKILL)
        os.waitpid(self.pid, 0)
        os.close(self._fd)


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


def empty_app(folder: Path) -> list[str]:
    """The command line of a Textual app with nothing but an Input, whose frame shows "eady"."""
    script = folder / "empty.py"
    script.write_text(EMPTY, encoding="utf-8")
    return [sys.executable, str(script)]
