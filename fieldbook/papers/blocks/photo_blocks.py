"""Photos on paper, each with what it shows and when it was taken."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.paper import Block, Heading, Paragraph, Photo
from fieldbook.records.tables.attachments import Attachment


def photos_of(
    source: PaperSource, tables: Collection[str], rows: Collection[str] | None = None
) -> Iterator[Block]:
    """The photos that are attached to rows of these tables, and what files are not printed.

    `rows` leaves only those of rows with these ids.
    """
    files = [
        file
        for file in source.job.attachments
        if file.of_table in tables and (rows is None or file.of_row in rows)
    ]
    if files:
        yield Heading(source.say("Photos"))
    for file in files:
        shows = file.note.strip() or file.name
        jpeg = source.photos.get(file.id)
        if jpeg is None:
            words = source.say("Attached file {name} is not printed here.")
            yield Paragraph(words.format(name=shows))
        else:
            yield Photo(jpeg, shows, _caption(source, file, shows))


def _caption(source: PaperSource, file: Attachment, shows: str) -> str:
    if not file.taken_at:
        return shows
    return source.say("{what}, taken {when}").format(what=shows, when=file.taken_at)
