"""Every paper in a real browser: it asks for nothing, nothing is clipped, and everyone can read it.

The accessibility checker is axe-core; a page fails on what it calls serious or critical.
"""

from __future__ import annotations

import asyncio
import json
from datetime import UTC, datetime
from importlib.resources import files
from pathlib import Path

import pytest
from a_browser import CHROMIUM, Browser, a_browser
from hostile import hostile_job

from fieldbook.actions.files.write_papers import paper_source, write_papers
from fieldbook.actions.job_files import import_bytes, import_file
from fieldbook.actions.properties import demo_files
from fieldbook.store.book import Book

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(CHROMIUM is None, reason="no Chromium is installed"),
]
WIDTHS = {"phone": 360, "tablet": 768, "laptop": 1280}
LETTER_PX = 816
"""The width of a page of Letter at 96 pixels an inch."""


def _every_paper(folder: Path) -> list[Path]:
    """The papers of the demo properties and of a property whose every text is hostile."""
    with Book(folder / "book.sqlite") as book:
        for file in demo_files():
            import_file(book, file, "RO")
        import_bytes(book, hostile_job(), "here", copy=True)
        found: list[Path] = []
        for number, job in enumerate(book.jobs()):
            source = paper_source(book, book.load(job.id), datetime(2026, 5, 20, 12, 0, tzinfo=UTC))
            found += write_papers(source, folder / str(number))
    return found


async def _faults(browser: Browser, page: Path, axe: str) -> list[str]:
    """What is wrong with a page, in words."""
    found = []
    browser.addresses.clear()
    await browser.open(page.as_uri())
    for name, width in WIDTHS.items():
        await _set_width(browser, width, "screen")
        found += [f"{name}: {one}" for one in await _clipped(browser)]
    await _set_width(browser, LETTER_PX, "print")
    found += [f"print: {one}" for one in await _clipped(browser)]
    await _set_width(browser, WIDTHS["tablet"], "screen")
    found += await _hard_to_read(browser, axe)
    asked = [one for one in browser.addresses if not one.startswith(("data:", page.as_uri()))]
    return [*found, *browser.complaints, *asked]


async def _set_width(browser: Browser, width: int, media: str) -> None:
    await browser.ask("Emulation.setEmulatedMedia", media=media)
    await browser.ask(
        "Emulation.setDeviceMetricsOverride",
        width=width, height=900, deviceScaleFactor=1, mobile=False,
    )  # fmt: skip


async def _clipped(browser: Browser) -> list[str]:
    """What stands out of the page; a wide table may be moved sideways, but not on paper."""
    told = await browser.script(
        """JSON.stringify((() => {
            const wide = document.documentElement.clientWidth, out = [];
            const print = matchMedia("print").matches;
            if (document.documentElement.scrollWidth > wide) out.push("the page is too wide");
            for (const one of document.querySelectorAll("body *")) {
                const moved = one.closest(".wide");
                if (moved && !print) continue;
                if (one.getBoundingClientRect().right > wide + 1)
                    out.push(one.tagName + " " + one.textContent.slice(0, 40));
            }
            return out.slice(0, 5);
        })())"""
    )
    return list(json.loads(str(told)))


async def _hard_to_read(browser: Browser, axe: str) -> list[str]:
    await browser.script(axe)
    await browser.script("axe.run().then((found) => { window.told = found.violations; }), 0")
    await browser.until(bool, "!!window.told")
    told = await browser.script(
        """JSON.stringify(told.filter((one) => ["serious", "critical"].includes(one.impact))
            .map((one) => one.id + ": " + one.nodes[0].html.slice(0, 120)))"""
    )
    return list(json.loads(str(told)))


def test_every_paper_is_whole_at_every_width_and_readable_by_everyone(tmp_path: Path) -> None:
    pages = _every_paper(tmp_path)
    axe = files("axe_core_python").joinpath("axe.min.js").read_text("utf-8")

    async def look() -> dict[str, list[str]]:
        found = {}
        async with a_browser() as browser:
            for page in pages:
                if faults := await _faults(browser, page, axe):
                    found[f"{page.parent.name}/{page.name}"] = faults
                    browser.complaints.clear()
        return found

    assert asyncio.run(look()) == {}
