"""The tube has not lain in daylight too long

Looks at: each stock of PEX that new work uses: the days between its first and last day in daylight (`sun`; to today where no
    last day is written), against the daylight class on its print, the second of the four digits behind PEX. And each new run
    of PEX that stays outdoors above the ground without a sleeve.
Why: daylight eats what keeps the tube from ageing. It still bends and holds the test; it cracks in the wall years early.
To mend: cut out what lay in the sun, cover the rest today, keep coils in their box; sleeve or bury what stays outdoors.
Cannot see: lamps and windows, which do the same more slowly; a coil that lay outside at the merchant's; shade and winter.
Ask: the tube maker, where the class is not printed. Tube of other plastics has limits of its own that are not carried here.
"""

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from plancheck.rulekit import (
    FOOT_M,
    GRACE_LENGTH_M,
    NONE,
    NOT_KNOWN,
    PEX,
    PRACTICE,
    Facts,
    InForce,
    Length,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Rule,
    Run,
    Subject,
    Value,
    at_most,
    broken,
    estimates,
    holds,
    is_new,
    printed,
    tube_of,
)

if TYPE_CHECKING:
    from plancheck.stocks import Stock

_TABLE = printed("ASTM F876", "2020b", "designation table")


def _days(id_: str, title: str, days: float) -> Limit:
    """The days of a class, months being 30, 91 and 182 days: the standard's, so of every family."""
    value = (Value(days, _TABLE),)
    return Limit(id_, title, "count", "at most", value, value, value, (Value(days, _TABLE, practice=True),))


CLASS_1 = _days("class_1", "days in daylight, class 1 (1 month)", 30)
CLASS_2 = _days("class_2", "days in daylight, class 2 (3 months)", 91)
CLASS_3 = _days("class_3", "days in daylight, class 3 (6 months)", 182)
UNKNOWN = Limit(
    "unknown",
    "days in daylight where no class is printed",
    "count",
    "at most",
    practice=(Value(30, printed("trade pages (30 to 60 days)", "", "daylight"), practice=True),),
)
_INDOORS = "not for outdoor use"
OUTDOORS = Limit(
    "outdoors",
    "PEX that stays in daylight",
    "text",
    "",
    irc=(Value(_INDOORS, printed("ASTM F2657", "", "scope")),),
    ipc=(Value(_INDOORS, printed("ASTM F2657", "", "scope")),),
    upc=(Value(_INDOORS, printed("ASTM F2657", "", "scope")),),
    practice=(Value(_INDOORS, printed("ASTM F2657", "", "scope"), practice=True),),
)
STRETCH = Limit(
    "stretch",
    "bare PEX outdoors that is let pass",
    "length",
    "at most",
    practice=(Value(FOOT_M, PRACTICE, practice=True),),
)
RULE = Rule("correction", "layout", (CLASS_1, CLASS_2, CLASS_3, UNKNOWN, OUTDOORS, STRETCH))

_CLASSES = {"1": CLASS_1, "2": CLASS_2, "3": CLASS_3}


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each stock of PEX from rough-in on; each new run of PEX that goes outdoors above the ground."""
    from plancheck.stocks import new_stocks

    for stock in new_stocks(facts):
        if stock.tube.material in PEX:
            yield Subject(("tubes", stock.tube.id), f"daylight on '{stock.tube.id}'", None, stock, "rough-in")
    plan = facts.plan
    out = {id_ for id_, place in plan.places.items() if place.is_ == "outdoors"}
    if not out:
        return
    ends = {p.id: p.place for p in plan.parts.values() if p.place in out and p.is_ not in ("hose outlet", "source")}
    for run in plan.runs.values():
        place = _outside(run, out, ends)
        tube = tube_of(run, plan) if place is not None else None
        if tube is None or tube.material not in PEX or not is_new(run) or isinstance(run.cover, Length):
            continue
        yield Subject(("runs", run.id), f"{run.id} outdoors", place, run)


def _outside(run: Run, out: set[str], ends: Mapping[str, str | None]) -> str | None:
    """The place outdoors a run goes through; a hose outlet sits on the wall, and its run ends inside it."""
    if run.places is not None:
        return next((place for place in run.places if place in out), None)
    return next((ends[ref.part] for ref in (run.from_, run.to) if ref is not None and ref.part in ends), None)


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether a stock lay in daylight no longer than its class allows, or a run stays out of it."""
    if isinstance(subject.thing, Run):
        return _outdoors(subject.thing, facts, limits)
    return _lain(subject.thing, facts, limits)


