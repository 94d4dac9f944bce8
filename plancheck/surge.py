"""Water hammer: how fast a pressure wave runs in a tube, and what stopping the water at once adds to the pressure.

N. Joukowsky 1898: rise = density x wave speed x change of speed; wave speed by D. J. Korteweg 1878 for a thin wall:
a = sqrt((K / density) / (1 + K D / (E e))). Both from memory; the copper speeds were compared with a laboratory's. SI.
"""

import math

from plancheck.kinds import PEX
from plancheck.measures import Length, Size
from plancheck.measures.units import INCH_M
from plancheck.model import Tube
from plancheck.record import NamedTuple
from plancheck.tubedata import CPVC_WALL_IN, PEX_WALL_IN, tube_bore_m, tube_outside_m

WATER_PA = 2.149e9  # bulk modulus
WATER_KG_M3 = 998.2


class Modulus(NamedTuple):
    """Young's modulus of a wall, Pa: a middle value and its range."""

    middle: float
    least: float
    most: float


COPPER = Modulus(124.1e9, 110e9, 130e9)
STEEL = Modulus(200e9, 190e9, 210e9)
PEX_WALL = Modulus(0.8e9, 0.6e9, 1.0e9)
CPVC_WALL = Modulus(2.9e9, 2.5e9, 3.2e9)
_LEAST_WALL_IN = {**dict.fromkeys(PEX - {"PEX-AL-PEX"}, PEX_WALL_IN), "CPVC": CPVC_WALL_IN}


def modulus_of(material: str | None) -> Modulus | None:
    """The modulus of a tube's material; None where it is not carried."""
    if material in PEX:
        return PEX_WALL if material != "PEX-AL-PEX" else None
    if material == "CPVC":
        return CPVC_WALL
    if material in ("copper", "brass"):
        return COPPER
    return STEEL if material in ("galvanised steel", "stainless steel", "ductile iron") else None


def wave_speed_m_s(bore_m: float, wall_m: float, modulus_pa: float) -> float:
    """The speed of a pressure wave in a full tube."""
    return math.sqrt(WATER_PA / WATER_KG_M3 / (1 + WATER_PA * bore_m / (modulus_pa * wall_m)))


def rise_pa(wave_m_s: float, stopped_m_s: float) -> float:
    """What stopping the water at once adds to the pressure."""
    return WATER_KG_M3 * wave_m_s * stopped_m_s


def wave_in(tube: Tube) -> float | None:
    """The wave speed in a tube of the plan by its least wall and its material; None where one of them is not known."""
    modulus, bore_m, outside_m = modulus_of(tube.material), tube_bore_m(tube), tube_outside_m(tube)
    if modulus is None or bore_m is None or outside_m is None:
        return None
    wall_m = (outside_m - bore_m) / 2
    if not isinstance(tube.wall, Length) and isinstance(tube.size, Size):
        wall_m = _LEAST_WALL_IN.get(tube.material or "", {}).get(tube.size.name, (wall_m / INCH_M,))[0] * INCH_M
    return wave_speed_m_s(outside_m - 2 * wall_m, wall_m, modulus.middle)


def longest_closing_s(length_m: float, wave_m_s: float) -> float:
    """The longest closing time that still counts as at once: the wave's way to the far end and back."""
    return 2 * length_m / wave_m_s
