"""Many scenarios at once, each as it is when solved alone; what is refused, and what has no answer."""

import math
import random

import numpy as np
import pytest

from plancheck.hydraulics.compiled import compile_network
from plancheck.hydraulics.plain import (
    Darcy,
    Edge,
    HazenWilliams,
    Law,
    Linear,
    Network,
    OneWay,
    Outlet,
    Quadratic,
    Regulator,
    WrongNetwork,
)
from plancheck.hydraulics.solving import solve, solve_many
from tests.hydraulics.houses import random_house

LINE = (
    Edge("a", "main", "x", Quadratic(1e7)),
    Edge("b", "x", "y", Quadratic(1e7)),
    Edge("c", "y", "z", Quadratic(1e7)),
)


@pytest.mark.parametrize("seed", range(12))
def test_heads_flows_and_dry_nodes_are_as_alone(seed: int) -> None:
    """Any edges shut, so that parts fall dry, and the main anywhere from 5 to 90 m."""
    rng = random.Random(seed)
    network = random_house(rng).network
    compiled = compile_network(network)
    shut = np.array([[rng.random() < 0.1 for _ in range(8)] for _ in compiled.edges])
    mains = [rng.uniform(5.0, 90.0) for _ in range(8)]
    found = solve_many(compiled, shut, heads={"main": mains})
    assert found.converged.all()
    for column, main in enumerate(mains):
        closed = frozenset(name for name, off in zip(found.edges, shut[:, column], strict=True) if off)
        alone = solve(network._replace(heads={**network.heads, "main": main}), closed)
        for place, name in enumerate(found.edges):
            assert found.flows[place, column] == pytest.approx(alone.flows[name], abs=1e-9)
        for place, name in enumerate(found.nodes):
            head = alone.heads[name]
            assert found.heads[place, column] == pytest.approx(
                math.nan if head is None else head, abs=1e-4, nan_ok=True
            )


def test_one_way_edges_pass_nothing_back() -> None:
    for seed in range(200):
        network = random_house(random.Random(seed)).network
        flows = solve(network).flows
        for edge in network.edges:
            if isinstance(edge.law, OneWay | Outlet | Regulator):
                assert flows[edge.id] >= -1e-9, (seed, edge.id)


def test_draws_by_scenario() -> None:
    """Quadratic losses in a row: heads follow by hand."""
    draws = np.array([0.0, 1e-4, 2e-4])
    found = solve_many(Network({"main": 50.0}, LINE), draws={"z": draws})
    assert found.heads[found.nodes.index("z")] == pytest.approx(50.0 - 3e7 * draws**2, abs=1e-9)
    assert found.imbalance_m3s < 1e-12


def test_a_draw_that_nothing_feeds_has_no_numbers() -> None:
    """In that scenario only."""
    network = Network({"main": 50.0}, LINE, {"z": 1e-4})
    compiled = compile_network(network)
    shut = np.array([[False, edge.id == "b"] for edge in compiled.edges])
    found = solve_many(compiled, shut)
    assert found.converged.tolist() == [True, False]
    assert np.isnan(found.flows[:, 1]).all() and np.isnan(found.heads[:, 1]).all()
    alone = solve(network, frozenset("b"))
    assert alone.why == "nothing feeds the draw at z"
    assert not alone.heads and not alone.flows


def test_water_comes_only_the_way_an_edge_lets_it() -> None:
    """Behind a check valve laid the other way is nothing, and a draw there has no answer."""
    edges = (Edge("a", "main", "x", Quadratic(1e7)), Edge("check", "y", "x", OneWay(1e7)))
    heads = {"main": 50.0}
    solution = solve(Network(heads, edges, {"x": 1e-4}))
    assert solution.heads["y"] is None and solution.flows["check"] == 0.0
    assert solve(Network(heads, edges, {"y": 1e-4})).why == "nothing feeds the draw at y"
    assert not solve_many(Network(heads, edges, {"y": 1e-4}), scenarios=1).converged.any()


def test_shut_in_the_network_and_shut_by_name_are_the_same() -> None:
    network = random_house(random.Random(5)).network
    closed = frozenset(edge.id for edge in network.edges if edge.shut)
    opened = network._replace(edges=tuple(edge._replace(shut=False) for edge in network.edges))
    assert closed and solve(network).flows == solve(opened, closed).flows
    assert all(solve(network).flows[name] == 0.0 for name in closed)


