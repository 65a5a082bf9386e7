"""The text of a pattern, cut into blocks: headings, notes, fenced blocks, and lines of words.

In: a source text. Out: blocks in order, each with the place of its raw words. Only ``#`` headings, ``>``
notes and fences mean anything here. A line that does not end in ``. : ) ]`` goes on in the next, unless that
begins with a label, a heading or a key. What the words say is left to the other files of this room.
"""

from __future__ import annotations

import re
from enum import StrEnum
from functools import lru_cache
from typing import TYPE_CHECKING

from msgspec import Struct

from purlwright.pattern.header import known_key
from purlwright.pattern.read.context import Context
from purlwright.pattern.read.label import split_label
from purlwright.pattern.sources import source_in

if TYPE_CHECKING:
    from purlwright.text import Source

__all__ = ["Block", "Sort", "begins", "bullet", "cut", "key_of", "topic_of"]


class Sort(StrEnum):
    """What a block is."""

    HEADING = "heading"
    NOTE = "note"
    FENCE = "fence"
    WORDS = "words"


class Block(Struct, frozen=True, kw_only=True, gc=False):
    """A stretch of the source. ``start`` to ``end`` are its words, marks and outer spaces left out.

    ``line`` counts from 1. ``level`` is that of a heading; 0 for a title or heading without ``#``.
    ``info`` is what stands after a fence's marks; ``closed`` is false for a fence left open.
    """

    sort: Sort
    start: int
    end: int
    line: int
    level: int = 0
    info: str = ""
    closed: bool = True
    bare: bool = False
    """A heading without its mark in a text that has marks: "Abbreviations"; without words where a list is
    over and the work begins."""