def _lain(stock: "Stock", facts: Facts, limits: Limits) -> Outcome:
    tube, sun = stock.tube, stock.tube.sun
    path = ("tubes", tube.id, "sun")
    if sun is None or sun == NOT_KNOWN:
        raise NotShown(path, "its first and last day in daylight (or sun: none)")
    if isinstance(sun, str):
        return holds("never in daylight")
    if sun.from_ in (None, NONE, NOT_KNOWN):
        raise NotShown((*path, "from"), "its first day in daylight")
    if sun.to == NOT_KNOWN:
        raise NotShown((*path, "to"), "its last day in daylight")
    ends = sun.to if sun.to not in (None, NONE) else None
    days = _between(sun.from_ or "", ends or facts.today)
    if days is None:
        raise NotShown((*path, "to"), "the days in daylight: the last day comes before the first")
    about = ", ".join(day for day in (sun.from_, ends) if day is not None and day.startswith("about "))
    limit = limits.of(_class_of(stock))
    if days <= limit.number:
        return holds("", Measured(days, "count"), limit, about)
    return _too_long(stock, days, ends, limit, about)


def _class_of(stock: "Stock") -> Limit:
    from plancheck.printmarks import class_digits

    digits = class_digits(stock.tube)
    return _CLASSES.get(digits[1], UNKNOWN) if digits is not None else UNKNOWN


def _between(first: str, last: str) -> int | None:
    """The days from one to the other, both as text; None where the last comes before the first."""
    from datetime import date

    days = (date.fromisoformat(last.removeprefix("about ")) - date.fromisoformat(first.removeprefix("about "))).days
    return days if days >= 0 else None


def _too_long(stock: "Stock", days: int, ends: str | None, limit: InForce, about: str) -> Outcome:
    tube = stock.tube
    still = "" if ends is not None else " and still lies there"
    classed = limit.limit is not UNKNOWN
    stands = (
        f"its class stands {limit.number:.0f}"
        if classed
        else f"no class is printed, and {limit.number:.0f} is the usual"
    )
    return broken(
        f"Tube '{tube.id}' has lain {days} days in daylight{still}; {stands}.",
        "correction" if classed else "advice",
        measured=Measured(days, "count"),
        limit=limit,
        found=f"{days} days",
        needed=f"at most {limit.number:.0f} days",
        mend=f"Cut out what lay in the sun of {stock.users}; cover the rest today, keep coils boxed.",
        caution=f"Rests on an estimate ({about}): look the day up to be sure." if about else "",
        at=("tubes", tube.id, "sun"),
    )._replace(estimate=about)


def _outdoors(run: Run, facts: Facts, limits: Limits) -> Outcome:
    if run.wrap in ("sleeve", "paint"):
        return holds(f"kept from daylight: {run.wrap}")
    length_m, most = facts.run_length_m(run.id), limits.of(STRETCH)
    all_out = all(facts.plan.places[place].is_ == "outdoors" for place in facts.run_places(run.id))
    if all_out and length_m is not None and at_most(length_m, most.number, GRACE_LENGTH_M):
        return holds("", Measured(length_m, "length"), most, estimates(run.length))
    if run.wrap in (None, NOT_KNOWN):
        raise NotShown(("runs", run.id, "wrap"), "what keeps daylight off it (wrap: sleeve), or its cover of earth")
    how_long = f"{facts.length(length_m)} of PEX" if all_out and length_m is not None else "PEX"
    return broken(
        f"{run.id} goes outdoors, and nothing keeps daylight off: {how_long}, which is not made for it.",
        "correction",
        measured=Measured("bare outdoors", "text"),
        limit=limits.of(OUTDOORS),
        found="bare PEX outdoors",
        needed="in the ground, in a sleeve, or indoors",
        mend=f"Sleeve it from end to end, bury it, or use copper for all of it but {facts.length(most.number)}.",
        at=("runs", run.id, "wrap"),
    )
