"""The peak demand of every run of a traced plan, by fixture units and by the binomial method, cold and hot apart."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from plancheck.demand.fixtures import COLD, HOT, Items, Missing, items_of
from plancheck.demand.peaks import RunLoad, load_of
from plancheck.demand.pipes import Pipes, Walks
from plancheck.demand.tally import Sum, Tally
from plancheck.model import Plan
from plancheck.network.graph import Graph
from plancheck.network.trace import Traced


class Loads(Mapping[str, RunLoad]):
    """run -> its load, worked out when asked. A hot run carries the hot sides behind it; a cold run the cold ones, and
    before a heater all that it heats too: a fixture that gets both then counts with its total, once."""

    def __init__(self, family: str | None, runs: Mapping[str, int | Missing], sums: Mapping[int, Sum]) -> None:
        self.family = family
        self._runs = runs
        self._sums = sums
        self._kept: dict[str, RunLoad] = {}

    def __getitem__(self, run: str) -> RunLoad:
        kept = self._kept.get(run)
        if kept is None:
            found = self._runs[run]
            kept = load_of(self.family, found) if isinstance(found, Missing) else self.of_edge(found)
            self._kept[run] = kept
        return kept

    def __iter__(self) -> Iterator[str]:
        return iter(self._runs)

    def __len__(self) -> int:
        return len(self._runs)

    def of_edge(self, edge: int) -> RunLoad:
        """The load of an edge of the graph (within a manifold's body, say). Raises KeyError where none is traced on it."""
        return load_of(self.family, self._sums[edge])


def loads_of(plan: Plan, graph: Graph, traced: Traced, family: str | None) -> Loads:
    """The loads of all runs not removed. family: irc, ipc, upc, or None (then no fixture units).

    Time grows about as the number of runs and parts. A run on a ring carries the whole ring's load.
    """
    sums = _sums(graph, traced, items_of(plan, family), family)
    runs: dict[str, int | Missing] = {}
    for number, (a, b, run, _) in enumerate(graph.edges):
        if run is None:
            continue
        if number in sums:
            runs[run] = number
        elif a in traced.parents or b in traced.parents:
            runs[run] = Missing("which way this run serves: hot and cold meet on it", ("runs", run))
        else:
            runs[run] = Missing("water that reaches this run", ("runs", run))
    return Loads(family, runs, sums)


def _sums(graph: Graph, traced: Traced, items: Items, family: str | None) -> dict[int, Sum]:
    pipes = Pipes(graph, traced)
    taps: dict[int, tuple[str, int]] = {}
    for name, tap in graph.outlets.items():
        part, _, side = name.rpartition("/")
        taps[tap] = part, HOT if side == "hot" else COLD
    taps.update({graph.number[f"{part}/in"]: (part, COLD) for part in items if f"{part}/in" in graph.number})
    found: dict[int, Sum] = {}
    fed: dict[int, Tally] = {}
    walks = Walks(pipes.ways)
    for water in pipes.order():
        order = walks.order(pipes.entries[water])
        tallies: dict[int, Tally] = {}
        sums: dict[int, Sum] = {}
        for vertex in reversed(order):
            tally = tallies.pop(vertex, None) or Tally(family)
            _hang(tally, vertex, taps, items, fed.get(pipes.inlets.get(vertex, -1)))
            if walks.block[vertex] == vertex:
                sums[vertex] = tally.sum()
            above = walks.above[vertex]
            tallies[above] = tallies[above].join(tally) if above in tallies else tally
        fed[water] = tallies[-1]
        found.update((edge, sums[block]) for edge, block in walks.edges(order))
    return found


def _hang(tally: Tally, vertex: int, taps: Mapping[int, tuple[str, int]], items: Items, behind: Tally | None) -> None:
    """Adds what hangs on the vertex itself: an outlet side, or all that a heater or mixing valve feeds from it."""
    if vertex in taps:
        part, side = taps[vertex]
        for item in items.get(part, ()):
            tally.add(item, side)
    if behind is not None:
        for item, side in behind.sides.values():
            tally.add(item, side)
