"""How water standing in a hot pipe cools between draws: water and wall as one lump that loses heat to the air.

For one metre of pipe: heat kept J/(m K), loss W/(m K). Temperatures in degC. Source of the still-air figures: a tube
maker's table of heat loss (read), which is straight with a film of 1.0 Btu/(h ft2 degF) outside.
"""

import math

from plancheck.hydraulics.water import density_kg_m3
from plancheck.measures.units import BTU_J, FOOT_M
from plancheck.record import NamedTuple

BTU_FT_F = BTU_J / FOOT_M * 1.8  # J/(m K) in 1 Btu/(ft degF)
BTU_H_FT_F = BTU_FT_F / 3600  # W/(m K) in 1 Btu/(h ft degF)
FILM_W_M2K = BTU_J / 3600 * 1.8 / FOOT_M**2  # still air and radiation outside
INSULATION_W_MK = 0.24 / 12 * BTU_H_FT_F  # foam: 0.24 Btu in/(h ft2 degF)
_WATER_J_KGK = 4182.0


class Wall(NamedTuple):
    """What a tube is made of: conductivity W/(m K), density kg/m3, heat kept J/(kg K)."""

    conductivity: float
    density: float
    heat: float


# handbook figures, from memory; the conductivity of PEX as tube makers print it (read)
WALLS = {
    "PEX": Wall(0.219 * BTU_H_FT_F, 938.0, 2300.0),
    "CPVC": Wall(0.14, 1550.0, 900.0),
    "copper": Wall(390.0, 8940.0, 385.0),
    "steel": Wall(50.0, 7850.0, 480.0),
}


def heat_kept(bore_m: float, outside_m: float, wall: Wall) -> float:
    """Heat that one metre of full pipe gives off for each degree, wall included."""
    water = math.pi / 4 * bore_m**2 * density_kg_m3(45.0) * _WATER_J_KGK
    return water + math.pi / 4 * (outside_m**2 - bore_m**2) * wall.density * wall.heat


def heat_loss(
    bore_m: float, outside_m: float, wall: Wall, insulation_m: float = 0.0, film_w_m2k: float = FILM_W_M2K
) -> float:
    """Heat that one metre of pipe loses for each degree over the air, through wall, insulation and air film."""
    across_m = outside_m + 2 * insulation_m
    through = math.log(outside_m / bore_m) / (2 * math.pi * wall.conductivity)
    if insulation_m > 0:
        through += math.log(across_m / outside_m) / (2 * math.pi * INSULATION_W_MK)
    return 1 / (through + 1 / (film_w_m2k * math.pi * across_m))


def temperature_after(start_c: float, air_c: float, loss: float, kept: float, seconds: float) -> float:
    """The temperature after standing so long: T = air + (start - air) exp(-loss t / kept)."""
    return air_c + (start_c - air_c) * math.exp(-loss * seconds / kept)


def seconds_to(start_c: float, end_c: float, air_c: float, loss: float, kept: float) -> float:
    """How long it takes to cool from start to end. Raises ValueError where the end is not between start and air."""
    if not air_c < end_c <= start_c:
        raise ValueError("it cools no further than the air")
    return kept / loss * math.log((start_c - air_c) / (end_c - air_c))
