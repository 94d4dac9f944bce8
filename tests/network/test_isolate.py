"""The fewest valves against networkx and against trying all sets, on random graphs and random houses; rings by hand."""

from __future__ import annotations

import itertools
import json
import random
from collections.abc import Iterable
from typing import Any

import networkx
import pytest

from plancheck.check import facts_of
from plancheck.facts import Facts
from plancheck.isolate import ALONE, FEWEST, PIPE, REACHED, Closing
from plancheck.network.cut import least_vertex_cut
from plancheck.reading import read_bytes
from plancheck.ringcuts import ring_cuts
from tests.casework import load, plan_of
from tests.command.test_flow import ROOT
from tests.network import long_plans


def random_ways(rng: random.Random) -> tuple[list[list[tuple[int, int]]], networkx.DiGraph]:
    """A random directed graph in both shapes; vertex 0 is the source."""
    count = rng.randint(4, 12)
    ways: list[list[tuple[int, int]]] = [[] for _ in range(count)]
    graph = networkx.DiGraph()
    graph.add_nodes_from(range(count))
    for number in range(rng.randint(count, 3 * count)):
        a, b = rng.sample(range(count), 2)
        for one, other in ((a, b), (b, a)) if rng.random() < 0.6 else ((a, b),):
            ways[one].append((other, number))
            graph.add_edge(one, other)
    return ways, graph


@pytest.mark.parametrize("seed", range(60))
def test_a_least_cut_is_that_of_networkx(seed: int) -> None:
    """Where every vertex may be taken out, the size is that of networkx.minimum_node_cut."""
    rng = random.Random(seed)
    ways, graph = random_ways(rng)
    end = rng.randrange(1, len(ways))
    found = least_vertex_cut(ways, 0, [end], {vertex: 1 for vertex in range(1, len(ways)) if vertex != end})
    if not networkx.has_path(graph, 0, end):
        assert found == frozenset()
    elif graph.has_edge(0, end):
        assert found is None
    else:
        assert found is not None
        graph.remove_edges_from(list(graph.in_edges(0)))  # networkx asks that neither end leads straight to the other
        assert len(found) == len(networkx.minimum_node_cut(graph, 0, end))
        graph.remove_nodes_from(found)
        assert not networkx.has_path(graph, 0, end)


@pytest.mark.parametrize("seed", range(60))
def test_a_cheapest_cut_is_the_cheapest_of_all_sets(seed: int) -> None:
    rng = random.Random(1000 + seed)
    ways, graph = random_ways(rng)
    ends = rng.sample(range(1, len(ways)), rng.randint(1, 3))
    costs = {vertex: rng.randint(1, 9) for vertex in range(1, len(ways)) if rng.random() < 0.7}
    found = least_vertex_cut(ways, 0, ends, costs)
    sets = (
        chosen
        for size in range(len(costs) + 1)
        for chosen in itertools.combinations(costs, size)
        if parts(graph, chosen, ends)
    )
    best = min((sum(costs[one] for one in chosen) for chosen in sets), default=None)
    assert (None if found is None else sum(costs[one] for one in found)) == best
    assert found is None or parts(graph, found, ends)


def parts(graph: networkx.DiGraph, chosen: Iterable[int], ends: Iterable[int]) -> bool:
    """Whether without the chosen vertices nothing comes from 0 to the ends; an end that is taken out is cut off too."""
    left = graph.copy()
    left.remove_nodes_from(chosen)
    return not any(end in left and networkx.has_path(left, 0, end) for end in ends)


