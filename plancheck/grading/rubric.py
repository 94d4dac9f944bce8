"""A rubric as frozen data. Weights and marks are of 100; shares run from 0 to 1; values are SI."""

from __future__ import annotations

from collections.abc import Mapping

from plancheck.record import NamedTuple

RULES, DOCUMENTS, VALUE, AGREES, GIVEN, MATERIALS, ECONOMY, JUDGE = (
    "rules",
    "documents",
    "value",
    "agrees",
    "given",
    "materials",
    "economy",
    "judge",
)
ANY = "any"  # in a critical fault: whatever rule tells it
REST = "rest"  # an aspect of which the plan has nothing counts as the mean of the rest
WAYS = (RULES, DOCUMENTS, VALUE, AGREES, GIVEN, MATERIALS, ECONOMY, JUDGE)


class Aspect(NamedTuple):
    """One thing that is marked. way: one of WAYS; the fields of the other ways are empty.

    steps: (up to how many root causes, share kept); each: marks off for each root cause; floor: fewest marks left;
    full and half: the bands of a value, SI; agrees: what is compared; given: paths of keys whose values the task gives; within: tolerance of materials and of economy;
    of: fittings or tube; judge: what a person looks at; absent: "none", "all" or REST; read: what to read again.
    """

    id: str
    title: str
    weight: float
    way: str
    rules: tuple[str, ...] = ()
    steps: tuple[tuple[int, float], ...] = ()
    each: float | None = None
    floor: float = 0.0
    advice: bool = False
    absent: str = "none"
    value: str = ""
    full: float | None = None
    half: float | None = None
    agrees: tuple[str, ...] = ()
    given: tuple[tuple[str, ...], ...] = ()
    within: float = 0.0
    of: str = ""
    judge: str = ""
    read: str = ""


class Section(NamedTuple):
    """A part of the scheme."""

    id: str
    title: str
    weight: float
    aspects: tuple[Aspect, ...]


class Critical(NamedTuple):
    """A fault that caps the total (cap) or takes a section (fails): findings of its rules (ANY: of all) of at least its severity, or
    fewer of something in the plan than fewest names (`runs`, `fixtures`, or a kind of part). unsaid: what these rules cannot judge, as the plan does not say it,
    counts as well; says: keys that the plan must have, such as code/family."""

    id: str
    title: str
    rules: tuple[str, ...] = ()
    severity: str = "hazard"
    cap: float | None = None
    fails: str | None = None
    fewest: tuple[tuple[str, int], ...] = ()
    unsaid: bool = False
    says: tuple[str, ...] = ()


class Rubric(NamedTuple):
    """A whole marking scheme. raw: the bytes of its file; reference: the file of the reference layout, found, or None;
    all_new: whether everything in a plan is marked as new work."""

    file: str
    raw: bytes
    title: str
    for_: str
    stage: str | None
    pass_: float | None
    unreadable: float
    step: float
    reference: str | None
    sections: tuple[Section, ...]
    critical: tuple[Critical, ...]
    all_new: bool = False

    def aspects(self) -> Mapping[str, tuple[Section, Aspect]]:
        """Every aspect by `section/aspect`."""
        return {f"{section.id}/{aspect.id}": (section, aspect) for section in self.sections for aspect in section.aspects}
