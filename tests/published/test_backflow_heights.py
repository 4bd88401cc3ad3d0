"""The generic heights of backflow assemblies against the codes they are taken from."""

from __future__ import annotations

import pytest

from fieldbook.trade.backflow import BACKFLOW_KINDS


@pytest.mark.parametrize(
    ("kind", "standard", "height_in", "above_grade_in"),
    [
        ("PVB", "ASSE 1020", 12, None),  # 30 Tex. Admin. Code 344.50(b)(3)
        ("SVB", "ASSE 1056", 12, None),  # 30 Tex. Admin. Code 344.50(b)(4)
        ("RP", "ASSE 1013", None, 12),  # 30 Tex. Admin. Code 344.50(b)(2)
        ("DC", "ASSE 1015", None, None),
        ("AVB", "ASSE 1001", 12, None),  # stricter common practice; 6 in before 2020 in Texas
        ("anti-siphon valves", "ASSE 1001", 12, None),
    ],
)
def test_generic_heights(
    kind: str, standard: str, height_in: float | None, above_grade_in: float | None
) -> None:
    found = BACKFLOW_KINDS[kind]
    assert (found.standard, found.height_in, found.above_grade_in) == (
        standard,
        height_in,
        above_grade_in,
    )


def test_every_height_says_that_the_local_authority_decides() -> None:
    for kind in BACKFLOW_KINDS.values():
        if kind.height_in or kind.above_grade_in:
            assert "generic default" in kind.source
            assert "local authority decides" in kind.source
