"""What Enter does on the drawing of an audit."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from fieldbook.actions.keymap import KeyWords


@dataclass(frozen=True)
class OpenAudit:
    """Enter draws the cans of an audit."""

    audit_id: str
    keys: ClassVar[KeyWords] = (("Enter", "draw it"),)
