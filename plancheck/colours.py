"""What the colour and the print line of a tube tell, against the water traced in it."""

from __future__ import annotations

from functools import cache

from plancheck.answers import is_new
from plancheck.facts import Facts
from plancheck.kinds import PLASTIC
from plancheck.model import Run, Tube

EITHER = ("white", "natural")
FITS = {
    "cold": ("blue", *EITHER),
    "hot": ("red", *EITHER),
    "hot return": ("red", *EITHER),
    "mixed": ("red", "blue", *EITHER),
}
_TELLS_NOTHING = ("grey", "black")
_LIKE_DRINKING = ("blue", "red", "green", *EITHER)
_POTABLE_MARKS = ("nsfpw", "nsf61", "nsfansi61", "nsfcan61", "nsfansican61")
_BARRIER_MARKS = ("barrier", "evoh", "din4726")


def print_line(tube: Tube) -> str:
    """The print line in small letters without spaces and strokes, marks apart; empty where it is not known."""
    return _squeezed(tube.print) if isinstance(tube.print, tuple) else ""


@cache
def _squeezed(marks: tuple[str, ...]) -> str:
    return ",".join("".join(filter(str.isalnum, mark.lower())) for mark in marks)


def is_potable(tube: Tube) -> bool:
    """Whether its print shows a mark for drinking water."""
    line = print_line(tube)
    return any(mark in line for mark in _POTABLE_MARKS) or ("nsf14" in line and "pw" in line)


def heating_tube(tube: Tube) -> str | None:
    """What makes it tube for heating, in words, or None."""
    line = print_line(tube)
    if any(part in line for part in _BARRIER_MARKS):
        return "oxygen-barrier tube"
    if "nsfrfh" in line:
        return "heating tube by its mark (NSF-rfh)"
    return "orange, which is mostly tube for heating," if tube.colour == "orange" else None


def colour_fault(tube: Tube, service: str) -> str | None:
    """What is wrong with this tube on that water (purple, heating, drinking colour, habit, unread), or None."""
    colour = tube.colour or ""
    if service == "not potable":
        return "drinking colour" if colour in _LIKE_DRINKING else None
    if colour == "purple":
        return "purple"
    if heating_tube(tube) is not None and not is_potable(tube):
        return "heating"
    if colour in _TELLS_NOTHING and not isinstance(tube.print, tuple):
        return "unread"
    return "habit" if colour in ("red", "blue") and colour not in FITS.get(service, ()) else None


class Colours:
    """The tubes of one plan against the water in their runs, each question answered once."""

    def __init__(self, facts: Facts) -> None:
        self.facts = facts
        self._faults: dict[tuple[str, str], str | None] = {}
        self._roots: dict[str, str] = {}

    def fault(self, tube: Tube, service: str) -> str | None:
        """What is wrong with a tube of the plan on that water, or None."""
        key = tube.id, service
        if key not in self._faults:
            self._faults[key] = colour_fault(tube, service)
        return self._faults[key]

    def root(self, run: Run, tube: Tube, service: str, fault: str) -> str:
        """The run from which the fault of this one follows: itself, or the first of the same coil or of the same pipe."""
        if fault in ("purple", "heating"):
            return self._first_of_tube(run, tube, fault)
        return self._upstream(run.id, service, fault)

    def _first_of_tube(self, run: Run, tube: Tube, fault: str) -> str:
        """The first run that has the same fault of the same tube: one coil, one thing to mend."""
        key = f"{fault} {tube.id}"
        if key not in self._roots:
            same = (one for one in self.facts.plan.runs.values() if one.tube == tube.id and self._drinks(one))
            judged = (one.id for one in same if is_new(one) or (fault == "purple" and one.work == "existing"))
            self._roots[key] = next(judged, run.id)
        return self._roots[key]

    def _drinks(self, run: Run) -> bool:
        return self.facts.carried(run.id).service not in (None, "not potable")

    def _upstream(self, here: str, service: str, fault: str) -> str:
        """The run nearest the port or the source from which on every run to this one has the same fault and water."""
        way = {here: here}
        while here not in self._roots:
            before = self.facts.before(here)
            if before is None or before in way or not self._same(self.facts.plan.runs[before], service, fault):
                break
            here = before
            way[here] = here
        root = self._roots.get(here, here)
        self._roots.update(dict.fromkeys(way, root))
        return root

    def _same(self, run: Run, service: str, fault: str) -> bool:
        tube = self.facts.plan.tubes.get(run.tube) if run.tube is not None else None
        if tube is None or tube.material not in PLASTIC or not is_new(run) or run.id in self.facts.traced.crossovers:
            return False
        return self.facts.carried(run.id).service == service and self.fault(tube, service) == fault
