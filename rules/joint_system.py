"""Every joint is one system, and the tube is marked for it

Looks at: how both ends of each new plastic run, its couplings and the gaps of shop-made manifolds are joined, against the
    standards on the tube's print line and the standard the fitting's end is made to; and the size against the sizes of
    that standard. Each joint for itself: two systems in one house, or at the two ends of one run, are fine.
Why: ring, fitting and tube are tested together. A ring of one standard on a fitting of another holds the test and lets go
    years later; PEX cannot be glued, soldered or threaded at all.
To mend: use the rings and fittings whose standard the tube prints, or tube that prints the standard of the rings.
Cannot see: the fitting, the ring and the tool in the hand. Tube in millimetres is joined by its maker's own system.
Ask: the codes ask for fittings listed for the pipe; the tube maker says which systems beyond the print he allows.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.rulekit import (
    NONE,
    NOT_KNOWN,
    PEX,
    Facts,
    InForce,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Rule,
    Size,
    Subject,
    Value,
    broken,
    holds,
    on_site,
    printed,
    recalled,
)

if TYPE_CHECKING:
    from plancheck.joinery import Joints, Made

_LISTED = "the standard of ring and fitting on the print line of the tube"
LISTED = Limit(
    "listed",
    "fittings are of a standard that the tube is printed for",
    "text",
    "",
    irc=(Value(_LISTED, recalled("IRC", "2018", "P2906.9, P2906.10")),),
    ipc=(Value(_LISTED, recalled("IPC", "2018", "605")),),
    upc=(Value(_LISTED, recalled("UPC", "2018", "605")),),
    practice=(Value(_LISTED, printed("makers' and retailers' sheets", "", "print line"), practice=True),),
)


def _largest(id_: str, document: str, edition: str, size: str, seen: bool) -> Limit:
    """The largest size of a joining standard, in every family; one known from memory alone gives advice."""
    standard, _, on = document.partition(" on ")
    source = (printed if seen else recalled)(standard, edition, f"sizes on {on}" if on else "sizes")
    value = (Value(size, source, practice=not seen),)
    usual = (Value(size, source, practice=True),)
    return Limit(id_, f"largest size of {document}", "text", "at most", value, value, value, usual)


CRIMP = _largest("crimp_size", "ASTM F1807", "2015", "2", True)
INSERT = _largest("plastic_insert_size", "ASTM F2159", "", "1", False)
RT = _largest("pe_rt_crimp_size", "ASTM F1807 on PE-RT", "2015", "1-1/4", True)
CLAMP = _largest("clamp_size", "ASTM F2098", "2018", "1", True)
EXPANSION = _largest("expansion_size", "ASTM F1960", "2023a", "3", True)
SLEEVE = _largest("sleeve_size", "ASTM F2080", "", "1", False)
PRESS = _largest("press_size", "ASTM F3347 and F3348", "", "2", False)
RULE = Rule("hazard", "layout", (LISTED, CRIMP, INSERT, RT, CLAMP, EXPANSION, SLEEVE, PRESS))

_BY_WORD = {
    "clamp ring": CLAMP,
    "expansion ring": EXPANSION,
    "expansion sleeve": SLEEVE,
    "press sleeve": PRESS,
    "press": PRESS,
}


def subjects(facts: Facts) -> Iterator[Subject]:
    """The joints of each new run, by the way they are made; then once each way of joining."""
    from plancheck.joinery import BY_LISTING, RINGS, Joints, made_joints

    alike = all(part.ends is None for part in facts.plan.parts.values())
    kept = Joints([one for one in made_joints(facts) if one.tube.material != "polybutylene"], alike)
    words: dict[str, list[str]] = {}
    for made in kept.made:
        if made.word in RINGS or made.word in BY_LISTING:
            words.setdefault(made.word or "", []).append(made.name)
        if made.word not in BY_LISTING:
            yield Subject(made.path[:2], f"joints of {made.name}", made.place, (made, kept))
    for word, names in words.items():
        yield Subject(("runs",), f"{word} joints", None, (word, names[0], len(dict.fromkeys(names))))


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether the joints are of a system that the tube is marked for, and of its sizes."""
    if len(subject.thing) == 3:
        return _by_eye(*subject.thing)
    made, kept = subject.thing
    held: Outcome | None = kept.held.get((made.tube.id, made.word))
    return held if held is not None else kept.keep(made, _judged(made, kept, facts, limits))


def _judged(made: "Made", kept: "Joints", facts: Facts, limits: Limits) -> Outcome:
    from plancheck.joinery import CEMENTED, NEVER, WANTED, other_end

    word, material = made.word, made.tube.material
    if word is None or word == NOT_KNOWN:
        raise NotShown(made.path, "how it is joined")
    if word in NEVER and not (material in CEMENTED and word in ("solvent cement", "thread")):
        return _no_joint(made, limits.maybe(LISTED))
    if material not in PEX:
        return _on_other_plastic(made, limits)
    end = other_end(made, facts)
    if end is not None:
        return _other_system(made, end, limits.of(LISTED))
    return _by_print(made, kept, limits) if word in WANTED else holds(f"{word}")


def _by_eye(word: str, name: str, count: int) -> Outcome:
    from plancheck.joinery import STANDARD

    where = name if count == 1 else f"{name} and {count - 1} more"
    if word not in STANDARD:
        return on_site(f"{where}: the fitting's own listing names this tube")
    return on_site(f"{where}: ring, fitting and tool of one standard, {STANDARD[word]}")


