"""The right device between drinking water and anything that is not

Looks at: each end that serves irrigation, a boiler, a pool, sprinklers or a chemical feeder: whether a backflow device stands on
    its only way, behind the last branch to a fixture, and of which kind. Backflow preventers that say what they serve. The
    fill valves of toilets that say what they are listed to.
Why: fertiliser, boiler water and pool water come back into the kitchen when the street loses pressure, or when a pump pushes.
    Nobody sees it, and people fall ill.
To mend: the device its hazard asks for: a vacuum breaker above the highest head for plain irrigation, a vented double check
    for a plain boiler, a reduced-pressure device or an air gap for anything with chemicals in it.
Cannot see: what nobody wrote down: a sprayer on a hose, a feeder somebody adds later. The yearly test of a device.
Ask: the authority which device it takes for irrigation: some take a double check, most do not.
"""

from collections.abc import Iterator

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    INCH_M,
    NONE,
    NOT_KNOWN,
    Facts,
    FixtureOwn,
    InForce,
    Limit,
    Limits,
    NotShown,
    Outcome,
    Part,
    Rule,
    Subject,
    Value,
    broken,
    capital,
    holds,
    is_new,
    on_site,
    printed,
    recalled,
)

_TEXT = "the device of the table for its hazard"
DEVICE = Limit("device", "between drinking water and other uses", "text", "",
               irc=(Value(_TEXT, printed("IRC", "", "Table P2902.3, a state's copy of 2014")),),
               ipc=(Value(_TEXT, recalled("IPC", "", "608.17")),), upc=(Value(_TEXT, recalled("UPC", "", "603.5")),),
               practice=(Value(_TEXT, printed("IRC", "", "Table P2902.3, a state's copy of 2014"), practice=True),))  # fmt: skip
FILL = Limit("fill", "fill valve of a toilet", "text", "",
             irc=(Value("listed to ASSE 1002", printed("IRC", "", "Table P2902.3, a state's copy of 2014")),),
             ipc=(Value("listed to ASSE 1002", recalled("IPC", "", "425.3.1")),),
             upc=(Value("listed to ASSE 1002", recalled("UPC", "", "603.5")),),
             practice=(Value("listed to ASSE 1002", printed("IRC", "", "Table P2902.3, a state's copy of 2014"), practice=True),))  # fmt: skip
RULE = Rule(highest="hazard", stage="layout", limits=(DEVICE, FILL))

_GAP = "air gap"
_ALLOWED = {
    "irrigation": ("1001", "1020", "1056", "1013"),
    "boiler": ("1012", "1013", _GAP),
    "boiler with additives": ("1013", _GAP),
    "pool": ("1013", _GAP),
    "fire sprinklers": ("1015", "1013"),
    "chemical feeder": ("1013", _GAP),
}
_HIGH = ("boiler with additives", "pool", "chemical feeder")
_MENDS = {
    "irrigation": "Fit a pressure vacuum breaker (ASSE 1020) above the highest head as its listing asks, or a reduced-pressure "
    "device (ASSE 1013): ask the authority which.",
    "boiler": "Fit a vented double check (ASSE 1012) on the fill line, or a reduced-pressure device (ASSE 1013).",
    "fire sprinklers": "Fit a double check assembly (ASSE 1015), or loop house pipe with the cold.",
}
_ONE = ("boiler", "boiler with additives", "pool", "chemical feeder")
_STRONG = "Fit a reduced-pressure device (ASSE 1013), or leave an air gap."
_TESTER = "A licensed tester proves a device when it is set, and each year as the authority says."


class Use(NamedTuple):
    """Something that is no drinking water: the part that serves it, what it is, its device, and what else hangs on that."""

    part: Part
    serves: str
    device: Part | None
    shared: tuple[str, ...]
    valve: str


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each part that serves another use; each backflow preventer with none of these behind it; each fill valve said."""
    guarded = set()
    preventers = [p for p in facts.plan.parts.values() if p.is_ == "backflow preventer" and p.work != "removed"]
    for part in facts.plan.parts.values():
        serves = getattr(part.own, "serves", None)
        if part.work == "removed" or part.is_ == "backflow preventer" or serves in (None, NONE):
            continue
        use = _use(facts, part, serves, preventers)
        if use.device is not None:
            guarded.add(use.device.id)
        name = f"device before {facts.part_name(part.id)}"
        yield Subject(("parts", part.id, "serves"), name, part.place, use)
    for part in preventers:
        if part.id not in guarded:
            serves = getattr(part.own, "serves", None)
            thing = part if serves in (None, NONE) else Use(part, serves, part, (), _valve_behind(facts, part))
            yield Subject(("parts", part.id, "standard"), f"what {facts.part_name(part.id)} is for", part.place, thing)
    for part in facts.plan.parts.values():
        fill = part.own.fill if isinstance(part.own, FixtureOwn) and part.work != "removed" else None
        if fill is not None:
            yield Subject(("parts", part.id, "fill"), f"fill valve of {facts.part_name(part.id)}", part.place, fill)


def _use(facts: Facts, part: Part, serves: str, preventers: list[Part]) -> Use:
    """The nearest device that all water to a part passes, and the fixtures that hang behind it too."""
    graph, zones = facts.network, facts.zones
    ends = [v for name in ("in", "cold", "hot") if (v := graph.number.get(f"{part.id}/{name}")) is not None]
    found = [p for p in preventers if any(v in zones.entered and zones.shuts(graph.number[p.id], v) for v in ends)]
    if not found:
        return Use(part, serves, None, (), "")
    device = max(found, key=lambda one: zones.entered.get(graph.number[one.id], 0))
    inside = graph.number[device.id]
    shared = tuple(
        side
        for side, tap in graph.outlets.items()
        if side.partition("/")[0] != part.id and tap in zones.entered and zones.shuts(inside, tap)
    )
    return Use(part, serves, device, shared, _valve_behind(facts, device))


def _valve_behind(facts: Facts, device: Part) -> str:
    """A valve behind a device, by name; empty where none is drawn."""
    graph, zones = facts.network, facts.zones
    inside = graph.number[device.id]
    behind = (name for name, v in graph.valves.items() if v != inside and v in zones.entered and zones.shuts(inside, v))
    return next(behind, "")


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether the device between is there, of the right kind, and rightly placed."""
    thing = subject.thing
    if isinstance(thing, str):
        return _fill(subject, thing, facts, limits)
    if isinstance(thing, Part):
        return _house(thing, facts)
    return _judged(thing, facts, limits)


