"""What stands where in a file: title, keys and description, and the blocks under each heading.

In: the blocks of a text. Out: title, header entries, description, and sections not yet read. What the keys
say is left to ``header``; what the lines say, to ``read``.
"""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from purlwright.pattern.cut import Block, Sort, begins, key_of, topic_of
from purlwright.pattern.header import Entry, known_key
from purlwright.pattern.problems import SizesNotNamed
from purlwright.pattern.sections import Limit
from purlwright.text import NOWHERE, Source, Span

if TYPE_CHECKING:
    from purlwright.findings import Collector

__all__ = ["MOST_SIZES", "Arranged", "Raw", "arrange", "unnamed_sizes"]

_WORDS, _HEADING = Sort.WORDS, Sort.HEADING

MOST_SIZES = 40
"""No pattern has more sizes than this."""


@dataclass(slots=True)
class Raw:
    """A section while it is being read: its heading, what stands under it, and what it may be."""

    heading: str
    level: int
    span: Span
    line: int
    blocks: list[Block]
    topic: str = ""
    inner: bool = False
    """A heading under Special stitches and the like, such as the name of the stitch that it explains."""
    limit: Limit = field(default_factory=Limit)


@dataclass(slots=True, kw_only=True)
class Arranged:
    """A file taken apart."""

    title: str
    title_span: Span
    entries: tuple[Entry, ...]
    description: tuple[tuple[str, Span], ...]
    sections: list[Raw]


_STARTS = re.compile(
    r"(?:^|[.;:!]\s+)(?:(?:with|using|on)\b[^.;]{1,60}?[ ,]+)?(?:cast[ -]on|CO\s*\d|CO\b|pick(?:ing)? up)",
    re.IGNORECASE,
)
_NUMBERED = re.compile(
    r"\b(?:cast[ -]?on|CO)\s+(?:about\s+|a\s+)?(?:\d|\{|any number|multiple|one|two|three|four|five|six|seven"
    r"|eight|nine|ten|twelve|twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety)"
    r"|\bcast \d+ (?:sts|stitches)\b",
    re.IGNORECASE,
)
_WORKS = re.compile(
    r"\s*[*(\[]*\s*(?:(?:knit|purl|work|repeat|rep|slip|sl|bind|cast|join|turn|dec|inc|decrease|increase"
    r"|make 1|rib)\b(?!ted|ting)\s*(?:\d|one|two|three|four|five|six|seven|eight|all|every|to|across|plain|in"
    r"|rows?|rounds?|rnds?|sts?|stitch|off|the|even|until|for|a|next|around|[.,]|$)|[kp]\s?\d|yo\b|k2tog)",
    re.IGNORECASE,
)
_PARTED = re.compile(r"\s*(?:divide|put|place|take|pick up)\b.{0,40}\b(?:stitches|sts)\b", re.IGNORECASE)
_ABBREVIATED = re.compile(r"[A-Z]{1,3}\d{1,2}[A-Z]{1,2}|[A-Z]{2,4}")
"""A stitch that is explained among the keys: "C6F: slip 3 sts to cn and hold in front, k3, k3 from cn."."""
_PARTS = frozenset("back front body hood cuff toe hat sole heel leg foot yoke brim palm hand cap".split())
_DESCRIBES = re.compile(r"\s*(?:the|an?|this|these)\b[^:\d]*\.?\s*$", re.IGNORECASE)
"""A line under the title about the piece: "The set-up of a cabled front above its rib."."""
_SENTENCE = re.compile(r"[.;:!]\s+")
_SIZE_LIST = re.compile(r"\b\d+\s?(?:\((?P<round>\s*[\d,\s–-]+)\)|\[(?P<square>\s*[\d,\s–-]+)\])")


