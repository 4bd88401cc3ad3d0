"""What can go wrong with the book, each as one plain sentence."""

from __future__ import annotations


class BookError(Exception):
    """The book can't do what was asked; the sentence says what, where and how to mend it."""


class BookHeldError(BookError):
    """Another fieldbook has this book open."""
