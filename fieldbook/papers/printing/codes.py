"""QR codes that hold plain text, as SVG."""

from __future__ import annotations

import io
from functools import lru_cache

import segno

DAMAGE = "15 %"
"""How much of a code may be dirty or torn: error level M of ISO/IEC 18004 restores about 15 %."""

MOST_BYTES = 600
"""Most bytes of one code, so that a phone reads it from a card of 2 in.

Common practice, no source: 600 bytes make a code of about 93 modules a side, 0.5 mm each.
"""


@lru_cache(maxsize=64)
def code_svg(text: str) -> str:
    """The text as the SVG of one QR code, with the quiet zone of four modules that readers need."""
    # mode and encoding are fixed, so that a phone never guesses at the letters.
    code = segno.make(text, error="m", encoding="utf-8", micro=False, boost_error=False)
    out = io.BytesIO()
    code.save(out, kind="svg", scale=4, border=4, dark="#000000", light="#ffffff", xmldecl=False)
    return out.getvalue().decode()


def split_text(title: str, lines: tuple[str, ...], most: int = MOST_BYTES) -> tuple[str, ...]:
    """Lines as texts of at most `most` bytes, each under the title and "1 of 3" where several.

    A line is never broken: one that is longer than `most` makes a text of its own.
    """
    head = len(f"{title} 99 of 99\n".encode())
    parts: list[list[str]] = [[]]
    room = most - head
    for line in lines:
        size = len(f"{line}\n".encode())
        if parts[-1] and size > room:
            parts.append([])
            room = most - head
        parts[-1].append(line)
        room -= size
    if len(parts) == 1:
        return ("\n".join([title, *parts[0]]),)
    return tuple(
        "\n".join([f"{title} {number} of {len(parts)}", *part])
        for number, part in enumerate(parts, start=1)
    )
