"""What joins the parts: runs, things made up directly onto others, and the second outlets of dual stops."""

from collections.abc import Mapping

from plancheck.kinds import KINDS
from plancheck.model import ManifoldOwn, Part, Plan, Ref, Run
from plancheck.record import NamedTuple


class Edge(NamedTuple):
    """A way for water from vertex a to vertex b, and back unless one_way; run: the run it stands for, if any."""

    a: int
    b: int
    run: str | None
    one_way: bool


class Builder:
    """Vertices, edges and what is told of them, while the graph of a plan is made."""

    def __init__(self) -> None:
        self.names: list[str] = []
        self.number: dict[str, int] = {}
        self.edges: list[Edge] = []
        self.outlets: dict[str, int] = {}
        self.duals: set[str] = set()  # connections with a dual stop
        self.valves: dict[str, int] = {}
        self.closed: set[int] = set()
        self.hearts: set[int] = set()
        self.bypasses: set[int] = set()

    def vertex(self, name: str) -> int:
        number = self.number.get(name)
        if number is None:
            number = self.number[name] = len(self.names)
            self.names.append(name)
        return number

    def edge(self, a: int, b: int, run: str | None = None, one_way: bool = False) -> None:
        self.edges.append(Edge(a, b, run, one_way))

    def valve(self, name: str, vertex: int, normally: str | None) -> None:
        self.valves[name] = vertex
        if normally == "closed":
            self.closed.add(vertex)


def feeds_of(builder: Builder, plan: Plan, runs: list[Run]) -> dict[str, str]:
    """For each connection with a dual stop the run, or `onto PART`, that feeds it; what else ends there is on the second
    outlet.

    Where two runs end there, a connector that comes straight from an outlet does not feed; else the run's `to` counts.
    """
    made_up = (part for part in plan.parts.values() if part.onto is not None and part.work != "removed")
    found = {f"{part.id}/{inward(part)}": _onto(part) for part in made_up}
    feeds = {name: feed for name, feed in found.items() if name in builder.duals}
    met: dict[str, list[tuple[bool, bool, int]]] = {}
    for place, run in enumerate(runs):
        for ref, other, from_ in ((run.to, run.from_, False), (run.from_, run.to, True)):
            if str(ref) in builder.duals:
                met.setdefault(str(ref), []).append((str(other) in builder.outlets, from_, place))
    for name, ends in met.items():
        feeds.setdefault(name, runs[min(ends)[2]].id)
    return feeds


def join_run(builder: Builder, run: Run, feeds: Mapping[str, str]) -> None:
    """Joins the connections at the two ends of a run."""
    a, b = str(run.from_), str(run.to)
    start, end = builder.vertex(a), builder.vertex(b)
    if feeds.get(a, run.id) != run.id:
        start = _second(builder, a, b)
    elif feeds.get(b, run.id) != run.id:
        end = _second(builder, b, a)
    builder.edge(start, end, run.id)


def make_up(builder: Builder, part: Part, target: Ref, feeds: dict[str, str]) -> None:
    """Joins a part made up directly to another: its `in`, feed or only connection to that part's connection."""
    own, there = f"{part.id}/{inward(part)}", str(target)
    end, outer = builder.vertex(own), builder.vertex(there)
    if there in builder.duals and feeds.setdefault(there, _onto(part)) != _onto(part):
        outer = _second(builder, there, own)
    builder.edge(outer, end)


def _onto(part: Part) -> str:
    return f"onto {part.id}"  # no run has a blank in its id


def _second(builder: Builder, there: str, other: str) -> int:
    """The second outlet of the dual stop at a connection: a valve that goes by the name of what hangs on it."""
    second = builder.vertex(f"{other}:second")
    builder.edge(builder.vertex(there), second, None, True)
    builder.valve(other if other not in builder.valves else f"{there}:second", second, None)
    return second


def inward(part: Part) -> str:
    """The connection of a part that `onto` or a run's `to` means when it is left out."""
    if isinstance(part.own, ManifoldOwn):
        return next(port.id for port in part.own.ports.values() if port.use == "feed")
    return KINDS[part.is_].inward or KINDS[part.is_].connections[0]
