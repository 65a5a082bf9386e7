"""The header: the lines of key and value under the title.

In: the blocks between the title and the first instruction. Out: every key in order, and what the known ones
say: sizes, options, yarns, gauges, how many to make, terms, the public side. Unknown keys are kept as they
stand.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from purlwright.pattern.problems import GaugeNotRead, HeaderNotRead
from purlwright.pattern.tokens import number_word
from purlwright.pattern.tree import Length, Side
from purlwright.text import NOWHERE, Span

if TYPE_CHECKING:
    from purlwright.findings import Collector

__all__ = ["KNOWN_KEYS", "Entry", "Gauge", "Header", "Option", "YarnEntry", "known_key", "read_header"]

_KEYS = {
    "sizes": "Sizes", "size": "Sizes", "for": "For", "to fit": "To fit",
    "finished size": "Finished size", "finished sizes": "Finished size",
    "finished measurements": "Finished size", "measurements": "Finished size",
    "finished dimensions": "Finished size", "dimensions": "Finished size",
    "yarn": "Yarn", "yarns": "Yarn", "materials": "Yarn", "material": "Yarn", "wool": "Yarn",
    "needles": "Needles", "needle": "Needles", "needle size": "Needles",
    "notions": "Notions", "you will need": "Notions", "gauge": "Gauge", "tension": "Gauge",
    "options": "Options", "option": "Options", "make": "Make", "terms": "Terms", "public side": "Public side",
    "picture": "Picture", "source": "Source", "version": "Version", "contact": "Contact",
    "licence": "Licence", "license": "Licence",
}  # fmt: skip
KNOWN_KEYS = tuple(dict.fromkeys(_KEYS.values()))
"""The keys that mean something, as they are printed. Yarn, Needles, Notions and Gauge may stand several
times.
"""


def known_key(key: str) -> str | None:
    """The printed form of a known key: "tension" gives "Gauge"; an unknown key gives None."""
    return _KEYS.get(" ".join(key.lower().split()))


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One ``Key: value`` line. ``known`` is the printed form of a known key."""

    key: str
    value: str
    known: str | None
    key_span: Span
    value_span: Span
    line: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """A choice the designer leaves open: its values in order, and which one is usual."""

    name: str
    values: tuple[str, ...]
    usual: str
    span: Span
    spans: tuple[Span, ...] = ()
    """Where each value stands."""


@dataclass(frozen=True, slots=True, kw_only=True)
class YarnEntry:
    """One yarn: the letter or name it goes by ("" if none), and the designer's words. Lengths per weight are
    exact.

    ``metres_per_100_g`` only if the words give a length and a weight. ``fibre`` and ``weight`` as written, if
    found.
    """

    name: str
    words: str
    span: Span
    fibre: str = ""
    weight: str = ""
    metres_per_100_g: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Gauge:
    """Stitches and rows over a length, in a ground (her own words for it), flat or round, washed or not.

    ``rows_over`` is given when rows are counted over another length than stitches.
    ``round`` and ``washed`` are None when the words do not say.
    """

    words: str
    span: Span
    over: Length
    stitches: Fraction | None = None
    rows: Fraction | None = None
    rows_over: Length | None = None
    ground: str = ""
    round: bool | None = None
    washed: bool | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Header:
    """What the header says."""

    entries: tuple[Entry, ...] = ()
    description: tuple[tuple[str, Span], ...] = ()
    sizes: tuple[str, ...] = ()
    sizes_span: Span = NOWHERE
    options: tuple[Option, ...] = ()
    yarns: tuple[YarnEntry, ...] = ()
    gauges: tuple[Gauge, ...] = ()
    make: int = 1
    terms: Literal["US", "UK", "old", ""] = ""
    public_side: Side = Side.RS


# --- values --------------------------------------------------------------------------------------


def _pieces(text: str, marks: str) -> list[tuple[str, int]]:
    """``text`` cut at ``marks``, each piece trimmed, with its place; empty pieces are left out."""
    out: list[tuple[str, int]] = []
    at = 0
    for piece in re.split(f"[{re.escape(marks)}]", text):
        body = piece.strip()
        if body:
            out.append((body, at + piece.index(body)))
        at += len(piece) + 1
    return out


