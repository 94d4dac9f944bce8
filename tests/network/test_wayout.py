"""The shortest way out along the pipe, against networkx on ladders of metal pipe with plastic at their far end."""

from __future__ import annotations

import json
from typing import Any

import networkx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from plancheck.check import facts_of
from plancheck.kinds import PEX
from plancheck.reading import read_bytes
from plancheck.wayout import LEAST, LEAST_AS_SAID, MOST, MOST_AS_SAID, Reckoning, Way, ways_to

MM = 0.001
Said = tuple[int, str]  # millimetres, and what is written: exact, about or nothing


def ladder(rungs: list[tuple[Said, Said, Said]]) -> tuple[dict[str, Any], networkx.Graph]:
    """A heater, then a ladder of tees; each rung with the two rails ahead of it. Plastic leaves the right rail's end.

    The graph's edges carry the millimetres and how they are written.
    """
    parts: dict[str, Any] = {"street": {"is": "source"}, "heater": {"is": "water heater"}, "sink": {"is": "bar sink"}}
    runs: dict[str, Any] = {"cold": {"from": "street", "to": "heater/cold", "tube": "hard"}}
    graph = networkx.Graph()
    left, right = "heater/hot", ""

    def run(a: str, b: str, said: Said) -> None:
        runs[f"r{len(runs)}"] = {"from": a, "to": b, "tube": "hard", **_length(said)}
        graph.add_edge(a.partition("/")[0], b.partition("/")[0], said=said)

    for number, (rail, other, rung) in enumerate(rungs):
        parts[f"l{number}"], parts[f"p{number}"] = {"is": "tee"}, {"is": "tee"}
        run(left, f"l{number}/in", rail)
        run(f"l{number}/branch", f"p{number}/branch", rung)
        if right:
            run(right, f"p{number}/in", other)
        left, right = f"l{number}/out", f"p{number}/out"
    runs["plastic"] = {"from": right, "to": "sink/hot", "tube": "red"}
    tubes = {"hard": {"material": "copper"}, "red": {"material": "PEX-A"}}
    return {"plancheck": 1, "tubes": tubes, "parts": parts, "runs": runs}, graph


def _length(said: Said) -> dict[str, str]:
    mm, how = said
    return {} if how == "nothing" else {"length": f"about {mm} mm" if how == "about" else f"{mm} mm"}


def first(plan: dict[str, Any], reckoned: Reckoning) -> Way:
    facts = facts_of(read_bytes(json.dumps(plan).encode(), "ladder.plan.yaml"), "2026-05-05")
    return ways_to(facts, facts.network.number["heater/hot"], True, PEX, 1e9, reckoned)[0]


def shortest_mm(graph: networkx.Graph, end: str, about: float | None, nothing: float) -> float:
    """The shortest way by networkx. about: what an estimate counts (None: as said); nothing: an unwritten length."""

    def weight(_a: str, _b: str, edge: dict[str, Any]) -> float:
        mm, how = edge["said"]
        if how == "nothing":
            return nothing
        return float(mm) if how == "exact" or about is None else about

    return float(networkx.dijkstra_path_length(graph, "heater", end, weight))


_SAID = st.tuples(st.integers(1, 900), st.sampled_from(("exact", "exact", "about", "nothing")))


@given(st.lists(st.tuples(_SAID, _SAID, _SAID), min_size=1, max_size=5))
def test_shortest_way_is_that_of_networkx(rungs: list[tuple[Said, Said, Said]]) -> None:
    plan, graph = ladder(rungs)
    end, far = f"p{len(rungs) - 1}", 1e6
    ways = ((LEAST, 0.0, 0.0), (LEAST_AS_SAID, None, 0.0), (MOST_AS_SAID, None, far), (MOST, far, far))
    for reckoned, about, nothing in ways:
        counted = reckoned._replace(
            missing_m=min(reckoned.missing_m, far * MM), more_m=min(reckoned.more_m, far * MM)
        )  # what is without end counts a kilometre here, so that both count alike
        way = first(plan, counted)
        assert way.m == pytest.approx(shortest_mm(graph, end, about, nothing) * MM, abs=1e-9)
        assert way.reached == ("runs", "plastic")


def test_what_is_not_sure_is_named() -> None:
    plan, _ = ladder([((10, "about"), (0, "exact"), (20, "nothing"))])
    way = first(plan, LEAST)
    assert way.about == "about 10 mm"
    assert way.missing is not None
    assert way.missing[2] == "length"


def test_nothing_beyond_the_distance_asked_for() -> None:
    plan, _ = ladder([((300, "exact"), (0, "exact"), (200, "exact"))])
    facts = facts_of(read_bytes(json.dumps(plan).encode(), "ladder.plan.yaml"), "2026-05-05")
    start = facts.network.number["heater/hot"]
    assert ways_to(facts, start, True, PEX, 0.5, LEAST) == []
    assert [way.m for way in ways_to(facts, start, True, PEX, 0.51, LEAST)] == pytest.approx([0.5])
