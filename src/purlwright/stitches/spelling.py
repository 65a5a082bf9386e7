"""How the same term is spelled: spaces, stops and hyphens, words and figures, slips of the pen.

In: a term as written. Out: its squeezed form, its other spellings, how far two terms are apart.
Which term means which stitch is left to ``build`` and ``load``.
"""

from __future__ import annotations

__all__ = ["NUMBER_WORDS", "distance", "in_figures", "in_words", "squeeze", "word_form"]

NUMBER_WORDS = tuple(
    (
        "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen "
        "sixteen seventeen eighteen nineteen twenty twenty-one twenty-two twenty-three twenty-four"
    ).split()
)

_FIGURES = {word: str(value) for value, word in enumerate(NUMBER_WORDS)} | {
    "twice": "2 times",
    "once": "1 time",
}
_WORDS = {str(value): word for value, word in enumerate(NUMBER_WORDS)}
_DROPPED = str.maketrans("", "", " \t\n\u00a0.,;-\u2010\u2011\u2013\u2014'\u2019()[]")


def squeeze(term: str) -> str:
    """The term in lower case without spaces, stops, hyphens and brackets: "K. 2 tog." is ``k2tog``."""
    return term.casefold().translate(_DROPPED)


def word_form(phrase: str) -> str:
    """The phrase in lower case, single-spaced, without hyphens, commas and stops."""
    for mark in "-\u2010\u2011,.;()":
        phrase = phrase.replace(mark, " ")
    return " ".join(phrase.casefold().replace("\u2019", "'").split())


def in_figures(phrase: str) -> str:
    """The phrase with its small numbers in figures: "knit two together" is ``knit 2 together``."""
    return " ".join(_FIGURES.get(word, word) for word in phrase.split())


def in_words(phrase: str) -> str:
    """The phrase with its small numbers in words."""
    return " ".join(_WORDS.get(word, word) for word in phrase.split())


def distance(one: str, other: str, limit: int) -> int:
    """Letters to change, add, drop or swap to make one the other; ``limit + 1`` if more than ``limit``."""
    if abs(len(one) - len(other)) > limit:
        return limit + 1
    before: list[int] = []
    last = list(range(len(other) + 1))
    for row, letter in enumerate(one, 1):
        line = [row]
        for column, facing in enumerate(other, 1):
            best = min(last[column] + 1, line[-1] + 1, last[column - 1] + (letter != facing))
            if row > 1 and column > 1 and letter == other[column - 2] and one[row - 2] == facing:
                best = min(best, before[column - 2] + 1)
            line.append(best)
        if min(line) > limit:
            return limit + 1
        before, last = last, line
    return min(last[-1], limit + 1)
