"""A plan's house as a network: what each part and run becomes, against figures one reckons by hand."""

from __future__ import annotations

import json
import math
from typing import Any

import pytest

from plancheck.check import facts_of
from plancheck.flow.flow import Flow
from plancheck.hydraulics.loss import loss_m
from plancheck.hydraulics.plain import Darcy, OneWay, Quadratic, Regulator
from plancheck.model import Ref
from plancheck.reading import read_bytes
from tests.casework import TODAY, plan_of

GPM, PSI, IN = 6.30901964e-5, 6894.757293168, 0.0254
PSI_M = 0.7037718  # m of water at 60 degF (62.366 lb/ft3) for each psi


def flow_of(base: str, change: dict[str, Any] | None = None) -> Flow:
    plan = plan_of({"base": base, "change": change or {}})
    return facts_of(read_bytes(json.dumps(plan).encode(), "case.plan.yaml"), TODAY).flow


def k_of(flow: Flow, edge: str) -> float:
    law = flow.edges[edge].law
    assert isinstance(law, Darcy)
    return law.k


def standing(flow: Flow, at: str) -> float:
    reading = flow.standing(Ref(*at.split("/", 1)))
    assert reading.missing is None and not reading.why, reading
    return reading.pa / PSI


def source_psi(flow: Flow) -> float:
    """The head of the source above the gauge."""
    (head,) = (head for node, head in flow.house.network.heads.items() if not node.startswith("air"))
    return (head - flow.house.levels.gauge_m) / PSI_M


def test_heights_follow_rises_from_a_gauge_that_no_floor_holds() -> None:
    """Gauge and outlet stand in no place; the run between them rises 10 ft: 4.33 psi less."""
    change = {
        "parts/main": {"is": "valve", "onto": "street", "style": "ball"},
        "parts/tee": {"is": "tee"},
        "runs/service": {"from": "main", "to": "tee", "tube": "white", "length": "12 ft", "rise": "10 ft"},
        "runs/branch": {"from": "tee/branch", "to": "wc", "tube": "blue", "length": "9 ft", "rise": "-2 ft"},
        "parts/wc": {"is": "toilet", "style": "close coupled"},
        "parts/hose": {"is": "hose outlet"},
        "runs/other": {"from": "tee/out", "to": "hose", "tube": "blue", "length": "9 ft", "rise": 0},
    }
    flow = flow_of("plainflow", change)
    assert standing(flow, "hose/cold") == pytest.approx(60 - 0.4331 * 10, abs=0.01)
    assert standing(flow, "wc/cold") == pytest.approx(60 - 0.4331 * 8, abs=0.01)


def test_static_alone_is_the_head_of_the_source() -> None:
    assert source_psi(flow_of("plainflow")) == pytest.approx(60, abs=0.01)


def test_static_and_flowing_are_one_loss_ahead_of_the_gauge() -> None:
    """62 and 55 psi at 8 gpm: 7 psi x (5/8)^2 = 2.73 at 5 gpm, whatever the pipe before is."""
    water = {"gauge": "gauge", "static": "62 psi", "flowing": {"pressure": "55 psi", "flow": "8 gpm"}}
    thin = {"tubes/old/size": "3/4", "runs/service/length": "400 ft"}
    found = []
    for change in ({}, thin):
        flow = flow_of("small", {"water": {**water, "coldest": "45 degF"}, **change})
        law = flow.edges["the supply as measured"].law
        assert isinstance(law, Quadratic)
        assert law.r * (5 * GPM) ** 2 / PSI_M == pytest.approx(7 * (5 / 8) ** 2, rel=1e-3)
        assert "service" not in flow.edges and "meter" not in flow.edges
        found.append(flow.drawn({"hose/cold": 5 * GPM}).heads[flow.house.node("gauge-tee/out")])
    assert found[0] == pytest.approx(found[1], abs=1e-9)


def test_a_running_pressure_above_the_standing_one_is_said_and_left_out() -> None:
    water = {"gauge": "main", "static": "60 psi", "flowing": {"pressure": "61 psi", "flow": "8 gpm"}}
    flow = flow_of("plainflow", {"water": water})
    assert "the supply as measured" not in flow.edges
    assert any("running pressure" in words for words in flow.house.assumed)


