"""The list of material the apprentice wrote against what his own plan holds."""

from __future__ import annotations

from collections.abc import Iterator

from plancheck.facts import Facts
from plancheck.grading.values import Unknown
from plancheck.measures import Length
from plancheck.record import NamedTuple
from plancheck.takeoff import takeoff


class Line(NamedTuple):
    """One line: what, how much is written (None where it is not), how much the plan holds, both in words."""

    what: str
    written: float | None
    held: float
    words: str


def material_lines(facts: Facts) -> Iterator[Line]:
    """Every line of the list and of the plan. Raises Unknown where no list is written, or one cannot be compared."""
    said = facts.plan.materials
    if said is None:
        raise Unknown("a list of material (materials)")
    held = takeoff(facts)
    for name in dict.fromkeys((*said.tubes, *held.tubes)):
        length = said.tubes.get(name)
        written = length.m if isinstance(length, Length) else None
        has = held.tubes.get(name, 0.0)
        yield Line(f"tube {name}", written, has, f"{length.text if isinstance(length, Length) else 'not'} listed, {facts.length(round(has, 2))} drawn")
    for kind, lists, counts in (("", said.parts, held.parts), ("joints, ", said.joints, held.joints)):
        for name in dict.fromkeys((*lists, *counts)):
            number = lists.get(name)
            written = float(number) if isinstance(number, int) else None
            yield Line(f"{kind}{name}", written, float(counts.get(name, 0)), f"{number if number is not None else 'not'} listed, {counts.get(name, 0)} drawn")


def materials_share(facts: Facts, within: float) -> tuple[float, str]:
    """The share of lines that agree within a tolerance, and what differs. Raises Unknown."""
    lines = list(material_lines(facts))
    wrong = [line for line in lines if line.written is None or abs(line.written - line.held) > within * line.held + 1e-9]
    says = f"{len(lines) - len(wrong)} of {len(lines)} lines agree with the plan"
    if wrong:
        says += f"; off: {', '.join(f'{line.what} {line.words}' for line in wrong[:4])}"
        says += f" and {len(wrong) - 4} more" if len(wrong) > 4 else ""
    return (len(lines) - len(wrong)) / len(lines) if lines else 1.0, f"{says}."
