"""Photos and papers that are attached to a row of the job."""

from typing import Annotated, ClassVar

from fieldbook.records.base import Place, Record
from fieldbook.records.fact import hidden, whole, words


class Attachment(Record, table="attachment"):
    """An attached file. It lies beside the book, named by `sha256`, the hash of its content."""

    title: ClassVar[str] = "attached file"
    sheet: ClassVar[Place] = "desk"

    of_table: Annotated[str, hidden("Of table")] = ""
    of_row: Annotated[str, hidden("Of row")] = ""
    sha256: Annotated[str, hidden("Hash")] = ""
    name: Annotated[str, words("File")] = ""
    size_bytes: Annotated[int | None, whole("Size, bytes", 0, 10**10)] = None
    taken_at: Annotated[str, words("Taken")] = ""
    position: Annotated[str, words("Position")] = ""
    note: Annotated[str, words("What it shows", wanted=True)] = ""