def random_plan(rng: random.Random) -> dict[str, Any]:
    """A house: cold manifold (ring or row) and hot row, some ports without valve, fixtures on one or two ports, stops."""
    rooms = [f"room-{number}" for number in range(rng.randint(1, 3))]
    fixtures = rng.randint(2, 4)
    parts: dict[str, Any] = {
        "street": {"is": "source"},
        "main": {"is": "valve", "onto": "street", "place": "cellar"},
        "heater": {"is": "water heater", "place": "cellar"},
        "cold": random_manifold(rng, fixtures + 2),
        "hot": random_manifold(rng, fixtures + 1),
    }
    runs = {"entry": run("main", "cold/in"), "feed": run("cold/p0", "heater/cold"), "rise": run("heater/hot", "hot/in")}
    free = {
        row: [f"{row}/{port}" for port in parts[row]["ports"] if port not in ("in", "s")] for row in ("cold", "hot")
    }
    free["cold"].remove("cold/p0")
    for number in range(fixtures):
        place, stop = rng.choice(rooms), rng.choice(("angle", "none"))
        parts[f"f{number}"] = {"is": "lavatory", "place": place, "supply": {"stop": stop}}
        for row, ports in free.items():
            start = ports.pop(0)
            if len(ports) > fixtures - number - 1 and rng.random() < 0.6:  # two ports on one side
                tee = f"{row}-t{number}"
                parts[tee] = {"is": "tee", "place": place}
                runs[f"{tee}-a"], runs[f"{tee}-b"] = run(start, f"{tee}/in"), run(ports.pop(0), f"{tee}/branch")
                start = f"{tee}/out"
            runs[f"f{number}-{row}"] = run(start, f"f{number}/{row}")
    places: dict[str, Any] = {"cellar": {}, **{room: {} for room in rooms}}
    tubes = {"t": {"material": "PEX-A", "size": "1/2"}}
    return {"plancheck": 1, "places": places, "tubes": tubes, "parts": parts, "runs": runs}


def run(start: str, end: str) -> dict[str, str]:
    return {"from": start, "to": end, "tube": "t"}


def random_manifold(rng: random.Random, count: int) -> dict[str, Any]:
    ports: dict[str, dict[str, str]] = {"in": {"use": "feed"}}
    for number in range(count):
        ports[f"p{number}"] = {"valve": "ball" if rng.random() < 0.8 else "none"}
        reach = rng.choice(("open", "panel", "none", None))
        if reach is not None:
            ports[f"p{number}"]["reach"] = reach
    if rng.random() < 0.3:
        ports["s"] = {"use": "section"}
    return {"is": "manifold", "place": "cellar", "shape": rng.choice(("ring", "straight")), "ports": ports}


def facts(plan: dict[str, Any]) -> Facts:
    return facts_of(read_bytes(json.dumps(plan).encode(), "random.plan.yaml"), "2026-05-05")


def house_graph(closing: Closing) -> networkx.DiGraph:
    """The pipes of a house, made anew from the edges; normally closed valves out."""
    graph = networkx.DiGraph()
    for a, b, _, one_way in closing.graph.edges:
        graph.add_edge(a, b)
        if not one_way:
            graph.add_edge(b, a)
    graph.remove_nodes_from(closing.graph.closed)
    return graph


def dry_by_networkx(closing: Closing, valves: Iterable[str]) -> set[str]:
    graph = house_graph(closing)
    graph.remove_nodes_from(closing.graph.valves[name] for name in valves)
    wet = networkx.descendants(graph, closing.graph.source)
    return {name for name, vertex in closing.points.items() if vertex not in wet}


@pytest.mark.parametrize("seed", range(20))
def test_the_fewest_valves_of_random_houses(seed: int) -> None:
    rng = random.Random(seed)
    closing = Closing(facts(random_plan(rng)))
    for place in closing.plan.places:
        points = closing.in_place(place)
        ways = closing.isolations(points)
        if not points:
            assert ways == ()
            continue
        usable = [name for name in closing.graph.valves if name not in closing.facts.shutoffs.mains]
        sets = [
            chosen
            for size in range(1, 5)
            for chosen in itertools.combinations(usable, size)
            if set(points) <= dry_by_networkx(closing, chosen)
        ]
        if not sets:  # no set of a few: the main does it, or it takes more
            assert ways[0].valves == ("main",) or len(ways[0].valves) > 4
            continue
        fewest = len(sets[0])
        assert len(ways[0].valves) == fewest
        assert unreached(closing, ways[0].valves) == min(unreached(closing, one) for one in sets if len(one) == fewest)


def unreached(closing: Closing, valves: Iterable[str]) -> int:
    """How many of the valves are closed in, by the plan's own words."""
    found = 0
    for name in valves:
        part, _, port = name.partition("/")
        own = closing.plan.parts[part].own
        said = getattr(own.ports[port].reach, "kind", None) if hasattr(own, "ports") else None
        found += said == "none"
    return found


