"""Ways of joining plastic tube: which standard each needs on the print, what is no joint at all, and who joins what how."""

from __future__ import annotations

from collections.abc import Iterator

from plancheck.answers import is_new
from plancheck.facts import Facts
from plancheck.kinds import PLASTIC
from plancheck.model import ManifoldOwn, Part, Path, Ref, Run, Tube
from plancheck.outcomes import HOLDS, Outcome
from plancheck.printmarks import standards_in, standards_of
from plancheck.record import NamedTuple

INSERT = ("F1807", "F2159")
WANTED = {  # PEX and PE-RT: any of these on the print line
    "copper crimp ring": INSERT,
    "clamp ring": (*INSERT, "F2098"),
    "expansion ring": ("F1960",),
    "expansion sleeve": ("F2080",),
    "press sleeve": ("F3347", "F3348"),
    "press": ("F3347", "F3348"),
    "push": ("ASSE 1061", "F2854", "F876", "F877", "B137.5"),
}
WANTED_AL = {**WANTED, "copper crimp ring": ("F2434", "F1974"), "clamp ring": ("F2434", "F1974")}
RINGS = frozenset(WANTED)
BY_LISTING = frozenset(("compression", "union", "own fitting"))  # the fitting's own listing names the tube
LETS_GO = frozenset(("solder", "braze", "solvent cement"))
NEVER = LETS_GO | {"thread", "flare"}
CEMENTED = frozenset(("CPVC", "PVC"))
_OF_ENDS = ("F1807", "F2159", "F2098", "F1960", "F2080", "F3347", "F3348", "F2434", "F1974", "ASSE 1061", "F2854")
ENDS_TAKE = {**WANTED, "copper crimp ring": (*INSERT, "F2434", "F1974"), "clamp ring": (*WANTED["clamp ring"], "F2434")}
STANDARD = {  # in words
    "copper crimp ring": "F1807 or F2159",
    "clamp ring": "F2098 with F1807 or F2159",
    "expansion ring": "F1960",
    "expansion sleeve": "F2080",
    "press sleeve": "F3347 or F3348",
    "press": "F3347 or F3348",
    "push": "ASSE 1061 or F2854",
}
SIZES = ("3/8", "1/2", "5/8", "3/4", "1", "1-1/4", "1-1/2", "2", "2-1/2", "3", "4")


def within(size: str, most: str) -> bool:
    """Whether a nominal size lies between 3/8 and the largest; a largest that is no size of tube bars nothing."""
    return size in SIZES and (most not in SIZES or SIZES.index(size) <= SIZES.index(most))


class Made(NamedTuple):
    """Joints made in one way on one tube: of a run (its ends as (part, connection)), or of a manifold made of it.

    word: how, None where it is not said; path: the key that says it, or would.
    """

    name: str
    tube: Tube
    word: str | None
    ends: tuple[Ref, ...]
    place: str | None
    path: Path


def made_joints(facts: Facts) -> Iterator[Made]:
    """The joints of each new run and shop-made manifold of plastic; a run whose ends differ gives two."""
    tubes = {t.id: t for t in facts.plan.tubes.values() if t.material in PLASTIC and t.form != "connector"}
    if not tubes:
        return
    for run in facts.plan.runs.values():
        tube = tubes.get(run.tube) if run.tube is not None else None
        if tube is not None and is_new(run) and run.from_ is not None and run.to is not None:
            yield from _of_run(run, tube, facts)
    for part in facts.plan.parts.values():
        own = part.own
        if isinstance(own, ManifoldOwn) and own.tube in tubes and is_new(part):
            yield Made(part.id, tubes[own.tube], part.joint, (), part.place, ("parts", part.id, "joint"))


class Joints:
    """The joints of one plan, and for each tube whether all that is made of it lacks the standard of its joints.

    alike: no part says what its ends are made for, so that all joints of one tube and word are judged alike; held: what
    was found of those that hold.
    """

    def __init__(self, made: list[Made], alike: bool) -> None:
        self.made = made
        self.alike = alike
        self.held: dict[tuple[str, str | None], Outcome] = {}
        self._heads: dict[str, tuple[Path | None, Made]] = {}

    def keep(self, made: Made, outcome: Outcome) -> Outcome:
        """The outcome, kept for the joints like these where it holds."""
        if self.alike and outcome.kind == HOLDS:
            self.held[made.tube.id, made.word] = outcome
        return outcome

    def head(self, tube: Tube) -> tuple[Path | None, Made]:
        """The print of the tube, where it lacks what all its joints need (else None); and the first of its joints."""
        if tube.id not in self._heads:
            found = standards_of(tube)
            same = [one for one in self.made if one.tube.id == tube.id and one.word in WANTED]
            fails = not any(found & set(wanted_on(tube, one.word or "")) for one in same)
            self._heads[tube.id] = ("tubes", tube.id, "print") if fails else None, same[0]
        return self._heads[tube.id]


def wanted_on(tube: Tube, word: str) -> tuple[str, ...]:
    """The standards of which this way of joining needs one on the print of this tube."""
    return (WANTED_AL if tube.material == "PEX-AL-PEX" else WANTED)[word]


def _of_run(run: Run, tube: Tube, facts: Facts) -> Iterator[Made]:
    first, last = (run.joint.from_, run.joint.to) if run.joint is not None else (None, None)
    path: Path = ("runs", run.id, "joint")
    place = facts.run_place(run.id)
    start, end = run.from_, run.to
    if start is None or end is None:
        return
    if first == last:
        yield Made(run.id, tube, first, (start, end), place, path)
        return
    yield Made(run.id, tube, first, (start,), place, (*path, "from"))
    yield Made(run.id, tube, last, (end,), place, (*path, "to"))


def made_for(part: Part, connection: str) -> str | None:
    """The text of what an end of a part is made for, or None where it is not said."""
    if isinstance(part.ends, str):
        return part.ends
    return part.ends.get(connection) if part.ends is not None else None


def other_end(made: Made, facts: Facts) -> tuple[str, str] | None:
    """(part, standard) of the first end that is made for another system than these joints, or None."""
    takes = ENDS_TAKE.get(made.word or "")
    if takes is None:
        return None
    for ref in made.ends:
        said = made_for(facts.plan.parts[ref.part], ref.connection)
        found = [one for one in standards_in((said,)) if one in _OF_ENDS] if said is not None else []
        if found and not set(found) & set(takes):
            return ref.part, min(found)
    return None
