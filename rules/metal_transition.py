"""Copper does not screw straight into steel

Looks at: each new joint where copper pipe comes to galvanised steel, and what stands between them: a dielectric union, a brass
    nipple and its length, a transition, or a fitting of brass or plastic. PEX between the two parts them for good.
Why: copper and zinc in water make a battery. It eats the steel right at the thread; a few years on it weeps, then it snaps
    when somebody leans on it.
To mend: 6 in of brass nipple, or a dielectric union; or go over to PEX with a brass threaded adapter.
Cannot see: whether the union's sleeve was left out, and paint over the thread. Connectors at the heater are another rule's.
Ask: the code takes brass between them; some cities want it 6 in long, others only the union.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.rulekit import (
    GRACE_LENGTH_M,
    INCH_M,
    NOT_KNOWN,
    Facts,
    Length,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Rule,
    Subject,
    Value,
    at_least,
    broken,
    estimates,
    holds,
    length,
    on_site,
    printed,
    recalled,
)

if TYPE_CHECKING:
    from plancheck.metals import Meeting

_BETWEEN = "a dielectric fitting or brass between copper and steel"
BETWEEN = Limit(
    "between",
    "what stands between copper and galvanised steel",
    "text",
    "",
    irc=(Value(_BETWEEN, recalled("IRC", "2018", "P2906.17.1")),),
    ipc=(Value(_BETWEEN, recalled("IPC", "2018", "605.24.1")),),
    upc=(Value(_BETWEEN, recalled("UPC", "2012", "605.16.1")),),
    practice=(Value(_BETWEEN, recalled("IPC", "2018", "605.24.1"), practice=True),),
)
LEAST_NIPPLE = Limit(
    "least_nipple",
    "length of a brass nipple between copper and steel",
    "length",
    "at least",
    practice=(Value(6 * INCH_M, printed("one city's plumbing rules", "", "315.3"), practice=True),),
)
RULE = Rule("correction", "rough-in", (BETWEEN, LEAST_NIPPLE))

_PARTS_THEM = ("lead-free brass", "brass", "bronze", "plastic", "stainless")
_GROUND = (
    "A dielectric union parts the metal: where the pipe serves the house's ground, an electrician bonds round it first."
)


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each part at which copper and galvanised steel come together."""
    if not _steel(facts):
        return
    from plancheck.metals import meetings

    for meeting in meetings(facts):
        name = f"{meeting.copper} to {meeting.steel}"
        yield Subject(("parts", meeting.part.id), name, meeting.part.place, meeting)


def _steel(facts: Facts) -> bool:
    """Whether a plan has galvanised steel at all: most have none."""
    plan = facts.plan
    steel = any(tube.material == "galvanised steel" for tube in plan.tubes.values())
    return steel or any(part.body == "galvanised" for part in plan.parts.values())


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether something that parts the two metals stands between them."""
    meeting: Meeting = subject.thing
    part = meeting.part
    if not meeting.new:
        return on_site("old copper and steel meet: look for rust at the thread")
    kind = getattr(part.own, "kind", None) if part.is_ == "adapter" else None
    if kind in ("dielectric union", "transition"):
        return holds(f"{kind}. {_GROUND}" if kind == "dielectric union" else kind)
    if kind == "brass nipple":
        return _nipple(meeting, facts, limits)
    if meeting.own is not None:
        return _direct(meeting, facts, limits)
    if part.body in _PARTS_THEM:
        return holds(f"{part.body} between them")
    if part.is_ == "adapter":
        raise NotShown(("parts", part.id, "kind"), "what stands between copper and steel (kind: dielectric union)")
    if part.is_ == "tee" or part.body == NOT_KNOWN:
        raise NotShown(("parts", part.id, "body"), "what the part between copper and steel is made of")
    return on_site(f"copper and steel meet at the {part.is_} {part.id}: its body is to be of brass")


def _nipple(meeting: "Meeting", facts: Facts, limits: Limits) -> Outcome:
    said = getattr(meeting.part.own, "length", None)
    if not isinstance(said, Length):
        raise NotShown(("parts", meeting.part.id, "length"), "the length of the brass nipple")
    limit = limits.of(LEAST_NIPPLE)
    if at_least(said.m, limit.number, GRACE_LENGTH_M):
        return holds("", length(said.m), limit, estimates(said))
    found, needed, _ = limit.told_apart(said.m, facts.units, said.text)
    return broken(
        f"Between {meeting.copper} and {meeting.steel} stands a brass nipple of {found}; at least {needed}.",
        "advice",
        measured=length(said.m),
        limit=limit,
        mend=f"Take a nipple of {needed} or longer, or a dielectric union. {_GROUND}",
        at=("parts", meeting.part.id, "length"),
        estimate=estimates(said),
    )


def _direct(meeting: "Meeting", facts: Facts, limits: Limits) -> Outcome:
    own = "galvanised steel" if meeting.own == "galvanised steel" else "copper"
    other = meeting.copper if own == "galvanised steel" else meeting.steel
    return broken(
        f"{other} is {'copper' if own != 'copper' else 'galvanised steel'} and is joined straight to {meeting.part.id}, "
        f"which is {own}.",
        "correction",
        measured=Measured("copper on steel", "text"),
        limit=limits.of(BETWEEN),
        found="copper straight on galvanised steel",
        needed=_BETWEEN,
        mend=f"Put a brass nipple of {facts.length(6 * INCH_M)} or a dielectric union between, or go to PEX with a brass "
        f"threaded adapter. {_GROUND}",
        at=("parts", meeting.part.id),
    )
