"""A headless Chromium with a finger, driven by its own debugging protocol (CDP).

It notes every address that is asked for, and what the page's security policy refuses.
"""

from __future__ import annotations

import asyncio
import base64
import itertools
import json
import shutil
import subprocess
import tempfile
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

import aiohttp
from painted_cells import PaintedCells

CHROMIUM = shutil.which("chromium")
TABLET = (1024, 768)
Answer = dict[str, object]


class Browser:
    """One page of a browser at tablet size."""

    def __init__(self, socket: aiohttp.ClientWebSocketResponse) -> None:
        """Use `a_browser` to make one."""
        self._socket = socket
        self._ids = itertools.count(1)
        self._answers: dict[int, asyncio.Future[Answer]] = {}
        self.addresses: list[str] = []
        """Every address that the page asked for."""
        self.complaints: list[str] = []
        """What the browser logged: errors, and what the policy refused."""
        self._painted = PaintedCells()

    async def listen(self) -> None:
        """Take answers and events until the browser is gone."""
        async for message in self._socket:
            told = json.loads(message.data)
            if waiting := self._answers.pop(told.get("id", 0), None):
                waiting.set_result(told.get("result", {}))
            self._note(told.get("method", ""), told.get("params", {}))

    def _note(self, method: str, told: dict[str, Any]) -> None:
        if method == "Network.requestWillBeSent":
            self.addresses.append(told["request"]["url"])
        elif method == "Network.webSocketCreated":
            self.addresses.append(str(told["url"]))
        elif method == "Network.webSocketFrameReceived" and told["response"]["opcode"] == 2:
            self._painted.feed(base64.b64decode(told["response"]["payloadData"]))
        elif method == "Log.entryAdded":
            self.complaints.append(told["entry"]["text"])
        elif method == "Runtime.exceptionThrown":
            self.complaints.append(str(told["exceptionDetails"]))

    async def ask(self, method: str, **params: object) -> Answer:
        """Send a command of the protocol and wait for its answer."""
        number = next(self._ids)
        waiting = self._answers[number] = asyncio.get_running_loop().create_future()
        await self._socket.send_json({"id": number, "method": method, "params": params})
        return await asyncio.wait_for(waiting, 30)

    async def open(self, url: str) -> None:
        """Show an address at tablet size, with a finger instead of a mouse."""
        for room in ("Network", "Log", "Runtime", "Page"):
            await self.ask(f"{room}.enable")
        width, height = TABLET
        await self.ask(
            "Emulation.setDeviceMetricsOverride",
            width=width, height=height, deviceScaleFactor=1, mobile=True,
        )  # fmt: skip
        await self.ask("Emulation.setTouchEmulationEnabled", enabled=True)
        await self.ask("Page.navigate", url=url)
        await self.until(bool, "document.body && document.readyState === 'complete'")

    async def script(self, text: str) -> object:
        """The value of an expression of JavaScript on the page."""
        answer = await self.ask("Runtime.evaluate", expression=text, returnByValue=True)
        value = answer["result"]
        assert isinstance(value, dict), answer
        return value.get("value")

    async def until(self, met: Callable[[object], bool], text: str) -> object:
        """Wait until an expression has a value that will do; the limit ends a test that hangs."""
        for _ in range(600):
            if met(value := await self.script(text)):
                return value
            await asyncio.sleep(0.05)
        raise AssertionError((text, value))

    async def tap(self, x: float, y: float) -> None:
        """Tap with one finger on a point of the page, in its pixels."""
        await self.ask(
            "Input.dispatchTouchEvent", type="touchStart", touchPoints=[{"x": x, "y": y}]
        )
        await self.ask("Input.dispatchTouchEvent", type="touchEnd", touchPoints=[])

    async def screen(self) -> list[str]:
        """The lines of the app, a character a cell."""
        columns, rows = await self._cells()
        return self._painted.lines(columns, rows)

    async def _cells(self) -> tuple[int, int]:
        size = await self.script("[cells.width, cells.height]")
        assert isinstance(size, list)
        return int(size[0]), int(size[1])

    async def wait_for(self, words: str, *, gone: bool = False) -> list[str]:
        """Wait until these words stand on the app's screen, or are `gone` from it; gives its lines.

        The limit ends a test that hangs.
        """
        for _ in range(600):
            lines = await self.screen()
            if any(words in line for line in lines) is not gone:
                return lines
            await asyncio.sleep(0.05)
        raise AssertionError("\n".join([words, *lines]))

    async def tap_on(self, words: str, *, right: int = 0, times: int = 1) -> None:
        """Tap on the first place where these words stand, or so many cells to the right of it."""
        lines = await self.wait_for(words)
        y = next(no for no, line in enumerate(lines) if words in line)
        box = await self.script(
            "(({left, top, width, height}) => [left, top, width / cells.width, "
            "height / cells.height])(document.querySelector('.xterm-screen')"
            ".getBoundingClientRect())"
        )
        assert isinstance(box, list)
        x = lines[y].index(words) + right
        for _ in range(times):
            await self.tap(box[0] + (x + 0.5) * box[2], box[1] + (y + 0.5) * box[3])

    async def press(self, label: str) -> None:
        """Tap on a button of the page."""
        at = await self.script(
            "(({left, top, width, height}) => [left + width / 2, top + height / 2])([..."
            f"document.querySelectorAll('button')].find((one) => one.textContent === '{label}')"
            ".getBoundingClientRect())"
        )
        assert isinstance(at, list)
        await self.tap(at[0], at[1])

    async def swipe(self, x: float, y: float, down: float) -> None:
        """Swipe with one finger, `down` pixels."""
        touch = "Input.dispatchTouchEvent"
        await self.ask(touch, type="touchStart", touchPoints=[{"x": x, "y": y}])
        for part in (0.25, 0.5, 0.75, 1.0):
            await self.ask(touch, type="touchMove", touchPoints=[{"x": x, "y": y + down * part}])
        await self.ask(touch, type="touchEnd", touchPoints=[])

    async def type(self, text: str) -> None:
        """Type as the keyboard on the screen does: text comes, no keys."""
        await self.ask("Input.insertText", text=text)

    async def picture(self) -> bytes:
        """The page as a PNG."""
        answer = await self.ask("Page.captureScreenshot", format="png")
        return base64.b64decode(str(answer["data"]))


