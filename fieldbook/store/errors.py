"""The errors of the store. Their text is one plain sentence for the crew."""

from __future__ import annotations


class BookError(Exception):
    """The book can't do what was asked. The sentence says what, where and how to mend it."""


class BookHeldError(BookError):
    """Another program has this book open."""


class DamagedBookError(BookError):
    """The book is damaged, empty or gone, and what is beside it is enough to make it anew."""
