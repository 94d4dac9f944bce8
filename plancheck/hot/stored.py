"""What stands in the pipe before hot water comes: length and volume from the heater or the loop to each hot outlet.

The shortest way along the pipe, manifolds with their row, by average bores. Metres and m3. What the plan does not say is
carried as a least and a most, so that it may be judged where it does not matter. Valves, fittings, stubs and connectors
behind a stop count nothing.
"""

import heapq
import math
from collections.abc import Iterator

from plancheck.facts import Facts
from plancheck.hot.pieces import Piece, of_row, of_run
from plancheck.model import HeaterOwn, ManifoldOwn, MixingOwn, Path
from plancheck.network.waters import HOT, MIXED, RETURN
from plancheck.record import NamedTuple

DRAWN_BY_STORED = 1.2  # drawn before hot comes, by what is stored
DRAWN_RANGE = (1.0, 2.0)


class Route(NamedTuple):
    """The way of hot water to one outlet, from the heater on; looped: from a loop on, which is always hot."""

    pieces: tuple[Piece, ...]
    heater: str
    looped: bool

    @property
    def length_m(self) -> float:
        """As far as it is known."""
        return sum(piece.length_m for piece in self.pieces)

    @property
    def most_m(self) -> float:
        """At most; without end where a run does not say its length."""
        return sum(piece.length_m + piece.more_m for piece in self.pieces)

    @property
    def volume_m3(self) -> float:
        """Stored, as taken."""
        return sum(piece.volume_m3 for piece in self.pieces)

    @property
    def least_m3(self) -> float:
        """Stored at least."""
        return sum(math.pi / 4 * piece.bore.least_m**2 * piece.length_m for piece in self.pieces)

    @property
    def most_m3(self) -> float:
        """Stored at most."""
        return sum(math.pi / 4 * piece.bore.most_m**2 * (piece.length_m + piece.more_m) for piece in self.pieces)

    @property
    def missing_length(self) -> Path | None:
        """The first key that would tell a length."""
        return next((piece.missing for piece in self.pieces if piece.missing is not None), None)

    @property
    def missing_bore(self) -> Path | None:
        """The first key that would tell a bore."""
        return next((piece.bore.missing for piece in self.pieces if piece.bore.missing is not None), None)

    @property
    def runs(self) -> tuple[Piece, ...]:
        """The pieces that are runs."""
        return tuple(piece for piece in self.pieces if piece.run is not None)

    @property
    def longest(self) -> str | None:
        """The longest run on it."""
        return max(self.runs, key=lambda piece: piece.length_m).run if self.runs else None

    @property
    def fullest(self) -> str | None:
        """The run on it that holds most."""
        return max(self.runs, key=lambda piece: piece.volume_m3).run if self.runs else None

    @property
    def about(self) -> str:
        """The estimates it rests on, in the writer's words."""
        return ", ".join(piece.about for piece in self.pieces if piece.about)


def wait_s(volume_m3: float, rate_m3s: float, drawn: float = DRAWN_BY_STORED) -> float:
    """Seconds until hot comes: stored volume, drawn so many times over, by the outlet's rate."""
    return volume_m3 * drawn / rate_m3s


def wasted_m3(volume_m3: float, drawn: float = DRAWN_BY_STORED) -> float:
    """What a first draw runs down the drain."""
    return volume_m3 * drawn


def routes(facts: Facts) -> dict[str, Route]:
    """For each outlet side that gets hot water (`part/hot`) the way to it; sides without hot water are left out."""
    graph, walked = facts.network, _Walked(facts)
    walked.walk(walked.starts())
    loop = walked.loop()
    if loop:
        walked.walk(loop)
    hot = ((side, tap) for side, tap in graph.outlets.items() if side.endswith("/hot"))
    return {side: walked.route(tap) for side, tap in hot if tap in walked.came}


def loop_runs(facts: Facts) -> tuple[str, ...]:
    """The runs of the hot pipe that circulates, from the heater to where each return begins."""
    walked = _Walked(facts)
    walked.walk(walked.starts())
    pieces = (walked.came[vertex].piece for vertex in walked.loop())
    return tuple(piece.run for piece in pieces if piece is not None and piece.run is not None)


class _Step(NamedTuple):
    """How a vertex was met: from which vertex (-1 for a start), by which piece, how far out."""

    before: int
    piece: Piece | None
    m: float


