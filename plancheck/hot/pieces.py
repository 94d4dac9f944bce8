"""Pieces of hot pipe: length and bore of a run or of one step of a manifold's row, with what is not known of them.

Metres. What the plan does not say is carried as a least and a most, so that it may be judged where it does not matter.
"""

import math

from plancheck.facts import Facts
from plancheck.measures import Length, Size
from plancheck.measures.units import INCH_M
from plancheck.model import ManifoldOwn, Path, Port, Run, Tube
from plancheck.record import NamedTuple
from plancheck.tubedata import tube_bore_m, tube_outside_m

_STEP_MOST_M = 0.3  # between neighbours of a manifold that does not say its spacing
_ROW_BORE_MOST_M = 0.05
_BORE_BY_NAME = (0.6, 1.0, 1.25)  # of a tube known by its name in inches alone: least, middle, most
_BORE_OF_CONNECTOR = (0.75, 1.0, 1.0)  # common practice: its name is about its bore
_BORE_BY_OUTSIDE = (0.5, 0.75, 1.0)


class Bore(NamedTuple):
    """A bore in metres as it is taken, as small and as large as it may be; missing: the key that would tell it."""

    m: float
    least_m: float
    most_m: float
    missing: Path | None = None


class Piece(NamedTuple):
    """One run, or one step of a manifold's row, on the way. more_m: how much longer it may be than length_m."""

    run: str | None
    tube: str | None
    length_m: float
    more_m: float
    bore: Bore
    missing: Path | None = None
    about: str = ""

    @property
    def volume_m3(self) -> float:
        """What it holds, as taken."""
        return math.pi / 4 * self.bore.m**2 * self.length_m


def of_run(facts: Facts, run: Run) -> Piece:
    """A run as a piece of pipe."""
    tube = facts.plan.tubes.get(run.tube or "")
    bore = bore_of(tube)
    if isinstance(run.length, Length):
        return Piece(run.id, run.tube, run.length.m, 0.0, bore, None, run.length.text if run.length.about else "")
    shape = facts.geometry.shapes.get(run.id)
    if shape is not None:
        return Piece(run.id, run.tube, shape.length_m, 0.0, bore, None, f"the path of {run.id}" if shape.about else "")
    least_m = abs(run.rise.m) if isinstance(run.rise, Length) else 0.0
    return Piece(run.id, run.tube, least_m, math.inf, bore, ("runs", run.id, "length"))


def of_row(facts: Facts, id_: str, own: ManifoldOwn, one: str, two: str) -> Piece:
    """One step of a manifold's row; the step from the last port of a ring to its first counts as the last one's."""
    names = list(own.ports)
    low, high = sorted((names.index(one), names.index(two)))
    before: Port = own.ports[names[high if high - low > 1 else low]]
    step = before.next if isinstance(before.next, Length) else own.spacing
    bore = _row_bore(facts, id_, own)
    if isinstance(step, Length):
        return Piece(None, own.tube, step.m, 0.0, bore, None, step.text if step.about else "")
    return Piece(None, own.tube, 0.0, _STEP_MOST_M, bore, ("parts", id_, "spacing"))


def _row_bore(facts: Facts, id_: str, own: ManifoldOwn) -> Bore:
    if isinstance(own.bore, Length):
        return Bore(own.bore.m, own.bore.m, own.bore.m)
    if own.tube is not None:
        return bore_of(facts.plan.tubes.get(own.tube))
    return Bore(0.0, 0.0, _ROW_BORE_MOST_M, ("parts", id_, "bore"))


def bore_of(tube: Tube | None) -> Bore:
    """The bore of a tube; by its name or outside diameter, with a least and a most, where no table or wall tells it."""
    if tube is None:
        return Bore(0.0, 0.0, math.inf, ("tubes",))
    known_m = tube_bore_m(tube)
    if known_m is not None:
        return Bore(known_m, known_m, known_m)
    missing: Path = ("tubes", tube.id, "type" if tube.material == "copper" else "wall")
    outside_m = tube_outside_m(tube)
    if outside_m is not None:
        least, middle, most = (share * outside_m for share in _BORE_BY_OUTSIDE)
        return Bore(middle, least, most, missing)
    if isinstance(tube.size, Size) and not tube.size.metric:
        shares = _BORE_OF_CONNECTOR if tube.form == "connector" else _BORE_BY_NAME
        least, middle, most = (share * tube.size.rank * INCH_M for share in shares)
        return Bore(middle, least, most, missing)
    return Bore(0.0, 0.0, math.inf, ("tubes", tube.id, "size") if tube.size is None else missing)
