"""The header: the lines of key and value under the title.

In: the blocks between the title and the first instruction. Out: every key in order, and what the known ones
say: sizes, options, yarns, gauges, how many to make, terms, the public side. Unknown keys are kept as they
stand.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from purlwright.pattern.gauge import Gauge, read_gauge
from purlwright.pattern.problems import GaugeNotRead, HeaderNotRead
from purlwright.pattern.swatchline import WeighedSwatch, read_swatch
from purlwright.pattern.tokens import number_word
from purlwright.pattern.tree import Side
from purlwright.text import NOWHERE, Span

if TYPE_CHECKING:
    from purlwright.findings import Collector

__all__ = ["KNOWN_KEYS", "Entry", "Gauge", "Header", "Option", "YarnEntry", "known_key", "read_header"]

_KEYS = {
    "sizes": "Sizes", "size": "Sizes", "for": "For", "to fit": "To fit",
    "finished size": "Finished size", "finished sizes": "Finished size",
    "finished measurements": "Finished size", "finished measurement": "Finished size",
    "measurements": "Finished size",
    "finished dimensions": "Finished size", "dimensions": "Finished size",
    "yarn": "Yarn", "yarns": "Yarn", "materials": "Yarn", "material": "Yarn", "wool": "Yarn",
    "needles": "Needles", "needle": "Needles", "needle size": "Needles",
    "notions": "Notions", "you will need": "Notions", "gauge": "Gauge", "tension": "Gauge",
    "swatch": "Swatch",
    "options": "Options", "option": "Options", "make": "Make", "terms": "Terms", "public side": "Public side",
    "picture": "Picture", "source": "Source", "version": "Version", "contact": "Contact",
    "licence": "Licence", "license": "Licence",
}  # fmt: skip
KNOWN_KEYS = tuple(dict.fromkeys(_KEYS.values()))
"""The keys that mean something, as they are printed. Yarn, Needles, Notions, Gauge and Swatch may stand
several times.
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
class Header:
    """What the header says."""

    entries: tuple[Entry, ...] = ()
    description: tuple[tuple[str, Span], ...] = ()
    sizes: tuple[str, ...] = ()
    sizes_span: Span = NOWHERE
    options: tuple[Option, ...] = ()
    yarns: tuple[YarnEntry, ...] = ()
    gauges: tuple[Gauge, ...] = ()
    swatches: tuple[WeighedSwatch, ...] = ()
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


_MEASURED = re.compile(
    r"\s*[,;.:(]?\s*(?P<key>to fit(?! (?:small|medium|large)\b)|finished (?:size|measurements?)(?: of)?"
    r"|(?<=[:;] )(?:[A-Za-z]{3,15} ){0,3}"
    r"(?:circumference|chest|bust|girth|length|width|height|waist|head|hand))\b"
    r"[:,]?\s*(?P<value>.*\d.*)$",
    re.IGNORECASE,
)


_METRIC, _INCHES = r"(?:cms?|mm|m)\b\.?", r"(?:(?:in|ins|inches)\b\.?|[\"”″])"
_TWO_UNITS = re.compile(
    rf"[^,;()\[\]]*\d\s?(?:(?P<metric>{_METRIC})|{_INCHES})\s*[(\[/]\s*[\d½¼¾][^,;()\[\]]*\s?"
    rf"(?(metric){_INCHES}|{_METRIC})\s*[)\]]?\s*",
    re.IGNORECASE,
)
"""One measure in two units: "75 x 90 cm (29½ x 35½ in)"."""


def _sizes_and_measure(e: Entry) -> tuple[Entry, ...]:
    """SIZES "," "to fit" MEASURE: "S (M, L), to fit hand 18 (20, 22) cm": the names, and what they fit.

    "75 x 90 cm (29½ x 35½ in)" names no sizes: it is how large the piece comes out.
    """
    if _TWO_UNITS.fullmatch(e.value) is not None:
        return (replace(e, known="Finished size"),)
    m = _MEASURED.search(e.value)
    names = e.value[: m.start()].rstrip() if m is not None else ""
    value = m["value"].rstrip() if m is not None else ""
    if value.endswith(")") and value.count(")") > value.count("("):
        value = value[:-1]
    if m is None or not names or len(read_sizes(names)) != len(read_sizes(value)):
        return (e,)
    at = e.value_span.start
    key, known = m["key"].capitalize(), known_key(m["key"].removesuffix(" of"))
    start = m.start("value")
    if known is None:  # "S (M, L): foot circumference 20 (22, 24) cm" is the body that each is for
        key, known = "To fit", "To fit"
        start, value = m.start("key"), e.value[m.start("key") : m.start("value")] + value
    return (
        replace(e, value=names, value_span=Span(at, at + len(names))),
        Entry(key=key, value=value, known=known, key_span=Span(at + m.start("key"), at + m.end("key")),
              value_span=Span(at + start, at + start + len(value)), line=e.line),
    )  # fmt: skip


def read_sizes(value: str) -> tuple[str, ...]:
    """NAME ("(" NAME ("," NAME)* ")")? | NAME ("," NAME)*: "child (adult, large)", "S [M, L]", "XS, S, M".

    "One size" is one size. A name given twice is told apart by its place ("M", "M 2").
    """
    words = re.sub(r"\s+and\s+", ", ", value.strip().rstrip(". "))
    if words.lower().startswith("one size"):
        return ("One size",)
    words = re.sub(r"(?<=\d[)\]])\s*[A-Za-z\"”.' -]{1,40}$", "", words)  # "46 (51, 56) cm chest"
    words = re.sub(r"(?<=[)\]])\s*(?:cm|in|inches|ins|\"|mm|years|yrs|months|mths)$", "", words)
    m = re.match(r"(?P<first>[^()\[\]]+?)\s*[(\[](?P<rest>[^()\[\]]+)[)\]]\s*$", words)
    if m is not None and not re.search(r"[,;]", m["first"]):
        rest = [w for w, _ in _pieces(m["rest"], ",;")]
        if len(rest) == 1 and re.fullmatch(r"[\d\s./-]+", rest[0]) and "-" in rest[0]:
            rest = [w for w, _ in _pieces(rest[0], "-")]
        if len(rest) == 1 and re.fullmatch(r"[^:]+(?::[^:]+)+", rest[0]):  # "81 (86:91:97) cm"
            rest = [w for w, _ in _pieces(rest[0], ":")]
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
    entries = tuple(x for e in entries for x in (_sizes_and_measure(e) if e.known == "Sizes" else (e,)))
    sizes: tuple[str, ...] = ()
    sizes_span = NOWHERE
    options: list[Option] = []
    yarns: list[YarnEntry] = []
    gauges: list[Gauge] = []
    swatches: list[WeighedSwatch] = []
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
        elif e.known == "Swatch":
            swatch = read_swatch(value, at)
            if swatch is None:
                expected = "`15 x 15 cm weighs 6 g`, or `30 sts and 42 rows weigh 6 g`"
                findings.report(HeaderNotRead(e.key, value, expected), e.value_span)
            else:
                swatches.append(swatch)
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
        swatches=tuple(swatches),
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
