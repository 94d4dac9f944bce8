"""What the plan leaves open about where a part stands: bodies without a length, rows without a direction, estimates."""

from plancheck.kinds import KINDS
from plancheck.measures import Length
from plancheck.model import ManifoldOwn, Part, Plan, Run
from plancheck.record import NamedTuple

SIDES_M = 4 * 0.0254  # hot and cold of a lavatory, sink or heater stand 8 in apart at one point: so much is granted
BODY_M = 8 * 0.0254  # a valve, tee or regulator made up directly to another, and the plan says no length
CONNECTOR_M = 6 * 0.3048  # a dishwasher hangs on the stop of a sink by its connector
RETURN_M = 6 * 0.3048  # a return joins a heater anywhere down to its drain
PORT_M = 6 * 0.0254  # from one port to the next where no spacing is said


class Trust(NamedTuple):
    """How far a position holds: open_m it may be off in good order; row: the manifold whose row is not said; about: an
    estimate it rests on, in words."""

    open_m: float = 0.0
    row: str = ""
    about: str = ""


SURE = Trust()
_MADE_UP, _CONNECTED, _RETURN = Trust(BODY_M), Trust(CONNECTOR_M), Trust(RETURN_M)
SPREAD = frozenset(
    (
        "lavatory",
        "kitchen sink",
        "bar sink",
        "laundry tray",
        "bidet",
        "clothes washer",
        "rest of house",
        "water heater",
    )
)


def join(one: Trust, other: Trust) -> Trust:
    """What rests on both."""
    if one is SURE:
        return other
    if other is SURE:
        return one
    return Trust(one.open_m + other.open_m, one.row or other.row, one.about or other.about)


def leaving(part: Part, connection: str) -> Trust:
    """What is left open between where a part stands and the connection one walks on from, or arrives at."""
    own = part.own
    if isinstance(own, ManifoldOwn):
        if own.row is not None or len(own.ports) < 2:
            return SURE
        return Trust(_body_m(own), part.id)
    if connection == "return":
        return _RETURN
    return SURE


def made_up(part: Part, other: Part) -> Trust:
    """What is left open between two parts made up directly to each other."""
    fixtures = KINDS[part.is_].sort == "fixture" and KINDS[other.is_].sort == "fixture"
    return _CONNECTED if fixtures else _MADE_UP


def _body_m(own: ManifoldOwn) -> float:
    """How long a manifold is from its first port to its last."""
    total = 0.0
    for port in list(own.ports.values())[:-1]:
        step = port.next if isinstance(port.next, Length) else own.spacing
        total += step.m if isinstance(step, Length) else PORT_M
    return total


def along(run: Run, about: bool) -> Trust:
    """What a path or a rise leaves open: nothing, unless it is an estimate."""
    if not about:
        return SURE
    said = run.rise.text if not run.path and isinstance(run.rise, Length) else f"the path of {run.id}"
    return Trust(0.0, "", said)


def standing(part: Part, plan: Plan) -> Trust:
    """What the said position or height of a part leaves open."""
    place = plan.places.get(part.place) if part.place is not None else None
    said = (part.height, place.level if place is not None else None)
    return Trust(0.0, "", f"the height of {part.id}") if any(isinstance(o, Length) and o.about for o in said) else SURE