REGULATED = {
    "parts/reg": {"is": "regulator", "onto": "main", "place": "cellar", "at": [0, 0, "20 in"]},
    "parts/after": {"is": "valve", "onto": "reg", "style": "ball"},
    "runs/service/from": "after",
}


def test_a_gauge_behind_a_regulator_tells_the_house_and_not_the_street() -> None:
    """15 psi more are taken in the street; behind the regulator stands what it is set to."""
    set_ = {**REGULATED, "parts/reg": {**REGULATED["parts/reg"], "set": "50 psi"}}  # type: ignore[dict-item]
    flow = flow_of("plainflow", {**set_, "water/gauge": "after", "water/static": "50 psi"})
    assert source_psi(flow) == pytest.approx(65, abs=0.02)
    assert standing(flow, "hose/cold") == pytest.approx(50, abs=0.02)
    assert any("15 psi more" in words for words in flow.house.assumed)


def test_a_regulator_that_is_not_said_holds_what_the_gauge_behind_it_reads() -> None:
    flow = flow_of("plainflow", {**REGULATED, "water/gauge": "after", "water/static": "52 psi"})
    assert standing(flow, "hose/cold") == pytest.approx(52, abs=0.02)
    assert flow.held_pa("reg") == pytest.approx(52 * PSI, rel=1e-4)
    ahead = flow_of("plainflow", {**REGULATED, "water/static": "90 psi"})
    reading = ahead.standing(Ref("hose", "cold"))
    assert reading.missing is not None and reading.missing.path == ("parts", "reg", "set")
    assert ahead.held_pa("reg") is None


def test_a_regulator_holds_falls_off_and_stands_open() -> None:
    """Set 50: at 90 psi it holds 50 less its fall-off; fed with 40 it holds nothing back."""
    set_ = {**REGULATED, "parts/reg": {**REGULATED["parts/reg"], "set": "50 psi"}}  # type: ignore[dict-item]
    high, low = (flow_of("plainflow", {**set_, "water/static": static}) for static in ("90 psi", "40 psi"))
    assert isinstance(high.edges["reg"].law, Regulator)
    assert standing(high, "hose/cold") == pytest.approx(50, abs=0.02)
    assert standing(low, "hose/cold") == pytest.approx(40, abs=0.02)
    some, more = (high.drawn({"hose/cold": gpm * GPM}).heads["after/out"] or 0.0 for gpm in (2.0, 4.0))
    level = high.house.levels.gauge_m + 50 * PSI_M
    assert level > some > more


def test_no_gauge_named_is_read_at_the_source() -> None:
    flow = flow_of("plainflow", {"water/gauge": None})
    assert source_psi(flow) == pytest.approx(60, abs=0.01)


def test_manifolds_ring_straight_and_with_a_shut_section() -> None:
    """Gaps: four in a row of five ports, one more in a ring; a section normally closed parts the row there."""
    names = [edge for edge in flow_of("row").edges if edge.startswith("row:")]
    assert names == ["row:in-A", "row:A-B", "row:B-C", "row:C-D"]
    ring = flow_of("row", {"parts/row/shape": "ring"})
    assert "row:D-in" in ring.edges
    ports = {
        "in": {"use": "feed"}, "A": {}, "S": {"use": "section", "valve": "ball", "normally": "closed"}, "B": {}, "C": {}, "D": {},
    }  # fmt: skip
    parted = flow_of("row", {"parts/row/ports": ports})
    assert parted.is_fed("wc-1/cold") and not parted.is_fed("hose-1/cold")
    open_ = flow_of("row", {"parts/row/ports": {**ports, "S": {"use": "section", "valve": "ball"}}})
    assert open_.is_fed("hose-1/cold")
    closed = flow_of("row", {"parts/row/ports": ports, "parts/row/shape": "ring"})
    assert closed.is_fed("hose-1/cold")


def test_a_feed_between_two_ports_turns_off_both_ways() -> None:
    """Crimp tees of 1/2 in: 1.82 straight through, 4.88 to the side (reference table)."""
    straight, ring = flow_of("row"), flow_of("row", {"parts/row/shape": "ring"})
    assert k_of(straight, "row:in-A") == pytest.approx(1.82, abs=0.01)
    assert [k_of(ring, edge) for edge in ("row:in-A", "row:D-in")] == pytest.approx([4.88, 4.88], abs=0.02)
    assert k_of(ring, "row:A-B") == pytest.approx(1.82, abs=0.01)


