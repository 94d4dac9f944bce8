"""A pressure test that fell: what the air's temperature and the tube's stretch account for."""

from plancheck.limits import Source, printed
from plancheck.measures.units import PSI_PA
from plancheck.record import NamedTuple

AIR_PA = 14.7 * PSI_PA
STRETCH_PA, STRETCH_S = 8.0 * PSI_PA, 3600.0
STRETCH_SOURCE: Source = printed("PPFA Installation Handbook, as a second page quotes it", "2006", "air test of PEX")


class Fall(NamedTuple):
    """What a test lost: fell_pa in all; by_temperature_pa of it by the temperature of the air in it (None with water, or
    where the temperatures are not said); stretch_pa: what the stretch of the tube may account for in the first hour;
    left_pa: what neither accounts for."""

    fell_pa: float
    by_temperature_pa: float | None
    stretch_pa: float
    left_pa: float


def fall_of(
    start_pa: float, end_pa: float, held_s: float, medium: str, from_c: float | None = None, to_c: float | None = None
) -> Fall:
    """A test's fall taken apart. Gauge pressures, Pa; medium: water, air, gas. Air follows its absolute temperature.

    The stretch of PEX is that of the first hour, in proportion to the time held.
    """
    fell = start_pa - end_pa
    by_temperature = None
    if medium != "water" and from_c is not None and to_c is not None:
        by_temperature = (start_pa + AIR_PA) * (1.0 - (to_c + 273.15) / (from_c + 273.15))
    stretch = STRETCH_PA * min(1.0, held_s / STRETCH_S)
    left = fell - (by_temperature or 0.0) - stretch
    return Fall(fell, by_temperature, stretch, max(0.0, left))
