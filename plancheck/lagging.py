"""Hot pipe that energy codes name whatever its size, and what is said of its insulation. Metres."""

from plancheck.circulating import circulation
from plancheck.facts import Facts
from plancheck.measures import MeasureError, read_length
from plancheck.model import ManifoldOwn


def on_the_way(facts: Facts) -> set[str]:
    """The runs from a heater to a hot manifold, and those in which hot water is kept moving."""
    return _to_manifolds(facts) | _looped(facts)


def _looped(facts: Facts) -> set[str]:
    if not any(part.is_ == "pump" for part in facts.plan.parts.values()) and not facts.traced.returns:
        return set()
    return set(circulation(facts).runs)


def _to_manifolds(facts: Facts) -> set[str]:
    """The runs on the way from a heater to the feed of a hot manifold."""
    graph, traced, found = facts.network, facts.traced, set()
    for part in facts.plan.parts.values():
        if not isinstance(part.own, ManifoldOwn) or part.work == "removed":
            continue
        feed = next((port.id for port in part.own.ports.values() if port.use == "feed"), None)
        vertex = graph.number.get(f"{part.id}/{feed}", -1)
        if traced.services.get(vertex) != "hot":
            continue
        while traced.parents.get(vertex, -1) >= 0 and vertex not in graph.hearts:
            edge = graph.edges[traced.parents[vertex]]
            if edge.run is not None:
                found.add(edge.run)
            vertex = edge.a if edge.b == vertex else edge.b
    return found


def wall_of(said: str) -> float | None:
    """The wall of the foam, metres; None for an R value or words. A bare figure is in inches, as foam is sold."""
    try:
        return read_length(said if not said.replace("/", "").replace(".", "").isdigit() else f"{said} in").m
    except MeasureError:
        return None


def r_value_of(said: str) -> float | None:
    """The figure of an R value such as R-3; None where it is none."""
    text = said.upper().replace(" ", "").replace("-", "").removeprefix("R")
    return float(text) if said[:1] in "rR" and text.replace(".", "", 1).isdigit() else None