def test_a_bought_manifold_has_its_own_bore_and_ports_their_spacing() -> None:
    ports = {"in": {"use": "feed"}, "A": {"next": "10 in"}, "B": {}, "C": {}, "D": {}}
    flow = flow_of("row", {"parts/row/tube": None, "parts/row/bore": "1 in", "parts/row/ports": ports})
    laws = [flow.edges[name].law for name in ("row:in-A", "row:A-B")]
    assert [law.bore_m for law in laws if isinstance(law, Darcy)] == pytest.approx([IN, IN])
    assert [law.length_m for law in laws if isinstance(law, Darcy)] == pytest.approx([12 * IN, 10 * IN])


def test_spacing_left_out_is_taken_and_said() -> None:
    flow = flow_of("row", {"parts/row/spacing": None})
    law = flow.edges["row:A-B"].law
    assert isinstance(law, Darcy) and law.length_m == pytest.approx(4 * IN)
    assert "ports of row 4 in apart" in flow.house.assumed


CRIMP = {f"runs/{run}/joint": "copper crimp ring" for run in ("service", "branch", "other")}


def test_tees_straight_on_and_to_the_side() -> None:
    flow = flow_of("plainflow", CRIMP)
    assert k_of(flow, "tee/out") == pytest.approx(1.82, abs=0.01)
    assert k_of(flow, "tee/branch") == pytest.approx(4.88, abs=0.02)
    assert "tee/in" not in flow.edges  # nothing on the way in


def test_a_bullhead_turns_off_both_ways() -> None:
    change = {**CRIMP, "runs/service/to": "tee/branch", "runs/branch/from": "tee/in"}
    flow = flow_of("plainflow", change)
    assert [k_of(flow, f"tee/{end}") for end in ("in", "out")] == pytest.approx([4.88, 4.88], abs=0.02)
    assert "tee/branch" not in flow.edges


TURN = 0.15  # a bend of tube, usual figure


@pytest.mark.parametrize(
    ("bends", "path", "more"),
    [
        ({"fitting": "ell", "count": 3}, None, 3 * 5.22),
        ({"radius": "5 in", "count": 3}, None, 3 * TURN),
        ([{"fitting": "ell"}, {"radius": "5 in"}], None, 5.22 + TURN),
        ({"fitting": "ell"}, ["up 1 ft", "east 3 ft", "up 2 ft", "north 4 ft"], 3 * 5.22),
        (None, ["up 1 ft", "east 3 ft", "up 2 ft", "north 4 ft"], 3 * TURN),
    ],
)
def test_turns_couplings_and_ells_of_a_run(bends: Any, path: list[str] | None, more: float) -> None:
    """A crimped coupling 1.48, half of one at the outlet, ells of 5.22 each (reference table), bends of tube 0.15."""
    change: dict[str, Any] = {**CRIMP, "runs/branch/along": [{"is": "coupling", "at": "9 ft"}]}
    change |= {"runs/branch/bends": bends} if bends is not None else {}
    change |= {"runs/branch/path": path} if path is not None else {}
    assert k_of(flow_of("plainflow", change), "branch") == pytest.approx(1.5 * 1.48 + more, abs=0.05)


@pytest.mark.parametrize(
    ("kind", "more", "psi", "gpm"),
    [
        ("meter", {"size": "3/4"}, 15.0, 30.0),
        ("meter", {"size": "1"}, 15.0, 50.0),
        ("softener", {"bypass": "three valves"}, 10.0, 10.0),
        ("filter", {}, 5.0, 10.0),
        ("backflow preventer", {"standard": "ASSE 1012"}, 11.5, 10.0),
    ],
)
def test_devices_lose_as_their_curve_says(kind: str, more: dict[str, str], psi: float, gpm: float) -> None:
    """Meters: 15 psi at their safe most (from memory); ASSE 1012: 8 to 15 psi at 10 gpm (read); others usual figures."""
    flow = flow_of("plainflow", {"parts/box": {"is": kind, "onto": "main", **more}, "runs/service/from": "box"})
    law = flow.edges["box"].law
    assert isinstance(law, Quadratic | OneWay)
    assert law.r * (gpm * GPM) ** 2 / PSI_M == pytest.approx(psi, rel=2e-3)


