"""What would mend an expansion tank that is too small or charged wrongly, with the figures. Gauge pressures in Pa."""

from collections.abc import Sequence

from plancheck.expansion import Tank, final_pressure_pa, least_tank_m3, next_made_m3, rounded_up_m3
from plancheck.facts import Facts
from plancheck.measures.units import PSI_PA

_LEAST_LINE_PA = 40 * PSI_PA
_GRACE_PA = 0.05 * PSI_PA
_STEPS_PA = {"psi": 5 * PSI_PA}
_STEP_PA = 0.5e5  # of a regulator set in bar


def ends_charged_to(tanks: Sequence[Tank], line_pa: float, growth_m3: float) -> float | None:
    """The end pressure were the line and all the charges at line_pa; None where the tanks are full before."""
    return final_pressure_pa([tank._replace(charge_pa=line_pa) for tank in tanks], line_pa, growth_m3)


def mend_words(tanks: Sequence[Tank], line_pa: float, growth_m3: float, most_pa: float, facts: Facts) -> str:
    """What keeps the pressure within most_pa: the right charge, else a larger tank or a lower setting."""
    line, ends_pa = facts.quantity(line_pa, "pressure"), ends_charged_to(tanks, line_pa, growth_m3)
    if ends_pa is not None and ends_pa <= most_pa + _GRACE_PA:
        return f"Charge it, empty, to {line}: it then ends at {facts.quantity(ends_pa, 'pressure')}."
    least_m3 = least_tank_m3(growth_m3, line_pa, most_pa)
    if least_m3 is None:
        return f"Set the regulator, and charge the tank, well below {facts.quantity(most_pa, 'pressure')}."
    least = facts.quantity(rounded_up_m3(least_m3, facts.units.volume == "gal"), "volume")
    both = "one tank of" if len(tanks) > 1 else "a tank of"
    return f"Use {both} {least} or more, charged to {line}{_next_made(least_m3, line_pa, growth_m3, facts)}{_lower(tanks, line_pa, growth_m3, most_pa, facts)}."


def _next_made(least_m3: float, line_pa: float, growth_m3: float, facts: Facts) -> str:
    made_m3 = next_made_m3(least_m3, facts.units.volume == "gal")
    ends_pa = final_pressure_pa([Tank(made_m3, line_pa)], line_pa, growth_m3) if made_m3 is not None else None
    if made_m3 is None or ends_pa is None:
        return ""
    return f" (next made: {facts.quantity(made_m3, 'volume')}, which ends at {facts.quantity(ends_pa, 'pressure')})"


def _lower(tanks: Sequence[Tank], line_pa: float, growth_m3: float, most_pa: float, facts: Facts) -> str:
    """A lower setting, not under 40 psi, at which these tanks suffice when they are charged to it."""
    step_pa = _STEPS_PA.get(facts.units.pressure, _STEP_PA)
    lower_pa = step_pa * int(line_pa / step_pa - 1e-6)
    while lower_pa >= _LEAST_LINE_PA - 1:
        ends_pa = ends_charged_to(tanks, lower_pa, growth_m3)
        if ends_pa is not None and ends_pa <= most_pa:
            lower, ends = facts.quantity(lower_pa, "pressure"), facts.quantity(ends_pa, "pressure")
            return f", or lower regulator and charge both to {lower} (ends at {ends})"
        lower_pa -= step_pa
    return ""