def arrange(source: Source, blocks: tuple[Block, ...]) -> Arranged:
    """TITLE? (KEY | DESCRIPTION)* (LINE* SECTION*): what stands where."""
    title, title_span = "", NOWHERE
    entries: list[Entry] = []
    description: list[tuple[str, Span]] = []
    raws: list[Raw] = []
    over: list[Raw] = []  # the headings that the next one may stand under
    at = 0
    if blocks and blocks[0].sort is _HEADING and blocks[0].level <= 1:
        title, title_span = source.text[blocks[0].start : blocks[0].end], Span(blocks[0].start, blocks[0].end)
        at = 1
    headed = any(b.sort is _HEADING for b in blocks[at:])
    in_header = True
    sheet = False  # in a list that stands between the keys, as on a printed sheet
    begun = False  # something is cast on
    own: Raw | None = None  # own stitches that are explained before the work, under no heading
    for block in blocks[at:]:
        words = source.text[block.start : block.end]
        if block.sort is _HEADING:
            in_header = False
            topic, inner = topic_of(words) if words else "", False
            if block.bare:
                topic = "" if topic == "called" else topic
                sheet = bool(topic) and all(raw.topic for raw in raws)
                raws.append(Raw(words, block.level, Span(block.start, block.end), block.line, [], topic))
                continue
            sheet = False
            while over and over[-1].level >= block.level:
                over.pop()
            if over and over[-1].topic in {"numbers", "abbreviations", "stitches", "notes"}:
                topic, inner = over[-1].topic, True
            span = Span(block.start, block.end)
            raws.append(Raw(words, block.level, span, block.line, [], topic, inner))
            over.append(raws[-1])
            continue
        begun = begun or (block.sort is _WORDS and _STARTS.search(words) is not None)
        listed = bool(raws) and raws[-1].topic != "" and raws[-1] is not own
        if (
            block.sort is _WORDS
            and not (begun or listed)
            and _defines_own(source.text, block, words, listed=bool(raws) and raws[-1] is own)
        ):
            if not raws or raws[-1] is not own:
                own = Raw("", 0, NOWHERE, block.line, [], "stitches")
                raws.append(own)
            own.blocks.append(block)
            in_header = False
            continue
        if raws and raws[-1] is own:  # the list of own stitches is over
            raws.append(Raw("", 0, NOWHERE, block.line, []))
        if in_header and block.sort is _WORDS:
            entry = _entry(block, words)
            if entry is not None:
                entries.append(entry)
                continue
            if not _starts_work(words, headed=headed):
                description.append((words, Span(block.start, block.end)))
                continue
            in_header = False
        if sheet and block.sort is _WORDS:
            entry = _entry(block, words)
            if entry is not None and entry.known is not None:
                entries.append(entry)
                continue
        if not raws:
            raws.append(Raw("", 0, NOWHERE, block.line, []))
        if _past_chart(raws[-1], block, words):
            outer = over[-2] if len(over) > 1 and over[-1] is raws[-1] else None
            heading, span = (outer.heading, outer.span) if outer is not None else ("", NOWHERE)
            raws.append(Raw(heading, raws[-1].level, span, block.line, []))
        raws[-1].blocks.append(block)
        if raws[-1].topic == "header" and block.sort is _WORDS:
            entries.append(_entry(block, words) or _headed(block, words, raws[-1]))
    return Arranged(
        title=title,
        title_span=title_span,
        entries=tuple(entries),
        description=tuple(description),
        sections=raws,
    )


_OWN = re.compile(
    r"\s*(?P<name>[A-Za-z0-9][\w/-]{0,14}(?: [\w/-]{1,12}){0,3}?)"
    r"(?:\s*\([^()]{2,40}\))?(?:\s*[:=]|\s+[-–—]+)\s+(?:\([^()]{2,40}\)\s*)?"
    r"(?=(?:(?:sl|si|slip|place|insert|wrap|skip|lift|with|knit|purl|yo)\b|[kp] ?\d))"
    r"|\s*(?P<equal>[A-Za-z]{1,4}\d{0,2}[A-Za-z]{0,2})\s*=\s*[a-z][\w ]{2,24}:\s*(?=slip|sl\b|k|p)",
    re.IGNORECASE,
)
"""A stitch of the pattern's own, explained: "4-st RPC: Sl 2 sts to cn and hold to back, k2, p2 from cn."."""
_NO_OWN = re.compile(r"\b(?:rows?|rnds?|rounds?|R|RS|WS|needles?|size|sizes|only|note)\b", re.IGNORECASE)


def _defines_own(text: str, block: Block, words: str, *, listed: bool) -> bool:
    """Whether a line before the cast-on explains a stitch that the rows call by that name later.

    listed : one such line stands before it; the next needs not be called.
    """
    m = _OWN.match(words)
    if m is None:
        return False
    name = m["name"] or m["equal"]
    if _NO_OWN.search(name) or re.match(r"\d+(?:st|nd|rd|th|d)?$", name, re.IGNORECASE):
        return False
    if re.search(r"[A-Z].*[A-Z]|[A-Za-z-].*\d|\d.*[A-Za-z]", name) is None or known_key(name) is not None:
        return False  # "Heel: Sl 1, k to end." is a row
    called = re.compile(rf"(?<![\w-]){re.escape(name)}(?![\w-])", re.IGNORECASE)
    return listed or called.search(text, block.end) is not None


