"""Pipe dimensions against the ASTM tables as read, and against the tables in `fluids`."""

from __future__ import annotations

import pytest
from fluids.piping import nearest_pipe

from fieldbook.trade.pipes import PIPE_CLASSES, PIPE_SIZES
from fieldbook.water.friction import flow_at_velocity_gpm

# ASTM D1785 (Schedules), ASTM D2241 (SDR), ASTM B88 (copper), ASTM F876 (PEX): inside diameters
# in inches from 1/2 to 2; None where the class is not listed in the size.
BORES: dict[str, tuple[float | None, ...]] = {
    "pvc sch 40": (0.622, 0.824, 1.049, 1.380, 1.610, 2.067),
    "pvc sch 80": (0.546, 0.742, 0.957, 1.278, 1.500, 1.939),
    "pvc sdr 13.5": (0.716, 0.894, 1.121, 1.414, 1.618, 2.023),
    "pvc sdr 21": (None, 0.930, 1.189, 1.502, 1.720, 2.149),
    "pvc sdr 26": (None, None, 1.195, 1.532, 1.754, 2.193),
    "copper K": (0.527, 0.745, 0.995, 1.245, 1.481, 1.959),
    "copper L": (0.545, 0.785, 1.025, 1.265, 1.505, 1.985),
    "copper M": (0.569, 0.811, 1.055, 1.291, 1.527, 2.009),
    "pex sdr 9": (0.485, 0.681, 0.875, 1.069, 1.263, 1.653),
}


@pytest.mark.parametrize("name", BORES)
def test_bores_are_those_of_the_standards(name: str) -> None:
    for size, bore_in in zip(PIPE_SIZES, BORES[name], strict=True):
        found = PIPE_CLASSES[name].bores_in.get(size)
        assert found == (bore_in if bore_in is None else pytest.approx(bore_in, abs=0.0005))


def _inside_m(nominal: float, schedule: str) -> float:
    """Inside diameter in m by `fluids`, whose annotation of NPS is narrower than what it takes."""
    return float(nearest_pipe(NPS=nominal, schedule=schedule)[1])  # type: ignore[arg-type]


@pytest.mark.parametrize(("name", "schedule"), [("pvc sch 40", "40"), ("pvc sch 80", "80")])
def test_bores_of_a_schedule_agree_with_fluids(name: str, schedule: str) -> None:
    for size, nominal in zip(PIPE_SIZES, (0.5, 0.75, 1, 1.25, 1.5, 2), strict=True):
        inside_m = _inside_m(nominal, schedule)
        assert PIPE_CLASSES[name].bores_in[size] == pytest.approx(inside_m / 0.0254, rel=0.006)


def test_steel_is_schedule_40() -> None:
    # ASME B36.10M.
    for size, nominal in zip(PIPE_SIZES, (0.5, 0.75, 1, 1.25, 1.5, 2), strict=True):
        inside_m = _inside_m(nominal, "40")
        assert PIPE_CLASSES["steel sch 40"].bores_in[size] == pytest.approx(
            inside_m / 0.0254, rel=0.006
        )


def rating_psi(dimension_ratio: float) -> float:
    """ASTM D2241: P = 4000 / (DR - 1), PVC 1120 at 73 F."""
    return 4000.0 / (dimension_ratio - 1.0)


@pytest.mark.parametrize(("ratio", "psi"), [(21, 200), (26, 160), (13.5, 315)])
def test_a_rating_follows_from_the_dimension_ratio(ratio: float, psi: float) -> None:
    # The standard prints 315 psi for SDR 13.5, where the formula gives 320.
    assert rating_psi(ratio) == pytest.approx(psi, rel=0.02)
    assert set(PIPE_CLASSES[f"pvc sdr {ratio:g}"].rating_psi.values()) == {psi}


def test_schedule_ratings_follow_from_the_wall() -> None:
    # ASTM D1785's table against 4000 / (OD/t - 1), which it rounds to tens.
    for name in ("pvc sch 40", "pvc sch 80"):
        pipe = PIPE_CLASSES[name]
        for size in PIPE_SIZES:
            by_wall = rating_psi(pipe.ods_in[size] / pipe.walls_in[size])
            assert pipe.rating_psi[size] == pytest.approx(by_wall, abs=6)


@pytest.mark.parametrize(
    ("name", "size", "gpm"),
    [
        ("pvc sch 40", "3/4", 8.3),
        ("pvc sdr 21", "1", 17.3),
        ("pvc sdr 26", "2", 58.9),
        ("copper K", "1", 12.1),
        ("copper L", "3/4", 7.5),
        ("pex sdr 9", "1", 9.4),
    ],
)
def test_each_size_has_its_flow_at_five_feet_a_second(name: str, size: str, gpm: float) -> None:
    bore_in = PIPE_CLASSES[name].bores_in[size]
    assert flow_at_velocity_gpm(5, bore_in) == pytest.approx(gpm, rel=0.01)


@pytest.mark.parametrize(
    ("name", "bores_in"),
    [
        ("pvc sch 40", (0.602, 0.804, 1.029, 1.360, 1.590, 2.047)),
        # Walls 0.060 to 0.113 in: all have the tolerance of 0.020 in.
        ("pvc sdr 21", (0.910, 1.169, 1.482, 1.700, 2.129)),
    ],
)
def test_the_average_bores_of_pvc(name: str, bores_in: tuple[float, ...]) -> None:
    """ASTM D1785: a wall is its minimum plus at most 0.020 in (or 12 %), so half of that more."""
    found = PIPE_CLASSES[name].average_bores_in
    assert tuple(found.values()) == pytest.approx(bores_in)


@pytest.mark.parametrize(("size", "more"), [("1/2", 1.17), ("3/4", 1.13), ("1", 1.10), ("2", 1.05)])
def test_average_bores_lose_more_than_the_charts(size: str, more: float) -> None:
    """The ratio of bores to the power 4.8704: 17 % in 1/2 in to 5 % in 2 in of Schedule 40."""
    pipe = PIPE_CLASSES["pvc sch 40"]
    ratio = (pipe.bores_in[size] / pipe.average_bores_in[size]) ** 4.8704
    assert ratio == pytest.approx(more, abs=0.006)


@pytest.mark.parametrize("name", ["copper L", "pe sidr", "pex sdr 9", "steel sch 40"])
def test_pipe_without_a_published_tolerance_has_one_bore(name: str) -> None:
    assert PIPE_CLASSES[name].average_bores_in == PIPE_CLASSES[name].bores_in
