"""Draw the README's picture from the real screen: python tests/draw_picture.py.

It opens the demo, goes to the controller of a property with crossed wires and saves what is
painted there. The fonts are whatever the reader's machine has.
"""

from __future__ import annotations

import asyncio
import re
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).with_name("support")))

from crew import at_the_truck

PICTURE = Path(__file__).resolve().parent.parent / ".pictures" / "controller.svg"


async def draw() -> str:
    """Draw the controller of a property with crossed wires, as SVG."""
    async with at_the_truck(None, (116, 26)) as crew:
        addresses = [line.address for line in crew.lines]
        await crew.press(*["down"] * addresses.index("31 Mill Street"), "enter")
        await crew.go("controller")
        svg = crew.app.export_screenshot(title="fieldbook")
    svg = re.sub(r"@font-face \{.*?\}\n", "", svg, flags=re.DOTALL)
    return re.sub(r"[ \t]+$", "", svg, flags=re.MULTILINE)


if __name__ == "__main__":
    PICTURE.write_text(asyncio.run(draw()), encoding="utf-8")
