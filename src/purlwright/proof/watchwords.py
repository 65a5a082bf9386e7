"""The words that the checks of wording and of tools listen for, found once in each line of the text.

In: the text of a pattern. Out: its lines, each with its sort (title, heading, header, note, chart, words)
and what was heard in it. A line that stays the same is listened to once, so that an edit costs one line.
What the words mean is left to the checks.
"""

# ruff: noqa: E501 - a table of words has one kind a line
from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from functools import cached_property, lru_cache
from typing import NamedTuple

from purlwright.text import Span

__all__ = ["Heard", "TextLine", "Watched", "watch"]


class Heard(NamedTuple):
    """Words of a kind, at a place in the line."""

    kind: str
    start: int
    end: int


class TextLine(NamedTuple):
    """One line of the text as it stands."""

    number: int
    offset: int
    text: str
    sort: str
    """title, heading, header, note, chart or words."""
    heard: tuple[Heard, ...]

    def span(self, heard: Heard) -> Span:
        """Where the heard words stand in the source."""
        return Span(self.offset + heard.start, self.offset + heard.end)

    def words(self, heard: Heard) -> str:
        return self.text[heard.start : heard.end]


# kind, the small words without which it cannot be there, the expression
_KINDS: tuple[tuple[str, str, str], ...] = (
    ("larger", "larger bigger", r"\b(?:larger|bigger)\b(?:[- ]size[d]?)?"),
    ("smaller", "smaller", r"\bsmaller\b(?:[- ]size[d]?)?"),
    ("needle", "needle needles dpn dpns pointed", r"\b(?:needles?|dpns?|double[- ]pointed)\b"),
    ("dpn", "dpn dpns pointed", r"\b(?:dpns?|double[- ]pointed)\b"),
    ("mm", "mm", r"\b\d{1,2}(?:\.\d{1,2})? ?mm\b"),
    ("change", "change changing switch swap", r"\b(?:chang(?:e|ing)|switch|swap)\b"),
    ("marker", "pm sm marker markers", r"\b(?:pm|sm|markers?)\b"),
    ("holder", "holder holders waste scrap spare", r"\b(?:(?:stitch[- ])?holders?|(?:waste|scrap) (?:yarn|wool)|spare needles?)\b"),
    ("cable needle", "cn cable", r"\b(?:cable[- ]needles?|cn)\b"),
    ("button", "button buttons", r"\bbuttons?\b(?! ?(?:hole|band|loop))"),
    ("crochet hook", "hook crochet", r"\b(?:crochet )?hook\b|\bcrochet\b(?! (?:cotton|thread|yarn|wool|silk)\b)"),
    ("zip", "zip zipper", r"\b(?:zip|zipper)\b"),
    ("ribbon", "ribbon", r"\bribbon\b"),
    ("elastic", "elastic", r"\belastic\b(?! (?:bind|cast))"),
    ("bind off", "bind bound binding", r"\b(?:bind|bound|binding)[- ]off\b"),
    ("cast off", "cast casting", r"\b(?:cast|casting)[- ]off\b"),
    ("stockinette", "stockinette stockinet", r"\bstockinett?e?\b"),
    ("stocking stitch", "stocking", r"\bstocking[- ](?:stitch|st)\b"),
    ("seed stitch", "seed", r"\bseed[- ](?:stitch|st)\b"),
    ("moss stitch", "moss", r"\b(?:moss)[- ](?:stitch|st)\b"),
    ("yfwd", "yfwd yf forward", r"\b(?:yfwd|yf)\b"),
    ("wrn", "yrn yon wrn", r"\b(?:yrn|yon|wrn)\b"),
    ("yo", "yo", r"\byo\b"),
    ("established", "established set before keeping", r"\b(?:as established|as set|as before|keeping (?:the )?(?:pattern|patt)\w*)\b"),
    ("reversed", "reverse reversing reversed reversely", r"\b(?:revers(?:e|ing)) (?:all |the )?shap\w+|\b(?:with )?(?:the )?shap\w+ reversed\b"),
    ("same time", "same meanwhile", r"\b(?:at the same time|meanwhile)\b"),
    ("page", "page pages", r"\bpages? \d+\b"),
    ("chart", "chart charts", r"\bcharts? (?-i:[A-Z]|\d{1,2})\b(?![-'’])"),
    ("see", "see", r"\bsee (?:the |under |section )*(?:[\"“]?)(?:abbreviations|special stitches|special abbreviations|stitch guide|glossary|notes|techniques|finishing|schematic|numbers|key)\b"),
    ("yarn end", "break cut carry carried carrying strand strands stranded fasten tie drop join rejoin attach twist float floats stripe", r"\b(?:break|cut|carr(?:y|ied|ying)|strand(?:s|ed)?|fasten|tie|drop|join|rejoin|attach|twist|floats?)\b"),
    ("take up", "join rejoin attach using with pick yarn", r"\b(?:join|rejoin|attach|using|with(?! (?:the )?(?:rs|ws|right|wrong|larger|smaller)\b)|pick|yarn)\b"),
    ("weave", "weave woven sew darn ends tails", r"\b(?:weav(?:e|ing)|woven|sew in|darn in|run in)\b|\bends\b"),
    ("block", "block wash soak press steam pin dry damp blocking rinse wet", r"\b(?:block(?:ing)?|wash|soak|press|steam|pin|dry|damp|rinse|wet)\b"),
    ("sew", "sew seam seams graft join sewing stitch up", r"\b(?:sew(?:ing)?|seams?|graft|join)\b"),
    ("shoulder", "shoulder shoulders", r"\bshoulders?\b"),
    ("tbc", "xx xxx xxxx tbc tbd todo lorem insert fixme", r"(?-i:\bX{2,4}\b)(?= ?(?:sts?|stitches|rows?|rnds?|rounds?|cm|in|g|m|times|mm)\b)|\b[xX]{3,4}\b(?! ?-?large)|(?-i:\b(?:TBC|TBD|TODO|FIXME)\b)|\blorem ipsum\b|[\[<(]insert [^\])>]{1,40}[\])>]"),
    ("two numbers", "times x", r"\b[a-z]{1,5}\d{1,3} \d{1,3} (?:times|x)(?![a-z])"),
    ("one or other", "or", r"(?<![\d.½¼¾] )(?<![\d.-])\b(?:[kp]?(?P<one>\d{1,3})) or (?:[kp]?(?P<other>\d{1,3}))(?= ?(?:sts?|stitches|times|rows?|rnds?|rounds?)\b)"),
)  # fmt: skip
_WORD = re.compile(r"[a-z]+")
_MARKS = frozenset({"`", "~", "#", ">"})
_TOLD: dict[str, tuple[int, ...]] = {}
_COMPILED: dict[int, re.Pattern[str]] = {}


