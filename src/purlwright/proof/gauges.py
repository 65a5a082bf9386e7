"""Checks C055, C056 and C061: the gauge is possible and fully said, and edges that stretch say how they lie.

In: a subject. Out: findings on the words of the gauge. What the gauge makes of the stitches is left to
``widths`` and ``lengths``.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from purlwright.findings import Finding, Severity
from purlwright.needles.ledger import ROWS, Kind
from purlwright.pattern import tree
from purlwright.pattern.header import Header
from purlwright.proof.answer import Answer, of_the_work
from purlwright.proof.front import has_front
from purlwright.proof.measures import Said, stated
from purlwright.proof.needles_named import needles_named
from purlwright.proof.rates import Rate, rates, rates_in, worked_rows
from purlwright.proof.stretches import cloths, runs_of_a_line
from purlwright.proof.subject import Subject
from purlwright.proof.trade import YarnClass, row_ratio, yarn_class
from purlwright.proof.two_gauges import gauges_apart

__all__ = ["JUDGES", "GaugeLacks", "GaugeOutOfShape", "GaugeUnlikely", "StretchNotSaid", "misshapen"]


# --- C055 ---------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class GaugeOutOfShape:
    """The stitches and rows of the gauge give a stitch that no such cloth has.

    A knitted stitch is wider than it is high, and by how much hardly depends on yarn or hand: plain
    stockinette has 1.25 to 1.5 rows for each stitch, garter stitch 2. A gauge far from it has one figure
    mistyped, and everything that is told by it comes out wrong.

    Example: `Gauge: 17 sts and 36 rows = 10 cm in stockinette stitch`. That is 2.1 rows for each stitch; 27
    sts would be 1.3.

    Cure: measure the swatch again and correct the figure.

    Source: D. L. Munden, J. Text. Inst. 50 (1959) T448; trade gauges; three craft articles for garter stitch.
    Only what lies a fifth beyond them is spoken of.
    """

    ratio: str
    ground: str
    usual: str

    code = "gauge-out-of-shape"
    check = "C055"
    severity = Severity.WARNING

    def message(self) -> str:
        return f"This gauge has {self.ratio} rows for each stitch; {self.ground} has about {self.usual}."

    def label(self) -> str:
        return f"{self.ratio} rows for each stitch"

    def help(self) -> str | None:
        return "Measure the swatch again: one of the two figures is likely mistyped."


@dataclass(frozen=True, slots=True)
class GaugeUnlikely:
    """The gauge has far more, or far fewer, stitches than this yarn gives on such needles.

    A knitter cannot reach it however she changes her needles, or reaches it with a cloth like a board or a
    net.

    Example: `Yarn: wool, 4 Medium` with `Gauge: 28 sts and 36 rows = 10 cm in stockinette stitch`. Medium
    yarn gives 16 to 20 stitches.

    Cure: correct the stitches, or the class of the yarn.

    Source: Craft Yarn Council, Standard Yarn Weight System, which calls its figures guidelines. Two fifths
    fewer and three tenths more than its range are taken as right; fine yarns may be knitted as loosely as
    you like.
    """

    stitches: str
    yarn: str
    least: int
    most: int

    code = "gauge-unlikely"
    check = "C055"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"{self.stitches} sts in 10 cm is far from what yarn of class {self.yarn} gives in plain "
            f"knitting, {self.least} to {self.most}."
        )

    def label(self) -> str:
        return f"{self.stitches} sts in 10 cm"

    def help(self) -> str | None:
        return "Correct the stitches of the gauge, or the class of the yarn."


_PLAIN = ("stockinette", "garter")
_DOUBLED = re.compile(
    r"\b(?:double[d]?|two strands|strands? held|held together|held double)\b", re.IGNORECASE
)


def _shape(rate: Rate) -> Iterator[Finding]:
    """Rows for each stitch against what the ground has."""
    if not rate.stitches or not rate.rows:
        return
    ratio = rate.rows / rate.stitches
    known = row_ratio(rate.ground)
    if known is not None and not known.far[0] <= ratio <= known.far[1]:
        low, high = known.usual
        usual = f"{float(low):g}" if low == high else f"{float(low):g} to {float(high):g}"
        problem = GaugeOutOfShape(f"{float(ratio):.2g}", rate.ground, usual)
        yield Finding(problem=problem, span=rate.gauge.span)


def _class(rate: Rate, yarn: YarnClass) -> Iterator[Finding]:
    """Stitches against the class of the yarn."""
    sts = rate.stitches * 10 if rate.stitches else None
    if sts is None:
        return
    least, most = yarn.stitches
    too_few = yarn.number >= 3 and sts < least * Fraction(3, 5)
    if too_few or sts > most * Fraction(13, 10):
        problem = GaugeUnlikely(f"{float(sts):g}", yarn.name, int(least), int(most))
        yield Finding(problem=problem, span=rate.gauge.span)


def misshapen(subject: Subject) -> bool:
    """Whether a gauge is spoken of as impossible, so that nothing told by it need be spoken of again."""
    return any(subject.kept(judge_possible).findings)


def judge_possible(subject: Subject) -> Answer:
    """C055: one gauge by itself in plain cloth only, since what a stitch pattern does to a gauge nobody can
    say beforehand; two of one cloth beside each other.
    """
    return subject.of_header(_possible)


def _possible(header: Header, sizes: int) -> Answer:
    every = rates_in(header, sizes)
    apart = list(gauges_apart(every, frozenset(y.name.lower() for y in header.yarns if y.name)))
    known = [r for r in every if r.ground in {*_PLAIN, ""}]
    if not known:
        return Answer(places=len(every) - 1 if len(every) > 1 else 0, findings=tuple(apart[:1]))
    yarns = {yarn_class(y.words) for y in header.yarns if not _DOUBLED.search(y.words)}
    yarn = next(iter(yarns)) if len(yarns) == 1 else None
    places = 0
    findings = apart[:1]
    for rate in known:
        if rate.ground and rate.stitches and rate.rows:
            places += 1
            findings += _shape(rate)
        if yarn is not None and rate.ground != "garter" and not _DOUBLED.search(rate.gauge.words):
            places += 1
            if not any(f.span == rate.gauge.span for f in findings):
                findings += _class(rate, yarn)
    return Answer(places=places, findings=tuple(findings))


# --- C056 ---------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class GaugeLacks:
    """The gauge does not say in what cloth it was counted, on which of several needles, or, where the work is
    both flat and in the round, in which of the two.

    The same yarn gives 18 stitches in plain knitting and 26 in cables. A knitter who swatches the wrong cloth
    gets the wrong size.

    Example: `Gauge: 20 sts and 28 rows = 10 cm` in a pattern of cables.

    Cure: add the words, like `in stockinette stitch on 4 mm needles, in the round, after washing`.

    Source: common practice of technical editors, no single source.
    """

    lacking: str
    more: str

    code = "gauge-lacks"
    check = "C056"
    severity = Severity.NOTE

    def message(self) -> str:
        return f"The gauge does not say {self.lacking}{self.more}."

    def label(self) -> str:
        return self.lacking

    def help(self) -> str | None:
        return "Add words such as: in stockinette stitch on 4 mm needles, in the round, after washing."


@dataclass(frozen=True, slots=True)
class ClothWithoutGauge:
    """A good part of the stitches is worked in a cloth that no gauge is for, and sets a stated size.

    Plain knitting and garter stitch have other widths and heights at the same yarn and needles. A gauge in
    the one tells nobody whether the other will come out.

    Example: `Gauge: 20 sts and 28 rows = 10 cm in stockinette stitch` and a yoke of 40 rows in garter stitch.

    Cure: add a gauge for it: `20 sts and 40 rows = 10 cm in garter stitch`.

    Source: common practice of technical editors, no single source.
    """

    cloth: str
    share: int

    code = "cloth-without-gauge"
    check = "C056"
    severity = Severity.NOTE

    def message(self) -> str:
        return f"{self.share} of 100 stitches are worked in {self.cloth}, and no gauge is for it."

    def label(self) -> str:
        return "of another cloth"

    def help(self) -> str | None:
        return f"Add a gauge for {self.cloth}, or say that it comes out as the first does."


_SHARE = Fraction(2, 5)
"""A cloth of fewer of the stitches is a trimming, whose size the rest of the piece decides."""
_ROWS_OF_CLOTH = 20
"""Fewer rows are an edging."""
_CALLED = {"stockinette": "stockinette stitch", "garter": "garter stitch"}


def _of_other_cloth(subject: Subject) -> Finding | None:
    """A cloth of two fifths of the stitches for which no gauge is, where all gauges name their cloth.

    Ribs are pulled in and out and follow what they are joined to; of patterns no two are the same cloth.
    """
    known = subject.kept(rates)
    named = {rate.ground for rate in known}
    if not known or "" in named or "pattern" in named:
        return None
    if not any(m.source is Said.FINISHED for m in subject.kept(stated)):
        return None
    cloth = next(iter(subject.kept(cloths)), None)
    if cloth is None or not cloth.sure:
        return None
    many: dict[str, int] = {}
    high: dict[str, int] = {}
    for stretch in cloth.stretches:
        for rows in runs_of_a_line(stretch.entries):
            ground, n = cloth.ground(rows), worked_rows(rows)
            many[ground] = many.get(ground, 0) + stretch.count * n
            high[ground] = high.get(ground, 0) + n
    total = sum(many.values())
    for kind, words in _CALLED.items():
        if (
            kind not in named
            and high.get(kind, 0) >= _ROWS_OF_CLOTH
            and Fraction(many.get(kind, 0), total) >= _SHARE
        ):
            share = 100 * many[kind] // total
            return Finding(problem=ClothWithoutGauge(words, share), span=known[0].gauge.span)
    return None


_ON_NEEDLE = re.compile(r"\bmm\b|\bneedles?\b|\bUS\b|\bno\.|\bsize\b|\blarger?\b|\bsmaller\b", re.IGNORECASE)


@of_the_work(Header)
def judge_words(subject: Subject) -> Answer:
    """C056: one note, on the first gauge that lacks its cloth, or its needle where several are listed."""
    known = subject.kept(rates)
    if not known or not has_front(subject):
        return Answer(places=len(known))
    spans = [e.value_span for e in subject.pattern.header.entries if e.known == "Needles"]
    listed = {
        n.mm for n in subject.kept(needles_named) if any(s.start <= n.span.start < s.end for s in spans)
    } - {None}
    for rate in known:
        lacks = []
        if not rate.ground:
            lacks.append("in what cloth it was counted")
        if len(listed) > 1 and not _ON_NEEDLE.search(rate.gauge.words):
            lacks.append("on which of the needles")
        if rate.gauge.round is None and rate.rows and _both_ways(subject):
            lacks.append("whether it was worked flat or in the round")
        if lacks:
            more = [] if rate.gauge.washed is not None else ["whether it was washed"]
            rest = [*lacks[1:], *more]
            problem = GaugeLacks(lacks[0], "".join(f", nor {w}" for w in rest))
            return Answer(places=len(known), findings=(Finding(problem=problem, span=rate.gauge.span),))
    other = _of_other_cloth(subject)
    return Answer(places=len(known), findings=() if other is None else (other,))


def _both_ways(subject: Subject) -> bool:
    """Whether a quarter of the rows at least is worked flat, and a quarter in the round."""
    rows = [e.kind for _, e in subject.entries() if e.kind in ROWS]
    rounds = rows.count(Kind.ROUND)
    return bool(rows) and len(rows) <= 4 * rounds <= 3 * len(rows)


# --- C061 ---------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class StretchNotSaid:
    """A ribbed edge is measured round, and nothing says whether it is stretched or at rest.

    A rib of 40 cm at rest goes round 60 cm. A knitter who compares her head with the wrong one of the two
    chooses the wrong size.

    Example: `Finished size: 42 cm round the brim` for a brim in k2, p2 rib.

    Cure: add "unstretched", "at rest" or "stretched".

    Source: common practice, no source.
    """

    part: str

    code = "stretch-not-said"
    check = "C061"
    severity = Severity.NOTE

    def message(self) -> str:
        return f"The words do not say whether the ribbed {self.part} is measured stretched or at rest."

    def label(self) -> str:
        return "stretched or at rest?"

    def help(self) -> str | None:
        return 'Add "unstretched", "at rest" or "stretched".'


_EDGES = {"brim", "wrist", "hem", "neck"}
_AT_REST = re.compile(
    r"stretch|\brelaxed|\bat rest|\bunblocked|\blying flat|\blaid flat|\bease", re.IGNORECASE
)


def judge_stretch(subject: Subject) -> Answer:
    """C061."""
    found = [
        m for m in subject.kept(stated)
        if m.source is Said.FINISHED and m.part in _EDGES and m.way in {"round", "width"}
    ]  # fmt: skip
    if not found:
        return Answer()
    spans = {e.value_span: e.value for e in subject.pattern.header.entries}
    ribbed = any("rib" in n.ground.lower() for _, n in subject.nodes(tree.InGround))
    for m in found:
        words = next((v for s, v in spans.items() if s.start <= m.span.start < s.end), m.words)
        if ribbed and not _AT_REST.search(words):
            return Answer(places=len(found), findings=(Finding(problem=StretchNotSaid(m.part), span=m.span),))
    return Answer(places=len(found))


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {
    "C055": judge_possible,
    "C056": judge_words,
    "C061": judge_stretch,
}
