"""Hot on the left

Looks at: at each basin, sink, tray, shower, tub and bidet with both waters, which one is on the left as one stands before it. A
    washer box where the plan says it. Which pipe carries what is traced elsewhere.
Why: everybody turns the right handle for cold. Who cannot see well, or is a child, is scalded by the other way round.
To mend: swap the two connectors at the stops; in the wall swap at the valve before it is closed.
Cannot see: faucets whose own marks are the other way round.
Ask: a shower valve listed to ASSE 1016 may be made for it where its marks say so.
"""

from collections.abc import Iterator

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    NOT_KNOWN,
    PRACTICE,
    Facts,
    FixtureOwn,
    Limit,
    Limits,
    Mixer,
    NotShown,
    Outcome,
    Part,
    Path,
    Rule,
    Subject,
    Value,
    broken,
    capital,
    holds,
    is_new,
    on_site,
    printed,
)

_TEXT = "hot on the left"
LEFT = Limit("left", "which side is hot as one stands before it", "text", "",
             irc=(Value(_TEXT, printed("IRC", "", "P2722.2, its number from memory")),),
             ipc=(Value(_TEXT, printed("IPC", "", "607.4, its number from memory")),),
             upc=(Value(_TEXT, printed("UPC", "", "601.3 of an older edition")),),
             practice=(Value(_TEXT, printed("IRC, IPC and UPC", "", "P2722.2, 607.4, 601.3"), practice=True),))  # fmt: skip
BOX = Limit("box", "which side is hot in a washer box", "text", "",
            practice=(Value("hot on the left", PRACTICE, practice=True),))  # fmt: skip
RULE = Rule(highest="correction", stage="rough-in", limits=(LEFT, BOX))

_IN_WALL = ("shower", "bathtub", "tub and shower")
_ASKED = (*_IN_WALL, "lavatory", "kitchen sink", "bar sink", "laundry tray", "bidet")


class Asked(NamedTuple):
    """A fixture, and whether any pipe of the plan is mirrored."""

    part: Part
    mirrored: bool


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each fixture with hot and cold water; in the wall from rough-in on, else when the house is finished."""
    graph, services = facts.network, facts.traced.services
    mirrored = any(run.mirrored is not None for run in facts.plan.runs.values())
    for part in facts.plan.parts.values():
        own = part.own
        if part.work == "removed" or not isinstance(own, FixtureOwn):
            continue
        if part.is_ not in _ASKED and (part.is_ != "clothes washer" or own.left is None):
            continue
        if all(graph.outlets[f"{part.id}/{side}"] in services for side in ("cold", "hot")):
            stage = "rough-in" if part.is_ in _IN_WALL else "finished"
            name = f"left side of {facts.part_name(part.id)}"
            yield Subject(("parts", part.id, "left"), name, part.place, Asked(part, mirrored), stage)


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether hot is on the left."""
    part, mirrored = subject.thing
    own = part.own
    assert isinstance(own, FixtureOwn)
    if own.left is None or own.left == NOT_KNOWN:
        raise NotShown(subject.path, "which side is on the left (left: hot)")
    if own.left == "hot":
        copied = mirrored and _copied(part, facts)
        return holds("said for its kind, and its pipe is mirrored: check on site" if copied else "")
    if not is_new(part):
        return on_site("existing: cold is on the left")
    if _may_be_marked(own):
        return on_site("cold on the left of a valve to ASSE 1016: it may be where its marks say so")
    name, wall = facts.part_name(part.id), part.is_ in _IN_WALL
    return broken(
        f"{capital(name)}: cold is on the left.",
        "correction" if part.is_ != "clothes washer" else "advice",
        limit=limits.of(LEFT if part.is_ != "clothes washer" else BOX),
        found="cold on the left",
        needed=_TEXT,
        mend="Swap the two at the valve before the wall is closed."
        if wall
        else "Swap the two connectors at the stops.",
        cause=_crossed(part, facts),
    )


def _may_be_marked(own: FixtureOwn) -> bool:
    from plancheck.standards import numbers_in

    mixer = own.mixer
    return isinstance(mixer, Mixer) and mixer.standard is not None and "1016" in numbers_in(mixer.standard)


def _copied(part: Part, facts: Facts) -> bool:
    """Whether `left` is said for the whole kind and a pipe of the fixture is mirrored."""
    from plancheck.joined import joined_runs

    if facts.note_of_key(("parts", part.id, "left")) != "from defaults":
        return False
    return any(facts.plan.runs[run].mirrored is not None for run in joined_runs(facts, part.id))


def _crossed(part: Part, facts: Facts) -> Path | None:
    """Where it is told that both sides of the fixture are crossed, if they are."""
    from plancheck.sides import all_sides, wrong_groups

    for group in wrong_groups(facts, all_sides(facts)):
        if {side.side for side in group.sides if side.part.id == part.id} == {"cold", "hot"}:
            return group.root
    return None
