"""The lines under the sheet: what the cell is, what it can be set to, or why something was not."""

from __future__ import annotations

from textual.content import Content
from textual.widgets import Static

from fieldbook.screens.key_line import Keys
from fieldbook.screens.places.sheet import Cell, Option


class HintLine(Static):
    """Two lines about the cell under the cursor."""

    def __init__(self) -> None:
        """Empty until told."""
        super().__init__(id="hint-line", markup=False)

    def about(self, cell: Cell | None) -> None:
        """What the cell is and what it takes."""
        self.remove_class("bad")
        if cell is None:
            self.update(Content(""))
        elif cell.fact.kind == "colour" and cell.options:
            self.update(_picker(cell.options))
        else:
            label = cell.fact.label
            choices = ", ".join([one.word for one in cell.options] or cell.fact.choices)
            text = f"{label}: {cell.fact.why}" if cell.fact.why else label
            self.update(Content(f"{text} [{choices}]" if choices else text))

    def refuse(self, why: str) -> None:
        """Why something was not done."""
        self.add_class("bad")
        self.update(Content(why))

    def say(self, what: str) -> None:
        """What was done, or is to be done."""
        self.remove_class("bad")
        self.update(Content(what))


def _picker(options: tuple[Option, ...]) -> Content:
    """The free conductors, each with its key, its colour and its word."""
    parts = []
    for option in options:
        base, stripe = option.swatch or ("#888888", None)
        parts.append(
            Content.assemble(
                (option.key, "$accent bold"),
                " ",
                ("█", base),
                ("█", stripe or base),
                " ",
                Content(option.word),
            )
        )
    return Content("   ").join(parts)


def cell_keys(cell: Cell | None) -> Keys:
    """The keys for the cell under the cursor, the most needed first."""
    common = [("Esc", "places"), ("f", "flags"), ("u", "undo"), ("?", "explain")]
    if cell is None:
        return common
    typing = cell.takes_text
    if typing:
        common = [("Esc", "places"), ("Ctrl+F", "flags"), ("u", "undo"), ("?", "explain")]
    first: list[tuple[str, str]] = []
    if cell.act.startswith("add "):
        first = [("Enter", "add")]
    elif cell.act == "flush":
        first = [("Space", "tick all six")]
    elif cell.act == "sign":
        first = [("Space", "sign")]
    elif cell.fact.kind == "tick":
        first = [("Space", "yes, no, blank"), ("Enter", "next")]
    elif cell.fact.kind == "colour":
        first = [("letter", "that wire"), ("Enter", "list")]
    elif cell.fact.kind in ("choice", "link"):
        first = [("type", "its beginning"), ("Enter", "list")]
    else:
        first = [("type", "to fill in"), ("Enter", "edit")]
    row_keys = [("PgDn", "section"), ("Tab", "place"), ("Ctrl+D", "remove row")]
    return [*first, *common, *row_keys]
