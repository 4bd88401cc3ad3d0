"""A program that runs the app without a screen, enters something, and waits to be ended."""

from __future__ import annotations

import asyncio
import sys
from pathlib import Path

from fieldbook.screens.app import FieldbookApp


async def run(path: Path) -> None:
    """Open the book at `path`, undo its newest entry, say so, and wait."""
    app = FieldbookApp(path)

    async def wait_for_the_end() -> None:
        while app._book is None:
            await asyncio.sleep(0.02)
        app._book.book.undo(app._book.book.jobs()[0].id, by="AB")
        print("entered", flush=True)

    task = asyncio.create_task(wait_for_the_end())
    await app.run_async(headless=True)
    await task


if __name__ == "__main__":
    asyncio.run(run(Path(sys.argv[1])))
