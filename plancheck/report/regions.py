"""Where the values of a plan begin and end in its text, found again from the bytes of a report."""

from __future__ import annotations

from typing import Any

from yaml.events import (
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    SequenceStartEvent,
    StreamEndEvent,
)

from plancheck.reading import Source, events_of, parsed_of, read_bytes

Place = tuple[int, int]


class Regions:
    """The values of one plan: raw as the report has it, which was read before."""

    def __init__(self, raw: bytes) -> None:
        self._source: Source = read_bytes(raw, "")
        self._ends = _ends(parsed_of(raw), self._source)

    def end(self, place: Place) -> Place | None:
        """Line and column just behind the value that begins at the place, or None where none does."""
        return self._ends.get(place)

    def place(self, pointer: str) -> Place:
        """Line and column of the value at the path (/runs/bath-cold/bends/2), or of the nearest around it."""
        path: list[str | int] = []
        here: Any = self._source.data
        for step in pointer.strip("/").split("/"):
            held: dict[Any, Any] = dict(enumerate(here)) if isinstance(here, list) else here
            key: str | int = int(step[:9]) if isinstance(here, list) and step.isdecimal() else step
            if not isinstance(held, dict) or key not in held:
                break
            here = held[key]
            path.append(key)
        return self._source.place(tuple(path))


def _ends(raw: bytes, source: Source) -> dict[Place, Place]:
    """Beginning -> end of every value. A mapping begins where its first key does: the mapping counts."""
    text = raw.decode("utf-8")
    next_event = events_of(raw)
    ends: dict[int, int] = {}
    open_: list[tuple[int, bool]] = []  # where the collections around begin, and whether they have brackets
    last = 0
    while (kind := (event := next_event()).__class__) is not StreamEndEvent:
        if kind is ScalarEvent:
            start, last = event.start_mark.index, event.end_mark.index
            if event.style in ("|", ">"):
                last = start + len(text[start:last].rstrip())
            ends.setdefault(start, last)
        elif kind in (MappingStartEvent, SequenceStartEvent):
            open_.append((event.start_mark.index, bool(event.flow_style)))
        elif kind in (MappingEndEvent, SequenceEndEvent):
            start, flow = open_.pop()
            last = event.end_mark.index if flow else last
            ends[start] = last
    at = source.lines.at
    return {at(start): at(end) for start, end in ends.items()}