def test_valves_by_style_checks_and_pumps() -> None:
    """K of a globe 10, of a gate 0.15 (public table, read): as 67 to 1; water passes no check backwards; a pump stands."""
    losses = {}
    for style in ("globe", "gate"):
        law = flow_of("plainflow", {"parts/main/style": style}).edges["main"].law
        assert isinstance(law, Quadratic)
        losses[style] = law.r
    assert losses["globe"] / losses["gate"] == pytest.approx(10 / 0.15)
    area = math.pi / 4 * (0.671 * IN) ** 2
    assert losses["globe"] == pytest.approx(10 / (2 * 9.80665 * area**2), rel=1e-6)
    check = {"parts/flap": {"is": "check valve", "onto": "main"}, "runs/service/from": "flap"}
    assert isinstance(flow_of("plainflow", check).edges["flap"].law, OneWay)
    assert flow_of("loop").edges["pump"].shut


def test_a_valve_normally_closed_and_a_part_that_is_taken_out() -> None:
    shut = flow_of("plainflow", {"parts/main/normally": "closed"})
    assert not shut.is_fed("wc/cold")
    gone = flow_of("plainflow", {"parts/hose/work": "removed", "runs/other/work": "removed"})
    assert "hose" not in gone.house.fixtures and "other" not in gone.edges
    assert "wc" in gone.house.fixtures


def test_fixtures_as_openings() -> None:
    """A hose outlet opened alone: what it takes at the pressure that is left; said heads are held to their rating."""
    flow = flow_of("plainflow")
    solution = flow.opened(["hose/cold"])
    taken = solution.flows["hose/cold"]
    head = solution.heads["hose/cold"]
    assert head is not None
    left = (head - flow.house.fixtures["hose"].outlet_m) / PSI_M
    assert taken / GPM == pytest.approx(5 * math.sqrt(left / 60), rel=2e-3)  # 5 gpm at 60 psi (AWWA M22, read)
    shower = flow_of("swing", {"water/static": "100 psi", "parts/shower/head": "1.8 gpm"})
    both = shower.opened(shower.house.fixtures["shower"].mixed)
    assert both.flows["shower:out"] / GPM == pytest.approx(1.8, rel=2e-3)


def test_a_dishwasher_on_the_second_outlet_of_a_dual_stop() -> None:
    flow = flow_of("hammer")
    assert flow.house.node("dishwasher/hot") == flow.house.node("sink/hot")
    assert flow.is_fed("dishwasher/hot")


def test_rest_of_house_takes_its_draw() -> None:
    flow = flow_of("onerun", {"parts/far/draw": "7 gpm"})
    fixture = flow.house.fixtures["far"]
    assert fixture.opening.said and fixture.opening.flow_m3s == pytest.approx(7 * GPM)
    assert list(fixture.sides) == ["hot"]


def test_a_mixing_valve_part_mixes_to_its_setting() -> None:
    """140 and 50 degF to 110: 2/3 of hot, as long as both sides stand alike."""
    change = {
        "parts/heater/set": "140 degF",
        "water/coldest": "50 degF",
        "parts/mix": {"is": "mixing valve", "set": "110 degF", "place": "cellar"},
        "parts/fork": {"is": "tee", "place": "cellar"},
        "tubes/wide": {"material": "PEX-A", "size": "2"},
        "runs/feed": {"from": "main", "to": "fork", "tube": "wide", "length": "1 ft"},
        "runs/to-heater": {"from": "fork/out", "to": "heater/cold", "tube": "wide", "length": "1 ft"},
        "runs/to-mix": {"from": "fork/branch", "to": "mix/cold", "tube": "wide", "length": "1 ft"},
        "runs/from-heater": {"from": "heater/hot", "to": "mix/hot", "tube": "wide", "length": "1 ft"},
        "runs/hot": {"from": "mix/mixed", "to": "far/hot", "tube": "tube", "length": "10 ft"},
    }
    flow = flow_of("onerun", change)
    solution = flow.drawn({"far/hot": 3 * GPM})
    assert solution.flows["mix:hot"] / (3 * GPM) == pytest.approx(2 / 3, rel=0.01)


def test_estimates_are_told_in_the_writer_s_words() -> None:
    change = {"water/static": "about 60 psi", "runs/branch/length": "about 90 ft", "parts/wc/height": "about 2 ft"}
    flow = flow_of("plainflow", change)
    assert flow.estimates_to("wc/cold") == "about 60 psi, about 90 ft, about 2 ft"
    assert flow.estimates_to("hose/cold") == "about 60 psi"
    said = {**REGULATED, "parts/reg": {**REGULATED["parts/reg"], "set": "about 50 psi"}}  # type: ignore[dict-item]
    assert flow_of("plainflow", said).estimates_to("hose/cold") == "about 50 psi"


