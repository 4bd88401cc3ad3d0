"""The server behind `fieldbook serve`: its routes, and the one browser that may write at a time."""

from __future__ import annotations

import asyncio
import signal
from collections.abc import Awaitable, Callable, Sequence
from contextlib import suppress
from datetime import datetime

from aiohttp import WSCloseCode, web

from fieldbook.serving.app_process import AppProcess
from fieldbook.serving.browser_page import FILES, HEADERS, page, sentence, static_file
from fieldbook.serving.door import Door

_HEARTBEAT_S = 10.0
"""A tablet that sleeps or is out of reach has left after about one and a half of these."""
_GRACE_S = 4.0
"""So long a page waits for the one before it: a reload opens the new one first."""
_NOTHING = "There is nothing at this address."

Handler = Callable[[web.Request], Awaitable[web.StreamResponse]]


class AppServer:
    """Serves the app that `command` runs, to the browser that the door lets in."""

    def __init__(self, command: Sequence[str], door: Door) -> None:
        """Nothing is served yet; `application` has the routes."""
        self._command, self._door = command, door
        self._turn = asyncio.Lock()
        self._holder = ""
        """Who has the turn, and since when."""
        self._socket: web.WebSocketResponse | None = None

    def application(self) -> web.Application:
        """The routes, every one of them behind the door."""
        app = web.Application(middlewares=[self._guard])
        app.router.add_get("/", self._page)
        app.router.add_get("/ws", self._enter)
        for path in FILES:
            app.router.add_get(path, static_file)
        app.on_shutdown.append(self._send_away)
        return app

    @web.middleware
    async def _guard(self, request: web.Request, handler: Handler) -> web.StreamResponse:
        """Refuse what the door refuses, before anything is looked at."""
        refused = self._door.refusal(request)
        try:
            response = sentence(refused, 403) if refused else await handler(request)
        except web.HTTPException as why:
            response = sentence(_NOTHING, why.status)
        if not response.prepared:
            for name, value in HEADERS.items():
                response.headers.setdefault(name, value)
        return response

    async def _page(self, request: web.Request) -> web.Response:
        response = page(self._door.host)
        if "key" in request.query:
            self._door.give_cookie(response)
        return response

    async def _enter(self, request: web.Request) -> web.WebSocketResponse:
        """Run the app for a browser, or tell it who has the book."""
        socket = web.WebSocketResponse(heartbeat=_HEARTBEAT_S)
        await socket.prepare(request)
        try:
            await asyncio.wait_for(self._turn.acquire(), _GRACE_S)
        except TimeoutError:
            await socket.send_json(["sentence", self._held()])
            await socket.close()
            return socket
        try:
            self._socket = socket
            self._holder = f"{request.remote or 'this laptop'}, since {datetime.now():%H:%M}"
            size = [int(request.query.get(name, "0") or 0) for name in ("width", "height")]
            await AppProcess(self._command, socket).run_for(*size)
        finally:
            self._socket = None
            self._turn.release()
        return socket

    def _held(self) -> str:
        return (
            f"The book is open in another tab or window ({self._holder}), and one at a time may "
            "write: close that one, then open it here."
        )

    async def _send_away(self, _app: web.Application) -> None:
        """End the app of the browser that is there, so that the server can end."""
        if self._socket is not None:
            await self._socket.close(code=WSCloseCode.GOING_AWAY)


async def serve(
    command: Sequence[str], address: str, port: int, ready: Callable[[str], None]
) -> None:
    """Serve until the program is asked to end; `ready` gets the URL once it can be opened.

    `port` 0 takes any that is free. Raises OSError where this laptop has no such address, or
    another program has the port.
    """
    door = Door(host="")
    # Before the address is printed: who has read it may end the program at once.
    ending = _asked_to_end()
    runner = web.AppRunner(AppServer(command, door).application(), handle_signals=False)
    await runner.setup()
    try:
        site = web.TCPSite(runner, address, port)
        await site.start()
        door.host = host_of(address, runner.addresses[0][1])
        ready(door.url)
        await ending.wait()
    finally:
        await runner.cleanup()


def host_of(address: str, port: int) -> str:
    """What a browser sends as `Host`: the port is left out where it is the usual one."""
    shown = f"[{address}]" if ":" in address else address
    return shown if port == 80 else f"{shown}:{port}"


def _asked_to_end() -> asyncio.Event:
    """What is set once the program is asked to end."""
    asked = asyncio.Event()
    loop = asyncio.get_running_loop()
    # Windows has no handlers in the loop; there Ctrl+C ends asyncio.run.
    with suppress(NotImplementedError):
        for number in (signal.SIGINT, signal.SIGTERM):
            loop.add_signal_handler(number, asked.set)
    return asked
