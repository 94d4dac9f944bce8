"""Fixed draws walked out along the tree, rings and chains put together: the same as the whole network solved at once."""

from __future__ import annotations

import itertools
import random

import pytest

from plancheck.flow.core import Core, core_of
from plancheck.flow.fixed import fold_ready, solve_fixed
from plancheck.hydraulics.fold import fold
from plancheck.hydraulics.plain import Darcy, Edge, Law, Network, OneWay, Outlet, Quadratic, Regulator
from plancheck.hydraulics.solving import solve
from tests.hydraulics.houses import random_house

GPM, PSI_M = 6.30902e-5, 0.70307
NEAR_M3S, NEAR_M = 1e-9, 1e-5


def pipe(rng: random.Random) -> Law:
    """A run of tube or a device."""
    if rng.random() < 0.15:
        return Quadratic(rng.uniform(1e5, 5e6))
    return Darcy(rng.uniform(0.2, 12.0), rng.choice((0.0121, 0.0170, 0.0219)), rng.uniform(0.0, 6.0))


def random_draws(seed: int) -> tuple[list[Edge], dict[str, float]]:
    """A house of pipes from `main`: a trunk with a regulator and a check, rings of several shapes, dead branches; draws."""
    rng = random.Random(seed)
    edges = [Edge("service", "main", "n0", pipe(rng))]
    if rng.random() < 0.5:
        edges.append(Edge("reg", "n0", "n0b", Regulator(rng.uniform(20, 45), rng.uniform(0, 3e3), 1e5)))
        edges.append(Edge("check", "n0b", "n1", OneWay(2e5)))
    else:
        edges.append(Edge("pipe", "n0", "n1", pipe(rng)))
    nodes = ["n1"]
    for number in range(rng.randint(4, 20)):
        start, new = rng.choice(nodes), f"p{number}"
        a, b = (start, new) if rng.random() < 0.7 else (new, start)
        edges.append(Edge(f"run{number}", a, b, pipe(rng)))
        nodes.append(new)
    for number in range(rng.randint(0, 4)):
        a, b = rng.sample(nodes, 2)
        edges.append(Edge(f"link{number}", a, b, pipe(rng)))
    draws = {node: rng.uniform(0.2, 4.0) * GPM for node in rng.sample(nodes, rng.randint(1, min(5, len(nodes))))}
    return edges, draws


@pytest.mark.parametrize("seed", range(120))
def test_fixed_draws_are_those_of_the_whole_network(seed: int) -> None:
    edges, draws = random_draws(seed)
    fixed = solve_fixed(core_of(edges, ["main"]), "main", 60 * PSI_M, draws, {})
    whole = solve(Network({"main": 60 * PSI_M}, tuple(edges), draws))
    assert not fixed.why and not whole.why
    for edge, flow in fixed.flows.items():
        assert flow == pytest.approx(whole.flows[edge], abs=NEAR_M3S), edge
    for edge, flow in whole.flows.items():
        if edge not in fixed.flows:
            assert abs(flow) <= NEAR_M3S, edge  # only what carries nothing is left out
    for node in draws:
        assert fixed.heads[node] == pytest.approx(whole.heads[node], abs=NEAR_M)


@pytest.mark.parametrize("seed", range(20))
def test_other_laws_of_edges_are_those_of_another_house(seed: int) -> None:
    edges, draws = random_draws(seed)
    wide: dict[str, Law] = {
        edge.id: edge.law._replace(bore_m=edge.law.bore_m * 1.3) for edge in edges[::3] if isinstance(edge.law, Darcy)
    }
    core = core_of(edges, ["main"])
    changed = [edge._replace(law=wide.get(edge.id, edge.law)) for edge in edges]
    one = solve_fixed(core, "main", 60 * PSI_M, draws, wide)
    other = solve_fixed(core_of(changed, ["main"]), "main", 60 * PSI_M, draws, {})
    assert dict(one.flows) == pytest.approx(dict(other.flows), abs=1e-15)


@pytest.mark.parametrize("seed", range(60))
def test_open_outlets_folded_are_those_unfolded(seed: int) -> None:
    """The random houses of the solver's own tests, with a chain put into each pipe."""
    rng = random.Random(seed)
    house = random_house(rng)
    network = house.with_open(frozenset(rng.sample(sorted(house.fixtures), 2)))
    chained: list[Edge] = []
    for edge in network.edges:
        if isinstance(edge.law, Darcy) and rng.random() < 0.5:
            half = edge.law._replace(length_m=edge.law.length_m / 2, k=edge.law.k / 2)
            middle = f"{edge.id} middle"
            back = rng.random() < 0.5
            second = Edge(f"{edge.id} 2", *((edge.b, middle) if back else (middle, edge.b)), half, edge.shut)
            chained += [Edge(f"{edge.id} 1", edge.a, middle, half, edge.shut), second]
        else:
            chained.append(edge)
    long = network._replace(edges=tuple(chained))
    folded, chains = fold(long)
    assert chains and len(folded.edges) < len(long.edges)
    one, other = fold_ready(long).solved(), solve(long)
    assert not one.why and not other.why
    assert dict(one.flows) == pytest.approx(dict(other.flows), abs=NEAR_M3S)
    for node, head in other.heads.items():
        if head is not None and node in one.heads and abs(head) < 1e3:
            assert one.heads[node] == pytest.approx(head, abs=1e-4), node


def test_a_chain_s_inner_heads_fall_step_by_step() -> None:
    piece = Darcy(3.0, 0.0121)
    edges = (
        Edge("a", "main", "x", piece),
        Edge("b", "y", "x", piece),
        Edge("c", "y", "z", piece),
        Edge("tap", "z", "air", Outlet(5e8)),
    )
    solution = fold_ready(Network({"main": 40.0, "air": 0.0}, edges)).solved()
    heads = [solution.heads[node] for node in ("main", "x", "y", "z")]
    falls = [(one or 0.0) - (other or 0.0) for one, other in itertools.pairwise(heads)]
    assert falls == pytest.approx([falls[0]] * 3, rel=1e-6)
    assert solution.flows["b"] == pytest.approx(-solution.flows["a"])


def test_a_core_is_what_lies_toward_its_nodes() -> None:
    piece = Quadratic(1e6)
    edges = [
        Edge("service", "main", "a", piece),
        Edge("ring1", "a", "b", piece),
        Edge("ring2", "b", "c", piece),
        Edge("ring3", "c", "a", piece),
        Edge("out", "c", "far", piece),
        Edge("dead", "b", "deadend", piece),
    ]
    core: Core = core_of(edges, ["main"])
    assert {edge.id for edge in core.toward(["far"])} == {"service", "ring1", "ring2", "ring3", "out"}
    assert {edge.id for edge in core.toward(["deadend"])} == {"service", "ring1", "ring2", "ring3", "dead"}
    assert core.toward(["nowhere"]) == []


def test_what_cannot_be_has_its_reason() -> None:
    piece = Quadratic(1e6)
    core = core_of([Edge("a", "main", "x", piece), Edge("loose", "p", "q", piece)], ["main"])
    assert "nothing feeds the draw at q" in solve_fixed(core, "main", 40.0, {"q": 1e-4}, {}).why
    back = core_of([Edge("flap", "x", "main", OneWay(1e6))], ["main"])
    assert "backwards through flap" in solve_fixed(back, "main", 40.0, {"x": 1e-4}, {}).why
