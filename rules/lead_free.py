"""Nothing that puts lead in the water

Looks at: what the plan states of wetted metal in new work: bodies of valves, tees and adapters (`body`), solder (`solder`),
    brass and galvanised pipe. Bodies are judged where the water goes on to a sink, a lavatory or an ice maker; hose
    outlets, toilets, tubs and showers alone are exempt. Solder is judged on all drinking water.
Why: brass as it used to be cast gives lead into water that stands in it overnight, solder of half lead far more. It is
    worst for small children, and nobody tastes it.
To mend: fittings marked lead-free (NSF 372, or 61-G), solder and flux marked lead-free.
Cannot see: the mark on the casting, and the reel of solder. What the plan does not state is read on site.
Ask: the water company, whether the service or the main still is of lead.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.rulekit import (
    NOT_KNOWN,
    Facts,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Rule,
    Subject,
    Value,
    broken,
    holds,
    on_site,
    printed,
    recalled,
)

if TYPE_CHECKING:
    from plancheck.drunk import Wetted

_QUARTER = "at most 0.25 percent lead, weighted (NSF/ANSI 372)"
_FIFTH = "at most 0.2 percent lead in solder and flux"
BODIES = Limit(
    "bodies",
    "lead in pipe and fittings for drinking water",
    "text",
    "",
    irc=(Value(_QUARTER, recalled("IRC", "2018", "P2906.2")),),
    ipc=(Value(_QUARTER, printed("IPC", "", "605.2.1")),),
    upc=(Value(_QUARTER, printed("UPC", "2015", "604.2")),),
    practice=(Value(_QUARTER, printed("IPC", "", "605.2.1"), practice=True),),
)
SOLDER = Limit(
    "solder",
    "lead in solder and flux",
    "text",
    "",
    irc=(Value(_FIFTH, recalled("IRC", "2018", "P2906")),),
    ipc=(Value(_FIFTH, recalled("IPC", "2018", "605")),),
    upc=(Value(_FIFTH, printed("UPC", "2015", "604.2")),),
    practice=(Value(_FIFTH, printed("UPC", "2015", "604.2"), practice=True),),
)
RULE = Rule("hazard", "layout", (BODIES, SOLDER))

_LEADED = ("brass", "bronze")
_FREE = ("lead-free brass", "plastic", "stainless", "copper")


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each stated body and solder once; then once what is not stated."""
    from plancheck.drunk import wetted

    found = wetted(facts)
    for word, parts in found.bodies.items():
        yield Subject(("parts", parts[0], "body"), f"{word} bodies", facts.plan.parts[parts[0]].place, (word, parts))
    for word, runs in found.solders.items():
        yield Subject(("runs", runs[0], "solder"), f"{word} solder", facts.run_place(runs[0]), (word, runs))
    if found.unstated or found.unsaid or found.pipes:
        yield Subject(("parts",), "marks on wetted metal", None, found)


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether what is stated is free of lead."""
    if subject.path == ("parts",):
        return _to_read(subject.thing)
    word, names = subject.thing
    if word == NOT_KNOWN:
        raise NotShown(subject.path, f"whether the lead-free mark is on {_named(names)}")
    if subject.path[0] == "runs":
        return holds("lead-free solder") if word == "lead-free" else _soldered(word, names, limits)
    if word in _FREE:
        return holds(word)
    if word not in _LEADED:
        return on_site(f"{word} fittings ({_named(names)}): read the mark, NSF 372 or 61-G")
    return broken(
        f"{_named(names)} {'is' if len(names) == 1 else 'are'} stated as plain {word}, on the way to a tap that people drink from.",
        "correction",
        measured=Measured(word, "text"),
        limit=limits.of(BODIES),
        found=f"plain {word}",
        needed=_QUARTER,
        mend="Use fittings marked lead-free (NSF 372 or 61-G); where they are, write `body: lead-free brass`.",
    )


def _soldered(word: str, names: list[str], limits: Limits) -> Outcome:
    return broken(
        f"{_named(names)} {'is' if len(names) == 1 else 'are'} soldered with {word}, half of it lead, on drinking water.",
        "hazard",
        measured=Measured(word, "text"),
        limit=limits.maybe(SOLDER),
        found=f"{word} solder",
        needed=_FIFTH,
        mend="Cut those joints out and make them anew with lead-free solder and flux, or by press; flush before anybody drinks.",
        caution="Let nobody drink from it until then; the health office says where water is tested for lead.",
    )


def _to_read(found: "Wetted") -> Outcome:
    said = []
    if found.unstated:
        said.append(f"the lead-free mark (NSF 372 or 61-G) on {_named(found.unstated)}")
    if found.pipes:
        said.append(f"the mark on the pipe of {_named(found.pipes)}")
    if found.unsaid:
        said.append(f"the reel of solder for {_named(found.unsaid)}")
    return on_site(f"read {'; '.join(said)}")


def _named(names: list[str]) -> str:
    more = len(names) - 4
    return ", ".join(names[:4]) + (f" and {more} more" if more > 0 else "")
