"""Pipe in which water never moves: branches that lead to nothing drawn from, and pipe that no water reaches.

What is drawn from, or holds no water of its own: outlets, heaters, mixing valves, test ports, expansion tanks, arrestors and
stub-outs that serve something. Branches that lead to none of these are pruned from their ends inward.
"""

from collections.abc import Iterator

from plancheck.facts import Facts
from plancheck.hot.pieces import Piece, of_run
from plancheck.kinds import KINDS
from plancheck.model import NONE, NOT_KNOWN, Part, Path, RestOwn
from plancheck.record import NamedTuple

_KEEPS = ("test port", "expansion tank", "arrestor", "rest of house")


class Still(NamedTuple):
    """A branch in which nothing moves.

    pieces: its runs; end: the cap or stub-out at its end, if one is drawn; valve: a valve before its first run, at the
    junction; port: the manifold port it hangs on.
    """

    pieces: tuple[Piece, ...]
    end: Part | None
    valve: str | None
    junction: str

    @property
    def length_m(self) -> float:
        """As far as it is known, all its arms."""
        return sum(piece.length_m for piece in self.pieces)

    @property
    def missing(self) -> Path | None:
        """The first key that would tell a length."""
        return next((piece.missing for piece in self.pieces if piece.missing is not None), None)

    @property
    def volume_m3(self) -> float:
        """What it holds, as far as it is known."""
        return sum(piece.volume_m3 for piece in self.pieces)


class Dry(NamedTuple):
    """Runs and parts joined to each other that no water reaches."""

    runs: tuple[str, ...]
    parts: tuple[str, ...]


def still_branches(facts: Facts) -> Iterator[Still]:
    """The branches with pipe in which nothing moves; time grows as the number of runs and parts."""
    graph, wet = facts.network, facts.traced.services
    touching = [set(edges) for edges in graph.touching]
    kept = _kept(facts)
    pruned: set[int] = set()
    ends = [vertex for vertex in range(len(graph.names)) if len(touching[vertex]) == 1 and vertex not in kept]
    for vertex in ends:  # grows while it is walked
        if len(touching[vertex]) != 1 or vertex in kept:
            continue
        number = touching[vertex].pop()
        pruned.add(number)
        edge = graph.edges[number]
        other = edge.b if edge.a == vertex else edge.a
        touching[other].discard(number)
        if len(touching[other]) == 1:
            ends.append(other)
    for junction, edges in _branches(facts, pruned, touching, kept):
        if junction in wet and any(graph.edges[number].run is not None for number in edges):
            yield _still(facts, junction, edges)


def dry_pieces(facts: Facts) -> Iterator[Dry]:
    """What no water reaches: groups with pipe in them, and parts joined to nothing. Fixtures alone are left out."""
    graph = facts.network
    dry = [
        vertex not in facts.traced.services and vertex not in facts.traced.parents for vertex in range(len(graph.names))
    ]
    seen: set[int] = set()
    wet_parts = {name.partition("/")[0].partition(":")[0] for vertex, name in enumerate(graph.names) if not dry[vertex]}
    for start in range(len(graph.names)):
        if not dry[start] or start in seen:
            continue
        group, runs = _group(facts, start, dry, seen)
        parts = tuple(dict.fromkeys(graph.names[vertex].partition("/")[0].partition(":")[0] for vertex in group))
        if runs or _alone(facts, parts, wet_parts):
            yield Dry(tuple(runs), tuple(part for part in parts if part not in wet_parts))


def _alone(facts: Facts, parts: tuple[str, ...], wet_parts: set[str]) -> bool:
    mine = [part for part in parts if part not in wet_parts]
    return bool(mine) and all(KINDS[facts.plan.parts[part].is_].sort != "fixture" for part in mine)


def _group(facts: Facts, start: int, dry: list[bool], seen: set[int]) -> tuple[list[int], list[str]]:
    graph, group, runs = facts.network, [start], dict[str, None]()
    seen.add(start)
    for vertex in group:  # grows while it is walked
        for number in graph.touching[vertex]:
            edge = graph.edges[number]
            other = edge.b if edge.a == vertex else edge.a
            if edge.run is not None:
                runs[edge.run] = None
            if dry[other] and other not in seen:
                seen.add(other)
                group.append(other)
    return group, list(runs)


def _kept(facts: Facts) -> set[int]:
    """The vertices at which water is drawn, or that are no dead end by what they are for."""
    graph = facts.network
    found = {*graph.outlets.values(), *graph.hearts}
    found.update(vertex for vertex, name in enumerate(graph.names) if name.endswith(":row"))
    if graph.source is not None:
        found.add(graph.source)
    for part in facts.plan.parts.values():
        if part.is_ in _KEEPS or (isinstance(part.own, RestOwn) and part.own.serves not in (None, NONE, NOT_KNOWN)):
            found.update(
                vertex for name in ("in", "cold", "hot") if (vertex := graph.number.get(f"{part.id}/{name}", -1)) >= 0
            )
    return found


def _branches(facts: Facts, pruned: set[int], left: list[set[int]], kept: set[int]) -> Iterator[tuple[int, list[int]]]:
    """The pruned edges grouped by branch, each with the vertex of moving water it hangs on."""
    graph, done = facts.network, set[int]()
    by_vertex: dict[int, list[int]] = {}
    for number in sorted(pruned):
        for vertex in graph.edges[number][:2]:
            by_vertex.setdefault(vertex, []).append(number)
    for junction in sorted(by_vertex):
        if not left[junction] and junction not in kept:
            continue
        for first in by_vertex[junction]:
            if first in done:
                continue
            done.add(first)
            branch = [first]
            for number in branch:  # grows while it is walked
                for vertex in graph.edges[number][:2]:
                    more = [one for one in by_vertex[vertex] if one not in done and vertex != junction]
                    done.update(more)
                    branch += more
            yield junction, branch


def _still(facts: Facts, junction: int, edges: list[int]) -> Still:
    graph, plan = facts.network, facts.plan
    runs = [plan.runs[run] for number in edges if (run := graph.edges[number].run) is not None]
    names = [graph.names[vertex].partition("/")[0] for number in edges for vertex in graph.edges[number][:2]]
    end = next(
        (plan.parts[name] for name in names if name in plan.parts and KINDS[plan.parts[name].is_].sort == "end"), None
    )
    valves = {vertex: name for name, vertex in graph.valves.items()}
    valve = next((valves[vertex] for vertex in _before_pipe(facts, junction, edges) if vertex in valves), None)
    return Still(tuple(of_run(facts, run) for run in runs), end, valve, graph.names[junction].partition(":")[0])


def _before_pipe(facts: Facts, junction: int, edges: list[int]) -> list[int]:
    """The vertices of the branch from the junction as far as its first run."""
    graph, mine, met = facts.network, set(edges), [junction]
    for vertex in met:  # grows while it is walked
        for number in graph.touching[vertex]:
            edge = graph.edges[number]
            other = edge.b if edge.a == vertex else edge.a
            if number in mine and edge.run is None and other not in met:
                met.append(other)
    return met
