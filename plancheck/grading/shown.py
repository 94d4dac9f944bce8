"""Of how many things of a plan enough is said, rule by rule: a run with its bends is one thing, however many it has."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from plancheck.engine import Judged
from plancheck.outcomes import BROKEN, HOLDS, NOT_SHOWN, ON_SITE
from plancheck.record import NamedTuple


class Shown(NamedTuple):
    """Things of which enough is said, halves where of some of it; all things."""

    said: float = 0.0
    whole: int = 0

    @property
    def share(self) -> float:
        """From 0 to 1; 1 where there is nothing to say."""
        return self.said / self.whole if self.whole else 1.0


def shown_of(judged: Iterable[Judged]) -> Mapping[str, Shown]:
    """By rule. A thing is a part, a run, a tube, or one port of a manifold."""
    found: dict[str, dict[tuple[object, ...], set[bool]]] = {}
    for one in judged:
        if one.outcome.kind in (HOLDS, BROKEN, ON_SITE, NOT_SHOWN):
            path = one.subject.path
            thing = tuple(path[: 4 if len(path) > 3 and path[2] == "ports" else 2])
            found.setdefault(one.rule, {}).setdefault(thing, set()).add(one.outcome.kind != NOT_SHOWN)
    return {
        rule: Shown(sum(sum(kinds) / len(kinds) for kinds in things.values()), len(things))
        for rule, things in found.items()
    }


def together(shown: Mapping[str, Shown], rules: Iterable[str]) -> Shown:
    """Of several rules."""
    some = [shown[rule] for rule in rules if rule in shown]
    return Shown(sum(one.said for one in some), sum(one.whole for one in some))
