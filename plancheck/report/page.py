"""Lines of marked text for a given width; writers only add colour or leave it out.

Every text of a plan passes `clean` on its way in: control characters and marks that turn the writing direction are made
visible, so that a plan cannot write to a terminal.
"""

import textwrap

from plancheck.record import NamedTuple

LEAST_WIDTH = 40
_TURNING = frozenset(map(chr, (*range(0x202A, 0x202F), *range(0x2066, 0x206A), 0x200E, 0x200F, 0x061C)))
_BREAKS = frozenset("\u2028\u2029\ufeff")


class Span(NamedTuple):
    """A piece of a line and its mark: title, station, hazard, correction, advice, label, place, dim, or plain."""

    text: str
    mark: str = "plain"


Line = tuple[Span, ...]


def clean(text: str) -> str:
    """The text with control characters and direction marks made visible."""
    if text.isprintable():
        return text
    return "".join(character if _harmless(character) else _visible(character) for character in text)


def _harmless(character: str) -> bool:
    return character.isprintable() and character not in _TURNING and character not in _BREAKS


def _visible(character: str) -> str:
    if character in "\n\r\t":
        return " "
    code = ord(character)
    return f"\\x{code:02X}" if code < 256 else f"\\u{code:04X}"


class Page:
    """A page that is filled line by line; narrower than LEAST_WIDTH it does not get."""

    def __init__(self, width: int) -> None:
        self.width = max(LEAST_WIDTH, width)
        self.lines: list[Line] = []
        self.said: dict[str, int] = {}  # a rule's own why and ask -> the finding at which they stand in full

    def text(self, text: str, mark: str = "plain", indent: int = 0) -> None:
        for line in self._wrapped(clean(text), indent, indent):
            self.lines.append((Span(line, mark),))

    def entry(self, head: str, text: str, head_mark: str = "dim", mark: str = "plain", indent: int = 0) -> None:
        """A text that hangs behind a head, or below one that leaves it no room."""
        if indent + len(head) > self.width // 2:
            self.text(head, head_mark, indent)
            indent, head = indent + 2, ""
        hang = indent + len(head)
        lines = self._wrapped(clean(text), hang, hang)
        first = lines[0][hang:] if lines else ""
        self.lines.append((Span(" " * indent + head, head_mark), Span(first, mark)))
        self.lines.extend((Span(line, mark),) for line in lines[1:])

    def numbered(self, number: int, severity: str, title: str) -> None:
        """The first line of a finding: its number, its severity, its subject."""
        head = f"{number:>3}. {severity.upper()}  "
        lines = self._wrapped(clean(title), len(head), len(head)) or [head]
        first = lines[0][len(head) :]
        marks = (Span(f"{number:>3}. ", "dim"), Span(severity.upper(), severity), Span("  "), Span(first, "title"))
        self.lines.append(marks)
        self.lines.extend((Span(line, "title"),) for line in lines[1:])

    def heading(self, text: str) -> None:
        self.blank()
        self.text(text, "station")

    def blank(self) -> None:
        self.lines.append(())

    def _wrapped(self, text: str, first: int, rest: int) -> list[str]:
        return textwrap.wrap(
            text,
            self.width,
            initial_indent=" " * first,
            subsequent_indent=" " * rest,
            break_on_hyphens=False,
        )
