"""Which gauge of a header holds for which kind of cloth, and what is taken where none does.

In: a header, and the kinds of cloth that were knitted, flat or in the round. Out: a :class:`ClothGauge` for
each of them, and what was stated, assumed or taken by a rule of thumb. Sizes of single stitches are left to
``gauge``.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import KW_ONLY, dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING

from purlwright.cloth.cloths import HALF, ClothFactor, cloth_factor, cloth_named
from purlwright.cloth.kinds import ClothKind
from purlwright.cloth.said import Basis, Said
from purlwright.proof.trade import YarnClass, class_by_metres, class_by_needle, yarn_class
from purlwright.units import BY_GAUGE

if TYPE_CHECKING:
    from purlwright.pattern.header import Gauge, Header
    from purlwright.pattern.tree import Length

__all__ = ["ClothGauge", "Found", "Holding"]


@dataclass(frozen=True, slots=True, kw_only=True)
class ClothGauge:
    """The gauge of one kind of cloth, worked flat or in the round.

    ``width_tolerance`` and ``height_tolerance`` are shares: 0.03 is three parts in a hundred, either way.
    """

    kind: ClothKind
    name: str
    in_round: bool
    stitch_mm: float
    row_mm: float
    width_tolerance: float
    height_tolerance: float
    basis: Basis
    stitches: int
    """So many stitches of the fabric lie in it."""
    stretched: bool = False
    """Whether the gauge was counted in stretched cloth, so that its loops are not those of cloth at rest."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Stated:
    """A gauge of the header, in mm; None where it counts nothing."""

    gauge: Gauge
    kind: ClothKind | None
    named: bool
    """Whether its words name a cloth at all."""
    stitch_mm: float | None
    row_mm: float | None
    width_off: float
    height_off: float


_NAMED_AFTER = re.compile(
    r"\b(?:garter|stockinette|stocking|st\.? ?st|rib\w*|brioche|lace|cable|moss|seed|slip|stranded"
    r"|pattern|patt)\b.*",
    re.IGNORECASE,
)
_STRETCHED = re.compile(r"(?<!un)(?<!not )(?<!without )(?<!before )\bstretch(?:ed|ing)?\b", re.IGNORECASE)
_ON_NEEDLE = re.compile(r"\d+(?:\.\d+)?\s*mm\b|\bUS\s*\d+|\b(?:smaller|larger)\b", re.IGNORECASE)


def _stated(gauge: Gauge) -> _Stated:
    words = gauge.ground
    if not words:
        after = _NAMED_AFTER.search(gauge.words)
        words = re.split(r"[,;.(]", after[0])[0] if after is not None else ""
    stitch, width_off = _size(gauge.stitches, gauge.over)
    row, height_off = _size(gauge.rows, gauge.rows_over or gauge.over)
    return _Stated(
        gauge=gauge, kind=cloth_named(words), named=bool(words), stitch_mm=stitch, row_mm=row,
        width_off=width_off, height_off=height_off,
    )  # fmt: skip


def _size(count: Fraction | None, over: Length) -> tuple[float | None, float]:
    """How large one is, and by what share it may be off since the count was printed to a step.

    A printed whole number may be half a stitch off, a half a quarter; over less than 5 cm knitters count to
    halves. Source: arithmetic of rounding, own.
    """
    value = over.values[0] if over.values else None
    if not count or count <= 0 or not value or value <= 0:
        return None, 0.0
    mm = value * BY_GAUGE[over.unit]
    step = Fraction(1) if count.denominator == 1 and mm >= 50 else Fraction(1, 2)
    return float(mm / count), float(step / 2 / count)


_COLUMNS = 6  # a knitter sees 1 column of 2, 2 of 5 or 1 of 6, and nothing finer


@dataclass(frozen=True, slots=True)
class Found:
    """A kind of cloth as it was knitted: in the round or flat, of how many stitches; of rib, how many of its
    columns sink.
    """

    kind: ClothKind
    _: KW_ONLY
    in_round: bool
    many: int
    sunk: float = HALF


