"""Who may come in: one browser by a key that is good once, afterwards by its cookie.

The cookie is HttpOnly and SameSite=Strict, so neither a script nor another site can use it. The
address in `Host` has to be the one that is served, which stops a name that was pointed at this
laptop afterwards (DNS rebinding), and a websocket has to come from our own page.
"""

from __future__ import annotations

import hmac
import secrets
from dataclasses import dataclass, field

from aiohttp import web

COOKIE = "fieldbook"
KEY_LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"
"""No letter that a person could take for another, since the address may be typed by hand."""
_GROUPS, _GROUP = 3, 5
"""15 letters of 31 are 74 bits: no number of tries over a network finds them."""

NO_KEY = (
    "This page needs the key that fieldbook serve printed: open that whole address, "
    "in the browser that is to enter."
)
WRONG_KEY = "The key in this address is not the one that fieldbook serve printed."
SPENT_KEY = (
    "The key in this address was used already, and it is good once: end fieldbook serve and "
    "start it again for a new one."
)
WRONG_HOST = "This is not the address that fieldbook serve printed: open that one."
WRONG_ORIGIN = "Only the page that fieldbook serve itself shows may enter here."


def new_key() -> str:
    """A key to be opened once, in groups that can be typed."""
    groups = ("".join(secrets.choice(KEY_LETTERS) for _ in range(_GROUP)) for _ in range(_GROUPS))
    return "-".join(groups)


@dataclass
class Door:
    """Lets the first browser with the key in. `host` is what `Host` has to say, with the port."""

    host: str
    key: str = field(default_factory=new_key)
    _cookie: str = field(default_factory=lambda: secrets.token_urlsafe(32))
    _spent: bool = False

    @property
    def url(self) -> str:
        """The address to open, with its key."""
        return f"http://{self.host}/?key={self.key}"

    def refusal(self, request: web.Request) -> str | None:
        """Why a request is refused, as a sentence; None where it may pass.

        A right key on the page's own address is spent by this.
        """
        return self._wrong_way(request) or self._wrong_key(request)

    def _wrong_way(self, request: web.Request) -> str | None:
        """Why the way by which a request came is refused."""
        if request.headers.get("Host", "").lower() != self.host.lower():
            return WRONG_HOST
        origin = request.headers.get("Origin")
        ours = origin == f"http://{self.host}" or (origin is None and request.path != "/ws")
        return None if ours else WRONG_ORIGIN

    def _wrong_key(self, request: web.Request) -> str | None:
        """Why what a request shows is refused; the right key is spent."""
        if _same(request.cookies.get(COOKIE, ""), self._cookie):
            return None
        shown = request.query.get("key") if request.path == "/" else None
        if shown is None:
            return NO_KEY
        if not _same(shown, self.key):
            return WRONG_KEY
        # A HEAD, as a preview of the link may send, gets nothing and spends nothing.
        if self._spent or request.method != "GET":
            return SPENT_KEY
        self._spent = True
        return None

    def give_cookie(self, response: web.Response) -> None:
        """Let this browser in from now on, until it is closed."""
        response.set_cookie(COOKIE, self._cookie, httponly=True, samesite="Strict", path="/")


def _same(shown: str, kept: str) -> bool:
    """Whether two secrets are equal, in a time that does not tell how far they agree."""
    return hmac.compare_digest(shown.encode("utf-8", "replace"), kept.encode("utf-8"))
