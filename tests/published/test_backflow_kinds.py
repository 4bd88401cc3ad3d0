"""Which backflow assemblies the codes allow with which hazards, from both sides.

The words of the codes are those read on 2026-11-26. A local set names what it allows.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from builders import assembly, codes, only, open_words, put, ruled, sound_job, sound_up_to, words_of

from fieldbook.records.loaded_job import LoadedJob

NOT_ALLOWED = "backflow not allowed"
HAZARDS = ("chemicals", "septic", "second_source", "pump")


def job_of(kind: str, **supply: object) -> LoadedJob:
    """The sound job with an assembly of a kind, and these answers at the street."""
    job = replace(sound_job(1), backflow_assemblies=(assembly(kind),))
    assert job.supply is not None
    return put(job, "supply", job.supply.id, **supply)


@pytest.mark.parametrize(
    ("kind", "allowed"),
    [
        # IRC P2902.5.3 lists AVB, PVB and RP; Uniform Plumbing Code 2018, 603.5.6, also SVB.
        ("AVB", True),
        ("PVB", True),
        ("SVB", True),
        ("RP", True),
        ("DC", False),
    ],
)
def test_without_a_hazard_the_model_codes_decide(kind: str, *, allowed: bool) -> None:
    assert (NOT_ALLOWED not in codes(job_of(kind))) == allowed


def test_a_dc_is_allowed_only_where_the_local_set_names_it() -> None:
    """30 Tex. Admin. Code 344.50(c): a DC where there is no health hazard."""
    refused = only(job_of("DC"), NOT_ALLOWED)
    assert refused.severity == "stop"
    texas = ruled(job_of("DC"), "allowed.no_hazard", ["DC", "PVB", "SVB", "RP"])
    assert NOT_ALLOWED not in codes(texas)
    assert NOT_ALLOWED in codes(put(texas, "supply", texas.supply.id, septic=True))  # type: ignore[union-attr]


@pytest.mark.parametrize("hazard", ["chemicals", "septic", "second_source", "pump"])
@pytest.mark.parametrize("kind", ["AVB", "PVB", "SVB", "DC", "RP"])
def test_a_hazard_asks_for_an_rp(kind: str, hazard: str) -> None:
    """30 Tex. Admin. Code 344.51, (d)(2) for septic; Uniform Plumbing Code 603.5.6 for a pump."""
    side = {"pump_side": "after the assembly"} if hazard == "pump" else {}
    job = job_of(kind, **{hazard: True}, **side)
    assert (NOT_ALLOWED in codes(job)) == (kind != "RP")


@pytest.mark.parametrize(
    ("kind", "side", "allowed"),
    [
        ("PVB", "before the assembly", True),
        ("PVB", "after the assembly", False),
        ("PVB", None, False),
        ("RP", "after the assembly", True),
        ("DC", "before the assembly", False),
    ],
)
def test_a_pump_counts_by_the_side_on_which_it_stands(
    kind: str, side: str | None, *, allowed: bool
) -> None:
    """Uniform Plumbing Code 2018, 603.5.6: downstream of a pump a vacuum breaker may serve."""
    job = job_of(kind, pump=True, pump_side=side)
    assert (NOT_ALLOWED not in codes(job)) == allowed


@pytest.mark.parametrize(
    ("rule", "allowed", "kind", "supply", "expected"),
    [
        # Illinois, 77 IAC 890.1140(d): RP only, also with a pump before it.
        ("allowed.no_hazard", ["RP"], "PVB", {}, True),
        ("allowed.no_hazard", ["RP"], "RP", {}, False),
        (
            "allowed.no_hazard",
            ["RP"],
            "PVB",
            {"pump": True, "pump_side": "before the assembly"},
            True,
        ),
        # Texas, 344.50: with a health hazard RP, PVB and SVB; an AVB is no longer listed.
        ("allowed.chemicals", ["RP", "PVB", "SVB"], "AVB", {"chemicals": True}, True),
        ("allowed.chemicals", ["RP", "PVB", "SVB"], "PVB", {"chemicals": True}, False),
        # Sioux City, Iowa, 12.14.050: a DC for a low hazard.
        ("allowed.no_hazard", ["AVB", "PVB", "RP", "DC"], "DC", {}, False),
        # Ligonier, Indiana, 53.05: RP, air gap, PVB.
        ("allowed.no_hazard", ["RP", "PVB"], "AVB", {}, True),
    ],
)
def test_a_local_set_names_what_it_allows(
    rule: str, allowed: list[str], kind: str, supply: dict[str, object], *, expected: bool
) -> None:
    job = ruled(job_of(kind, **supply), rule, allowed, "its section")
    assert (NOT_ALLOWED in codes(job)) == expected
    if expected:
        assert only(job, NOT_ALLOWED).source.endswith("its section")


def test_back_pressure_is_a_stop_on_a_vacuum_breaker() -> None:
    """310 CMR 22.22 table 22-1: PVB if no back-pressure; ASSE 1020."""
    job = put(job_of("PVB"), "backflow_assembly", "backflow-1", back_pressure=True)
    assert only(job, "back-pressure").severity == "stop"
    rp = put(job_of("RP"), "backflow_assembly", "backflow-1", back_pressure=True)
    assert "back-pressure" not in codes(rp)


@pytest.mark.parametrize("hazard", HAZARDS)
def test_a_kind_is_not_sound_while_a_hazard_is_not_answered(hazard: str) -> None:
    """Common practice, no source: an unanswered question proves nothing."""
    assert words_of(job_of("PVB"), "backflow kind") == {"sound"}
    job = job_of("PVB", **{hazard: None})
    assert words_of(job, "backflow kind") == {"not checked"}
    assert len(open_words(job, "backflow kind")) == 1


def test_the_side_of_a_pump_is_asked_only_where_there_is_one() -> None:
    """Uniform Plumbing Code 2018, 603.5.6."""
    side = "on which side of the assembly the pump stands"
    assert open_words(job_of("RP", pump=True), "backflow kind") == [side]
    assert open_words(job_of("RP", pump=False), "backflow kind") == []


def test_the_kind_is_asked_for_once_service_comes_near() -> None:
    """Common practice, no source."""
    unknown = put(sound_job(1), "backflow_assembly", "backflow-1", kind=None)
    assert words_of(unknown, "backflow kind") == {"not checked"}
    early = replace(sound_up_to("dig"), backflow_assemblies=unknown.backflow_assemblies)
    assert words_of(early, "backflow kind") == {"not due"}