@asynccontextmanager
async def a_browser() -> AsyncIterator[Browser]:
    """A browser of its own, without a profile, until the block ends."""
    assert CHROMIUM is not None
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as profile:
        process = subprocess.Popen(
            [
                CHROMIUM, "--headless=new", "--no-sandbox", "--disable-gpu", "--no-first-run",
                "--disable-background-networking", "--remote-debugging-port=0",
                f"--user-data-dir={profile}", "about:blank",
            ],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )  # fmt: skip
        try:
            async with aiohttp.ClientSession() as session:
                page = await _page_of(session, Path(profile) / "DevToolsActivePort")
                async with session.ws_connect(page, max_msg_size=0) as socket:
                    browser = Browser(socket)
                    listening = asyncio.create_task(browser.listen())
                    yield browser
                    listening.cancel()
        finally:
            process.terminate()
            process.wait()


async def _page_of(session: aiohttp.ClientSession, port_file: Path) -> str:
    """The debugging address of the browser's first page, once it has begun to listen."""
    for _ in range(600):
        if port_file.exists() and (lines := port_file.read_text().split()):
            async with session.get(f"http://127.0.0.1:{lines[0]}/json/list") as answer:
                pages = [page for page in await answer.json() if page["type"] == "page"]
            if pages:
                return str(pages[0]["webSocketDebuggerUrl"])
        await asyncio.sleep(0.05)
    raise AssertionError("Chromium did not start.")
