"""The lines under the sheet: what the cell is and takes, what was done, or why it was refused."""

from __future__ import annotations

from collections.abc import Mapping
from textwrap import wrap

from textual import events
from textual.content import Content
from textual.style import Style
from textual.widgets import Static

from fieldbook.actions.keymap import KeyWords, in_keys_in_use, key_of
from fieldbook.languages.in_use import say, shown
from fieldbook.screens.sheets.sheet import Cell, Option
from fieldbook.screens.widgets.terminal_cells import blocks
from fieldbook.trade.colours import letter_code

TYPING_KEYS: KeyWords = (
    ("Enter", "keep"),
    ("Esc", "leave as it was"),
    ("Tab Up Down", "keep and move"),
    ("Ctrl+U", "wipe"),
)

ROW_KEYS: KeyWords = (("Enter", "whole row"), ("Right", "first cell"))
_POINTED = "wire"
"""The name under which a conductor's words hold its key, for a click on them."""
_MORE = " ... (?: more)"


class HintLine(Static):
    """Two lines about the cell under the cursor."""

    def __init__(self) -> None:
        """Empty until a cell is described."""
        super().__init__(id="hint-line", markup=False)
        self._about: Cell | None = None
        self._shown: object = None

    def on_click(self, event: events.Click) -> None:
        """Press the key of the conductor that is pointed at."""
        if key := event.style.meta.get(_POINTED):
            self.app.simulate_key(key)

    def on_resize(self) -> None:
        """Fit the description of the cell to the new width."""
        if self._about is not None:
            self.about(self._about)

    def about(self, cell: Cell | None) -> None:
        """Describe the cell: its name, why it is asked, what it can be set to if that fits."""
        if cell is None:
            self._show(Content(""))
        elif cell.fact.kind == "colour" and cell.options:
            self._show(_picker(cell.options, (self.size.width or 80) - 2))
        else:
            label, why = say(cell.fact.label), say(cell.fact.why)
            choices = ", ".join(map(shown, cell.words))
            text = in_keys_in_use(f"{label}: {why}" if why else label)
            if choices:
                room = 2 * ((self.size.width or 80) - 8)
                fits = len(text + choices) < room
                text = f"{text} [{choices}]" if fits else f"{label}: {choices}"
            self._show(Content(self._in_two_lines(text)))
        self._about = cell

    def about_row(self, name: str) -> None:
        """Say what the name of a row is for."""
        does = say("Enter shows every field of the row, whole.")
        self._show(Content(f"{name}: {does}"))

    def _in_two_lines(self, text: str) -> str:
        """The text, or what of it has room, with the key that shows the rest."""
        # Blanks are drawn as one here: wrapping would drop those at the ends of lines anyway.
        room, more = (self.size.width or 80) - 2, say(_MORE)
        return "\n".join(wrap(text, room, max_lines=2, placeholder=more))

    def refuse(self, why: str) -> None:
        """Say why something was not done, whole however long it is."""
        self._show(Content(in_keys_in_use(shown(why))), bad=True, whole=True)

    def say(self, what: str) -> None:
        """Say what was done, or is to be done, whole however long it is."""
        self._show(Content(in_keys_in_use(shown(what))), whole=True)

    def _show(self, text: Content, *, bad: bool = False, whole: bool = False) -> None:
        self._about = None
        # Contents are equal to Textual where their texts are.
        shown = text.plain, text.spans, bad, whole
        if shown == self._shown:
            return
        self._shown = shown
        self.set_class(bad, "bad")
        self.set_class(whole, "whole")
        # Only a text shown whole may change the height; laying out again at each key is slow.
        self.update(text, layout=whole)


def _picker(options: tuple[Option, ...], width: int) -> Content:
    """The free conductors, each with its key, its colour and its word; none is broken at an end."""
    lines: list[list[Content]] = [[]]
    room = width
    for option in options:
        drawn = blocks(option.swatch or ("#888888", None))
        shown = [(char, f"{fore} on {back}") for char, fore, back in drawn]
        key = (option.key, "$accent bold")
        word = Content(f"{say(option.word)} {letter_code(option.word)}".rstrip())
        pointed = Style.from_meta({_POINTED: option.key})
        part = Content.assemble(key, " ", *shown, " ", word).stylize(pointed)
        if lines[-1] and part.cell_length > room:
            lines.append([])
            room = width
        lines[-1].append(part)
        room -= part.cell_length + 3
    return Content("\n").join([Content("   ").join(line) for line in lines])


def cell_keys(cell: Cell | None, *, differs: bool = False) -> KeyWords:
    """The keys for the cell under the cursor, the most needed first.

    `differs`: laptops entered something on the property differently, and F6 settles it.
    """
    common = [
        ("Esc", "places"),
        (key_of("flags"), "flags"),
        (key_of("undo"), "undo"),
        (key_of("palette"), "all"),
        ("?", "explain"),
    ]
    if differs:
        common.insert(0, (key_of("settle"), "settle"))
    if cell is None:
        return [*ROW_KEYS, *common]
    row_keys = [
        (key_of("next_wanted"), "next open"),
        (key_of("wire_map"), "wire map"),
        (key_of("next_section"), "section"),
        (key_of("remove_row"), "remove row"),
        (key_of("attach"), "attach"),
    ]
    return [*_first_keys(cell), *common, *row_keys]


_BY_KIND: Mapping[str, KeyWords] = {
    "tick": (("Space", "yes, no, blank"), ("y n", "yes, no"), ("Enter", "next")),
    "colour": (("letter", "that wire"), ("Enter", "list")),
    "choice": (("type", "its beginning"), ("Enter", "list")),
    "link": (("type", "its beginning"), ("Enter", "list")),
}
_TYPED: KeyWords = (("type", "to fill in"), ("Enter", "edit"))


def _first_keys(cell: Cell) -> KeyWords:
    """The keys that are used most on a cell."""
    return cell.press.keys if cell.press is not None else _BY_KIND.get(cell.fact.kind, _TYPED)
