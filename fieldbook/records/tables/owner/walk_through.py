"""The walk-through with the owner: what was shown, what was handed over, or the refusal.

It is signed as a sign-off of the kind "walk-through", which covers the rows of both tables.
"""

from typing import Annotated, ClassVar

from fieldbook.records.base import Place, Record
from fieldbook.records.fact import amount, clock, hidden, tick, words
from fieldbook.units import MINUTES

HANDED_OVER = ("season_taught", "checklist", "manual", "schedule", "parts_list", "drawing")
"""What the owner is taught and given, by column."""
WALK_THROUGH_SOURCE = "30 Tex. Admin. Code 344.63."
TAUGHT_SOURCE = "21 NCAC 23 .0510(b)."
SHOWN_SOURCE = "Laredo, Texas, 25-87: each zone is demonstrated for 5 minutes."


class WalkThrough(Record, table="walk_through"):
    """The owner's walk-through. `refused` with `refused_at`, where the owner did not sign."""

    title: ClassVar[str] = "walk-through"
    sheet: ClassVar[Place] = "desk"
    once: ClassVar[bool] = True

    owner: Annotated[str, words("Owner", "The name of the person who was shown the system.")] = ""
    held_at: Annotated[
        str | None, clock("Held at", "The day and hour at which the walk-through ended.")
    ] = None
    shown_by: Annotated[str, words("Shown by", "Who showed the system.")] = ""
    season_taught: Annotated[
        bool | None,
        tick(
            "Seasons taught",
            "The owner was taught that the need for water changes with the season.",
            source=TAUGHT_SOURCE,
        ),
    ] = None
    checklist: Annotated[
        bool | None,
        tick(
            "Maintenance list",
            "Handed over, signed.",
            source=WALK_THROUGH_SOURCE,
        ),
    ] = None
    manual: Annotated[
        bool | None,
        tick("Controller manual", "Handed over.", source=WALK_THROUGH_SOURCE),
    ] = None
    schedule: Annotated[
        bool | None,
        tick("Seasonal schedule", "Handed over, for the whole year.", source=WALK_THROUGH_SOURCE),
    ] = None
    parts_list: Annotated[
        bool | None,
        tick("Parts list", "Handed over: the parts that were put in.", source=WALK_THROUGH_SOURCE),
    ] = None
    drawing: Annotated[
        bool | None,
        tick("Plan as installed", "Handed over.", source=WALK_THROUGH_SOURCE),
    ] = None
    refused: Annotated[
        bool | None,
        tick(
            "Owner refused",
            "The owner did not sign; the day and the hour of the refusal are recorded.",
            either=True,
            source=WALK_THROUGH_SOURCE,
        ),
    ] = None
    refused_at: Annotated[
        str | None, clock("Refused at", "The day and the hour: a refusal without is incomplete.")
    ] = None


class ZoneShown(Record, table="zone_shown"):
    """For how long one zone ran while the owner watched."""

    title: ClassVar[str] = "zone shown to the owner"
    sheet: ClassVar[Place] = "desk"

    zone_id: Annotated[str, hidden("Zone", "zone")] = ""
    shown_min: Annotated[
        float | None,
        amount("Shown for", MINUTES, (0, 240), "While the owner watched.", source=SHOWN_SOURCE),
    ] = None
