"""Published and exactly solvable networks, each through one scenario and through many at once.

Their data stand here as printed, with the source and whether it was read or is from memory.
"""

import math
from typing import NamedTuple

import numpy as np
import pytest

from plancheck.hydraulics.plain import Darcy, Edge, HazenWilliams, Network, Quadratic
from plancheck.hydraulics.solving import solve, solve_many


class Problem(NamedTuple):
    """A network with its answers: flows (m3/s) within rel, heads (m) within rel or, where it is given, within abs_m."""

    id: str
    network: Network
    flows: dict[str, float]
    heads: dict[str, float]
    rel: float
    abs_m: float = 0.0


def copper(length_m: float, k: float) -> Darcy:
    """15 mm copper of the shower example, water at 20 degC."""
    return Darcy(length_m, 0.015, k, roughness_m=1.5e-6, viscosity_m2_s=1.004e-6, g=9.81)


# Cengel and Cimbala, Fluid Mechanics: Fundamentals and Applications, the house with a shower and a toilet; 200 kPa gauge
# at the inlet, K lumps tee, elbows, globe valve and shower head. Pipe data and the answers of part (b): read in a public
# worked copy; the answer of part (a): from memory.
SHOWER = (Edge("1", "inlet", "T", copper(5.0, 0.0)), Edge("2", "T", "shower", copper(6.0, 24.7)))
SHOWER_ONLY = Problem(
    "shower only", Network({"inlet": 20.428, "shower": 2.0}, SHOWER), {"1": 0.00053, "2": 0.00053}, {}, 0.015
)
SHOWER_AND_TOILET = Problem(
    "shower and toilet",
    Network({"inlet": 20.428, "shower": 2.0, "tank": 1.0}, (*SHOWER, Edge("3", "T", "tank", copper(1.0, 26.9)))),
    {"1": 0.0009, "2": 0.00042, "3": 0.00048},
    {},
    0.015,
)

# The same book, pumping through two parallel pipes of commercial steel, 36 m: 11.1 m across the pair (8 kW at 70 percent
# less 8 m of lift). Inputs: read in a public textbook companion; answers: from memory.
PARALLEL = Problem(
    "parallel pair",
    Network(
        {"A": 11.1, "B": 0.0},
        tuple(
            Edge(id_, "A", "B", Darcy(36.0, d, 0.0, 4.5e-5, 1.00401e-6, 9.81)) for id_, d in (("1", 0.04), ("2", 0.08))
        ),
    ),
    {"1": 0.00415, "2": 0.0259},
    {},
    0.006,
)

# Alperovits and Shamir, Water Resources Research 13 (1977); diameters and heads of Savic and Walters, J. Water Resour.
# Plann. Manage. 123 (1997). Lengths, heights and draws: read in public model files; diameters and heads: from memory.
# The answers hold for omega 10.667, n 1.852, m 4.871; other published constants of the formula give up to 0.5 m less.
TWO_LOOP_PIPES = (
    ("1", "1", "2", 0.4572), ("2", "2", "3", 0.254), ("3", "2", "4", 0.4064), ("4", "4", "5", 0.1016),
    ("5", "4", "6", 0.4064), ("6", "6", "7", 0.254), ("7", "3", "5", 0.254), ("8", "5", "7", 0.0254),
)  # fmt: skip
TWO_LOOP_NODES = {  # height m, draw m3/h, published pressure head m
    "2": (150, 100, 53.24), "3": (160, 100, 30.46), "4": (155, 120, 43.45),
    "5": (150, 270, 33.80), "6": (165, 330, 30.44), "7": (160, 200, 30.55),
}  # fmt: skip
TWO_LOOP = Problem(
    "two loops",
    Network(
        {"1": 210.0},
        tuple(
            Edge(id_, a, b, HazenWilliams(1000.0, bore, 130.0, omega=10.667, n=1.852, m=4.871))
            for id_, a, b, bore in TWO_LOOP_PIPES
        ),
        {node: draw / 3600.0 for node, (_, draw, _) in TWO_LOOP_NODES.items()},
    ),
    {},
    {node: height + head for node, (height, _, head) in TWO_LOOP_NODES.items()},
    0.0,
    0.02,
)


def quadratics(rows: tuple[tuple[str, str, str, float], ...]) -> tuple[Edge, ...]:
    """Edges of the quadratic law."""
    return tuple(Edge(id_, a, b, Quadratic(r)) for id_, a, b, r in rows)


# A textbook's example 9.12, read in a public textbook companion.
THREE_RESERVOIRS = Problem(
    "three reservoirs",
    Network(
        {"R1": 135.0, "R2": 120.0, "R3": 112.0},
        quadratics((("1", "R1", "J", 0.7594), ("2", "J", "R2", 36.33), ("3", "J", "R3", 8.168))),
    ),
    {"1": 2.116, "2": 0.565, "3": 1.549},
    {"J": 131.6},
    0.002,
)

