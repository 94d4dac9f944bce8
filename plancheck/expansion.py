"""Water that swells when it is heated, and the tank that takes it. Gauge pressures in Pa, volumes in m3, degC.

Boyle's law at constant temperature on absolute pressures, with 14.7 psi of air. The growth of the heater and of the tube is
left out, which is on the safe side. Source of the method: the American Society of Plumbing Engineers' design handbook,
expansion tanks, from memory; its worked example was read.
"""

import math
from collections.abc import Sequence

from plancheck.answers import GRACE_PRESSURE_PA, estimates, known_quantity
from plancheck.facts import Facts
from plancheck.hydraulics.water import density_kg_m3
from plancheck.limits import NotShown
from plancheck.measures import Quantity
from plancheck.measures.units import GALLON_M3, LITRE_M3, PSI_PA
from plancheck.model import HeaterOwn, Path, TankOwn
from plancheck.record import NamedTuple
from plancheck.standing import height_of

AIR_PA = 14.7 * PSI_PA
MADE_GAL_M3 = tuple(gallons * GALLON_M3 for gallons in (2.0, 3.2, 4.4, 10.3))  # a seller's chart, read
MADE_LITRES_M3 = tuple(litres * LITRE_M3 for litres in (5.0, 8.0, 12.0, 18.0, 24.0, 35.0))  # common practice


class Tank(NamedTuple):
    """An expansion tank: its whole volume and the pressure its air was charged to without water."""

    volume_m3: float
    charge_pa: float


def growth_m3(volume_m3: float, cold_c: float, hot_c: float) -> float:
    """By how much the water grows: volume x (density cold / density hot - 1)."""
    return volume_m3 * (density_kg_m3(cold_c) / density_kg_m3(hot_c) - 1)


def held_m3(tank: Tank, pressure_pa: float) -> float:
    """The water in the tank at a pressure: none until the pressure passes its charge."""
    return max(0.0, tank.volume_m3 * (1 - (tank.charge_pa + AIR_PA) / (pressure_pa + AIR_PA)))


def final_pressure_pa(tanks: Sequence[Tank], line_pa: float, growth: float) -> float | None:
    """The pressure once the tanks have taken the growth (m3), starting from the line pressure; None where they are full.

    A tank charged over the line pressure takes nothing until the pressure has reached its charge.
    """
    if growth <= 0:
        return line_pa
    to_hold = growth + sum(held_m3(tank, line_pa) for tank in tanks)
    volume, air = 0.0, 0.0
    ordered = sorted(tanks, key=lambda tank: tank.charge_pa)
    for number, tank in enumerate(ordered):
        volume += tank.volume_m3
        air += tank.volume_m3 * (tank.charge_pa + AIR_PA)
        if volume <= to_hold:
            continue
        end_pa = air / (volume - to_hold) - AIR_PA
        if number + 1 == len(ordered) or end_pa <= ordered[number + 1].charge_pa:
            return end_pa
    return None


def least_tank_m3(growth: float, line_pa: float, most_pa: float, charge_pa: float | None = None) -> float | None:
    """The least volume of one tank that keeps the pressure within most_pa; charge_pa left out: charged to the line.

    None where no tank does: the most is not over the line pressure, or not over the charge.
    """
    charge = line_pa if charge_pa is None else charge_pa
    start_pa = max(line_pa, charge)
    if most_pa <= start_pa:
        return None
    air = charge + AIR_PA
    return growth / (air / (start_pa + AIR_PA) - air / (most_pa + AIR_PA))


def rounded_up_m3(volume_m3: float, in_gallons: bool) -> float:
    """A volume to ask for: rounded up to 0.01 gal or 0.1 L."""
    step = 0.01 * GALLON_M3 if in_gallons else 0.1 * LITRE_M3
    return math.ceil(volume_m3 / step - 0.1) * step  # a tenth of a step is within the grace of the pressure


def next_made_m3(volume_m3: float, in_gallons: bool) -> float | None:
    """The smallest tank commonly made that is large enough."""
    made = MADE_GAL_M3 if in_gallons else MADE_LITRES_M3
    return next((size for size in made if size >= volume_m3 * (1 - 1e-9)), None)


