"""Small hand-made knittings, so that what is shown can be tested without a reader or needles.

`piece("Flap", "Cast on | | +20", "Row 1 | RS | ", "Row 2 | WS | -2 4left")` : one entry a string, label, side and
what happens: `+n` made, `-n` lost, `n left` unworked, `n held`, `n back`; "again" is the same words once more.
"""

import re
from dataclasses import dataclass, field

from purlwright.findings import Finding, Severity
from purlwright.needles.ledger import Copied, Entry, Gap, Kind, Ledger, Piece, StatedCount
from purlwright.pattern import tree
from purlwright.pattern.header import Header
from purlwright.pattern.tree import Side
from purlwright.text import NOWHERE, Source, Span

_AMOUNT = re.compile(r"([+-]?)(\d+) ?(left|held|back|gap|th|said)?")


def piece(name, *rows, source=None, first_order=1, section=None):
    entries, live = [], 0
    for order, row in enumerate(rows, first_order):
        label, side, what = (cell.strip() for cell in row.split("|"))
        made = lost = left = held = back = 0
        pass_, gaps, said = 1, (), ()
        for sign, digits, word in _AMOUNT.findall(what):
            n = int(digits)
            made += n if sign == "+" else 0
            lost += n if sign == "-" else 0
            left = n if word == "left" else left
            held = n if word == "held" else held
            back = n if word == "back" else back
            pass_ = n if word == "th" else pass_
            gaps = (Gap(n, order),) if word == "gap" else gaps
            said = (n,) if word == "said" else said
        end = live + made - lost - held + back
        kind = next((k for k in Kind if label.lower().startswith(k.value.replace("-", " "))), Kind.ROW)
        kind = Kind.ROUND if label.startswith("Round") else kind
        span = words_of(source, label) if source else NOWHERE
        entries.append(
            Entry(
                order=order, kind=kind, label=label, number=number_of(label), section=section or name,
                pass_=pass_, side=Side(side) if side else None, start=live,
                worked=0 if kind is Kind.CAST_ON else live - left, unworked=left, made=made, lost=lost, held=held,
                returned=back, end=end, gaps=gaps, line=source.place(span.start)[0] if source else number_of(label) or 0,
                span=span, unread="unread" in what, resumed="resumed" in what,
                copied=Copied("Row 1", 2) if "copied" in what else None,
                stated=tuple(StatedCount(n, end, span) for n in said),
            )
        )  # fmt: skip
        live = end
    off = entries[-1].lost if entries and entries[-1].kind is Kind.BIND_OFF else 0
    return Piece(name=name, rows=tuple(entries), bound_off=off, live=live)


def number_of(label):
    found = re.search(r"\d+", label)
    return int(found[0]) if found else None


def words_of(source, label):
    """The line that begins with the label."""
    for line in range(1, source.line_count + 1):
        if label and source.line(line).startswith(label):
            return source.line_span(line)
    return NOWHERE


def ledger(*pieces, size="one size", options=()):
    return Ledger(size=size, options=options, pieces=pieces)


@dataclass(frozen=True)
class Wrong:
    """A problem for tests."""

    words: str = "Row 5 uses 20 of the 24 stitches on the needle."
    code: str = "count-differs"
    check: str | None = "C001"
    severity: Severity = Severity.ERROR
    under: str = "uses 20"
    cure: str | None = "Work 4 more stitches, or repeat 6 times."

    def message(self):
        return self.words

    def label(self):
        return self.under

    def help(self):
        return self.cure


def finding(source, words, problem=None, **more):
    start = source.text.index(words)
    return Finding(problem=problem or Wrong(), span=Span(start, start + len(words)), **more)


@dataclass
class Knitted:
    """As much of a knitting as the proof looks at."""

    ledger: Ledger
    findings: tuple = ()
    places: dict = field(default_factory=dict)
    log: tuple = ()
    fabric: object = None
    own: dict = field(default_factory=dict)


