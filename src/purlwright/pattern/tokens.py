"""Words of a line, cut into tokens, and a cursor to read them with.

In: one line of text and where it stands in the source. Out: tokens with spans: stitch
abbreviations known to the dictionary, numbers (digits, fractions, words), ordinals, words, marks.
What the tokens mean together is left to ``read``.
"""

from __future__ import annotations

import re
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING, Any, NamedTuple

from purlwright.text import Span

if TYPE_CHECKING:
    from collections.abc import Mapping

__all__ = ["Cursor", "Token", "number_word", "tokenize"]


class Token(NamedTuple):
    """One token.

    ``kind``: "s" stitch abbreviation (``key`` is its dictionary key), "n" number, "o" ordinal ("3rd",
    "third"),
    "w" word, "p" mark. ``low`` is the lower-case text (curly quotes and dashes made plain).
    ``value`` is the number's value; words such as "two" and "twice" are words that also carry a value.
    ``glued`` is true when no space stands before it.
    """

    kind: str
    low: str
    text: str
    start: int
    end: int
    value: int | Fraction | None = None
    key: str = ""
    glued: bool = False

    @property
    def span(self) -> Span:
        return Span(self.start, self.end)


_UNITS = (
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen "
    "seventeen eighteen nineteen"
).split()
_TENS = "twenty thirty forty fifty sixty seventy eighty ninety".split()
_ORDINALS = (
    "zeroth first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth thirteenth "
    "fourteenth fifteenth sixteenth seventeenth eighteenth nineteenth"
).split()
_TENTHS = "twentieth thirtieth fortieth fiftieth sixtieth seventieth eightieth ninetieth".split()

_NUMBER_WORDS: dict[str, int] = {w: i for i, w in enumerate(_UNITS)}
_NUMBER_WORDS |= {w: 20 + 10 * i for i, w in enumerate(_TENS)}
_NUMBER_WORDS |= {
    f"{t}-{u}": 20 + 10 * i + j + 1 for i, t in enumerate(_TENS) for j, u in enumerate(_UNITS[1:10])
}
_NUMBER_WORDS |= {"once": 1, "twice": 2, "thrice": 3, "dozen": 12}
_ORDINAL_WORDS: dict[str, int] = {w: i for i, w in enumerate(_ORDINALS)}
_ORDINAL_WORDS |= {w: 20 + 10 * i for i, w in enumerate(_TENTHS)}
_ORDINAL_WORDS |= {
    f"{t}-{u}": 20 + 10 * i + j + 1 for i, t in enumerate(_TENS) for j, u in enumerate(_ORDINALS[1:10])
}
_GLYPHS = {
    "½": Fraction(1, 2),
    "¼": Fraction(1, 4),
    "¾": Fraction(3, 4),
    "⅓": Fraction(1, 3),
    "⅔": Fraction(2, 3),
    "⅛": Fraction(1, 8),
    "⅜": Fraction(3, 8),
    "⅝": Fraction(5, 8),
    "⅞": Fraction(7, 8),
}
_PLAIN = str.maketrans(
    {
        "‘": "'",
        "’": "'",
        "“": '"',
        "”": '"',
        "″": '"',
        "′": "'",
        "–": "-",
        "—": "-",
        "−": "-",
        "×": "x",
        "∗": "*",
        "★": "*",
        "☆": "*",
        "\u00a0": " ",
        "‑": "-",
        "‐": "-",
        "…": ".",
        "✱": "*",
        "＊": "*",
        "_": " ",
    }
)

_DAGGERS = {"†": "**", "‡": "***"}

# One piece of text, blanks before it skipped. Digits are ASCII only, so that every number has a value.
_CHUNK = re.compile(
    r"""\s*(?:
        (?P<word>[A-Za-zÀ-ÖØ-öø-ÿ]+(?:'[A-Za-z]+)?)(?P<more>[0-9]|[-/&.][A-Za-z0-9])?
      | (?P<ord>[0-9]+(?:st|nd|rd|th|d)(?![A-Za-z0-9]))
      | (?P<frac>[0-9]{1,2}/[0-9]{1,2}(?=\s?(?:inch|ins?\b|["”″]|cm\b|yds?\b|yards?\b)))
      | (?P<cross>[0-9]+(?:/[0-9]+)+\ ?[A-Za-z]+(?![A-Za-z0-9]))
      | (?P<num>[0-9]+\s*[½¼¾⅓⅔⅛⅜⅝⅞] | [½¼¾⅓⅔⅛⅜⅝⅞] | [0-9]+\s+[0-9]/[0-9]+(?![0-9]) | [0-9]+\.[0-9]+ | [0-9]+)
      | (?P<mark>\*+|\S)
      )""",
    re.VERBOSE | re.IGNORECASE,
)
# A run that may be one stitch abbreviation: letters and digits, joined by - / & or .
_RUN = re.compile(r"[A-Za-z0-9]{1,40}(?:[-/&.][A-Za-z0-9]{1,40}){0,9}")
_JOINS = re.compile(r"[-.]")
_LONGEST = 40
"""No abbreviation is longer; a longer run is cut before it is looked up."""
_LETTERS = re.compile(r"[A-Za-z]+")
_LEADING = re.compile(r"[0-9]{1,18}")