def _no_joint(made: "Made", limit: InForce | None) -> Outcome:
    from plancheck.joinery import LETS_GO

    word, material = made.word or "", made.tube.material or "plastic"
    lets_go = word in LETS_GO
    doubt = "" if lets_go else "If it is the adapter that is threaded, write how the tube itself is joined to it."
    return broken(
        f"{made.name} is {material}, and its joint is written as {word}.",
        "hazard" if lets_go else "correction",
        measured=Measured(word, "text"),
        limit=limit,
        found=f"{word} on {material}",
        needed="a ring, sleeve, press or push joint" if material in PEX else "a joint made for this plastic",
        why=f"{material} takes no {'flux and flame' if word in ('solder', 'braze') else 'glue' if lets_go else word}: "
        "such a joint lets go under pressure.",
        mend=f"Join the tube with a system it prints. {doubt}".strip(),
        caution="Put no pressure on it before that joint is cut out." if lets_go else "",
        at=made.path,
    )


def _on_other_plastic(made: "Made", limits: Limits) -> Outcome:
    """CPVC, PVC, PE and PP: glue and push are theirs, the rings of PEX are not."""
    word, material = made.word or "", made.tube.material or ""
    if word in ("solvent cement", "thread", "push"):
        return holds(f"{word} on {material}")
    if material in ("PE", "PP"):
        return on_site(f"{word} on {material}: the fitting's own listing names this tube")
    return broken(
        f"{made.name} is {material} and is joined by {word}, which is made for PEX.",
        "correction",
        measured=Measured(word, "text"),
        limit=limits.of(LISTED),
        found=f"{word} on {material}",
        needed="solvent cement, or a push fitting listed for it",
        mend=f"Join {material} with its own cement and fittings, and go over to PEX with a transition.",
        at=made.path,
    )


def _other_system(made: "Made", end: tuple[str, str], limit: InForce) -> Outcome:
    from plancheck.joinery import STANDARD

    (part, other), own = end, STANDARD[made.word or ""]
    return broken(
        f"{made.name} is joined by {made.word} to {part}, whose end is made to {other}.",
        "correction",
        measured=Measured(other, "text"),
        limit=limit,
        found=f"{made.word} on an end made to {other}",
        needed=f"an end made to {own}",
        mend=f"Use a fitting to {own}, or the ring that belongs to {other}.",
        at=("parts", part, "ends"),
    )


def _by_print(made: "Made", kept: "Joints", limits: Limits) -> Outcome:
    from plancheck.joinery import wanted_on
    from plancheck.printmarks import standards_of

    tube, word = made.tube, made.word or ""
    if tube.print is None or tube.print == NOT_KNOWN:
        raise NotShown(("tubes", tube.id, "print"), "the print line of the tube")
    found = standards_of(tube)
    if not found & set(wanted_on(tube, word)):
        metric = isinstance(tube.size, Size) and tube.size.metric
        if metric and tube.print != NONE:
            return on_site(f"{word} on tube in millimetres: by its maker's own system, to be seen at the fitting")
        return _unlisted(made, kept, limits.of(LISTED))
    return _by_size(made, found, limits)


def _by_size(made: "Made", found: frozenset[str], limits: Limits) -> Outcome:
    from plancheck.joinery import within

    size, word = made.tube.size, made.word
    if word == "push" or made.tube.material == "PEX-AL-PEX" or (isinstance(size, Size) and size.metric):
        return holds(f"{word}, printed for it")
    limit = _BY_WORD.get(word or "") or (CRIMP if "F1807" in found else INSERT)
    if limit is CRIMP and made.tube.material == "PE-RT":
        limit = RT
    if not isinstance(size, Size):
        raise NotShown(("tubes", made.tube.id, "size"), "the size of the tube")
    most = limits.of(limit)
    if within(size.name, str(most.value)):
        return holds(f"{word}, printed for it")
    return broken(
        f"{made.name} is {size.words} tube joined by {word}; {limit.title.removeprefix('largest size of ')} goes from "
        f"3/8 to {most.value} in.",
        "correction",
        measured=Measured(size.name, "text"),
        limit=most,
        found=f"{word} in {size.words}",
        needed=f"3/8 to {most.value} in",
        mend="Use a system that is made in this size and that the tube prints.",
        at=made.path,
    )


def _unlisted(made: "Made", kept: "Joints", limit: InForce) -> Outcome:
    from plancheck.joinery import STANDARD

    tube, word = made.tube, made.word or ""
    head, first = kept.head(tube)
    wanted = "F2434 or F1974" if tube.material == "PEX-AL-PEX" and "ring" in word else STANDARD[word]
    marks = ", ".join(tube.print) if isinstance(tube.print, tuple) else "nothing"
    return broken(
        f"{made.name} is joined by {word} ({wanted}), and its tube '{tube.id}' prints {marks}.",
        "correction",
        measured=Measured(marks, "text"),
        limit=limit,
        found=f"prints {marks}",
        needed=f"{wanted} on the print line",
        mend=f"Use the rings and fittings this tube prints, or tube that prints {wanted}.",
        at=head if head is not None and made == first else made.path,
        cause=head if made != first or tube.print == NONE else None,
    )