@dataclass
class Section:
    lines: tuple = ()
    heading: str = ""
    level: int = 0
    span: Span = NOWHERE


@dataclass
class Pattern:
    sections: tuple = ()
    sizes: tuple = ()
    title: str = "Tern Mitten"
    charts: tuple = ()
    findings: tuple = ()
    header: Header = field(default_factory=Header)
    numbers: tuple = ()


FLAP = """\
# Tern Flap
Cast on 20 sts.
Row 1 (RS): Knit.
Row 2 (WS): Purl.
Row 3 (RS): K2, [k3, p1] 4 times, k2tog. (19 sts)
Bind off all sts.
"""


def flap():
    source = Source(FLAP, "flap.pattern.md")
    rows = (
        "Cast on | | +20",
        "Row 1 | RS |",
        "Row 2 | WS |",
        "Row 3 | RS | -1 19said",
        "Bind off | WS | -19",
    )
    return source, ledger(piece("Tern Flap", *rows, source=source))


_LABEL = re.compile(r"((?:(?P<only>[\w ,]+) only: )?(?P<words>(?P<unit>Rows?|Rnds?|Rounds?) (?P<n>[\d ,and-]+)(?: and (?P<rule>all \w+ rows))?(?: \((?P<side>RS|WS)\))?)): ")  # fmt: skip


def lines_of(source, *, options=()):
    """Every line of a source as a tree line with its label read; actions by `actions_of`."""
    out = []
    for n in range(1, source.line_count + 1):
        span = source.line_span(n)
        text = source.words(span)
        if not text.strip() or text.startswith("#"):
            continue
        found = _LABEL.match(text)
        label, sizes, chosen = None, (), ()
        if found:
            only = tuple(found["only"].split(", ")) if found["only"] else ()
            chosen = tuple(o for o in options if o[1] in only)
            sizes = () if chosen else only
            rule = {"all WS rows": "WS", "all even rows": "even"}.get(found["rule"])
            label = tree.Label(
                words=found["words"].split(" (")[0],
                numbers=numbers_of(found["n"]),
                unit=tree.Unit.ROW if found["unit"].startswith("Row") else tree.Unit.ROUND,
                side=Side(found["side"]) if found["side"] else None,
                rule=rule,
                span=Span(found.start("words"), found.end("words")),
            )
        rest = found.end() if found else 0
        actions = actions_of(text, rest)
        out.append(
            tree.Line(
                label=label,
                actions=actions,
                sizes=sizes,
                options=chosen,
                line=n,
                offset=span.start,
                text=text,
            )
        )
    return tuple(out)


def numbers_of(words):
    low, dash, high = words.partition("-")
    if dash:
        return tuple(range(int(low), int(high) + 1))
    return tuple(int(n) for n in re.findall(r"\d+", words))


_MARKERS = re.compile(r"(?P<act>place|slip|remove) marker(?: (?P<name>[A-Z]))?|to marker(?: (?P<to>[A-Z]))?")


def actions_of(text, at):
    """Markers, wrapped turns and unread words (in `??`); anything else is a knit stitch."""
    out = []
    for found in _MARKERS.finditer(text, at):
        span = Span(found.start(), found.end())
        if found["act"]:
            out.append(tree.Marker(act=found["act"], name=found["name"], span=span))
        else:
            place = tree.Place(kind=tree.PlaceKind.MARKER, name=found["to"], span=span)
            out.append(tree.Fill(body=(), to=place, span=span))
    for found in re.finditer(r"w&t|turn", text[at:]):
        how = tree.TurnHow.WRAP if found[0] == "w&t" else tree.TurnHow.PLAIN
        out.append(tree.Turn(how=how, span=Span(at + found.start(), at + found.end())))
    if "??" in text:
        out.append(tree.Unread(words="??", span=Span(text.index("??"), text.index("??") + 2)))
    if "wraps" in text:
        out.append(tree.Resolve())
    return tuple(out) or (tree.Work(stitch="k", count=tree.Number(values=(1,)), span=Span(at, len(text))),)