@pytest.mark.parametrize("base_m", [0.0, 40.0, 210.0])
@pytest.mark.parametrize("middle", [Quadratic(3e7), Quadratic(1e3), OneWay(1e7), HazenWilliams(5.0, 0.012, 150.0)])
def test_no_flow_along_an_edge_of_equal_heads(middle: Law, base_m: float) -> None:
    """The middle of a symmetric bridge, where Newton's method on a square law only halves: yet in few rounds."""
    sides = [Edge(name, *name, Quadratic(1e7)) for name in ("sb", "sc", "bd", "cd")]
    solution = solve(Network({"s": base_m}, (*sides, Edge("bc", "b", "c", middle)), {"d": 3e-4}))
    assert solution.flows["bc"] == pytest.approx(0.0, abs=1e-10)
    assert solution.rounds <= 12


def test_zero_loss_edges_carry_what_they_must() -> None:
    edges = (
        Edge("a", "main", "x", Quadratic(0.0)),
        Edge("b", "x", "y", Darcy(0.0, 0.01)),
        Edge("c", "y", "z", Linear(1e5)),
    )
    solution = solve(Network({"main": 10.0}, edges, {"z": 1e-4}))
    assert solution.heads["y"] == pytest.approx(10.0, abs=1e-9)
    assert solution.heads["z"] == pytest.approx(0.0, abs=1e-9)


PIPE = Edge("e", "a", "b", Darcy(3.0, 0.012))
WRONG = [
    (Network({"a": math.nan}, (PIPE,)), "the head at 'a' is nan"),
    (Network({"a": 1.0}, (PIPE,), {"b": math.inf}), "the draw at 'b' is inf"),
    (Network({"a": 1.0}, (PIPE,), {"a": 0.1}), "'a' has a known head"),
    (Network({"a": 1.0}, (PIPE,), {"q": 0.1}), "no edge ends at the node 'q'"),
    (Network({"a": 1.0}, (PIPE, PIPE)), "'e' is there twice"),
    (Network({}, (PIPE,)), "no node has a known head"),
    (Network({"a": 1.0}, (Edge("e", "a", "a", Quadratic(1.0)),)), "begins and ends at the node 'a'"),
    (Network({"a": 1.0}, (Edge("e", "a", "b", Darcy(3.0, 0.0)),)), "'e' has bore_m = 0.0"),
    (Network({"a": 1.0}, (Edge("e", "a", "b", Darcy(math.nan, 0.01)),)), "'e' has length_m = nan"),
    (Network({"a": 1.0}, (Edge("e", "a", "b", Darcy(3.0, 0.01, viscosity_m2_s=0.0)),)), "viscosity_m2_s = 0.0"),
    (Network({"a": 1.0}, (Edge("e", "a", "b", HazenWilliams(3.0, 0.01, 150.0, n=0.5)),)), "n = 0.5"),
    (Network({"a": 1.0}, (Edge("e", "a", "b", Linear(-1.0)),)), "falls with the flow"),
    (Network({"a": 1.0}, (Edge("e", "a", "b", Outlet(1.0, 0.0)),)), "most_m3s = 0.0"),
    (Network({"a": 1.0, "b": 0.0}, (Edge("e", "a", "b", Regulator(1.0, 0.0, 1.0)),)), "leads to a node of known head"),
]


@pytest.mark.parametrize(("network", "words"), WRONG, ids=[words for _, words in WRONG])
def test_wrong_networks_are_refused_in_words(network: Network, words: str) -> None:
    with pytest.raises(WrongNetwork, match=words):
        solve(network)
    with pytest.raises(WrongNetwork, match=words):
        solve_many(network, scenarios=2)


def test_wrong_scenarios_are_refused_in_words() -> None:
    network = Network({"main": 50.0}, LINE)
    with pytest.raises(WrongNetwork, match="how many scenarios"):
        solve_many(network)
    with pytest.raises(WrongNetwork, match="how many scenarios"):
        solve_many(network, heads={"main": [1.0, 2.0]}, draws={"z": [0.0]})
    with pytest.raises(WrongNetwork, match="'x' is none of known head"):
        solve_many(network, heads={"x": [1.0]})
    with pytest.raises(WrongNetwork, match="'main' can have no draw"):
        solve_many(network, draws={"main": [1.0]})
