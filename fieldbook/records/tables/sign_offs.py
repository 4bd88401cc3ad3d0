"""Sign-offs: who said what may go on, when, over which facts. Never edited, only superseded."""

from __future__ import annotations

from typing import Annotated, ClassVar

from sqlmodel import Field

from fieldbook.records.base import Place, Record
from fieldbook.records.fact import hidden, moment, words

WITHDRAWN = "withdrawn"


class SignOff(Record, table=True):
    """One signature. The newest of a kind and stretch counts; the others are its history.

    `covered` holds, as JSON, a digest of each table's rows that were signed over. `overridden`
    names the holds that were not met, `override_by` and `override_reason` who let it go on and why.
    """

    __tablename__ = "sign_off"
    title: ClassVar[str] = "sign-off"
    sheet: ClassVar[Place] = "desk"

    kind: Annotated[str, hidden("Kind")] = ""
    zone_id: Annotated[str | None, hidden("Zone", "zone")] = Field(default=None)
    state: Annotated[str, hidden("State")] = "signed"
    signed_by: Annotated[str, hidden("Signed by")] = ""
    signed_at: Annotated[str, moment("Signed at")] = ""
    digest: Annotated[str, hidden("Digest")] = ""
    covered: Annotated[str, hidden("Covered")] = ""
    overridden: Annotated[str, hidden("Holds overridden")] = ""
    override_by: Annotated[str, words("Override by")] = ""
    override_reason: Annotated[str, words("Override reason")] = ""
    supersedes: Annotated[str | None, hidden("Supersedes", "sign_off")] = Field(default=None)
