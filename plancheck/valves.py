"""How the plan describes a valve by the name the graph gives it, and the exact keys that say it."""

from typing import NamedTuple

from plancheck.building.refs import side_supply
from plancheck.limits import NotShown
from plancheck.model import NONE, NOT_KNOWN, FixtureOwn, ManifoldOwn, Part, Path, Plan, Port, Reach, Supply, ValveOwn

STOP = "stop"
FULL_WAY = ("ball", "gate")
MAYBE_FULL_WAY = ("plug", "butterfly")


class Described(NamedTuple):
    """One valve. style: as the plan says it, `stop` for a stop at an outlet; reach: open, panel, none, or None for not
    said or not known; label: only of a port; the paths are the keys that say (or would say) each; new: new work."""

    style: str | None
    style_path: Path
    reach: str | None
    reach_path: Path
    label: str | None
    label_path: Path
    is_port: bool
    new: bool


def described(plan: Plan, name: str) -> Described:
    """What the plan says of the valve: a valve part, a port's valve (`manifold/port`) or a stop (`part/side`)."""
    id_, _, end = name.partition("/")
    part = plan.parts[id_]
    port = port_of(part, end)
    path: Path = ("parts", id_, "ports", end) if port is not None else ("parts", id_)
    new = part.work not in ("existing", "removed")
    if port is not None:
        reach = _reach(port.reach) or _reach(part.reach)
        return Described(
            _said(port.valve), (*path, "valve"), reach, (*path, "reach"), _said(port.label), (*path, "label"), True, new
        )
    if isinstance(part.own, ValveOwn):
        reach, key = _reach(part.reach), "reach"
        if part.hidden is True and reach is None:
            reach, key = NONE, "hidden"
        label = _said(part.label)
        return Described(
            _said(part.own.style), (*path, "style"), reach, (*path, key), label, (*path, "label"), False, new
        )
    supply, key = side_supply(part, end), supply_key(part, end)
    reach = _reach(supply.reach) if supply is not None else None
    return Described(STOP, (*path, key, "stop"), reach, (*path, key, "reach"), None, (*path, "label"), False, new)


def port_of(part: Part, id_: str) -> Port | None:
    """The port of that name, or None where the part is no manifold or has none."""
    return part.own.ports.get(id_) if isinstance(part.own, ManifoldOwn) else None


def supply_key(part: Part, side: str) -> str:
    """The key of a fixture that speaks for one side's stub, stop and connector: the side's own, or `supply`."""
    own = part.own
    if isinstance(own, FixtureOwn) and isinstance(own.hot if side == "hot" else own.cold, Supply):
        return side
    return "supply"


def stop_missing(plan: Plan, name: str) -> Path | None:
    """The key that would tell whether the outlet side has a stop; None where the plan says, or where no key can."""
    id_, _, side = name.partition("/")
    part = plan.parts[id_]
    if not isinstance(part.own, FixtureOwn) or part.is_ == "hose outlet":
        return None
    supply = side_supply(part, side)
    said = supply.stop if supply is not None else (NONE if part.own.supply == NONE else None)
    if _said(said) is not None:
        return None
    if part.onto is not None and isinstance(plan.parts[part.onto.part].own, FixtureOwn):
        return stop_missing(plan, str(part.onto)) or ("parts", id_, supply_key(part, side), "stop")
    return ("parts", id_, supply_key(part, side), "stop")


def _said(value: str | None) -> str | None:
    return None if value == NOT_KNOWN else value


def _reach(value: Reach | str | None) -> str | None:
    return value.kind if isinstance(value, Reach) else _said(value)


class Fault(NamedTuple):
    """What is wrong with a valve, in the words of a finding; at: the key that shows it."""

    says: str
    found: str
    needed: str
    mend: str
    at: Path


def full_way_fault(valve: Described, what: str) -> Fault | None:
    """What the plan shows to be wrong with a valve that has to be full-way and in reach: `what` (its name), or None.

    An old valve's way is for a person to look at; where it is shut in counts whatever its age.
    """
    if valve.reach == NONE:
        return shut_in(valve, what)
    if valve.style in (*FULL_WAY, *MAYBE_FULL_WAY, None) or not valve.new:
        return None
    return Fault(
        f"{what} is a {valve.style} valve, which is not full-way.",
        f"a {valve.style} valve",
        "a full-way valve (ball or gate)",
        "Use a full-port ball valve.",
        valve.style_path,
    )


def shut_in(valve: Described, what: str) -> Fault:
    """A valve nobody gets at."""
    return Fault(
        f"{what} cannot be reached.",
        "closed in",
        "open, or behind a panel",
        "Open the place up, or move the valve where a hand gets at it in an emergency.",
        valve.reach_path,
    )


def full_way_doubt(valve: Described, what: str) -> str | None:
    """What only a person on site can tell of a full-way valve, or None. Raises NotShown for what the plan could say."""
    if valve.reach is None:
        raise NotShown(valve.reach_path, f"how one gets at {what}")
    if not valve.new and valve.style != "ball":
        return f"{what} is existing work: whether it opens full-way and still closes"
    if valve.style is None:
        raise NotShown(valve.style_path, f"what kind of valve {what} is")
    if valve.style in MAYBE_FULL_WAY:
        return f"{what} is a {valve.style} valve: whether its bore is that of the pipe"
    return None
