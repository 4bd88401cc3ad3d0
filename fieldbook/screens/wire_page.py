"""The page that F2 opens: the wire map with its evidence, every doubt, pictures of both ends."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from fieldbook.papers.picture import Picture, Piece
from fieldbook.papers.wire_map import doubt_lines, map_lines, reach_lines
from fieldbook.papers.wire_pictures import box_pictures, strip_picture
from fieldbook.records.loaded import LoadedJob
from fieldbook.screens.drawing import blocks
from fieldbook.screens.literal import content, page_width

_TITLE = "$primary bold"
_CAUTION = (
    "Power off before the controller is opened. Its mains side is a licensed electrician's work; "
    "local electrical code governs."
)


class WirePage(ModalScreen[None]):
    """Where each wire leads and why; Esc, Enter, q or F2 puts it away."""

    BINDINGS: ClassVar[list[BindingType]] = [("escape,enter,q,f2", "dismiss(None)", "Back")]

    def __init__(self, job: LoadedJob) -> None:
        """The wire of a job as it stands now."""
        super().__init__()
        self._job = job

    def compose(self) -> ComposeResult:
        """Map, doubts, pictures."""
        with VerticalScroll(classes="dialog page"):
            yield Static(id="wires", markup=False)
            yield Static(content("Esc puts this away."), classes="faint")

    def on_resize(self) -> None:
        """Draw for the width there is."""
        lines = _lines(self._job, page_width(self.app.size.width))
        self.query_one("#wires", Static).update(Content("\n").join(list(lines)))


def _lines(job: LoadedJob, width: int) -> Iterator[Content]:
    yield Content.styled("Wire map", _TITLE)
    for line in map_lines(job) or ["No wire is entered under any terminal yet."]:
        yield Content(line)
    doubts = doubt_lines(job)
    if doubts:
        yield Content("")
        yield Content.styled("What does not fit, and what could explain it", _TITLE)
        yield from map(Content, doubts)
    for picture in (strip_picture(job, width), *box_pictures(job)):
        yield Content("")
        yield from picture_lines(picture)
    yield Content("")
    yield Content.styled("How far a valve may be from the controller", _TITLE)
    yield from map(Content, reach_lines(job))
    yield Content("")
    yield Content.styled(_CAUTION, "$warning")


def picture_lines(picture: Picture) -> Iterator[Content]:
    """A picture's lines, its swatches in their colours."""
    yield Content.styled(picture.title, _TITLE)
    for line in picture.lines:
        yield Content.assemble(*(part for piece in line for part in _parts(piece)))


def _parts(piece: Piece) -> list[Content | tuple[str, str]]:
    if piece.swatch is None:
        return [Content(piece.text)]
    drawn = blocks(piece.swatch)
    return [*((char, f"{fore} on {back}") for char, fore, back in drawn), Content(f" {piece.text}")]
