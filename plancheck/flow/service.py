"""The service: the runs that all water passes, the longest way behind the meter, and what a larger one would leave."""

from plancheck.demand.loads import Loads
from plancheck.flow.capacity import Left
from plancheck.flow.flow import Flow
from plancheck.flow.mending import next_size
from plancheck.flow.required import ROWS, rows_of
from plancheck.flow.split import SERVICE, shares, split_loss
from plancheck.flow.supply import SERVICE as SERVICE_EDGE
from plancheck.hydraulics.plain import Darcy, Law
from plancheck.measures.units import PSI_PA, WATER_PA_PER_M
from plancheck.model import Ref, Run
from plancheck.record import NamedTuple

_UPC_PA, _USUAL_PA, _GRACE_PA = 15.0 * PSI_PA, 8.0 * PSI_PA, 0.05 * PSI_PA


def common_runs(flow: Flow) -> list[Run]:
    """The runs that the water of every outlet passes, in order from the source."""
    ends: dict[str, int] = {}
    sides = [side for fixture in flow.house.fixtures.values() for side in fixture.sides.values() if flow.is_fed(side)]
    for side in sides:
        node = flow.house.node(side)
        ends[node] = ends.get(node, 0) + 1
    counts = flow.gathered(ends, int.__add__)
    runs = flow.facts.plan.runs
    return (
        [runs[edge] for edge in flow.way(sides[0]) if counts.get(edge) == len(sides) and edge in runs] if sides else []
    )


class Farthest(NamedTuple):
    """The farthest outlet by pipe: its side and the length from the meter, m; rise_m: to the highest outlet from there,
    None where heights are not said; missing_run: a run whose length is not said."""

    side: str
    length_m: float
    rise_m: float | None
    missing_run: str = ""


def farthest(flow: Flow) -> Farthest | None:
    """The longest way to an outlet, from the meter on, or from the source where there is none."""
    best: Farthest | None = None
    pieces = flow.house.pieces
    heights: list[float] = []
    start = flow.house.levels.gauge_m if SERVICE_EDGE in pieces else None
    for fixture in flow.house.fixtures.values():
        if fixture.missing is None:
            heights.append(fixture.outlet_m)
        for side in fixture.sides.values():
            total, missing = 0.0, ""
            for edge in flow.way(side):
                piece = pieces[edge]
                if piece.kind == "meter":
                    total, missing = 0.0, ""
                    start = flow.house.levels.of(Ref(piece.thing, "out"))
                elif edge in flow.facts.plan.runs:
                    length = flow.facts.run_length_m(edge)
                    missing = missing or ("" if length is not None else edge)
                    total += length or 0.0
            if best is None or total > best.length_m or (missing and not best.missing_run):
                best = Farthest(side, total, None, missing)
    if best is None:
        return None
    rise = max(heights) - start if heights and start is not None else None
    return best._replace(rise_m=rise)


def service_share(flow: Flow, left: Left) -> float:
    """The part of what the flow costs on the way to an outlet that the service and meter take."""
    return shares(split_loss(flow, left.route))[SERVICE]


class Larger(NamedTuple):
    """The service in the next size: its name, and the pressure, Pa, it would leave at the outlet."""

    size: str
    pa: float


def larger_service(flow: Flow, left: Left) -> Larger | None:
    """The outlet solved again with every run of the service in its next size; None where its losses were measured."""
    laws: dict[str, Law] = {}
    name = ""
    for run in common_runs(flow):
        tube = flow.facts.plan.tubes.get(run.tube or "")
        found = next_size(tube) if tube is not None else None
        law = flow.edges[run.id].law if run.id in flow.edges else None
        if found is not None and isinstance(law, Darcy):
            laws[run.id] = law._replace(bore_m=found[1])
            name = found[0]
    if not laws:
        return None
    solution = flow.drawn(dict(left.draws), laws)
    reading = flow.reading(solution, Ref(*left.side.split("/", 1)))
    return None if reading.missing is not None or reading.why else Larger(name, reading.pa)


def service_loss_pa(flow: Flow, left: Left) -> float:
    """What the service and meter cost on the way to an outlet, Pa."""
    return split_loss(flow, left.route)[SERVICE] * WATER_PA_PER_M


def short_at_peak(flow: Flow, loads: Loads) -> bool:
    """Whether the house, drawn as one network at peak, leaves some outlet under what its row or the UPC asks."""
    for side, pa in flow.network_peak(loads).by.items():
        if pa < least_pa(flow, side.partition("/")[0]) - _GRACE_PA:
            return True
    return False


def least_pa(flow: Flow, part: str) -> float:
    """The least pressure an outlet is asked for: the UPC's one, else that of its row, else 8 psi."""
    if flow.facts.family == "upc":
        return _UPC_PA
    rows = rows_of(flow.facts.plan.parts[part])
    return min((ROWS[row].pressure_pa for row in rows), default=_USUAL_PA)
