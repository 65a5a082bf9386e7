"""How much yarn the knitting takes: by colour and by row, with edges, floats, tails and grafts, and a range.

In: a pattern's header and words, one knitting, and the size of its stitches. Out: a frozen
:class:`YarnTaken`. Every loop's length follows from its own width and height (``loop_lengths``); what lies
between and at the ends is added here, and each addition is told apart. What can be asked of it (is there
enough for one more repeat?) is in ``yarn_left``; what the words promise is compared in ``check``.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from math import hypot
from typing import TYPE_CHECKING, TypeAlias

import numpy as np
from numpy.typing import NDArray

from purlwright.cloth.gauge import gauge_of_fabric
from purlwright.cloth.kinds import two_colours
from purlwright.cloth.loop_lengths import draw_of_stitches, loop_mm, loop_tolerance
from purlwright.cloth.said import Basis, Said
from purlwright.cloth.swatch_weight import Weighed, weighed
from purlwright.cloth.yarn_names import Yarns
from purlwright.fabric.arrays import Link
from purlwright.needles.ledger import Kind
from purlwright.needles.optable import op_table
from purlwright.stitches.kinds import Family

if TYPE_CHECKING:
    from purlwright.cloth.gauge import FabricGauge
    from purlwright.needles.knitted import Knitted
    from purlwright.needles.ledger import Entry
    from purlwright.pattern.header import Header

__all__ = ["OVER", "Part", "YarnTaken", "YarnUse", "yarn_taken"]

Floats: TypeAlias = NDArray[np.float64]

TAIL_MM = 175.0
"""A tail to weave in. Common practice, no source: 15 to 20 cm."""
LONG_TAIL = 3.25 * 1.1
"""A long tail, times the width cast on.

Source: L. Chin in a craft column and two blogs: 3 to 3.5, and a tenth.
"""
CHAIN = 0.5
"""What binding off one stitch takes more than knitting it, in stitches.

Source: with it a plain bind-off takes 5 to 6 times its width; a Q&A page says 3 to 4, a yarn shop 6.
"""
GRAFT = 3.5
"""Yarn to graft, times the width, and a hand's length. Source: encyclopedia citing Hiatt 1988: 3 to 4."""
GRAFT_MM = 150.0
SEAM = 3.0
"""Yarn to join two edges by binding off through both, times the seam. Source: a technique sheet."""
SEWN = 2.0
"""Yarn to sew two edges together, times the seam. Common practice, no source."""
OVER = 0.125
"""What a pattern tells to have is so much more than the knitting takes.

Source: 10 to 15 per cent beyond the sample, the trade's habit as two designers tell it: deviousknitter.com,
Did the Designer Include Enough Yarn to Swatch?; E. Smith, How Much Yarn Do You Need to Make a Swatch?
(elizabethsmithknits.com, 24 May 2024).
"""
CARRY_ROWS = 6
"""A yarn that rests for so many rows is carried along; longer, and it is broken.

Common practice, no source.
"""
FLOAT = 1.05
"""A float is a little longer than what it passes. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Part:
    """What so many metres of the yarn went into: "stitches", "floats", "cast-on" and so on."""

    name: str
    metres: float


@dataclass(frozen=True, slots=True, kw_only=True)
class YarnUse:
    """One yarn. Lengths in metres of the yarn as it comes from the ball.

    ``strands`` are held together wherever it is used, and counted. ``by_loop`` and ``by_gauge`` are the
    shares by which the length may be off through the loop constant, and through the step of the printed
    gauge. ``entry`` is its place among the yarns of the header, None if it is not listed.
    """

    name: str
    entry: int | None
    metres: float
    least: float
    most: float
    by_loop: float
    by_gauge: float
    strands: int
    parts: tuple[Part, ...]
    metres_per_100_g: float | None
    weighed: Weighed | None = None
    """Grams a metre by a swatch that was weighed; it goes before the band of the ball."""

    @property
    def to_have(self) -> float:
        """Metres that a pattern tells to have, by the trade's habit: swatch and slips are in it."""
        return self.metres * (1 + OVER)

    def grams(self, metres: float) -> float | None:
        """What so many metres of it weigh."""
        if self.weighed is not None:
            return metres * self.weighed.grams_per_metre
        return metres * 100 / self.metres_per_100_g if self.metres_per_100_g else None

    @property
    def grams_least_most(self) -> tuple[float, float] | None:
        """The least and the most that it weighs: by the scale if a swatch was weighed, for then the loop has
        weighed itself; else by its length.
        """
        if self.weighed is not None:
            usual = self.metres * self.weighed.grams_per_metre
            off = hypot(self.weighed.off, self.by_gauge if self.weighed.by_size else 0.0)
            return usual * (1 - off), usual * (1 + off)
        least, most = self.grams(self.least), self.grams(self.most)
        return (least, most) if least is not None and most is not None else None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class YarnTaken:
    """All yarns of one size.

    order : (r,) int32, the ledger order of each entry that takes yarn, in working order.
    metres : (r, y) float64, what each takes of each yarn; tails and grafts stand where they fall.
    pieces : how often the whole is knitted (``Make``); ``uses`` are of all, ``metres`` of one.
    known : False where the size of the stitches is not known, so that only shares hold.
    """

    uses: tuple[YarnUse, ...]
    order: NDArray[np.int32]
    metres: Floats
    pieces: int
    said: tuple[Said, ...]
    known: bool

    @property
    def share(self) -> Floats:
        """How much of all its yarn is gone after each entry, (r,), 1 at the end; all yarns together."""
        by_row = self.metres.sum(axis=1)
        total = float(by_row.sum())
        gone: Floats = np.cumsum(by_row) / total if total else np.zeros(len(by_row))
        return gone

    def used(self, name: str) -> YarnUse | None:
        """The use of a yarn by its name; None if there is none."""
        return next((use for use in self.uses if use.name == name), None)


