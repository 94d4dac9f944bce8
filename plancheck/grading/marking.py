"""The marks of one aspect. Marks are of its weight; shares run from 0 to 1."""

from __future__ import annotations

from plancheck.facts import Facts
from plancheck.grading.agreement import agreement
from plancheck.grading.given import given_share
from plancheck.grading.materials import materials_share
from plancheck.grading.results import AspectMark, Fault
from plancheck.grading.roots import Cause, Paid
from plancheck.grading.rubric import AGREES, DOCUMENTS, ECONOMY, GIVEN, JUDGE, MATERIALS, RULES, Aspect
from plancheck.grading.values import VALUES, Unknown, shown
from plancheck.outcomes import BROKEN, HOLDS, LATER, NOT_SHOWN, ON_SITE
from plancheck.record import NamedTuple
from plancheck.report.data import PlanReport
from plancheck.takeoff import Takeoff, takeoff

MARKED, NOT_STATED, TO_JUDGE, OVERRIDDEN, ABSENT = "marked", "not stated", "to be judged", "overridden", "not in the plan"


class Submission(NamedTuple):
    """A plan that could be read, with its report; reference: facts of the reference layout; thriftiest: fittings and tube
    (m) of the class's thriftiest sound plan with the same fixtures, where there is one."""

    facts: Facts
    report: PlanReport
    reference: Facts | None = None
    thriftiest: tuple[float, float] | None = None


def mark_of(key: str, aspect: Aspect, work: Submission, paid: Paid) -> AspectMark:
    """The marks of an aspect, but for what a person gives."""
    blank = AspectMark(key, aspect.title, aspect.weight, 0.0, MARKED, "", read=aspect.read)
    if aspect.way == RULES:
        return _by_rules(blank, aspect, work.report, paid)
    if aspect.way == DOCUMENTS:
        return _by_documents(blank, aspect, work.report)
    if aspect.way == JUDGE:
        return blank._replace(state=TO_JUDGE, says=f"A person looks: {aspect.judge}.")
    try:
        if aspect.way == AGREES:
            share, says = _agrees(aspect, work)
        elif aspect.way == GIVEN:
            share, says = given_share(work.facts, _reference(work), aspect.given)
        elif aspect.way == MATERIALS:
            share, says = materials_share(work.facts, aspect.within)
        elif aspect.way == ECONOMY:
            share, says = _economy(aspect, work)
        else:
            share, says = _by_value(aspect, work.facts)
    except Unknown as gap:
        return blank._replace(state=NOT_STATED, says=f"The plan does not say {gap.what}.", gain=aspect.weight)
    mark = share * aspect.weight
    return blank._replace(mark=mark, says=says, gain=aspect.weight - mark)


def _by_rules(blank: AspectMark, aspect: Aspect, report: PlanReport, paid: Paid) -> AspectMark:
    holds, not_shown, others = (_tally(report, aspect, kinds) for kinds in ((HOLDS,), (NOT_SHOWN,), (ON_SITE, LATER)))
    advised = _tally(report, aspect, (BROKEN,))
    kept = tuple(f"{one.number}. {one.says}" for one in paid.kept)
    faults = len(paid.causes)
    blank = blank._replace(holds=holds, not_shown=not_shown, kept=kept)
    if not (holds or faults or advised):
        if not_shown or others:
            says = f"Nothing of it could be judged: {not_shown} not shown, {others} for the site or a later stage."
            return blank._replace(state=NOT_STATED, says=says, gain=aspect.weight)
        full = aspect.absent == "all"
        says = "The plan has no such thing, and needs none." if full else "The plan has no such thing."
        return blank._replace(mark=aspect.weight if full else 0.0, state=ABSENT, says=says, gain=0.0 if full else aspect.weight)
    mark = _after(aspect, holds, faults)
    costs = _after(aspect, holds + 1, faults - 1) - mark if faults else 0.0
    told = tuple(_fault(cause, costs) for cause in paid.causes)
    return blank._replace(mark=mark, says=_words(holds, faults, not_shown, len(kept)), faults=told, gain=_after(aspect, holds + faults, 0) - mark)


