"""YAML events into plain data and a side table of places, each an offset in characters; lines are found when asked."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from yaml.events import AliasEvent, MappingEndEvent, MappingStartEvent, ScalarEvent, SequenceEndEvent

from plancheck.scalars import Refused, plain_key, plain_value

MOST_DEPTH = 32
MOST_VALUES = 200_000

_GOOD_KEYS: set[str] = set()  # plain keys that both dialects read alike; the same few recur in every plan
_MEMO: dict[str, Any] = {}  # plain scalar text -> value; the same few hundred measures recur in every plan

Note = Callable[[Any, str, str], None]


class TooMuch(Exception):
    """The file goes past a limit; args are the mark, what was found and how to mend it."""


class LookAgain(Exception):
    """A quick reading met a key that stands twice: read again, carefully, to say where."""


class Composer:
    """Builds the value tree of one document.

    next_event gives the events, note takes (mark, says, mend) for what is refused but can be read past;
    careful looks at every event for anchors, tags and keys that stand twice. A quick reading (careful false, for files
    with neither & nor !) raises LookAgain where a key stands twice.
    spots maps id(container) to offsets: key, value, key, value ... of a mapping, value, value ... of a list.
    """

    __slots__ = ("_careful", "_next", "_note", "_values", "spots")

    def __init__(self, next_event: Callable[[], Any], note: Note, careful: bool) -> None:
        self._next = next_event
        self._careful = careful
        self._note = note
        self._values = 0
        self.spots: dict[int, list[int]] = {}

    def mapping(self, start: Any, depth: int = 1) -> dict[str, Any]:
        """The mapping that begins with the event start; reads up to its end."""
        self._check_depth(start, depth)
        next_event, careful, good_keys, memo = self._next, self._careful, _GOOD_KEYS, _MEMO
        found: dict[str, Any] = {}
        spots: list[int] = []
        self.spots[id(found)] = spots
        spot = spots.append
        while True:
            event = next_event()
            if event.__class__ is not ScalarEvent:
                if event.__class__ is MappingEndEvent:
                    break
                self._odd_key(event)
            key = event.value
            if careful or key not in good_keys:
                self._check_key(event, found)
            spot(event.start_mark.index)
            event = next_event()
            spot(event.start_mark.index)
            if event.__class__ is ScalarEvent:
                if careful:
                    self.check_properties(event)
                value = event.value
                if not event.style:
                    value = memo.get(value) or self._plain(event)
                found[key] = value
            else:
                found[key] = self._other(event, depth)
        if 2 * len(found) != len(spots) and not careful:
            raise LookAgain
        self._count(len(found), start)
        return found

    def sequence(self, start: Any, depth: int) -> list[Any]:
        """The list that begins with the event start; reads up to its end."""
        self._check_depth(start, depth)
        next_event, careful, memo = self._next, self._careful, _MEMO
        found: list[Any] = []
        spots: list[int] = []
        self.spots[id(found)] = spots
        while True:
            event = next_event()
            if event.__class__ is SequenceEndEvent:
                break
            spots.append(event.start_mark.index)
            if event.__class__ is ScalarEvent:
                if careful:
                    self.check_properties(event)
                value = event.value
                if not event.style:
                    value = memo.get(value) or self._plain(event)
                found.append(value)
            else:
                found.append(self._other(event, depth))
            if len(found) > MOST_VALUES:
                break
        self._count(len(found), start)
        return found

    def _plain(self, event: Any) -> Any:
        value = plain_value(event.value)
        if isinstance(value, Refused):
            self._note(event.start_mark, *value)
            return event.value
        if len(_MEMO) < MOST_VALUES:
            _MEMO[event.value] = value
        return value

    def _check_key(self, event: Any, found: dict[str, Any]) -> None:
        key: str = event.value
        if key in found:
            self._note(event.start_mark, f"'{_shorten(key)}' stands twice here", _TWICE)
            return
        self.check_properties(event)
        refused = None if event.style else plain_key(key)
        if refused:
            self._note(event.start_mark, *refused)
        elif not event.style and len(_GOOD_KEYS) < MOST_VALUES:
            _GOOD_KEYS.add(key)

    def _odd_key(self, event: Any) -> None:
        if event.__class__ is AliasEvent:
            raise TooMuch(event.start_mark, *_ALIAS)
        raise TooMuch(event.start_mark, "a mapping or list stands where a key should", "write a name before the colon")

    def _other(self, event: Any, depth: int) -> Any:
        if event.__class__ is AliasEvent:
            self._note(event.start_mark, *_ALIAS)
            return ""
        self.check_properties(event)
        if event.__class__ is MappingStartEvent:
            return self.mapping(event, depth + 1)
        return self.sequence(event, depth + 1)

    def check_properties(self, event: Any) -> None:
        """Notes the anchor and the tag of an event, which a plan does not use."""
        if event.anchor is not None:
            self._note(event.start_mark, f"an anchor (&{_shorten(event.anchor)})", _ALIAS[1])
        if event.tag is not None:
            says = f"a type tag ({_shorten(event.tag)})"
            self._note(event.start_mark, says, "leave out the part that begins with an exclamation mark")

    def _check_depth(self, start: Any, depth: int) -> None:
        if depth > MOST_DEPTH:
            says = f"the file is nested more than {MOST_DEPTH} deep here"
            raise TooMuch(start.start_mark, says, "a plan needs no more than ten levels: check the brackets and indents")

    def _count(self, more: int, start: Any) -> None:
        self._values += more
        if self._values > MOST_VALUES:
            raise TooMuch(start.start_mark, f"the file holds more than {MOST_VALUES:,} values", "split the plan")


_TWICE = "keep one, or give one of them another name"
_ALIAS = ("an alias or anchor (a mark that stands for another place)", "write the value out, or use 'like'")


def _shorten(text: str) -> str:
    return text if len(text) <= 40 else text[:37] + "..."
