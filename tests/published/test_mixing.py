"""A plain mixing valve as two orifices and an outlet, through the solver, against a table of the exact answers.

The table: hot 140, cold 50, mixed 105 degF at 45 psi on both sides; Pm found by bisection of the three orifice equations
(computed independently, read). Pressures in psi stand here for heads in m, flows in gpm for m3/s.
"""

import pytest

from plancheck.hydraulics.plain import Edge, Network, OneWay, Outlet
from plancheck.hydraulics.solving import solve

SCALE = 1e-4  # of a flow in gpm, so that flows are of the size met in a house


def mixed(ports: tuple[float, float, float], hot: float, cold: float) -> tuple[float, float]:
    """Temperature, degF, and flow, gpm, with orifice coefficients (hot, cold, outlet) in gpm per root psi."""
    r_hot, r_cold, r_out = (1.0 / (one * SCALE) ** 2 for one in ports)
    edges = (
        Edge("hot", "h", "m", OneWay(r_hot)),
        Edge("cold", "c", "m", OneWay(r_cold)),
        Edge("out", "m", "air", Outlet(r_out)),
    )
    solution = solve(Network({"h": hot, "c": cold, "air": 0.0}, edges))
    assert solution.converged
    warm, cool = max(solution.flows["hot"], 0.0) / SCALE, max(solution.flows["cold"], 0.0) / SCALE
    return (warm * 140.0 + cool * 50.0) / (warm + cool), warm + cool


A = (0.305556, 0.194444, 0.559017)  # 2.5 gpm head, 25 psi across the ports
B = (A[0], A[1], 0.25)  # the same ports, 1.5 gpm head


@pytest.mark.parametrize(
    ("cold", "degf", "gpm"),
    [(45.0, 105.0, 2.5), (43.0, 105.87, 2.478), (40.0, 107.27, 2.444), (36.0, 109.29, 2.394), (30.0, 112.82, 2.312),
     (22.5, 118.53, 2.187), (15.0, 127.47, None)],
)  # fmt: skip
def test_a_two_and_a_half_gallon_head(cold: float, degf: float, gpm: float | None) -> None:
    found, flow = mixed(A, 45.0, cold)
    assert found == pytest.approx(degf, abs=0.02)
    if gpm is not None:
        assert flow == pytest.approx(gpm, abs=0.002)


@pytest.mark.parametrize(
    ("cold", "degf"), [(44.0, 106.21), (43.0, 107.45), (42.0, 108.74), (40.0, 111.45), (36.0, 117.61), (30.0, 130.09)]
)
def test_a_slow_head_on_the_same_valve_swings_more(cold: float, degf: float) -> None:
    assert mixed(B, 45.0, cold)[0] == pytest.approx(degf, abs=0.03)


def test_cold_stops_where_its_pressure_is_below_the_mix() -> None:
    """22.5 psi cold against 36 psi behind the valve: 140 degF comes out, and the hot water would push into the cold pipe."""
    assert mixed(B, 45.0, 22.5)[0] == pytest.approx(140.0, abs=1e-6)


def test_an_equal_loss_on_both_sides_moves_the_flow_alone() -> None:
    """36 psi on both sides: 105 degF, 2.236 gpm = 2.5 x sqrt(36/45)."""
    degf, gpm = mixed(A, 36.0, 36.0)
    assert degf == pytest.approx(105.0, abs=1e-4)
    assert gpm == pytest.approx(2.236, abs=0.001)
