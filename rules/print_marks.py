"""The print line says drinking water and the right standard

Looks at: each stock of plastic tube that new work uses for drinking water, once for all its runs: whether its print line shows
    a mark for drinking water (NSF-pw, or NSF 61), a standard that the code takes for that material, and the same material as
    the plan.
Why: the print is all that tells tube for drinking water from tube for a heated floor; both look alike and both hold water.
    Tube without the mark was never tested for what it gives off into the water.
To mend: write the whole print line in the plan, mark by mark; where the mark is really not there, swap the tube and keep the
    coil for heating.
Cannot see: the coil itself. Somebody reads it on site and holds it against the plan.
Ask: some old coils show NSF 14 alone; whether the authority takes the maker's listing instead.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.rulekit import (
    HAZARDS,
    NOT_KNOWN,
    PLASTIC,
    Colours,
    Facts,
    InForce,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Path,
    Rule,
    Subject,
    Tube,
    Value,
    broken,
    holds,
    is_potable,
    on_site,
    print_line,
    printed,
    recalled,
)

if TYPE_CHECKING:
    from plancheck.stocks import Stock

_MARK = "a mark for drinking water on the print line (NSF-pw or NSF 61)"
_PEX, _CPVC = "ASTM F876 or F877, or CSA B137.5", "ASTM D2846, F441 or F442, or CSA B137.6"
_RT, _AL = "ASTM F2769, or CSA B137.18", "ASTM F1281 or F2262, or CSA B137.10"
POTABLE = Limit(
    "potable",
    "tube for drinking water is marked for it",
    "text",
    "",
    irc=(Value(_MARK, recalled("IRC", "2018", "P2906")),),
    ipc=(Value(_MARK, printed("IPC", "", "605.3 (NSF/ANSI 61)")),),
    upc=(Value(_MARK, recalled("UPC", "2018", "604.1")),),
    practice=(Value(_MARK, printed("a retailer's and trade pages", "", "barrier tube"), practice=True),),
)


def _standard(id_: str, material: str, words: str, document: str, seen: bool) -> Limit:
    """The tube standards of a material: those of the tables of all three codes."""
    usual = printed(document, "", "print line") if seen else recalled(document, "", "print line")
    return Limit(
        id_,
        f"what the print line of {material} names",
        "text",
        "",
        irc=(Value(words, recalled("IRC", "2018", "Table P2906.5")),),
        ipc=(Value(words, recalled("IPC", "2018", "Table 605.4")),),
        upc=(Value(words, recalled("UPC", "2018", "Table 604.1")),),
        practice=(Value(words, usual, practice=True),),
    )


PEX_STANDARD = _standard("pex_standard", "PEX", _PEX, "ASTM F876", True)
CPVC_STANDARD = _standard("cpvc_standard", "CPVC", _CPVC, "ASTM D2846", False)
RT_STANDARD = _standard("pe_rt_standard", "PE-RT", _RT, "ASTM F2769", False)
AL_STANDARD = _standard("pex_al_pex_standard", "PEX-AL-PEX", _AL, "ASTM F1281", False)
RULE = Rule("correction", "layout", (POTABLE, PEX_STANDARD, CPVC_STANDARD, RT_STANDARD, AL_STANDARD))

_OF_PEX = (frozenset(("F876", "F877", "B137.5")), PEX_STANDARD)
_STANDARDS = {
    **dict.fromkeys(("PEX", "PEX-A", "PEX-B", "PEX-C"), _OF_PEX),
    "CPVC": (frozenset(("D2846", "F441", "F442", "B137.6")), CPVC_STANDARD),
    "PE-RT": (frozenset(("F2769", "B137.18")), RT_STANDARD),
    "PEX-AL-PEX": (frozenset(("F1281", "F2262", "B137.10")), AL_STANDARD),
}
_NAMES = {"F876": "PEX", "D2846": "CPVC", "F2769": "PE-RT", "F1281": "PEX-AL-PEX", "D3309": "polybutylene"}
_LETTERS = {"pexa": "PEX-A", "pexb": "PEX-B", "pexc": "PEX-C"}


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each stock of plastic, or of what is not said, that new work uses; then once the prints themselves."""
    from plancheck.stocks import is_drinking, new_stocks

    written = []
    for stock in new_stocks(facts):
        material = stock.tube.material
        if material == "polybutylene" or not (material in PLASTIC or material in (None, NOT_KNOWN)):
            continue
        drinking = is_drinking(stock, facts)
        if drinking is not False:
            yield Subject(("tubes", stock.tube.id), f"print of '{stock.tube.id}'", None, (stock, drinking))
            if isinstance(stock.tube.print, tuple):
                written.append(stock.tube.id)
    if written:
        yield Subject(("tubes",), "the prints on the coils", None, tuple(written))


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether the print of a stock shows drinking water, a standard, and the material of the plan."""
    if subject.path == ("tubes",):
        return on_site(f"read the print on the tube itself, and hold it against the plan: {', '.join(subject.thing)}")
    stock, drinking = subject.thing
    tube: Tube = stock.tube
    if tube.material in (None, NOT_KNOWN):
        raise NotShown(("tubes", tube.id, "material"), "what the tube is made of")
    if tube.print is None or tube.print == NOT_KNOWN:
        raise NotShown(("tubes", tube.id, "print"), "the print line of the tube")
    if drinking is None:
        run = stock.runs[0].id if stock.runs else stock.manifolds[0].id
        raise NotShown(("runs" if stock.runs else "parts", run), "which water runs in it: nothing joins it to any")
    return _judged(stock, facts, limits)


def _judged(stock: "Stock", facts: Facts, limits: Limits) -> Outcome:
    tube = stock.tube
    if not is_potable(tube) or _barred(tube, facts):
        return _unmarked(stock, facts, limits.of(POTABLE))
    wanted = _STANDARDS.get(tube.material or "")
    if wanted is None:
        return holds("printed for drinking water")
    from plancheck.printmarks import standards_of

    found = standards_of(tube)
    other = next((_LETTERS[mark] for mark in print_line(tube).split(",") if mark in _LETTERS), tube.material)
    if tube.material in ("PEX", other) or wanted is not _OF_PEX:
        other = next((name for mark, name in _NAMES.items() if mark in found), "")
        if found & wanted[0]:
            return holds("printed for drinking water, to its standard")
    return _nonstandard(stock, other or "", limits.of(wanted[1]))


def _barred(tube: Tube, facts: Facts) -> bool:
    return Colours(facts).fault(tube, "cold") == "denied"


def _marks(tube: Tube) -> str:
    return ", ".join(tube.print) if isinstance(tube.print, tuple) else "nothing"


def _cause(stock: "Stock", facts: Facts) -> Path | None:
    """Purple tube and tube for reclaimed water are a hazard that the colour tells of: this follows from it."""
    colours = Colours(facts)
    for run in stock.runs:
        service = facts.carried(run.id).service
        fault = colours.fault(stock.tube, service or "") if service not in (None, "not potable") else None
        if fault in HAZARDS:
            return ("runs", colours.root(run, stock.tube, service or "", fault or ""))
    return None


def _unmarked(stock: "Stock", facts: Facts, limit: InForce) -> Outcome:
    tube, shown = stock.tube, _marks(stock.tube)
    line = print_line(tube)
    ask = "It shows NSF 14: the maker's listing tells whether that is for drinking water." if "nsf14" in line else ""
    heating = "for heating only (NSF-rfh)" if "rfh" in line else "no drinking-water mark"
    if is_potable(tube):
        heating = "words that bar it from drinking water"
    return broken(
        f"Tube '{tube.id}' prints {shown}: {heating}, and {stock.users} {_verb(stock)} drinking water in it.",
        "correction",
        measured=Measured(shown, "text"),
        limit=limit,
        found=f"prints {shown}",
        needed=_MARK,
        mend="Swap it for tube that prints NSF-pw or NSF 61; keep this coil for heating.",
        ask=ask,
        cause=_cause(stock, facts),
        at=("tubes", tube.id, "print"),
    )


def _verb(stock: "Stock") -> str:
    return "carry" if len(stock.runs) + len(stock.manifolds) > 1 else "carries"


def _nonstandard(stock: "Stock", other: str, limit: InForce) -> Outcome:
    tube, shown = stock.tube, _marks(stock.tube)
    wrong = f"which is {other}, not {tube.material}" if other else f"no standard for {tube.material}"
    return broken(
        f"Tube '{tube.id}' is written as {tube.material} and prints {shown}: {wrong}; it is used for {stock.users}.",
        "correction",
        measured=Measured(shown, "text"),
        limit=limit,
        found=f"prints {shown}",
        needed=str(limit.value),
        why="Rings, fittings, supports and ratings all go by the standard on the tube.",
        mend=f"Write the material and the whole print line as they stand on the tube; tube without {limit.value} is to come out.",
        at=("tubes", tube.id, "print"),
    )
