"""Labels: the words that stand before a row.

In: one line of text. Out: the :class:`Label` it opens with and where the row's own words begin. Labels are
told by shape (a number with "row" or "round", a named row, a rule, a side, a section name before a colon);
what the row then says is left to ``line``.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Literal, NamedTuple

from purlwright.pattern.read.ordinals import FIGURE, ORDINAL, figures, spelled
from purlwright.pattern.tokens import _PLAIN
from purlwright.pattern.tree import Label, Number, Side, Unit
from purlwright.text import NOWHERE, Span

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context

__all__ = ["read_label", "row_starts", "split_label"]

_MOST_ROWS = 5000
"""A label such as "Rows 1-9999999:" names no more rows than this; the rest is left out."""

_UNIT = r"(?:rows?|rws?|rounds?|rnds?|rds?)"
_NOUN = r"(?:rows?|rws?|rounds?|rnds?|rds?|needles?|pins?)"
_LINK = r"\s*(?:,?\s*(?:&|and|\+)|,\s*or|,|/)\s*"
_TO = r"\s*(?:-{1,2}|to|thru|through|until)\s*"
_NUM = rf"(?:{ORDINAL}|{FIGURE})"
_ITEM = rf"{_NUM}(?:{_TO}{_NUM})?"
_LIST = rf"{_ITEM}(?:{_LINK}{_ITEM})*(?:\s*,?\s*&\s*(?=[:.,)-]))?"
_ORD_LIST = rf"{ORDINAL}(?:(?:{_LINK}|{_TO}){_NUM})*"
_OTHER = (
    r"(?:(?:every|all|each|ev)\s+(?:the\s+)?(?:other|following|foll|subsequent|remaining)?\s*"
    r"|(?=alt(?:ernate|\.)?\s+(?:rows|rounds|rnds)\b))"
)
_KIND = (
    r"(?P<kind>ws|rs|wrong[ -]side|right[ -]side|even(?:[ -]numbered)?|odd(?:[ -]numbered)?"
    r"|alt(?:ernate|\.)?|other|second|2nd|purl|pearl|back)"
)
_RULE = rf"{_OTHER}{_KIND}"
_PARITY = (
    r"(?P<parity>even|odd|(?:ws|rs)(?=\s+(?:rows|rnds|rounds)))(?:[ -]?(?:numbered|rows|rnds|rounds|only))*"
    r"(?![a-z0-9])"
)
_PARITY2 = _PARITY.replace("parity", "parity2")
_STOP = r"(?![a-z0-9])"

# what ends a label; a plain dash or full stop needs no space after it ("R5- K2")
_END = r"\s*(?P<sep>:\s*-{1,2}|:|=|\.\s*-{1,2}|\.\)|-{1,2}|\)|\.(?!\d)|,(?!\d))\s*"
# words after a bare "5th row" or "Row 5" that make it no label: "Rows 1-14 form pattern", "3rd row of ..."
_NO_LABEL = re.compile(
    r"\s*(?:forms?|formed|are|is|of|to|times?|once|twice|until|till|again|only|in(?! (?:the )?pattern)|or"
    r"|have|has|had"
    r"|should|will|sets?"
    r"|completes?|establish(?:es)?|more|worked|being|then|make|makes|were|was|on|for|from|above|below"
    r"|inclusive"
    r"|every|that|which|this|must|may|can)\b",
    re.IGNORECASE,
)

# "18th and 20th rounds are worked like the 16th": the row's words begin at "like"
_TOLD = re.compile(
    r"\s*(?:are|is|to be|being)\s+(?:all\s+)?"
    r"(?:worked|knitted|knit|done|made|(?=plain|purled|seamed|like|the same|as))\s*(?=\S)",
    re.IGNORECASE,
)
_WHOLE = re.compile(r"\s+(?:purled|plain|knit|knitted|seamed|purl|pearled)\b", re.IGNORECASE)
_ASIDE = re.compile(r"\s*(?:\((?P<round>[^()]{1,60})\)|\[(?P<square>[^\[\]]{1,60})\])", re.IGNORECASE)
_SIDE = re.compile(
    r"\b(?:(?P<ws>ws|wrong[ -]side)|(?P<rs>rs|right[ -]side|public side))\b"
    r"(?:\s+(?:rows?|facing|of (?:the )?work))?",
    re.IGNORECASE,
)
_BARE_SIDE = re.compile(
    r"[\s,]*(?P<side>RS|WS|right side|wrong side)\b(?:\s+facing)?(?=\s*[:.,-])", re.IGNORECASE
)
_COLOUR = re.compile(
    r"^(?:(?:with|using|in)\s+)?"
    r"(?:(?:colou?r|yarn|shade)\s+(?P<called>[\w ]{1,20})|(?P<letter>mc|cc\d?|[a-h]))$",
    re.IGNORECASE,
)
_DESCRIBES = re.compile(
    rf"\b(?:{_NOUN}|inc|dec|increase|decrease|cable|eyelet|set[ -]?up|buttonhole|twist|pattern|lace|ridge)\b"
    r"|^\s*$",
    re.IGNORECASE,
)
_SHORT = (
    r"(?:inc(?:rease)?|dec(?:rease)?|set["
    r" -]?up|foundation|final|last|turning|ridge|eyelet|cable|crossing|plain"
    r"|buttonhole|shaping|first|bind[ -]off|cast[ -]off)\.?[ -]"
)
_ROW_NAME = re.compile(rf"^[a-z]+(?:[ -][a-z]+)? {_UNIT}$", re.IGNORECASE)
_COUNT_ROWS = (
    rf"(?P<next>\d{{1,4}}(?:\s*[(\[][\d\s,;-]{{1,80}}[)\]])?|one|two|three|four|five|six"
    rf"|seven|eight|nine|ten|twelve)\s+{_UNIT}"
)

_THE = r"(?:(?:on|in|for)\s+(?:the\s+)?|the\s+)?"
# "Row 2 and all WS rows:", "2 and all even rounds:", "1st and every alt row"
_RULE_AFTER = (
    rf"(?P<noun>{_UNIT}\.?\s*)?(?P<list>{_LIST})\s*(?P<noun2>{_UNIT})?\s*:?\s*(?:\(?\s*,?\s*(?:and|&)|,"
    r"|\()\s*"
    rf"(?:{_RULE}|(?:all\s+)?(?:the\s+)?(?:following|subsequent"
    rf"|foll\.?)\s+{_KIND.replace('P<kind>', 'P<kind2>')})"
    rf"{_STOP}\s*(?P<noun3>{_UNIT})?(?:{_TO}(?:{_UNIT}\s*)?(?P<to>{_NUM}))?\)?"
)
# "Rows 1-4:", "Rnds 3, 5 and 7:", "Row 5", "R5", "Rows 2-10, even:"
_NOUN_FIRST = (
    rf"(?P<noun>{_UNIT}|r(?=\s?\d))\.?\s*(?:no\.?\s*|#\s*)?(?P<list>{_LIST})"
    rf"(?:\s*,?\s*(?:\((?:inclusive|{_PARITY})\)|inclusive|{_PARITY2}))?"
    r"(?:\s+of\s+(?:the\s+)?[a-z]+(?=\s*:))?"
)
# "1st row -", "Fifth row.--", "The 3rd, 5th and 7th round,", "7th to 10th inclusive:", "On the 3d row"
_ORDINAL = (
    rf"{_THE}(?P<list>{_ORD_LIST})\s*,?\s*(?:inclusive\s*)?(?:(?:pattern|patt)\s+)?(?P<noun>{_NOUN}){_STOP}"
    r"(?:\s*,?\s*inclusive)?"
)
# "5th:", "20th and 21st:", "7th to 10th inclusive:", "17th and 18th purled"
_DROPPED = (
    rf"(?P<list>{_ORD_LIST})(?:\s*,?\s*inclusive)?"
    rf"(?=\s*(?:[:.-]|,\s(?!\s*(?:(?:and|&)\s+)?{ORDINAL})|\s+(?:purled|plain|knit|knitted|seamed|purl"
    rf"|pearled){_STOP}))"
)
# "5." "5.)" "5)" "5:" "1-4:"
_BARE = rf"(?P<list>{_LIST})(?=\s*(?::|\.\)|\)|\.(?=\s*[A-Za-z*(\[])))"
# "Next row", "Next 2 rows", "Following rnd", "In the next row", "Last 2 rows", "On next k row,",
# "To shape neck on next row,"
_NEXT = (
    r"(?:(?:then\s+)?to\s+(?:shape|divide\s+for|make|form)\s+(?:the\s+)?[a-z]+(?:\s+[a-z]+)?,?\s+(?=on\s))?"
    rf"{_THE}(?:next|foll(?:owing|\.)?|(?:last|final)(?=\s+\d+\s+r))\s+"
    rf"(?:(?P<side>rs|ws)\s+|(?:k|p|knit|purl|plain)\s+(?={_UNIT}{_STOP}\s*[:,.-]))?"
    rf"(?:{_COUNT_ROWS}|(?P<noun>{_UNIT})){_STOP}"
)
# "Next row and every foll alt row:"
_NEXT_ALT = (
    rf"{_THE}(?:next|foll(?:owing|\.)?)\s+(?P<noun>{_UNIT})\s*,?\s*(?:and|&)\s+"
    r"(?:every|each|all)\s+(?:the\s+)?(?:foll(?:owing|\.)?\s+)?(?P<kind>alt(?:ernate|\.)?|other|second"
    rf"|2nd)\s+{_UNIT}{_STOP}"
)
# "All WS rows:", "Every alternate row:", "Even rnds", "WS rows:"
_ALL = (
    rf"(?:on\s+)?(?:{_RULE}|(?P<kind2>ws|rs|wrong[ -]side|right[ -]side|even(?:[ -]numbered)?"
    r"|odd(?:[ -]numbered)?|alt(?:ernate|\.)?))\s+(?P<noun>rows|rounds|rnds|rds|row|round|rnd)\b"
    rf"(?:\s+(?P<list>\d{{1,4}}{_TO}\d{{1,4}}))?"
)
# "RS:", "WS:", "RS row:"
_ONE_SIDE = rf"(?P<side>rs|ws|right side|wrong side)(?:\s+(?P<noun>{_UNIT}))?(?=\s*(?::|\.?-))"
# "Needle 1:", "Needles 2 and 3:", "N1:"
_BY_NEEDLE = rf"(?P<noun>needles?|ndls?|n(?=\d))\.?\s*(?P<list>{_LIST})(?=\s*[:.-])"
# "Dec rnd 2:", "Set-up row (WS):", "Final row", "Short-row set 1:"
_NTH_NAMED = (
    rf"{_THE}(?P<which>{ORDINAL})\s+(?P<name>(?:head|body|leg|hand|foot|neck|dec|inc|decreasing|decrease"
    r"|increasing|increase|narrowing|widening"
    rf"|shaping|heel|toe|gusset|crown|border|edging|open|openwork)\s+(?P<noun>{_UNIT}))(?=\s*[:.-])"
)
_NAMED = (
    r"(?P<name>(?!(?:repeat|rep|work|knit|purl|k|p|as|every|each|all|these|this|last\s+\d)\b)"
    rf"[a-z][a-z]*\.?(?:[ -][a-z]+\.?){{0,3}}?[\s-]+(?P<noun>{_UNIT}|set(?![ -]up)))\s*(?P<nth>\d{{1,3}})?"
    r"(?=\s*(?:[:(\[]|\.?\s*-|,?\s*(?:and|&)\s+(?:all|every|each)\s))"
)
# "Brim Rnds 1-12:", "Lace rows 3 and 5 (RS):": the part's name before its rows
_LED = (
    r"(?!(?:repeat|rep|work|knit|purl|k|p|as|every|each|all|these|this|those|last|next|then|to|for|from|of"
    r"|like|and)\b)"
    rf"[a-z]+(?:[ -][a-z]+)?\s+(?P<noun>rows|rnds|rounds)\s+(?P<list>{_LIST})(?=\s*[:(\[])"
)

_FORMS: tuple[tuple[str, re.Pattern[str]], ...] = tuple(
    (name, re.compile(r"[\s_]*" + source, re.IGNORECASE))
    for name, source in (
        ("rule after", _RULE_AFTER),
        ("noun first", _NOUN_FIRST),
        ("ordinal", _ORDINAL),
        ("dropped", _DROPPED),
        ("point row", rf"(?P<list>\d{{1,4}})\.\s*(?P<noun>{_UNIT})\b"),  # "5.row"
        ("bare", _BARE),
        ("rule", _NEXT_ALT),
        ("next", _NEXT),
        ("rule", _ALL),
        ("side", _ONE_SIDE),
        ("needle", _BY_NEEDLE),
        ("noun first", _LED),
        ("named", _NAMED),
        ("named", _NTH_NAMED),
        ("named", rf"(?P<name>(?P<noun>{_UNIT})\s*\d{{1,3}}[a-d])(?=\s*[:.(\[])"),  # "Row 3a:"
        ("named", rf"(?P<name>(?P<noun>{_UNIT})\s+[a-hx-z])(?=\s*[:(\[])"),  # "Row A (RS):"
        (
            "bare name",
            rf"(?P<name>{_SHORT}(?P<noun>{_UNIT}))(?:\s+(?P<nth>\d{{1,3}}))?{_STOP}",
        ),  # "Inc row k2"
    )
)

# "Heel flap:", "To make foot:": no stitch, no number, before a colon
_SECTION = re.compile(
    r"\s*(?P<name>[A-Za-z][A-Za-z' -]{1,48}?"
    r"|(?:square|strip|panel|section|piece|part|tier|block|wedge|stripe|motif|petal|triangle|rectangle|step"
    r"|leaf"
    r"|diamond|segment|corner|side|edge|finger|point|scallop)s? (?:\d{1,2}"
    r"|[a-h]))\s*(?P<sep>:\s*-{0,2})(?!\s*$|\d)\s*",
    re.IGNORECASE,
)
_MORE_ROWS = re.compile(
    rf"\s*(?:,?\s*(?:and|&)|,)\s*(?:(?:{_UNIT})\s*(?P<list>{_LIST})"
    rf"|(?:then\s+)?{_RULE}{_STOP}\s*(?:{_UNIT})?)"
    r"(?=\s*[:(\[])",
    re.IGNORECASE,
)
_NOT_SECTION = re.compile(
    r"^(?:with|using|on|in|at|wash|press|it|this|that|these|there|you|if|when|do|remember)\b"
    r"|\b(?:must|will|should|can|may|is|are|was|were|has|have|you|your|it|before|after|because)\b"
    r"|\b(?:note|notes|nb|tip|hint|repeat|rep|knit|purl|work|sts?|stitch(?:es)?|yo|k|p|cast|co|bo|bind"
    r"|follows?|thus|times"
    r"|materials?|needles?|abbreviations?|tension|gauge|measurements?|yarns?|notions"
    r"|size|sizes|only)\b",
    re.IGNORECASE,
)


_AND_RULE = rf"(?:and|&)\s+{_RULE}{_STOP}\s*{_UNIT}?\s*"
_RULE_TOLD = re.compile(
    rf"\s*(?P<said>\(\s*{_AND_RULE}\)"
    rf"|(?:and|&)\s+{_RULE.replace('P<kind>', 'P<kind2>')}\s+{_UNIT}{_STOP})[\s:,.-]*(?=\S)",
    re.IGNORECASE,
)
_NAMED_TOO = re.compile(
    rf"(?P<name>(?!(?:repeat|rep|work|knit|purl|k|p|as|every|each|all|these|this|next|last)\b)[a-z]+"
    rf"(?:[ -][a-z]+)? {_UNIT})\s*(?::|-|\.\s*-)\s*(?=\S)",
    re.IGNORECASE,
)


class _Head(NamedTuple):
    """A label while it is being read: its fields, where its words end, and where the row begins."""

    label: Label
    end: int
    rest: int


def split_label(text: str, ctx: Context) -> tuple[Label | None, int]:
    """LABEL? ROW: "Row 5 (WS): k2, p2" gives the label and the place where "k2" begins; no label gives
    None and 0.
    """
    m = _PLAIN_LABEL.match(text)
    if m is not None and _NAMED_TOO.match(text, m.end()) is None:
        side = m["side"]
        label = Label(
            words=m["words"],
            numbers=(int(m["number"]),),
            unit=_unit(m["noun"]),
            side=Side(side) if side else None,
            span=Span(0, m.start("sep")),
        )
        return label, m.end()
    first = _SIDE_FIRST.match(text)
    if first is not None:
        inner, at = split_label(text[first.end() :], ctx)
        if inner is not None and inner.unit is not None and inner.side is None:
            span = Span(first.start("side") - 1, inner.span.end + first.end())
            return _with(inner, side=_side(first["side"]), words=text[span.start : span.end], span=span), (
                at + first.end()
            )
    head = _head(text.translate(_PLAIN), text, ctx, alone=False)
    return (None, 0) if head is None else (head.label, head.rest)


_SIDE_FIRST = re.compile(r"\s*\((?P<side>RS|WS|right side|wrong side)\)\s*(?=\w)", re.IGNORECASE)


_INNER = re.compile(
    rf"[.;:)\]]\s+(?=(?:(?:on|in|for)\s+(?:the\s+)?|the\s+)?(?:{_UNIT}\s*\d|next\s+(?:\d+\s+)?{_UNIT}"
    rf"|{ORDINAL}[\s,&]|"
    rf"{_UNIT}s?\s))"
    # a count and no stop, as in text that lost its line breaks: "4 sts inc Row 4 k2, p to end"
    rf"|(?:(?<=\bsts)|(?<=\bsts inc)|(?<=\bsts dec)|(?<=\bsts rem))\s+(?=(?-i:R(?:ow|nd|ound)s?)\s+\d)",
    re.IGNORECASE,
)


_MARKED = re.compile(r"[:.-]\s*$|:")


_SHORT_NAME = re.compile(r"(?:^|[.;]\s+)(?:dec|inc|patt|foll|alt|rep|next|rem)$", re.IGNORECASE)


def row_starts(text: str, ctx: Context) -> tuple[int, ...]:
    """Where further labelled rows begin in a line: "Row 1: Knit. Row 2: Purl." gives the place of "Row 2"."""
    plain = text.translate(_PLAIN)
    out: list[int] = []
    for m in _INNER.finditer(plain):
        if plain[m.start()] == "." and _SHORT_NAME.search(plain, 0, m.start()):
            continue  # "Dec. Row 1: ..." is one label
        label, rest = split_label(text[m.end() :], ctx)
        if label is None or not (label.numbers or label.next is not None) or label.unit is None:
            continue
        if plain[m.start()] in ")]:" and not _MARKED.search(plain, m.end(), m.end() + rest):
            continue  # "rep last 8 (7, 8) rnds 5 (7, 7) times", a count and no label
        out.append(m.end())
    return tuple(out)


def read_label(text: str, ctx: Context) -> Label:
    """A label that stands apart from its row; one of unknown shape is taken as a name. Its span is
    ``NOWHERE``.
    """
    head = _head(text.translate(_PLAIN), text, ctx, alone=True)
    if head is not None:
        return _with(head.label, span=NOWHERE)
    words = text.strip(" \t_*:.-—–")
    return Label(words=words, name=words.lower() or None)


def _head(plain: str, text: str, ctx: Context, *, alone: bool) -> _Head | None:
    first = plain[:80].lstrip(" \t_*")[:1]
    if not first or not first.isalnum():
        return None
    named = _called(plain, text, ctx)
    if named is not None:
        return named
    for form, pattern in _FORMS:
        m = pattern.match(plain)
        if m is None:
            continue
        head = _finish(form, m, plain, text, alone=alone)
        if head is not None:
            return head
    m = _SECTION.match(plain)
    if m is not None and not _NOT_SECTION.search(m["name"]):
        name = text[m.start("name") : m.end("name")]
        label = Label(words=name, name=name.lower(), span=Span(m.start("name"), m.end("name")))
        return _Head(label, m.end("name"), m.end())
    return None


def _called(plain: str, text: str, ctx: Context) -> _Head | None:
    """NAME-OF-A-ROW SEPARATOR, the name given by the pattern itself: "Wave twist: k2, p2"."""
    if not ctx.row_names or ":" not in plain:
        return None
    name = plain.split(":", 1)[0].strip()
    if name.lower() not in ctx.row_names or re.search(r"\d", name):
        return None
    start = plain.index(name)
    m = _END_RE.match(plain, start + len(name))
    rest = m.end() if m else start + len(name)
    label = Label(
        words=text[start : start + len(name)],
        name=name.lower(),
        unit=_unit(name.split()[-1]),
        span=Span(start, start + len(name)),
    )
    return _Head(label, start + len(name), rest)


_END_RE = re.compile(r"_?" + _END)
_MARK_RE = re.compile(r"\s*[:.,-]?\s*")
_NO_NAME = re.compile(
    r"\b(?:every|each|of|for|to|until|with|follow|foll|complete|continue|cont|begin|start|bind(?!.off )"
    r"|cast(?!.o(?:ff|n) )|slip|turn|by|same|these|those)\b|\.\s+(?:work|knit|purl|rep|repeat)\b",
    re.IGNORECASE,
)
_BLANKS = re.compile(r"[\s.]+")
_COMMAS = re.compile(r"[,;]")
# the label met most often: "Row 5 (RS):", read at once
_PLAIN_LABEL = re.compile(
    r"(?P<words>(?P<noun>Rows?|Rnds?|Rounds?) (?P<number>\d{1,4}))(?: ?[(\[](?P<side>RS|WS)[)\]])?"
    r"(?P<sep>: *)(?![ (\[\-]|(?:[Aa]nd|&) |(?:RS|WS|[Rr]ight side|[Ww]rong side)\b)"
)


def _finish(form: str, m: re.Match[str], plain: str, text: str, *, alone: bool) -> _Head | None:
    """The rest of a label once its form is known: "(RS)", the mark that ends it, and a side after that."""
    groups = m.groupdict()
    at = m.end()
    label = _fields(form, groups, m)
    if label is None:
        return None
    start = len(m.group()) - len(m.group().lstrip(" \t_"))
    words = text[m.start() + start : at].rstrip(" &,")
    label = _with(label, words=words)
    label, at = _asides(label, plain, at)
    asides_end = at
    named = form == "named" and label.name is not None
    if (label.numbers or named) and label.rule is None and (more := _MORE_ROWS.match(plain, at)) is not None:
        # "Row 2 (WS) and row 4:", "Row 2 (WS) and every WS row:"
        if more["list"]:
            label = _with(label, numbers=(*label.numbers, *figures(more["list"], _MOST_ROWS)))
        else:
            label = _with(label, rule=_rule(more["kind"]))
        at = asides_end = more.end()
        label = _with(label, words=text[m.start() + start : at].strip(" &,"))
        label, at = _asides(label, plain, at)
        asides_end = at
    end = _END_RE.match(plain, at)
    if end is None and not alone:
        told = form == "dropped" and _WHOLE.match(plain, at)
        if (
            form in {"bare", "dropped", "side", "needle", "rule after", "named"}
            and at == m.end()
            and not told
        ):
            return None
        if plain[at : at + 1] == "_":
            at += 1
        verb = _TOLD.match(plain, at)
        if verb is not None and form in {"ordinal", "noun first", "next"}:
            at = verb.end()
        elif _NO_LABEL.match(plain, at) or not plain[at:].strip():
            return None
        if form == "rule" and not plain[at : at + 1].isspace():
            return None
        rest = at + len(plain[at:]) - len(plain[at:].lstrip())
    else:
        rest = end.end() if end else at
        if end is not None and end["sep"] in {",", "."} and _NO_LABEL.match(plain, rest):
            return None
    # the side or colour right after the colon: "Row 5: (WS) k2, p2"
    before = rest
    label, rest = _asides(label, plain, rest, only_side=True)
    if rest != before:
        asides_end = rest
        after = _MARK_RE.match(plain, rest)
        rest = after.end() if after else rest
    told = _RULE_TOLD.match(plain, rest) if label.numbers and label.rule is None else None
    if told is not None:  # "Row 1: (and all odd rows) Purl.", "Row 4: And every other row knit around"
        label = _with(label, rule=_rule(told["kind"] or told["kind2"]))
        asides_end = told.end("said")
        rest = told.end()
    named_too = _NAMED_TOO.match(plain, rest) if label.numbers and label.name is None else None
    if named_too is not None:  # "Row 3: Beading row: *k1, yo ..."
        label = _with(label, name=" ".join(named_too["name"].lower().split()))
        rest = named_too.end()
    last = max(m.end(), asides_end)
    span = Span(m.start() + start, max(m.start() + start, last))
    return _Head(_with(label, span=span), m.end(), rest)


def _asides(label: Label, plain: str, at: int, *, only_side: bool = False) -> tuple[Label, int]:
    """("(" SIDE | COLOUR | "cable row" ")")*, or a bare "RS" before the colon."""
    while True:
        bare = _BARE_SIDE.match(plain, at) if not only_side or label.side is None else None
        if bare is not None:
            label = _with(label, side=_side(bare["side"]))
            at = bare.end()
            continue
        m = _ASIDE.match(plain, at)
        if m is None:
            return label, at
        inside = m["round"] or m["square"]
        taken = _aside(label, inside, only_side=only_side)
        if taken is None:
            return label, at
        label, at = taken, m.end()


_RULE_INSIDE = re.compile(rf"\s*{_AND_RULE}", re.IGNORECASE)


def _aside(label: Label, inside: str, *, only_side: bool) -> Label | None:
    told = _RULE_INSIDE.fullmatch(inside) if label.numbers and label.rule is None else None
    if told is not None:  # "Row 1 (and all odd rows) knit"
        return _with(label, rule=_rule(told["kind"]))
    side = _SIDE.search(inside)
    left = inside
    if side is not None:
        label = _with(label, side=Side.WS if side["ws"] else Side.RS)
        left = (inside[: side.start()] + inside[side.end() :]).strip(" ,;&")
        if not left:
            return label
    for part in (x.strip() for x in _COMMAS.split(left)):
        colour = _COLOUR.match(part)
        if colour is not None:
            label = _with(label, colour=colour["called"] or colour["letter"])
        elif side is None and (not _DESCRIBES.search(part) or (only_side and not _ROW_NAME.match(part))):
            return None
        elif (
            part
            and label.name is None
            and (not only_side or _ROW_NAME.match(part))
            and _DESCRIBES.search(part)
        ):
            label = _with(label, name=part.lower())
    return label


def _fields(form: str, g: dict[str, str | None], m: re.Match[str]) -> Label | None:
    """What the words of each form say."""
    noun = g.get("noun") or g.get("noun2") or g.get("noun3")
    unit = _unit(noun)
    if form == "next":
        count = g.get("next")
        values = (1,) if count is None else _per_size(count)
        span = Span(*m.span("next")) if count else NOWHERE
        whole = unit if count is None else _unit(m.group().split()[-1])
        side = g.get("side")
        return Label(next=Number(values=values, span=span), unit=whole, side=_side(side) if side else None)
    if form == "side":
        return Label(side=_side(g["side"] or ""), unit=unit)
    if form in {"named", "bare name"}:
        if _NO_NAME.search(g["name"] or ""):
            return None
        name = _BLANKS.sub(" ", g["name"] or "").strip().lower()
        which = figures(g.get("which") or "", _MOST_ROWS)
        nth = str(which[0]) if which else g.get("nth")
        return Label(name=f"{name} {nth}" if nth else name, unit=unit)
    if form == "rule":
        kind = _rule(g.get("kind") or g.get("kind2") or "")
        span_ = figures(g.get("list") or "", _MOST_ROWS)
        if span_:
            odd = kind in {"odd", "RS"}
            side = Side(kind) if kind in {"RS", "WS"} else None
            return Label(numbers=tuple(n for n in span_ if n % 2 == odd), unit=unit, side=side)
        return Label(rule=kind, unit=unit, side=Side(kind) if kind in {"RS", "WS"} else None)
    numbers = figures(g["list"] or "", _MOST_ROWS)
    if not numbers:
        return None
    if form == "needle":
        return Label(numbers=numbers, name="needle " + " ".join(str(n) for n in numbers))
    if form == "rule after":
        kind = _rule(g.get("kind") or g.get("kind2") or "")
        to = g.get("to")
        side = Side(kind) if kind in {"RS", "WS"} else None
        return Label(numbers=numbers, unit=unit, rule=kind, side=side, rule_to=spelled(to) if to else None)
    parity = (g.get("parity") or g.get("parity2") or "").lower()
    if parity:
        want = parity in {"odd", "rs"}
        numbers = tuple(n for n in numbers if n % 2 == want)
    return Label(numbers=numbers, unit=unit)


def _per_size(words: str) -> tuple[int | None, ...]:
    """How many rows, one number or one a size: "24", "two", "24 (28, 32)"."""
    if "(" not in words and "[" not in words:
        return (spelled(words),)
    return tuple(None if x == "-" else int(x) for x in re.findall(r"\d{1,6}|(?<![\d-])-(?!\d)", words))


def _rule(kind: str) -> Literal["WS", "RS", "even", "odd", "alternate"]:
    kind = kind.lower().replace("-", " ")
    if kind in {"ws", "wrong side", "purl", "pearl", "back"}:
        return "WS"
    if kind in {"rs", "right side"}:
        return "RS"
    if kind.startswith("even"):
        return "even"
    return "odd" if kind.startswith("odd") else "alternate"


def _unit(noun: str | None) -> Unit | None:
    low = (noun or "").strip().lower()
    if low.startswith(("rou", "rn", "rd")):
        return Unit.ROUND
    return Unit.ROW if low.startswith("r") else None


def _side(words: str) -> Side:
    return Side.WS if words.strip().lower().startswith("w") else Side.RS


def _with(label: Label, **changes: object) -> Label:
    return Label(**{f: changes.get(f, getattr(label, f)) for f in label.__struct_fields__})  # type: ignore[arg-type]
