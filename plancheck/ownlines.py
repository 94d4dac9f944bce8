"""The last stretch of pipe to an outlet: from the last branch, or from a manifold's port, to where its stop or body sits."""

from __future__ import annotations

from plancheck.facts import Facts
from plancheck.limits import NotShown
from plancheck.measures import Length, Quantity, Size
from plancheck.measures.sizes import INCH_NAMES, size_named
from plancheck.model import RegulatorOwn, Tube
from plancheck.record import NamedTuple
from plancheck.tubedata import CTS_OUTSIDE_IN, PEX_WALL_IN, tube_bore_m

_INCH = 0.0254
_REACHES = 0.95  # common practice: tube of another make counts as an inch size when its bore comes within 5 percent
_THINNEST = 0.25  # the smallest inch size that is made


class Line(NamedTuple):
    """The last stretch to an outlet side.

    runs: the outlet's end first, without the connector behind its stop; port: the manifold's port (`manifold/port`) it
    begins at, None where it begins at a branch; start: the vertex it begins at; shared: more than one outlet hangs on it;
    second: this one on the second outlet of another's stop.
    """

    runs: tuple[str, ...]
    port: str | None
    start: int
    shared: bool = False
    second: bool = False

    @property
    def own(self) -> bool:
        """Whether it is a line from a manifold to this outlet alone."""
        return self.port is not None and not self.shared


def line_to(facts: Facts, side: str) -> Line | None:
    """The last stretch to an outlet side (`part/side`); None where no water comes to it."""
    graph, parents = facts.network, facts.traced.parents
    vertex, runs, shared, second = graph.outlets[side], list[str](), False, False
    while (edge := parents.get(vertex)) is not None:
        if edge < 0:
            return Line(_supply(facts, runs), None, vertex, shared, second)
        a, b, run, _ = graph.edges[edge]
        came, vertex = vertex, a if b == vertex else b
        if run is not None:
            runs.append(run)
        name = graph.names[vertex]
        if name.endswith(":second"):
            runs, shared, second = [], True, True  # what hangs behind it is a connector
        elif name.endswith(":row"):
            return Line(_supply(facts, runs), name.removesuffix(":row"), vertex, shared, second)
        elif vertex in graph.hearts:
            return Line(_supply(facts, runs), None, vertex, shared, second)
        elif len(graph.touching[vertex]) > 2 and _draws_beside(facts, vertex, came, parents.get(vertex, -1)):
            if "/" not in name:
                return Line(_supply(facts, runs), None, vertex, shared, second)
            shared = True  # a stop with two outlets
    return None


def _supply(facts: Facts, runs: list[str]) -> tuple[str, ...]:
    """The runs that are no connectors."""
    plan = facts.plan
    tubes = {run: plan.tubes.get(plan.runs[run].tube or "") for run in runs}
    return tuple(run for run, tube in tubes.items() if tube is None or tube.form != "connector")


def _draws_beside(facts: Facts, vertex: int, came: int, towards: int) -> bool:
    """Whether anything draws water at a branch, but on the way one came by and the way one goes on."""
    graph, points = facts.network, facts.shutoffs.points()
    seen, frontier = {vertex, came}, list[int]()
    for number in graph.touching[vertex]:
        a, b, _, _ = graph.edges[number]
        other = b if a == vertex else a
        if number != towards and other not in seen:
            seen.add(other)
            frontier.append(other)
    for one in frontier:  # grows while it is walked
        if one in points or one in graph.hearts or one == graph.source:
            return True
        for number in graph.touching[one]:
            a, b, _, _ = graph.edges[number]
            other = b if a == one else a
            if other not in seen:
                seen.add(other)
                frontier.append(other)
    return False


def counts_as(tube: Tube | None) -> float | None:
    """The nominal inches a tube counts as: by its name, else the largest size whose average bore it about reaches.

    None where neither is known. Average bores are those of PEX of copper tube size.
    """
    if tube is None:
        return None
    if isinstance(tube.size, Size) and not tube.size.metric:
        return tube.size.rank
    bore_m = tube_bore_m(tube)
    return None if bore_m is None else bore_counts_as(bore_m)


def bore_counts_as(bore_m: float) -> float:
    """The largest nominal inches whose average bore (of PEX) a bore reaches within 5 percent."""
    reached = _THINNEST
    for inches, name in INCH_NAMES.items():
        if name in PEX_WALL_IN:
            wall, more = PEX_WALL_IN[name]
            if bore_m >= _REACHES * (CTS_OUTSIDE_IN[name] - 2 * wall - more) * _INCH:
                reached = max(reached, inches)
    return reached


def size_key(tube: Tube | None) -> str:
    """The key of a tube that would tell what it counts as."""
    return "wall" if tube is not None and isinstance(tube.size, Size) and tube.size.metric else "size"


def size_words(tube: Tube) -> str:
    """A tube's size as one speaks of it."""
    rank = counts_as(tube)
    if isinstance(tube.size, Size) and not tube.size.metric:
        return tube.size.words
    name = tube.size.name if isinstance(tube.size, Size) else "the tube"
    return f"{name} (as {size_named(rank)})" if rank is not None else name


class Reckoned(NamedTuple):
    """A figure as far as the plan tells it, SI; missing: what else it hangs on, so that it may be more (or less)."""

    si: float
    missing: NotShown | None
    about: str


def length_of(facts: Facts, line: Line) -> Reckoned:
    """The length of a line, metres; with a run that does not say its own it may be more."""
    total, missing, about = 0.0, None, list[str]()
    for id_ in line.runs:
        run, shape = facts.plan.runs[id_], facts.geometry.shapes.get(id_)
        if isinstance(run.length, Length):
            total += run.length.m
            about += [run.length.text] if run.length.about else []
        elif shape is not None:
            total += shape.length_m
            about += [f"the path of {id_}"] if shape.about else []
        else:
            missing = missing or NotShown(("runs", id_, "length"), "how long the run is")
    return Reckoned(total, missing, ", ".join(about))


def pressure_of(facts: Facts, line: Line) -> Reckoned:
    """The standing pressure a line has, Pa: the street's, or what a regulator ahead of it is set to; it may be less."""
    static, least, about = facts.plan.water.static, float("inf"), list[str]()
    missing = None
    if isinstance(static, Quantity):
        least, about = static.si, [static.text] if static.about else []
    else:
        missing = NotShown(("water", "static"), "the standing pressure")
    for regulator in _regulators(facts, line.start):
        own = facts.plan.parts[regulator].own
        said = own.set if isinstance(own, RegulatorOwn) else None
        if isinstance(said, Quantity):
            least = min(least, said.si)
            about += [said.text] if said.about else []
        else:
            missing = missing or NotShown(("parts", regulator, "set"), "the pressure the regulator is set to")
    return Reckoned(least, missing, ", ".join(about))


def _regulators(facts: Facts, vertex: int) -> list[str]:
    """The regulators on the way from the source to a vertex."""
    graph, parents, found = facts.network, facts.traced.parents, []
    while (edge := parents.get(vertex, -1)) >= 0:
        a, b, _, _ = graph.edges[edge]
        vertex = a if b == vertex else b
        part = facts.plan.parts.get(graph.names[vertex])
        if part is not None and isinstance(part.own, RegulatorOwn):
            found.append(part.id)
    return found
