"""Air to empty pipe and water to fill it, against worked figures and exact relations.

The worked figures: 200 ft of 1 in Schedule 40, 120 ft of 1 in SDR 21 and 100 ft of 3/4 in SDR 21
(bores of ASTM D1785 and D2241 at the minimum wall), by V = (pi/4)(d/12)^2 L and Boyle's law.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldbook.season.air_and_fill import (
    ATMOSPHERE_PSI,
    GAL_PER_FT3,
    PipeLength,
    fill_gpm,
    fill_seconds,
    free_air_ft3,
    pushing_cfm,
    seconds_of_air,
    volume_ft3,
)
from fieldbook.trade.pipes import PIPE_CLASSES

SCH_40 = PIPE_CLASSES["pvc sch 40"].bores_in
SDR_21 = PIPE_CLASSES["pvc sdr 21"].bores_in
LINES = (
    PipeLength(SCH_40["1"], 200.0),
    PipeLength(SDR_21["1"], 120.0),
    PipeLength(SDR_21["3/4"], 100.0),
)
SOME_PIPES = st.lists(
    st.builds(PipeLength, st.floats(0.3, 4.0), st.floats(0.1, 2000.0)), min_size=1, max_size=6
)


def test_the_volume_and_the_air_that_fills_it_at_50_psi() -> None:
    volume = volume_ft3(LINES)
    assert volume == pytest.approx(2.597, abs=0.001)
    assert volume * GAL_PER_FT3 == pytest.approx(19.43, abs=0.01)
    free = free_air_ft3(volume, 50.0)
    assert free == pytest.approx(11.43, abs=0.01)
    assert seconds_of_air(free, 10.0) == pytest.approx(69.0, abs=0.5)
    assert seconds_of_air(free, 20.0) == pytest.approx(34.0, abs=0.5)


@pytest.mark.parametrize(("gpm", "cfm"), [(17.3, 10.2), (10.0, 5.9)])
def test_the_air_that_pushes_water_at_the_flow_of_a_zone(gpm: float, cfm: float) -> None:
    assert pushing_cfm(gpm, 50.0) == pytest.approx(cfm, abs=0.1)


def test_filling_one_inch_pipe_at_one_and_two_feet_a_second() -> None:
    bore_in = SCH_40["1"]
    assert fill_gpm(bore_in) == pytest.approx(2.69, abs=0.01)
    assert fill_gpm(bore_in, 2.0) == pytest.approx(5.39, abs=0.01)
    assert fill_seconds([PipeLength(bore_in, 200.0)]) == pytest.approx(200.0)


def test_no_pipe_has_no_volume_and_fills_at_once() -> None:
    assert volume_ft3([]) == 0.0
    assert fill_seconds([]) == 0.0
    assert fill_seconds([PipeLength(1.0, 0.0)]) == 0.0


@given(SOME_PIPES, st.floats(0.0, 100.0), st.floats(1.0, 200.0))
def test_air_grows_with_pressure_and_the_time_falls_with_the_compressor(
    pipes: list[PipeLength], psi: float, cfm: float
) -> None:
    volume = volume_ft3(pipes)
    free = free_air_ft3(volume, psi)
    assert free >= volume * (1.0 - 1e-12)
    assert free_air_ft3(volume, psi + ATMOSPHERE_PSI) == pytest.approx(free + volume)
    assert seconds_of_air(free, cfm * 2) == pytest.approx(seconds_of_air(free, cfm) / 2)


@given(SOME_PIPES)
def test_filling_takes_no_pipe_faster_than_a_foot_a_second(pipes: list[PipeLength]) -> None:
    seconds = fill_seconds(pipes)
    gpm = volume_ft3(pipes) * GAL_PER_FT3 / (seconds / 60.0)
    for pipe in pipes:
        assert gpm <= fill_gpm(pipe.bore_in) * (1.0 + 1e-9)
    # It takes at least as long as water at that velocity takes along the whole length of it.
    assert seconds >= sum(pipe.length_ft for pipe in pipes) * (1.0 - 1e-9)
