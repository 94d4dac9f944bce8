"""Outlets that are short at peak, as the code's sections reckon it: what rules on the service and on manifolds ask."""

from collections.abc import Iterator

from plancheck.demand.loads import Loads
from plancheck.flow.capacity import Left
from plancheck.flow.flow import Flow
from plancheck.flow.house import Missing
from plancheck.flow.required import ROWS, WASHER_M3S, drawn, rows_of
from plancheck.measures.units import PSI_PA
from plancheck.model import Part
from plancheck.record import NamedTuple

UPC_SHARE = 0.8  # of what a regulator is set to, for sizing (UPC 608, read)
UPC_PA, USUAL_PA, GRACE_PA = 15.0 * PSI_PA, 8.0 * PSI_PA, 0.05 * PSI_PA
NEWER = {"irc": 2012, "ipc": 2009}  # the first editions with the higher pressures


class Short(NamedTuple):
    """An outlet that is short at peak: what is left there, and the least it is asked for, Pa."""

    part: str
    left: Left
    least_pa: float

    @property
    def by_pa(self) -> float:
        """How much is lacking."""
        return self.least_pa - self.left.pa


class Shorts(NamedTuple):
    """The outlets that are short, and the first fact that is missing to tell of another, or why there is no answer."""

    outlets: tuple[Short, ...]
    estimate: str = ""
    missing: Missing | None = None
    why: str = ""


def shorts(flow: Flow, loads: Loads) -> Shorts:
    """Every outlet that is short at peak, by the mildest row it may belong to: however it is made, it is short."""
    found: list[Short] = []
    missing, why, estimates = None, "", []
    share = peak_share(flow)
    for part, row, rate_m3s in _asked_of(flow):
        fixture = flow.house.fixtures[part.id]
        left = flow.at_peak(fixture, rate_m3s, loads, share)
        if left.missing is not None or left.why:
            missing, why = missing or left.missing, why or left.why
            continue
        least = row_pa(flow, row)
        if left.pa < least - GRACE_PA:
            found.append(Short(part.id, left, least))
        else:
            estimates.append(flow.estimates(left.edges, left.side))
    words = dict.fromkeys(word for one in estimates for word in one.split(", ") if word)
    return Shorts(tuple(found), ", ".join(words), missing, why)


def peak_share(flow: Flow) -> float:
    """How much of what a regulator is set to counts at peak."""
    return UPC_SHARE if flow.facts.family == "upc" else 1.0


def _asked_of(flow: Flow) -> Iterator[tuple[Part, str, float]]:
    """Each outlet that water reaches, its mildest row, and the flow it is reckoned with."""
    for fixture in flow.house.fixtures.values():
        part = flow.facts.plan.parts[fixture.part]
        if not fixture.sides or not all(map(flow.is_fed, fixture.sides.values())):
            continue
        if part.is_ == "clothes washer":
            yield part, "", WASHER_M3S
        elif rows := rows_of(part):
            yield part, rows[0], drawn(part, rows[0], ROWS[rows[0]].flow_m3s)


def row_pa(flow: Flow, row: str) -> float:
    """The least pressure of a row for the family and edition of the plan; of no row 8 psi."""
    family, edition = flow.facts.family, flow.facts.edition
    if family == "upc":
        return UPC_PA
    if row not in ROWS:
        return USUAL_PA
    found = ROWS[row]
    older = found.older_pa is not None and edition is not None and edition < NEWER.get(family or "", 0)
    return found.older_pa if older and found.older_pa is not None else found.pressure_pa