def _triggers() -> dict[str, tuple[int, ...]]:
    """Each small word, with the kinds that it may belong to."""
    if not _TOLD:
        gathered: dict[str, list[int]] = {}
        for n, (_, words, _) in enumerate(_KINDS):
            for word in words.split():
                gathered.setdefault(word, []).append(n)
        _TOLD.update({word: tuple(kinds) for word, kinds in gathered.items()})
    return _TOLD


def _expression(kind: int) -> re.Pattern[str]:
    found = _COMPILED.get(kind)
    if found is None:
        found = _COMPILED[kind] = re.compile(_KINDS[kind][2], re.IGNORECASE)
    return found


@lru_cache(maxsize=16384)
def _listen(text: str) -> tuple[Heard, ...]:
    """What is heard in one line, in the order of its words."""
    told = _triggers()
    kinds: set[int] = set()
    for word in set(_WORD.findall(text.lower())):
        kinds.update(told.get(word, ()))
    heard = [Heard(_KINDS[k][0], m.start(), m.end()) for k in kinds for m in _expression(k).finditer(text)]
    heard += [Heard("tbc", m.start(), m.end()) for m in re.finditer(r"\?{2,}", text)] if "??" in text else []
    return tuple(sorted(heard, key=lambda h: (h.start, h.end, h.kind)))


class Watched:
    """The lines of a text, and where each kind of word was heard."""

    def __init__(self, lines: Sequence[TextLine], header_lines: frozenset[int] = frozenset()) -> None:
        self.lines = tuple(lines)
        self.header_lines = header_lines

    @cached_property
    def by_kind(self) -> dict[str, list[tuple[TextLine, Heard]]]:
        """Everything heard, by kind, in the order of the text."""
        out: dict[str, list[tuple[TextLine, Heard]]] = {}
        for line in self.lines:
            for heard in line.heard:
                out.setdefault(heard.kind, []).append((line, heard))
        return out

    def of(self, *kinds: str, sorts: Iterable[str] = ("words",)) -> Iterator[tuple[TextLine, Heard]]:
        """Where words of these kinds stand, in lines of these sorts."""
        wanted = frozenset(sorts)
        for kind in kinds:
            for line, heard in self.by_kind.get(kind, ()):
                if line.sort in wanted:
                    yield line, heard

    def any(self, *kinds: str, sorts: Iterable[str] = ("words",)) -> bool:
        return next(self.of(*kinds, sorts=sorts), None) is not None


def watch(text: str, header_lines: frozenset[int] = frozenset(), before: Watched | None = None) -> Watched:
    """Listen to a whole text. ``header_lines`` are the numbers of the lines of key and value.

    before : what was heard of the text before an edit.
    """
    if before is not None and before.header_lines == header_lines:
        again = _again(text.split("\n"), before)
        if again is not None:
            return Watched(again, header_lines)
    out: list[TextLine] = []
    offset = 0
    fenced = titled = False
    make = tuple.__new__  # a line is made for every line at every keystroke
    for number, words in enumerate(text.split("\n"), 1):
        first = words[:1]
        if first in _MARKS:
            if words.startswith(("```", "~~~")):
                fenced = not fenced
                sort = "chart"
            elif fenced:
                sort = "chart"
            elif first == "#":
                sort = "heading" if titled or not words.startswith("# ") else "title"
                titled = True
            elif first == ">":
                sort = "note"
            else:
                sort = "header" if number in header_lines else "words"
        else:
            sort = "chart" if fenced else "header" if number in header_lines else "words"
        heard = _listen(words) if words and sort != "chart" else ()
        out.append(make(TextLine, (number, offset, words, sort, heard)))
        offset += len(words) + 1
    return Watched(out, header_lines)


def _again(texts: Sequence[str], before: Watched) -> list[TextLine] | None:
    """The lines of a text with one stretch changed in place; None if more than words changed there."""
    was = before.lines
    if len(texts) != len(was):
        return None
    changed = [n for n, (words, line) in enumerate(zip(texts, was, strict=True)) if words != line.text]
    if not changed:
        return list(was)
    if any(x[:1] in _MARKS for n in changed for x in (texts[n], was[n].text)):
        return None  # a heading, a note or a fence came or went
    out, offset = list(was[: changed[0]]), was[changed[0]].offset
    make = tuple.__new__
    others = set(changed)
    for n in range(changed[0], len(was)):
        number, _, words, sort, heard = was[n]
        if n in others:
            words = texts[n]
            heard = _listen(words) if words and sort != "chart" else ()
        out.append(make(TextLine, (number, offset, words, sort, heard)))
        offset += len(words) + 1
    return out
