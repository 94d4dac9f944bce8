"""How the plan describes a valve by the name the graph gives it, the exact keys that say it, and what is wrong with it."""

from collections.abc import Callable, Iterable

from plancheck.answers import broken
from plancheck.building.refs import side_supply
from plancheck.limits import InForce, NotShown
from plancheck.model import NONE, NOT_KNOWN, FixtureOwn, ManifoldOwn, Part, Path, Plan, Port, Reach, Supply, ValveOwn
from plancheck.outcomes import HOLDS, ON_SITE, Outcome
from plancheck.record import NamedTuple

STOP = "stop"
FULL_WAY = ("ball", "gate")
MAYBE_FULL_WAY = ("plug", "butterfly")
SHOWN = 6  # names in one sentence


class Described(NamedTuple):
    """One valve. style: as the plan says it, `stop` for a stop at an outlet; reach: open, panel, none, or None for not
    said or not known; label: only of a port; path, style_key, reach_key: where it stands and the keys that say (or would
    say) each; is_port: it is a manifold's; new: new work."""

    style: str | None
    reach: str | None
    label: str | None
    path: Path
    style_key: tuple[str, ...]
    reach_key: tuple[str, ...]
    is_port: bool
    new: bool

    @property
    def style_path(self) -> Path:
        """The key that says what kind of valve it is."""
        return (*self.path, *self.style_key)

    @property
    def reach_path(self) -> Path:
        """The key that says how one gets at it."""
        return (*self.path, *self.reach_key)

    @property
    def label_path(self) -> Path:
        """The key that says what is written on it."""
        return (*self.path, "label")


def described(plan: Plan, name: str) -> Described:
    """What the plan says of the valve: a valve part, a port's valve (`manifold/port`), a stop (`part/side`), or the
    second outlet of a dual stop (`part/side:second`)."""
    id_, _, end = name.partition("/")
    part, own = plan.parts[id_], plan.parts[id_].own
    new = part.work not in ("existing", "removed")
    if isinstance(own, ManifoldOwn) and end in own.ports:
        port, path = own.ports[end], ("parts", id_, "ports", end)
        reach = reach_word(port.reach) or reach_word(part.reach)
        return Described(_said(port.valve), reach, _said(port.label), path, ("valve",), ("reach",), True, new)
    if isinstance(own, ValveOwn):
        reach, key = reach_word(part.reach), "reach"
        if part.hidden is True and reach is None:
            reach, key = NONE, "hidden"
        return Described(_said(own.style), reach, _said(part.label), ("parts", id_), ("style",), (key,), False, new)
    side = end.partition(":")[0]
    supply, key = side_supply(part, side), supply_key(part, side)
    reach = reach_word(supply.reach) if supply is not None else None
    return Described(STOP, reach, None, ("parts", id_), (key, "stop"), (key, "reach"), False, new)


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


def reach_word(value: Reach | str | None) -> str | None:
    """How one gets at a thing (open, panel, none), or None where it is not said or not known."""
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

    Where it is shut in counts whatever its age.
    """
    return shut_in(valve, what) if valve.reach == NONE else narrow_way(valve, what)


def narrow_way(valve: Described, what: str) -> Fault | None:
    """A new valve that is not full-way, or None. An old valve's way is for a person to look at."""
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


def faulty(fault: Fault, limit: InForce | None, severity: str) -> Outcome:
    """The fault of a valve as a broken outcome."""
    return broken(
        fault.says, severity, limit=limit, found=fault.found, needed=fault.needed, mend=fault.mend, at=fault.at
    )


def unlabelled(name: str, valve: Described, limit: InForce | None, severity: str) -> Outcome | None:
    """A port's valve counts only with its name on it. Raises NotShown where the plan does not say."""
    if not valve.is_port or valve.label not in (None, NONE):
        return None
    if valve.label is None:
        raise NotShown(valve.label_path, "the label of the port valve that shuts it alone")
    return broken(
        f"{name} would shut it alone but has no label.",
        severity,
        limit=limit,
        found=f"{name} without a label",
        needed="a valve of its own; one at the manifold marked with what it serves",
        mend=f"Mark {name} with the name of what it shuts.",
        at=valve.label_path,
    )


def first_sound(names: Iterable[str], judge: Callable[[str], Outcome]) -> Outcome | None:
    """The answer for the first valve that will do; else what is missing, a look on site, the first fault; None of none."""
    missing: NotShown | None = None
    answers: list[Outcome] = []
    for name in names:
        try:
            answer = judge(name)
        except NotShown as one:
            missing = missing or one
            continue
        if answer.kind == HOLDS:
            return answer
        answers.append(answer)
    if missing is not None:
        raise missing
    return min(answers, key=lambda one: one.kind != ON_SITE, default=None)


def next_behind(name: str, valves: tuple[str, ...]) -> str:
    """The valve behind the one named, of those nearest first, in words: for the day that one does not close."""
    place = valves.index(name) + 1
    return f"next {valves[place]}" if place < len(valves) else "no other behind it"


def listed(names: Iterable[str]) -> str:
    """The first few of the names, and how many more there are."""
    shown = list(names)
    more = f" and {len(shown) - SHOWN} more" if len(shown) > SHOWN else ""
    return ", ".join(shown[:SHOWN]) + more
