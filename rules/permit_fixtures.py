"""The permit lists what the plan has

Looks at: the fixtures of each kind on the permit beside those of the plan. A tub with a shower counts as a bathtub. Appliances
    and hose outlets are compared where the permit names them; old fixtures that are joined again may be listed or not.
Why: a fixture that is not on the permit is work without a permit: the inspector sends the crew home, and the fee doubles.
To mend: have the permit amended before the inspection is called for.
Cannot see: what else of the house hangs on the same permit, and whether the number is the right one.
Ask: the permit counter which fixtures it counts; some count every hose outlet, most no appliance.
"""

from collections.abc import Iterator

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    APPLIANCES,
    KINDS,
    NONE,
    NOT_KNOWN,
    Facts,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Rule,
    Subject,
    Value,
    broken,
    holds,
    is_new,
    on_site,
    printed,
)

_LISTED = "every fixture of the work is on the permit"
_LISTS = printed("rough-in checklists of several cities", "", "permit data")
LISTED = Limit(
    "listed",
    "fixtures on the permit",
    "text",
    "",
    irc=(Value(_LISTED, _LISTS),),
    ipc=(Value(_LISTED, _LISTS),),
    upc=(Value(_LISTED, _LISTS),),
    practice=(Value(_LISTED, _LISTS, practice=True),),
)
RULE = Rule("correction", "layout", (LISTED,))

_AS = {"tub and shower": "bathtub"}
_NAMED_ONLY = APPLIANCES | {"hose outlet"}


class Kind(NamedTuple):
    """One kind of fixture: how many new, how many in all; said: the number on the permit, or words."""

    name: str
    new: int
    all: int
    said: int | str | None


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each kind on the permit or among the plan's fixtures."""
    permit = facts.plan.permit
    listed = permit.fixtures if permit is not None else None
    if facts.source.data.get("permit") == NONE:
        listed = NONE
    said = _listed(listed) if listed is not None and not isinstance(listed, str) else {}
    new, everything = _counted(facts)
    appliances = any(kind in APPLIANCES for kind in said)
    fixtures = (kind for kind in everything if KINDS[kind].sort == "fixture" and kind != "rest of house")
    for kind in dict.fromkeys((*said, *fixtures)):
        if kind in _NAMED_ONLY and kind not in said and not (kind in APPLIANCES and appliances):
            continue
        number = said.get(kind, 0) if said else listed if isinstance(listed, str) else None
        yield Subject(("permit", "fixtures"), kind, None, Kind(kind, new.get(kind, 0), everything.get(kind, 0), number))


def _listed(listed: object) -> dict[str, int | str]:
    found: dict[str, int | str] = {}
    for kind, number in dict(listed).items():  # type: ignore[call-overload]
        name = _AS.get(kind, kind)
        before = found.get(name, 0)
        found[name] = number if isinstance(number, str) or isinstance(before, str) else before + number
    return found


def _counted(facts: Facts) -> tuple[dict[str, int], dict[str, int]]:
    """How many parts of each kind are new, and how many there are in all."""
    new: dict[str, int] = {}
    everything: dict[str, int] = {}
    for part in facts.plan.parts.values():
        if part.work != "removed":
            name = _AS.get(part.is_, part.is_)
            everything[name] = everything.get(name, 0) + 1
            new[name] = new.get(name, 0) + is_new(part)
    return new, everything


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether the permit's number lies between the new ones and all of the kind."""
    kind: Kind = subject.thing
    said = kind.said
    if said is None or said == NOT_KNOWN:
        key = ("permit", "fixtures", kind.name) if said == NOT_KNOWN and facts.plan.permit is not None else None
        raise NotShown(key or ("permit", "fixtures"), "the fixtures on the permit, by kind")
    number = 0 if said == NONE else int(said) if str(said).isdigit() else None
    if number is None:
        raise NotShown(("permit", "fixtures", kind.name), "how many of the kind are on the permit")
    if number < kind.new:
        return _fewer(kind, number, facts, limits)
    if number <= kind.all:
        return holds("", Measured(float(number), "count"))
    if any(part.is_ == "rest of house" and part.work != "removed" for part in facts.plan.parts.values()):
        return on_site(f"{number} on the permit, {kind.all} in the plan: the others must be in the rest of the house")
    return broken(
        f"The permit lists {_many(number, kind.name)}, the plan has {kind.all}.",
        "advice",
        measured=Measured(float(kind.all), "count"),
        limit=limits.of(LISTED),
        found=f"{kind.all} in the plan",
        needed=f"{number} as on the permit",
        mend=f"Add the missing {kind.name} to the plan, or have the permit put right.",
    )


def _fewer(kind: Kind, number: int, facts: Facts, limits: Limits) -> Outcome:
    return broken(
        f"The permit lists {_many(number, kind.name)}, the plan has {kind.new} new.",
        "correction",
        measured=Measured(float(number), "count"),
        limit=limits.of(LISTED),
        found=f"{number} on the permit",
        needed=f"at least {kind.new}",
        mend=f"Have the permit amended to {_many(kind.new, kind.name)} before the inspection is called for.",
        cause=("permit",) if facts.source.data.get("permit") == NONE else None,  # that there is none is told there
    )


def _many(number: int, kind: str) -> str:
    plural = f"{kind}es" if kind.endswith("sh") else f"{kind[:-1]}ies" if kind.endswith("ry") else f"{kind}s"
    return f"{number if number else 'no'} {kind if number == 1 else plural}"
