"""Room for heated water, and water hammer."""

from plancheck.closed import closed_stretch
from plancheck.expansion import Tank, final_pressure_pa, growth_m3, line_at
from plancheck.flow.flow import Flow
from plancheck.flow.pages.table import Cell, Column, Gaps, Table
from plancheck.measures import Quantity
from plancheck.model import HeaterOwn, Relief, TankOwn
from plancheck.standing import fed_by_well
from plancheck.surge import stopped_at

_QUICK = ("clothes washer", "dishwasher", "ice maker")


def expansion_table(flow: Flow, gaps: Gaps) -> Table:
    """Each storage heater: closed or not, growth, tank, pressure at the end against 80 psi and the relief valve."""
    facts = flow.facts
    columns = (
        Column("heater"),
        Column("closed by"),
        Column("growth", "volume"),
        Column("line", "pressure"),
        Column("at the end", "pressure"),
        Column("relief opens", "pressure"),
    )
    rows: list[tuple[Cell, ...]] = []
    says: list[str] = []
    for part in facts.plan.parts.values():
        own = part.own
        if not isinstance(own, HeaterOwn) or own.style not in ("storage", "indirect") or part.work == "removed":
            continue
        closed = closed_stretch(facts, part.id)
        if closed.unsaid is not None:
            gaps.add(closed.unsaid, "whether it has a check")
        growth = _growth(flow, part.id, own, gaps)
        line = line_at(facts, part.id, "cold")
        end = None
        tanks = _tanks(flow, closed.tanks, gaps)
        if growth is not None and line is not None and tanks is not None and not closed.open_:
            end = final_pressure_pa(tanks, line, growth) if tanks else None
            if tanks and end is None:
                says.append(f"{part.id}: the tank is full before the heater has done heating.")
        relief = own.relief.pressure if isinstance(own.relief, Relief) else None
        back = "open to the tank of the well" if fed_by_well(facts) else "open to the street"
        by = back if closed.open_ else ", ".join(closed.closers) or "closed"
        rows.append((part.id, by, growth, line, end, relief.si if isinstance(relief, Quantity) else None))
        if not closed.open_ and not closed.tanks:
            says.append(f"{part.id} is closed in without a tank: heated water finds no room but the relief valve.")
    return Table("expansion", "Room for heated water", columns, tuple(rows), tuple(says))


def _growth(flow: Flow, part: str, own: HeaterOwn, gaps: Gaps) -> float | None:
    if not isinstance(own.volume, Quantity):
        gaps.add(("parts", part, "volume"), "how much the heater holds")
        return None
    if not isinstance(own.set, Quantity):
        gaps.add(("parts", part, "set"), "the temperature it is set to")
        return None
    if flow.house.cold_c is None:
        gaps.add(("water", "coldest"), "the coldest water of the year")
        return None
    return growth_m3(own.volume.si, flow.house.cold_c, own.set.si)


def _tanks(flow: Flow, names: tuple[str, ...], gaps: Gaps) -> list[Tank] | None:
    found = []
    for name in names:
        own = flow.facts.plan.parts[name].own
        if not isinstance(own, TankOwn) or not isinstance(own.volume, Quantity):
            gaps.add(("parts", name, "volume"), "the volume of the tank")
            return None
        if not isinstance(own.precharge, Quantity):
            gaps.add(("parts", name, "precharge"), "what the tank is charged to")
            return None
        found.append(Tank(own.volume.si, own.precharge.si))
    return found


def surge_table(flow: Flow) -> Table:
    """Valves that snap shut: the water they stop, and what that adds to the pressure in this tube."""
    facts = flow.facts
    columns = (
        Column("valve"),
        Column("tube"),
        Column("flow stopped", "flow"),
        Column("speed stopped", "speed"),
        Column("surge", "pressure"),
        Column("on top of", "pressure"),
    )
    rows: list[tuple[Cell, ...]] = []
    usual: list[str] = []
    for fixture in flow.house.fixtures.values():
        if fixture.kind not in _QUICK:
            continue
        for side, edge in fixture.sides.items():
            found = stopped_at(facts, facts.plan.parts[fixture.part], side)
            if found is not None:
                rows.append((edge, found.tube.id, found.flow_m3s, found.speed_m_s, found.rise_pa, found.before_pa))
                usual += [edge] if not found.solved else []
    says = (f"At the usual rate, what they draw here not being known: {', '.join(usual)}.",) if usual else ()
    notes = (
        (
            "Surge when the valve stops the water faster than the pressure wave returns. PEX softens it, yet tests show less of "
            "that than the formula: an arrestor is not waived by it."
        ),
    )
    return Table("surge", "Water hammer at valves that snap shut", columns, tuple(rows), says, notes)
