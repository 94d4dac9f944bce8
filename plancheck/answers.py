"""What a rule answers with: the makers of outcomes, facts that have to be known, and comparisons with their grace."""

from __future__ import annotations

from typing import TypeVar

from plancheck.kinds import PLASTIC
from plancheck.limits import InForce, NotShown
from plancheck.measures import Length, Quantity
from plancheck.measures.units import GPM_M3S, INCH_M, PSI_PA
from plancheck.model import NOT_KNOWN, Part, Path, Plan, Run, Tube
from plancheck.outcomes import BROKEN, HOLDS, LATER, NOT_SHOWN, ON_SITE, Measured, Outcome

GRACE_LENGTH_M = INCH_M / 16  # 1/16 in, so that 813 mm is 32 in
GRACE_PRESSURE_PA = 0.5 * PSI_PA
GRACE_TEMPERATURE_C = 0.5 / 1.8
GRACE_FLOW_M3S = 0.005 * GPM_M3S
_ROUNDING = 1e-9  # share of a limit by which turning units may be off: so small in pascals as in metres

T = TypeVar("T")


def holds(
    says: str = "", measured: Measured | None = None, limit: InForce | None = None, estimate: str = ""
) -> Outcome:
    """The subject holds. estimate: the estimate it rests on, in the writer's words; then it counts as not shown."""
    if estimate:
        return Outcome(NOT_SHOWN, f"holds on an estimate ({estimate}); measure it", measured=measured, limit=limit)
    return Outcome(HOLDS, says, None, measured, limit)


def broken(
    says: str,
    severity: str,
    *,
    measured: Measured | None = None,
    limit: InForce | None = None,
    found: str = "",
    needed: str = "",
    why: str = "",
    mend: str = "",
    ask: str = "",
    caution: str = "",
    cause: Path | None = None,
    at: Path | None = None,
    estimate: str = "",
) -> Outcome:
    """The subject is broken.

    severity: hazard, correction or advice; a practice limit lowers a correction to advice. estimate: the estimate it
    rests on; it is named in the caution.
    """
    if limit is not None and limit.practice and severity == "correction":
        severity = "advice"
    if estimate:
        caution = " ".join(filter(None, (caution, f"Rests on an estimate ({estimate}): measure it to be sure.")))
    return Outcome(
        BROKEN, says, severity, measured, limit, found, needed, why, mend, ask, caution, cause, at, (), estimate
    )


def on_site(says: str) -> Outcome:
    """Only a person on site can tell; says what to look at."""
    return Outcome(ON_SITE, says)


def later(says: str) -> Outcome:
    """The job is not at the stage at which this can be judged."""
    return Outcome(LATER, says)


def known(value: T | str | None, path: Path, what: str) -> T:
    """The value where the plan states it. Raises NotShown where it is not said or not known.

    Use for measures (Length, Size, Quantity): the text none passes through for the caller to look at.
    """
    if value is None or value == NOT_KNOWN:
        raise NotShown(path, what)
    return value  # type: ignore[return-value]


def known_length(value: Length | str | None, path: Path, what: str) -> Length:
    """A length the plan states. Raises NotShown for not said, not known or none."""
    if not isinstance(value, Length):
        raise NotShown(path, what)
    return value


def known_quantity(value: Quantity | str | None, path: Path, what: str) -> Quantity:
    """A quantity a plan states. Raises NotShown for not said, not known or none."""
    if not isinstance(value, Quantity):
        raise NotShown(path, what)
    return value


def known_text(value: str | None, path: Path, what: str) -> str:
    """A text the plan states. Raises NotShown for not said or not known."""
    if value is None or value == NOT_KNOWN:
        raise NotShown(path, what)
    return value


def capital(words: str) -> str:
    """The words with a capital at the start, for a sentence that begins with a name."""
    return words[:1].upper() + words[1:]


def is_new(thing: Part | Run) -> bool:
    """Whether the work is new: what a plan does not call existing or removed is."""
    return thing.work not in ("existing", "removed")


def is_plastic(tube: Tube | None) -> bool:
    """Whether the tube is of plastic."""
    return tube is not None and tube.material in PLASTIC


def tube_of(run: Run, plan: Plan) -> Tube | None:
    """The tube of a run, or None where the plan does not have it."""
    return plan.tubes.get(run.tube) if run.tube is not None else None


def fished_at(run: Run, at: object) -> bool:
    """Whether the tube was fished at a place along the run. at: a Length from its start; anything else is no place said."""
    if not isinstance(run.fished, tuple):
        return run.fished is True
    first, last = sorted(one.m for one in run.fished)
    return isinstance(at, Length) and first <= at.m <= last


def at_least(found: float, least: float, grace: float) -> bool:
    """Whether a figure reaches its least value; equal holds, with the grace."""
    return found >= least - grace - _ROUNDING * abs(least)


def at_most(found: float, most: float, grace: float) -> bool:
    """Whether a figure stays within its most; equal holds, with the grace."""
    return found <= most + grace + _ROUNDING * abs(most)


def length(m: float) -> Measured:
    """A measured length, metres."""
    return Measured(m, "length")


def estimates(*values: object) -> str:
    """The writer's own words of the values that are estimates, joined; empty where none is."""
    return ", ".join(value.text for value in values if isinstance(value, Length | Quantity) and value.about)