def _past_chart(raw: Raw, block: Block, words: str) -> bool:
    """Whether a line under the heading of a chart casts on, so that the chart's section ends before it."""
    return (
        raw.topic == "called"
        and block.sort is Sort.WORDS
        and any(b.sort is Sort.FENCE for b in raw.blocks)
        and _STARTS.search(words) is not None
        and _NUMBERED.search(words) is not None
    )


def _entry(block: Block, words: str) -> Entry | None:
    """KEY ":" VALUE, unless the key is the label of a row or the value is worked."""
    m = key_of(words)
    if m is None or (known_key(m["key"]) is None and _tells(words)):
        return None
    key, value = m["key"], words[m.end() :]
    known = known_key(key)
    if known is None:
        label = begins(key + ":", "") and re.search(
            r"\d|\b(?:rows?|rnds?|rounds?|RS|WS|needles?)\b", key, re.IGNORECASE
        )
        if label or re.search(r"\bonly$|\ball sizes$", key, re.IGNORECASE):
            return None
        if re.match(r"(?:cast[ -]?on|co|set[ -]?up|bind off|cast off)\b", key, re.IGNORECASE):
            return None
        worked = _WORKS.match(value.strip()) or _STARTS.match(value.strip()) or _NUMBERED.search(value)
        if worked and key.lower() in _PARTS:
            return None
        if worked and (_ABBREVIATED.fullmatch(key) is None or "," not in value):
            return None
    body = value.strip()
    start = block.start + m.end() + (value.index(body) if body else 0)
    return Entry(
        key=key,
        value=" ".join(body.split("\n")) if "\n" in body else body,
        known=known,
        key_span=Span(block.start + m.start("key"), block.start + m.end("key")),
        value_span=Span(start, start + len(body)),
        line=block.line,
    )


def _headed(block: Block, words: str, raw: Raw) -> Entry:
    """A value that stands under its key as a heading: "## Gauge", and under it "18 sts = 10 cm"."""
    return Entry(
        key=raw.heading,
        value=words.replace("\n", " "),
        known=known_key(raw.heading),
        key_span=raw.span,
        value_span=Span(block.start, block.end),
        line=block.line,
    )


def _starts_work(words: str, *, headed: bool) -> bool:
    """Whether a line under the title is no description: it casts on, has a row's label, or works
    something.
    """
    if _STARTS.search(words) or _NUMBERED.search(words):
        return True
    if headed and (_tells(words) or _DESCRIBES.match(words)):
        return False
    if begins(words, "") and key_of(words) is None:
        return True
    if re.match(r"\s*[^:]{1,60}:", words) and key_of(words) is not None:
        return True  # a key that is the label of a row, or whose value is worked
    if not headed:  # a paste: the first sentence that works something begins the rows
        return any(_WORKS.match(sentence) or _PARTED.match(sentence) for sentence in _SENTENCE.split(words))
    return _WORKS.match(words) is not None and re.search(r"\d", words) is not None


def _tells(words: str) -> bool:
    """Whether what stands before the first colon is a sentence that tells of the work, no key and no label.

    "A hat. The work runs round the head: the right-hand edge is the crown."
    """
    head = words.split(":", 1)[0]
    return head != words and not re.search(r"\d", head) and (". " in head or len(head.split()) > 5)


def unnamed_sizes(source: Source, raws: list[Raw], findings: Collector) -> tuple[str, ...]:
    """Sizes told from lists such as "36 (42, 46)" when no line names them: 1, 2, 3 in order."""
    lengths: Counter[int] = Counter()
    first: dict[int, Span] = {}
    for raw in raws:
        for block in raw.blocks:
            if block.sort is not _WORDS:
                continue
            words = source.text[block.start : block.end]
            if "(" not in words and "[" not in words:
                continue
            for m in _SIZE_LIST.finditer(words):
                inner = m["round"] or m["square"]
                n = 1 + len(re.findall(r"\d+", inner))
                if n == 2 and words[m.end() : m.end() + 1] == "":
                    continue
                lengths[n] += 1
                first.setdefault(n, Span(block.start + m.start(), block.start + m.end()))
    if not lengths:
        return ()
    n, times = lengths.most_common(1)[0]
    if n > MOST_SIZES or (n == 2 and times < 3) or times * 2 < sum(lengths.values()):
        return ()
    findings.report(SizesNotNamed(n), first[n])
    return tuple(str(i) for i in range(1, n + 1))
