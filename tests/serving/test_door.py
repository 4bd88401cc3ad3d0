"""The door of `fieldbook serve`: a key that is good once, a cookie, one address, one writer."""

from __future__ import annotations

import json
import re
from collections.abc import AsyncIterator, Iterator
from contextlib import asynccontextmanager
from pathlib import Path

import pytest
from a_server import Served, a_server
from aiohttp import (
    ClientSession,
    ClientWebSocketResponse,
    CookieJar,
    WSMsgType,
    WSServerHandshakeError,
)
from click.testing import CliRunner
from painted_cells import PaintedCells

from fieldbook.cli.main import main
from fieldbook.serving import door
from fieldbook.serving.browser_page import FILES

PATHS = ("/", *FILES, "/ws", "/download/a", "/nothing", "/static/", "/static/../door.py")
SIZE = (80, 24)


@pytest.fixture
def served(book_file: Path) -> Iterator[Served]:
    with a_server("--book", str(book_file), "serve") as running:
        yield running


@asynccontextmanager
async def a_client() -> AsyncIterator[ClientSession]:
    """A browser without a cookie; it takes those of an address without a name too."""
    async with ClientSession(cookie_jar=CookieJar(unsafe=True)) as client:
        yield client


async def enter(client: ClientSession, served: Served) -> ClientWebSocketResponse:
    """The websocket of the page, as the page itself opens it."""
    return await client.ws_connect(
        f"ws://{served.host}/ws?width={SIZE[0]}&height={SIZE[1]}",
        headers={"Origin": f"http://{served.host}"},
    )


async def wait_for(socket: ClientWebSocketResponse, words: str) -> None:
    """Read the socket until the words are painted."""
    painted = PaintedCells()
    async for message in socket:
        if message.type == WSMsgType.BINARY:
            painted.feed(message.data)
            if words in "\n".join(painted.lines(*SIZE)):
                return
    raise AssertionError("\n".join(painted.lines(*SIZE)))


async def test_the_key_is_good_once_and_then_the_cookie(served: Served) -> None:
    async with a_client() as first, a_client() as second:
        async with first.head(served.url) as answer:
            assert answer.status == 403
        async with first.get(f"{served.bare}?key=wrong") as answer:
            assert (answer.status, await answer.text()) == (403, f"{door.WRONG_KEY}\n")
        async with first.get(served.url) as answer:
            assert answer.status == 200
            cookie = answer.headers["Set-Cookie"]
        assert {"HttpOnly", "SameSite=Strict"} <= set(cookie.split("; "))
        assert "Expires" not in cookie
        async with first.get(served.bare) as answer:
            assert answer.status == 200
        async with second.get(served.url) as answer:
            assert (answer.status, await answer.text()) == (403, f"{door.SPENT_KEY}\n")
        async with second.get(served.bare, cookies={door.COOKIE: "guessed"}) as answer:
            assert answer.status == 403


async def test_nothing_is_answered_without_a_cookie(served: Served) -> None:
    async with a_client() as stranger:
        for path in PATHS:
            async with stranger.get(
                served.bare + path[1:], headers={"Origin": served.bare[:-1]}
            ) as no:
                assert (no.status, await no.text()) == (403, f"{door.NO_KEY}\n"), path
                assert "default-src 'none'" in no.headers["Content-Security-Policy"]
        with pytest.raises(WSServerHandshakeError, match="403"):
            await enter(stranger, served)


@pytest.mark.parametrize(
    ("headers", "refusal"),
    [
        ({"Host": "rebound.example"}, door.WRONG_HOST),
        ({"Origin": "http://elsewhere.example"}, door.WRONG_ORIGIN),
        ({"Origin": "null"}, door.WRONG_ORIGIN),
        ({}, door.WRONG_ORIGIN),
    ],
)
async def test_a_websocket_comes_from_our_own_page_and_address(
    served: Served, headers: dict[str, str], refusal: str
) -> None:
    async with a_client() as client:
        async with client.get(served.url):
            pass
        async with client.get(f"{served.bare}ws", headers=headers) as answer:
            assert (answer.status, await answer.text()) == (403, f"{refusal}\n")


async def test_nothing_served_names_an_address_elsewhere(served: Served) -> None:
    async with a_client() as client:
        async with client.get(served.url) as answer:
            policy, page = answer.headers["Content-Security-Policy"], await answer.text()
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy
        assert served.url.partition("key=")[2] not in page
        texts = [page, policy]
        for path in FILES:
            async with client.get(served.bare + path[1:]) as answer:
                assert answer.status == 200
                texts.append(await answer.text(errors="replace") if path[-3:] != "ttf" else "")
        for text in texts:
            # Nobody fetches what a comment names.
            live = re.sub(r"/\*.*?\*/", "", text, flags=re.DOTALL)
            named = set(re.findall(r"\b(?:https?|wss?)://[\w.-]+(?::\d+)?|@import.*", live))
            assert named <= {f"ws://{served.host}"}, named


async def test_one_browser_at_a_time_has_the_app(served: Served) -> None:
    async with a_client() as client:
        async with client.get(served.url):
            pass
        first = await enter(client, served)
        await first.send_str("no message of ours")
        await wait_for(first, "initials")
        second = await enter(client, served)
        kind, sentence = json.loads(await second.receive_str())
        assert kind == "sentence"
        assert sentence.startswith("The book is open in another tab or window (127.0.0.1, since")
        await first.send_json(["stdin", "ab\r"])
        await wait_for(first, "No property yet")
        await first.close()
        again = await enter(client, served)
        await wait_for(again, "No property yet")
        await again.send_json(["stdin", "\x11"])
        async for message in again:
            assert message.type == WSMsgType.BINARY or json.loads(message.data)[0] != "sentence"
        assert again.close_code == 1000


async def test_a_book_that_a_terminal_has_open_is_refused_in_a_sentence(
    book_file: Path, served: Served
) -> None:
    from fieldbook.store.book import Book

    with Book(book_file):
        async with a_client() as client:
            async with client.get(served.url):
                pass
            socket = await enter(client, served)
            told = [message.data async for message in socket if message.type == WSMsgType.TEXT]
    sentences = [value for kind, value in map(json.loads, told) if kind == "sentence"]
    assert len(sentences) == 1
    assert "is already open" in sentences[0]


def test_every_address_at_once_and_a_strange_one_are_refused() -> None:
    for address, word in (("0.0.0.0", "all"), ("::", "all"), ("192.0.2.1", "has")):
        ran = CliRunner().invoke(main, ["serve", "--address", address])
        assert (ran.exit_code, word in ran.output) == (2, True), ran.output


def test_it_prints_the_address_and_warns(served: Served) -> None:
    assert re.fullmatch(r"http://127\.0\.0\.1:\d+/\?key=[a-z2-9]{5}(-[a-z2-9]{5}){2}", served.url)
    assert "Whoever has this address enters as this laptop" in served.printed


def test_keys_differ_and_have_no_letter_like_another() -> None:
    keys = {door.new_key() for _ in range(100)}
    assert len(keys) == 100
    assert not set("".join(keys)) & set("il1o0")
