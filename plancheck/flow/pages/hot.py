"""Hot water: what stands in the pipe, the wait at each outlet, how soon it cools, and what the heater is able to do."""

from plancheck.flow.flow import Flow
from plancheck.flow.pages.table import Cell, Column, Gaps, Table
from plancheck.hot.cooling import WALLS, heat_kept, heat_loss, seconds_to
from plancheck.hot.heater import able_m3s, efficiency_of, first_hour_of
from plancheck.hot.stored import DRAWN_BY_STORED, DRAWN_RANGE, Route, routes, wait_s, wasted_m3
from plancheck.kinds import PEX
from plancheck.measures import Quantity
from plancheck.model import HeaterOwn, Tube
from plancheck.tubedata import tube_bore_m, tube_outside_m

_AIR_C, _USABLE_C = (70.0 - 32.0) / 1.8, (105.0 - 32.0) / 1.8
INSULATION_M = 0.0127
_RISES_K = (35 / 1.8, 45 / 1.8, 55 / 1.8, 70 / 1.8, 77 / 1.8)


_WAITS = (
    Column("outlet"),
    Column("hot pipe", "length"),
    Column("holds", "volume"),
    Column("takes", "flow"),
    Column("wait", "duration"),
    Column("at least", "duration"),
    Column("at most", "duration"),
    Column("run off", "volume"),
)
_DRAWN = (
    "Drawn before hot comes: 1.2 times what the pipe holds, from 1.0 to 2.0 by flow and size. A tankless heater adds "
    "its own start. Cooling: one lump of water and wall in still air of {}, the last run of the way."
)


def wait_table(flow: Flow, gaps: Gaps) -> Table:
    """Stored volume, wait and first-draw waste of each hot outlet at the flow it takes."""
    facts = flow.facts
    rows = tuple(_wait(flow, side, route, gaps) for side, route in routes(facts).items())
    bare = Column(f"stays over {facts.degrees(_USABLE_C)}, bare", "duration")
    insulated = Column(f"{'1/2 in' if facts.units.length == 'ft-in' else '13 mm'} insulated", "duration")
    notes = (_DRAWN.format(facts.degrees(_AIR_C)),)
    return Table("hot wait", "How long until hot water comes", (*_WAITS, bare, insulated), rows, notes=notes)


def _wait(flow: Flow, side: str, route: Route, gaps: Gaps) -> tuple[Cell, ...]:
    """The cells of one outlet."""
    if route.missing_length is not None:
        gaps.add(route.missing_length, "the length of the hot pipe")
    if route.missing_bore is not None:
        gaps.add(route.missing_bore, "the bore of the hot pipe, else taken between its least and its most")
    known = route.missing_length is None
    holds = (route.least_m3 + route.most_m3) / 2.0 if route.missing_bore is not None else route.volume_m3
    rate = _own_flow(flow, side.partition("/")[0])
    waits: list[float | None] = [None, None, None]
    if known and rate:
        waits = [wait_s(holds, rate, by) for by in (DRAWN_BY_STORED, *DRAWN_RANGE)]
    pipe = (route.length_m, holds) if known else (None, None)
    stays = (_stays(flow, route, insulated) for insulated in (False, True))
    return (side, *pipe, rate, *waits, wasted_m3(holds) if known else None, *stays)


def _own_flow(flow: Flow, part: str) -> float | None:
    fixture = flow.house.fixtures.get(part)
    if fixture is None or "hot" not in fixture.sides:
        return None
    solution = flow.opened((fixture.sides["hot"],))
    return None if solution.why or flow.unknown(solution) else solution.flows.get(fixture.sides["hot"])


def _stays(flow: Flow, route: Route, insulated: bool) -> float | None:
    """How long the last run of a route stays warm enough to use."""
    run = next((piece.run for piece in reversed(route.pieces) if piece.run is not None), None)
    tube = flow.facts.plan.tubes.get(flow.facts.plan.runs[run].tube or "") if run is not None else None
    if tube is None or flow.house.hot_c <= _USABLE_C:
        return None
    bore_m, outside_m, wall = tube_bore_m(tube), tube_outside_m(tube), wall_of(tube)
    if bore_m is None or outside_m is None or wall is None:
        return None
    loss = heat_loss(bore_m, outside_m, WALLS[wall], INSULATION_M if insulated else 0.0)
    return seconds_to(flow.house.hot_c, _USABLE_C, _AIR_C, loss, heat_kept(bore_m, outside_m, WALLS[wall]))


def wall_of(tube: Tube) -> str | None:
    """Which of the walls of hot.cooling a tube has; None where none is carried."""
    if tube.material in PEX:
        return "PEX"
    if tube.material in ("copper", "CPVC"):
        return tube.material
    return "steel" if tube.material in ("galvanised steel", "stainless steel") else None


def first_hour_table(flow: Flow, gaps: Gaps) -> Table:
    """What the first hour asks of each tank, by the older and the newer worksheet, and what it gives."""
    columns = (
        Column("heater"),
        Column("asked, older", "volume"),
        Column("newer", "volume"),
        Column("it gives", "volume"),
    )
    asked = first_hour_of([one.kind for one in flow.house.fixtures.values() if "hot" in one.sides])
    rows: list[tuple[Cell, ...]] = []
    for part in flow.facts.plan.parts.values():
        own = part.own
        if isinstance(own, HeaterOwn) and own.style in ("storage", "indirect") and part.work != "removed":
            if not isinstance(own.first_hour, Quantity):
                gaps.add(("parts", part.id, "first-hour"), "what it gives in its first hour")
            gives = own.first_hour.si if isinstance(own.first_hour, Quantity) else None
            rows.append((part.id, asked.low_m3, asked.high_m3, gives))
    note = "Every shower once, what is drawn at sinks, the dishwasher; the worksheets differ by 12 and 20 gal a shower."
    return Table("first hour", "What the first hour asks of the tank", columns, tuple(rows), notes=(note,))


def heater_tables(flow: Flow, gaps: Gaps) -> list[Table]:
    """What each tankless heater is able to raise, by rise."""
    found = []
    for part in flow.facts.plan.parts.values():
        own = part.own
        if not isinstance(own, HeaterOwn) or own.style not in ("tankless", "point of use") or part.work == "removed":
            continue
        if not isinstance(own.input, Quantity):
            gaps.add(("parts", part.id, "input"), "its heat input")
            continue
        efficiency = efficiency_of(own)
        if efficiency is None:
            gaps.add(("parts", part.id, "efficiency"), "its efficiency")
            continue
        rises = list(_RISES_K)
        if flow.house.cold_c is not None and flow.house.hot_c > flow.house.cold_c:
            rises.append(flow.house.hot_c - flow.house.cold_c)
        rows = tuple((rise, able_m3s(own.input.si, efficiency, rise)) for rise in sorted(rises))
        least = own.least
        says: tuple[str, ...] = ()
        if isinstance(least, Quantity):
            says = (f"It lights from {flow.facts.quantity(least.si, 'flow')} of hot water on.",)
        title = f"What {flow.facts.part_name(part.id)} is able to heat"
        columns = (Column("rise", "degrees apart"), Column("flow", "flow"))
        found.append(Table(f"heater {part.id}", title, columns, rows, says))
    return found
