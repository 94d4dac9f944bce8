"""The words a rule file opens with: its title and the five parts of its docstring."""

from plancheck.record import NamedTuple

HEADINGS = ("Looks at", "Why", "To mend", "Cannot see", "Ask")


class Words(NamedTuple):
    """A rule's manual, as its docstring has it."""

    title: str
    looks_at: str
    why: str
    to_mend: str
    cannot_see: str
    ask: str


def words_of(docstring: str) -> Words:
    """The words of a rule file's docstring. Raises ValueError naming the heading that is missing."""
    lines = [line.strip() for line in docstring.strip().splitlines()]
    title, parts, heading = lines[0], dict.fromkeys(HEADINGS, ""), ""
    for line in lines[1:]:
        name, colon, rest = line.partition(":")
        if colon and name in HEADINGS:
            heading, line = name, rest  # noqa: PLW2901 - the heading is cut off its first line
        if heading and line.strip():
            parts[heading] = f"{parts[heading]} {line.strip()}".strip()
    missing = [name for name, text in parts.items() if not text]
    if missing:
        raise ValueError(f"the words lack '{missing[0]}:'")
    return Words(title, *(parts[name][:1].upper() + parts[name][1:] for name in HEADINGS))