def read_sizes(value: str) -> tuple[str, ...]:
    """NAME ("(" NAME ("," NAME)* ")")? | NAME ("," NAME)*: "child (adult, large)", "S [M, L]", "XS, S, M".

    "One size" is one size. A name given twice is told apart by its place ("M", "M 2").
    """
    words = re.sub(r"\s+and\s+", ", ", value.strip().rstrip(". "))
    if words.lower().startswith("one size"):
        return ("One size",)
    words = re.sub(r"(?<=[)\]])\s*(?:cm|in|inches|ins|\"|mm|years|yrs|months|mths)$", "", words)
    m = re.match(r"(?P<first>[^()\[\]]+?)\s*[(\[](?P<rest>[^()\[\]]+)[)\]]\s*$", words)
    if m is not None and not re.search(r"[,;]", m["first"]):
        rest = [w for w, _ in _pieces(m["rest"], ",;")]
        if len(rest) == 1 and re.fullmatch(r"[\d\s./-]+", rest[0]) and "-" in rest[0]:
            rest = [w for w, _ in _pieces(rest[0], "-")]
        first = m["first"].strip()
        if all(re.fullmatch(r"[\d.½¼¾ /-]+", name) for name in rest):
            first = re.sub(r"^.*[^\d.½¼¾/-]\s*(?=[\d½¼¾])", "", first)  # "to fit chest 81"
        names = [first, *rest]
    else:
        names = [w.strip("()[] ") for w, _ in _pieces(words, ",;/")]
    out: list[str] = []
    for name in names:
        seen = name
        n = 2
        while seen.lower() in {o.lower() for o in out}:
            seen = f"{name} {n}"
            n += 1
        out.append(seen)
    return tuple(out)


_USUAL = re.compile(r"\((?:the\s+)?(?:usual|default|as written|as shown)\)$", re.IGNORECASE)


def read_options(value: str, at: int) -> tuple[Option, ...]:
    """NAME "=" VALUE "(usual)"? ("," VALUE)* (";" ...)*: "turns = wrapped (usual), double stitch".

    The first value is usual if none is marked.
    """
    out: list[Option] = []
    for piece, place in _pieces(value, ";\n"):
        name, mark, rest = piece.partition("=")
        if not mark:
            continue
        values: list[str] = []
        spans: list[Span] = []
        usual = ""
        base = at + place + len(name) + 1
        for word, there in _pieces(rest, ","):
            m = _USUAL.search(word)
            plain = (word[: m.start()] if m else word).strip().rstrip(".").rstrip()
            if not plain:
                continue
            values.append(plain)
            spans.append(Span(base + there, base + there + len(plain)))
            if m and not usual:
                usual = plain
        if values and name.strip():
            span = Span(at + place, at + place + len(piece))
            out.append(
                Option(
                    name=name.strip(),
                    values=tuple(values),
                    usual=usual or values[0],
                    span=span,
                    spans=tuple(spans),
                )
            )
    return tuple(out)


_AMOUNT = (
    r"(?:\d+\s*[½¼¾]|\d+\s+\d/\d|\d+(?:\.\d+)?|[½¼¾]"
    r"|(?:one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve)\b)"
)
_LENGTH_UNIT = r"(?:cms?|centimet(?:re|er)s?|mm|inch(?:es)?|ins?\b|[\"”″])"
_GAUGE_STS = re.compile(rf"(?P<n>{_AMOUNT})\s*(?:sts?|stitch(?:es)?)\b", re.IGNORECASE)
_GAUGE_ROWS = re.compile(rf"(?P<n>{_AMOUNT})\s*(?P<unit>rows?|rnds?|rounds?|ridges?)\b", re.IGNORECASE)
_GAUGE_OVER = re.compile(rf"(?P<n>{_AMOUNT})\s*-?\s*(?P<unit>{_LENGTH_UNIT})", re.IGNORECASE)
_GAUGE_IN = re.compile(
    r"(?<![\d½¼¾] )(?<![\d½¼¾])\bin\s+(?P<ground>(?!the\s+round)[A-Za-z0-9][^,;.()]*?)"
    r"(?=\s*(?:[,;.()]|$|\b(?:after|before|on|with|using|worked|when|in the round|blocked)\b))",
    re.IGNORECASE,
)
_GLYPH = {"½": Fraction(1, 2), "¼": Fraction(1, 4), "¾": Fraction(3, 4)}


