"""From a file to data with places: YAML (or JSON) events into plain values plus where each key and value stands.

Nothing that needs a reader's guess is taken: no anchors, aliases, merge keys or tags, no duplicate keys, one document,
keys are text, and a plain scalar that YAML 1.1 and 1.2 read differently is refused with "quote it".
"""

import io
import os
import stat
from bisect import bisect_right
from collections.abc import Callable
from typing import Any, NoReturn

import yaml
from yaml.events import DocumentEndEvent, DocumentStartEvent, MappingStartEvent, StreamEndEvent, StreamStartEvent

from plancheck.composing import Composer, LookAgain, TooMuch
from plancheck.errors import Problem, Unreadable
from plancheck.record import NamedTuple
from plancheck.yamlwords import in_plain_words

MOST_BYTES = 2_000_000
MOST_PROBLEMS = 50

Path = tuple[str | int, ...]


class Lines:
    """Turns offsets in the text of a file into lines and columns; the table is made on the first question."""

    __slots__ = ("_raw", "_starts")

    def __init__(self, raw: bytes) -> None:
        self._raw = raw
        self._starts: list[int] = []

    def at(self, offset: int) -> tuple[int, int]:
        """Line and column, both from 1, of the character at the offset."""
        if not self._starts:
            self._starts = [0]
            for line in io.StringIO(self._raw.decode("utf-8"), newline=""):
                self._starts.append(self._starts[-1] + len(line))
        line_number = bisect_right(self._starts, offset) or 1
        return line_number, offset - self._starts[line_number - 1] + 1


class Source(NamedTuple):
    """A file as read, raw its bytes. data is dict/list/str/int/float/bool; spots maps id(container) to the places of what it holds.

    A mapping's spots are offsets in characters of key, value, key, value ... in its order, a list's of its values.
    """

    file: str
    raw: bytes
    data: dict[str, Any]
    spots: dict[int, list[int]]
    lines: Lines
    orders: dict[int, dict[str, int]]

    def place(self, path: Path) -> tuple[int, int]:
        """Line and column (from 1) of the value at the path, or of its nearest enclosing value that exists."""
        return self.lines.at(self._offsets(path)[1])

    def key_place(self, path: Path) -> tuple[int, int]:
        """Line and column (from 1) of the key that ends the path; of a list item, the item."""
        return self.lines.at(self._offsets(path)[0])

    def _offsets(self, path: Path) -> tuple[int, int]:
        container: Any = self.data
        found = (0, 0)
        for step in path:
            spots = self.spots.get(id(container), [])
            if isinstance(container, dict) and step in container:
                number = 2 * self._order(container)[str(step)]
                found = spots[number], spots[number + 1]
            elif isinstance(container, list) and isinstance(step, int) and 0 <= step < len(container):
                found = spots[step], spots[step]
            else:
                break
            container = container[step]
        return found

    def _order(self, container: dict[str, Any]) -> dict[str, int]:
        order = self.orders.get(id(container))
        if order is None:
            order = self.orders[id(container)] = {key: number for number, key in enumerate(container)}
        return order


def read_plan(file: str) -> Source:
    """Reads the file at the path. Raises Unreadable with the place and the mend where it cannot be taken."""
    return read_bytes(load_bytes(file), file)


def read_bytes(raw: bytes, file: str) -> Source:
    """Reads the bytes of a YAML or JSON file; file is the name used in problems. Raises Unreadable."""
    if len(raw) > MOST_BYTES:
        _refuse(file, 0, 0, f"the file is over {MOST_BYTES:,} bytes, the most that is read", "split it into two plans")
    _check_text(raw, file)
    text = parsed_of(raw)
    try:
        source = _read(text, file, careful=b"&" in text or b"!" in text)
    except LookAgain:
        source = _read(text, file, careful=True)
    return source if text == raw else source._replace(raw=raw)


def parsed_of(raw: bytes) -> bytes:
    """The bytes that are parsed, which lines and columns count in: without a mark at the head, JSON escapes joined."""
    return _join_surrogates(raw.removeprefix(b"\xef\xbb\xbf"))


