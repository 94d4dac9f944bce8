"""A file of waivers beside the plans: which of them are about which plan."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from plancheck.building.values import BadValue, date
from plancheck.errors import Problem, Unreadable
from plancheck.model import Waiver
from plancheck.record import NamedTuple
from plancheck.report.waivers import Wanted
from plancheck.smallshape import read_small


class WaiverFile(NamedTuple):
    """The waivers of a file, each with the plan it names, or an empty text."""

    file: str
    entries: tuple[tuple[str, Wanted], ...]

    def for_plan(self, plan: str) -> tuple[Wanted, ...]:
        """Those that are about the plan file."""
        return tuple(wanted for name, wanted in self.entries if not name or _is_named(plan, name))


def load_waivers(file: str, plans: Sequence[str]) -> WaiverFile:
    """The waivers of the file. Raises Unreadable, also where several plans are checked and one says no plan."""
    source = read_small(file, "waivers")
    entries, problems = [], []
    for number, entry in enumerate(source.data["waivers"]):
        place = source.place(("waivers", number))
        if len(plans) > 1 and "plan" not in entry:
            says = f"waiver {number + 1} does not say its plan, and several are checked"
            problems.append(Problem(file, *place, says, f"add, such as,  plan: {plans[0]}"))
        if "until" in entry:
            try:
                date(entry["until"])
            except BadValue as wrong:
                where = source.place(("waivers", number, "until"))
                problems.append(
                    Problem(file, *where, f"waiver {number + 1}, until: {wrong.bad[0][1]}", wrong.bad[0][2])
                )
        entries.append((entry.get("plan", ""), Wanted(_waiver(entry, source.data), number, *place, file)))
    if problems:
        raise Unreadable(tuple(problems))
    return WaiverFile(file, tuple(entries))


def _waiver(entry: Mapping[str, Any], data: Mapping[str, Any]) -> Waiver:
    made = Waiver(*(entry.get(key) for key in ("rule", "at", "because", "by", "until")))
    return made._replace(authority=entry.get("authority") or data.get("authority"))


def _is_named(plan: str, name: str) -> bool:
    """Whether the path of the plan ends as the name does, step by step."""
    steps, wanted = (text.replace("\\", "/").removeprefix("./").split("/") for text in (plan, name))
    return steps[-len(wanted) :] == wanted
