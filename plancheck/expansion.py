"""Water that swells when it is heated, and the tank that takes it. Gauge pressures in Pa, volumes in m3, degC.

Boyle's law at constant temperature on absolute pressures, with 14.7 psi of air. The growth of the heater and of the tube is
left out, which is on the safe side. Source of the method: the American Society of Plumbing Engineers' design handbook,
expansion tanks, from memory; its worked example was read.
"""

from collections.abc import Sequence
from typing import NamedTuple

from plancheck.hydraulics.water import density_kg_m3
from plancheck.measures.units import PSI_PA

AIR_PA = 14.7 * PSI_PA


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
