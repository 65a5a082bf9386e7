"""Family G, button bands: buttonholes evenly spaced, as many as there are buttons, on bands of one length."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from purlwright.findings import Problem, Related, Severity
from purlwright.needles.ledger import Entry, Kind
from purlwright.pattern.tokens import number_word
from purlwright.proof.answer import Answer, Seen, not_read, over_sizes
from purlwright.proof.parts import ROWS, Part, parts, sure
from purlwright.proof.shaping import Raw, shaped
from purlwright.proof.subject import Subject, Way
from purlwright.text import Span

__all__ = [
    "JUDGES",
    "BandsDiffer",
    "ButtonholeFarFromEnd",
    "ButtonholesAndButtons",
    "ButtonholesOffCentre",
    "ButtonholesUneven",
]


@dataclass(frozen=True, slots=True)
class ButtonholesUneven:
    """One space between buttonholes is not like the others.

    Buttons sit where the buttonholes are. One that stands a few stitches off makes the fronts gape there, and
    every person who looks at the jacket sees it. One stitch more or less is no matter.

    Example: five buttonholes with 14, 14, 11 and 14 stitches between them.

    Cure: share the stitches out evenly.
    """

    usual: str
    odd: str
    unit: str

    code = "buttonholes-uneven"
    check = "C075"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"One buttonhole comes {self.odd} {self.unit} after the one before it; the others are "
            f"{self.usual} {self.unit} apart."
        )

    def label(self) -> str:
        return f"{self.odd} {self.unit} apart once, else {self.usual}"

    def help(self) -> str | None:
        return f"Make all spaces {self.usual} {self.unit}."


@dataclass(frozen=True, slots=True)
class ButtonholesAndButtons:
    """There are not as many buttonholes as the list of notions has buttons.

    The knitter buys the buttons that are listed. Two rows of buttons for one row of holes are left alone.

    Example: `Notions: 6 buttons`, and the buttonhole row makes 7.

    Cure: list as many buttons as there are buttonholes, in every size.
    """

    holes: str
    buttons: str

    code = "buttonholes-and-buttons"
    check = "C075"
    severity = Severity.WARNING

    def message(self) -> str:
        return f"The notions list {self.buttons} buttons, and {self.holes} buttonholes are knitted."

    def label(self) -> str:
        return f"{self.holes} buttonholes are knitted"

    def help(self) -> str | None:
        return f"List {self.holes} buttons, or work {self.buttons} buttonholes."


@dataclass(frozen=True, slots=True)
class BandsDiffer:
    """The button band and the buttonhole band do not have the same number of stitches.

    The two lie over each other when the jacket is closed; along edges of one length they need as many
    stitches.

    Example: 92 stitches are picked up for the button band, 90 for the buttonhole band.

    Cure: pick up the same number for both.
    """

    here: str
    there: str

    code = "bands-differ"
    check = "C075"
    severity = Severity.WARNING

    def message(self) -> str:
        return f"The buttonhole band has {self.here} stitches, and the button band {self.there}."

    def label(self) -> str:
        return f"{self.there} for the button band"

    def help(self) -> str | None:
        return "Give both bands the same number of stitches."


@dataclass(frozen=True, slots=True)
class ButtonholeFarFromEnd:
    """The first or last buttonhole lies further from the end of the band than buttonholes lie apart.

    The corner of the front falls open below or above it. Under a V-neck, or in a jacket that closes only at
    the top, that is meant.

    Example: buttonholes 14 stitches apart, the last one 30 stitches before the end of the band.

    Cure: place the first and last near the ends, or say that the rest stays open.
    """

    stitches: str
    apart: str

    code = "buttonhole-far-from-end"
    check = "C075"
    severity = Severity.NOTE

    def message(self) -> str:
        return (
            f"{self.stitches} stitches lie between the last buttonhole and the end of the band, and the "
            f"buttonholes are {self.apart} apart."
        )

    def label(self) -> str:
        return f"{self.stitches} sts to the end"

    def help(self) -> str | None:
        return "Place the first and last buttonhole near the ends, or say that the rest stays open."


@dataclass(frozen=True, slots=True)
class ButtonholesOffCentre:
    """The buttonholes stand nearer to one end of the band than to the other, by most of a space.

    The first and the last buttonhole keep both corners of the front closed. A number between them is too
    small, or a buttonhole is missing. Under a V-neck, or in a jacket that closes only at the top, that is
    meant.

    Example: `K3, (yo, k2tog, k10) 5 times, yo, k2tog, k13`, where the others lie 12 stitches apart.

    Cure: share the stitches out so that both ends are alike. (Common practice; no source.)
    """

    first: str
    last: str
    apart: str

    code = "buttonholes-off-centre"
    check = "C075"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"{self.first} stitches stand before the first buttonhole and {self.last} after the last; the "
            f"buttonholes are {self.apart} apart."
        )

    def label(self) -> str:
        return f"{self.first} sts at one end, {self.last} at the other"

    def help(self) -> str | None:
        return "Share the stitches out so that both ends are alike, or say that the rest stays open."


# --- where the buttonholes are -------------------------------------------------------------------


class Hole(NamedTuple):
    """A buttonhole: how far it starts from the right edge, how many stitches follow, in which row."""

    right: int
    left: int
    row: int
    entry: Entry


_ABOUT = re.compile(r"\bbutton-?\s?holes?\b", re.IGNORECASE)
_OVERS = {"yo", "yo2", "yfwd", "yo3"}


def _holes(subject: Subject, way: Way, part: Part) -> list[Hole]:
    """The buttonholes of a part, a row of them worked twice (a folded band) once."""
    headed = _ABOUT.search(part.heading.words) is not None
    out: list[Hole] = []
    row = 0
    for entry in part.rows:
        row += entry.kind in ROWS
        if entry.kind not in ROWS or not (entry.made or entry.lost):
            continue
        line = subject.line_of(entry)
        if line is None or not (headed or _ABOUT.search(line.text)):
            continue
        here = [
            Hole(raw.right, raw.left, row, entry)
            for raw in shaped(subject, way).get(entry.order, ())
            if _opens(raw)
        ]
        if len(here) > 1 and [h.right for h in here] == [h.right for h in out[-len(here) :]]:
            continue
        out += sorted(here, key=lambda h: h.right)
    return out


def _opens(raw: Raw) -> bool:
    if raw.sort == "bind off":
        return bool(raw.right and raw.left) and raw.amount < 8
    return raw.sort == "increase" and raw.stitch in _OVERS


def _gaps(holes: Sequence[Hole]) -> tuple[list[int], str]:
    """The spaces between buttonholes, in stitches along one row or in rows up a band."""
    if len({h.row for h in holes}) == 1:
        return [b.right - a.right for a, b in pairwise(holes)], "stitches"
    if len({h.row for h in holes}) == len(holes):
        return [b.row - a.row for a, b in pairwise(holes)], "rows"
    return [], ""


# --- C075 ----------------------------------------------------------------------------------------

_OPEN_ENDED = re.compile(r"\bv-?\s?neck|\bv-shaped|\bshawl collar|\byoke\b|\bopen\b", re.IGNORECASE)


_RULE = 3
"""So many spaces alike make a rule; common practice, no source."""


def _spaces(holes: Sequence[Hole], *, ends: bool) -> Iterator[Seen]:
    gaps, unit = _gaps(holes)
    if len(gaps) < 2:
        return
    usual, often = Counter(gaps).most_common(1)[0]
    odd = [n for n, gap in enumerate(gaps) if abs(gap - usual) > (1 if unit == "stitches" else 2)]
    if (len(gaps) > 2 and len(odd) == 1 and often >= len(gaps) - 1) or (
        often > len(odd) > 1 and often >= _RULE and len({gaps[n] for n in odd}) == 1 and unit == "stitches"
    ):
        hole = holes[odd[0] + 1]
        yield Seen((unit, "uneven"), hole.entry.span, (usual, gaps[odd[0]]), _uneven(unit))
    elif ends and unit == "stitches" and not odd:
        far = max(holes[0].right, holes[-1].left)
        near = min(holes[0].right, holes[-1].left)
        if 2 * near <= usual and 3 * (far - near) >= 2 * usual and far <= usual + usual // 2 + 2:
            numbers = holes[0].right, holes[-1].left, usual
            yield Seen("off centre", holes[0].entry.span, numbers, lambda n: ButtonholesOffCentre(*n))
        if far > usual + usual // 2 + 2:
            yield Seen("far", holes[0].entry.span, (far, usual), lambda n: ButtonholeFarFromEnd(*n))


def _uneven(unit: str) -> Callable[[tuple[str, ...]], Problem]:
    return lambda numbers: ButtonholesUneven(numbers[0], numbers[1], unit)


_CLAUSE = re.compile(r"[^;.\n]*?\bbuttons?\b", re.IGNORECASE)
_LIST = re.compile(
    r"(?<![\d./-])(?P<one>\d+|[a-z]+)(?P<rest>\s*[(\[][\d\s,:-]+[)\]])?"
    r"(?=\s+\D|\s*[×x]\s|\s+\d+\s*[-/]?\s*(?:mm|cm|in\b|inch|[\"”]))"
    r"(?!\s*-?\s*(?:mm|cm|ins?\b|inch|[\"”]|/))",
    re.IGNORECASE,
)  # fmt: skip


def _listed(subject: Subject) -> tuple[tuple[int, ...], Span] | None:
    """How many buttons the notions list, for all sizes or each, and where."""
    for entry in subject.pattern.header.entries:
        if entry.known != "Notions" or "button" not in entry.value.lower():
            continue
        for clause in _CLAUSE.finditer(entry.value):
            words = re.split(r",(?![^(\[]*[)\]])", clause[0])[-1]
            if re.search(r"\b(?:spare|extra|optional)\b", clause[0], re.IGNORECASE):
                return None
            for m in _LIST.finditer(words):
                first = int(m["one"]) if m["one"].isdigit() else number_word(m["one"].lower())
                if first is None:
                    continue
                rest = tuple(int(n) for n in re.findall(r"\d+", m["rest"] or ""))
                if rest and len(rest) + 1 != len(subject.pattern.sizes):
                    return None
                at = entry.value_span.start + clause.end() - len(words)
                return (first, *rest), Span(at + m.start(), at + len(words))
    return None


def _bands(subject: Subject, way: Way) -> Iterator[Seen]:
    """A button band and a buttonhole band begin with the same number of stitches."""
    begun: dict[bool, tuple[Part, Entry]] = {}
    for part in parts(subject, way):
        low = part.heading.words.lower()
        first = part.rows[0]
        if "band" in low and "button" in low and first.kind in {Kind.CAST_ON, Kind.PICK_UP} and sure(part):
            begun.setdefault(_ABOUT.search(low) is not None, (part, first))
    if len(begun) == 2 and begun[True][1].end != begun[False][1].end:
        if begun[True][1].kind is begun[False][1].kind:
            numbers = begun[True][1].end, begun[False][1].end
            related = (Related(begun[False][1].span, "the button band"),)
            yield Seen("bands", begun[True][1].span, numbers, lambda n: BandsDiffer(*n), related)


def _look(subject: Subject) -> tuple[int, list[tuple[Way, Seen]]]:
    places = 0
    seen: list[tuple[Way, Seen]] = []
    listed = _listed(subject)
    ends = _OPEN_ENDED.search(subject.source.text) is None
    for way in subject.ways:
        everywhere: list[Hole] = []
        for part in parts(subject, way):
            holes = _holes(subject, way, part)
            if not holes or not sure(part):
                continue
            everywhere += holes
            places += len(holes)
            seen += [(way, one) for one in _spaces(holes, ends=ends)]
        seen += [(way, one) for one in _bands(subject, way)]
        if everywhere and listed is not None:
            place = subject.size_place(way.size)
            buttons = listed[0][min(place, len(listed[0]) - 1)]
            if buttons not in {len(everywhere), 2 * len(everywhere)}:
                related = (Related(listed[1], f"{buttons} buttons"),)
                told = Seen(
                    "buttons", everywhere[0].entry.span, (len(everywhere), buttons), _buttons, related
                )
                seen.append((way, told))
    return places, seen


def _buttons(numbers: tuple[str, ...]) -> ButtonholesAndButtons:
    return ButtonholesAndButtons(*numbers)


def judge_bands(subject: Subject) -> Answer:
    """C075."""
    text = subject.source.text
    if ("utton" not in text and "UTTON" not in text) or not _ABOUT.search(text):
        return Answer()
    places, seen = _look(subject)
    findings = tuple(over_sizes(subject, seen))
    if not places:
        return Answer(missing=not_read(subject) or "rows that make the buttonholes")
    return Answer(places=places, findings=findings, missing=not_read(subject))


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C075": judge_bands}