def yarn_taken(
    header: Header, knitted: Knitted, words: str = "", gauge: FabricGauge | None = None
) -> YarnTaken:
    """The yarn that one knitting takes.

    words : the pattern's text; how it is cast on is read from the words of the cast-on.
    gauge : the size of the stitches, if it is known already.
    """
    return _Taking(header, knitted, words, gauge or gauge_of_fabric(header, knitted)).taken()


class _Taking:
    """Lengths gathered by row, by yarn and by what they go into."""

    def __init__(self, header: Header, knitted: Knitted, words: str, gauge: FabricGauge) -> None:
        self.header, self.knitted, self.words, self.gauge = header, knitted, words, gauge
        self.fabric = knitted.fabric
        self.entries = sorted((e for p in knitted.ledger.pieces for e in p.rows), key=lambda e: e.order)
        self.place = {e.order: n for n, e in enumerate(self.entries)}
        self.said: list[Said] = list(gauge.said)
        self.yarns = Yarns(header, knitted, self.entries)
        self.names, self.entry_of = self.yarns.names, self.yarns.entry_of
        self.parts: dict[str, Floats] = {}

    def taken(self) -> YarnTaken:
        """Everything summed up."""
        loops = loop_mm(self.gauge)
        draws = self._draws()
        mm = loops * draws
        if self.fabric.n:
            self._add("stitches", self._rows(), self.yarns.of_stitches, mm)
            self._edges(loops)
            self._floats()
            self._strands_over_slips()
            self._seams()
        self._ends()
        self._left_out()
        many = len(self.entries)
        total = sum(self.parts.values(), np.zeros((many, len(self.names))))
        held = self.yarns.strands_of_each()
        pieces = max(1, self.header.make)
        short, long, by_gauge = self._shares_off(mm)
        uses = []
        for y, name in enumerate(self.names):
            metres = float(total[:, y].sum()) / 1000 * held[y] * pieces
            if metres <= 0 and self.entry_of[y] is None:
                continue
            uses.append(
                YarnUse(
                    name=name,
                    entry=self.entry_of[y],
                    metres=metres,
                    least=metres * max(0.0, 1 - hypot(short[y], by_gauge[y])),
                    most=metres * (1 + hypot(long[y], by_gauge[y])),
                    by_loop=(short[y] + long[y]) / 2,
                    by_gauge=by_gauge[y],
                    strands=held[y],
                    parts=tuple(
                        Part(part, float(by[:, y].sum()) / 1000 * held[y] * pieces)
                        for part, by in self.parts.items() if by[:, y].any()
                    ),
                    metres_per_100_g=self.yarns.thickness(self.entry_of[y]),
                    weighed=weighed(self.header.swatches, name, self.gauge, held[y]),
                )
            )  # fmt: skip
        kept = [self.names.index(use.name) for use in uses]
        by_row = total[:, kept] / 1000 * np.array([held[y] for y in kept], dtype=np.float64)
        order = np.array([e.order for e in self.entries], dtype=np.int32)
        by_row.flags.writeable = order.flags.writeable = False
        return YarnTaken(
            uses=tuple(uses), order=order, metres=by_row, pieces=pieces,
            said=tuple(dict.fromkeys([*self.said, *self.yarns.said])), known=self.gauge.scaled,
        )  # fmt: skip

    # --- lengths ----------------------------------------------------------------------------------

    def _rows(self) -> NDArray[np.int64]:
        """The place of each stitch's row among the entries."""
        most = int(self.fabric.row_of_stitch.max()) + 1
        places = np.zeros(max(most, max(self.place, default=0) + 1), np.int64)
        for order, n in self.place.items():
            places[order] = n
        return places[self.fabric.row_of_stitch]

    def _add(self, part: str, rows: NDArray[np.int64], yarns: NDArray[np.int64], mm: Floats) -> None:
        by = self.parts.setdefault(part, np.zeros((len(self.entries), len(self.names))))
        if not len(by):
            return  # loops of a row that came to nothing: it is in no ledger
        np.add.at(by, (rows, yarns), mm)

    def _add_one(self, part: str, entry: Entry, yarn: int, mm: float) -> None:
        self._add(part, np.array([self.place[entry.order]]), np.array([yarn]), np.array([mm]))

    def _draws(self) -> Floats:
        """What each stitch draws; in a cast-on one loop, or none where it stands on waste yarn."""
        draws = draw_of_stitches(self.fabric)
        for e in self.entries:
            if e.kind is Kind.CAST_ON:
                mine = self.fabric.row_of_stitch == e.order
                draws[mine] = 0.0 if self._cast_on_with(e) == "waste" else 1.0
        named = [n for n, op in enumerate(self.fabric.ops) if op == "cast on"]
        among = np.isin(self.fabric.op_of_stitch, named)
        draws[among & (draws > 1)] = 1.0  # cast on during the work: one loop each
        return draws

    def _cast_on_with(self, entry: Entry) -> str:
        words = self.words[max(entry.span.start, 0) : max(entry.span.end, 0)]
        if _WASTE.search(words):
            return "waste"
        return "loops" if _NO_TAIL.search(words) else "tail"

    def _edges(self, loops: Floats) -> None:
        """The long tail of a cast-on, and the chain of a bind-off."""
        for e in self.entries:
            if e.kind is Kind.CAST_ON and self._cast_on_with(e) == "tail":
                mine = self.fabric.row_of_stitch == e.order
                width = float(self.gauge.width_mm[mine].sum())
                self._add_one("cast-on", e, self._yarn_ahead(e), width * LONG_TAIL)
        table = op_table()
        off: dict[int, int] = {}
        for item in self.knitted.log:
            if item[0] == "act":
                name = table.keys[item[1]] if isinstance(item[1], int) else item[1]
                if name == "bind off":
                    off[item[-1]] = off.get(item[-1], 0) + abs(int(item[4]) - int(item[3]))
        mean = float(np.mean(loops)) if len(loops) else 0.0
        for e in self.entries:
            if off.get(e.order):
                mine = self.fabric.row_of_stitch == e.order
                loop = float(loops[mine].mean()) if mine.any() else mean
                self._add_one("bind-off", e, self.yarns.of_entry(e), off[e.order] * CHAIN * loop)

    def _yarn_ahead(self, entry: Entry) -> int:
        """The yarn of the first row after a cast-on."""
        for e in self.entries[self.place[entry.order] :]:
            if e.yarns:
                return self.yarns.of_entry(e)
        return 0

    def _floats(self) -> None:
        """Behind every stitch of stranded rows lies the other yarn of the row."""
        both = two_colours(self.fabric)
        if not both.any():
            return
        rows, mine = self._rows(), self.yarns.of_stitches
        for y in range(len(self.names)):
            with_it = np.zeros(len(self.entries), bool)
            with_it[rows[both & (mine == y)]] = True
            passed = both & (mine != y) & with_it[rows]
            self._add(
                "floats", rows[passed], np.full(int(passed.sum()), y),
                self.gauge.width_mm[passed] * FLOAT,
            )  # fmt: skip

    def _strands_over_slips(self) -> None:
        """A slipped stitch takes the strand that passes it, as wide as it is."""
        table = op_table()
        slips = np.array([s is not None and s.family is Family.SLIP for s in table.stitches], bool)
        wide = float(np.median(self.gauge.width_mm))
        many: dict[int, int] = {}
        for item in self.knitted.log:
            if item[0] == "run":
                n = int(slips[item[1]].sum())
                if n:
                    many[item[-1]] = many.get(item[-1], 0) + n
        for e in self.entries:
            if many.get(e.order):
                self._add_one("strands over slips", e, self.yarns.of_entry(e), many[e.order] * wide)

    def _ends(self) -> None:
        """Tails where a yarn begins and ends, and what grafts take."""
        last: dict[int, int] = {}
        for piece in self.knitted.ledger.pieces:
            begun: dict[int, tuple[int, Entry]] = {}
            for n, e in enumerate(piece.rows):
                if e.kind is Kind.GRAFT and self.fabric.n:
                    wide = float(np.median(self.gauge.width_mm)) * e.worked
                    self._add_one("grafts", e, self.yarns.of_entry(e), wide * GRAFT + GRAFT_MM)
                if e.kind is Kind.SEAM and e.worked and self.fabric.n:
                    wide = float(np.median(self.gauge.width_mm)) * e.worked
                    self._add_one("seams", e, self.yarns.of_entry(e), wide * SEAM)
                for y in self.yarns.of_row(e):
                    if y not in begun or n - begun[y][0] > CARRY_ROWS:
                        if y in begun:
                            self._add_one("tails", begun[y][1], y, TAIL_MM)
                        self._add_one("tails", e, y, TAIL_MM)
                    begun[y] = (n, e)
            for y, (_, e) in begun.items():
                last[y] = last.get(y, 0) + 1
                self._add_one("tails", e, y, TAIL_MM)

    def _seams(self) -> None:
        """What it takes to sew edges together that are known to meet: row by row, or stitch by stitch."""
        f = self.fabric
        sewn = f.join_kind == Link.SEAMED
        last = [e for e in self.entries if e.kind is Kind.SEAM]
        if not last or not sewn.any():
            return
        a = f.join_a[sewn]
        along = np.append(f.row_of_stitch[a[1:]] == f.row_of_stitch[a[:-1]], False)
        along[1:] |= along[:-1]
        mm = np.where(along, self.gauge.width_mm[a], self.gauge.row_mm[a])
        fresh = np.append(True, a[1:] != a[:-1])  # an edge that is eased in meets some loops twice
        self._add_one("seams", last[0], self._yarn_of_most(), float(mm[fresh].sum()) * SEWN)

    def _yarn_of_most(self) -> int:
        """The yarn of most stitches: one sews with what the pieces are of."""
        return int(np.bincount(self.yarns.of_stitches).argmax())

    def _left_out(self) -> None:
        """What the words ask for and no stitch of the knitting takes is said."""
        if "seams" not in self.parts and _SEWN.search(self.words):
            words = (
                "Yarn to sew seams is not reckoned, as it is not known which edges meet: it is about twice "
                "the seam (common practice)."
            )
            self.said.append(Said(basis=Basis.MISSING, words=words))
        trimmed = _TRIMMED.search(self.words)
        if trimmed is not None:
            words = f"Yarn for the {trimmed[0].lower()} is not reckoned: it is not knitted."
            self.said.append(Said(basis=Basis.MISSING, words=words))

    # --- how far off ------------------------------------------------------------------------------

    def _shares_off(self, mm: Floats) -> tuple[list[float], list[float], list[float]]:
        """For each yarn the shares by which its length may be off: shorter, longer, and by the gauge."""
        shorter, longer, by_gauge = loop_tolerance(self.gauge)
        mine = self.yarns.of_stitches if self.fabric.n else np.zeros(0, np.int64)
        out: tuple[list[float], list[float], list[float]] = ([], [], [])
        for y in range(len(self.names)):
            weight = np.where(mine == y, mm, 0.0)
            total = float(weight.sum())
            for found, share in zip(out, (shorter, longer, by_gauge), strict=True):
                found.append(float((weight * share).sum()) / total if total else 0.0)
        return out


_SEWN = re.compile(r"\b(?:sew(?:n|ing)?|seams?|mattress stitch|backstitch)\b", re.IGNORECASE)
_TRIMMED = re.compile(r"\b(?:fringes?|tassels?|pom-?poms?|crochet edg\w+|embroidery)\b", re.IGNORECASE)
_WASTE = re.compile(r"provisional|waste|scrap", re.IGNORECASE)
_NO_TAIL = re.compile(
    r"backward|\be-?loop|loop cast|knitted cast|knit(?:ting)?[- ]on|cable cast|crochet|judy|figure",
    re.IGNORECASE,
)
