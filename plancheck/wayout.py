"""The shortest ways out from a connection along the pipe, to where tube of certain materials begins.

Runs count with their length, nipples too; the bodies of other parts count nothing. Returns, pumps, heaters, taps and
the cold side of mixing valves are no way on. Metres.
"""

import heapq
import math

from plancheck.facts import Facts
from plancheck.kinds import KINDS, PEX, PLASTIC
from plancheck.measures import Length
from plancheck.model import NOT_KNOWN, AdapterOwn, ManifoldOwn, MixingOwn, Part, Path, Run
from plancheck.record import NamedTuple

_ROUNDING_M = 1e-12


class Way(NamedTuple):
    """How far one has come. missing: the key of what is not known of the way; about: the estimates it rests on; new:
    some of it is new work; reached: the path of the run or part where the tube looked for begins, once there."""

    m: float
    missing: Path | None
    about: str
    new: bool
    reached: Path | None = None


class Reckoning(NamedTuple):
    """How to count what is not sure: missing_m for a length nobody wrote, an estimate times share and more_m on top."""

    missing_m: float
    share: float
    more_m: float


LEAST = Reckoning(0.0, 0.0, 0.0)
MOST = Reckoning(math.inf, 0.0, math.inf)
LEAST_AS_SAID = Reckoning(0.0, 1.0, 0.0)
MOST_AS_SAID = Reckoning(math.inf, 1.0, 0.0)


class _Looked(NamedTuple):
    facts: Facts
    materials: frozenset[str]
    reckoned: Reckoning


def ways_to(
    facts: Facts, start: int, new: bool, materials: frozenset[str], far_m: float, reckoned: Reckoning
) -> list[Way]:
    """The ways from the vertex to tube of the materials that begins nearer than far_m, the shortest first.

    new: whether the part one starts from is new work. Tube of a material that is not known ends a way where least is
    reckoned, with the missing key. Shortest ways after E. W. Dijkstra 1959 (from memory).
    """
    graph, looked = facts.network, _Looked(facts, materials, reckoned)
    found: list[Way] = []
    done: set[int] = set()
    queue = [(0.0, 0, start, Way(0.0, None, "", new))]
    pushed = 0
    while queue and queue[0][0] < far_m - _ROUNDING_M:
        _, _, vertex, way = heapq.heappop(queue)
        if vertex in done:
            continue
        done.add(vertex)
        for number in graph.touching[vertex]:
            edge = graph.edges[number]
            other = edge.b if edge.a == vertex else edge.a
            if other in done:
                continue
            step = _through(looked, vertex, other, way) if edge.run is None else _along(looked, edge.run, way)
            if step is not None and step.reached is not None:
                found.append(step)
            elif step is not None:
                pushed += 1
                heapq.heappush(queue, (step.m, pushed, other, step))
    return found


def _along(looked: _Looked, id_: str, way: Way) -> Way | None:
    """The way on along a run, or to the tube it is; None where it is a return or PEX that is not looked for."""
    facts, plan = looked.facts, looked.facts.plan
    run = plan.runs[id_]
    tube = plan.tubes.get(run.tube or "")
    material = tube.material if tube is not None else None
    if facts.carried(id_).service == "hot return" or (material in PEX and material not in looked.materials):
        return None
    way = way._replace(new=way.new or run.work != "existing")
    if material in looked.materials:
        return way._replace(reached=("runs", id_))
    if material in (None, NOT_KNOWN) and looked.reckoned.missing_m == 0:
        return way._replace(reached=("runs", id_), missing=way.missing or ("tubes", str(run.tube), "material"))
    return _further(way, *_length(facts, run), looked.reckoned)


def _length(facts: Facts, run: Run) -> tuple[float, Path | None, str]:
    """The length of a run as far as it is known, the key that would say it whole, and the estimate it is."""
    if isinstance(run.length, Length):
        return run.length.m, None, run.length.text if run.length.about else ""
    shape = facts.geometry.shapes.get(run.id)
    if shape is not None:
        return shape.length_m, None, f"the path of {run.id}" if shape.about else ""
    if isinstance(run.rise, Length):
        return abs(run.rise.m), ("runs", run.id, "length"), run.rise.text if run.rise.about else ""
    return 0.0, ("runs", run.id, "length"), ""


def _through(looked: _Looked, vertex: int, other: int, way: Way) -> Way | None:
    """The way on through a part; None where it ends there."""
    names, plan = looked.facts.network.names, looked.facts.plan
    id_, _, end = names[other].partition("/")
    part = plan.parts[id_]
    sort = KINDS[part.is_].sort
    if sort == "heater" or part.is_ == "pump":
        return way if end else None
    if isinstance(part.own, MixingOwn):
        return way if _mixing_passed(id_, names[vertex], end) else None
    if sort == "fixture" and ":" in end:  # what lies in the rest of a house is not written, and it is old
        return way._replace(reached=("parts", id_), new=False) if part.is_ == "rest of house" else None
    if isinstance(part.own, ManifoldOwn):
        tube = plan.tubes.get(part.own.tube or "")
        if tube is not None and tube.material in PLASTIC:
            way = way._replace(reached=("parts", id_), new=way.new or part.work != "existing")
            return way if tube.material in looked.materials else None
    if isinstance(part.own, AdapterOwn) and not end:
        return _further(way, *_nipple(part, part.own), looked.reckoned)
    return way


def _mixing_passed(id_: str, before: str, end: str) -> bool:
    """Whether one passes a mixing valve here: into any connection, from hot inside, from inside to mixed alone."""
    if not end:
        return before == f"{id_}/hot"
    return before != id_ or end == "mixed"


def _nipple(part: Part, own: AdapterOwn) -> tuple[float, Path | None, str]:
    """The length of an adapter, the key that would say it where it is a piece of pipe, and the estimate it is."""
    if isinstance(own.length, Length):
        return own.length.m, None, own.length.text if own.length.about else ""
    return 0.0, ("parts", part.id, "length") if own.kind == "brass nipple" else None, ""


def _further(way: Way, m: float, missing: Path | None, about: str, reckoned: Reckoning) -> Way:
    counts_m = (m * reckoned.share + reckoned.more_m if about else m) + (reckoned.missing_m if missing else 0.0)
    about = ", ".join(filter(None, (way.about, about)))
    return way._replace(m=way.m + counts_m, missing=way.missing or missing, about=about)