@pytest.mark.parametrize("seed", range(40))
def test_what_goes_dry_in_random_houses(seed: int) -> None:
    """Every valve, and every way to isolate, against reach in networkx."""
    closing = Closing(facts(random_plan(random.Random(seed))))
    for name in closing.graph.valves:
        assert set(closing.dry((name,))) == dry_by_networkx(closing, (name,))
    pairs = itertools.combinations(closing.graph.valves, 2)
    for pair in itertools.islice(pairs, 40):
        assert set(closing.dry(pair)) == dry_by_networkx(closing, pair)
    for place in closing.plan.places:
        points = set(closing.in_place(place))
        for way in closing.isolations(tuple(points)):
            dry = dry_by_networkx(closing, way.valves)
            assert points <= dry
            assert set(way.others) == dry - points
            if way.way == ALONE:
                assert not way.others
            if way.way == REACHED:
                assert unreached(closing, way.valves) == 0
            if way.way == PIPE:
                graph = house_graph(closing)
                graph.remove_nodes_from(closing.graph.valves[name] for name in way.valves)
                wet = networkx.descendants(graph, closing.graph.source)
                assert not any(closing.graph.number[name] in wet for name in points if name in closing.graph.outlets)


def ring_case(**change: object) -> Closing:
    return Closing(facts(plan_of({"base": "shutoff_ring", "change": change})))


def test_a_place_of_a_ring_house() -> None:
    closing = ring_case()
    ways = closing.isolations(closing.in_place("bath"))
    assert [way.way for way in ways] == [FEWEST, ALONE]
    assert set(ways[0].valves) == {"cold-ring/A", "cold-ring/B", "cold-ring/C", "cold-ring/D"}  # D: all hot water
    assert set(ways[0].others) == {"bar/hot", "heater/cold"}
    assert set(ways[1].valves) == {"cold-ring/A", "cold-ring/B", "cold-ring/C", "hot-row/A", "hot-row/B"}


def test_of_two_valves_the_nearer_one_and_before_it_the_one_in_reach() -> None:
    near = {"parts/far": {"is": "valve", "place": "cellar"}, "runs/hose-c/to": "far", "parts/hose/place": "yard"}
    closing = ring_case(**near, **{"runs/hose-d": {"from": "far", "to": "hose", "tube": "t16"}})
    assert closing.isolations(("hose/cold",))[0].valves == ("far",)
    hidden = {"parts/far": {"is": "valve", "place": "cellar", "reach": "none"}}
    closing = ring_case(**{**near, **hidden}, **{"runs/hose-d": {"from": "far", "to": "hose", "tube": "t16"}})
    assert closing.isolations(("hose/cold",))[0].valves == ("cold-ring/E",)


def test_a_valve_closed_in_has_another_way_beside_it() -> None:
    shut = {"parts/cold-ring/ports/E": {"label": "Yard hose", "reach": "none"}}
    ways = ring_case(**shut).isolations(("hose/cold",))
    assert [(way.way, way.valves) for way in ways] == [(FEWEST, ("cold-ring/E",)), (REACHED, ("main-valve",))]


def test_only_the_main_where_nothing_else_does() -> None:
    bare = {"parts/cold-ring/ports/E": {"label": "Yard hose", "valve": "none"}}
    (way,) = ring_case(**bare).isolations(("hose/cold",))
    assert way.valves == ("main-valve",)
    assert "lav/hot" in way.others


def test_no_valve_at_all() -> None:
    none = {
        "parts/cold-ring/ports/E": {"label": "Yard hose", "valve": "none"},
        "parts/main-valve": {"is": "adapter", "onto": "meter"},
    }
    assert ring_case(**none).isolations(("hose/cold",)) == ()


def test_what_wrongly_joins_hot_and_cold_is_counted_in() -> None:
    case = load(ROOT / "tests" / "cases" / "branch_shutoff" / "hot_and_cold_joined.yaml")
    joined = Closing(facts(plan_of(case)))
    assert "lav/hot" not in joined.dry(("cold-ring/D",))
    assert "lav/hot" in ring_case().dry(("cold-ring/D",))


