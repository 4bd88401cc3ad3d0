"""What the system may ask of the app: to end at once, with the book closed and backed up."""

from __future__ import annotations

import asyncio
import signal
from collections.abc import Callable
from contextlib import suppress

_NAMES = ("SIGTERM", "SIGHUP", "SIGBREAK")
"""The window was closed, or the system shuts down. SIGHUP is POSIX's, SIGBREAK that of Windows."""


def heed_signals(close: Callable[[], None]) -> None:
    """Call `close` in the app's own loop when the system asks the program to end."""
    loop = asyncio.get_running_loop()
    for name in _NAMES:
        number = getattr(signal, name, None)
        if number is None:
            continue
        try:
            loop.add_signal_handler(number, close)
        except (NotImplementedError, RuntimeError, ValueError):
            # Windows has no such handlers, and outside the main thread nobody has.
            with suppress(ValueError, OSError):
                signal.signal(number, lambda *_: loop.call_soon_threadsafe(close))
