"""Add another controller, a two-wire path, or a decoder: each begins with what is likely."""

from __future__ import annotations

from fieldbook.actions.open_job import OpenJob
from fieldbook.records.values import Value

_LETTERS = "BCDEFGHIJKLMNOPQRSTUVWXYZ"
"""The first controller has no letter."""


def add_controller(open_job: OpenJob) -> str:
    """Add a controller beside the first, named by the next letter; returns its id."""
    used = {one.name.strip() for one in open_job.job.other_controllers}
    name = next((letter for letter in _LETTERS if letter not in used), "")
    return open_job.add("other_controller", {"name": name}, "controller added")


def add_path(open_job: OpenJob) -> str:
    """Add a two-wire path, named by the next number; returns its id."""
    used = {path.name.strip() for path in open_job.job.two_wire_paths}
    name = next(str(number) for number in range(1, len(used) + 2) if str(number) not in used)
    return open_job.add("two_wire_path", {"name": name}, "two-wire path added")


def add_decoder(open_job: OpenJob) -> str:
    """Add a decoder of the next zone without one, in the box of the last; returns its id."""
    job = open_job.job
    served = {decoder.zone_id for decoder in job.decoders}
    zone = next((zone for zone in job.zones if zone.id not in served), None)
    last = job.decoders[-1] if job.decoders else None
    first_box = job.valve_boxes[0].id if len(job.valve_boxes) == 1 else None
    values: dict[str, Value] = {
        "zone_id": zone.id if zone is not None else None,
        "box_id": last.box_id if last is not None else first_box,
        "path_id": last.path_id if last is not None else None,
    }
    return open_job.add("decoder", values, "decoder added")
