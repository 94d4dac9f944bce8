"""What is left of a ring when one segment of it is closed: which ports hang on one side only, which go dry, what they lose.

A segment lies between neighbouring draws of a ring: ports of a manifold, tees of a ring of pipe. A section valve closes
the segment it stands in. The ring of a manifold is solved again with the segment out, while the house draws its peak.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence

from plancheck.facts import Facts
from plancheck.isolate import Closing
from plancheck.measures.units import WATER_PA_PER_M
from plancheck.model import ManifoldOwn, Part, Port
from plancheck.network.search import reach
from plancheck.network.ways import directed
from plancheck.record import NamedTuple

MOST_SEGMENTS = 200  # no house has more; each is looked at with all the pipe


class Segment(NamedTuple):
    """One segment of a ring. ends: the draws it lies between; valves: those that close it, if any; edges: of the graph."""

    ends: tuple[str, str]
    valves: tuple[str, ...]
    edges: frozenset[int]


class Cut(NamedTuple):
    """A ring with one segment closed.

    one_side: its draws by the side of the ring they hang on now, each side in the order water comes to them; dry: the
    points without water; lost: the port that loses most while the house draws its peak, and how much, Pa; None where the
    pressures are not known.
    """

    segment: Segment
    one_side: tuple[tuple[str, ...], ...]
    dry: tuple[str, ...]
    lost: tuple[str, float] | None = None


def ring_cuts(closing: Closing, valves: Collection[str] = ()) -> tuple[tuple[Cut, ...], int]:
    """Each segment of each ring closed in turn, or each that one of the valves closes; and how many are left out.

    Of more segments than MOST_SEGMENTS only those are told that have a valve.
    """
    segments = list(_segments(closing))
    told = [one for one in segments if not valves or not set(valves).isdisjoint(one.valves)]
    if len(told) > MOST_SEGMENTS:
        told = [one for one in told if one.valves][:MOST_SEGMENTS]
    wanted = len(segments) if not valves else len(told)
    losses = _Losses(closing.facts) if told else None
    rings = _rings(segments)
    cuts = []
    for segment in told:
        lost = losses.of(segment) if losses is not None else None
        found = _left_over(closing, segment)
        cuts.append(Cut(segment, _sides(closing, segment, rings[segment.ends[0]], found), _dry(closing, found), lost))
    return tuple(cuts), wanted - len(told)


def _segments(closing: Closing) -> Iterator[Segment]:
    """The ring edges, joined where nothing branches off between them."""
    graph, rings = closing.graph, closing.facts.traced.rings
    named = {vertex: name for name, vertex in graph.valves.items()}
    around: dict[int, list[int]] = {}
    for number in sorted(rings):
        for end in graph.edges[number][:2]:
            around.setdefault(end, []).append(number)
    draws = {vertex for vertex in around if len(graph.touching[vertex]) > 2 and vertex in closing.facts.traced.parents}
    left = set(rings)
    for vertex in sorted(draws):
        for number in around[vertex]:
            if number in left:
                yield _followed(closing, vertex, number, draws, around, left, named)


def _followed(
    closing: Closing,
    start: int,
    number: int,
    draws: set[int],
    around: Mapping[int, Sequence[int]],
    left: set[int],
    named: Mapping[int, str],
) -> Segment:
    """The segment that begins at a draw with an edge of the ring; its edges are taken out of those left."""
    graph = closing.graph
    here, edges, valves = start, [], []
    while True:
        left.discard(number)
        edges.append(number)
        a, b, _, _ = graph.edges[number]
        here = b if a == here else a
        if here in named:
            valves.append(named[here])
        if here in draws or here == start:
            break
        number = next(one for one in around[here] if one != number)
    return Segment((_name(closing, start), _name(closing, here)), tuple(valves), frozenset(edges))


def _name(closing: Closing, vertex: int) -> str:
    """A draw by its port, or by its part."""
    name = closing.graph.names[vertex].partition(":")[0]
    return name if closing.facts.shutoffs.is_port(name) else name.partition("/")[0]


def _left_over(closing: Closing, segment: Segment) -> dict[int, int]:
    """The vertices water still comes to, each with the edge by which it does."""
    graph = closing.graph
    if graph.source is None:
        return {}
    return reach(directed(graph, without=segment.edges, barred=graph.closed), [graph.source])


def _dry(closing: Closing, found: Mapping[int, int]) -> tuple[str, ...]:
    return tuple(name for name in closing.order if closing.points[name] not in found and closing.is_wet(name))


def _sides(
    closing: Closing, segment: Segment, ring: Sequence[Segment], found: Mapping[int, int]
) -> tuple[tuple[str, ...], ...]:
    """The draws of a ring, without the one that feeds it, by the way they are fed with one of its segments out."""
    graph = closing.graph
    names = {end for one in ring for end in one.ends}
    edges = {edge for one in ring for edge in one.edges} - segment.edges
    feed = next((vertex for vertex in found if any(edge in edges for edge in graph.touching[vertex])), None)
    side: dict[int, int] = {}
    ordered: dict[int, dict[str, None]] = {}
    for vertex, number in found.items():
        if vertex == feed or number not in edges:
            continue
        a, b, _, _ = graph.edges[number]
        before = b if a == vertex else a
        side[vertex] = number if before == feed else side.get(before, number)
        if len(graph.touching[vertex]) > 2 and (name := _name(closing, vertex)) in names:
            ordered.setdefault(side[vertex], {})[name] = None
    return tuple(tuple(names) for names in ordered.values())


def _rings(segments: Sequence[Segment]) -> dict[str, list[Segment]]:
    """End -> all the segments that hang together with it by their ends."""
    found: dict[str, list[Segment]] = {}
    for segment in segments:
        first, last = (found.setdefault(end, []) for end in segment.ends)
        if first is not last:
            first, last = (first, last) if len(first) >= len(last) else (last, first)
            first += last
            for one in last:
                found.update(dict.fromkeys(one.ends, first))
            found.update(dict.fromkeys(segment.ends, first))
        first.append(segment)
    return found


class _Losses:
    """The ports of a ring solved with the segment out, beside the ring as it is."""

    def __init__(self, facts: Facts) -> None:
        self.facts = facts
        peak = facts.flow.network_peak(facts.loads)
        self.draws = dict(peak.draws) if peak.missing is None and not peak.why else None
        self._whole: dict[str, dict[str, float]] = {}

    def of(self, segment: Segment) -> tuple[str, float] | None:
        """The port that loses most, and how much, Pa; None of a ring that is no manifold, or where nothing is known."""
        part = self.facts.plan.parts[segment.ends[0].partition("/")[0]]
        own = part.own
        if self.draws is None or not isinstance(own, ManifoldOwn) or own.shape != "ring":
            return None
        if part.id not in self._whole:
            self._whole[part.id] = _heads(self.facts, part, self.draws)
        cut = part._replace(own=own._replace(shape="straight", ports=_opened(own, segment)))
        plan = self.facts.plan._replace(parts={**self.facts.plan.parts, part.id: cut})
        heads = _heads(Facts(plan, self.facts.source, self.facts.today), cut, self.draws)
        whole, used = self._whole[part.id], self.facts.flow.used_ports(part)
        lost = {port: whole[port] - heads[port] for port in used if port in whole and port in heads}
        if not lost:
            return None
        port = max(lost, key=lambda one: lost[one])
        return f"{part.id}/{port}", max(0.0, lost[port]) * WATER_PA_PER_M


def _opened(own: ManifoldOwn, segment: Segment) -> dict[str, Port]:
    """The ports of a ring in a row that begins behind the segment; valves of the segment are left out."""
    names = [name for name in own.ports if not any(valve.endswith(f"/{name}") for valve in segment.valves)]
    first, last = (names.index(end.partition("/")[2]) for end in segment.ends)
    begin = max(first, last) if abs(first - last) == 1 else min(first, last)
    return {name: own.ports[name] for name in (*names[begin:], *names[:begin])}


def _heads(facts: Facts, part: Part, draws: dict[str, float]) -> dict[str, float]:
    """Port -> head at it, m, while the outlets draw; empty where the house cannot be solved."""
    solution = facts.flow.drawn(draws)
    if solution.why or facts.flow.unknown(solution) is not None or not isinstance(part.own, ManifoldOwn):
        return {}
    heads = {port: solution.heads.get(facts.flow.house.node(f"{part.id}/{port}:row")) for port in part.own.ports}
    return {port: head for port, head in heads.items() if head is not None}
