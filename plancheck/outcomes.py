"""What a rule answers on one subject, as frozen data; text is made from it last."""

from typing import Any

from plancheck.limits import InForce
from plancheck.model import Path
from plancheck.record import NamedTuple

SEVERITIES = ("hazard", "correction", "advice")
STAGES = ("layout", "rough-in", "finished")
HOLDS, BROKEN, NOT_SHOWN, ON_SITE, LATER, CRASHED = "holds", "broken", "not shown", "on site", "later", "crashed"
OUTCOMES = (HOLDS, BROKEN, NOT_SHOWN, ON_SITE, LATER, CRASHED)


class Measured(NamedTuple):
    """A figure that was found: SI value, the kind of its unit (length, pressure, count, text ...)."""

    value: float | str
    unit: str


class Subject(NamedTuple):
    """One thing a rule judges.

    path: down to the subject; name: in a plumber's words; place: the id of the place it is in, if any; thing: what the
    rule's check needs; stage: the first stage at which it is judged, where later than the rule's own.
    """

    path: Path
    name: str
    place: str | None = None
    thing: Any = None
    stage: str | None = None


class Outcome(NamedTuple):
    """The answer of one rule on one subject.

    says: what was found, one sentence; found and needed: the two figures in words; cause: path of the root it follows
    from; at: where it stands when that is more exact than the subject; needs: the keys that would let it be judged.
    """

    kind: str
    says: str = ""
    severity: str | None = None
    measured: Measured | None = None
    limit: InForce | None = None
    found: str = ""
    needed: str = ""
    why: str = ""
    mend: str = ""
    ask: str = ""
    caution: str = ""
    cause: Path | None = None
    at: Path | None = None
    needs: tuple[Path, ...] = ()
    estimate: str = ""


class Rule(NamedTuple):
    """What a rule file declares: the highest severity it may give, the first stage it judges at, and its limits."""

    highest: str
    stage: str
    limits: tuple[Any, ...] = ()
