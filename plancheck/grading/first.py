"""What to mend first: things that would lift the total most, each counted after those before it are mended."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from plancheck.grading.marking import ABSENT, MARKED, NOT_STATED, after, fault_of
from plancheck.grading.results import AspectMark, CriticalMark, Thing
from plancheck.grading.roots import Cause, Paid
from plancheck.grading.rubric import JUDGE, RULES, Rubric
from plancheck.grading.total import capped, standing
from plancheck.record import NamedTuple

FIRST = 3  # so many things
_LEAST = 0.05  # marks that are worth a line


class Mend(NamedTuple):
    """One thing that can be mended. key: of its aspect, empty where none pays for it; causes: root causes of one rule;
    critical: the critical fault that it is, where it is no finding."""

    key: str
    title: str
    causes: tuple[Cause, ...]
    says: str = ""
    critical: str = ""


class State(NamedTuple):
    """A submission's marks while things are mended, one after the other."""

    found: Mapping[str, AspectMark]
    critical: tuple[CriticalMark, ...]


def first_things(
    rubric: Rubric,
    found: Mapping[str, AspectMark],
    critical: Sequence[CriticalMark],
    paid: Mapping[str, Paid],
    causes: Iterable[Cause],
) -> tuple[Thing, ...]:
    """The first things to mend. causes: all root causes of the report."""
    mends = list(_mends(rubric, found, critical, paid, causes))
    things: list[Thing] = []
    state = State(found, standing(critical))
    total = capped(rubric, *state)
    while mends and len(things) < FIRST:
        tried = [(capped(rubric, *_mended(rubric, state, mend)) - total, mend) for mend in mends]
        gain, best = max(tried, key=lambda one: (round(one[0], 6), _is_critical(state, one[1])))
        lifted = _is_critical(state, best)
        if gain < _LEAST and not lifted:
            break
        things.append(Thing(best.title, gain, tuple(fault_of(cause) for cause in best.causes), best.says, lifted))
        state = _mended(rubric, state, best)
        total += gain
        mends.remove(best)
    return tuple(things)


def _mends(
    rubric: Rubric,
    found: Mapping[str, AspectMark],
    critical: Sequence[CriticalMark],
    paid: Mapping[str, Paid],
    causes: Iterable[Cause],
) -> Iterator[Mend]:
    named: set[int] = set()
    for key, (_, aspect) in rubric.aspects().items():
        one = found[key]
        if aspect.way == RULES and one.state == MARKED:
            for some in _by_rule(paid[key].causes):
                named.update(finding.number for cause in some for finding in cause.findings)
                yield Mend(key, aspect.title, some)
        if (
            aspect.way != JUDGE
            and one.gain > _LEAST
            and not paid[key].causes
            and one.state in (MARKED, NOT_STATED, ABSENT)
        ):
            yield Mend(key, aspect.title, (), one.says)
    for fault in standing(critical):
        if not set(fault.numbers) <= named or not fault.numbers:  # no aspect pays for all of it
            told = [cause for cause in causes if {one.number for one in cause.findings} & set(fault.numbers)]
            yield Mend("", fault.title, tuple(told), " ".join(fault.says[len(fault.numbers) :]), fault.id)


def _by_rule(causes: Iterable[Cause]) -> Iterator[tuple[Cause, ...]]:
    found: dict[str, list[Cause]] = {}
    for cause in causes:
        found.setdefault(cause.root.rule, []).append(cause)
    yield from (tuple(some) for some in found.values())


def _mended(rubric: Rubric, state: State, mend: Mend) -> State:
    """The marks with one thing mended, and the critical faults that are left."""
    found = dict(state.found)
    if mend.key:
        aspect, one = rubric.aspects()[mend.key][1], found[mend.key]
        if mend.causes:
            left = tuple(
                fault for fault in one.faults if fault.number not in {cause.root.number for cause in mend.causes}
            )
            better = one._replace(holds=one.holds + len(mend.causes), faults=left)
            found[mend.key] = better._replace(mark=after(aspect, better, len(left)))
        else:
            found[mend.key] = one._replace(mark=aspect.weight)
    return State(found, tuple(fault for fault in state.critical if not _goes(fault, mend)))


def _goes(fault: CriticalMark, mend: Mend) -> bool:
    """Whether a critical fault goes with a thing: it is that thing, or all its findings are."""
    mended = {one.number for cause in mend.causes for one in cause.findings}
    too_few = len(fault.says) > len(fault.numbers)
    return fault.id == mend.critical or (bool(fault.numbers) and not too_few and mended >= set(fault.numbers))


def _is_critical(state: State, mend: Mend) -> bool:
    """Whether a thing is about a critical fault that still stands."""
    mended = {one.number for cause in mend.causes for one in cause.findings}
    return any(fault.id == mend.critical or mended & set(fault.numbers) for fault in state.critical)
