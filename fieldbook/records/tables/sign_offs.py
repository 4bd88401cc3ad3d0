"""Sign-offs: who said that work may go on, when, and over which entries.

A sign-off is never edited; a later one supersedes it.
"""

from collections.abc import Mapping
from typing import Annotated, ClassVar

from fieldbook.records.base import Place, Record
from fieldbook.records.fact import hidden, moment, words

SIGN_OFF_PLACES: Mapping[str, Place] = {
    "price": "desk",
    "dig": "ground",
    "pressurise": "ground",
    "energise": "controller",
    "wire backfill": "boxes",
    "in service": "street",
    "walk-through": "desk",
    "handover": "desk",
    "close": "desk",
}
"""The place of the work that each sign-off of a whole job lets go on: it is signed there."""
WITHDRAWN = "withdrawn"
"""The state of a sign-off that takes back the one it supersedes."""
SETTLED = "settled"
"""The state of a row that only says that the row it supersedes no longer rivals another.

A row supersedes one other. Where two laptops signed apart, the next signature supersedes one of
their rows, and a row of this state the other.
"""


class SignOff(Record, table="sign_off"):
    """One signature. The newest of a kind and stretch counts, the others are its history.

    `covered` is a JSON object: for each table, the digest of the rows that the signature covers.
    `overridden` names the holds that were not met, `override_by` and `override_reason` say who let
    the work go on and why. A countersignature is a row too, with the number of its signer's
    `licence`; one of a signature names that row in `countersigns`.
    """

    title: ClassVar[str] = "sign-off"
    sheet: ClassVar[Place] = "desk"

    kind: Annotated[str, hidden("Kind")] = ""
    zone_id: Annotated[str | None, hidden("Zone", "zone")] = None
    state: Annotated[str, hidden("State")] = "signed"
    signed_by: Annotated[str, hidden("Signed by")] = ""
    signed_at: Annotated[str, moment("Signed at")] = ""
    digest: Annotated[str, hidden("Digest")] = ""
    covered: Annotated[str, hidden("Covered")] = ""
    overridden: Annotated[str, hidden("Holds overridden")] = ""
    override_by: Annotated[str, words("Override by")] = ""
    override_reason: Annotated[str, words("Override reason")] = ""
    supersedes: Annotated[str | None, hidden("Supersedes", "sign_off")] = None
    licence: Annotated[str, words("Licence", "Of whoever countersigned.")] = ""
    countersigns: Annotated[str | None, hidden("Countersigns", "sign_off")] = None
