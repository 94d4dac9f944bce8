"""Circulated loops: speed and loss at the pump's flow, and the temperature that comes back."""

from math import exp, pi

from plancheck.circulating import circulation
from plancheck.flow.flow import Flow
from plancheck.flow.pages.hot import INSULATION_M, wall_of
from plancheck.flow.pages.table import Cell, Column, Gaps, Table
from plancheck.hot.cooling import WALLS, heat_loss
from plancheck.hydraulics.loss import loss_m
from plancheck.hydraulics.water import density_kg_m3
from plancheck.measures import Quantity
from plancheck.measures.units import WATER_PA_PER_M
from plancheck.model import NONE, NOT_KNOWN, PumpOwn, Run
from plancheck.record import NamedTuple
from plancheck.tubedata import tube_bore_m, tube_outside_m

_AIR_C = (70.0 - 32.0) / 1.8
_WATER_J_KGK = 4182.0
_MOST_M_S = 2.0 * 0.3048  # one tube maker, read; others 2 to 3 ft/s


_COLUMNS = (
    Column("run"),
    Column("speed", "speed"),
    Column("loss", "pressure"),
    Column("enters at", "whole degrees"),
    Column("leaves at", "whole degrees"),
)
_NOTE = (
    "All of the pump's flow through every run of the loop, in still air of {}, insulated where the run says it."
)


class _Round(NamedTuple):
    """The rows of a loop; whole: whether every run of it is known; its loss (Pa), and the temperature that comes back."""

    rows: tuple[tuple[Cell, ...], ...]
    whole: bool
    loss_pa: float
    celsius: float


def loops_table(flow: Flow, gaps: Gaps) -> Table:
    """The runs of the loop at the flow of its pump; the pump's head and the return temperature in words."""
    facts, title = flow.facts, "The circulated loop"
    found = circulation(facts)
    if not found.runs or not found.pumps:
        return Table("loop", title)
    pump = found.pumps[0]
    own = facts.plan.parts[pump].own
    said = own.flow if isinstance(own, PumpOwn) else None
    if not isinstance(said, Quantity) or said.si <= 0:
        gaps.add(("parts", pump, "flow"), "how much the pump moves")
        return Table("loop", title, says=(f"The flow of {pump} is not said: speed, loss and return are not shown.",))
    round_ = _round(flow, found.runs, said.si, gaps)
    fast = [str(row[0]) for row in round_.rows if isinstance(row[1], float) and row[1] > _MOST_M_S]
    says = []
    if round_.whole:
        says.append(
            f"At {said.text} the pump has to lift {facts.quantity(round_.loss_pa, 'pressure')} round the loop, its fittings "
            f"apart; the water comes back at about {facts.degrees(round_.celsius)}."
        )
    if fast:
        says.append(f"Over {facts.quantity(_MOST_M_S, 'speed')}, at which one tube maker stops: {', '.join(fast)}.")
    return Table("loop", title, _COLUMNS, round_.rows, tuple(says), (_NOTE.format(flow.facts.degrees(_AIR_C)),))


def _round(flow: Flow, runs: tuple[str, ...], flow_m3s: float, gaps: Gaps) -> _Round:
    """Once round the loop, from the heater on."""
    rows: list[tuple[Cell, ...]] = []
    celsius, total, whole = flow.house.hot_c, 0.0, True
    for name in runs:
        speed, loss, after = _at(flow, flow.facts.plan.runs[name], flow_m3s, celsius, gaps)
        whole = whole and loss is not None and after is not None
        rows.append((name, speed, loss, celsius if whole else None, after if whole else None))
        total += loss or 0.0
        celsius = after if after is not None else celsius
    return _Round(tuple(rows), whole, total, celsius)


def _at(
    flow: Flow, run: Run, flow_m3s: float, celsius: float, gaps: Gaps
) -> tuple[float | None, float | None, float | None]:
    """Speed, loss (Pa) and leaving temperature of one run."""
    tube = flow.facts.plan.tubes.get(run.tube or "")
    length_m = flow.facts.run_length_m(run.id)
    bore_m = tube_bore_m(tube) if tube is not None else None
    outside_m, wall = (tube_outside_m(tube), wall_of(tube)) if tube is not None else (None, None)
    if length_m is None:
        gaps.add(("runs", run.id, "length"), "how long the run is")
    speed = flow_m3s / (pi / 4.0 * bore_m**2) if bore_m is not None else None
    edge = flow.edges.get(run.id)
    known = edge is not None and flow.house.pieces[run.id].missing is None
    loss = loss_m(edge.law, flow_m3s) * WATER_PA_PER_M if edge is not None and known else None
    if bore_m is None or outside_m is None or wall is None or length_m is None:
        return speed, loss, None
    insulated = run.insulation not in (None, NONE, NOT_KNOWN)
    ua = heat_loss(bore_m, outside_m, WALLS[wall], INSULATION_M if insulated else 0.0) * length_m
    stream = flow_m3s * density_kg_m3(celsius) * _WATER_J_KGK
    return speed, loss, _AIR_C + (celsius - _AIR_C) * exp(-ua / stream)