def _after(aspect: Aspect, holds: int, faults: int) -> float:
    """The marks with so many subjects that hold and so many root causes."""
    if aspect.steps:
        mark = next((share for most, share in aspect.steps if faults <= most), 0.0) * aspect.weight
    elif aspect.each is not None:
        mark = aspect.weight - aspect.each * faults
    else:
        mark = aspect.weight * (holds / (holds + faults) if holds + faults else 1.0)
    return min(max(mark, aspect.floor), aspect.weight)


def _tally(report: PlanReport, aspect: Aspect, kinds: tuple[str, ...]) -> int:
    return sum(report.tally[rule].get(kind, 0) for rule in aspect.rules if rule in report.tally for kind in kinds)


def _fault(cause: Cause, costs: float) -> Fault:
    root = cause.root
    return Fault(root.number, root.rule, root.severity, root.says, root.mend, len(cause.hanging), costs)


def _words(holds: int, faults: int, not_shown: int, kept: int) -> str:
    bits = [f"{_count(holds, 'subject')} right"]
    bits.append(f"{_count(faults, 'root cause')} wrong" if faults else "nothing wrong")
    if not_shown:
        bits.append(f"{not_shown} not shown, which costs nothing here")
    if kept:
        bits.append(f"{kept} that follow from what is paid for elsewhere")
    return f"{', '.join(bits)}."


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"


def _by_documents(blank: AspectMark, aspect: Aspect, report: PlanReport) -> AspectMark:
    told = _tally(report, aspect, (HOLDS, BROKEN, ON_SITE))
    missing = _tally(report, aspect, (NOT_SHOWN,))
    if not told + missing:
        return blank._replace(state=ABSENT, says="The plan has nothing of which this could be said.", gain=aspect.weight)
    mark = aspect.weight * told / (told + missing)
    says = f"{told} of {_count(told + missing, 'subject')} can be judged from what is written."
    return blank._replace(mark=mark, says=says, holds=told, not_shown=missing, gain=aspect.weight - mark)


def _by_value(aspect: Aspect, facts: Facts) -> tuple[float, str]:
    kind = VALUES[aspect.value]
    found = kind.find(facts)
    share = 0.0
    for band, worth in ((aspect.full, 1.0), (aspect.half, 0.5)):
        if band is not None and share == 0.0 and _inside(found, band, kind.at_most):
            share = worth
    bands = " or ".join(shown(band, kind, facts) for band in (aspect.full, aspect.half) if band is not None)
    way = "at most" if kind.at_most else "at least"
    return share, f"{kind.title[:1].upper()}{kind.title[1:]}: {shown(found, kind, facts)}; {way} {bands}."


def _inside(found: float, band: float, at_most: bool) -> bool:
    grace = 1e-9 * max(abs(band), 1.0)
    return found <= band + grace if at_most else found >= band - grace


def _agrees(aspect: Aspect, work: Submission) -> tuple[float, str]:
    return agreement(work.facts, _reference(work), aspect.agrees)


def _reference(work: Submission) -> Facts:
    assert work.reference is not None  # the loader asks for it
    return work.reference


def _economy(aspect: Aspect, work: Submission) -> tuple[float, str]:
    own = economy_of(takeoff(work.facts))
    best = economy_of(takeoff(work.reference)) if work.reference is not None else work.thriftiest
    place = 0 if aspect.of == "fittings" else 1
    if best is None or best[place] <= 0.0:
        raise Unknown("what to compare with: no reference, and no sound plan with these fixtures in the class")
    if own[place] <= 0.0:
        raise Unknown("any fittings" if place == 0 else "how long the tube is")
    ratio, free = own[place] / best[place], 1.0 + aspect.within
    share = 1.0 if ratio <= free else max(0.0, 1.0 - (ratio - free) / (2.0 * aspect.within)) if aspect.within else 0.0
    count = f"{own[0]:.0f} fittings" if place == 0 else f"{work.facts.length(round(own[1], 1))} of tube"
    return share, f"{count[:1].upper()}{count[1:]}, {ratio:.2f} times the thriftiest; up to {free:.2f} times costs nothing."


def economy_of(found: Takeoff) -> tuple[float, float]:
    """Fittings, and metres of tube."""
    return float(found.fittings), found.tube_m
