"""What all commands share: what is refused is one sentence on standard error."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

import click

from fieldbook.store.errors import BookError

# What a command needs is imported when it runs, for the first frame's sake.
# ruff: noqa: PLC0415

_T = TypeVar("_T")


class ToldError(click.ClickException):
    """One sentence on standard error; exit 2, as 1 says that a check found a stop."""

    exit_code = 2


def told(act: Callable[[], _T]) -> _T:
    """Do it; what is refused becomes one sentence on standard error and exit 2."""
    from fieldbook.actions.work import RefusedError

    try:
        return act()
    except (RefusedError, BookError) as why:
        raise ToldError(plain(str(why))) from why


def plain(text: str) -> str:
    """Text that a terminal shows and doesn't obey."""
    from fieldbook.records.values import printable

    return printable(text)
