"""What must hold of any network, whatever the figures."""

import random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plancheck.hydraulics.compiled import compile_network
from plancheck.hydraulics.fold import fold, unfold
from plancheck.hydraulics.plain import (
    Darcy,
    Edge,
    Network,
    OneWay,
    Outlet,
    Quadratic,
    Regulator,
    WrongNetwork,
)
from plancheck.hydraulics.solving import prepare, solve, solve_many, solve_prepared
from tests.hydraulics.houses import GPM, INCH, PSI_M, orifice, random_house

DRAWS = st.floats(0.05, 5.0)


def pipe(name: str, a: str, b: str, feet: float, bore_in: float = 0.671, k: float = 1.1) -> Edge:
    return Edge(name, a, b, Darcy(feet * 0.3048, bore_in * INCH, k))


def row(ports: int, feet: float, ring: bool, feed: int = 0) -> tuple[Edge, ...]:
    """A manifold: the main, a trunk to port `feed`, and ports p0 ... in a row, closed to a ring or not."""
    edges = [pipe("trunk", "main", f"p{feed}", 6.0)]
    edges += [pipe(f"s{number}", f"p{number}", f"p{number + 1}", feet) for number in range(ports - 1)]
    return (*edges, pipe("close", f"p{ports - 1}", "p0", feet)) if ring else tuple(edges)


@settings(max_examples=60, deadline=None)
@given(seed=st.integers(0, 10**9))
def test_every_node_balances(seed: int) -> None:
    house = random_house(random.Random(seed))
    solution = solve(house.network)
    assert solution.converged
    sums: dict[str, float] = {}
    for edge in house.network.edges:
        flow = solution.flows[edge.id]
        sums[edge.a] = sums.get(edge.a, 0.0) - flow
        sums[edge.b] = sums.get(edge.b, 0.0) + flow
    for node, total in sums.items():
        if node not in house.network.heads:
            assert abs(total) < 1e-9, node


@settings(max_examples=40, deadline=None)
@given(seed=st.integers(0, 10**9), lift=st.floats(0.5, 20.0))
def test_more_pressure_at_the_main_gives_no_outlet_less(seed: int, lift: float) -> None:
    house = random_house(random.Random(seed))
    heads = dict(house.network.heads)
    before = solve(house.network)
    after = solve(house.network._replace(heads={**heads, "main": heads["main"] + lift}))
    for edge in house.network.edges:
        if isinstance(edge.law, Outlet):
            assert after.flows[edge.id] >= before.flows[edge.id] - 1e-9


@settings(max_examples=40, deadline=None)
@given(
    draws=st.lists(DRAWS, min_size=5, max_size=5), more=st.floats(0.01, 3.0), port=st.integers(0, 4), ring=st.booleans()
)
def test_more_draw_lowers_every_port(draws: list[float], more: float, port: int, ring: bool) -> None:
    edges = row(5, 1.0, ring)
    taken = {f"p{number}": draw * GPM for number, draw in enumerate(draws)}
    before = solve(Network({"main": 40.0}, edges, taken))
    after = solve(Network({"main": 40.0}, edges, {**taken, f"p{port}": taken[f"p{port}"] + more * GPM}))
    for number in range(5):
        assert (after.heads[f"p{number}"] or 0) <= (before.heads[f"p{number}"] or 0) + 1e-9


def test_a_symmetric_ring_splits_evenly() -> None:
    edges = row(6, 1.0, True)
    solution = solve(Network({"main": 40.0}, edges, {"p3": 4 * GPM}))
    assert solution.flows["s0"] == pytest.approx(2 * GPM, rel=1e-9)
    assert solution.flows["close"] == pytest.approx(-2 * GPM, rel=1e-9)
    assert solution.heads["p1"] == pytest.approx(solution.heads["p5"], rel=1e-12)


@settings(max_examples=80, deadline=None)
@given(draws=st.lists(st.floats(0.0, 5.0), min_size=6, max_size=6), feet=st.floats(0.2, 6.0))
def test_closing_a_row_fed_at_its_end_lowers_no_port(draws: list[float], feet: float) -> None:
    taken = {f"p{number}": draw * GPM for number, draw in enumerate(draws)}
    straight = solve(Network({"main": 40.0}, row(6, feet, False), taken))
    ring = solve(Network({"main": 40.0}, row(6, feet, True), taken))
    for number in range(6):
        assert (ring.heads[f"p{number}"] or 0) >= (straight.heads[f"p{number}"] or 0) - 1e-9


