"""What the reader refuses, and where it says so. Lines and columns were counted by hand in each text."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from plancheck.errors import Unreadable
from plancheck.reading import MOST_BYTES, read_bytes, read_plan

REFUSED = [
    # name, text, line, column, words
    ("key twice", "a: 1\nb: 2\na: 3\n", 3, 1, "stands twice"),
    ("key twice in flow", "a: {x: 1, y: 2, x: 3}\n", 1, 17, "stands twice"),
    ("anchor", "a: &here 1\n", 1, 4, "anchor"),
    ("anchor on a mapping", "a: &here {b: 1}\n", 1, 4, "anchor"),
    ("alias", "a: &x 1\nb: *x\n", 2, 4, "alias"),
    ("merge key", "base: {a: 1}\nb:\n  <<: {c: 1}\n", 3, 3, "merges"),
    ("tag", "a: !!python/name:os.system x\n", 1, 4, "type tag"),
    ("local tag", "a: !mine x\n", 1, 4, "type tag"),
    ("tag on a key", "!!str a: x\n", 1, 1, "type tag"),
    ("second document", "a: 1\n---\nb: 1\n", 2, 1, "second document"),
    ("yes", "a: yes\n", 1, 4, "true or false"),
    ("Off", "a: [Off]\n", 1, 5, "true or false"),
    ("on as a key", "x: {on: 1}\n", 1, 5, "true or false"),
    ("eights", "a: 010\n", 1, 4, "eights"),
    ("eights as a key", "010: 1\n", 1, 1, "eights"),
    ("0o10", "a: 0o10\n", 1, 4, "another notation"),
    ("hex", "a: 0x1F\n", 1, 4, "another notation"),
    ("binary", "a: 0b11\n", 1, 4, "another notation"),
    ("underscore", "a: 1_000\n", 1, 4, "another notation"),
    ("sixties", "a: 10:30\n", 1, 4, "sixties"),
    ("exponent", "a: 1e5\n", 1, 4, "exponent"),
    ("exponent with a point", "a: 1.5e3\n", 1, 4, "exponent"),
    ("infinity", "a: -.inf\n", 1, 4, "no quantity"),
    ("not a number", "a: .NaN\n", 1, 4, "no quantity"),
    ("long number", "a: " + "9" * 40 + "\n", 1, 4, "40 digits"),
    ("empty value", "a: 1\nb:\nc: 2\n", 2, 3, "empty value"),
    ("null", "a: null\n", 1, 4, "empty value"),
    ("tilde", "a: ~\n", 1, 4, "empty value"),
    ("empty key", "a: 1\nb: {~: 2}\n", 2, 5, "empty key"),
    ("mapping as a key", "? {a: 1}\n: 2\n", 1, 3, "where a key should"),
    ("33 deep", "a: " + "[" * 33 + "]" * 33 + "\n", 1, 35, "32 deep"),
    ("tab indent", "a:\n\tb: 1\n", 2, 1, "a tab"),
    ("tab after spaces", "a:\n  b: 1\n \tc: 2\n", 3, 2, "a tab"),
    ("two colons", "a: b: c\n", 1, 5, "second colon"),
    ("open bracket", "a: [1, 2\nb: 3\n", 2, 2, "missing"),
    ("open quote", 'a: "x\nb: 1\n', 3, 1, "never closed"),
    ("at sign", "a: @home\n", 1, 4, "begins with @"),
    ("control character", "a: 1\nb: \x07\n", 2, 4, "cannot be printed"),
    ("empty file", "", 1, 1, "empty"),
    ("white space only", " \n\n  \n", 1, 1, "empty"),
    ("a list", "- a\n", 1, 1, "a list"),
    ("a single text", "hello\n", 1, 1, "single text"),
    ("remarks only", "# nothing\n", 2, 1, "nothing but remarks"),
    ("bad escape", 'a: "\\q"\n', 1, 5, "backslash"),
    ("json null", '{"a": null}\n', 1, 7, "empty value"),
    ("json twice", '{"a": 1,\n "a": 2}\n', 2, 2, "stands twice"),
]


@pytest.mark.parametrize(
    ("text", "line", "column", "words"), [row[1:] for row in REFUSED], ids=[row[0] for row in REFUSED]
)
def test_refused_with_place(text: str, line: int, column: int, words: str) -> None:
    with pytest.raises(Unreadable) as caught:
        read_bytes(text.encode("utf-8"), "x.plan.yaml")
    found = [problem for problem in caught.value.problems if words in problem.says]
    assert found, caught.value.problems
    assert (found[0].line, found[0].column) == (line, column)
    assert found[0].mend
    assert found[0].file == "x.plan.yaml"


def test_several_refusals_are_told_at_once_in_file_order() -> None:
    with pytest.raises(Unreadable) as caught:
        read_bytes(b"a: yes\nb:\nc: 1\nc: 2\nd: 010\n", "x")
    assert [(problem.line, problem.column) for problem in caught.value.problems] == [(1, 4), (2, 3), (4, 1), (5, 4)]


def test_bad_utf8_has_line_and_column() -> None:
    with pytest.raises(Unreadable) as caught:
        read_bytes("a: 1\nbé: \n".encode() + b"\xff\n", "x")
    assert (caught.value.problems[0].line, caught.value.problems[0].column) == (3, 1)
    assert "0xFF" in caught.value.problems[0].says


def test_utf16_is_named() -> None:
    with pytest.raises(Unreadable) as caught:
        read_bytes("a: 1".encode("utf-16"), "x")
    assert "UTF-16" in caught.value.problems[0].says


def test_byte_order_mark_is_taken_and_columns_hold() -> None:
    source = read_bytes(b"\xef\xbb\xbfa: 1\nb: {c: 2}\n", "x")
    assert source.data == {"a": 1, "b": {"c": 2}}
    assert source.place(("b", "c")) == (2, 8)


def test_too_many_values() -> None:
    text = "a: [" + "1," * 200_001 + "1]\n"
    with pytest.raises(Unreadable) as caught:
        read_bytes(text.encode(), "x")
    assert "200,000" in caught.value.problems[0].says


def test_keys_do_not_count_as_values() -> None:
    text = "a: {" + ",".join(f"k{number}: 1" for number in range(140_000)) + "}\n"
    assert len(read_bytes(text.encode(), "x").data["a"]) == 140_000


def test_too_many_bytes() -> None:
    with pytest.raises(Unreadable) as caught:
        read_bytes(b"#" * (MOST_BYTES + 1), "x")
    assert "2,000,000" in caught.value.problems[0].says


def test_folder_missing_and_odd_names(tmp_path: Path) -> None:
    for name, words in ((str(tmp_path), "folder"), (str(tmp_path / "no"), "no such file"), ("a\0b", "cannot be used")):
        with pytest.raises(Unreadable) as caught:
            read_plan(name)
        assert words in caught.value.problems[0].says


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_a_pipe_does_not_hang(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    with pytest.raises(Unreadable) as caught:
        read_plan(str(pipe))
    assert "ordinary file" in caught.value.problems[0].says


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may read everything")
def test_unreadable_file(tmp_path: Path) -> None:
    file = tmp_path / "x.plan.yaml"
    file.write_text("a: 1\n", encoding="utf-8")
    file.chmod(0)
    with pytest.raises(Unreadable) as caught:
        read_plan(str(file))
    assert "may not be read" in caught.value.problems[0].says
