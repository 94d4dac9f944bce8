"""A pile of plans marked one after the other, with steady memory: each is read, marked, handed on and let go."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from plancheck.check import facts_of
from plancheck.engine import run_rules
from plancheck.errors import Problem, Unreadable
from plancheck.facts import Facts
from plancheck.grading.anonymous import anonymous, masked, own_words
from plancheck.grading.counts import Fixtures, fixtures_of
from plancheck.grading.grade import graded, unread
from plancheck.grading.marking import Submission, economy_of
from plancheck.grading.marksfile import Marks
from plancheck.grading.results import Graded
from plancheck.grading.rubric import ECONOMY, Rubric
from plancheck.grading.shown import shown_of
from plancheck.limits import Amended
from plancheck.loader import LoadedRule
from plancheck.reading import load_bytes, read_bytes
from plancheck.record import NamedTuple
from plancheck.report.assemble import Options, assemble
from plancheck.takeoff import takeoff

if TYPE_CHECKING:
    from plancheck.amendments.load import Amendments


class Class(NamedTuple):
    """All that the marks of a class rest on, but the plans. amendments: of the local authority, if any."""

    rubric: Rubric
    rules: tuple[LoadedRule, ...]
    marks: Marks
    today: str
    amendments: Amendments | None = None
    reference: Facts | None = None
    thriftiest: Mapping[Fixtures, tuple[float, float]] | None = None

    @property
    def amended(self) -> Mapping[str, Mapping[str, Amended]]:
        """The amended limits."""
        return self.amendments.limits if self.amendments is not None else {}


class Paper(NamedTuple):
    """One file of the pile: where it is, what its candidate is called, its hash."""

    file: str
    candidate: str
    sha256: str


Seen = Callable[[Graded, Facts | None], object]


def hash_of(file: str) -> str:
    """The SHA-256 of a file; of one that cannot be fetched that of its name. Never raises for a file."""
    try:
        return hashlib.sha256(load_bytes(file)).hexdigest()
    except Unreadable:
        return hashlib.sha256(file.encode(errors="surrogateescape")).hexdigest()


def mark_all(klass: Class, papers: Sequence[Paper]) -> Iterator[tuple[Graded, Facts | None]]:
    """Every paper with its marks and the facts of its plan (None where it cannot be read), in order."""
    if _needs_thriftiest(klass):
        klass = klass._replace(thriftiest=thriftiest(klass, papers))
    for paper in papers:
        yield mark_one(klass, paper)


def _needs_thriftiest(klass: Class) -> bool:
    return klass.reference is None and any(aspect.way == ECONOMY for _, aspect in klass.rubric.aspects().values())


def mark_one(klass: Class, paper: Paper) -> tuple[Graded, Facts | None]:
    """One paper with its marks. A file that cannot be read has its own row and never stops the class."""
    try:
        work = submission(klass, paper)
    except Unreadable as wrong:
        words = own_words(paper.file)
        why = tuple(_why(problem, words) for problem in wrong.problems[:5])
        return unread(klass.rubric, paper.candidate, paper.sha256, why), None
    return graded(klass.rubric, work, paper.candidate, paper.sha256, klass.marks), work.facts


def _why(problem: Problem, words: Collection[str]) -> str:
    """What is wrong, without the name of the file and without words of the plan, which may name somebody."""
    where = f"Line {problem.line}: " if problem.line else ""
    return masked(f"{where}{problem.says}{f'; {problem.mend}' if problem.mend else ''}", words)


def submission(klass: Class, paper: Paper) -> Submission:
    """A paper read and judged, without names. Raises Unreadable."""
    source = anonymous(read_bytes(load_bytes(paper.file), "plan"), paper.candidate, klass.rubric.stage, klass.rubric.all_new)
    facts = facts_of(source, klass.today)
    options = Options(known=frozenset(rule.id for rule in klass.rules), amendments=klass.amendments)
    judged = run_rules(klass.rules, facts, klass.amended)
    report = assemble(facts, klass.rules, judged, options)
    best = klass.thriftiest.get(fixtures_of(facts.plan)) if klass.thriftiest is not None else None
    return Submission(facts, report, klass.reference, best, shown_of(judged))


def thriftiest(klass: Class, papers: Sequence[Paper]) -> Mapping[Fixtures, tuple[float, float]]:
    """Fewest fittings and least tube of the sound plans of a class, by the fixtures they serve: what serves less has less.
    Sound: readable, and without a critical fault."""
    found: dict[Fixtures, tuple[float, float]] = {}
    for paper in papers:
        try:
            work = submission(klass, paper)
        except Unreadable:
            continue
        one = economy_of(takeoff(work.facts))
        if not graded(klass.rubric, work, paper.candidate, paper.sha256, klass.marks).critical and min(one) > 0.0:
            served = fixtures_of(work.facts.plan)
            best = found.get(served, one)
            found[served] = (min(one[0], best[0]), min(one[1], best[1]))
    return found
