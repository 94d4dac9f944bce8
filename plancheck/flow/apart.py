"""What to read or to close next, where several causes explain a gauge."""

from plancheck.flow.causes import Cause
from plancheck.flow.flow import Flow
from plancheck.measures.units import PSI_PA
from plancheck.model import Ref
from plancheck.record import NamedTuple


class Apart(NamedTuple):
    """A reading that tells the first causes apart: fixtures to open, and what each cause would read, Pa."""

    opened: tuple[str, ...]
    readings: tuple[tuple[str, float], ...]
    spread_pa: float


def told_apart(flow: Flow, at: Ref, opened: tuple[str, ...], found: list[Cause]) -> Apart | None:
    """The reading at the same gauge, with nothing or one fixture open, that sets the likeliest causes furthest apart."""
    first = found[:3]
    best: Apart | None = None
    for tried in ((), *((one.part,) for one in flow.house.fixtures.values() if one.sides)):
        if tried == opened:
            continue
        readings = [(one.words, one.reading(at, tried)) for one in first]
        known = tuple((words, pa) for words, pa in readings if pa is not None)
        if len(known) < 2:
            continue
        spread = max(pa for _, pa in known) - min(pa for _, pa in known)
        if best is None or spread > best.spread_pa + 0.5 * PSI_PA:
            best = Apart(tried, known, spread)
    return best if best is not None and best.spread_pa > 1.0 * PSI_PA else None


def next_port(flow: Flow, at: Ref, found: list[Cause]) -> str | None:
    """The manifold port to close next: that behind which the likeliest running outlet or valve hangs."""
    graph, circuits = flow.facts.network, flow.facts.traced.circuits
    for cause in found:
        if "/" in cause.at and cause.at in graph.valves:
            return cause.at
        for side in (f"{cause.at}/cold", f"{cause.at}/hot"):
            port = circuits.get(graph.outlets.get(side, -1))
            if port is not None and port in graph.valves and port != str(at):
                return port
    used = [port for port in dict.fromkeys(circuits.values()) if port in graph.valves and port != str(at)]
    return max(used, key=lambda port: len(flow.facts.zones.dry.get(port, ())), default=None)
