"""Waivers: accepted findings with a reason, a name and an end, from the plan or from a file beside it.

One that is incomplete, past, or matches nothing is not applied, and that is a finding of its own; so is one that would
waive a hazard without naming the authority that takes it. What is waived stays in the report.
"""

from __future__ import annotations

from collections.abc import Iterable

from plancheck.engine import Judged
from plancheck.facts import Facts
from plancheck.model import Path, Waiver
from plancheck.model.said import NONE, NOT_KNOWN
from plancheck.outcomes import BROKEN, CRASHED, HOLDS, Outcome, Subject
from plancheck.record import NamedTuple
from plancheck.report.data import Finding, WaivedFinding
from plancheck.report.stations import HOUSE

RULE = "waiver"
WORDS = """A waiver is whole, in force, and about something that is there

Looks at: each waiver of the plan, and of the file given with --waivers.
Why: a waiver that has ended or matches nothing hides what it once was about, and the next reader takes it for agreed.
To mend: complete it, renew it with whoever accepted the finding, or take it out.
Cannot see: whether whoever is named did accept it.
Ask: only the authority can take a hazard on itself; a waiver of one names it, and the place where it is written down.
"""
_WHY = "A waiver that does not hold hides nothing, but the next reader takes the thing for agreed."
_ASK = "Whoever accepted the finding: with hazards the authority itself."
_NOBODY = (None, "", NONE, NOT_KNOWN)
_Fault = tuple[str, str, str]  # what is wrong, how to mend it, severity


class Wanted(NamedTuple):
    """A waiver as it stands somewhere: number from 0 in its list; file: empty for the plan itself."""

    waiver: Waiver
    number: int
    line: int
    column: int
    file: str = ""


class Applied(NamedTuple):
    """What waivers do: the findings that stay (those on waivers among them), those waived, and a judgement of each waiver."""

    findings: list[Finding]
    waived: tuple[WaivedFinding, ...]
    judged: tuple[Judged, ...]


def apply_waivers(
    facts: Facts,
    found: list[Finding],
    judged: tuple[Judged, ...],
    ran: frozenset[str],
    known: frozenset[str],
    more: Iterable[Wanted] = (),
) -> Applied:
    """Applies the waivers of the plan and more. ran: the rules that ran; known: all rules there are."""
    taken: dict[int, WaivedFinding] = {}
    own: list[Finding] = []
    judgements: list[Judged] = []
    for wanted in (*_of_plan(facts), *more):
        waiver = wanted.waiver
        if waiver.rule in known and waiver.rule not in ran:
            continue  # not asked today
        met = [number for number, one in enumerate(found) if one.rule == waiver.rule and _below(one.path, waiver.at)]
        fault = _fault(waiver, facts, known) or _met_nothing(waiver, facts, judged, bool(met))
        if fault is None:
            hazards = [] if _authority(waiver) else [number for number in met if found[number].severity == "hazard"]
            taken = {**{number: _waived(found[number], wanted) for number in met if number not in hazards}, **taken}
            fault = _on_hazard(found[hazards[0]]) if hazards else None
        judgements.append(_judged(wanted, fault))
        if fault is not None:
            own.append(_finding(wanted, fault))
    kept = [one for number, one in enumerate(found) if number not in taken]
    return Applied(kept + own, tuple(taken[number] for number in sorted(taken)), tuple(judgements))


def _of_plan(facts: Facts) -> Iterable[Wanted]:
    for number, waiver in enumerate(facts.plan.waivers):
        yield Wanted(waiver, number, *facts.source.place(("waivers", number)))


def _fault(waiver: Waiver, facts: Facts, known: frozenset[str]) -> _Fault | None:
    for key in ("rule", "at", "because", "by", "until"):
        if getattr(waiver, key) in _NOBODY:
            return (
                f"It does not say '{key}'.",
                f"Add {key}: rule, at, because, by and until belong to a waiver.",
                "advice",
            )
    if waiver.rule not in known:
        from plancheck.building.notes import nearest

        meant = nearest(str(waiver.rule), known)
        mend = f"{meant[:1].upper()}{meant[1:]}plancheck rules lists them." if meant else "plancheck rules lists them."
        return f"There is no rule '{waiver.rule}'.", mend, "advice"
    until = str(waiver.until).removeprefix("about ")
    if until < facts.today:
        return f"It ended on {until}.", "Mend what it is about, or have it renewed.", "advice"
    if not str(waiver.at).strip("/"):
        return "It is about the whole plan.", "Name the thing it is about by its path, such as /parts/sink.", "advice"
    return None


def _met_nothing(waiver: Waiver, facts: Facts, judged: tuple[Judged, ...], met: bool) -> _Fault | None:
    if met:
        return None
    own = [one for one in judged if one.rule == waiver.rule and one.outcome.kind == CRASHED]
    if any(not one.subject.path or _below(_pointer(one.subject.path), waiver.at) for one in own):
        return None  # the rule failed: nobody knows
    if not _is_there(str(waiver.at), facts, judged):
        return f"There is nothing at {waiver.at} in the plan.", "Correct the path, or take the waiver out.", "advice"
    return f"{waiver.rule} finds nothing at {waiver.at}.", "Take the waiver out: there is nothing to accept.", "advice"


def _is_there(at: str, facts: Facts, judged: tuple[Judged, ...]) -> bool:
    here: object = facts.source.data
    for step in at.strip("/").split("/"):
        if isinstance(here, dict) and step in here:
            here = here[step]
        elif isinstance(here, list) and step.isdecimal() and int(step[:9]) < len(here):
            here = here[int(step[:9])]
        else:
            return any(_below(_pointer(one.outcome.at or one.subject.path), at) for one in judged)
    return True


def _authority(waiver: Waiver) -> str:
    """Who takes it; `none` and `not known` are nobody."""
    return "" if waiver.authority in _NOBODY else str(waiver.authority)


def _on_hazard(one: Finding) -> _Fault:
    says = f"It would waive a hazard ({one.path}) and names no authority: the hazard stays."
    return (
        says,
        "Mend the hazard; or have the authority accept it in writing, and name it with authority.",
        "correction",
    )


def _judged(wanted: Wanted, fault: _Fault | None) -> Judged:
    subject = Subject(("waivers", wanted.number), _name(wanted))
    return Judged(RULE, subject, Outcome(HOLDS) if fault is None else Outcome(BROKEN, fault[0], fault[2]))


def _name(wanted: Wanted) -> str:
    waiver, file = wanted.waiver, f" of {wanted.file}" if wanted.file else ""
    return f"waiver {wanted.number + 1}{file}: {waiver.rule} at {waiver.at}"


def _finding(wanted: Wanted, fault: _Fault) -> Finding:
    says, mend, severity = fault
    says = f"This waiver is not applied. {says}"
    return Finding(
        0, RULE, severity, HOUSE, "", f"/waivers/{wanted.number}", wanted.line, wanted.column, "", _name(wanted), None,
        says, "", "", _WHY, None, None, mend, _ASK, "", file=wanted.file,
    )  # fmt: skip


def _waived(one: Finding, wanted: Wanted) -> WaivedFinding:
    waiver = wanted.waiver
    until = (waiver.until or "").removeprefix("about ")
    return WaivedFinding(one, waiver.because or "", waiver.by or "", until, _authority(waiver), wanted.file)


def _pointer(path: Path) -> str:
    return "".join(f"/{step}" for step in path)


def _below(path: str, at: str | None) -> bool:
    at = (at or "").rstrip("/")
    return path == at or path.startswith(f"{at}/")
