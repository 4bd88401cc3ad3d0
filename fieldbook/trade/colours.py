"""Conductor colours: the words that are understood, how each is drawn, and its letter code.

Irrigation cable follows no standard order of colours, so a crew types the colours it sees. Letter
codes are those of IEC 60757 (from memory); a colour without a code there has none here.
"""

from __future__ import annotations

from collections.abc import Mapping

BASE_COLOURS: Mapping[str, str] = {
    "white": "#f4f4f0",
    "black": "#1c1c1c",
    "red": "#c62828",
    "blue": "#2f5fd0",
    "green": "#2e8b3d",
    "yellow": "#e6c81e",
    "orange": "#e67a1e",
    "brown": "#7a4a24",
    "violet": "#7c4bb0",
    "pink": "#e58fb0",
    "tan": "#c8a878",
    "gray": "#8a8d8f",
    "turquoise": "#35b3b0",
    "clear": "#d9e2e4",
}
"""By the word for a colour, how it is drawn."""
_PATTERNS = dict(zip(BASE_COLOURS, "░▓▚▞▒▀▄▌▐▖▗▘▝▛", strict=True))
_OTHER_WORDS = {
    "grey": "gray",
    "slate": "gray",
    "purple": "violet",
    "beige": "tan",
    "wht": "white",
    "blk": "black",
    "blu": "blue",
    "grn": "green",
    "yel": "yellow",
    "org": "orange",
    "brn": "brown",
    "gry": "gray",
    "pur": "violet",
    "pnk": "pink",
}
_CODES = {
    "black": "BK",
    "brown": "BN",
    "red": "RD",
    "orange": "OG",
    "yellow": "YE",
    "green": "GN",
    "blue": "BU",
    "violet": "VT",
    "gray": "GY",
    "white": "WH",
    "pink": "PK",
    "turquoise": "TQ",
}
_UNMARKED = "unmarked"
_MOST_UNMARKED = 200
_LONGEST = 40


def parse_colour(text: str) -> str:
    """The stored spelling of a typed colour: "red", "red/black" (base/stripe) or "unmarked 3".

    Understood are also "red with black stripe", "red-black", and the beginning of a word where
    only one colour begins so. Raises ValueError, with one sentence for the crew, otherwise.
    """
    typed = " ".join(text.casefold().split())
    if not typed:
        raise ValueError("Type a colour such as red, or red/black for one with a stripe.")
    if len(typed) > _LONGEST:
        raise ValueError("That is too long for a colour: type one such as red/black.")
    if typed.split()[0] == _UNMARKED:
        return _unmarked(typed)
    for joint in (" with a ", " with ", " and ", "-", "/ ", " /"):
        typed = typed.replace(joint, "/")
    typed = typed.removesuffix(" stripe").removesuffix(" striped")
    words = [part for part in typed.split("/") if part]
    if not 1 <= len(words) <= 2:
        raise ValueError(f"“{typed}” is not one colour: type one such as red, or red/black.")
    named = [_base(word.strip()) for word in words]
    if len(named) == 2 and named[0] == named[1]:
        raise ValueError(f"A {named[0]} stripe on {named[0]} can't be seen: type {named[0]}.")
    return "/".join(named)


def swatch(colour: str) -> tuple[str, str | None]:
    """How a colour is drawn, as "#rrggbb": its base, and its stripe or None."""
    base, _, stripe = colour.partition("/")
    return BASE_COLOURS.get(base, "#9a9a9a"), BASE_COLOURS.get(stripe)


def pattern(drawn: str) -> str:
    """The block for a base colour given as "#rrggbb": each has its own, so hue is not all."""
    for word, value in BASE_COLOURS.items():
        if value == drawn:
            return _PATTERNS[word]
    return "█"


def letter_code(colour: str) -> str:
    """The letters of IEC 60757, such as "RD" or "RDBK"; empty where a word has no code."""
    codes = [_CODES.get(word, "") for word in colour.split("/")]
    return "".join(codes) if all(codes) else ""


def _unmarked(typed: str) -> str:
    number = typed.removeprefix(_UNMARKED).strip(" #")
    if not (number.isascii() and number.isdigit() and 1 <= int(number[:9]) <= _MOST_UNMARKED):
        raise ValueError("Give an unmarked conductor the number you rang it out as: unmarked 3.")
    return f"{_UNMARKED} {int(number)}"


def _base(word: str) -> str:
    if word in BASE_COLOURS:
        return word
    if word in _OTHER_WORDS:
        return _OTHER_WORDS[word]
    found = [name for name in BASE_COLOURS if name.startswith(word)]
    if len(found) == 1:
        return found[0]
    if found:
        raise ValueError(f"“{word}” could be {' or '.join(found)}: type more of it.")
    raise ValueError(f"“{word}” is not a colour: use {', '.join(BASE_COLOURS)} or unmarked 3.")