_HEADING = re.compile(r"[ ]{0,3}(#{1,6})(?=[ \t]|$)")
_FENCE = re.compile(r"[ ]{0,3}(`{3,}|~{3,})([^`]*)$")
_NOTE = re.compile(r"[ ]{0,3}>[ ]?")
_KEY = re.compile(
    r"\s*(?:(?P<bold>\*\*|__)(?=[^*_]{1,60}(?:\*\*|__)))?(?P<key>[A-Za-z][\w ./&'’()-]{0,40}?)\s{0,8}"
    r"(?(bold)(?::(?:\*\*|__)|(?:\*\*|__):)|:)(?=\s|$)"
)
"""KEY ":"; a key in bold has its marks: "**Sizes:**"."""
_SET = re.compile(r"\s*(?P<key>[^\s=(*\[{][^=(*\[{:;,.]{0,40}?)(?:\s{0,8}\([^()=]{0,40}\))?\s{0,8}=\s")
_ONLY = re.compile(r"\s*[^:.;*(\[]{1,80}?\bonly\s{0,8}:", re.IGNORECASE)
_ENTRY = re.compile(
    r"\s*[A-Za-z0-9][\w/&.+-]{0,15}(?:[ ][\w/&.+-]{1,12})?(?:\s{0,8}\([^()]{0,40}\))?"
    r"\s{0,8}(?:[:=]|\s[-–—]\s|\t)"
)
_CAST_ON = re.compile(
    r"\s*(?:(?:with|using) (?:[^.,;]|(?<=\d)[.,](?=\d)){1,60}, ?)?(?:cast[ -]on|CO|c/o)\b", re.IGNORECASE
)
_WORK = re.compile(
    r"\W*(?:(?:knit|purl|work|repeat|rep|slip|sl|bind|cast|pick|join|turn|cont|continue|dec|inc|decrease|increase|place)\b"
    r"|[kp]\s?\d)",
    re.IGNORECASE,
)
_ENDS = re.compile(r"[.:)\]][\"'”’_]*\s*(?:\*{2,4})?$")
_TOTAL_LAST = re.compile(r"[.;\])]\s+\d[\d\s,()\[\]{}]{0,60}\s(?:sts|stitches)\s*$", re.IGNORECASE)
"""A row that ends with its total, the full stop left out: "Rnd 7: *k7, k2tog; rep from *. 64 sts"."""
_WHOLE = re.compile(
    r"\s*(?:terms|make|public side|version|sizes?|licen[cs]e)\s*:\s*\S.*[^,(\[\s]\s*$", re.IGNORECASE
)
"""A key whose value is a word or two never goes on in the next line."""
_ENDING = re.compile(
    r"\s*(?:(?:Bind|Cast|Fasten) off|BIND OFF|CAST OFF|BO|(?:Break|Cut)(?: off)?(?: the)? yarn|Graft|Sew"
    r"|Weave in)\b"
    r"|[Cc]ont(?:inue)?\.? (?:like this|in th(?:is|e same) (?:way|manner)|to (?:dec|inc)|(?:dec|inc)reasing)"
)
_GOES_ON = re.compile(
    r"(?:[,;:&(\[*/-]|\b(?:and|then|to|from|with|the|a|of|in|on|at|for|or|until|before|after|last|next|first"
    r"|rep|work))\s*$",
    re.IGNORECASE,
)
"""What a line breaks off with that is not complete."""
_IN_LIST = re.compile(r"\s*\d[\d\s,½¼¾.-]{0,60}[)\]]")
_BULLET = re.compile(r"\s{0,8}(?:[•‣▪◦●○·]\s*|(?P<dash>-)\s{1,8})(?=\S)")
_ROWS = re.compile(
    r"\b(?:rows?|rnds?|rounds?|RS|WS)\b|\b(?:first|second|third|fourth|1st|2nd|3rd|4th) needles?\b",
    re.IGNORECASE,
)
_FIRST_LOOPS = re.compile(
    r"\s*(?:(?:with|using|on)\b(?:[^.;:=]|(?<=\d)\.(?=\d)){1,60}?,?\s+)?"
    r"(?:(?:cast[ -]?on|CO|c/o)\s+(?:about\s+|an?\s+)?(?:\d|\{|any number|(?:odd|even) number|multiple|one"
    r"|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|twenty|thirty|forty|fifty|sixty|seventy"
    r"|eighty|ninety)"
    r"|cast\s+\d+\s+(?:sts|stitches)\b)",
    re.IGNORECASE,
)
"""A cast-on that begins a piece: it says how many."""
_NUMBERED_ROW = re.compile(
    r"\s*(?:(?:rows?|rnds?|rounds?)\s*\d|(?:set[ -]?up|foundation|first|1st|next)\s+(?:row|rnd|round)\b)"
    r"[^:=.]{0,40}[:.]",
    re.IGNORECASE,
)
_SMALL_PIECE = re.compile(r"\b(?:bind|cast) off\b|\bBO\b|\bpicots?\b", re.IGNORECASE)
_OPENS_RECIPE = re.compile(r"[^=:]{0,60}:?\s*$")
_WORK_HEADS = frozenset({
    "instructions", "pattern", "the pattern", "directions", "method", "pattern instructions",
    "knitting instructions", "pattern directions", "to make", "to work",
})  # fmt: skip
_MARKS = " .:*_"
"""What may stand round a heading without its mark: "**Abbreviations:**"."""
_NOTHING_KNOWN = Context()
_OPENING = 300
"""Enough of a line or heading to tell what it begins with."""

_TOPICS = {
    "numbers": "numbers", "named numbers": "numbers",
    "abbreviations": "abbreviations", "abbreviation": "abbreviations",
    "abbreviations and terms": "abbreviations", "terms": "abbreviations", "glossary": "abbreviations",
    "stitch abbreviations": "abbreviations", "abbreviations used": "abbreviations",
    "abbreviations used in this pattern": "abbreviations", "list of abbreviations": "abbreviations",
    "special stitches": "stitches", "special stitch": "stitches", "special abbreviations": "stitches",
    "special terms": "stitches", "stitches": "stitches", "stitch guide": "stitches",
    "special techniques": "notes", "techniques": "notes", "notes": "notes", "note": "notes",
    "pattern notes": "notes", "general notes": "notes", "notes on the pattern": "notes",
    "before you begin": "notes",
}  # fmt: skip
_LIST_INITIALS = frozenset(topic[0].upper() for topic in _TOPICS)
_CALLED = re.compile(
    r"(?:^|\s)(?:charts?(?:\s+[\w-]{1,12})?|patterns?|patt|stitch|stitches|st|(?:panel|pat|patt|pattern)(?:\s+[a-z0-9])?)"
    r"\s*(?:\(.*\))?$"
    r"|^charts?(?:\s+[\w-]{1,12})?\s*:\s",
    re.IGNORECASE,
)
""""Chart A", "Chart A: pods", "Chart: pods", "Seed stitch"."""


