"""What Enter does on a zone of the section “What is wrong”."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from fieldbook.actions.keymap import KeyWords


@dataclass(frozen=True)
class OpenDiagnosis:
    """Enter opens the page that ranks what could be wrong with a zone."""

    zone_id: str
    keys: ClassVar[KeyWords] = (("Enter", "what is wrong"),)