def test_joining_the_free_ends_of_a_row_fed_in_the_middle_may_lower_a_port() -> None:
    """Fed between, with all the draw at one end: the other end then carries some of it and loses what it had."""
    taken = {"p0": 6 * GPM}
    apart = solve(Network({"main": 40.0}, row(7, 2.0, False, 3), taken))
    joined = solve(Network({"main": 40.0}, row(7, 2.0, True, 3), taken))
    assert (joined.heads["p0"] or 0) > (apart.heads["p0"] or 0)
    assert (joined.heads["p6"] or 0) < (apart.heads["p6"] or 0) - 0.01


@settings(max_examples=25, deadline=None)
@given(seed=st.integers(0, 10**9))
def test_many_scenarios_are_as_one(seed: int) -> None:
    rng = random.Random(seed)
    house = random_house(rng)
    compiled = compile_network(house.network)
    names = [edge.id for edge in compiled.edges]
    shut = np.zeros((len(names), 6), dtype=bool)
    for column in range(6):
        for edges in house.fixtures.values():
            if rng.random() < 0.5:
                for edge in edges:
                    shut[names.index(edge), column] = True
    found = solve_many(compiled, shut)
    assert found.converged.all()
    for column in range(6):
        one = solve(house.network, frozenset(name for name, off in zip(names, shut[:, column], strict=True) if off))
        for place, name in enumerate(names):
            assert found.flows[place, column] == pytest.approx(one.flows[name], abs=1e-9)


@settings(max_examples=25, deadline=None)
@given(seed=st.integers(0, 10**9))
def test_folded_is_as_unfolded(seed: int) -> None:
    network = random_house(random.Random(seed)).network
    whole = solve(network)
    folded, chains = fold(network._replace(edges=tuple(edge for edge in network.edges if not edge.shut)))
    part = solve(folded)
    heads, flows = dict(part.heads), dict(part.flows)
    unfold(chains, heads, flows)
    for edge in network.edges:
        if not edge.shut:
            assert flows[edge.id] == pytest.approx(whole.flows[edge.id], abs=1e-9)


def test_made_ready_once_and_solved_with_other_laws() -> None:
    network = Network(
        {"main": 40.0, "air": 1.0}, (pipe("a", "main", "x", 20.0), Edge("o", "x", "air", Outlet(orifice(2.0, 20.0))))
    )
    prepared = prepare(network)
    other = Outlet(orifice(4.0, 20.0))
    again = solve_prepared(prepared, laws={"o": other})
    fresh = solve(network._replace(edges=(network.edges[0], network.edges[1]._replace(law=other))))
    assert again.flows["o"] == pytest.approx(fresh.flows["o"], rel=1e-12)
    near = solve(network, start=fresh.flows)
    assert near.flows["o"] == pytest.approx(solve(network).flows["o"], rel=1e-9)


def test_nothing_runs_back() -> None:
    edges = (
        pipe("a", "high", "x", 10.0),
        Edge("check", "x", "low", OneWay(1e6)),
        Edge("back", "low", "x", OneWay(1e6)),
    )
    solution = solve(Network({"high": 10.0, "low": 30.0}, edges))
    assert solution.flows["check"] == pytest.approx(0.0, abs=1e-10)
    assert solution.flows["back"] > 1e-4


@pytest.mark.parametrize("head", [5.0, 20.0, 60.0, 90.0])
def test_a_held_outlet_passes_its_most_and_no_more(head: float) -> None:
    most = 2.0 * GPM
    edges = (Edge("o", "main", "air", Outlet(orifice(2.0, 20.0), most)),)
    flow = solve(Network({"main": head, "air": 0.0}, edges)).flows["o"]
    assert flow <= most * 1.001
    assert flow == pytest.approx(min(most, (head / orifice(2.0, 20.0)) ** 0.5), rel=1e-3)