def topic_of(heading: str) -> str:
    """What a section of this heading gives: "numbers", "abbreviations", "stitches", "notes", "called", a key
    of the header ("header"), or "".
    """
    low = " ".join(heading[:_OPENING].lower().strip(" .:").split())
    topic = _TOPICS.get(low)
    if topic is not None:
        return topic
    if _CALLED.search(low):
        return "called"
    return "header" if known_key(low) is not None else ""


@lru_cache(maxsize=16384)
def _bare_list(body: str) -> bool:
    """Whether a line is the heading of a list as a printed sheet has it: "Abbreviations", "NOTES:"."""
    body = body.strip(_MARKS)
    if body[:1] not in _LIST_INITIALS or len(body) > _OPENING:
        return False
    low = " ".join(body.lower().split())
    return low not in {"terms", "stitches"} and _TOPICS.get(low) in {"abbreviations", "stitches", "notes"}


@lru_cache(maxsize=16384)
def _bare_key(body: str) -> bool:
    """Whether a line is a key of the header that stands over its value: "Gauge", "You will need:"."""
    body = body.strip(_MARKS)
    return body[:1].isupper() and len(body) <= 40 and known_key(" ".join(body.lower().split())) is not None


_FIRST_ROW = re.compile(r"\s*[*_]{0,2}(?:row|rnd|round)s?\s*1\b", re.IGNORECASE)


@lru_cache(maxsize=16384)
def _calls_rows(body: str) -> bool:
    """Whether a line names a stitch pattern whose rows stand under it: "Lace pattern (mult of 6)"."""
    return (
        len(body) <= 60
        and body[0].isupper()
        and _CALLED.search(body.rstrip(" .:")) is not None
        and _WORK.match(body) is None
        and not body.endswith((".", ","))
    )


_OVER_SO_MANY = re.compile(
    r"(?P<name>(?:[A-Z][A-Za-z'-]*\s+){0,5}?(?:pattern|pat|patt|stitch|st|panel|ribbing|rib|lace)s?"
    r"(?:\s+[A-Z0-9])?)\s*[:.,-]{0,2}\s*(?P<over>\(?(?:a |worked )?"
    r"(?:multiples? of|mult\.? of|over (?:a )?(?:multiple of )?\d|on \d)[^:]{0,60})",
    re.IGNORECASE,
)
"""A stitch pattern with its multiple in one line: "PATTERN STITCH: Multiple of 6 sts plus 1."."""
_PIECE_BEGINS = re.compile(
    r"(?P<name>[A-Z][A-Za-z' -]{1,40}?)\s*:\s*"
    r"(?=[^.:]{0,90}\b(?:cast on|c\.? ?o\.?)\s+(?:\d|an?\b|one|two|three))",
    re.IGNORECASE,
)
"""The first line of a piece under the rows of a stitch pattern: "BACK: With 4 mm needles cast on 84 sts."."""
_BOLD = re.compile(r"(\*\*|__)(?=[^\s*_])(?P<words>[^*_]{1,60})(?<=\S)\1:?")
"""A whole line in bold: "**Main pattern**"."""


@lru_cache(maxsize=16384)
def _in_bold(body: str) -> bool:
    """Whether a line is a heading by being bold and having nothing to work: "**Main pattern**"."""
    m = _BOLD.fullmatch(body)
    if m is None or m["words"].endswith((".", ",", ";")):
        return False
    return not begins(m["words"].rstrip(": "), "") and _WORK.match(m["words"]) is None


def _ends_list(heading: str, topic: str) -> bool:
    """Whether the work may begin under a heading of this topic without a heading of its own."""
    if topic == "header":
        return known_key(" ".join(heading.lower().strip(" .:").split())) in {"Yarn", "Needles", "Notions"}
    return topic in {"abbreviations", "stitches", "notes"}


