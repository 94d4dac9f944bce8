"""Which family asks a valve where, against the clauses; and what goes dry, against a plain search without the valve."""

from __future__ import annotations

import copy
import json
from typing import Any

import networkx as nx
import pytest

from plancheck.check import facts_of
from plancheck.facts import Facts
from plancheck.limits import InForce, Limits
from plancheck.loader import built_in_rules
from plancheck.network.graph import Graph
from plancheck.reading import read_bytes
from tests.casework import CASES, TODAY, changed, load

RULE = next(rule for rule in built_in_rules() if rule.id == "branch_shutoff")


def in_force(id_: str, family: str | None) -> InForce:
    return Limits(family, None).of(next(one for one in RULE.rule.limits if one.id == id_))


# demand, family, document, clause, read or from memory. Read: a city's copy of IPC 606.1 and 606.2 (structure entry, every
# heater, each sillcock, every appliance); a city's text of UPC 606.2 (fullway valve at the meter outlet, for each building
# and at the heater's cold inlet; IRC P2903.9.2 is given beside it); inspectors' text of IRC P2903.9.3 and P2903.8.5 (each
# fixture supply but tubs and showers; at the manifold labelled). From memory: IRC P2903.9.1 and P2903.10, UPC 606.5.
CLAUSES = [
    ("main", "irc", "IRC", "P2903.9.1", "from memory"),
    ("main", "ipc", "IPC", "606.1", "read"),
    ("main", "upc", "UPC", "606.2", "read"),
    ("heater", "irc", "IRC", "P2903.9.2", "read"),
    ("heater", "ipc", "IPC", "606.1", "read"),
    ("heater", "upc", "UPC", "606.2", "read"),
    ("fixture", "irc", "IRC", "P2903.9.3, P2903.8.5", "read"),
    ("fixture", "upc", "UPC", "606.5", "from memory"),
    ("appliance", "irc", "IRC", "P2903.9.3", "read"),
    ("appliance", "ipc", "IPC", "606.2", "read"),
    ("appliance", "upc", "UPC", "606.5", "from memory"),
    ("hose", "irc", "IRC", "P2903.9.3", "read"),
    ("hose", "ipc", "IPC", "606.2", "read"),
    ("hose", "upc", "UPC", "606.5", "from memory"),
]
NOT_ASKED = [
    ("fixture", "ipc"),
    ("frost_proof", "irc"),
    *((id_, None) for id_ in ("main", "heater", "fixture", "hose")),
]


@pytest.mark.parametrize(("id_", "family", "document", "clause", "read"), CLAUSES)
def test_the_family_asks(id_: str, family: str, document: str, clause: str, read: str) -> None:
    found = in_force(id_, family)
    assert not found.practice
    assert (found.source.document, found.source.read) == (document, read)
    assert found.source.clause.startswith(clause)


@pytest.mark.parametrize(("id_", "family"), NOT_ASKED)
def test_where_no_clause_asks_it_is_practice(id_: str, family: str | None) -> None:
    assert in_force(id_, family).practice


BYPASS = {
    "parts/bypass": {"is": "valve", "normally": "closed", "style": "ball", "reach": "open"},
    "parts/tee-1": {"is": "tee"},
    "parts/tee-2": {"is": "tee"},
    "runs/lav-c/to": "tee-1",
    "runs/lav-c2": {"from": "tee-1/out", "to": "lav/cold", "tube": "t16"},
    "runs/wc-c/to": "tee-2",
    "runs/wc-c2": {"from": "tee-2/out", "to": "wc", "tube": "t16"},
    "runs/by-1": {"from": "tee-1/branch", "to": "bypass", "tube": "t16"},
    "runs/by-2": {"from": "bypass", "to": "tee-2/branch", "tube": "t16"},
}
NETS: list[tuple[str, dict[str, Any]]] = [
    ("small", {}),
    ("shutoff_trunk", {}),
    ("shutoff_ring", {}),
    ("shutoff_ring", {"parts/cold-ring/ports/S/normally": "closed"}),
    ("shutoff_ring", BYPASS),
    ("shutoff_ring", {**BYPASS, "parts/bypass/normally": "open"}),
    ("shutoff_ring", {"parts/cold-ring/ports/E/normally": "closed"}),
]


def facts(base: str, changes: dict[str, Any]) -> Facts:
    plan = changed(load(CASES / "base" / f"{base}.plan.yaml"), copy.deepcopy(changes))
    return facts_of(read_bytes(json.dumps(plan).encode(), "net.plan.yaml"), TODAY)


def wet(graph: Graph, shut: set[int]) -> set[str]:
    """The outlet sides that a plain search from the source reaches with the vertices in shut taken out."""
    net = nx.DiGraph()
    for a, b, _, one_way in graph.edges:
        net.add_edge(a, b)
        if not one_way:
            net.add_edge(b, a)
    net.remove_nodes_from(shut)
    reached = nx.descendants(net, graph.source)
    return {name for name, tap in graph.outlets.items() if tap in reached}


@pytest.mark.parametrize(("base", "changes"), NETS)
def test_what_goes_dry_is_what_a_search_without_the_valve_does_not_reach(base: str, changes: dict[str, Any]) -> None:
    found = facts(base, changes)
    graph = found.network
    before = wet(graph, set(graph.closed))
    assert before
    for name, vertex in graph.valves.items():
        after = wet(graph, {*graph.closed, vertex})
        assert set(found.zones.dry[name]) == before - after, name
        for side in before - after:
            assert name in found.zones.before[side]
        for side in after:
            assert name not in found.zones.before[side]


@pytest.mark.parametrize(("base", "changes"), NETS)
def test_a_port_is_said_to_dry_just_what_only_its_valve_keeps_dry(base: str, changes: dict[str, Any]) -> None:
    found = facts(base, changes)
    graph, ports = found.network, found.shutoffs.ports
    looped = {"cold-ring/A", "cold-ring/B"} if changes.get("parts/bypass/normally") == "open" else set()
    for name, vertex in graph.valves.items():
        if not found.shutoffs.is_port(name) or name.endswith("/S"):
            continue
        others = set(graph.closed) - {vertex}
        dry = wet(graph, others) - wet(graph, {*others, vertex})
        hanging = {found.shutoffs.points()[point]: point for point in ports.hanging(name)}
        said = {side for side, point in hanging.items() if found.shutoffs.still_wet(vertex, [point])}
        assert said == {side for side in hanging if side in graph.outlets} - dry, name
        assert bool(said) == (name in looped), name


@pytest.mark.parametrize(("base", "changes"), NETS)
def test_the_first_main_dries_every_outlet(base: str, changes: dict[str, Any]) -> None:
    found = facts(base, changes)
    main = found.shutoffs.mains[0]
    assert main == "main-valve"
    assert wet(found.network, {found.network.number[main]}) == set()
