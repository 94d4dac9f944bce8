"""What grading gives, as frozen data: everything the screen, the gradebook, the JSON and the pages print."""

from __future__ import annotations

from plancheck.grading.alike import Alike
from plancheck.record import NamedTuple
from plancheck.report.data import PlanReport


class Fault(NamedTuple):
    """One root cause that costs marks in an aspect. number: of the finding in the plan's report; follows: how many
    findings hang on it; costs: marks taken off for it alone, as far as they can be told apart; also: findings of the same
    rule that are the same slip; line: of the plan where it stands."""

    number: int
    rule: str
    severity: str
    says: str
    mend: str
    follows: int
    costs: float
    also: tuple[int, ...] = ()
    line: int = 0


class AspectMark(NamedTuple):
    """The marks of one aspect.

    key: `section/aspect`; mark: what is given, of weight; state: marked, nothing to mark, to be judged, overridden;
    says: how it came about, in a sentence; holds, faults: subjects that hold, and root causes; not_shown: subjects about
    which the plan does not say enough; kept: what follows from faults paid for elsewhere; gain: what mending would bring; shown: the share of
    the marks that can be had for what the plan shows.
    """

    key: str
    title: str
    weight: float
    mark: float
    state: str
    says: str
    holds: int = 0
    faults: tuple[Fault, ...] = ()
    not_shown: int = 0
    kept: tuple[str, ...] = ()
    gain: float = 0.0
    because: str = ""
    by: str = ""
    second: str = ""
    read: str = ""
    shown: float = 1.0


class Thing(NamedTuple):
    """Something to mend: what it is called, how much the total rises when it is mended after those before it in the list,
    the root causes, or in a sentence what is missing; critical: whether a critical fault goes with it."""

    title: str
    gain: float
    faults: tuple[Fault, ...]
    says: str
    critical: bool = False


class SectionMark(NamedTuple):
    """The marks of a section; failed: titles of the critical faults that took it."""

    id: str
    title: str
    weight: float
    mark: float
    aspects: tuple[AspectMark, ...]
    failed: tuple[str, ...] = ()


class CriticalMark(NamedTuple):
    """A critical fault that was found: what it is, the findings (numbers), what it does; without: the total if it alone were
    not, all else left as it is; lifted: why and by whom its effect was lifted, empty where it stands."""

    id: str
    title: str
    numbers: tuple[int, ...]
    says: tuple[str, ...]
    cap: float | None
    fails: str | None
    without: float = 0.0
    lifted: str = ""


class Change(NamedTuple):
    """A finding that was mended since the last submission, or is new in this one (number 0: gone)."""

    rule: str
    path: str
    severity: str
    says: str
    number: int = 0


class Graded(NamedTuple):
    """One submission.

    candidate: pseudonym; sha256: of the plan; total: marks of 100 after caps; before_cap: without them; reached: whether
    the pass mark is, None without one; unread: why it cannot be read, empty where it can; report: of the plan, with names
    of people and files taken out; mended, unsaid (told no more as the plan says no
    more enough), new, still, total_before: against an earlier result;
    existing: how many runs the plan calls existing, which rules for new work leave alone.
    """

    candidate: str
    sha256: str
    total: float
    before_cap: float
    reached: bool | None
    sections: tuple[SectionMark, ...] = ()
    critical: tuple[CriticalMark, ...] = ()
    unread: tuple[str, ...] = ()
    report: PlanReport | None = None
    first: tuple[Thing, ...] = ()
    mended: tuple[Change, ...] = ()
    unsaid: tuple[Change, ...] = ()
    new: tuple[Change, ...] = ()
    still: int = 0
    total_before: float | None = None
    existing: int = 0
    to_judge: int = 0


class Made(NamedTuple):
    """What a result rests on: hashes of rubric, marks file, rulebook and reference, the version, the day."""

    version: str
    rubric_sha256: str
    marks_sha256: str
    rules_sha256: str
    reference_sha256: str
    today: str


class AspectPicture(NamedTuple):
    """One aspect over the class: mean share of its marks, share of plans with full marks, and how well it separates strong
    from weak (correlation with the rest of the total, None where it cannot be told)."""

    key: str
    title: str
    weight: float
    mean: float
    full: float
    separates: float | None


class ClassPicture(NamedTuple):
    """The class as a whole; withheld: why no figures are given (groups under five), else empty."""

    size: int
    unread: int
    withheld: str
    mean: float | None = None
    median: float | None = None
    lowest: float | None = None
    highest: float | None = None
    spread: float | None = None
    bands: tuple[tuple[str, int], ...] = ()
    aspects: tuple[AspectPicture, ...] = ()
    missed: tuple[tuple[str, int], ...] = ()
    critical: tuple[tuple[str, int], ...] = ()
    alike: tuple[Alike, ...] = ()
