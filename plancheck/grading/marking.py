"""The marks of one aspect. Marks are of its weight; shares run from 0 to 1."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from plancheck.facts import Facts
from plancheck.grading.agreement import agreement
from plancheck.grading.given import given_share
from plancheck.grading.materials import materials_share
from plancheck.grading.results import AspectMark, Fault
from plancheck.grading.roots import Cause, Paid
from plancheck.grading.rubric import AGREES, DOCUMENTS, ECONOMY, GIVEN, JUDGE, MATERIALS, REST, RULES, Aspect
from plancheck.grading.shown import Shown, together
from plancheck.grading.values import VALUES, Unknown, shown
from plancheck.outcomes import BROKEN, HOLDS, LATER, NOT_SHOWN, ON_SITE
from plancheck.record import NamedTuple
from plancheck.report.data import PlanReport
from plancheck.takeoff import Takeoff, takeoff

MARKED, NOT_STATED, TO_JUDGE, OVERRIDDEN = "marked", "not stated", "to be judged", "overridden"
ABSENT, LEFT_OUT = "not in the plan", "left out"


class Submission(NamedTuple):
    """A plan that could be read, with its report; reference: facts of the reference layout; thriftiest: fittings and tube
    (m) of the class's thriftiest sound plan with the same fixtures, where there is one; shown: by rule
    of how many things enough is said."""

    facts: Facts
    report: PlanReport
    reference: Facts | None = None
    thriftiest: tuple[float, float] | None = None
    shown: Mapping[str, Shown] = {}


def mark_of(key: str, aspect: Aspect, work: Submission, paid: Paid, elsewhere: Iterable[Cause] = ()) -> AspectMark:
    """The marks of an aspect, but for what a person gives. elsewhere: the causes that all aspects pay for."""
    blank = AspectMark(key, aspect.title, aspect.weight, 0.0, MARKED, "", read=aspect.read)
    if aspect.way == RULES:
        return _by_rules(blank, aspect, work, paid)
    if aspect.way == DOCUMENTS:
        return _by_documents(blank, aspect, work)
    if aspect.way == JUDGE:
        return blank._replace(state=TO_JUDGE, says=f"A person looks: {aspect.judge}.")
    try:
        if aspect.way == AGREES:
            share, says = agreement(work.facts, _reference(work), aspect.agrees, _unjoined(work.facts, elsewhere))
        elif aspect.way == GIVEN:
            share, says = given_share(work.facts, _reference(work), aspect.given)
        elif aspect.way == MATERIALS:
            share, says = materials_share(work.facts, aspect.within)
        elif aspect.way == ECONOMY:
            share, says = _economy(aspect, work)
        else:
            share, says = _by_value(aspect, work)
    except Unknown as gap:
        return blank._replace(state=NOT_STATED, says=f"Not to be worked out from this plan: {gap.what}.", gain=aspect.weight)
    mark = share * aspect.weight
    return blank._replace(mark=mark, says=says, gain=aspect.weight - mark)


def _by_rules(blank: AspectMark, aspect: Aspect, work: Submission, paid: Paid) -> AspectMark:
    report = work.report
    holds, unsaid, others = (_tally(report, aspect, kinds) for kinds in ((HOLDS,), (NOT_SHOWN,), (ON_SITE, LATER)))
    broken = _tally(report, aspect, (BROKEN,))
    kept = tuple(f"{one.number}. {one.says}" for one in paid.kept)
    faults = len(paid.causes)
    blank = blank._replace(holds=holds, not_shown=unsaid, kept=kept)
    if not (holds or faults or broken):
        return _nothing(blank, aspect, report, unsaid, others)
    things = together(work.shown, aspect.rules)
    most = min(1.0, 2.0 * things.share)
    blank = blank._replace(shown=most)
    mark = after(aspect, blank, faults)
    costs = after(aspect, blank._replace(holds=holds + 1), faults - 1) - mark if faults else 0.0
    told = tuple(fault_of(cause, costs) for cause in paid.causes)
    says = _words(holds, faults, unsaid, len(kept))
    if most < 1.0:
        says += f" Enough is said of {things.said:g} of {_count(things.whole, 'thing')}, less than half: {most * aspect.weight:.1f} marks at most."
    return blank._replace(mark=mark, says=says, faults=told, gain=aspect.weight - mark)


def _nothing(blank: AspectMark, aspect: Aspect, report: PlanReport, unsaid: int, others: int) -> AspectMark:
    """An aspect of whose rules nothing was judged: not stated, or not in the plan."""
    if unsaid:
        return blank._replace(state=NOT_STATED, says=f"Not stated: {_missing(report, aspect)}.", gain=aspect.weight)
    if others:
        return blank._replace(state=NOT_STATED, says="Nothing of it can be seen in a plan at this stage.", gain=aspect.weight)
    if aspect.absent == "all":
        return blank._replace(mark=aspect.weight, state=ABSENT, says="The plan has nothing that is judged here, and needs none.")
    if aspect.absent == REST:
        return blank._replace(state=LEFT_OUT, says="The plan has nothing that is judged here: it counts as the mean of the rest.")
    return blank._replace(state=ABSENT, says="The plan has nothing that is judged here.", gain=aspect.weight)


def _missing(report: PlanReport, aspect: Aspect) -> str:
    """What to write so that an aspect can be marked."""
    needs = dict.fromkeys(one.says.rstrip(".") for one in report.not_shown if one.rule in aspect.rules)
    told = list(needs)[:3]
    return "; ".join((*told, f"and {len(needs) - 3} more")) if len(needs) > 3 else "; ".join(told)


def after(aspect: Aspect, found: AspectMark, faults: int) -> float:
    """The marks by rules with so many root causes, of what holds, and of what is shown at all: from half of its subjects on
    an aspect can have all its marks, with fewer accordingly less."""
    if aspect.steps:
        mark = next((share for most, share in aspect.steps if faults <= most), 0.0) * aspect.weight
    elif aspect.each is not None:
        mark = aspect.weight - aspect.each * faults
    else:
        mark = aspect.weight * (found.holds / (found.holds + faults) if found.holds + faults else 1.0)
    return min(max(mark, aspect.floor), aspect.weight) * found.shown


def _tally(report: PlanReport, aspect: Aspect, kinds: tuple[str, ...]) -> int:
    return sum(report.tally[rule].get(kind, 0) for rule in aspect.rules if rule in report.tally for kind in kinds)


def fault_of(cause: Cause, costs: float = 0.0) -> Fault:
    """A root cause as it is told, with the findings of its rule that are the same slip."""
    root = cause.root
    also = tuple(one.number for one in cause.hanging if one.rule == root.rule)
    return Fault(root.number, root.rule, root.severity, root.says, root.mend, len(cause.hanging), costs, also, root.line)


def _words(holds: int, faults: int, not_shown: int, kept: int) -> str:
    bits = [f"{_count(holds, 'subject')} right"]
    bits.append(f"{_count(faults, 'root cause')} wrong" if faults else "nothing wrong")
    if not_shown:
        bits.append(f"{not_shown} not shown")
    if kept:
        bits.append(f"{kept} that follow from what is paid for elsewhere")
    return f"{', '.join(bits)}."


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"


def _by_documents(blank: AspectMark, aspect: Aspect, work: Submission) -> AspectMark:
    things = together(work.shown, aspect.rules)
    if not things.whole:
        return blank._replace(state=ABSENT, says="The plan has nothing of which this could be said.", gain=aspect.weight)
    mark = aspect.weight * things.share
    told, missing = _tally(work.report, aspect, (HOLDS, BROKEN, ON_SITE)), _tally(work.report, aspect, (NOT_SHOWN,))
    says = f"Enough is said of {things.said:g} of {_count(things.whole, 'thing')}."
    says += f" Missing: {_missing(work.report, aspect)}." if missing else ""
    return blank._replace(mark=mark, says=says, holds=told, not_shown=missing, gain=aspect.weight - mark)


def _by_value(aspect: Aspect, work: Submission) -> tuple[float, str]:
    kind, facts = VALUES[aspect.value], work.facts
    found = kind.find(facts)
    share = 0.0
    for band, worth in ((aspect.full, 1.0), (aspect.half, 0.5)):
        if band is not None and share == 0.0 and _inside(found, band, kind.at_most):
            share = worth
    way = "up to" if kind.at_most else "from"
    words = ((aspect.full, "full marks"), (aspect.half, "half"))
    bands = ", ".join(f"{name} {way} {shown(band, kind, facts)}" for band, name in words if band is not None)
    if aspect.value == "path gap" and work.reference is not None:
        seen, asked = len(facts.geometry.compared), _measured_twice(facts, work.reference)
        if seen < asked:
            return share * seen / asked, f"{seen} of {asked} places are measured two ways; largest gap {shown(found, kind, facts)}: {bands}."
    return share, f"{kind.title[:1].upper()}{kind.title[1:]}: {shown(found, kind, facts)}; {bands}."


def _measured_twice(facts: Facts, reference: Facts) -> int:
    """How many places of a drawing can be reached by two ways, going by the reference and by how much of it is drawn."""
    drawn, whole = len(facts.plan.runs), len(reference.plan.runs)
    return int(len(reference.geometry.compared) * min(1.0, drawn / whole)) if whole else 0


def _inside(found: float, band: float, at_most: bool) -> bool:
    grace = 1e-9 * max(abs(band), 1.0)
    return found <= band + grace if at_most else found >= band - grace


def _unjoined(facts: Facts, causes: Iterable[Cause]) -> tuple[str, ...]:
    """The parts that are joined to nothing and of which a cause is told that is paid for."""
    joined = {ref.part for run in facts.plan.runs.values() for ref in (run.from_, run.to) if ref is not None}
    told = dict.fromkeys(cause.root.path.strip("/").split("/")[1] for cause in causes if cause.root.path.startswith("/parts/"))
    return tuple(part for part in told if part in facts.plan.parts and part not in joined and facts.plan.parts[part].onto is None)


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
