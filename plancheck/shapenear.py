"""Which of the words that may stand somewhere a wrong one was meant to be."""

from __future__ import annotations

from collections.abc import Iterable

_LONGEST = 60
_SHORTEST_PIECE = 3


def nearest(word: str, words: Iterable[str]) -> str:
    """The one word that is meant, or an empty text where none or several may be."""
    found = near(word, words)
    return found[0] if len(found) == 1 else ""


def near(word: str, words: Iterable[str], only_close: bool = False) -> tuple[str, ...]:
    """The words of the list that may be meant, at most three, or none; only_close: all but a slip of the pen alike."""
    import difflib  # only for a mistake

    folded: dict[str, str] = {}
    for known in words:
        folded.setdefault(_fold(known), known)
    wrong = _fold(word[: 2 * _LONGEST])
    if not wrong or len(wrong) > _LONGEST:
        return ()
    alike = difflib.get_close_matches(wrong, folded, 1, 0.6)
    if alike and difflib.SequenceMatcher(None, wrong, alike[0]).ratio() >= 0.8:
        return (folded[alike[0]],)
    if only_close:
        return ()
    holding = [folded[known] for known in folded if _within(wrong, known)]
    if 0 < len(holding) <= 3:
        return tuple(holding)
    return tuple(folded[known] for known in alike)


def _fold(word: str) -> str:
    return " ".join(word.lower().replace("_", " ").replace("-", " ").split())


def _within(wrong: str, known: str) -> bool:
    """crimp in copper crimp ring, and pexb as pex b; never by a piece of a word."""
    if wrong.replace(" ", "") == known.replace(" ", ""):
        return True
    return len(wrong) >= _SHORTEST_PIECE and set(wrong.split()) <= set(known.split())