def _house(device: Part, facts: Facts) -> Outcome:
    """A preventer of which nothing says what it serves."""
    graph, zones = facts.network, facts.zones
    inside = graph.number[device.id]
    if any(tap in zones.entered and zones.shuts(inside, tap) for tap in graph.outlets.values()):
        return holds("it keeps the house from the street; nothing but fixtures is drawn behind it")
    raise NotShown(("parts", device.id, "serves"), "what it is there for (serves: irrigation, boiler, pool ...)")


def _judged(use: Use, facts: Facts, limits: Limits) -> Outcome:
    if use.serves == NOT_KNOWN:
        raise NotShown(("parts", use.part.id, "serves"), "what hangs on it")
    if use.device is None:
        if use.serves == "fire sprinklers":
            return on_site(
                "none is needed where house pipe, looped with the cold, feeds them and nothing is added to the water"
            )
        return _wrong(use, "no backflow device", "none", facts, limits.of(DEVICE))
    if use.shared:
        names = ", ".join(use.shared[:3])
        says = f"its device, {use.device.id}, stands before the branch to {names}"
        mend = f"Take {names} off ahead of {use.device.id}, so that nothing but {use.serves} is behind it."
        return _wrong(use, says, f"fixtures behind {use.device.id}", facts, limits.of(DEVICE), mend)
    return _kind(use, use.device, facts, limits)


def _kind(use: Use, device: Part, facts: Facts, limits: Limits) -> Outcome:
    from plancheck.standards import numbers_in

    standard = getattr(device.own, "standard", None)
    if standard is None or standard == NOT_KNOWN:
        raise NotShown(("parts", device.id, "standard"), "what the backflow device is listed to")
    numbers = numbers_in(standard) | ({_GAP} if _GAP in standard.lower() or "a112.1.2" in standard.lower() else set())
    if not numbers and standard != NONE:
        return on_site(f"'{standard}' is no device known here: see what it is listed to")
    if numbers.isdisjoint(_ALLOWED[use.serves]):
        return _wrong(use, f"only a device listed to {standard}", standard, facts, limits.of(DEVICE))
    if numbers == {"1001"} and use.valve:
        says = f"an atmospheric breaker (ASSE 1001), and {use.valve} can shut behind it"
        mend = f"Put {use.valve} ahead of {device.id}, or in its place a pressure vacuum breaker (ASSE 1020), as its listing asks."
        return _wrong(use, says, f"{use.valve} behind it", facts, limits.of(DEVICE), mend)
    return holds(f"{standard} for {use.serves}; tested once a year")


def _wrong(use: Use, says: str, found: str, facts: Facts, limit: InForce, mend: str = "") -> Outcome:
    high = use.serves in _HIGH
    new = is_new(use.part) or (use.device is not None and is_new(use.device))
    if not new and not high:
        return on_site(f"existing {facts.part_name(use.part.id)} serves {use.serves}: {says}")
    name = facts.part_name(use.part.id)
    return broken(
        f"{capital(name)} serves {'a ' if use.serves in _ONE else ''}{use.serves}: {says}.",
        "hazard" if high else "correction",
        limit=limit,
        found=found,
        needed=", ".join(one if one == _GAP else f"ASSE {one}" for one in _ALLOWED[use.serves]),
        mend=mend or _MENDS.get(use.serves, _STRONG),
        caution=_TESTER,
    )


def _fill(subject: Subject, fill: str, facts: Facts, limits: Limits) -> Outcome:
    from plancheck.standards import numbers_in

    if fill == NOT_KNOWN:
        raise NotShown(subject.path, "what the fill valve is listed to")
    if "1002" in numbers_in(fill):
        return holds(f"listed to {fill}")
    part = facts.plan.parts[str(subject.path[1])]
    if fill != NONE or not is_new(part):
        return on_site("see whether the fill valve is listed to ASSE 1002, its vent an inch above the overflow")
    name = facts.part_name(part.id)
    return broken(
        f"{capital(name)}: its fill valve has no vacuum breaker.",
        "correction",
        limit=limits.of(FILL),
        found="none",
        needed="listed to ASSE 1002",
        why="When the street runs dry, a plain valve under water draws the tank back into the house.",
        mend=f"Fit a fill valve listed to ASSE 1002, its vent {facts.length(INCH_M)} above the overflow pipe.",
    )