def _work_begins(body: str, before: str, topic: str, *, apart: bool, loops_later: bool) -> bool:
    """Whether a line of a list is the first of the work: a cast-on, or a row's label if none is cast on
    later.

    The rows and small cast-ons of a recipe ("Picot:", and under it "Cast on 2 sts, bind off 3") are its own.
    """
    body = body[bullet(body) : _OPENING]
    recipe = not apart and _OPENS_RECIPE.match(before[-_OPENING:]) is not None
    if _FIRST_LOOPS.match(body):
        return topic != "stitches" or not (recipe or _SMALL_PIECE.search(body))
    return (
        topic in {"abbreviations", "header"}
        and apart
        and not loops_later
        and not before.rstrip().endswith(":")
        and _OPENS_RECIPE.match(before) is None
        and _NUMBERED_ROW.match(body) is not None
    )


def key_of(text: str) -> re.Match[str] | None:
    """KEY ":" at the start of a line: "Needles: 4.5 mm"."""
    return _KEY.match(text)


def bullet(text: str) -> int:
    """How much of a line is the mark of a list before its words: "• Row 1: Knit." gives 2.

    A dash is one only before a label, a key or a cast-on.
    """
    m = _BULLET.match(text)
    if m is None:
        return 0
    if m["dash"] and not begins(text[m.end() : m.end() + _OPENING].replace("-", " ", 1), ""):
        return 0
    return m.end()


def _heading_words(line: str, at: int) -> tuple[int, int]:
    """Where a heading's words stand: after its marks, without spaces and closing marks ("## Body ##")."""
    words = line[at:].strip()
    bare = words.rstrip("#")
    if bare != words and (not bare or bare[-1].isspace()):
        words = bare.rstrip()
    first = line.index(words, at) if words else at
    return first, first + len(words)


def begins(text: str, topic: str) -> bool:
    """Whether a line cannot be the rest of the line before: it opens with a label, a limit, a key or a
    cast-on.
    """
    text = text[bullet(text) : _OPENING]
    if _KEY.match(text) or _SET.match(text) or _ONLY.match(text) or _CAST_ON.match(text):
        return True
    if topic in {"abbreviations", "stitches"} and _ENTRY.match(text):
        return True
    return split_label(text, _NOTHING_KNOWN)[0] is not None


def plain_heading(text: str) -> bool:
    """A short line of capitals or capital initials, nothing to work: a heading pasted without its mark."""
    words = re.findall(r"[A-Za-z][\w'’-]*", text)
    if not 0 < len(words) <= 6 or re.search(r"[\d,;*()\[\]]|[.:]\s*\S", text) or _WORK.match(text):
        return False
    small = {"a", "an", "the", "of", "for", "and", "or", "with", "in", "to", "on"}
    return all(w[0].isupper() or w in small for w in words) and not text.rstrip().endswith(".")


_ALONE = re.compile(r"[A-Z][A-Za-z'’-]*(?: [A-Za-z'’&-]+){0,4}")


def _stands_alone(line: str, after: str) -> bool:
    """Whether a short line without a stop is a heading of its own: "Heel", "Shape top".

    The line after it then begins with a capital, a number or a star; else a sentence goes on in it.
    """
    bare = line.strip()
    return (
        _ALONE.fullmatch(bare) is not None
        and _GOES_ON.search(bare) is None
        and (after[0].isupper() or after[0].isdigit() or after[0] in "*[(")
        and (bare.istitle() or bare.isupper() or _HEADS.search(bare) is not None)
    )


_HEADS = re.compile(
    r"^(?:shape|divide|turn|begin|make up|making up|for|first|second|left|right|main)\b"
    r"|\b(?:heel|toe|crown|thumb|gusset|armholes?|neck|neckline|shoulders?|front|back|leg|foot|cuff|body|yoke|sleeves?"
    r"|border|edging|band|brim|hem|top|shaping|collar|flap|sides?|square|panel|section|strap|handles?)$",
    re.IGNORECASE,
)