def regulated(static: float, set_m: float, draw: float, fall: float = 0.0) -> tuple[float, float]:
    """The head behind a regulator and ahead of it, with a draw behind it and one ahead."""
    edges = (
        pipe("service", "main", "x", 40.0, 0.862),
        Edge("reg", "x", "y", Regulator(set_m, fall, orifice(20.0, 5.0))),
        pipe("house", "y", "z", 1.0, 0.862),
    )
    solution = solve(Network({"main": static}, edges, {"z": draw, "x": 2 * GPM}))
    return solution.heads["y"] or 0.0, solution.heads["x"] or 0.0


def test_a_regulator_holds_stands_open_and_falls_off() -> None:
    held, _ = regulated(60.0, 40.0, 3 * GPM)
    assert held == pytest.approx(40.0, abs=1e-4)
    opened, ahead = regulated(30.0, 40.0, 3 * GPM)
    assert opened == pytest.approx(ahead - orifice(20.0, 5.0) * (3 * GPM) ** 2, abs=1e-9)
    falling, _ = regulated(60.0, 40.0, 3 * GPM, 5000.0)
    assert falling == pytest.approx(40.0 - 5000.0 * 3 * GPM, abs=1e-4)


def test_two_regulators_one_behind_the_other() -> None:
    edges = (
        Edge("first", "main", "x", Regulator(50.0, 0.0, 1e6)),
        pipe("a", "x", "y", 10.0),
        Edge("second", "y", "z", Regulator(30.0, 0.0, 1e6)),
        pipe("b", "z", "w", 10.0),
    )
    solution = solve(Network({"main": 70.0}, edges, {"w": 3 * GPM, "x": 2 * GPM}))
    assert solution.heads["x"] == pytest.approx(50.0, abs=1e-4)
    assert solution.heads["z"] == pytest.approx(30.0, abs=1e-4)


def test_pressure_above_a_regulator_s_set_does_not_run_back() -> None:
    edges = (
        Edge("reg", "main", "x", Regulator(30.0, 0.0, 1e6)),
        pipe("a", "tank", "x", 10.0),
        pipe("b", "x", "y", 10.0),
    )
    solution = solve(Network({"main": 60.0, "tank": 45.0}, edges, {"y": 2 * GPM}))
    assert abs(solution.flows["reg"]) < 1e-9
    assert solution.flows["a"] == pytest.approx(2 * GPM, rel=1e-6)


def test_what_nothing_feeds_has_no_head_and_may_not_draw() -> None:
    edges = (pipe("a", "main", "x", 10.0), pipe("b", "y", "z", 10.0))
    solution = solve(Network({"main": 40.0}, edges, {"x": GPM}))
    assert solution.heads["y"] is None
    assert solution.heads["z"] is None
    dry = solve(Network({"main": 40.0}, edges, {"z": GPM}))
    assert not dry.converged
    assert "z" in dry.why
    assert dict(dry.flows) == {}
    shut = solve(Network({"main": 40.0}, edges, {"x": GPM}), frozenset(("a",)))
    assert "x" in shut.why


@pytest.mark.parametrize(
    ("network", "words"),
    [
        (Network({"a": 1.0}, (Edge("e", "a", "b", Quadratic(-1.0)),)), "'e'"),
        (Network({"a": 1.0}, (pipe("e", "a", "b", -3.0),)), "'e'"),
        (Network({"a": 1.0}, (pipe("e", "a", "b", 3.0), pipe("e", "b", "c", 3.0))), "twice"),
        (Network({"a": 1.0}, (pipe("e", "a", "b", 3.0),), {"q": 1.0}), "'q'"),
        (Network({"a": 1.0}, (pipe("e", "a", "b", 3.0),), {"a": 1.0}), "'a'"),
        (Network({}, (pipe("e", "a", "b", 3.0),)), "known head"),
    ],
)
def test_wrong_networks_are_told_in_words(network: Network, words: str) -> None:
    with pytest.raises(WrongNetwork, match=words):
        solve(network)


def test_psi_is_a_column_of_water() -> None:
    assert pytest.approx(2.307, abs=0.001) == PSI_M / 0.3048
