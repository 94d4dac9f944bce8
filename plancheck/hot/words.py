"""Hot pipe and heaters in words: what a pipe is made of and holds, what would make hot water come sooner or warmer."""

from plancheck.facts import Facts
from plancheck.hot.stored import Route, wait_s
from plancheck.measures import Quantity, Size
from plancheck.measures.steps import stepped_down, stepped_up
from plancheck.measures.units import GALLON_M3, INCH_M
from plancheck.model import HeaterOwn

_OUNCE_M3 = GALLON_M3 / 128
_SHORTER = 0.95  # a line of its own is worth naming where it holds less than this share


def volume_words(m3: float, facts: Facts) -> str:
    """A small volume as one speaks of it: ounces, or litres."""
    return f"{m3 / _OUNCE_M3:.0f} oz" if facts.units.volume == "gal" else facts.quantity(m3, "volume")


def made_of(route: Route, facts: Facts) -> str:
    """The way in words: 31 ft of 3/4 in and 6 ft of 1/2 in PEX-A."""
    lengths: dict[str, float] = {}
    for piece in route.pieces:
        tube = facts.plan.tubes.get(piece.tube or "")
        size = tube.size if tube is not None else None
        name = size.words if isinstance(size, Size) else "pipe"
        name = f"{name} {tube.material}" if tube is not None and tube.material else name
        lengths[name] = lengths.get(name, 0.0) + piece.length_m
    return " and ".join(f"{facts.length(m)} of {name}" for name, m in lengths.items() if m > 0) or "the pipes"


def mend_words(route: Route, rate: Quantity | None, facts: Facts, most_m3: float, most_s: float) -> str:
    """A line of its own in the smallest usual tube, if that is enough; else a loop on demand, with the length behind it."""
    inches = facts.units.length == "ft-in"
    bore_m, tube = (0.475 * INCH_M, "1/2 in PEX") if inches else (0.0116, "16 x 2.2 mm PEX")
    area_m2 = 0.785398163 * bore_m**2
    own_m3 = area_m2 * route.length_m
    enough = own_m3 <= most_m3 and (rate is None or wait_s(own_m3, rate.si) <= most_s)
    if enough and own_m3 < route.volume_m3 * _SHORTER:
        seconds = f", {wait_s(own_m3, rate.si):.0f} s" if rate is not None else ""
        return f"Give it a line of its own in {tube} over the same way: {volume_words(own_m3, facts)}{seconds}."
    most_m = most_m3 / area_m2
    if rate is not None:
        most_m = min(most_m, most_s * rate.si / 1.2 / area_m2)
    return (
        f"Circulate on demand, with at most {facts.length(stepped_down(most_m, 'length', facts.units))} of {tube} behind the tee of the loop, "
        "or bring the heater nearer."
    )


def input_words(own: HeaterOwn, facts: Facts) -> str:
    """The heat input and the efficiency of a heater that says them."""
    from plancheck.hot.heater import efficiency_of

    input_ = facts.quantity(own.input.si, "power") if isinstance(own.input, Quantity) else ""
    return f"{input_} at {efficiency_of(own):g}"


def enough_words(own: HeaterOwn, flow_m3s: float, rise_c: float, facts: Facts) -> str:
    """The input that warms a flow."""
    from plancheck.hot.heater import efficiency_of, input_needed_w

    needed_w = input_needed_w(flow_m3s, efficiency_of(own) or 1.0, rise_c)
    return facts.quantity(stepped_up(needed_w, "power", facts.units), "power")
