"""What a YAML parser complains of, in words for somebody who never heard of tokens and scalars."""

from __future__ import annotations

from typing import Any

from plancheck.errors import Problem

# words found in the parser's complaint -> what was found, how to mend it; the first that fits is taken
_WORDS = (
    ("nesting", ("brackets nested far too deep", "a plan needs no more than ten levels: check the brackets")),
    ("control characters", ("a character that cannot be printed", "delete it; type the line again")),
    ("special characters", ("a character that cannot be printed", "delete it; type the line again")),
    ("mapping values are not allowed", (
        "a second colon with a space after it in one entry, or a line indented wrongly",
        "put text that holds a colon in quotes; line the keys of one thing up exactly",
    )),
    ("could not find expected ':'", (
        "a key without its colon", "write  name: value  with a space after the colon",
    )),
    ("unexpected end of stream", ("a quote that is never closed", "add the missing quote")),
    ("document indicator", ("a quote that is never closed before '---'", "add the missing quote")),
    ("expected ',' or ']'", ("a list whose ']' or ',' is missing", "close the bracket, or put a comma between entries")),
    ("expected ',' or '}'", ("a '}' or ',' is missing", "close the brace, or put a comma between entries")),
    ("escape", ("a backslash sequence in double quotes that means nothing", "use single quotes, or double the backslash")),
    ("did not find expected key", (
        "a line that fits no key above it", "check the indent, the quotes and the commas of this and the line before",
    )),
    ("expected <block end>", (
        "a line that fits no key above it", "check the indent, the quotes and the commas of this and the line before",
    )),
    ("block sequence entries are not allowed", (
        "a list entry ('- ') where none can stand", "put the list on lines of its own below its key",
    )),
    ("block end", ("a line that fits no key above it", "check the indent, the quotes and the commas")),
    ("did not find expected '-'", ("a line inside a list without '- '", "check the indent of this line")),
    ("undefined tag", ("a type tag (it begins with an exclamation mark)", "leave it out")),
    ("tag", ("a type tag (it begins with an exclamation mark)", "leave it out")),
    ("anchor", ("an anchor or alias", "write the value out, or use 'like'")),
    ("alias", ("an anchor or alias", "write the value out, or use 'like'")),
    ("directive", ("a line that begins with a percent sign", "leave it out")),
)
_OTHER = ("the file's structure breaks here", "check the indent, quotes, brackets and commas of this and the line before")
_TAB = ("a tab where spaces should stand", "indent with spaces only")


def in_plain_words(broken: Any, raw: bytes, file: str) -> Problem:
    """The Problem for a yaml.YAMLError raised while reading the bytes raw (UTF-8)."""
    mark = getattr(broken, "problem_mark", None) or getattr(broken, "context_mark", None)
    if mark is None:
        line, column = _from_offset(raw, getattr(broken, "position", 0) or 0, isinstance(broken.__cause__, Exception))
    else:
        line, column = mark.line + 1, mark.column + 1
    complaint = f"{getattr(broken, 'problem', None) or getattr(broken, 'reason', '')}"
    says, mend = _OTHER
    if _at_tab(raw, line, column):
        says, mend = _TAB
    elif "cannot start any token" in complaint:
        says, mend = _odd_start(raw, line, column)
    else:
        says, mend = next((words for part, words in _WORDS if part in complaint), _OTHER)
    return Problem(file, line, column, says, mend)


def _from_offset(raw: bytes, offset: int, _: bool) -> tuple[int, int]:
    before = raw[:offset].decode("utf-8", "replace")
    return before.count("\n") + 1, len(before) - before.rfind("\n")


def _line(raw: bytes, line: int) -> str:
    lines = raw.decode("utf-8", "replace").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    return lines[line - 1] if 0 < line <= len(lines) else ""


def _at_tab(raw: bytes, line: int, column: int) -> bool:
    text = _line(raw, line)
    return "\t" in text[: column + 1] and not text[: column - 1].strip(" \t-?:")


def _odd_start(raw: bytes, line: int, column: int) -> tuple[str, str]:
    text = _line(raw, line)
    sign = text[column - 1 : column] or "a sign"
    if sign == "\t":
        return _TAB
    return f"a value that begins with {sign}", f"put it in quotes: \"{sign}...\""
