"""Conductor counts: common practice, no source; the worked example is plain arithmetic."""

from __future__ import annotations

from fieldbook.trade.wire_counts import cable_to_buy, conductors_needed, spares_advised


def test_eight_zones_a_common_and_a_master_valve() -> None:
    needed = conductors_needed(8, masters=1)
    assert needed == 10
    assert spares_advised(8) == 2
    assert cable_to_buy(needed + spares_advised(8)) == (13,)


def test_small_and_large_jobs() -> None:
    assert conductors_needed(4) + spares_advised(4) == 6
    assert cable_to_buy(6) == (7,)
    assert conductors_needed(2, sensors=1) == 5
    assert cable_to_buy(26) == (13, 13)
    assert cable_to_buy(15) == (13, 2)
    assert cable_to_buy(0) == ()