def _amount(words: str) -> Fraction:
    low = words.strip().lower()
    n = number_word(low)
    if n is not None:
        return Fraction(n)
    total = Fraction(0)
    for piece in re.findall(r"\d+/\d+|\d+(?:\.\d+)?|[½¼¾]", low):
        if piece in _GLYPH:
            total += _GLYPH[piece]
        elif "/" in piece and piece.endswith("/0"):
            continue
        else:
            total += Fraction(piece[:20])
    return total


def _unit(words: str) -> str:
    low = words.lower()
    if low.startswith(("cm", "cent")):
        return "cm"
    return "mm" if low.startswith("mm") else "in"


def read_gauge(value: str, at: int) -> Gauge | None:
    """STITCHES ("and" ROWS)? ("=" | "over" | "to") LENGTH ("in" GROUND)? ("after washing")?

    "18 sts and 36 rows = 10 cm in garter stitch, after washing", "5 sts to 1 inch". None if no stitches stand
    over a length.
    """
    sts = _GAUGE_STS.search(value)
    rows = _GAUGE_ROWS.search(value)
    lengths = list(_GAUGE_OVER.finditer(value))
    if (sts is None and rows is None) or not lengths:
        return None
    over = lengths[0]
    rows_over = None
    if sts is not None and rows is not None and sts.end() <= over.start() < rows.start():
        later = [m for m in lengths if m.start() > rows.start()]
        rows_over = later[0] if later else None
    ground = _GAUGE_IN.search(value)
    low = value.lower()
    per_row = 2 if rows is not None and rows["unit"].lower().startswith("ridge") else 1
    round_: bool | None = None
    if re.search(r"\bin the round\b|\brnds?\b|\brounds?\b", low):
        round_ = True
    elif re.search(r"\bflat\b|\brows?\b", low):
        round_ = False
    washed: bool | None = None
    if re.search(r"\b(?:before|un)[ -]?(?:washing|blocking|washed|blocked)\b", low):
        washed = False
    elif re.search(r"\b(?:wash|block|steam|press|soak|wet)", low):
        washed = True
    return Gauge(
        words=value,
        span=Span(at, at + len(value)),
        over=_length(over),
        stitches=_amount(sts["n"]) if sts else None,
        rows=_amount(rows["n"]) * per_row if rows else None,
        rows_over=_length(rows_over) if rows_over else None,
        ground=" ".join(ground["ground"].split()) if ground else "",
        round=round_,
        washed=washed,
    )


def _length(m: re.Match[str]) -> Length:
    return Length(values=(_amount(m["n"]),), unit=_unit(m["unit"]), words=m[0].strip())


_YARN_NAME = re.compile(
    r"\s*(?:(?:colou?r|yarn|shade)\s+)?"
    r"(?P<name>MC|CC\s?\d?|[A-Z]\d?|C\d|main colou?r|contrast(?:ing)? colou?r(?:\s*\d)?)"
    r"\s*(?:\((?P<in>MC|CC\d?|[A-Z])\))?\s*(?:[,:;=(–—-]|$)",
)
_YARN_IN = re.compile(r"\((?P<name>MC|CC\d?|C\d|(?:yarn |colou?r )?[A-Z])\)|\bcolou?r (?P<letter>[A-H])\b")
_FIBRES = re.compile(
    r"\b(?:\d+\s*%\s*)?(?:merino|wool|cotton|alpaca|linen|silk|mohair|cashmere|acrylic|nylon|bamboo|hemp|angora|yak)\b",
    re.IGNORECASE,
)
_WEIGHTS = re.compile(
    r"\b(?:\d\s+)?(?:super bulky|jumbo|lace|super fine|fingering|sport|dk|light|worsted|medium|aran|bulky"
    r"|chunky|4[ -]ply)\b",
    re.IGNORECASE,
)
_METRES = re.compile(
    r"(?P<n>\d+(?:\.\d+)?)\s*(?P<unit>m|metres?|meters?|yds?|yards?)\b[^0-9;]{0,12}(?P<g>\d+(?:\.\d+)?)\s*(?P<mass>g|grams?|oz)\b",
    re.IGNORECASE,
)


