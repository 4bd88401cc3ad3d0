"""Draw the README's pictures from the real screens: python tests/draw_picture.py.

It opens the demo and saves what is painted of the board, of a controller with crossed wires, of a
zone's water and of a property in service. With Chromium it also takes a picture of a tablet that
`fieldbook serve` shows.
"""

from __future__ import annotations

import asyncio
import sys
from pathlib import Path

sys.path.append(str(Path(__file__).parent / "support"))
sys.path.append(str(Path(__file__).parent / "support" / "browser"))
sys.path.append(str(Path(__file__).parent / "support" / "pictures"))

from a_browser import CHROMIUM, a_browser
from a_server import a_server
from crew import Crew, at_the_truck
from one_day import on_one_day
from screen_picture import ScreenPicture

PICTURES = Path(__file__).resolve().parent.parent / ".pictures"
BOARD, PLACE, PAGE = (110, 18), (116, 27), (106, 44)


async def draw() -> None:
    """Draw four screens as SVG."""
    async with at_the_truck(None, BOARD) as crew:
        await keep(crew, "board")
        await crew.pilot.resize_terminal(*PLACE)
        await crew.open("31 Mill Street", "controller")
        await keep(crew, "controller")
        await crew.go("desk")
        await crew.stand_on("zone", "water")
        await crew.pilot.resize_terminal(*PAGE)
        await crew.press("enter")
        await crew.app.workers.wait_for_complete()
        await keep(crew, "zone")
        await crew.press("escape", "ctrl+b", "home")
        await crew.pilot.resize_terminal(*PLACE)
        await crew.open("3 Juniper Court", "service")
        await crew.stand_on("visit", "found")
        await keep(crew, "service")


async def keep(crew: Crew, name: str) -> None:
    """Save the screen in front."""
    await crew.pilot.pause()
    picture = ScreenPicture(crew.app.screen._compositor.render_strips())
    (PICTURES / f"{name}.svg").write_text(picture.svg(), encoding="utf-8")


async def photograph() -> None:
    """Take a picture of a tablet on which a wire is being logged."""
    with a_server("serve", "--demo") as served:
        async with a_browser() as tablet:
            await tablet.open(served.url)
            await tablet.tap_on("208 Quarry Road")
            await tablet.tap_on("2 Valve boxes")
            await tablet.tap_on("1 terrace", right=18)
            await tablet.tap_on("red RD", right=1)
            await tablet.wait_for("red RD", gone=True)
            (PICTURES / "tablet.png").write_bytes(await tablet.picture())


if __name__ == "__main__":
    with on_one_day():
        asyncio.run(draw())
    if CHROMIUM is not None:
        asyncio.run(photograph())