class Holding:
    """The gauges of a pattern, and for each kind of cloth the one that holds."""

    def __init__(
        self,
        header: Header,
        gauges: Sequence[Gauge] | None,
        found: Sequence[Found],
    ) -> None:
        self.header, self.found = header, found
        self.said: list[Said] = []
        self.scaled = True
        every = [_stated(g) for g in (header.gauges if gauges is None else gauges)]
        self.known = [s for s in every if s.stitch_mm is not None or s.row_mm is not None]
        for s in every:
            self._what_is_not_counted(s)
        self.of_kind: dict[ClothKind, tuple[_Stated, Basis]] = {}

    def decide(self) -> tuple[list[ClothGauge], list[Said], bool]:
        """A gauge for everything that was knitted, in the order it was found."""
        self._give_out()
        plain = self._plain() if self.found else None
        out = []
        for one in self.found:
            stated = self._of(one.kind, in_round=one.in_round)
            out.append(self._from_stated(one, *stated) if stated is not None else self._by_factor(one, plain))
        return out, list(dict.fromkeys(self.said)), self.scaled

    def _say(self, basis: Basis, words: str, source: str = "", gauge: Gauge | None = None) -> None:
        self.said.append(Said(basis=basis, words=words, source=source, span=gauge.span if gauge else None))

    def _name(self, found: Found) -> str:
        """The name of a cloth; where ribs of several kinds are knitted, with what tells them apart."""
        name = cloth_factor(found.kind).name
        if len({one.sunk for one in self.found if one.kind is found.kind}) < 2:
            return name
        sunk = Fraction(found.sunk).limit_denominator(_COLUMNS)
        return f"{name} in which about {sunk.numerator} of {sunk.denominator} columns sink back"

    def _what_is_not_counted(self, s: _Stated) -> None:
        counted = (("stitches", s.gauge.stitches, s.stitch_mm), ("rows", s.gauge.rows, s.row_mm))
        for what, count, mm in counted:
            if count is not None and mm is None:
                words = f'The gauge "{s.gauge.words}" gives no {what} over a length; it is let be.'
                self._say(Basis.MISSING, words, gauge=s.gauge)

    def _give_out(self) -> None:
        """To each kind of cloth that is knitted a gauge that names it, or that can mean nothing else."""
        many: dict[ClothKind, int] = {}
        for one in self.found:
            many[one.kind] = many.get(one.kind, 0) + one.many
        for s in self.known:
            if s.kind is not None:
                self.of_kind.setdefault(s.kind, (s, Basis.STATED))
        plain = {ClothKind.STOCKINETTE, ClothKind.GARTER, ClothKind.RIB}
        for s in self.known:
            if s.kind is not None and (s.kind in many or s.kind in plain):
                continue  # it has its cloth, or is a plain swatch to go by
            left = [k for k in sorted(many, key=lambda k: -many[k]) if k not in self.of_kind]
            if s.named:
                left = [k for k in left if k not in plain]
            if not left:
                continue
            self.of_kind[left[0]] = (s, Basis.ASSUMED)
            name = cloth_factor(left[0]).name
            told = f"is taken for the {name}" if s.named else f"names no cloth; it is taken for the {name}"
            self._say(
                Basis.ASSUMED, f'The gauge "{s.gauge.words}" {told}, of which most is knitted.', gauge=s.gauge
            )

    def _of(self, kind: ClothKind, *, in_round: bool) -> tuple[_Stated, Basis] | None:
        """The gauge for a kind of cloth: washed before unwashed, then as it is worked, flat or round."""
        held = self.of_kind.get(kind)
        if held is None:
            return None
        first, basis = held
        same = [first, *self._others_like(first)]
        best = max(same, key=lambda s: _fits(s, in_round=in_round))
        self._contradicted(best, kind, in_round=in_round)
        if best.gauge.washed is False:
            self._say(
                Basis.ASSUMED,
                f'The gauge "{best.gauge.words}" is of unwashed cloth; what washing does is not reckoned.',
                gauge=best.gauge,
            )
        return best, basis

    def _others_like(self, one: _Stated) -> list[_Stated]:
        return [s for s in self.known if s is not one and s.kind is not None and s.kind is one.kind]

    def _rivals(self, one: _Stated, *, in_round: bool) -> list[_Stated]:
        """Gauges that suit the working as well, and say something else."""
        fits = _fits(one, in_round=in_round)
        return [s for s in self._others_like(one) if _fits(s, in_round=in_round) == fits and _differ(s, one)]

    def _contradicted(self, best: _Stated, kind: ClothKind, *, in_round: bool) -> None:
        for s in self._rivals(best, in_round=in_round):
            needle = _ON_NEEDLE.search(best.gauge.words) and _ON_NEEDLE.search(s.gauge.words)
            why = "on another needle" if needle else "for the same cloth"
            self._say(
                Basis.ASSUMED,
                f'Two gauges stand for {cloth_factor(kind).name}: "{best.gauge.words}" is taken, '
                f'"{s.gauge.words}" {why} is not.',
                gauge=best.gauge,
            )

    def _from_stated(self, found: Found, s: _Stated, basis: Basis) -> ClothGauge:
        factor = _factor(found)
        stitch, row = s.stitch_mm, s.row_mm
        width_off, height_off = s.width_off, s.height_off
        shape = f"{factor.rows_per_stitch:.3g} rows are taken for each stitch"
        source = "proportions of " + factor.name + ", see the table of cloths"
        if stitch is None:
            assert row is not None  # noqa: S101 - one of the two is counted
            stitch = row * factor.rows_per_stitch
            width_off = height_off + factor.rows.tolerance
            basis = Basis.RULE_OF_THUMB
            self._say(
                basis,
                f"No stitches are given for {factor.name}: {shape}.",
                source,
                s.gauge,
            )
        elif row is None:
            row = stitch / factor.rows_per_stitch
            height_off = width_off + factor.rows.tolerance
            basis = Basis.RULE_OF_THUMB if basis is Basis.STATED else basis
            self._say(
                Basis.RULE_OF_THUMB,
                f"No rows are given for {factor.name}: {shape}.",
                source,
                s.gauge,
            )
        for other in self._rivals(s, in_round=found.in_round):
            if other.stitch_mm is not None and s.stitch_mm is not None:
                width_off = max(width_off, abs(other.stitch_mm - s.stitch_mm) / s.stitch_mm)
            if other.row_mm is not None and s.row_mm is not None:
                height_off = max(height_off, abs(other.row_mm - s.row_mm) / s.row_mm)
        if basis is Basis.STATED:
            self._say(basis, f'{_upper(factor.name)}: "{s.gauge.words}".', gauge=s.gauge)
        return ClothGauge(
            kind=found.kind, name=factor.name, in_round=found.in_round, stitch_mm=stitch, row_mm=row,
            width_tolerance=width_off, height_tolerance=height_off, basis=basis, stitches=found.many,
            stretched=_STRETCHED.search(s.gauge.words) is not None,
        )  # fmt: skip

    def _plain(self) -> ClothGauge:
        """What plain stockinette of this yarn is: as stated, or reckoned back from another cloth, or by the
        class of the yarn.
        """
        for kind in (
            ClothKind.STOCKINETTE,
            ClothKind.GARTER,
            *(one.kind for one in self.found),
            *self.of_kind,
        ):
            held = self.of_kind.get(kind)
            if held is None:
                continue
            kept, self.said = self.said, []
            best = self._of(kind, in_round=False) or held
            knitted = next(
                (one for one in self.found if one.kind is kind), Found(kind, in_round=False, many=0)
            )
            mine = self._from_stated(replace(knitted, in_round=False, many=0), *best)
            self.said = kept
            if kind is ClothKind.STOCKINETTE:
                return mine
            f, plain = _factor(knitted), cloth_factor(ClothKind.STOCKINETTE)
            return ClothGauge(
                kind=ClothKind.STOCKINETTE, name=plain.name, in_round=False,
                stitch_mm=mine.stitch_mm / f.width.usual,
                row_mm=mine.row_mm * f.rows.usual / plain.rows.usual,
                width_tolerance=mine.width_tolerance + f.width.tolerance,
                height_tolerance=mine.height_tolerance + f.rows.tolerance,
                basis=Basis.RULE_OF_THUMB, stitches=0,
            )  # fmt: skip
        return self._by_yarn()

    def _by_yarn(self) -> ClothGauge:
        """Plain stockinette by the class of the yarn, of its thickness, or of the needle; or of no size."""
        plain = cloth_factor(ClothKind.STOCKINETTE)
        found = self._class()
        if found is None:
            self.scaled = False
            self._say(
                Basis.MISSING,
                "No gauge, yarn class or needle is given: only proportions hold, and no length can be told.",
            )
            stitch, off = 5.0, 1.0
        else:
            cls, by = found
            least, most = cls.stitches
            middle = (least + most) / 2
            stitch, off = float(100 / middle), float((most - least) / 2 / middle)
            self._say(
                Basis.RULE_OF_THUMB,
                f"No gauge is given; by {by} it is yarn of class {cls.name}, for which {float(middle):g} sts "
                f"to 10 cm in stockinette stitch are taken ({int(least)} to {int(most)}).",
                "Craft Yarn Council, Standard Yarn Weight System, guidelines",
            )
        return ClothGauge(
            kind=ClothKind.STOCKINETTE, name=plain.name, in_round=False, stitch_mm=stitch,
            row_mm=stitch / plain.rows.usual, width_tolerance=off,
            height_tolerance=off + plain.rows.tolerance,
            basis=Basis.RULE_OF_THUMB if self.scaled else Basis.MISSING, stitches=0,
        )  # fmt: skip

    def _class(self) -> tuple[YarnClass, str] | None:
        for yarn in self.header.yarns:
            named = yarn_class(yarn.words)
            if named is not None:
                return named, "its name"
        for yarn in self.header.yarns:
            if yarn.metres_per_100_g is not None:
                by_metres = class_by_metres(yarn.metres_per_100_g)
                if by_metres is not None:
                    return by_metres, f"its {float(yarn.metres_per_100_g):.0f} m in 100 g"
        for entry in self.header.entries:
            if entry.known == "Needles":
                mm = re.search(r"(\d{1,2}(?:\.\d{1,2})?)\s*mm\b", entry.value)
                by_needle = class_by_needle(Fraction(mm[1])) if mm is not None else None
                if mm is not None and by_needle is not None:
                    return by_needle, f"its {mm[1]} mm needles"
        return None

    def _by_factor(self, found: Found, plain: ClothGauge | None) -> ClothGauge:
        assert plain is not None  # noqa: S101 - made as soon as something is knitted
        kind, f, base = found.kind, _factor(found), cloth_factor(ClothKind.STOCKINETTE)
        row_mm = plain.row_mm * base.rows.usual / f.rows.usual
        if kind is ClothKind.GARTER:  # a ridge is as high as a plain stitch is wide, whatever its rows
            row_mm = plain.stitch_mm / f.rows.usual
        thumb = kind is not ClothKind.STOCKINETTE or plain.basis is not Basis.STATED
        if thumb and self.scaled and kind is not ClothKind.STOCKINETTE:
            self._say(
                Basis.RULE_OF_THUMB,
                f"No gauge is given for {self._name(found)}: a stitch is taken "
                f"{_as_much(f.width.usual, 'wide')} "
                f"({f.width.least:.3g} to {f.width.most:.3g} times) and a row "
                f"{_as_much(row_mm / plain.row_mm, 'high')} as in stockinette stitch.",
                f"table of cloths, {f.status}",
            )
        elif thumb and self.scaled and self.known:
            self._say(
                Basis.RULE_OF_THUMB,
                "No gauge is given for stockinette stitch; it is reckoned back from the one that is given.",
                "table of cloths",
            )
        return ClothGauge(
            kind=kind, name=f.name, in_round=found.in_round,
            stitch_mm=plain.stitch_mm * f.width.usual,
            row_mm=row_mm,
            width_tolerance=plain.width_tolerance + f.width.tolerance,
            height_tolerance=plain.height_tolerance + (f.rows.tolerance if kind is not plain.kind else 0.0),
            basis=Basis.RULE_OF_THUMB if self.scaled else Basis.MISSING, stitches=found.many,
        )  # fmt: skip


def _factor(found: Found) -> ClothFactor:
    """What the trade says of a kind of cloth; of rib, by how many of its columns sink."""
    factor = cloth_factor(found.kind)
    return factor.with_sunk(found.sunk) if found.kind is ClothKind.RIB else factor


def _fits(s: _Stated, *, in_round: bool) -> tuple[int, bool]:
    """How well a gauge suits the working: washed first, then flat or round as worked."""
    washed = {True: 2, None: 1, False: 0}[s.gauge.washed]
    return washed, s.gauge.round is in_round


def _differ(a: _Stated, b: _Stated) -> bool:
    """Whether two gauges differ by more than a fiftieth."""
    pairs = ((a.stitch_mm, b.stitch_mm), (a.row_mm, b.row_mm))
    return any(x is not None and y is not None and abs(x - y) > 0.02 * y for x, y in pairs)


def _as_much(times: float, how: str) -> str:
    """``as wide``, ``1.1 times as wide``."""
    shown = f"{times:.2g}"
    return f"as {how}" if shown == "1" else f"{shown} times as {how}"


def _upper(words: str) -> str:
    return words[:1].upper() + words[1:]
