"""What the colour and the print line of a tube tell, against the water traced in it."""

from __future__ import annotations

from functools import cache

from plancheck.answers import is_new
from plancheck.facts import Facts
from plancheck.kinds import PLASTIC
from plancheck.model import NONE, HeaterOwn, Path, Run, Tube

EITHER = ("white", "natural")
FITS = {
    "cold": ("blue", *EITHER),
    "hot": ("red", *EITHER),
    "hot return": ("red", *EITHER),
    "mixed": ("red", "blue", *EITHER),
}
_TELLS_NOTHING = ("grey", "black")
_LIKE_DRINKING = ("blue", "red", "green", *EITHER)
_BARRIER_MARKS = ("barrier", "evoh", "din4726")
_NOBODY_DRINKS = ("toilet", "urinal", "hose outlet")
_SAID_BETWEEN = (
    "ansi",
    "can",
    "csa",
    "us",
    "standard",
    "standards",
    "std",
    "14",
    "and",
)  # in NSF/ANSI/CAN 61, NSF Std 61
_RECLAIMED = ("reclaimed", "recycledwater", "greywater", "graywater", "rainwater")
_DENIED = ("nonpotable", "notpotable", "notforpotable", "notfordrinking", "donotdrink")
_OF_THE_COIL = ("purple", "reclaimed", "denied", "heating")  # whole coils, wherever they run
HAZARDS = ("purple", "reclaimed")
_HEATING_ONLY = ("heatonly", "heatingonly", "radiantonly", "hydroniconly", "hydronicsonly")


def print_line(tube: Tube) -> str:
    """The print line in small letters without spaces and strokes, marks apart; empty where it is not known."""
    return _squeezed(tube.print) if isinstance(tube.print, tuple) else ""


@cache
def _squeezed(marks: tuple[str, ...]) -> str:
    return ",".join("".join(filter(str.isalnum, mark.lower())) for mark in marks)


def is_potable(tube: Tube) -> bool:
    """Whether its print shows a mark for drinking water: NSF-pw or NSF 61, however it is spelled."""
    return isinstance(tube.print, tuple) and _listed_for(tube.print, ("pw", "61"))


@cache
def _listed_for(marks: tuple[str, ...], uses: tuple[str, ...]) -> bool:
    """Whether one of the uses stands in a word with nsf (NSFpw, cNSFus-pw), next behind it, or `pw` anywhere after it."""
    near = listed = False
    for word in _words(",".join(marks).lower()):
        _, here, rest = word.partition("nsf")
        listed = listed or bool(here)
        said = rest.removeprefix("us") if here else word
        near = bool(here) or near
        if (near and said.startswith(uses) and said.strip("abcdefghijklmnopqrstuvwxyz") in ("", "61")) or (
            listed and word in uses and word.isalpha()
        ):
            return True
        near = near and (not said or said in _SAID_BETWEEN)
    return False


def _words(text: str) -> list[str]:
    return "".join(letter if letter.isalnum() else " " for letter in text).split()


def other_water(tube: Tube) -> str | None:
    """What its print says it is for, where that is no drinking water: reclaimed water, or something else, in its words."""
    line = print_line(tube)
    if any(word in line for word in _RECLAIMED):
        return "reclaimed"
    return "denied" if any(word in line for word in (*_DENIED, *_HEATING_ONLY)) else None


def heating_tube(tube: Tube) -> str | None:
    """What makes it tube for heating, in words, or None."""
    line = print_line(tube)
    if any(part in line for part in _BARRIER_MARKS):
        return "oxygen-barrier tube"
    if isinstance(tube.print, tuple) and _listed_for(tube.print, ("rfh",)):
        return "heating tube by its mark (NSF-rfh)"
    return "orange, which is mostly tube for heating," if tube.colour == "orange" else None


def colour_fault(tube: Tube, service: str) -> str | None:
    """What is wrong with this tube on that water, or None.

    purple, reclaimed (by its print), denied (its print bars drinking water), heating, unread (its print would tell),
    habit; and drinking colour on water that is not for drinking.
    """
    colour = tube.colour or ""
    if service == "not potable":
        return "drinking colour" if colour in _LIKE_DRINKING else None
    other = other_water(tube)
    if colour == "purple" and other != "reclaimed":
        return "purple"
    if other is not None:
        return other
    unread = not isinstance(tube.print, tuple) and tube.print != NONE
    if colour in _TELLS_NOTHING or colour == "orange":
        return "unread" if unread else _by_print(tube)
    return _by_print(tube) or ("habit" if colour in ("red", "blue") and colour not in FITS.get(service, ()) else None)


def _by_print(tube: Tube) -> str | None:
    return "heating" if heating_tube(tube) is not None and not is_potable(tube) else None


class Colours:
    """The tubes of one plan against the water in their runs, each question answered once."""

    def __init__(self, facts: Facts) -> None:
        self.facts = facts
        self._faults: dict[tuple[str, str], str | None] = {}
        self._roots: dict[str, str] = {}
        self._drunk: frozenset[int] | None = None
        self._crossed: dict[str, Path] | None = None

    def fault(self, tube: Tube, service: str) -> str | None:
        """What is wrong with a tube of the plan on that water, or None."""
        key = tube.id, service
        if key not in self._faults:
            self._faults[key] = colour_fault(tube, service)
        return self._faults[key]

    def crossed(self, run: str) -> Path | None:
        """Where it is told that a run leads to the wrong side of a fixture, if it does."""
        if self._crossed is None:
            from plancheck.sides import crossed_runs

            self._crossed = crossed_runs(self.facts)
        return self._crossed.get(run)

    def is_drunk(self, run: Run) -> bool:
        """Whether the water of a run goes on to a fixture at which people drink or wash, or to a heater."""
        if self._drunk is None:
            self._drunk = _leading_to_people(self.facts)
        number = self.facts.run_edge(run.id)
        if number is None:
            return False
        if number in self.facts.traced.rings:
            return bool(self._drunk)
        a, b = self.facts.network.edges[number][:2]
        return (a if self.facts.traced.parents.get(a) == number else b) in self._drunk

    def root(self, run: Run, tube: Tube, service: str, fault: str) -> str:
        """The run from which the fault of this one follows: itself, or the first of the same coil or of the same pipe."""
        if fault in _OF_THE_COIL:
            return self._first_of_tube(run, tube, fault)
        return self._upstream(run.id, service, fault)

    def _first_of_tube(self, run: Run, tube: Tube, fault: str) -> str:
        """The first run that has the same fault of the same tube: one coil, one thing to mend."""
        key = f"{fault} {tube.id}"
        if key not in self._roots:
            same = (one for one in self.facts.plan.runs.values() if one.tube == tube.id and self._drinks(one))
            judged = (one.id for one in same if is_new(one) or (fault in HAZARDS and one.work == "existing"))
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


def _leading_to_people(facts: Facts) -> frozenset[int]:
    """The vertices from which water, as it first comes from the source, goes on to such fixtures and to heaters."""
    graph, parts = facts.network, facts.plan.parts
    taps = ((side.partition("/")[0], tap) for side, tap in graph.outlets.items())
    found = {tap for part, tap in taps if parts[part].is_ not in _NOBODY_DRINKS}
    heaters = (part.id for part in parts.values() if isinstance(part.own, HeaterOwn))
    found.update(graph.number[f"{heater}/cold"] for heater in heaters if f"{heater}/cold" in graph.number)
    for vertex, number in reversed(list(facts.traced.parents.items())):
        if vertex in found and number >= 0:
            a, b = graph.edges[number][:2]
            found.add(a if b == vertex else b)
    return frozenset(found)
