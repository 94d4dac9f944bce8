"""Every fixture has the sides it needs, each carrying the right water

Looks at: each side of each fixture and the water traced to it: cold must trace to the source, hot to a heater or a mixing
    valve. A toilet, urinal or ice maker takes cold, a dishwasher hot (cold-fed ones are for its maker's sheet). Sides that
    nothing is joined to; hot sides said to be left out. The two sides of each heater and of each mixing valve in the line.
    Fixtures on one crossed circuit are told once, at the joint where it goes wrong.
Why: whoever turns the cold handle of a shower and gets hot is scalded before he knows what is wrong. A heater piped the
    wrong way round draws its hot from the bottom and fills at the top. Water that is not for drinking makes people ill.
To mend: swap the two where they are crossed, mostly at the manifold, and the labels with them; run the side that is missing.
Cannot see: hoses swapped at a faucet, a failed mixing cartridge, fixtures behind old pipe that nobody drew.
Ask: the maker of a dishwasher or washer about a cold feed only; the authority before any water that is not for drinking
    comes into a house.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    PRACTICE,
    TUBS_AND_SHOWERS,
    Facts,
    HeaterOwn,
    Limit,
    Limits,
    MixingOwn,
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
    recalled,
)

if TYPE_CHECKING:
    from plancheck.sides import Side

_TEXT = "hot and cold water where people wash, bathe, cook and do laundry"
NEEDED = Limit(
    "needed",
    "water a fixture in a dwelling needs",
    "text",
    "",
    irc=(Value(_TEXT, recalled("IRC", "", "P2901.1 and R306.4")),),
    ipc=(Value(_TEXT, recalled("IPC", "", "607.1")),),
    upc=(Value(_TEXT, printed("UPC", "2012", "601.1")),),
    practice=(Value(_TEXT, PRACTICE, practice=True),),
)
SCALD = Limit(
    "scald",
    "hot water on the side people take for cold",
    "temperature",
    "at most",
    practice=(Value((120 - 32) / 1.8, printed("IRC, IPC and UPC", "", "P2708.4, 412.3, 408.3")),),
)
RULE = Rule(highest="hazard", stage="layout", limits=(NEEDED, SCALD))

_HOT_WANTED = TUBS_AND_SHOWERS | {"lavatory", "kitchen sink", "laundry tray", "dishwasher"}
_ADVICE = ("bar sink", "clothes washer")  # a cold side alone is enough for some


class Sides(NamedTuple):
    """A heater or a mixing valve whose two sides are judged."""

    part: Part


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each place where sides go wrong, each other side of a fixture, each heater and mixing valve, each rest of house."""
    from plancheck.sides import all_sides, wrong_groups

    sides = all_sides(facts)
    groups = wrong_groups(facts, sides)
    told = {side.name for group in groups for side in group.sides}
    for group in groups:
        names = " and ".join(dict.fromkeys(facts.part_name(side.part.id) for side in group.sides))
        yield Subject(group.root, f"water of {names}", group.sides[0].part.place, group)
    for side in sides:
        if side.name not in told:
            name = f"{side.side} side of {facts.part_name(side.part.id)}"
            thing = None if side.fed and side.water == side.side else side
            yield Subject(("parts", side.part.id, side.side), name, side.part.place, thing)
    for part in facts.plan.parts.values():
        if part.work == "removed":
            continue
        if isinstance(part.own, HeaterOwn | MixingOwn):
            yield Subject(("parts", part.id), f"sides of {facts.part_name(part.id)}", part.place, Sides(part))
        elif part.is_ == "rest of house":
            yield Subject(("parts", part.id, "fixtures"), f"fixtures in {facts.part_name(part.id)}", part.place, "rest")


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether the sides have water, and the right one."""
    if subject.thing is None:
        return holds("it carries what it should")
    from plancheck.sidecalls import judge_group, judge_heater, judge_mixing
    from plancheck.sides import Group, Side

    thing = subject.thing
    if isinstance(thing, Group):
        return judge_group(thing, facts, limits.of(SCALD))
    if isinstance(thing, Side):
        return _side(thing, facts, limits)
    if isinstance(thing, Sides):
        judge = judge_heater if isinstance(thing.part.own, HeaterOwn) else judge_mixing
        return judge(thing.part, facts)
    raise NotShown(subject.path, "the sides of each fixture in it: draw them to have them judged")


def _side(side: "Side", facts: Facts, limits: Limits) -> Outcome:
    from plancheck.joined import is_joined
    from plancheck.sides import said_none

    if facts.network.source is None:
        raise NotShown(("parts",), "where the water comes in (is: source)")
    if side.water is not None and (side.fed or side.side == "hot"):
        if side.part.is_ == "dishwasher" and side.water == "cold":
            return on_site("fed with cold: its maker's sheet must allow that")
        if side.water == "not potable" and side.part.is_ == "hose outlet" and side.part.label is None:
            raise NotShown(("parts", side.part.id, "label"), "a sign at it that says its water is not for drinking")
        return holds(f"{side.water} is traced to it")
    if side.part.is_ == "rest of house":
        raise NotShown(("parts", side.part.id, side.side), f"whether old pipe brings it {side.side} water")
    joined = is_joined(facts, side.part, side.side)
    none = said_none(side.part, side.side)
    if side.side == "hot" and not joined and side.part.is_ == "bidet":
        return holds("a bidet does with cold alone")
    return _missing(side, joined, none, facts, limits)


def _missing(side: "Side", joined: bool, none: bool, facts: Facts, limits: Limits) -> Outcome:
    from plancheck.joined import joined_runs

    part, name = side.part, facts.part_name(side.part.id)
    runs = joined_runs(facts, part.id)
    if not is_new(part) and not any(is_new(facts.plan.runs[run]) for run in runs):
        return on_site(f"existing {name}: see whether it has {side.side} water")
    advice = (facts.stage == "layout" and not none) or (part.is_ in _ADVICE and side.side == "hot")
    where = "what is joined to it has no water" if joined else f"nothing is joined to {side.name}"
    spare = f", or write {side.side}: none if it is never used" if part.is_ in _ADVICE and not none else ""
    return broken(
        f"{capital(name)} has no {side.side} water: {f'its {side.side} side is left out' if none else where}.",
        "advice" if advice else "correction",
        limit=limits.of(NEEDED) if part.is_ in _HOT_WANTED or part.is_ in _ADVICE else None,
        found="no water" if joined else "not joined",
        needed=f"{side.side} water",
        why="A fixture that people wash, bathe, cook or do laundry at needs it; a run forgotten now is a wall opened later.",
        mend=f"Join {side.name} to the {side.side} line{spare}.",
        cause=_loose(side, facts) if joined else _taken_wrong(side, facts),
    )


def _loose(side: "Side", facts: Facts) -> Path | None:
    """The first run of what hangs loose with the side: that is told as loose pipe."""
    from plancheck.joined import joined_runs
    from plancheck.still import dry_pieces

    mine = joined_runs(facts, side.part.id)
    return next((("runs", dry.runs[0]) for dry in dry_pieces(facts) if any(run in dry.runs for run in mine)), None)


def _taken_wrong(side: "Side", facts: Facts) -> Path | None:
    """Where it is told that the fixture's other side carries this one's water: its run was joined to the wrong side."""
    from plancheck.sides import all_sides, wrong_groups

    for group in wrong_groups(facts, all_sides(facts)):
        if any(one.part.id == side.part.id and one.water == side.side for one in group.sides):
            return group.root
    return None