def test_each_segment_of_a_ring_closed_in_turn() -> None:
    """Ports in the order in, A, B, C, S (section), D, E, up, F, G and back to in: nothing goes dry by one closing."""
    cuts = {cut.segment.ends: cut for cut in ring_cuts(ring_case())[0]}
    assert len(cuts) == 9  # ten ports, of which the section valve ends no segment
    names = [f"cold-ring/{port}" for port in ("A", "B", "C", "D", "E", "up", "F", "G")]
    for place in range(len(names) + 1):
        ends = frozenset(("cold-ring/in", *names, "cold-ring/in")[place : place + 2])
        (cut,) = (one for key, one in cuts.items() if frozenset(key) == ends)
        sides = tuple(side for side in (tuple(names[:place]), tuple(reversed(names[place:]))) if side)
        assert set(cut.one_side) == set(sides)
        assert cut.dry == ()
        assert cut.segment.valves == (("cold-ring/S",) if place == 3 else ())


def test_a_ring_whose_section_valve_is_closed_goes_dry_between() -> None:
    closed = {"parts/cold-ring/ports/S": {"use": "section", "normally": "closed"}}
    cuts = {frozenset(cut.segment.ends): cut for cut in ring_cuts(ring_case(**closed))[0]}
    assert cuts[frozenset(("cold-ring/A", "cold-ring/B"))].dry == ("wc/cold", "shower/cold")


def test_a_ring_of_pipe_between_tees() -> None:
    plan = {
        "plancheck": 1,
        "tubes": {"t": {"material": "PEX-A", "size": "3/4"}},
        "parts": {
            "street": {"is": "source"},
            "main": {"is": "valve", "onto": "street"},
            **{name: {"is": "tee"} for name in ("a", "b", "c")},
            "v": {"is": "valve"},
            "wc": {"is": "toilet"},
            "hose": {"is": "hose outlet"},
        },
        "runs": {
            "in": {"from": "main", "to": "a/branch", "tube": "t"},
            "ab": {"from": "a/out", "to": "b/in", "tube": "t"},
            "bv": {"from": "b/out", "to": "v", "tube": "t"},
            "vc": {"from": "v", "to": "c/in", "tube": "t"},
            "ca": {"from": "c/out", "to": "a/in", "tube": "t"},
            "wc-c": {"from": "b/branch", "to": "wc", "tube": "t"},
            "hose-c": {"from": "c/branch", "to": "hose", "tube": "t"},
        },
    }
    cuts = {frozenset(cut.segment.ends): cut for cut in ring_cuts(Closing(facts(plan)))[0]}
    assert cuts.keys() == {frozenset("ab"), frozenset("bc"), frozenset("ca")}
    assert cuts[frozenset("bc")].segment.valves == ("v",)
    assert set(cuts[frozenset("bc")].one_side) == {("b",), ("c",)}
    assert set(cuts[frozenset("ab")].one_side) == {("c", "b")}


def test_of_very_many_segments_only_those_with_a_valve_are_told() -> None:
    closing = Closing(facts(long_plans.tees_in_a_ring(300)))
    assert ring_cuts(closing) == ((), 301)
    closing = Closing(facts(long_plans.tees_in_a_ring(50)))
    assert (len(ring_cuts(closing)[0]), ring_cuts(closing)[1]) == (51, 0)


def test_what_a_ring_loses_is_what_a_row_fed_at_its_end_loses() -> None:
    """With the segment before the feed out, the ring is the straight manifold fed at its end, solved in another way."""
    from plancheck.flow.variants import END, variant_plan

    house = facts_of(read_bytes((ROOT / "sample_plans" / "boathouse.plan.yaml").read_bytes(), "b"), "2026-05-05")
    part = house.plan.parts["cold-ring"]
    straight = variant_plan(house, part, END)
    assert straight is not None
    draws = dict(house.flow.network_peak(house.loads).draws)
    heads = []
    for one in (house, straight):
        solution = one.flow.drawn(draws)
        heads.append({port: solution.heads[one.flow.house.node(f"cold-ring/{port}:row")] for port in "ABCDEFGH"})
    used = house.flow.used_ports(part)
    worst = max(heads[0][port] - heads[1][port] for port in used)
    cut = next(one for one in ring_cuts(Closing(house))[0] if set(one.segment.ends) == {"cold-ring/in", "cold-ring/S"})
    assert cut.lost is not None
    assert cut.lost[1] == pytest.approx(worst * 9806.65, rel=0.01)
    assert worst > 0.1
