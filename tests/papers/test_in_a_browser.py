"""Every paper in a real browser: it asks for nothing, nothing is clipped, and everyone can read it.

The accessibility checker is axe-core; a page fails on what it calls serious or critical.
"""

from __future__ import annotations

import asyncio
import json
from collections.abc import Iterator
from datetime import UTC, datetime
from importlib.resources import files
from pathlib import Path

import pytest
from a_browser import CHROMIUM, Browser, a_browser
from hostile import hostile_job

from fieldbook.actions.disputes.claim_entries import claim_of
from fieldbook.actions.disputes.write_dispute import write_dispute
from fieldbook.actions.files.write_papers import paper_source, write_papers
from fieldbook.actions.job_files import import_bytes, import_file
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import demo_files
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.records.values import Value
from fieldbook.store.book import Book

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(CHROMIUM is None, reason="no Chromium is installed"),
]
WIDTHS = {"phone": 360, "tablet": 768, "laptop": 1280}
NOW = datetime(2026, 5, 20, 12, 0, tzinfo=UTC)
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
            source = paper_source(book, book.load(job.id), NOW)
            found += write_papers(source, folder / str(number))
            found.append(_dispute_sheet(book, source, folder / str(number)))
        found += _settled_with_the_owner(book, folder / "settled")
    return found


def _settled_with_the_owner(book: Book, folder: Path) -> Iterator[Path]:
    """The papers of what is settled with an owner and of a visit, with long and hostile words."""
    open_job = OpenJob(book, book.jobs()[0].id, "RO")
    long = "<b>a word</b> " * 8 + "Unbreakable" * 6
    visit = open_job.add("visit", {"held_on": "2026-05-19", "reason": "repair", "found": long}, "v")
    rows: dict[str, dict[str, Value]] = {
        "visit_step": {"visit_id": visit, "number": 1, "step": long},
        "visit_change": {"visit_id": visit, "thing": long, "before": "1", "after": long},
        "change_order": {"number": 1, "changed": long, "why": long, "price": -1234.5},
        "warranty": {"kind": "controller", "thing": long, "terms": long, "paper": long},
        "punch_item": {"what": long, "where": long},
        "load_item": {"item": long, "needed": 3.0},
    }
    for table, values in rows.items():
        open_job.add(table, values, table)
    source = paper_source(book, open_job.job, NOW)
    names = ("handover-packet", "property", "materials", "load-list", "visit-report")
    yield from write_papers(source, folder, names)


def _dispute_sheet(book: Book, source: PaperSource, folder: Path) -> Path:
    """A sheet about all signatures of a property."""
    file = folder / "dispute.html"
    about = ["sign_off"] if source.job.sign_offs else ["zone"]
    write_dispute(source, claim_of(book, source.job, "never so <b>at all</b>", about), file)
    return file


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
