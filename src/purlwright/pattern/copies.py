"""How often a piece is made: "Sleeves (both alike)", "Make 2.", "Knit a second piece the same."

In: a heading, or the words of a line. Out: the number of pieces, or None where the words say nothing of it.
Working the section as often is left to ``needles``; halves that mirror each other are no copies.
"""

from __future__ import annotations

import re
from functools import lru_cache

from purlwright.pattern.tokens import number_word

__all__ = ["MAY_COPY", "copies_of", "copies_said", "is_mate", "is_mate_of_all"]

_N = r"(?P<n>\d{1,3}|two|three|four|five|six|seven|eight|nine|ten|twelve|both|a pair)"
_NOUN = (
    r"(?:(?:sleeve|sock|stocking|mitten|mitt|glove|slipper|bootee|bootie|shoe|strap|pocket|lining|piece|square"
    r"|strip|front|back|cuff|ear|leg|arm|wing|flap|band|tie|block|motif|wristlet|panel|petal|foot|paw|fin|one)s?"
    r"|leaf|leaves|feet|linings)"
)
MAY_COPY = re.compile(
    rf"\b(?:make|both|alike|same|second|2nd|another|other|(?:knit|work) \w+ (?:more|of|such|{_NOUN}))\b",
    re.IGNORECASE,
)
"""A line with none of these says nothing of copies."""
_OF = r"(?:left|right|first|pocket|sleeve|ear|leg|arm|such|of (?:these|them|the)|these)"
_PIECE = rf"(?:(?:{_OF}\s+){{0,3}}{_NOUN})"
_SAME = (
    r"(?:(?:exactly |just |quite )?(?:"
    r"alike|identical(?:ly)?|to (?:match|correspond|mate)(?: (?:the )?first)?"
    r"|(?:in )?(?:exactly )?(?:(?:the )?same|this|a similar)(?: (?:way|manner))?"
    rf"(?: as (?:the )?(?:first|other|last)(?: {_NOUN})?)?"
    rf"|(?:as|like)(?: for)? (?:it|this|(?:the )?(?:first|other))(?: {_NOUN})?))"
)
_VERB = r"(?:make|knit|work)"
_TAIL = (
    r"(?: ?, (?:\d|one|two|three) (?:in |of )?\w+ and (?:\d|one|two|three) (?:in |of )?\w+"
    r"| ?, one for (?:each|either) \w+| for (?:the )?\w+)?"
)
_MADE = r"(?:(?:is|are|will be|should be) )?(?:worked |knitted |knit |made )?"

_COUNTED = re.compile(
    rf"(?P<verb>{_VERB}) {_N}(?P<more> more)?(?P<of> of (?:these|them))?"
    rf"(?P<piece> {_PIECE})?(?P<same> {_SAME})?{_TAIL}"
)
_ONE_MORE = re.compile(rf"{_VERB} (?:one|1) more(?P<piece> {_PIECE})?(?P<same> {_SAME})?{_TAIL}")
_MATE = re.compile(
    rf"{_VERB} (?:(?:a|the|your) )?(?P<which>second|2nd|another|other)"
    rf"(?P<piece> {_PIECE})?(?P<same> {_SAME})?{_TAIL}"
)
_BOTH = re.compile(
    rf"(?:work )?(?:the )?(?:both (?:the )?{_PIECE}|(?:back|front) and (?:back|front)|left and right {_NOUN})"
    rf" {_MADE}(?P<same>{_SAME})"
)
_AGAIN = re.compile(
    rf"(?:repeat|do the same|the same)(?: (?:these|the|all) (?:instructions|rows)| all| this)?(?: again)?"
    rf" for (?:the )?(?:second|other|2nd) {_PIECE}"
)
_PASSIVE = re.compile(rf"(?:the )?(?:second|other|2nd) {_PIECE} {_MADE}(?P<same>{_SAME})")
_MIRRORED = re.compile(r"\bfronts?\b.*\bto (?:match|correspond|mate)\b")
"""A front that matches the other is its mirror, and no copy."""

_HEADING_TAIL = re.compile(
    r"(?P<head>.*?) ?(?:(?P<bracket>[(\[]) ?(?P<inside>[^()\[\]]+?) ?[)\]]"
    r"|[,:;–—-] ?(?P<after>[^,:;–—()\[\]-]+))"
)
_HEADING_TOLD = re.compile(
    rf"(?P<verb>{_VERB} )?(?:{_N}(?P<piece> {_PIECE})?|left and right)?(?P<same> ?(?:worked )?{_SAME})?"
)
_HEADING_TIMES = re.compile(rf".*\b(?P<piece>{_NOUN}) [x×] ?(?P<n>\d{{1,3}})|[x×] ?(?P<x>\d{{1,3}})")
_ENDS_IN_PIECE = re.compile(rf".*\b{_NOUN}")
_GOES_ON = re.compile(r"\b(?:sts|stitch(?:es)?|needles?|rows?|rnds?|rounds?)\b", re.IGNORECASE)
_LONGEST = 120
_SENTENCE = re.compile(r"[.;](?:\s+|$)")


