"""The generic rules of backflow assemblies against the codes they are taken from."""

from __future__ import annotations

import pytest
from builders import bare_job

from fieldbook.checks.common.job_rules import assembly_clearance, backflow_height
from fieldbook.trade.rules.editions import generic


@pytest.mark.parametrize(
    ("kind", "height_in", "above_grade_in"),
    [
        ("PVB", 12, None),  # 30 Tex. Admin. Code 344.50(b)(3)
        ("SVB", 12, None),  # 30 Tex. Admin. Code 344.50(b)(4)
        ("RP", None, 12),  # 30 Tex. Admin. Code 344.50(b)(2)
        ("DC", None, None),
        ("AVB", 12, None),  # stricter common practice; 6 in before 2020 in Texas
        ("anti-siphon valves", 12, None),
    ],
)
def test_the_generic_heights_are_those_of_the_codes(
    kind: str, height_in: float | None, above_grade_in: float | None
) -> None:
    height, clearance = backflow_height(bare_job(), kind), assembly_clearance(bare_job(), kind)
    assert (height and height.value) == height_in
    assert (clearance and clearance.value) == above_grade_in


def test_every_generic_rule_names_its_source() -> None:
    assert "authority having jurisdiction decides" in generic().authority
    for rule in generic().rules.values():
        assert rule.source.startswith(("Generic default: ", "Common practice, no source")) or (
            "Code" in rule.source or "Extension" in rule.source
        )
