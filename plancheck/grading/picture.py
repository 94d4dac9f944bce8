"""The class as a whole: how the totals lie, which aspects were hard, which rules were missed, who is near-identical.

No figures are given for groups under five, so that nobody is told apart by them.
"""

from __future__ import annotations

import statistics
from collections import Counter
from collections.abc import Mapping, Sequence

from plancheck.grading.alike import Alike
from plancheck.grading.marking import LEFT_OUT, TO_JUDGE
from plancheck.grading.results import AspectPicture, ClassPicture, Graded

LEAST_GROUP = 5
MOST_MISSED = 10
_BANDS = ((0, 40), (40, 50), (50, 60), (60, 70), (70, 80), (80, 90), (90, 101))


def class_picture(class_: Sequence[Graded], alike: Sequence[Alike] = ()) -> ClassPicture:
    """The picture of a class. alike: groups of near-identical plans, which are told whatever the size of the group."""
    read = [one for one in class_ if not one.unread]
    unread = len(class_) - len(read)
    if len(read) < LEAST_GROUP:
        return ClassPicture(len(class_), unread, f"no figures for groups under {LEAST_GROUP}", alike=tuple(alike))
    totals = [one.total for one in read]
    return ClassPicture(
        len(class_),
        unread,
        "",
        statistics.fmean(totals),
        statistics.median(totals),
        min(totals),
        max(totals),
        statistics.stdev(totals),
        tuple((f"{low} to {'100' if high > 100 else f'under {high}'}", sum(low <= one < high for one in totals)) for low, high in _BANDS),
        tuple(sorted(_aspects(read), key=lambda one: (one.mean, one.key))),
        tuple(_missed(read)),
        tuple(sorted(Counter(fault.title for one in read for fault in one.critical).items(), key=lambda item: (-item[1], item[0]))),
        tuple(alike),
    )


def _aspects(read: Sequence[Graded]) -> list[AspectPicture]:
    """Every aspect over the class, without the plans for which it is left out; what nobody has judged yet is left out."""
    found = []
    keys = [aspect.key for section in read[0].sections for aspect in section.aspects]
    marks = [{aspect.key: aspect for section in one.sections for aspect in section.aspects} for one in read]
    for key in keys:
        mine = [one[key] for one in marks]
        if all(one.state == TO_JUDGE for one in mine):
            continue
        counted = [one for one in marks if one[key].state != LEFT_OUT]
        if not counted:
            continue
        shares = [one[key].mark / one[key].weight for one in counted]
        rest = [_sum(one) - one[key].mark for one in counted]
        full = sum(share >= 1.0 - 1e-9 for share in shares) / len(shares)
        first = mine[0]
        found.append(AspectPicture(key, first.title, first.weight, statistics.fmean(shares), full, separates(shares, rest)))
    return found


def _sum(marks: Mapping[str, object]) -> float:
    return sum(getattr(one, "mark", 0.0) for one in marks.values())


def separates(shares: Sequence[float], rest: Sequence[float]) -> float | None:
    """How well an aspect tells strong from weak: the correlation of its share with the marks on all the rest.

    From -1 to 1; None where one of the two is the same for everybody.
    """
    if len(set(shares)) < 2 or len(set(rest)) < 2:
        return None
    try:
        return statistics.correlation(shares, rest)
    except statistics.StatisticsError:  # so close together that their spread is nothing
        return None


def _missed(read: Sequence[Graded]) -> list[tuple[str, int]]:
    """The rules that most plans broke, with the number of plans; each plan counts once, consequences do not."""
    counted: Counter[str] = Counter()
    for one in read:
        counted.update({fault.rule for section in one.sections for aspect in section.aspects for fault in aspect.faults})
    return sorted(counted.items(), key=lambda item: (-item[1], item[0]))[:MOST_MISSED]