# Derived: along 1-2-3 and 1-3, q2 = 20/3 from 60 x = 400.
BRIDGE = Problem(
    "bridge",
    Network(
        {"1": 100.0},
        quadratics(
            (("1", "1", "2", 1), ("2", "1", "3", 5), ("3", "2", "3", 1), ("4", "2", "4", 5), ("5", "3", "4", 1))
        ),
        {"4": 10.0},
    ),
    {"1": 20 / 3, "2": 10 / 3, "3": 10 / 3, "4": 10 / 3, "5": 20 / 3},
    {},
    1e-9,
)

# Derived: nine equal segments, one draw at port 4; the ring acts as r / (4^-0.5 + 5^-0.5)^2.
RING = Problem(
    "ring",
    Network(
        {"p0": 100.0},
        tuple(Edge(str(n + 1), f"p{n}", f"p{(n + 1) % 9}", Quadratic(0.5)) for n in range(9)),
        {"p4": 3.0},
    ),
    {},
    {"p4": 100.0 - 9.0 * 0.5 / (4.0**-0.5 + 5.0**-0.5) ** 2},
    1e-9,
)

# Derived: q = (H / (r1 + r2))^0.5.
OUTLET = Problem(
    "outlet",
    Network({"S": 42.18, "ATM": 3.0}, quadratics((("1", "S", "J", 2e8), ("2", "J", "ATM", 6e8)))),
    {"1": math.sqrt((42.18 - 3.0) / 8e8)},
    {},
    1e-9,
)

PROBLEMS = (SHOWER_ONLY, SHOWER_AND_TOILET, TWO_LOOP, PARALLEL, THREE_RESERVOIRS, BRIDGE, RING, OUTLET)


def test_the_printed_figures_of_the_derived_ones() -> None:
    """The closed forms above, worked out once by hand to twelve figures."""
    assert RING.heads["p4"] == pytest.approx(94.98447189992429, rel=1e-12)
    assert OUTLET.flows["1"] == pytest.approx(0.00022130295976330728, rel=1e-12)


@pytest.mark.parametrize("problem", PROBLEMS, ids=lambda problem: problem.id)
def test_one(problem: Problem) -> None:
    solution = solve(problem.network)
    assert solution.converged and solution.rounds <= 20, solution
    for edge, flow in problem.flows.items():
        assert solution.flows[edge] == pytest.approx(flow, rel=problem.rel)
    for node, head in problem.heads.items():
        assert solution.heads[node] == pytest.approx(head, rel=problem.rel, abs=problem.abs_m)


@pytest.mark.parametrize("problem", PROBLEMS, ids=lambda problem: problem.id)
def test_many(problem: Problem) -> None:
    """Three scenarios with all heads 0, 1 and 7 m higher: the flows are the same, the heads move along."""
    lifts = np.array([0.0, 1.0, 7.0])
    heads = {node: head + lifts for node, head in problem.network.heads.items()}
    solutions = solve_many(problem.network, heads=heads)
    assert solutions.converged.all() and solutions.rounds <= 20
    for edge, flow in problem.flows.items():
        assert solutions.flows[solutions.edges.index(edge)] == pytest.approx([flow] * 3, rel=problem.rel)
    for node, head in problem.heads.items():
        row = solutions.heads[solutions.nodes.index(node)]
        assert row - lifts == pytest.approx([head] * 3, rel=problem.rel, abs=problem.abs_m)


def test_the_toilet_takes_a_fifth_of_the_shower() -> None:
    """The book's conclusion: the shower falls by about 21 percent (from memory)."""
    alone, both = solve(SHOWER_ONLY.network), solve(SHOWER_AND_TOILET.network)
    assert 1.0 - both.flows["2"] / alone.flows["2"] == pytest.approx(0.21, abs=0.015)


# Pressure heads at 2 to 7 with other published constants of the same formula; the source of the data gives them, read.
OTHER_CONSTANTS = [
    (10.5088, 1.85, 4.87, (53.27, 30.51, 43.49, 33.85, 30.49, 30.60)),
    (10.9031, 1.85, 4.87, (53.02, 29.78, 43.06, 32.87, 29.95, 29.87)),
]


@pytest.mark.parametrize(("omega", "n", "m", "expected"), OTHER_CONSTANTS)
def test_other_constants_give_other_heads(omega: float, n: float, m: float, expected: tuple[float, ...]) -> None:
    edges = tuple(
        Edge(id_, a, b, HazenWilliams(1000.0, bore, 130.0, omega, n, m)) for id_, a, b, bore in TWO_LOOP_PIPES
    )
    heads = solve(TWO_LOOP.network._replace(edges=edges)).heads
    found = [(heads[node] or 0.0) - height for node, (height, _, _) in TWO_LOOP_NODES.items()]
    assert found == pytest.approx(expected, abs=0.02)