@lru_cache(maxsize=16384)
def _in_capitals(body: str) -> bool:
    """Whether a line in a text with marks is a heading by its capitals alone: "BODY", "LEFT FRONT:".

    One of its words has four letters, so that "RS", "BO" and "PM" alone are none.
    """
    bare = body.strip(_MARKS)
    return (
        len(bare) <= 40
        and bare.isupper()
        and re.search(r"[A-Z]{4}", bare) is not None
        and not re.search(r"(?:\b(?:RNDS?|ROUNDS?|ROWS?|RS|WS|STS?)$)|\bEND OF\b", bare)
        and plain_heading(re.sub(r" \d{1,2}$", "", bare))
        and not _title_no(body)
    )


_AS_OTHER = re.compile(
    r"\s*(?:Work|Make|Knit|Complete)?\s*(?:exactly |just )?(?:the )?(?:as|same as|like|to match)\b",
    re.IGNORECASE,
)
"""A line that tells the piece it stands under as another one: "Work as for back to armholes."."""
_PIECE_NAME = re.compile(
    r"[A-Z][\w'’&/-]*(?: [\w'’&/-]+){0,5}?(?: \d{1,2})?(?: ?[(\[][^()\[\]]{1,40}[)\]]"
    r"| ?[-–—:,] ?(?:make|both|two|alike)[\w ]{0,20})?:?"
)


@lru_cache(maxsize=16384)
def _names_piece(body: str) -> bool:
    """Whether a short line may be the name of the piece that the next line casts on: "Arms (make 2)"."""
    return (
        _PIECE_NAME.fullmatch(body) is not None
        and re.match(r"[^(\[]*\d(?!\d?\W*$)", body) is None
        and not begins(body.rstrip(": "), "")
        and _WORK.match(body) is None
        and _FIRST_LOOPS.match(body) is None
    )


_WORDS_BLOCK, _NOTE_BLOCK, _HEADING_BLOCK = (
    Sort.WORDS,
    Sort.NOTE,
    Sort.HEADING,
)


