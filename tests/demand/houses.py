"""Small plans for the tests of demand, and their loads in fixture units and gallons a minute."""

from __future__ import annotations

import textwrap

from plancheck.building.build import build_plan
from plancheck.demand.loads import Loads, loads_of
from plancheck.demand.totals import Totals, totals_of
from plancheck.measures import read_quantity
from plancheck.model import Plan
from plancheck.reading import read_bytes
from tests.network.nets import HOUSE, LINES, Net, traced

GPM = read_quantity("1 gpm", "flow").si


PLACES = "places: {bath: {}, powder: {}, hall: {}, k: {}, u: {}}\n"


def piped(parts: str, runs: str) -> Plan:
    """The plan of parts as YAML and runs as lines `name: one end > other end`, with a few rooms."""
    lines = []
    for line in filter(None, map(str.strip, runs.splitlines())):
        name, _, ends = line.partition(": ")
        first, _, last = ends.partition(" > ")
        lines.append(f"  {name}: {{from: {first}, to: {last}, tube: t}}\n")
    head = f"plancheck: 1\n{PLACES}tubes: {{t: {{material: PEX-A, size: 1/2}}}}\n"
    text = f"{head}parts:\n{textwrap.indent(parts, '  ')}\nruns:\n{''.join(lines)}"
    return build_plan(read_bytes(text.encode(), "net.plan.yaml"))


def loads(parts: str, runs: str, family: str | None = "irc") -> Loads:
    """The loads of a plan of its own parts and runs."""
    return net_loads(traced(piped(parts, runs)), family)


def house_loads(parts: str, runs: str, family: str | None = "irc") -> Loads:
    """The same with source, main valve, cold and hot manifold and a heater fed from cold/A."""
    return loads(HOUSE + parts, LINES + runs, family)


def net_loads(found: Net, family: str | None) -> Loads:
    """The loads of what was traced."""
    return loads_of(found.plan, found.graph, found.traced, family)


def units(found: Loads, run: str) -> tuple[float, float, float]:
    """Cold, hot and total fixture units of a run, groups counted."""
    load = found[run]
    assert load.units is not None
    return load.units.cold, load.units.hot, load.units.total


def one_by_one(found: Loads, run: str) -> tuple[float, float, float]:
    """The same without groups."""
    load = found[run]
    assert load.single is not None
    return load.single.cold, load.single.hot, load.single.total


def gpm(flow_m3s: float | None) -> float:
    """A flow that is there, in gallons a minute."""
    assert flow_m3s is not None
    return flow_m3s / GPM


def totals(parts: str, family: str) -> Totals:
    """The fixture units of a plan that is only parts."""
    return totals_of(parts_only(parts), family)


def parts_only(parts: str) -> Plan:
    """A plan of fixtures with no pipe but a first one."""
    return piped(f"street: {{is: source}}\nfirst: {{is: cap}}\n{parts}", "entry: street > first")