def _number(word: str) -> int | None:
    if word in {"both", "a pair"}:
        return 2
    return int(word) if word.isdigit() else number_word(word)


def _plain(words: str) -> str:
    return " ".join(words.lower().strip(" \t.;:").split())


@lru_cache(maxsize=2048)
def copies_said(sentence: str, *, alone: bool = False) -> int | None:
    """COPIES := "make" NUMBER piece? same? | "make" "another" piece? same? | "both" piece "are" same | ...

    sentence : one sentence, in brackets or not. alone : no stitches can be meant, so that "make 2" and "make
    another" need no further words.
    """
    if len(sentence) > _LONGEST:
        return None
    told = _plain(sentence)
    bracket = told[:1] in "([" and told[-1:] in ")]"
    if bracket:
        told, alone = told[1:-1].strip(" ."), True
    m = _ONE_MORE.fullmatch(told)
    if m is not None:
        return 2 if alone or m["piece"] or m["same"] else None
    m = _COUNTED.fullmatch(told)
    if m is not None:
        bare = not (m["of"] or m["piece"] or m["same"])
        n = _number(m["n"])
        if n is None or (bare and not (alone and m["verb"] == "make")):
            return None
        return n + bool(m["more"])
    if is_mate(sentence, alone=alone):
        return 2
    alike = _BOTH.fullmatch(told) or (bracket and re.fullmatch(rf"(?:{_N} )?{_SAME}", told))
    return 2 if alike and _MIRRORED.search(told) is None else None


@lru_cache(maxsize=2048)
def is_mate(sentence: str, *, alone: bool = False) -> bool:
    """MATE := "make" ("a second" | "another") piece same? | "repeat for the other" piece

    The words send back to the piece told before: they need its cast-on.
    """
    if len(sentence) > _LONGEST:
        return False
    told = _plain(sentence)
    m = _MATE.fullmatch(told)
    if m is not None:
        whole = m["piece"] or (m["which"] == "another" and (alone or m["same"]))
        return bool(whole) and _MIRRORED.search(told) is None
    found = _AGAIN.fullmatch(told) or _PASSIVE.fullmatch(told)
    return found is not None and _MIRRORED.search(told) is None


@lru_cache(maxsize=2048)
def is_mate_of_all(words: str, heading: str, title: str) -> bool:
    """Whether words under the heading of a part ask for the whole of the pattern once more.

    "Make a second mitt the same" under Thumb, in a pattern of mitts: the title names it, and not the heading.
    """
    if not heading or not title or MAY_COPY.search(words) is None or not is_mate(words.strip().rstrip(".")):
        return False
    named = [n for n in re.findall(_NOUN, _plain(words)) if n not in {"one", "piece", "first"}]
    heads, titled = heading.casefold(), title.casefold()
    return bool(named) and all(n.rstrip("s") in titled and n.rstrip("s") not in heads for n in named)


def _of_heading(heading: str) -> int | None:
    """HEADING: "Sleeves (make 2)", "Sleeves - both alike", "Front and back (alike)", "Squares x 6"."""
    told = _plain(heading)
    if len(told) > _LONGEST:
        return None
    m = _HEADING_TAIL.fullmatch(told)
    parts = [(told, False, False)]
    if m is not None:
        tail = m["inside"] or m["after"]
        parts.insert(0, (tail, True, bool(m["bracket"] and _ENDS_IN_PIECE.fullmatch(m["head"]))))
    for words, tail_said, bare in parts:
        times = _HEADING_TIMES.fullmatch(words)
        if times is not None and (tail_said or times["n"]):
            return int(times["n"] or times["x"])
        m = _HEADING_TOLD.fullmatch(words)
        if m is None:
            continue
        if m["n"] and (m["verb"] or m["same"] or bare or (m["piece"] and not tail_said)):
            return _number(m["n"])
        if m["same"] and tail_said:
            return 2
    return None


def copies_of(words: str, *, whole: bool = True, begun: bool = True, heading: bool = False) -> int | None:
    """How often the piece is made, or None: "Sleeves (make 2)", "Bind off. Make both alike."

    whole : the words stand after a cast-on of their section, which "Make another the same." works twice.
    begun : their section casts on at all, so that "Both sleeves are worked alike." is no talk of the seams.
    heading : they are a heading; in a line, ``Row 3: K5, make 2`` makes two stitches.
    """
    if heading:
        n = _of_heading(words)
        return None if n is None else max(1, n)
    after_off = True
    sentences = [s for s in _SENTENCE.split(words) if s.strip()]
    for i, sentence in enumerate(sentences):
        n = copies_said(sentence, alone=after_off)
        mate = n is not None and is_mate(sentence, alone=after_off)
        if mate and _GOES_ON.search(" ".join(sentences[i + 1 :])):
            return None  # the two are joined, and worked on: no copies of all that stands here
        if n is not None and (begun or not _BOTH.fullmatch(_plain(sentence))) and (whole or not mate):
            return max(1, n)
        after_off = re.search(r"\boff\b", sentence) is not None
    return None
