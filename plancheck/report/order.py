"""The punch list in order: station by station as one walks the house, and with each finding what hangs on it.

A finding hangs on the one that causes it, and on the first of its rule that the same line of the plan makes in the same
way: one wrong default, one finding. What hangs on a finding has the numbers right behind it. Nothing hangs on what is
milder than itself: a correction is not to be looked for beneath a piece of advice. Corrections of one rule with one such
cause hang on the first of them.
"""

from __future__ import annotations

from collections.abc import Iterable

from plancheck.outcomes import SEVERITIES
from plancheck.report.data import Finding
from plancheck.report.stations import Stations

_Links = list[tuple[int, str] | None]  # for each finding the place of the one it hangs on and how, or None


def in_order(found: Iterable[Finding], stations: Stations) -> tuple[Finding, ...]:
    """The findings numbered: hazards first in each station, then as they stand in the file, each tied to its root."""
    walk = {name: number for number, name in enumerate(stations.order())}
    last = len(walk)
    sorted_ = sorted(
        found,
        key=lambda one: (walk.get(one.station, last), SEVERITIES.index(one.severity), one.line, one.column, one.rule),
    )
    return _numbered(sorted_, _links(sorted_))


def _numbered(found: list[Finding], links: _Links) -> tuple[Finding, ...]:
    hanging: dict[int, list[tuple[bool, int]]] = {}
    for place, link in enumerate(links):
        if link is not None:
            root = _root(place, links)
            hanging.setdefault(root, []).append((link == (root, "same"), place))
    numbered: list[Finding] = []
    for place, link in enumerate(links):
        if link is not None:
            continue
        number = len(numbered) + 1
        numbered.append(found[place]._replace(number=number))
        for same, other in sorted(hanging.get(place, ())):  # what follows, then what is the same
            tie = "same" if same else "follows"
            numbered.append(found[other]._replace(number=len(numbered) + 1, under=number, tie=tie))
    return tuple(numbered)


def _links(found: list[Finding]) -> _Links:
    first: dict[tuple[object, ...], int] = {}
    by_path: dict[str, list[int]] = {}
    for place, one in enumerate(found):
        first.setdefault(_line_of(one), place)
        by_path.setdefault(one.path, []).append(place)
    alike: dict[tuple[str, ...], int] = {}  # the first of a rule whose cause is milder than it
    links: _Links = []
    for place, one in enumerate(found):
        causes = [other for other in by_path.get(one.cause, ()) if other != place] if one.cause is not None else []
        cause = _cause(place, found, causes)
        head = first[_line_of(one)]
        if head == place and causes and cause is None:
            head = alike.setdefault((one.rule, one.severity, one.cause or ""), place)
        links.append((head, "same") if head != place else (cause, "follows") if cause is not None else None)
    for place in range(len(links)):
        _open_circle(place, links)
    return links


def _line_of(one: Finding) -> tuple[object, ...]:
    """What findings share that one line of the plan makes: all but the thing, and so the words that name it."""
    limit = (one.limit.id, one.limit.value, one.limit.source) if one.limit is not None else None
    return (
        one.file,
        one.rule,
        one.severity,
        one.line,
        one.column,
        limit,
        one.found,
        one.needed,
        one.why,
        one.ask,
        one.caution,
    )


def _cause(place: int, found: list[Finding], causes: Iterable[int]) -> int | None:
    """Of the findings at the path of a cause the one of the same rule, else the first; none that is milder."""
    grave = SEVERITIES.index(found[place].severity)
    others = [other for other in causes if SEVERITIES.index(found[other].severity) <= grave]
    own = [other for other in others if found[other].rule == found[place].rule]
    return next(iter((*own, *others)), None)


def _open_circle(place: int, links: _Links) -> None:
    """Makes a finding a root where it would hang on itself in the end."""
    link, seen = links[place], {place}
    while link is not None and link[0] not in seen:
        seen.add(link[0])
        link = links[link[0]]
    if link is not None and link[0] == place:
        links[place] = None


def _root(place: int, links: _Links) -> int:
    while (link := links[place]) is not None:
        place = link[0]
    return place
