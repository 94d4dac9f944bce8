"""Networks of a size no house has: right answers, no recursion; growth is printed by tests/bench/bench_trace.py."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator

import pytest

from plancheck.building.build import build_plan
from plancheck.geometry import find_geometry
from plancheck.model import Ref
from plancheck.network.entry import mains
from plancheck.reading import read_bytes
from tests.network import long_plans
from tests.network.nets import Net, built, traced


@pytest.fixture(autouse=True)
def shallow_stack() -> Iterator[None]:
    """So little room for calls in calls that any walk by recursion fails at once."""
    most = sys.getrecursionlimit()
    sys.setrecursionlimit(400)
    yield
    sys.setrecursionlimit(most)


def _services(found: Net, prefix: str) -> set[str | None]:
    return {one.service for name, one in found.traced.runs.items() if name.startswith(prefix)}


def test_five_thousand_tees_in_series() -> None:
    plan = built(long_plans.tees_in_series(2500))
    found = traced(plan)
    assert len(plan.runs) == 10_004
    assert _services(found, "cold-") == {"cold"}
    assert _services(found, "hot-") == {"hot"}
    assert found.traced.crossovers == ()
    assert found.zones.unfed == ()
    assert found.zones.before["f2499/hot"] == ("f2499/hot",)
    assert found.zones.dry["f7/cold"] == ("f7/cold",)
    heights = find_geometry(plan).heights
    assert heights[Ref("c2499", "in")] == pytest.approx(2500 * 0.0254)
    assert heights[Ref("f2499", "cold")] == pytest.approx(2500 * 0.0254 + 0.3048)


def test_ten_thousand_runs_come_through_the_reader() -> None:
    raw = json.dumps(long_plans.tees_in_series(2500)).encode()
    assert 1_100_000 < len(raw) < 2_000_000
    found = traced(build_plan(read_bytes(raw, "long.plan.json")))
    assert len(found.traced.runs) == 10_004
    assert all(one.fed and one.service for one in found.traced.runs.values())


def test_a_link_at_the_far_end_of_both_lines_is_named() -> None:
    plan = long_plans.tees_in_series(1000)
    del plan["parts"]["cold-end"]
    plan["runs"]["cold-last"] = long_plans.run("c999/out", "hot-end/out")
    assert traced(built(plan)).traced.crossovers == ("cold-last",)


def test_thousands_of_tees_in_a_ring() -> None:
    plan = built(long_plans.tees_in_a_ring(5000))
    found = traced(plan)
    assert {name for name, one in found.traced.runs.items() if one.ring} == {
        "ring-last",
        *(f"ring-{n}" for n in range(5000)),
    }
    assert found.zones.unfed == ()
    assert found.zones.before["wc2500/cold"] == ("wc2500/cold",)
    geometry = find_geometry(plan)
    assert geometry.points[Ref("r2499", "in")] == pytest.approx((2500 * 0.3048, 0.3048, 0))
    assert geometry.misses == ()


def test_each_of_thousands_of_valves_shuts_what_lies_behind_it() -> None:
    plan = built(long_plans.valves_in_series(3000))
    found = traced(plan)
    assert len(found.zones.dry["v0"]) == 3000
    assert found.zones.dry["v2999"] == ("wc2999/cold",)
    assert len(found.zones.dry["v1234"]) == 3000 - 1234
    assert found.zones.before["wc2999/cold"] == ("wc2999/cold", *(f"v{n}" for n in reversed(range(3000))))
    assert mains(plan, found.graph, found.zones) == ("v0",)


def test_hundreds_of_pumps_each_leave_a_return_of_their_own() -> None:
    found = traced(built(long_plans.pumps_at_sinks(300)))
    assert found.traced.crossovers == ()
    assert _services(found, "to-pump-") == _services(found, "from-pump-") == {"hot return"}
    assert _services(found, "hot-") == {"hot"}
    assert _services(found, "cold-") == {"cold"}