@pytest.mark.parametrize(
    ("change", "path"),
    [
        ({"water/static": None}, ("water", "static")),
        ({"parts/wc/height": None}, ("parts", "wc", "height")),
        ({"places/bath": {}}, ("places", "bath", "level")),
        ({"runs/branch/length": None}, ("runs", "branch", "length")),
        ({"tubes/blue": {"material": "PEX-B"}}, ("tubes", "blue", "size")),
        ({"tubes/blue": {"material": "PEX-B", "size": "16 mm"}}, ("tubes", "blue", "wall")),
        ({"tubes/blue": {"material": "copper", "size": "1/2"}}, ("tubes", "blue", "type")),
    ],
)
def test_missing_facts_are_named_by_their_key(change: dict[str, Any], path: tuple[str, ...]) -> None:
    flow = flow_of("plainflow", change)
    left = flow.alone(flow.house.fixtures["wc"], 3 * GPM)
    assert left.missing is not None and left.missing.path == path


def test_the_service_ends_at_the_first_branch_or_the_only_outlet() -> None:
    assert [run.id for run in flow_of("small").common_runs()] == ["service", "entry"]
    assert [run.id for run in flow_of("twobath").common_runs()] == ["service", "entry"]
    measured = flow_of("twobath", {"water/flowing": {"pressure": "50 psi", "flow": "8 gpm"}})
    assert [run.id for run in measured.common_runs()] == ["service", "entry"]
    assert measured.service_path() == ("runs", "service")


def test_the_band_of_losses_brackets_the_middle() -> None:
    from plancheck.flow.build import build_house

    facts = flow_of("plainflow", CRIMP).facts
    left = []
    for band in (-1.0, 0.0, 1.0):
        flow = Flow(facts, build_house(facts, band))
        left.append(flow.alone(flow.house.fixtures["wc"], 3 * GPM).pa)
    assert left[0] > left[1] > left[2]
    assert left[0] - left[1] == pytest.approx(left[1] - left[2], rel=1e-6)  # every K is off by half, either way


@pytest.mark.parametrize(("size", "bore", "gpm"), [("3/4", 0.824, 8.0), ("1", 1.049, 12.0), ("1-1/4", 1.380, 20.0)])
def test_new_galvanised_pipe_loses_what_hazen_williams_gives_at_120(size: str, bore: float, gpm: float) -> None:
    """4.52 q^1.852 / (C^1.852 d^4.8704) psi a foot with C 120 (read); both laws agree within a sixth at house flows."""
    change = {
        "tubes/white": {"material": "galvanised steel", "size": size},
        "runs/service/length": "100 ft",
    }
    flow = flow_of("plainflow", change)
    law = flow.edges["service"].law
    assert isinstance(law, Darcy)
    lost_psi = loss_m(law._replace(k=0.0), gpm * GPM) / PSI_M
    by_formula = 100 * 4.52 * gpm**1.852 / (120**1.852 * bore**4.8704)
    assert lost_psi == pytest.approx(by_formula, rel=1 / 6)


def test_rust_in_old_steel_pipe_is_said() -> None:
    change = {"tubes/white": {"material": "galvanised steel", "size": "3/4"}, "runs/service/work": "existing"}
    assert any("rust narrows" in words for words in flow_of("plainflow", change).house.assumed)
    change["runs/service/work"] = "new"
    assert not any("rust" in words for words in flow_of("plainflow", change).house.assumed)


def test_what_was_asked_before_does_not_change_an_answer() -> None:
    """A valve turned for one question stands where it stood for the next."""
    from plancheck.flow.shower import laws_at

    first, second = flow_of("small"), flow_of("small")
    fixture = next(one for one in first.house.fixtures.values() if one.mixed)
    for share in (0.2, 0.9):
        second.opened(fixture.mixed, laws_at(fixture, share))
    alone, after = first.opened(fixture.mixed), second.opened(fixture.mixed)
    assert {name: round(flow, 12) for name, flow in after.flows.items()} == {name: round(flow, 12) for name, flow in alone.flows.items()}
