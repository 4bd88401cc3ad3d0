"""What papers are made from: a job, its verdicts, the instant, the firm and the photos."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime

from fieldbook.checks.verdicts import Verdicts
from fieldbook.languages.language_texts import Language
from fieldbook.papers.paper import Block, Paper
from fieldbook.records.loaded_job import LoadedJob


@dataclass(frozen=True)
class Firm:
    """The installer as papers name it; blanks are left out."""

    name: str = ""
    address: str = ""
    phone: str = ""
    licence: str = ""

    @property
    def line(self) -> str:
        """The firm on one line."""
        parts = (self.name, self.address, self.phone, self.licence)
        return ", ".join(part for part in parts if part.strip())


@dataclass(frozen=True)
class PaperSource:
    """All that a paper may show. `say` puts a sentence of ours into the language of the paper.

    `shown` does so with what may have been entered by a person: that, `entered`, stays as it is.

    `now` is the instant, with its offset, at which checks and signatures are asked. `photos` are
    JPEG bytes by the id of the attachment; a file that is missing has none.
    """

    job: LoadedJob
    verdicts: Verdicts
    now: datetime
    firm: Firm = Firm()
    photos: Mapping[str, bytes] = field(default_factory=dict)
    language: Language = "en"
    say: Callable[[str], str] = str
    shown: Callable[[str], str] = str
    entered: frozenset[str] = frozenset()

    @property
    def today(self) -> date:
        """The day that stands on the paper."""
        return self.now.date()

    def paper(self, name: str, title: str, blocks: list[Block]) -> Paper:
        """A paper of this property and this day, made by this firm."""
        lines = [self.job.job.address.strip() or self.say("Property without an address")]
        if self.firm.line:
            lines.append(self.firm.line)
        lines.append(self.say("As recorded on {day}").format(day=self.today.isoformat()))
        return Paper(name, title, tuple(lines), tuple(blocks), self.language)