class Asked(NamedTuple):
    """What a heater asks of its tank: how much its water grows, from which line pressure, and the least tank for that."""

    growth_m3: float
    line_pa: float
    least_m3: float


def line_at(facts: Facts, part: str, connection: str) -> float | None:
    """The pressure a tank there is charged to: what the regulator is set to, else the street's at that height."""
    zone = facts.standing.at(facts.network.number[f"{part}/{connection}"])
    if zone is None or zone.regulators:
        return zone.pressure_pa if zone is not None else None
    return zone.at_height(height_of(facts, part))


def asked_of(facts: Facts, heater: str, most_pa: float = 80 * PSI_PA) -> Asked | None:
    """The least tank, charged to the line, that keeps within most_pa; None where the plan does not tell all it takes."""
    own, coldest = facts.plan.parts[heater].own, facts.plan.water.coldest
    if not isinstance(own, HeaterOwn) or not isinstance(coldest, Quantity):
        return None
    line_pa = line_at(facts, heater, "cold")
    if line_pa is None or not isinstance(own.volume, Quantity) or not isinstance(own.set, Quantity):
        return None
    growth = growth_m3(own.volume.si, coldest.si, own.set.si)
    least = least_tank_m3(growth, line_pa, most_pa)
    if least is None:
        return None
    return Asked(growth, line_pa, rounded_up_m3(least, facts.units.volume == "gal"))


class Heated(NamedTuple):
    """What heating does: growth and line, the tanks, the end pressure (None when they are full), and its estimates."""

    growth_m3: float
    line_pa: float
    tanks: tuple[Tank, ...]
    end_pa: float | None
    about: str


def heated(facts: Facts, heaters: Sequence[str], tanks: Sequence[str]) -> Heated:
    """The growth of what the heaters hold and the pressure it ends at. Raises NotShown with the first key that is missing."""
    coldest = known_quantity(facts.plan.water.coldest, ("water", "coldest"), "the coldest water of the year")
    growth, said = 0.0, [coldest]
    for heater in heaters:
        own, path = facts.plan.parts[heater].own, ("parts", heater)
        assert isinstance(own, HeaterOwn)
        volume = known_quantity(own.volume, (*path, "volume"), "how much the heater holds")
        hot = known_quantity(own.set, (*path, "set"), "the temperature it is set to")
        growth += growth_m3(volume.si, coldest.si, hot.si)
        said += [volume, hot]
    line_pa, about = hung_on(facts, tanks[0])
    found = tuple(_tank(facts, tank, said) for tank in tanks)
    end_pa = final_pressure_pa(found, line_pa, growth)
    return Heated(growth, line_pa, found, end_pa, ", ".join(filter(None, (estimates(*said), about))))


def hung_on(facts: Facts, tank: str) -> tuple[float, str]:
    """The pressure a tank hangs on, and the estimate it is. Raises NotShown."""
    vertex = facts.network.number[f"{tank}/in"]
    if vertex not in facts.traced.parents:
        raise NotShown(("parts", tank, "onto"), "what the expansion tank is joined to")
    zone, line_pa = facts.standing.at(vertex), line_at(facts, tank, "in")
    if zone is None or line_pa is None:
        missing = zone.missing if zone is not None and zone.missing is not None else ("water", "static")
        raise NotShown(missing, "the pressure of the house at the tank")
    return line_pa, zone.about


def too_strong(found: Heated, tanks: Sequence[str], most_pa: float, facts: Facts) -> Path | None:
    """Where it is told that the house stands over the limit before anything is heated; else None."""
    zone = facts.standing.at(facts.network.number[f"{tanks[0]}/in"])
    return zone.path if zone is not None and found.line_pa > most_pa + GRACE_PRESSURE_PA else None


def _tank(facts: Facts, id_: str, said: list[Quantity]) -> Tank:
    own, path = facts.plan.parts[id_].own, ("parts", id_)
    assert isinstance(own, TankOwn)
    volume = known_quantity(own.volume, (*path, "volume"), "the size of the expansion tank")
    charge = known_quantity(own.precharge, (*path, "precharge"), "what the tank's air is charged to")
    said += [volume, charge]
    return Tank(volume.si, charge.si)
