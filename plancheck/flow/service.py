"""The service: the runs that all water passes, the longest way behind the meter, and what a larger one would leave."""

from plancheck.facts import Facts
from plancheck.flow.capacity import Left, way_of
from plancheck.flow.flow import Flow
from plancheck.flow.house import Missing
from plancheck.flow.mending import next_size
from plancheck.flow.split import SERVICE, shares, split_loss
from plancheck.flow.supply import SERVICE as SERVICE_EDGE
from plancheck.flow.supply import ahead_of, gauge_of
from plancheck.hydraulics.plain import Darcy, Law
from plancheck.limits import NotShown
from plancheck.measures import Quantity, Size
from plancheck.measures.units import WATER_PA_PER_M
from plancheck.model import MeterOwn, Ref, RegulatorOwn, Run
from plancheck.record import NamedTuple

_ENDS = ("manifold", "heater")


def service_path(flow: Flow) -> tuple[str, ...]:
    """Where the service stands in the plan: its first run, else its first part."""
    plan = flow.facts.plan
    source = next((part.id for part in plan.parts.values() if part.is_ == "source" and part.work != "removed"), "")
    for run in plan.runs.values():
        if run.work != "removed" and source in {ref.part for ref in (run.from_, run.to) if ref is not None}:
            return ("runs", run.id)
    first = next((part.id for part in plan.parts.values() if part.onto and part.onto.part == source), source)
    return ("parts", first)


def common_runs(flow: Flow) -> list[Run]:
    """The runs that the water of every outlet passes, in order from the source to the first manifold, or to the outlet
    where there is but one."""
    ends: dict[str, int] = {}
    sides = [side for fixture in flow.house.fixtures.values() for side in fixture.sides.values() if flow.is_fed(side)]
    for side in sides:
        node = flow.house.node(side)
        ends[node] = ends.get(node, 0) + 1
    counts = flow.gathered(ends, int.__add__)
    runs, pieces = flow.facts.plan.runs, flow.house.pieces
    found: list[Run] = []
    for edge in flow.way(sides[0]) if sides else ():
        if edge == SERVICE_EDGE:  # read as one loss: its runs are those ahead of the gauge
            found += [runs[name] for name in reversed(ahead_of(flow.facts, gauge_of(flow.facts))) if name in runs]
        elif pieces[edge].kind in _ENDS or counts.get(edge) != len(sides):
            break
        elif edge in runs:
            found.append(runs[edge])
    if len(found) > 1 and _to_outlet(flow, found[-1]):
        found.pop()
    return found


def _to_outlet(flow: Flow, run: Run) -> bool:
    return any(ref is not None and ref.part in flow.house.fixtures for ref in (run.from_, run.to))


class Farthest(NamedTuple):
    """The farthest outlet by pipe: its side and the length from the meter, m; rise_m: to the highest outlet from where
    the pressure is told (the gauge, or the regulator); missing: a length or height that is not said."""

    side: str
    length_m: float
    rise_m: float
    missing: Missing | None = None


def farthest(flow: Flow) -> Farthest | None:
    """The longest way to an outlet, from the meter on, or from the source where there is none."""
    best: Farthest | None = None
    missing: Missing | None = None
    pieces, plan = flow.house.pieces, flow.facts.plan
    start, highest, tied = flow.house.levels.gauge_m, -1e9, flow.house.levels.is_tied
    for fixture in flow.house.fixtures.values():
        missing = missing or fixture.missing
        highest = max(highest, fixture.outlet_m)
        for side in fixture.sides.values():
            total = 0.0
            unsaid = ""
            for edge in flow.way(side):
                if pieces[edge].kind == "meter":
                    total, unsaid = 0.0, ""
                elif pieces[edge].kind == "regulator":
                    level = flow.house.levels.of(Ref(edge, "out"))
                    start, tied = (start, tied) if level is None else (level, True)
                elif edge in plan.runs:
                    length = flow.facts.run_length_m(edge)
                    unsaid = unsaid or ("" if length is not None else edge)
                    total += length or 0.0
            if unsaid:
                missing = missing or Missing(("runs", unsaid, "length"), "how long the run is")
            if best is None or total > best.length_m:
                best = Farthest(side, total, 0.0)
    if not tied:
        missing = missing or flow.house.supply
    return best._replace(rise_m=highest - start, missing=missing) if best is not None else None


def service_share(flow: Flow, left: Left) -> float:
    """The part of what the flow costs on the way to an outlet that the service and meter take."""
    return shares(split_loss(flow, way_of(flow, left)))[SERVICE]


class Larger(NamedTuple):
    """Runs of the service in the next size: its name, the pressure, Pa, it would leave at the outlet, and which runs."""

    size: str
    pa: float
    runs: tuple[str, ...] = ()


def larger_service(flow: Flow, left: Left) -> Larger | None:
    """The outlet solved again with the thinnest runs of the service in their next size; None where nothing tells it."""
    laws: dict[str, Law] = dict(left.laws)
    pipes = [(run, flow.edges[run.id].law) for run in common_runs(flow) if run.id in flow.edges]
    thinnest = min((law.bore_m for _, law in pipes if isinstance(law, Darcy)), default=0.0)
    name, runs = "", []
    for run, law in pipes:
        tube = flow.facts.plan.tubes.get(run.tube or "")
        found = next_size(tube) if tube is not None else None
        if found is not None and isinstance(law, Darcy) and law.bore_m == thinnest:
            laws[run.id] = law._replace(bore_m=found[1])
            name = found[0]
            runs.append(run.id)
    if not name:
        return None
    solution = flow.drawn(dict(left.draws), laws)
    reading = flow.reading(solution, Ref(*left.side.split("/", 1)))
    return None if reading.missing is not None or reading.why else Larger(name, reading.pa, tuple(runs))


def service_loss_pa(flow: Flow, left: Left) -> float:
    """What the service and meter cost on the way to an outlet, Pa."""
    return split_loss(flow, way_of(flow, left))[SERVICE] * WATER_PA_PER_M


def entered_at_pa(facts: Facts, share: float) -> float:
    """The pressure a table of services is entered with: the street's, or that share of a regulator's set where less.

    Raises NotShown for what the plan does not say.
    """
    static = facts.plan.water.static
    if not isinstance(static, Quantity):
        raise NotShown(("water", "static"), "the standing pressure")
    found = [static.si]
    for part in facts.plan.parts.values():
        if isinstance(part.own, RegulatorOwn) and part.work != "removed":
            held_pa = facts.flow.held_pa(part.id)
            if held_pa is None:
                raise NotShown(("parts", part.id, "set"), "the pressure the regulator is set to")
            found.append(held_pa * share)
    return min(found)


def meter_inches(facts: Facts) -> float:
    """The size of the meter in nominal inches; 1 where no meter stands in the way. Raises NotShown where it is not said."""
    for part in facts.plan.parts.values():
        if isinstance(part.own, MeterOwn) and part.work != "removed":
            if not isinstance(part.size, Size):
                raise NotShown(("parts", part.id, "size"), "the size of the meter")
            return part.size.rank
    return 1.0


def taken_by(facts: Facts) -> str:
    """The service and what stands in it, as the plan has it, with its verb."""
    there = {part.is_ for part in facts.plan.parts.values() if part.work != "removed"}
    found = ["the service", *(f"the {kind}" for kind in ("meter", "regulator") if kind in there)]
    words = " and ".join(filter(None, (", ".join(found[:-1]), found[-1])))
    return f"{words[:1].upper()}{words[1:]} {'takes' if len(found) == 1 else 'take'}"
