"""The page that the browser shows, the files it needs, and the headers of every answer.

The page of textual-serve loads a font from the network; ours names nothing but its own address, and
its Content-Security-Policy refuses everything else.
"""

from __future__ import annotations

import secrets
from collections.abc import Mapping
from pathlib import Path

import textual_serve
from aiohttp import web

_OURS = Path(__file__).with_name("static")
_THEIRS = Path(textual_serve.__file__).with_name("static")
FILES: Mapping[str, Path] = {
    "/static/touch.js": _OURS / "touch.js",
    "/static/touch.css": _OURS / "touch.css",
    "/static/textual.js": _THEIRS / "js" / "textual.js",
    "/static/xterm.css": _THEIRS / "css" / "xterm.css",
    "/static/mono.ttf": _THEIRS / "fonts" / "RobotoMono-VariableFont_wght.ttf",
}
"""Every file that is served; no folder is."""
_TYPES = {".js": "text/javascript", ".css": "text/css", ".ttf": "font/ttf"}

HEADERS: Mapping[str, str] = {
    "Cache-Control": "no-store",
    "Content-Security-Policy": "default-src 'none'; frame-ancestors 'none'",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
}
"""What every answer carries, unless it has a policy of its own."""


def page(host: str) -> web.Response:
    """The page of the app on `host`, which is an address with its port."""
    # The terminal makes style elements as it runs: a nonce lets them in, and no others.
    nonce = secrets.token_urlsafe(16)
    text = (_OURS / "page.html").read_text("utf-8")
    text = text.replace("NONCE", nonce).replace("SOCKET", f"ws://{host}/ws")
    policy = (
        f"default-src 'none'; script-src 'self'; style-src 'self' 'nonce-{nonce}'; "
        f"font-src 'self'; connect-src ws://{host}/ws; "
        "base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
    )
    return web.Response(
        text=text, content_type="text/html", headers={"Content-Security-Policy": policy}
    )


async def static_file(request: web.Request) -> web.Response:
    """One of the FILES."""
    file = FILES[request.path]
    return web.Response(body=file.read_bytes(), content_type=_TYPES[file.suffix])


def sentence(text: str, status: int) -> web.Response:
    """A sentence alone, as plain text."""
    return web.Response(text=f"{text}\n", status=status)
