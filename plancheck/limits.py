"""Limits: named, sourced numbers that rules compare with, by code family and edition."""

from collections.abc import Iterable, Mapping

from plancheck.measures import Units, read_length, show_length
from plancheck.record import NamedTuple

FAMILIES = ("irc", "ipc", "upc")


class Source(NamedTuple):
    """Where a number stands. read: "read" (seen in a stored page), "from memory", "common practice" (no document), or
    "amended" (an amendments file says so: the document is its authority).
    """

    document: str
    edition: str
    clause: str
    read: str

    @property
    def named(self) -> str:
        """Document, edition and clause in a row."""
        return " ".join(part for part in (self.document, self.edition, self.clause) if part)

    def __str__(self) -> str:
        return "common practice" if self.read == "common practice" else f"{self.named} ({self.read})"


class Value(NamedTuple):
    """One number of a limit, SI. since: the first edition that has it; practice: it gives at most advice."""

    value: float | str
    source: Source
    since: int = 0
    practice: bool = False


class Limit(NamedTuple):
    """A named limit. unit: length, pressure, temperature, flow, count, diameters or text; sense: at least or at most.

    irc, ipc and upc hold the values of a family, newest edition last; practice stands in where a family has none.
    """

    id: str
    title: str
    unit: str
    sense: str
    irc: tuple[Value, ...] = ()
    ipc: tuple[Value, ...] = ()
    upc: tuple[Value, ...] = ()
    practice: tuple[Value, ...] = ()


def of_practice(id_: str, title: str, unit: str, sense: str, value: float | str, source: Source) -> Limit:
    """A limit that no family has: trade practice alone."""
    return Limit(id_, title, unit, sense, practice=(Value(value, source, practice=True),))


class Amended(NamedTuple):
    """What an authority says of one limit: another value (SI or words), a severity, or that it is off: not judged."""

    source: Source
    because: str
    value: float | str | None = None
    severity: str | None = None
    off: bool = False


class InForce(NamedTuple):
    """The value of a limit that counts for one plan; because: the reason of an amended value; caution: on the edition.

    text: the value as the plan writes it, where it comes from there. amended: what an authority says of the limit;
    instead: the value of the code that the amended one stands in for.
    """

    limit: Limit
    value: float | str
    source: Source
    practice: bool
    because: str | None = None
    caution: str | None = None
    text: str = ""
    amended: Amended | None = None
    instead: Value | None = None

    @property
    def number(self) -> float:
        """The value as a number, SI. Raises ValueError where it is text."""
        return float(self.value)

    def told_apart(self, m: float, units: Units, text: str = "") -> tuple[str, str, str]:
        """A length (metres), the limit and what lies between, in words of one unit, to more digits where a tape hides it.

        text: the length as somebody wrote it, which is kept.
        """
        found, needed = show_length(m, units), show_length(self.number, units)
        between_m = abs(self.number - m)
        seen_m = abs(read_length(found).m - read_length(needed).m)
        mixed = {found.rpartition(" ")[2], needed.rpartition(" ")[2]} == {"mm", "m"}
        exact = mixed or abs(seen_m - between_m) > between_m / 4
        if exact:
            found, needed = show_length(m, units, exact), show_length(self.number, units, exact)
        return text or found, self.text or needed, show_length(between_m, units, exact)


class NotShown(Exception):
    """The plan lacks a fact: path is the key to add, what says what is missing in words."""

    def __init__(self, path: tuple[str | int, ...], what: str) -> None:
        super().__init__(path, what)
        self.path = path
        self.what = what


class Limits:
    """The limits in force for one rule and one plan.

    family and edition are those of the plan's code block, None where it has none. amended: what an authority says, by
    the limit's name. unbroken: limits that are switched off have values that nothing breaks.
    """

    __slots__ = ("_amended", "_kept", "_unbroken", "edition", "family")

    def __init__(
        self,
        family: str | None,
        edition: int | None,
        amended: Mapping[str, Amended] | None = None,
        unbroken: bool = False,
    ) -> None:
        self.family = family
        self.edition = edition
        self._amended = amended
        self._unbroken = unbroken
        self._kept: dict[int, tuple[Limit, InForce | None]] = {}

    def of(self, limit: Limit) -> InForce:
        """The value in force. Raises NotShown where only a family has one and the plan names no code."""
        found = self.maybe(limit)
        if found is None:
            raise NotShown(("code", "family"), "the code the job is built under (irc, ipc or upc)")
        return found

    def maybe(self, limit: Limit) -> InForce | None:
        """The value in force, or None where neither the family nor practice has one."""
        kept = self._kept.get(id(limit))
        if kept is None or kept[0] is not limit:
            kept = self._kept[id(limit)] = limit, self._find(limit)
        return kept[1]

    def with_off_unbroken(self) -> "Limits":
        """The same limits, but that what is switched off cannot be broken."""
        return Limits(self.family, self.edition, self._amended, unbroken=True)

    def _find(self, limit: Limit) -> InForce | None:
        amended = self._amended.get(limit.id) if self._amended is not None else None
        base = self._base(limit)
        return base if amended is None else _as_amended(limit, base, amended, self._unbroken)

    def _base(self, limit: Limit) -> InForce | None:
        values = self._family_values(limit)
        if values:
            chosen, caution = _for_edition(values, self.edition)
            return InForce(limit, chosen.value, chosen.source, chosen.practice, None, caution)
        if limit.practice:
            return InForce(limit, limit.practice[-1].value, limit.practice[-1].source, True)
        return None

    def _family_values(self, limit: Limit) -> tuple[Value, ...]:
        if self.family == "irc":
            return limit.irc
        if self.family == "ipc":
            return limit.ipc
        return limit.upc if self.family == "upc" else ()


def _as_amended(limit: Limit, base: InForce | None, amended: Amended, unbroken: bool) -> InForce | None:
    """The value in force where an authority says something of the limit."""
    if amended.value is not None:
        instead = Value(base.value, base.source) if base is not None else None
        return InForce(limit, amended.value, amended.source, False, amended.because, None, "", amended, instead)
    if base is None:
        return None
    if amended.off and unbroken and not isinstance(base.value, str):
        return base._replace(value=base.value * 1e6 if limit.sense == "at most" else 0.0, amended=amended)
    return base._replace(practice=base.practice and amended.off, amended=amended)


def _for_edition(values: Iterable[Value], edition: int | None) -> tuple[Value, str | None]:
    """The newest value that the edition has, or else the oldest carried; with a caution where its text is another edition's."""
    ordered = sorted(values, key=lambda value: value.since)
    if edition is None:
        return ordered[-1], None
    fitting = [value for value in ordered if value.since <= edition]
    chosen = fitting[-1] if fitting else ordered[0]
    text = chosen.source.edition
    if text.isdigit() and int(text) != edition:
        says = f"The {edition} text of this number is not carried; that of {text} is used: check your edition."
        return chosen, says
    return chosen, None


def printed(document: str, edition: str, clause: str) -> Source:
    """The source of a number that was seen in a stored page of the document."""
    return Source(document, edition, clause, "read")


def recalled(document: str, edition: str, clause: str) -> Source:
    """The source of a number known from memory; the document itself was not seen."""
    return Source(document, edition, clause, "from memory")


PRACTICE = Source("", "", "", "common practice")
