"""Writing a pattern: the header, sections, rows in all sizes, and the abbreviations that were used.

In: numbers and rows. Out: the text of a pattern as Purlwright reads it. What stands in the rows is the
business of each kind of piece.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from fractions import Fraction

from purlwright.pattern.numbers import reckon
from purlwright.proof.trade import class_by_stitches
from purlwright.sizing.lists import and_list, of_sizes
from purlwright.sizing.starts.asked import Asked, Finish
from purlwright.sizing.unknowns import NoPlan
from purlwright.units import BY_GAUGE, half_up

__all__ = ["Writing", "cm"]

_MEANS = {
    "k": "knit.",
    "k2tog": "knit 2 together.",
    "kfb": "knit into the front and then the back of the same stitch.",
    "m": "marker.",
    "m1l": "make 1 left (lift the strand between the needles from front to back, knit it through the "
    "back loop).",
    "m1r": "make 1 right (lift the strand between the needles from back to front, knit it through the "
    "front loop).",
    "p": "purl.",
    "p2tog": "purl 2 together.",
    "pm": "place marker.",
    "rnd": "round.",
    "sm": "slip marker.",
    "ssk": "slip 2 stitches knitwise one at a time, knit them together through the back loops.",
    "w&t": "wrap and turn. Bring the yarn to the other side, slip the next stitch, take the yarn back, "
    "return the "
    "stitch, turn.",
    "yo": "yarn over.",
}
_USED = re.compile(
    r"(?<![\w&])(k2tog|kfb|m1l|m1r|p2tog|pm|rnd|sm|ssk|w&t|yo|m|k|p)(?=\d|s?(?![\w&]))", re.IGNORECASE
)


_DASH = re.compile(r"(?<!\w)- \(\d|[(,] ?-(?=[,)])")


def cm(mm: Fraction | float) -> float:
    """A length to the half centimetre, as it is printed."""
    return float(half_up(Fraction(mm) / 10, Fraction(1, 2)))


_QUARTERS = ("", "¼", "½", "¾")
_CABLES_IN = {40: 16, 60: 24, 80: 32, 100: 40, 120: 47, 150: 60}
"""Circular needles as they are sold in inches; common practice, no source."""


def _in_quarters(mm: Fraction) -> str:
    """A length in inches to the quarter, by the trade's rule, four inches to 10 cm."""
    whole, part = divmod(int(half_up(mm / BY_GAUGE["in"] * 4, Fraction(1))), 4)
    return f"{whole or ''}{_QUARTERS[part]}" or "0"