def _read(raw: bytes, file: str, careful: bool) -> Source:
    problems: list[Problem] = []

    def note(mark: Any, says: str, mend: str) -> None:
        problems.append(Problem(file, mark.line + 1, mark.column + 1, says, mend))

    data: dict[str, Any] = {}
    spots: dict[int, list[int]] = {}
    try:
        next_event = events_of(raw)
        composer = Composer(next_event, note, careful)
        data, spots = _document(composer, next_event), composer.spots
    except yaml.YAMLError as broken:
        problems.append(in_plain_words(broken, raw, file))
    except TooMuch as stopped:
        note(*stopped.args)
    if problems:
        problems.sort(key=lambda problem: (problem.line, problem.column))
        raise Unreadable(tuple(problems[:MOST_PROBLEMS]), len(problems) - len(problems[:MOST_PROBLEMS]))
    return Source(file, raw, data, spots, Lines(raw), {})


def load_bytes(file: str) -> bytes:
    """The bytes of the file, no more than are read. Raises Unreadable with the mend where it cannot be had."""
    mend = "check the name and the folder"
    try:
        mode = os.stat(file).st_mode
        if stat.S_ISDIR(mode):
            _refuse(file, 0, 0, "this is a folder, not a plan file", "name the files in it, such as *.plan.yaml")
        if not stat.S_ISREG(mode):
            _refuse(file, 0, 0, "this is not an ordinary file", "save the plan as a file and name that")
        with open(file, "rb") as handle:
            raw = handle.read(MOST_BYTES + 1)
    except FileNotFoundError:
        says = "there is no such file"
    except PermissionError:
        says, mend = "this file may not be read", "change its permissions, or copy it"
    except (OSError, ValueError) as broken:
        says = f"this file cannot be read: {getattr(broken, 'strerror', None) or 'its name cannot be used'}"
    else:
        return raw
    raise Unreadable((Problem(file, 0, 0, says, mend),))


def _refuse(file: str, line: int, column: int, says: str, mend: str) -> NoReturn:
    raise Unreadable((Problem(file, line, column, says, mend),))


def _check_text(raw: bytes, file: str) -> None:
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as broken:
        before = raw[: broken.start].decode("utf-8")
        line, column = before.count("\n") + 1, len(before) - before.rfind("\n")
        wide = raw[:2] in (b"\xff\xfe", b"\xfe\xff")
        found = "the file is saved as UTF-16" if wide else f"a byte (0x{raw[broken.start]:02X}) that is not UTF-8 text"
        _refuse(file, line, column, found, "save the file as UTF-8")
    if not text.strip("\ufeff \t\r\n"):
        _refuse(file, 1, 1, "the file is empty", "start with  plancheck: 1  and a  parts:  section")


def events_of(raw: bytes) -> Callable[[], Any]:
    """The next event of the file, from libyaml where PyYAML has it, else from PyYAML's own parser (slower)."""
    if yaml.__with_libyaml__:
        from yaml._yaml import CParser

        return CParser(raw).get_event
    return yaml.SafeLoader(raw).get_event


_SURROGATES = r"\\(?:\\|u([dD][89abAB][0-9a-fA-F]{2})\\u([dD][c-fC-F][0-9a-fA-F]{2}))"


def _join_surrogates(raw: bytes) -> bytes:
    """JSON writes a character above U+FFFF as two escapes, YAML as one: rewrites the pairs of a JSON file."""
    if (b"\\ud" not in raw and b"\\uD" not in raw) or raw.lstrip(b"\xef\xbb\xbf \t\r\n")[:1] != b"{":
        return raw
    import re

    def joined(pair: Any) -> str:
        if pair[1] is None:
            return str(pair[0])
        high, low = int(pair[1], 16), int(pair[2], 16)
        return f"\\U{0x10000 + ((high - 0xD800) << 10) + (low - 0xDC00):08X}"

    return re.sub(_SURROGATES, joined, raw.decode("utf-8")).encode("utf-8")


def _document(composer: Composer, next_event: Callable[[], Any]) -> dict[str, Any]:
    event = next_event()
    while event.__class__ in (StreamStartEvent, DocumentStartEvent):
        event = next_event()
    if event.__class__ is not MappingStartEvent:
        found = "nothing but remarks" if event.__class__ is StreamEndEvent else "a list or a single text"
        raise TooMuch(event.start_mark, f"the file holds {found}", "start with  plancheck: 1  and a  parts:  section")
    composer.check_properties(event)
    data = composer.mapping(event)
    event = next_event()
    while event.__class__ is DocumentEndEvent:
        event = next_event()
    if event.__class__ is not StreamEndEvent:
        raise TooMuch(event.start_mark, "a second document begins here", "one plan a file: split it")
    return data
