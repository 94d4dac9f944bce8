"""A manifold that is too narrow for what hangs on it, in words: by the table, or by its true bore alone."""

from __future__ import annotations

from collections.abc import Mapping
from math import ceil, pi, sqrt

from plancheck.answers import broken, capital, is_new
from plancheck.facts import Facts
from plancheck.flow.mending import next_size
from plancheck.hangson import Drawn
from plancheck.limits import InForce
from plancheck.measures import read_size
from plancheck.measures.sizes import INCH_NAMES
from plancheck.model import ManifoldOwn, Part, Tube
from plancheck.outcomes import Measured, Outcome
from plancheck.record import NamedTuple

_INCH_M = 0.0254
_LARGER = 4  # sizes up that a mend looks for one that carries it


class Narrow(NamedTuple):
    """A manifold and what it is compared with.

    words: what it is made of; tube: None where it is bought; row: the table's, if it has one for its size; speed: in the
    true bore; rows: flows of the table, m3/s, by nominal inches.
    """

    part: Part
    words: str
    tube: Tube | None
    bore_m: float | None
    drawn: Drawn
    row: InForce | None
    speed: InForce
    rows: Mapping[float, float]

    @property
    def carries_m3s(self) -> float:
        """What its true bore carries; without end where that is not known."""
        return _carried(self.bore_m, self.speed) if self.bore_m is not None else float("inf")


def _carried(bore_m: float, speed: InForce) -> float:
    return speed.number * pi / 4 * bore_m**2


def over_the_table(found: Narrow, row: InForce, facts: Facts) -> Outcome:
    """More hangs on it than its row of the table has: a correction where all are lines of their own on a straight row."""
    load, most = _load(found, facts), facts.quantity(row.number, "flow")
    ring = _is_ring(found.part, facts)
    severe = is_new(found.part) and not found.drawn.peak and not ring
    return broken(
        f"{_name(found, facts)}: {load}; the table has {most} for it.",
        "correction" if severe else "advice",
        measured=Measured(found.drawn.least_m3s, "flow"),
        limit=row,
        found=load,
        needed=f"at most {most}",
        mend=_mend(found, facts),
        caution=_caution(found, ring),
    )


def too_narrow(found: Narrow, facts: Facts) -> Outcome:
    """Its row of the table holds, or it has none, but its true bore is too narrow."""
    load, carries = _load(found, facts), facts.quantity(found.carries_m3s, "flow")
    table = f"the table has {facts.quantity(found.row.number, 'flow')}, but its" if found.row is not None else "its"
    bore, speed = bore_words(found.bore_m or 0.0, facts), facts.quantity(found.speed.number, "speed")
    return broken(
        f"{_name(found, facts)}: {load}; {table} {bore} bore carries {carries} at {speed}.",
        "advice",
        measured=Measured(found.drawn.least_m3s, "flow"),
        limit=found.speed,
        found=load,
        needed=f"at most {carries} through {bore}",
        mend=_mend(found, facts),
        caution=_caution(found, _is_ring(found.part, facts)),
    )


def bore_words(bore_m: float, facts: Facts) -> str:
    """A bore to the thousandth of an inch, or the tenth of a millimetre."""
    return f"{bore_m / _INCH_M:.3f} in" if facts.units.length == "ft-in" else f"{bore_m * 1000:.1f} mm"


def _load(found: Narrow, facts: Facts) -> str:
    """What hangs on it draws, in words."""
    drawn = found.drawn
    least = f"{facts.quantity(drawn.least_m3s, 'flow')} {'at peak' if drawn.peak else 'of outlets'}"
    return f"at least {least}" if drawn.most_m3s > drawn.least_m3s else least


def _name(found: Narrow, facts: Facts) -> str:
    return f"{capital(facts.part_name(found.part.id))}, {found.words}"


def _is_ring(part: Part, facts: Facts) -> bool:
    if not isinstance(part.own, ManifoldOwn):
        return False
    number, rings, touching = facts.network.number, facts.traced.rings, facts.network.touching
    rows = (number.get(f"{part.id}/{port}:row") for port in part.own.ports)
    return any(edge in rings for row in rows if row is not None for edge in touching[row])


def _caution(found: Narrow, ring: bool) -> str:
    said = []
    if found.drawn.peak:
        said.append(
            "Circuits branch on it, and the table is made for lines of their own: it is compared with the peak flow."
        )
    if ring:
        said.append("A ring is judged with the whole load, because either side of it may be shut.")
    return " ".join(said)


def _mend(found: Narrow, facts: Facts) -> str:
    """The size that carries it, by table and by bore."""
    second = ", or hang some of it on a second one."
    load = found.drawn.least_m3s
    if found.tube is None:
        step_m = _INCH_M / 1000 if facts.units.length == "ft-in" else 0.0001
        bore = bore_words(ceil(sqrt(4 * load / pi / found.speed.number) / step_m) * step_m, facts)
        return f"Use one with a bore of at least {bore}{second}"
    tube = found.tube
    ranks = {name: rank for rank, name in INCH_NAMES.items()}
    for _ in range(_LARGER):
        larger = next_size(tube)
        if larger is None:
            break
        name, bore_m = larger
        carries = min(_carried(bore_m, found.speed), found.rows.get(ranks[name], float("inf")))
        if carries >= load:
            return f"Make it of {name} in ({facts.quantity(carries, 'flow')}){second}"
        tube = tube._replace(size=read_size(name), outside=None, wall=None)
    return f"Make it of larger tube{second}"
