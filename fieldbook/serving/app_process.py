"""The app of one browser: a process between a websocket and a pipe."""

from __future__ import annotations

import asyncio
import json
import shlex
import subprocess
import sys
from collections.abc import Awaitable, Callable, Sequence
from contextlib import suppress
from typing import ParamSpec

from aiohttp import WSMsgType, web
from textual_serve.app_service import AppService
from textual_serve.download_manager import DownloadManager

_TOLD = ("keyboard", "sentence")
"""What the app tells the page besides its screen; see `screens/widgets/in_browser.py`."""
_ENDS_WITHIN_S = 20.0
"""A program that was asked to end and has not by then is ended: all it entered is on disk."""
_LARGEST = 1000
"""Columns or rows: more than any screen has, and few enough to paint."""
Given = ParamSpec("Given")


class AppProcess(AppService):
    """Textual-serve's process of an app, which outlives a connection that breaks off."""

    def __init__(self, command: Sequence[str], socket: web.WebSocketResponse) -> None:
        """`command` runs the app; nothing is started before `run_for`."""
        line = subprocess.list2cmdline if sys.platform == "win32" else shlex.join
        super().__init__(
            line(command),
            write_bytes=_unless_closed(socket.send_bytes),
            write_str=_unless_closed(socket.send_str),
            close=_unless_closed(socket.close),
            download_manager=DownloadManager(),
        )
        self._socket = socket

    async def run_for(self, width: int, height: int) -> None:
        """Run the app on a screen of this size, in cells, until it ends or the browser leaves."""
        await self.start(_cells(width), _cells(height))
        try:
            async for message in self._socket:
                if message.type == WSMsgType.TEXT:
                    await self._take(message.data)
        finally:
            await self._end()

    async def on_meta(self, data: bytes) -> None:
        """Pass on what the app tells the page; an address it wants opened is not."""
        told = json.loads(data)
        if told.get("type") in _TOLD:
            await self.remote_write_str(json.dumps([told["type"], told.get("value")]))
        elif told.get("type") == "exit":
            await self.remote_close()

    async def _take(self, text: str) -> None:
        """Carry out a message of the page; one that is no message of ours is left out."""
        with suppress(ValueError, TypeError, KeyError, IndexError):
            kind, value = json.loads(text)[0], (json.loads(text)[1:] or [None])[0]
            if kind == "stdin":
                await self.send_bytes(str(value).encode("utf-8", "replace"))
            elif kind == "resize":
                await self.set_terminal_size(_cells(value["width"]), _cells(value["height"]))
            elif kind == "ping":
                await self.remote_write_str(json.dumps(["pong", str(value)]))
            elif kind in ("blur", "focus"):
                await (self.blur() if kind == "blur" else self.focus())

    async def _end(self) -> None:
        """Ask the app to end, and wait for it: the next browser needs the book's lock."""
        process = self._process
        try:
            await asyncio.wait_for(self.stop(), _ENDS_WITHIN_S)
        except TimeoutError:
            if process is not None:
                process.kill()
        if process is not None:
            await process.wait()


def _cells(number: object) -> int:
    return min(max(int(str(number)), 1), _LARGEST)


def _unless_closed(send: Callable[Given, Awaitable[object]]) -> Callable[Given, Awaitable[None]]:
    """The same, but nothing where the browser is gone: the app must be heard to its end.

    Otherwise nobody would empty its pipe, and a full pipe would keep it, and the book, for ever.
    """

    async def sent(*args: Given.args, **kwargs: Given.kwargs) -> None:
        with suppress(ConnectionError, RuntimeError):
            await send(*args, **kwargs)

    return sent