class Writing:
    """A pattern as it is written, line by line."""

    def __init__(self, asked: Asked, title: str, about: str) -> None:
        self.asked = asked
        self.sizes = asked.sizes
        self._title = asked.title or title
        self._about = about
        self._heads: list[str] = []
        self._lines: list[str] = []
        self._numbers: list[str] = []
        self._named: list[tuple[Sequence[int], str]] = []
        self._known: dict[str, tuple[int, ...]] = {}

    # --- numbers of all sizes ---

    def n(self, values: Sequence[int | Fraction | float | None]) -> str:
        """One number a size: ``88 (96, -)``."""
        if len(values) != len(self.sizes):
            raise ValueError(f"{len(values)} numbers for {len(self.sizes)} sizes")
        name = next((name for named, name in self._named if named is values), None)
        if name is not None:
            return f"{{{name}}}"
        if all(v is None for v in values):
            raise ValueError("a list of nothing")
        known = {v for v in values if v is not None}
        if len(known) == 1 and None in values and len(values) > 1:
            return of_sizes(["-" if v is None else f"{float(v):g}" for v in values], always=True)
        return of_sizes(["-" if v is None else f"{float(v):g}" for v in values])

    # --- numbers with a name ---

    def named(self, name: str, values: Sequence[int], sum_: str = "") -> None:
        """Gives a number a name in the Numbers section; from there on :meth:`n` calls this very list by it.

        sum_ : how it comes from names already given, "around / 2"; else its values are listed. Whoever
        changes the pattern then changes one place, and what depends on it follows.
        """
        self._numbers.append(f"{name} = {sum_ or of_sizes(list(values))}")
        if sum_ and self._reckoned(sum_) != tuple(values):
            raise ValueError(f"{sum_} is not {values}")
        self._named.append((values, name))
        self._known[name] = tuple(values)

    def sum(self, words: str) -> str:
        """What some arithmetic on names gives, as a row has it: ``{half - 1}``."""
        self._reckoned(words)
        return f"{{{words}}}"

    def _reckoned(self, words: str) -> tuple[int, ...]:
        got = reckon(words, self._known, len(self.sizes))
        if got.problem is not None or any(v.denominator != 1 or v < 0 for v in got.values):
            raise ValueError(f"no whole numbers: {words}")
        return tuple(int(v) for v in got.values)

    def only(self, which: Sequence[bool]) -> str:
        """The beginning of a line that is for some sizes only; nothing if it is for all."""
        if all(which):
            return ""
        names = [name for name, yes in zip(self.sizes, which, strict=True) if yes]
        return f"{'Size' if len(names) == 1 else 'Sizes'} {', '.join(names)} only: "

    # --- the parts of a pattern ---

    def head(self, key: str, words: str) -> None:
        """A line of the header."""
        self._heads.append(f"{key}: {words}")

    def section(self, heading: str) -> None:
        """A heading."""
        self._lines += ["", f"## {heading}"]

    def line(self, words: str) -> None:
        """A row, or a few."""
        self._lines.append(words)

    def note(self, words: str) -> None:
        """A note to the knitter."""
        self._lines.append(f"> {words}")

    def times(self, words: str, often: Sequence[int]) -> None:
        """A line worked so often in each size; ``words`` has "{n}" for "5 (0, 7) times". Nothing if none
        works it.

        A size whose number is 0 does not work the line.
        """
        if not any(often):
            return
        said = {1: "once", 2: "twice"}.get(often[0]) if len(set(often)) == 1 else None
        self.line(words.replace("{n}", said or f"{self.n(often)} times"))

    def long(self, mm: Sequence[Fraction | float]) -> str:
        """Lengths as they are printed, one a size: ``45.5 (50) cm``, ``18 (19¾) in``."""
        if not self.asked.inches:
            return f"{self.n([cm(v) for v in mm])} cm"
        return f"{of_sizes([_in_quarters(Fraction(v)) for v in mm])} in"

    def cable(self, cm_: int) -> str:
        """A circular needle's length."""
        return f"{_CABLES_IN[cm_]} in" if self.asked.inches else f"{cm_} cm"

    def so_long(self, what: str, rows: Sequence[int], since: str) -> None:
        """A note of how long a piece is by then, for one whose rows are not quite those of the gauge."""
        now = self.long([n * self.asked.knit.row_mm for n in rows])
        self.note(f"{what} measures about {now} from {since}.")

    def to_fit(self, what: str, measures: Sequence[Fraction]) -> None:
        """Whom it fits."""
        self.head("To fit", f"{what} about {self.long(measures)} round")

    def finished(self, parts: Iterable[tuple[Finish, str]]) -> None:
        """The finished size: measures with their words, "round"."""
        said = [f"{self.long(finish.mm)} {words}" for finish, words in parts]
        self.head("Finished size", ", ".join(said))

    def yarn(self) -> None:
        """The yarn line: words, class by the gauge, and how much, once it is known."""
        found = self.asked_class()
        if found is None:
            raise NoPlan(
                f"{float(self.asked.knit.stitches):g} sts to 10 cm is no gauge of hand knitting; "
                "the trade's classes of yarn end at 40 sts."
            )
        number, name, metres = found
        amount = f"; about {self.n(self.asked.metres)} m" if self.asked.metres else ""
        self.head("Yarn", f"{self.asked.yarn}, {number} {name}, {metres} m per 100 g{amount}")

    def asked_class(self) -> tuple[int, str, int] | None:
        """The class of yarn that is usual at this gauge, in its plain name, with the middle of its metres."""
        plain = self.asked.knit.stitches
        if "garter" in self.asked.fabric:
            plain = plain * Fraction(11, 10)  # a garter stitch is a little wider than a plain one
        found = class_by_stitches(min(max(half_up(plain, Fraction(1)), Fraction(2)), Fraction(40)))
        if found is None or not Fraction(3, 2) <= plain <= 44:
            return None
        least, most = found.metres
        number, _, name = found.name.partition(" ")
        return int(number), name, int(half_up((least + most) / 2, Fraction(10)))

    def needle(self, smaller: bool = False) -> str:
        """The needle in mm; a size smaller for ribs."""
        size = self.asked.needles_mm
        if smaller:
            size -= Fraction(1, 2) if size <= 6 else Fraction(1)
        return f"{float(size):g} mm"

    def gauge(self, where: str) -> None:
        """The gauge, in what cloth, on which needle, flat or round."""
        knit = self.asked.knit
        rows = "rounds" if where == "in the round" else "rows"
        over = "4 inches" if self.asked.inches else "10 cm"
        self.head(
            "Gauge",
            f"{float(knit.stitches):g} sts and {float(knit.rows):g} {rows} = {over} in "
            f"{self.asked.fabric} on {self.needle()} needles, {where}, after washing",
        )

    def text(self, notes: Sequence[str] = ()) -> str:
        """The whole pattern."""
        body = "\n".join(self._lines)
        used = {m[1].lower() for m in _USED.finditer(body)}
        meant = [f"{short}: {_MEANS[short]}" for short in sorted(used)]
        first = [f"# {self._title}", self._about, ""]
        if len(self.sizes) > 1:
            first.append(f"Sizes: {self.sizes[0]} ({', '.join(self.sizes[1:])})")
        out = [*first, *self._heads, "Version: 1.0"]
        if _DASH.search(body):
            notes = [*notes, "A dash in a list tells your size to pass that instruction over."]
        if notes:
            out += ["", *(f"> {note}" for note in notes)]
        if self._numbers:
            out += ["", "## Numbers", *self._numbers]
        out += ["", "## Abbreviations", *meant, *self._lines]
        return "\n".join(out) + "\n"


def memory_notes(asked: Asked, measures: Sequence[str]) -> list[str]:
    """What must be said of the measures that were used: those from memory, and those read once only."""
    kinds: dict[str, list[str]] = {}
    for measure in measures:
        for body in asked.bodies:
            size = body.measures.get(measure)
            if size is None and measure in {"back waist length", "back hip length", "cross back"}:
                continue  # one of the two is enough
            if size is None:
                kinds.setdefault("assumed", []).append(measure)
            elif size.from_memory:
                kinds.setdefault("memory", []).append(measure)
            elif size.status == "one source":
                kinds.setdefault("once", []).append(measure)
    words = {
        "memory": "from memory and have not been checked with the printed standard: measure whom you "
        "knit for",
        "once": "from one source only: measure whom you knit for",
        "assumed": "assumed from the other measures (common practice, no source): measure whom you knit for",
    }
    return [
        f"The measures taken for {and_list(sorted(set(found)))} are {words[kind]}."
        for kind, found in kinds.items()
    ]
