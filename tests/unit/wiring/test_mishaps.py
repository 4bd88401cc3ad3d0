"""Hand-made wirings of mishaps as crews tell of them: what must be said, and what must not.

`mishaps.toml` beside this file has one entry a mishap. Colours stand in the order of the zones, "-"
for one that is not entered. `ran` is terminal:zones ("0" for nothing), `ohms` terminal:reading,
`boxes` the valve box of each zone. All are common practice, no source.
"""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from builders import CABLE, checked, energised, put, t, wired_job

from fieldbook.checks.wire.doubt_words import LONGEST_LINE, doubt_lines
from fieldbook.papers.wire_map import map_lines
from fieldbook.records.ids import terminal_id, valve_id
from fieldbook.records.loaded_job import LoadedJob

MISHAPS: list[dict[str, object]] = tomllib.loads(
    Path(__file__).with_name("mishaps.toml").read_text("utf-8")
)["mishap"]
NEVER = ("box box", "clear it", "leads to zone None", "{", "proven to be")


def colours(text: object) -> tuple[str | None, ...]:
    """Colours in the order of the zones."""
    return tuple(None if word == "-" else word for word in str(text).split())


def pairs(text: object) -> list[tuple[int, str]]:
    """Pairs of a terminal and what was seen there."""
    split = [pair.split(":") for pair in str(text or "").split()]
    return [(int(number), seen) for number, seen in split]


def job_of(mishap: dict[str, object]) -> LoadedJob:
    """The job as it was entered."""
    box, under = colours(mishap["box"]), colours(mishap["under"])
    job = wired_job(box, under)
    common = str(mishap.get("common", "white white")).split()
    job = put(job, "cable", CABLE, common_colour=None if common[0] == "-" else common[0])
    terminal = terminal_id("job-1", "common", CABLE)
    under_common = None if common[1] == "-" or not any(under) else common[1]
    values: dict[str, object] = {"role": "common", "cable_id": CABLE, "colour": under_common}
    job = put(job, "terminal", terminal, **values)
    for number, zones in pairs(mishap.get("ran")):
        names = [f"zone-{zone}" for zone in zones.split("+") if zone != "0"]
        job = energised(job, number, *names)
    for number, ohms in pairs(mishap.get("ohms")):
        job = put(job, "terminal", t(number), day_1_ohm=9999.0 if ohms == "open" else float(ohms))
    for number, name in enumerate(str(mishap.get("boxes", "")).split(), start=1):
        job = put(job, "valve_box", f"box-{name}", name=f"box {name}")
        job = put(job, "valve", valve_id(f"zone-{number}"), box_id=f"box-{name}")
    for number, other in pairs(mishap.get("runs_with")):
        job = put(job, "zone", f"zone-{number}", runs_with=f"zone-{other}")
    if mishap.get("coils"):
        job = put(job, "cable", CABLE, gauge_awg="18")
        for number in range(1, len(box) + 1):
            valve = valve_id(f"zone-{number}")
            job = put(job, "valve", valve, coil_ohm=30.0, wire_ft=float(str(mishap["coils"])))
    return job


def phrases(mishap: dict[str, object], key: str) -> list[str]:
    """What must, or must not, be said."""
    found = mishap.get(key, [])
    assert isinstance(found, list)
    return [str(one) for one in found]


def said(job: LoadedJob) -> list[str]:
    """Every flag with its mend, the map and the doubts."""
    wire = [
        f"{flag.severity}: {flag.sentence} {flag.mend}"
        for flag in checked(job).flags
        if flag.place in ("boxes", "controller")
    ]
    return [*wire, *map_lines(job), *doubt_lines(job)]


@pytest.mark.parametrize("mishap", MISHAPS, ids=[str(one["name"]) for one in MISHAPS])
def test_a_mishap_is_told_as_it_is(mishap: dict[str, object]) -> None:
    job = job_of(mishap)
    lines = said(job)
    text = "\n".join(lines)
    for words in phrases(mishap, "must"):
        assert words in text
    for words in (*NEVER, *phrases(mishap, "never")):
        assert words not in text
    flags = [line for line in lines if line.startswith(("stop: ", "fix: ", "note: "))]
    assert [line for line in flags if len(line.partition(": ")[2]) > 200] == []
    assert max(map(len, [*map_lines(job), *doubt_lines(job)]), default=0) <= LONGEST_LINE
    if "flags" in mishap:
        assert len(flags) == mishap["flags"], text


def test_there_are_over_eighty_mishaps_of_different_names() -> None:
    assert len(MISHAPS) == len({one["name"] for one in MISHAPS}) == 86