class _Walked:
    """The hot pipe walked outward, the shortest way first (E. W. Dijkstra 1959, from memory)."""

    def __init__(self, facts: Facts) -> None:
        self.facts = facts
        self.came: dict[int, _Step] = {}
        self.looped: frozenset[int] = frozenset()

    def starts(self) -> list[int]:
        """The hot connections of the heaters."""
        graph = self.facts.network
        parts = self.facts.plan.parts.values()
        return [graph.number[f"{p.id}/hot"] for p in parts if isinstance(p.own, HeaterOwn) and p.work != "removed"]

    def walk(self, starts: list[int]) -> None:
        """Fills came with every vertex that hot water reaches from the starts."""
        self.came = {start: _Step(-1, None, 0.0) for start in starts}
        done: set[int] = set()
        queue = [(0.0, start) for start in starts]
        while queue:
            _, vertex = heapq.heappop(queue)
            if vertex not in done:
                done.add(vertex)
                for other, step in self._around(vertex):
                    if other not in self.came or step.m < self.came[other].m:
                        self.came[other] = step
                        heapq.heappush(queue, (step.m, other))

    def _around(self, vertex: int) -> Iterator[tuple[int, _Step]]:
        graph, so_far = self.facts.network, self.came[vertex].m
        for number in graph.touching[vertex]:
            a, b, run, one_way = graph.edges[number]
            other = b if a == vertex else a
            if (one_way and b == vertex) or not self._passes(vertex, other):
                continue
            piece = self._piece(run, vertex, other)
            yield other, _Step(vertex, piece, so_far + (piece.length_m if piece is not None else 0.0))

    def _passes(self, vertex: int, other: int) -> bool:
        """Whether hot water goes on from one vertex to the other: along hot pipe, and from hot to mixed in a valve."""
        graph, plan = self.facts.network, self.facts.plan
        if other in graph.hearts:
            own = plan.parts[graph.names[other]].own
            return isinstance(own, MixingOwn) and graph.names[vertex].endswith("/hot")
        if vertex in graph.hearts:
            return graph.names[other].endswith("/mixed")
        return self.facts.traced.services.get(other) in (HOT, MIXED)

    def loop(self) -> list[int]:
        """The vertices of the hot pipe that circulates: from the heater to where each return begins."""
        graph, traced = self.facts.network, self.facts.traced
        found: dict[int, None] = {}
        for end in self._loop_ends():
            vertex = end
            while vertex >= 0 and vertex in self.came and vertex not in found:
                found[vertex] = None
                vertex = self.came[vertex].before
        self.looped = frozenset(found)
        return [
            vertex for vertex in found if traced.services.get(vertex) in (HOT, MIXED) and vertex not in graph.hearts
        ]

    def _loop_ends(self) -> list[int]:
        graph, traced = self.facts.network, self.facts.traced
        services = traced.services
        ends = [
            graph.number[f"{part.id}/return"]
            for part in self.facts.plan.parts.values()
            if isinstance(part.own, HeaterOwn) and services.get(graph.number.get(f"{part.id}/return", -1)) == HOT
        ]
        seats = [vertex for vertex, service in services.items() if service == RETURN]
        for vertex in (*seats, *traced.returns, *graph.bypasses):
            for number in graph.touching[vertex]:
                edge = graph.edges[number]
                other = edge.b if edge.a == vertex else edge.a
                if services.get(other) == HOT and other not in graph.hearts:
                    ends.append(other)
        return ends

    def _piece(self, run: str | None, vertex: int, other: int) -> Piece | None:
        if run is not None:
            return of_run(self.facts, self.facts.plan.runs[run])
        names = self.facts.network.names
        part_id, _, one = names[vertex].partition("/")
        second, _, two = names[other].partition("/")
        part = self.facts.plan.parts.get(part_id)
        if part is None or part_id != second or not isinstance(part.own, ManifoldOwn):
            return None
        first_port, next_port = one.partition(":")[0], two.partition(":")[0]
        if first_port == next_port:
            return None
        return of_row(self.facts, part_id, part.own, first_port, next_port)

    def route(self, tap: int) -> Route:
        """The way to a tap."""
        pieces: list[Piece] = []
        vertex = tap
        step = self.came[vertex]
        while step.before >= 0:
            if step.piece is not None:
                pieces.append(step.piece)
            vertex = step.before
            step = self.came[vertex]
        heater = self.facts.traced.heated.get(vertex, "")
        return Route(tuple(reversed(pieces)), heater, vertex in self.looped)