def read_yarn(value: str, at: int) -> YarnEntry:
    """NAME? "," WORDS: "MC, wool, 4 Medium, 200 m per 100 g", "Main colour (A): ..."."""
    m = _YARN_NAME.match(value)
    name = ""
    if m is not None:
        name = m["in"] or m["name"]
        low = name.lower()
        if low.startswith("main"):
            name = "MC"
        elif low.startswith("contrast"):
            name = "CC" + "".join(re.findall(r"\d", low))
    else:
        inner = _YARN_IN.search(value)
        if inner is not None:
            name = (inner["name"] or inner["letter"]).split()[-1]
    fibre = _FIBRES.search(value)
    weight = _WEIGHTS.search(value)
    per = _METRES.search(value)
    metres: Fraction | None = None
    if per is not None and Fraction(per["g"]) > 0:
        long = Fraction(per["n"]) * (1 if per["unit"].lower().startswith("m") else Fraction(9144, 10000))
        mass = Fraction(per["g"]) * (1 if per["mass"].lower().startswith("g") else Fraction(2835, 100))
        metres = long * 100 / mass
    return YarnEntry(
        name=name.replace(" ", ""),
        words=value,
        span=Span(at, at + len(value)),
        fibre=fibre[0] if fibre else "",
        weight=weight[0] if weight else "",
        metres_per_100_g=metres,
    )


# --- the whole header ----------------------------------------------------------------------------


_LONG = 2000
"""No value is read further than this; it is kept whole."""


def read_header(
    entries: tuple[Entry, ...], description: tuple[tuple[str, Span], ...], findings: Collector
) -> Header:
    """What the entries say; a known key with a value of another shape is kept, with a finding."""
    sizes: tuple[str, ...] = ()
    sizes_span = NOWHERE
    options: list[Option] = []
    yarns: list[YarnEntry] = []
    gauges: list[Gauge] = []
    make = 1
    terms: Literal["US", "UK", "old", ""] = ""
    public = Side.RS
    for e in entries:
        value, at = e.value[:_LONG], e.value_span.start
        if e.known == "Sizes":
            sizes, sizes_span = read_sizes(value), e.value_span
        elif e.known == "Options":
            got = read_options(value, at)
            if not got:
                expected = "`turns = wrapped (usual), double stitch`"
                findings.report(HeaderNotRead(e.key, value, expected), e.value_span)
            options += got
        elif e.known == "Yarn":
            yarns.append(read_yarn(value, at))
        elif e.known == "Gauge":
            gauge = read_gauge(value, at)
            if gauge is None:
                findings.report(GaugeNotRead(value), e.value_span)
            else:
                gauges.append(gauge)
        elif e.known == "Make":
            n = _count(value)
            if n is None:
                findings.report(HeaderNotRead(e.key, value, "a number from 1 to 1000"), e.value_span)
            else:
                make = n
        elif e.known == "Terms":
            low = value.strip().rstrip(".").lower()
            if low in {"us", "usa", "american"}:
                terms = "US"
            elif low in {"uk", "british"}:
                terms = "UK"
            elif low in {"old", "old terms"}:
                terms = "old"
            else:
                findings.report(HeaderNotRead(e.key, value, "US, UK or old"), e.value_span)
        elif e.known == "Public side":
            low = value.strip().rstrip(".").lower()
            if low in {"rs", "right side", "knit side", "right"}:
                public = Side.RS
            elif low in {"ws", "wrong side", "purl side", "wrong"}:
                public = Side.WS
            else:
                findings.report(HeaderNotRead(e.key, value, "RS or WS"), e.value_span)
    return Header(
        entries=entries,
        description=description,
        sizes=sizes,
        sizes_span=sizes_span,
        options=tuple(options),
        yarns=tuple(yarns),
        gauges=tuple(gauges),
        make=make,
        terms=terms,
        public_side=public,
    )


def _count(value: str) -> int | None:
    m = re.match(r"\s*(?:(\d{1,4})\b|([A-Za-z]+)\b)", value)
    if m is None:
        return None
    n = (
        int(m[1])
        if m[1]
        else {"a pair": 2, "pair": 2, "both": 2}.get(m[2].lower(), number_word(m[2].lower()))
    )
    return n if n is not None and 1 <= n <= 1000 else None