def number_word(word: str) -> int | None:
    """The value of a number written in words ("two", "twenty-four", "twice"), lower case; else None."""
    return _NUMBER_WORDS.get(word)


def _value(text: str) -> int | Fraction:
    if text.isdigit():
        return int(text[:18])
    if text[-1] in _GLYPHS:
        whole = text[:-1].strip()
        return (int(whole[:18]) if whole else 0) + _GLYPHS[text[-1]]
    if "/" in text:
        whole, part = text.split(None, 1)
        top, bottom = part.split("/")
        return int(whole[:18]) + (Fraction(int(top), int(bottom[:18])) if int(bottom[:18]) else Fraction(0))
    return Fraction(text[:36].rstrip("."))


def _abbreviation(low: str, at: int, compact: Mapping[str, str]) -> tuple[int, str] | None:
    """The longest known abbreviation that begins at ``at``: its end and its key."""
    m = _RUN.match(low, at)
    if m is None:
        return None
    stop = m.end()
    if stop - at > _LONGEST:
        stop = at + _LONGEST
        stop = max(low.rfind(c, at, stop) for c in "-/&.")
    while stop > at:
        word = low[at:stop]
        key = compact.get(word)
        if key is None and not word.isalnum():
            key = compact.get(_JOINS.sub("", word))
        if key is not None:
            return stop, key
        stop = max(low.rfind(c, at, stop) for c in "-/&.")
    return None


_HAND = re.compile(r"\b(left|right)-hand\b", re.IGNORECASE)
_STOPPED = frozenset({"patt", "pat"})
_GOES_ON = re.compile(r"\s*(?:[a-z(]|[,;]\s)")


def tokenize(text: str, offset: int, compact: Mapping[str, str]) -> list[Token]:
    """Cut ``text`` into tokens.

    offset : where ``text`` begins in the source; added to every span.
    compact : lower-case compact abbreviation -> dictionary key (the pattern's own included, as "=NAME").
    Returns a list of tokens; an empty text gives none. Never raises.
    """
    out: list[Token] = []
    plain = text.translate(_PLAIN)
    if "-hand" in plain:
        plain = _HAND.sub(r"\1 hand", plain)  # "left-hand needle" as "left hand needle"
    low = plain.lower()
    if len(low) != len(plain):  # a letter whose small form is longer: keep the places
        low = "".join(c.lower() if len(c.lower()) == 1 else c for c in plain)
    at, last = 0, -1
    match, known, add = _CHUNK.match, compact.get, out.append
    while (m := match(plain, at)) is not None:
        kind = m.lastgroup
        if kind == "word":
            a, b = m.span("word")
            word = low[a:b]
            key = known(word)
            if key is not None:
                add(Token("s", word, text[a:b], offset + a, offset + b, None, key, a == last))
            elif word in _ORDINAL_WORDS:
                add(Token("o", word, text[a:b], offset + a, offset + b, _ORDINAL_WORDS[word], "", a == last))
            else:
                add(
                    Token(
                        "w", word, text[a:b], offset + a, offset + b, _NUMBER_WORDS.get(word), "", a == last
                    )
                )
        elif kind == "more":
            a, b = m.span("word")
            found = _abbreviation(low, a, compact)
            if found is not None and found[0] >= b:
                b = found[0]
                add(Token("s", low[a:b], text[a:b], offset + a, offset + b, None, found[1], a == last))
            else:
                token = _word(text, low, a, b, offset, glued=a == last)
                if b - a > 2 and (key := known(token.low)) is not None:
                    token = token._replace(kind="s", key=key)
                add(token)
                b = token.end - offset
        elif kind == "num":
            a, b = m.span("num")
            found = None
            if b < len(low) and low[b].isalpha():
                found = _abbreviation(low, a, compact)
            if found is not None and found[0] > b:
                b = found[0]
                add(Token("s", low[a:b], text[a:b], offset + a, offset + b, None, found[1], a == last))
            else:
                add(Token("n", low[a:b], text[a:b], offset + a, offset + b, _value(low[a:b]), "", a == last))
        elif kind == "frac":  # "1/2 inch"
            a, b = m.span("frac")
            top, bottom = low[a:b].split("/")
            part = Fraction(int(top), int(bottom)) if int(bottom) else Fraction(0)
            add(Token("n", low[a:b], text[a:b], offset + a, offset + b, part, "", a == last))
        elif kind == "ord":
            a, b = m.span("ord")
            value = int(_LEADING.match(low, a)[0])  # type: ignore[index]
            add(Token("o", low[a:b], text[a:b], offset + a, offset + b, value, "", a == last))
        elif kind == "cross":
            a, b = m.span("cross")
            word = low[a:b]
            key = known(word) or known(word.replace(" ", ""))
            if key is not None:
                add(Token("s", word, text[a:b], offset + a, offset + b, None, key, a == last))
            else:
                b = a + len(_LEADING.match(low, a)[0])  # type: ignore[index]
                add(Token("n", low[a:b], text[a:b], offset + a, offset + b, int(low[a:b]), "", a == last))
        else:
            a, b = m.span("mark")
            if low[a] == "°" and not (
                a and low[a - 1].isdigit()
            ):  # a star of old type: "°P2, k2; rep from °"
                add(Token("p", "*", text[a:b], offset + a, offset + b, None, "", a == last))
                at = last = b
                continue
            if low[a] in _DAGGERS:  # a repeat within a repeat: "*P3 †k2tog; rep from † twice; rep from *"
                add(Token("p", _DAGGERS[low[a]], text[a:b], offset + a, offset + b, None, "", a == last))
                at = last = b
                continue
            if low[a] == "." and a == last and out and out[-1].low in _STOPPED and _GOES_ON.match(plain, b):
                at = last = b  # "in patt. until ...": the stop of a short form, no end of a sentence
                continue
            add(Token("p", low[a:b], text[a:b], offset + a, offset + b, None, "", a == last))
        at = last = b
    return out


