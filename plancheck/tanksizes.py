"""An expansion tank that is too small or charged wrongly in words, and what would mend it. Gauge pressures in Pa."""

from collections.abc import Sequence

from plancheck.expansion import Heated, Tank, final_pressure_pa, least_tank_m3, next_made_m3, rounded_up_m3
from plancheck.facts import Facts
from plancheck.measures import Quantity
from plancheck.measures.units import PSI_PA
from plancheck.model import HeaterOwn

_LEAST_LINE_PA = 40 * PSI_PA
GRACE_PA = 0.05 * PSI_PA
_STEPS_PA = {"psi": 5 * PSI_PA}
_STEP_PA = 0.5e5  # of a regulator set in bar


def ends_charged_to(tanks: Sequence[Tank], line_pa: float, growth_m3: float) -> float | None:
    """The end pressure were the line and all the charges at line_pa; None where the tanks are full before."""
    return final_pressure_pa([tank._replace(charge_pa=line_pa) for tank in tanks], line_pa, growth_m3)


def end_words(found: Heated, facts: Facts) -> str:
    """Where the pressure ends."""
    return (
        "fills the tank" if found.end_pa is None else f"takes the house to {facts.quantity(found.end_pa, 'pressure')}"
    )


def set_up_words(found: Heated, heaters: Sequence[str], facts: Facts) -> str:
    """The tanks with their charge, and what each heater does: 2 gal tank charged to 60 psi, 40 gal heater 45 degF to 125 degF."""
    sizes = " and ".join(facts.quantity(tank.volume_m3, "volume") for tank in found.tanks)
    charges = {facts.quantity(tank.charge_pa, "pressure") for tank in found.tanks}
    cold, words = facts.plan.water.coldest, []
    for heater in heaters:
        own = facts.plan.parts[heater].own
        if isinstance(own, HeaterOwn) and isinstance(own.volume, Quantity) and isinstance(own.set, Quantity):
            size, hot = facts.quantity(own.volume.si, "volume"), facts.quantity(own.set.si, "temperature")
            from_ = facts.quantity(cold.si, "temperature") if isinstance(cold, Quantity) else ""
            words.append(f"{size} heater {from_} to {hot}")
    return f"{sizes} tank charged to {' and '.join(sorted(charges))}, {' and '.join(words)}"


def worst_charged(found: Heated, names: Sequence[str], most_pa: float) -> str | None:
    """The tank whose charge is farthest off, where the charges alone are at fault. names: those of its tanks, in order."""
    ends_pa = ends_charged_to(found.tanks, found.line_pa, found.growth_m3)
    if ends_pa is None or ends_pa > most_pa + GRACE_PA:
        return None
    pairs = zip(names, found.tanks, strict=True)
    return max(pairs, key=lambda pair: abs(pair[1].charge_pa - found.line_pa))[0]


def mend_words(tanks: Sequence[Tank], line_pa: float, growth_m3: float, most_pa: float, facts: Facts) -> str:
    """What keeps the pressure within most_pa: the right charge, else a larger tank or a lower setting."""
    line, ends_pa = facts.quantity(line_pa, "pressure"), ends_charged_to(tanks, line_pa, growth_m3)
    if ends_pa is not None and ends_pa <= most_pa + GRACE_PA:
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