def cut(source: Source) -> tuple[Block, ...]:
    """The blocks of a text, in order. An empty text gives none. Linear in the length of the text."""
    lines = source.text.split("\n")
    opening = next((n for n, line in enumerate(lines) if line.strip()), 0)
    marked = any(_HEADING.match(line) for line in lines[opening + 1 :] if line.lstrip()[:1] == "#")
    loops = -1  # the last line that casts on, once it is asked for
    bare_level = 6 if marked else 0
    out: list[Block] = []
    topic = ""
    listed = False  # in a list that the work itself ends
    at = 0
    number = 0
    while number < len(lines):
        line = lines[number]
        start = source.starts[number]
        number += 1
        body = line.strip()
        if not body:
            at = 0
            continue
        fence = _FENCE.match(line) if body[0] in "`~" else None
        if fence is not None:
            number = _fenced(source, lines, number, fence, out)
            at = 0
            continue
        heading = _HEADING.match(line) if body[0] == "#" else None
        if heading is not None:
            first, last = _heading_words(line, heading.end())
            out.append(
                Block(
                    sort=_HEADING_BLOCK,
                    start=start + first,
                    end=start + last,
                    line=number,
                    level=len(heading[1]),
                )
            )
            topic = topic_of(line[first:last])
            listed = _ends_list(line[first:last], topic)
            at = 0
            continue
        note = _NOTE.match(line) if body[0] == ">" else None
        left = start + (note.end() if note is not None else len(line) - len(line.lstrip()))
        right = start + len(line.rstrip())
        left = min(left, right)
        if note is not None:
            out.append(Block(sort=_NOTE_BLOCK, start=left, end=right, line=number))
            at = 0
            continue
        under_title = bool(out) and out[-1].level == 1 and number == opening + 2
        if (
            not marked
            and at == 0
            and not under_title
            and (not out or plain_heading(body))
            and not _title_no(body)
        ):
            right -= len(body) - len(body.rstrip(": "))
            listing = bool(out) and _bare_list(body)
            out.append(Block(sort=_HEADING_BLOCK, start=left, end=right, line=number, bare=listing))
            topic = topic_of(body) if len(out) > 1 else ""
            listed = _ends_list(body, topic)
            continue
        apart = at != number - 1 or topic == "header" or _is_whole(lines[at - 1])
        over = _OVER_SO_MANY.fullmatch(body) if out and apart and number < len(lines) else None
        if over is not None and not _calls_rows(body) and _FIRST_ROW.match(lines[number]):
            cut_at = left + over.end("name")
            out.append(Block(sort=_HEADING_BLOCK, start=left, end=cut_at, line=number, level=bare_level))
            out.append(
                Block(sort=_NOTE_BLOCK, start=left + over.start("over"), end=left + len(body), line=number)
            )
            topic, listed, at = "called", False, 0
            continue
        piece = _PIECE_BEGINS.match(body) if topic == "called" and apart else None
        if piece is not None:
            out.append(
                Block(
                    sort=_HEADING_BLOCK,
                    start=left,
                    end=left + piece.end("name"),
                    line=number,
                    level=bare_level,
                )
            )
            out.append(Block(sort=_WORDS_BLOCK, start=left + piece.end(), end=right, line=number))
            topic, listed, at = "", False, number
            continue
        if (
            out
            and apart
            and number < len(lines)
            and _FIRST_ROW.match(lines[number])
            and (_calls_rows(body) or (at == 0 and _names_piece(body)))
        ):
            out.append(Block(sort=_HEADING_BLOCK, start=left, end=right, line=number, level=bare_level))
            topic, listed, at = topic_of(body), False, 0
            continue
        over_value = apart and _bare_key(body) and number < len(lines) and bool(lines[number].strip())
        may_open = listed or topic == "header"
        if out and apart and (over_value or _bare_list(body) or (may_open and _work_head(body))):
            left += len(body) - len(body.lstrip(_MARKS))
            right -= len(body) - len(body.rstrip(_MARKS))
            out.append(
                Block(sort=_HEADING_BLOCK, start=left, end=right, line=number, level=bare_level, bare=True)
            )
            topic = topic_of(source.text[left:right]) if over_value or _bare_list(body) else ""
            listed = _ends_list(source.text[left:right], topic) if over_value else bool(topic)
            at = 0
            continue
        if marked and out and apart and (_in_capitals(body) or _in_bold(body)):
            right -= len(body) - len(body.rstrip(_MARKS))
            left += len(body) - len(body.lstrip(_MARKS))
            out.append(
                Block(sort=_HEADING_BLOCK, start=left, end=right, line=number, level=bare_level, bare=True)
            )
            topic = topic_of(source.text[left:right])
            topic = "" if topic == "called" else topic
            listed = _ends_list(source.text[left:right], topic)
            continue
        if (
            out
            and (apart or _KEY.match(lines[at - 1]) is not None)
            and _names_piece(body)
            and (after := next((one for one in lines[number : number + 2] if one.strip()), ""))
            and (_FIRST_LOOPS.match(after) or _AS_OTHER.match(after))
        ):
            right -= len(body) - len(body.rstrip(_MARKS))
            left += len(body) - len(body.lstrip(_MARKS))
            out.append(
                Block(sort=_HEADING_BLOCK, start=left, end=right, line=number, level=bare_level, bare=True)
            )
            topic, listed, at = "", False, 0
            continue
        if listed and loops < 0:
            loops = max((n for n, one in enumerate(lines, 1) if _FIRST_LOOPS.match(one)), default=0)
        if listed and _work_begins(
            body,
            source.text[out[-1].start : out[-1].end] if out[-1].sort is _WORDS_BLOCK else "",
            topic,
            apart=at == 0,
            loops_later=loops > number,
        ):
            out.append(
                Block(sort=_HEADING_BLOCK, start=left, end=left, line=number, level=bare_level, bare=True)
            )
            topic, listed, at = "", False, 0
        open_words = at == number - 1 and not _is_whole(lines[at - 1])
        if open_words and body[0].isupper() and _TOTAL_LAST.search(lines[at - 1]):
            open_words = False
        if (
            open_words
            and (at < 2 or not lines[at - 2].strip() or _is_whole(lines[at - 2]))
            and _stands_alone(lines[at - 1], body)
        ):
            open_words = False
        if open_words and _IN_LIST.match(line) and _open_bracket(lines[at - 1]):
            goes_on = True
        else:
            goes_on = open_words and topic != "header" and not begins(line, topic)
            if goes_on and out and (_ENDING.match(line) or _new_sentence(lines[at - 1], body)):
                goes_on = not _whole_row(source.text[out[-1].start : out[-1].end])
        if goes_on and out and _WORK.match(line) and source_in(source.text[out[-1].start : out[-1].end]):
            goes_on = False
        if goes_on and out and out[-1].sort is _WORDS_BLOCK:
            last_block = out.pop()
            out.append(Block(sort=_WORDS_BLOCK, start=last_block.start, end=right, line=last_block.line))
        else:
            out.append(Block(sort=_WORDS_BLOCK, start=left, end=right, line=number))
        at = number
    return tuple(out)


