"""The lines under the sheet: what the cell is, what it can be set to, or why something was not."""

from __future__ import annotations

from collections.abc import Mapping

from textual.content import Content
from textual.widgets import Static

from fieldbook.screens.sheets.drawing import blocks
from fieldbook.screens.sheets.sheet import Cell, Option
from fieldbook.screens.widgets.key_line import Keys
from fieldbook.trade.colours import letter_code

TYPING_KEYS: Keys = (
    ("Enter", "keep"),
    ("Esc", "leave as it was"),
    ("Up Down", "keep and move"),
    ("Ctrl+U", "wipe"),
)


class HintLine(Static):
    """Two lines about the cell under the cursor."""

    def __init__(self) -> None:
        """Empty until told."""
        super().__init__(id="hint-line", markup=False)

    def about(self, cell: Cell | None) -> None:
        """What the cell is and what it takes."""
        self.remove_class("bad")
        if cell is None:
            self.update(Content(""), layout=False)
        elif cell.fact.kind == "colour" and cell.options:
            self.update(_picker(cell.options), layout=False)
        else:
            label = cell.fact.label
            choices = ", ".join([one.word for one in cell.options] or cell.fact.choices)
            text = f"{label}: {cell.fact.why}" if cell.fact.why else label
            if choices:
                room = 2 * ((self.size.width or 80) - 8)
                text = (
                    f"{text} [{choices}]" if len(text + choices) < room else f"{label}: {choices}"
                )
            self.update(Content(text), layout=False)

    def refuse(self, why: str) -> None:
        """Why something was not done."""
        self.add_class("bad")
        self.update(Content(why), layout=False)

    def say(self, what: str) -> None:
        """What was done, or is to be done."""
        self.remove_class("bad")
        self.update(Content(what), layout=False)


def _picker(options: tuple[Option, ...]) -> Content:
    """The free conductors, each with its key, its colour and its word."""
    parts = []
    for option in options:
        drawn = blocks(option.swatch or ("#888888", None))
        shown = [(char, f"{fore} on {back}") for char, fore, back in drawn]
        key = (option.key, "$accent bold")
        word = Content(f"{option.word} {letter_code(option.word)}".rstrip())
        parts.append(Content.assemble(key, " ", *shown, " ", word))
    return Content("   ").join(parts)


def cell_keys(cell: Cell | None, *, differs: bool = False) -> Keys:
    """The keys for the cell under the cursor, the most needed first.

    `differs`: something on the property waits for a choice between versions.
    """
    common = [("Esc", "places"), ("f", "flags"), ("u", "undo"), ("?", "explain")]
    if cell is not None and cell.fact.kind == "text" and not cell.act:
        common = [("Esc", "places"), ("Ctrl+F", "flags"), ("Ctrl+Z", "undo"), ("?", "explain")]
    if differs:
        common.insert(1, ("F6", "settle"))
    if cell is None:
        return common
    row_keys = [
        ("F2", "wire map"),
        ("PgDn", "section"),
        ("Tab", "place"),
        ("Ctrl+D", "remove row"),
        ("Ctrl+A", "attach"),
    ]
    return [*_first_keys(cell), *common, *row_keys]


_BY_ACT: Mapping[str, Keys] = {
    "water": (("Enter", "open"),),
    "ran": (("zone number, Enter", "what ran"),),
    "flush": (("Space", "tick all six"),),
    "sign": (("Space", "sign"), ("Ctrl+O", "override a hold")),
    "sign off": (("Space", "sign"), ("Ctrl+O", "override a hold")),
    "file": (("Enter", "show"),),
    "rule set": (("Enter", "choose"),),
}
_BY_KIND: Mapping[str, Keys] = {
    "tick": (("Space", "yes, no, blank"), ("Enter", "next")),
    "colour": (("letter", "that wire"), ("Enter", "list")),
    "choice": (("type", "its beginning"), ("Enter", "list")),
    "link": (("type", "its beginning"), ("Enter", "list")),
}
_TYPED: Keys = (("type", "to fill in"), ("Enter", "edit"))


def _first_keys(cell: Cell) -> Keys:
    """What is done most on a cell."""
    if cell.act.startswith("add "):
        return (("Enter", "add"),)
    return _BY_ACT.get(cell.act) or _BY_KIND.get(cell.fact.kind, _TYPED)