def _word(text: str, low: str, a: int, b: int, offset: int, *, glued: bool) -> Token:
    """A word with more glued to it; hyphened number words ("twenty-four", "forty-second") are one token."""
    word = low[a:b]
    if word in _NUMBER_WORDS and low[b : b + 1] == "-":
        h = _LETTERS.match(low, b + 1)
        if h is not None and ((joined := low[a : h.end()]) in _NUMBER_WORDS or joined in _ORDINAL_WORDS):
            b, word = h.end(), joined
    if word in _ORDINAL_WORDS:
        return Token("o", word, text[a:b], offset + a, offset + b, _ORDINAL_WORDS[word], "", glued)
    return Token("w", word, text[a:b], offset + a, offset + b, _NUMBER_WORDS.get(word), "", glued)


_NONE = Token("", "", "", 0, 0)


@cache
def _phrase(words: str) -> tuple[tuple[frozenset[str], bool], ...]:
    """The words of a phrase as ``Cursor.phrase`` takes them: which may stand there, and whether they may
    be left out.
    """
    return tuple((frozenset(w.rstrip("?").split("|")), w.endswith("?")) for w in words.split())


@cache
def _openings(phrases: tuple[str, ...]) -> dict[str, tuple[str, ...]]:
    """Which of the phrases may begin with a word, in order."""
    out: dict[str, tuple[str, ...]] = {}
    for phrase in phrases:
        seen: set[str] = set()
        for lows, optional in _phrase(phrase):
            seen |= lows
            if not optional:
                break
        for low in seen:
            out[low] = (*out.get(low, ()), phrase)
    return out


class Cursor:
    """A place in a list of tokens. ``parse_x`` functions may leave it where it was and give None.

    ``pad`` is the tokens and then empty ones, so that looking a little ahead needs no test.
    ``kept`` is what a reader notes about this line for its own later use (bodies of starred repeats, ...).
    """

    __slots__ = ("at", "kept", "pad", "tokens")

    def __init__(self, tokens: list[Token], at: int = 0) -> None:
        self.tokens = tokens
        self.pad = [*tokens, _NONE, _NONE, _NONE, _NONE, _NONE, _NONE, _NONE, _NONE]
        self.at = at
        self.kept: dict[str, Any] = {}

    @property
    def done(self) -> bool:
        return self.at >= len(self.tokens)

    def peek(self, ahead: int = 0) -> Token:
        """The token ``ahead`` of here, at most 8 back; an empty token (kind "") beyond either end."""
        try:
            return self.pad[self.at + ahead]  # a little before the first stand the empty ones, too
        except IndexError:
            return _NONE

    def next(self) -> Token:
        """Take one token; at the end an empty one, and stay there."""
        t = self.pad[self.at]
        if self.at < len(self.tokens):
            self.at += 1
        return t

    def take(self, *lows: str) -> Token | None:
        """Take the next token if its lower-case text is one of ``lows``."""
        t = self.pad[self.at]
        if t.kind and t.low in lows:
            self.at += 1
            return t
        return None

    def phrase(self, words: str) -> bool:
        """Take all the words of ``words`` (space between them; ``a|b`` either; ``a?`` optional) or none."""
        at = self.at
        pad = self.pad
        end = len(self.tokens)
        for lows, optional in _phrase(words):
            if at < end and pad[at].low in lows:
                at += 1
            elif not optional:
                return False
        self.at = at
        return True

    def any_phrase(self, *phrases: str) -> str | None:
        """The first of ``phrases`` that stands here, taken; else None. It is at least one word long."""
        here = self.at
        for p in _openings(phrases).get(self.pad[here].low, ()):
            if self.phrase(p):
                if self.at > here:
                    return p
        return None

    def span_from(self, start: int) -> Span:
        """The span of the tokens from index ``start`` up to here."""
        if not self.tokens or start >= len(self.tokens):
            end = self.tokens[-1].end if self.tokens else 0
            return Span(end, end)
        first = self.tokens[start].start
        last = self.tokens[max(start, min(self.at, len(self.tokens)) - 1)].end
        return Span(first, last)