@lru_cache(maxsize=16384)
def _is_whole(line: str) -> bool:
    """Whether a line is complete: it ends in ``. : ) ]``, or is a key with a value of a word or two."""
    return _ENDS.search(line.rstrip()) is not None or _WHOLE.match(line) is not None


def _new_sentence(before: str, body: str) -> bool:
    """Whether a line under one too short to have been wrapped begins a new sentence: "Stuff firmly.", or
    "Repeat rows 3 and 4 for 30 cm" and "K2tog across" without a stop.
    """
    return len(before.strip()) <= _UNWRAPPED and _SENTENCE.match(body) is not None


_SENTENCE = re.compile(
    r"[A-Z][a-z]{3}.*\.$|(?:Knit|Purl|Rep(?:eat)?|Work|Cont(?:inue)?|Next|Change|Join|Place|[KP]\d(?:tog)?|SSK)\b"
)


_UNWRAPPED = 40
"""A line of so few letters was ended by its writer, not by the width of the page."""


def _whole_row(before: str) -> bool:
    """Whether words are a row that only lacks its full stop: "Row 8: Purl", and under it "Bind off all sts."

    A row that breaks off after a comma, a small word or inside a bracket goes on.
    """
    return (
        _GOES_ON.search(before[-_OPENING:]) is None
        and not _open_bracket(before)
        and split_label(before[bullet(before) : _OPENING], _NOTHING_KNOWN)[0] is not None
    )


def _open_bracket(line: str) -> bool:
    """Whether a bracket of the line is still open at its end: "14 (15,"."""
    return line.count("(") > line.count(")") or line.count("[") > line.count("]")


def _work_head(body: str) -> bool:
    """Whether a line says that the work begins: "Instructions", "PATTERN:"."""
    body = body.strip(_MARKS)
    return body[:1].isupper() and " ".join(body.lower().split()) in _WORK_HEADS


_CASTS_ON = re.compile(r"\b(?:cast(?:ing)?[ -]on|CO)\s+(?:\d|\{)", re.IGNORECASE)


def _title_no(text: str) -> bool:
    """Whether a line of a text without marks is no heading: a key, a label, something to work, or long."""
    bare = text.rstrip(": ")
    return (
        begins(bare, "")
        or (begins(bare + ": x", "") and _ROWS.search(bare) is not None)
        or _WORK.match(text) is not None
        or _CASTS_ON.search(text) is not None
        or len(text) > 100
    )


def _fenced(source: Source, lines: list[str], number: int, fence: re.Match[str], out: list[Block]) -> int:
    """FENCE INFO LINES FENCE: takes the lines up to the closing marks; gives the number of the line after."""
    marks, info = fence[1], fence[2].strip()
    opened = number
    while number < len(lines):
        line = lines[number]
        number += 1
        if line.strip() and not line.strip().strip(marks[0]) and len(line.strip()) >= len(marks):
            start, end = source.starts[opened], source.starts[number - 1]
            out.append(
                Block(sort=Sort.FENCE, start=start, end=max(start, end - 1), line=opened + 1, info=info)
            )
            return number
    start = source.starts[opened] if opened < len(lines) else len(source.text)
    out.append(
        Block(sort=Sort.FENCE, start=start, end=len(source.text), line=opened + 1, info=info, closed=False)
    )
    return number
