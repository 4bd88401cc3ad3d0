"""A run that writes the papers of one property in a thread, while the crew goes on entering."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime
from importlib.util import find_spec
from pathlib import Path
from threading import Event

from fieldbook.actions.files.file_names import documents_folder, file_stem
from fieldbook.actions.files.write_papers import Kind, paper_source, write_papers
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError, typed_path
from fieldbook.languages.in_use import language_in_use
from fieldbook.papers.contents.catalogue import NAMES
from fieldbook.store.errors import BookError

PAPER_WORDS = {name: name.replace("-", " ").capitalize() for name in NAMES}
"""What the crew calls each paper, by its name."""


def papers_folder(open_job: OpenJob) -> Path:
    """Where papers are written unless another folder is named: beside the book.

    A scratch book is removed with its folder, so its papers go where documents are.
    """
    book = open_job.book
    beside = documents_folder() if book.scratch else book.path.parent
    return beside / file_stem(open_job.job.job.address, "papers")


def typed_folder(typed: str) -> Path:
    """The folder that was typed; it may begin with ~. Raises RefusedError for a blank or a file."""
    if not typed.strip():
        raise RefusedError("Type the path of a folder, or press Esc to leave it.")
    path = typed_path(typed).absolute()
    if path.exists() and not path.is_dir():
        raise RefusedError(f"{path} is a file: type the path of a folder.")
    return path


def can_write_pdf() -> bool:
    """Whether the extra that sets PDFs is installed; it is not imported to find out."""
    return find_spec("typst") is not None


class PaperRun:
    """The papers of a property as it is when the run is made, in the language then in use.

    One thread calls `write`.

    What the run has done is read by another thread: each attribute is only ever set whole.
    `doing` names the paper that is being written, `written` are the files so far, `fault` is the
    sentence that ended the run early, `over` says that no file follows.
    """

    def __init__(
        self, open_job: OpenJob, folder: Path, names: Sequence[str], kinds: Sequence[Kind]
    ) -> None:
        """`names` are papers of the catalogue, written in this order, each in all `kinds`."""
        self.folder, self.names = folder, tuple(names)
        self._kinds = tuple(kinds)
        # The thread must not touch the book's connection: it reads this job and files beside it.
        self._book, self._job = open_job.book, open_job.job
        self._language, self._stop = language_in_use(), Event()
        self.done, self.doing = 0, ""
        self.written: tuple[Path, ...] = ()
        self.fault, self.over = "", False

    @property
    def stopped(self) -> bool:
        """Whether the crew asked it to stop."""
        return self._stop.is_set()

    def stop(self) -> None:
        """Write no further paper; the one that is being written is finished."""
        self._stop.set()

    def write(self, told: Callable[[], object], given_up: Callable[[], bool]) -> None:
        """Write the papers one after the other; `told` is called whenever something has changed.

        `given_up` says that nobody waits for the run any more. No error leaves this: a fault is
        the sentence `fault`.
        """
        try:
            self._write(told, given_up)
        except (RefusedError, BookError) as why:
            self.fault = str(why)
        except Exception as error:
            # A thread that fails would end the app with a traceback.
            what = f"{type(error).__name__}: {error}"[:120]
            self.fault = f"{PAPER_WORDS.get(self.doing, 'A paper')} can't be made ({what})."
        self.over = True
        told()

    def _write(self, told: Callable[[], object], given_up: Callable[[], bool]) -> None:
        now = datetime.now().astimezone()
        source = paper_source(self._book, self._job, now, self._language)
        for name in self.names:
            if self.stopped or given_up():
                return
            self.doing = name
            told()
            for path in write_papers(source, self.folder, (name,), self._kinds):
                self.written = (*self.written, path)
            self.done += 1
            told()

    def sentence(self) -> str:
        """How the run ended."""
        files = len(self.written)
        count = f"{files} file{'' if files == 1 else 's'}"
        if self.fault:
            return f"{self.fault} {count} written before it." if files else self.fault
        if self.done < len(self.names):
            return f"Stopped after {self.done} of {len(self.names)} papers, in {self.folder}"
        return f"{count} written to {self.folder}"
