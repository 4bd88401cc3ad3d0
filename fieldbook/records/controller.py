"""The controller and its terminals, with the colours seen at that end."""

from __future__ import annotations

from typing import Annotated, ClassVar

from sqlmodel import Field

from fieldbook.records.base import Record
from fieldbook.records.fact import conductor_colour, hidden, link, tick, whole, words

ROLES = ("zone", "common", "master")


class Controller(Record, table=True):
    """Where the wire ends. The mains side belongs to a licensed electrician."""

    __tablename__ = "controller"
    title: ClassVar[str] = "controller"
    once: ClassVar[bool] = True

    location: Annotated[str, words("Where", "Which wall, which room.", wanted=True)] = ""
    stations: Annotated[
        int | None, whole("Zone terminals", 1, 200, "How many it has.", wanted=True)
    ] = None
    outdoors: Annotated[
        bool | None, tick("Mounted outdoors", "Does it hang outside?", wanted=True, either=True)
    ] = None
    outdoor_model: Annotated[
        bool | None, tick("Made for outdoors", "Its enclosure is rated for weather.")
    ] = None
    supply_near: Annotated[
        bool | None,
        tick(
            "Supply near",
            "A socket or circuit within reach, not switched. Mains work is for a licensed "
            "electrician; local electrical code governs.",
            wanted=True,
        ),
    ] = None
    wire_in_conduit: Annotated[
        bool | None,
        tick(
            "Wire in conduit",
            "Exposed field wire runs in conduit from the ground to the controller.",
            wanted=True,
            source="NEC 300.5(D)(1) for raceway leaving the ground; common practice for Class 2.",
        ),
    ] = None
    rain_sensor: Annotated[
        bool | None, tick("Rain sensor", "Fitted in open sky and connected.", wanted=True)
    ] = None


class Terminal(Record, table=True):
    """One terminal and the conductor under it, whatever the box end says.

    A zone terminal serves the zone of its number unless `zone_id` says otherwise.
    """

    __tablename__ = "terminal"
    title: ClassVar[str] = "terminal"

    role: Annotated[str, hidden("Role")] = "zone"
    number: Annotated[int | None, whole("Terminal", 1, 200)] = None
    zone_id: Annotated[
        str | None, link("Zone", "zone", "Blank is the zone of the same number.")
    ] = Field(default=None)
    cable_id: Annotated[str | None, link("Cable", "cable", "Blank is the job's only cable.")] = (
        Field(default=None)
    )
    colour: Annotated[
        str | None,
        conductor_colour(
            "Wire", "The conductor under this terminal, seen at the controller.", wanted=True
        ),
    ] = None
