"""One call of `grade`: a rubric and a pile of plans in, marks, feedback and a picture of the class out."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from plancheck.calls import NOTHING, check_day, is_same, write_whole
from plancheck.check import facts_of
from plancheck.errors import Problem, Unreadable
from plancheck.grading.again import Before, load_before, with_changes
from plancheck.grading.alike import features_of, near_identical
from plancheck.grading.load import load_rubric
from plancheck.grading.machine import gradebook, made_with, result_json
from plancheck.grading.marksfile import NO_MARKS, Marks, load_marks
from plancheck.grading.picture import class_picture
from plancheck.grading.pile import Class, Paper, hash_of, mark_all
from plancheck.grading.results import ClassPicture, Graded, Made
from plancheck.grading.roster import load_roster, pseudonyms
from plancheck.loader import built_in_rules
from plancheck.reading import load_bytes, read_plan
from plancheck.record import NamedTuple

if TYPE_CHECKING:
    from rich.console import Console

    from plancheck.facts import Facts

_TOLD = 8  # candidates that are called by name
_ENDINGS = (".plan.yaml", ".plan.json")


class Call(NamedTuple):
    """The arguments of `grade`, as said. pages: a folder for feedback and class pages; out: a file for the result."""

    rubric: str
    plans: tuple[str, ...]
    marks: str | None = None
    roster: str | None = None
    before: str | None = None
    pages: str | None = None
    report: str = "screen"
    out: str | None = None
    amend: str | None = None
    today: str = ""


class Result(NamedTuple):
    """A class that was graded."""

    klass: Class
    made: Made
    class_: tuple[Graded, ...]
    picture: ClassPicture


def grade(call: Call) -> int:
    """Grades the plans, prints or writes the result. Raises Unreadable for arguments; a plan that cannot be read is a row."""
    check_day(call.today)
    result = run_grade(call)
    if call.report == "screen":
        from plancheck.flowcalls import show
        from plancheck.report.gradetext import print_class

        def draw(console: Console) -> None:
            print_class(console, result.klass.rubric, result.class_, result.picture)

        show(draw, call.out)
        return NOTHING
    if call.report == "json":
        text = result_json(result.klass.rubric, result.made, result.class_, result.picture)
    else:
        text = gradebook(result.klass.rubric, result.class_)
    if call.out is None:
        sys.stdout.write(text)
    else:
        write_whole(call.out, text, "the result")
    return NOTHING


def run_grade(call: Call) -> Result:
    """The result of a call. Raises Unreadable."""
    rules = built_in_rules()
    rubric = load_rubric(call.rubric, [rule.id for rule in rules])
    roster = load_roster(call.roster) if call.roster is not None else {}
    papers = _papers(call, roster)
    _check_out(call, papers)
    known = [*(paper.candidate for paper in papers), *roster.values()]
    marks = load_marks(call.marks, rubric, known) if call.marks is not None else NO_MARKS
    before = load_before(call.before) if call.before is not None else None
    klass = Class(rubric, rules, marks, call.today)
    if call.amend is not None:
        from plancheck.amendments.load import load_amendments

        klass = klass._replace(amendments=load_amendments(call.amend, rules))
    reference = b""
    if rubric.reference is not None:
        source = read_plan(rubric.reference)
        klass, reference = klass._replace(reference=facts_of(source, call.today)), source.raw
    made = made_with(rubric, marks.raw, rules, reference, call.today, load_bytes(call.amend) if call.amend else b"")
    gc.enable()  # left off for a short run; each plan's facts hold each other
    class_, features = [], {}
    writer = _Pages(call, klass, made) if call.pages is not None else None
    for one, facts in _shown(mark_all(klass, papers), len(papers)):
        changed = with_changes(one, before) if before is not None else one
        if facts is not None:
            features[one.candidate] = features_of(facts)
        if writer is not None:
            writer.add(changed, facts)
        class_.append(_compact(changed) if call.report != "json" else _without_drawing(changed))
    if before is not None:
        _tell_before(before, made, class_)
    _tell_marks(marks, class_)
    given = features_of(klass.reference) if klass.reference is not None else frozenset()
    picture = class_picture(class_, near_identical(features, given))
    if writer is not None:
        writer.finish(tuple(class_), picture)
    return Result(klass, made, tuple(class_), picture)


def _compact(one: Graded) -> Graded:
    """Without the report, so that a big class takes little memory."""
    return one._replace(report=None)


def _without_drawing(one: Graded) -> Graded:
    """With the findings alone of its report, which the JSON lists."""
    if one.report is None:
        return one
    report = one.report._replace(raw=b"", on_site=(), not_shown=(), later=(), cautions=(), tally={})
    return one._replace(report=report)


class _Pages:
    """Writes the pages of a class as it is graded."""

    def __init__(self, call: Call, klass: Class, made: Made) -> None:
        from plancheck.folders import check_folder
        from plancheck.pages.gradepages import titles_of

        self._folder = str(call.pages)
        self._rubric, self._made, self._titles = klass.rubric, made, titles_of(klass.rules)
        check_folder(self._folder)

    def add(self, one: Graded, facts: Facts | None) -> None:
        from plancheck.folders import write_folder
        from plancheck.pages.gradepages import drawing_of, feedback_page

        page = feedback_page(self._rubric, self._made, one, self._titles, drawing_of(one, facts))
        write_folder(self._folder, {f"feedback/{file_name(one.candidate)}.html": page})

    def finish(self, class_: tuple[Graded, ...], picture: ClassPicture) -> None:
        from plancheck.folders import write_folder
        from plancheck.pages.gradepages import class_page

        page = class_page(self._rubric, self._made, class_, picture, self._titles)
        write_folder(self._folder, {"class.html": page, "gradebook.csv": gradebook(self._rubric, class_)})


def file_name(candidate: str) -> str:
    """A pseudonym as the name of a file."""
    return "".join(sign if sign.isalnum() or sign in "-_" else "_" for sign in candidate)[:80] or "candidate"


def _shown(marked: Iterator[tuple[Graded, Facts | None]], total: int) -> Iterator[tuple[Graded, Facts | None]]:
    """The same, with a bar on a terminal where it takes long."""
    if total < 20 or not sys.stderr.isatty():
        yield from marked
        return
    from rich.console import Console
    from rich.progress import track

    yield from track(marked, "grading", total=total, console=Console(file=sys.stderr), transient=True)


def _papers(call: Call, roster: Mapping[str, str]) -> tuple[Paper, ...]:
    for name in call.plans:
        if not os.path.lexists(name):
            raise Unreadable((Problem(name, 0, 0, "there is no such file or folder", "name the folder with the plans, or the plans"),))
    files = [file for name in call.plans for file in (_in_folder(name) if os.path.isdir(name) else (name,))]
    if not files:
        says = "there is no plan in it: files named *.plan.yaml or *.plan.json are looked for"
        raise Unreadable((Problem(call.plans[0], 0, 0, says, "name the folder with the plans, or the plans"),))
    hashes = [hash_of(file) for file in files]
    names = pseudonyms(files, hashes, roster)
    _tell_roster(roster, names)
    return tuple(Paper(*one) for one in zip(files, names, hashes, strict=True))


def _tell_roster(roster: Mapping[str, str], names: Sequence[str]) -> None:
    """Says who is on the roster and handed nothing in, and which plans are not on it."""
    missing = [candidate for candidate in roster.values() if candidate not in names]
    if missing:
        sys.stderr.write(f"not handed in, by the roster: {', '.join(missing[:_TOLD])}{_more(missing)}\n")
    strange = [name for name in names if roster and name not in roster.values()]
    if strange:
        sys.stderr.write(f"not on the roster, called by their hash: {', '.join(strange[:_TOLD])}{_more(strange)}\n")


def _more(names: Sequence[str]) -> str:
    return f" and {len(names) - _TOLD} more" if len(names) > _TOLD else ""


def _tell_marks(marks: Marks, class_: Sequence[Graded]) -> None:
    """Says where the marks file has marks that go nowhere."""
    for one in class_:
        failed = {aspect.key for section in one.sections if section.failed for aspect in section.aspects}
        lost = [key for key in marks.overrides.get(one.candidate, {}) if key in failed]
        found = {fault.id for fault in one.critical}
        strange = [id_ for id_ in marks.lifted.get(one.candidate, {}) if id_ not in found]
        if lost:
            sys.stderr.write(f"{one.candidate}: overridden without effect, a critical fault takes the section: {', '.join(lost)}\n")
        if strange and not one.unread:
            sys.stderr.write(f"{one.candidate}: lifted, but not found in this plan: {', '.join(strange)}\n")
    unread = [one.candidate for one in class_ if one.unread and (one.candidate in marks.overrides or one.candidate in marks.judged)]
    if unread:
        sys.stderr.write(f"marks without effect, the plan cannot be read: {', '.join(unread[:_TOLD])}{_more(unread)}\n")


def _tell_before(before: Before, made: Made, class_: Sequence[Graded]) -> None:
    """Says where an earlier result cannot be compared with: none of its candidates is here, or it rests on another rubric."""
    if not any(one.candidate in before.findings for one in class_):
        sys.stderr.write("--before: none of its candidates is in this class; a roster gives them the same names both times\n")
    if before.rubric_sha256 and before.rubric_sha256 != made.rubric_sha256:
        sys.stderr.write("--before: that result was made by another rubric; findings are compared, marks are not\n")


def _in_folder(folder: str) -> Iterator[str]:
    """The plans of a folder and those in it, in a fixed order."""
    for where, folders, names in os.walk(folder):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        for name in sorted(names):
            if name.endswith(_ENDINGS):
                yield os.path.join(where, name)


def _check_out(call: Call, papers: Sequence[Paper]) -> None:
    """Refuses to write over what is read."""
    read = [call.rubric, *(name for name in (call.marks, call.roster, call.before, call.amend) if name is not None)]
    for file in (*read, *(paper.file for paper in papers)) if call.out is not None else ():
        if is_same(file, str(call.out)):
            says = f"--out {call.out} is {file} itself, which would be written over"
            raise Unreadable((Problem("the command line", 0, 0, says, "name another file; nothing was written"),))
