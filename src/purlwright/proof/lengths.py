"""Checks C054 and C063: the rows, at the gauge, give each stated length and depth.

In: a subject. Out: a finding where a length can be told from the rows and is another. Widths are left to
``widths``; a length that is waited for ("until piece measures") is looked at while knitting.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from purlwright.findings import Finding, Severity
from purlwright.proof.answer import Answer, not_read
from purlwright.proof.beside import Beside, InSize, shared_words
from purlwright.proof.gauges import misshapen
from purlwright.proof.heights import SLANTED, row_pairs, the_gauge
from purlwright.proof.measures import Measure, Said, stated
from purlwright.proof.rates import Rate, rate_for, rates
from purlwright.proof.stretches import Cloth, Stretch, cloths, runs_of_a_line
from purlwright.proof.subject import Subject
from purlwright.text import Span

__all__ = ["JUDGES", "DepthDiffers", "LengthDiffers", "lengths_beside", "told_by"]


@dataclass(frozen=True, slots=True)
class LengthDiffers:
    """The rows at the gauge do not give the length that is stated.

    The piece comes out longer or shorter than the sheet promises. Mostly a number of repeats, the row gauge
    or the length itself is mistyped.

    Example: `Gauge: 28 rows = 10 cm`, `Finished size: 20 cm wide and 150 cm long`, and 140 rows. They are
    50 cm.

    Cure: correct whichever of the three is wrong; the message gives all three.

    Source: rows divided by the row gauge; the trade counts 4 in as 10 cm. Up to two fifths more, or a third
    less, is let pass: edgings, hems and blocking are not reckoned.
    """

    rows: str
    where: str
    ours: str
    stated: str

    code = "length-differs"
    check = "C054"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"The {self.rows} rows of {self.where} are {self.ours} cm at the gauge, and the words say "
            f"{self.stated}."
        )

    def label(self) -> str:
        return f"{self.ours} cm at the gauge"

    def help(self) -> str | None:
        return "Correct the rows, the gauge or the length, whichever is mistyped."


@dataclass(frozen=True, slots=True)
class DepthDiffers(LengthDiffers):
    """A yoke, armhole or crown is not as deep by its rows as is stated.

    An armhole that is not as deep as promised binds or gapes, and the sleeve no longer fits it.

    Example: `Finished size: yoke depth 20 cm`, and a yoke of 96 rows at 30 rows in 10 cm. They are 32 cm.

    Cure: correct the rows, the row gauge or the depth.

    Source: rows divided by the row gauge, as for lengths.
    """

    code = "depth-differs"
    check = "C063"

    def help(self) -> str | None:
        return "Correct the rows, the gauge or the depth, whichever is mistyped."


# --- lengths of the header ----------------------------------------------------------------------

_DEPTHS = {"yoke", "armhole", "crown"}
_NAMES = {
    "sleeve": ("sleeve",),
    "yoke": ("yoke",),
    "thumb": ("thumb",),
    "pocket": ("pocket",),
    "crown": ("crown",),
}
_NEAR = 0.08
_LONG, _SHORT = 1.4, 0.65
_APART = 0.15
"""A size is off by more than this where the same rows give the length in all the others."""
_FOLDED = re.compile(
    r"\bfold|\bdoubled?\b(?![- ]?(?:pointed|point|knit))|\bhalves\b|\bgraft|\bend to end\b|\bboth ends\b",
    re.IGNORECASE,
)

_SIDEWAYS = re.compile(r"\bsideways|\bside to side|\bcuff to cuff|\bdolman", re.IGNORECASE)

Key = tuple[object, ...]


def _runs(cloth: Cloth, known: Sequence[Rate], *, folded: bool) -> dict[Key, float]:
    """Every length that following sections of a piece make, and widths of sideways work.

    folded : half of a length and twice a length count as well: the piece is folded, or two are sewn end to
    end.
    """
    out: dict[Key, float] = {}
    for r, rate in enumerate(known):
        for n in range(len(cloth.pieces)):
            mine = cloth.of_piece(n)
            sections = list(dict.fromkeys(s.section for s in mine))[:40]
            rows = [sum(s.rows + s.short for s in mine if s.section == name) for name in sections]
            for i in range(len(sections)):
                total = 0
                for j in range(i, len(sections)):
                    total += rows[j]
                    if rate.rows:
                        run = total / float(rate.rows)
                        out[r, n, sections[i], sections[j]] = run
                        if folded:
                            out["half", r, n, sections[i], sections[j]] = run / 2
                            out["twice", r, n, sections[i], sections[j]] = run * 2
            if rate.stitches and mine and not max(mine, key=lambda s: s.rows).ring:
                out[r, n, "sideways"] = max(s.count for s in mine) / float(rate.stitches)
    return out


def _fits(ours: float, wanted: float) -> bool:
    return abs(ours - wanted) <= max(1.0, wanted * _NEAR)


def told_by(m: Measure, cloth: Cloth) -> tuple[str, list[Stretch]] | None:
    """The rows that plainly make a length, and what to call them: a named part, or the only large piece."""
    names = _NAMES.get(m.part)
    if names is not None:
        for n, piece in enumerate(cloth.pieces):
            if any(w in piece.lower() for w in names):
                return piece, cloth.of_piece(n)
        inside = [s for s in cloth.stretches if any(w in s.section.lower() for w in names)]
        if inside and len({s.piece for s in inside}) == 1:
            return inside[0].section, inside
        return None
    if m.part or len(cloth.pieces) != 1:
        return None
    return "the piece", list(cloth.stretches)


def _may_be_of(m: Measure, cloth: Cloth, key: Key) -> bool:
    """Whether a run of sections can be what a length is of: with a part named, it begins or ends in that."""
    told = told_by(m, cloth) if m.part in _NAMES else None
    if told is None or key[-1] == "sideways":
        return True
    return not {s.section for s in told[1]}.isdisjoint(map(str, key[-2:]))


def _rows(stretches: Sequence[Stretch]) -> int:
    return sum(s.rows + s.short for s in stretches)


_PLAIN = {"stockinette", "rib"}


def _rate(subject: Subject, cloth: Cloth, stretches: Sequence[Stretch], large: Stretch) -> Rate | None:
    """The gauge whose rows all these rows have: of their own cloth, or plain with ribs in it."""
    whole = cloth.ground([e for s in stretches for e in s.entries])
    rate = rate_for(subject, whole, in_round=large.ring)
    if rate is not None and rate.sure:
        return rate
    plain = 0
    for s in stretches:
        if s.rows > 3:
            runs = [s.entries] if cloth.ground(s.entries) in _PLAIN else runs_of_a_line(s.entries)
            plain += sum(len(run) for run in runs if len(run) > 3 and cloth.ground(run) in _PLAIN)
    rate = rate_for(subject, "stockinette", in_round=large.ring)
    return rate if rate is not None and rate.sure and 3 * plain >= 2 * _rows(stretches) else None


def _off(m: Measure, cloth: Cloth, subject: Subject) -> tuple[str, int, Fraction] | None:
    """The rows that make a length in one size, where they make it far too long or too short; else None."""
    wanted = m.cm(cloth.size)
    told = told_by(m, cloth)
    if not wanted or told is None:
        return None
    where, stretches = told
    if any(s.short for s in stretches) or len(stretches) == 0:
        return None
    large = max(stretches, key=lambda s: s.rows)
    if 5 * sum(s.rows for s in stretches if s.count == large.count) < 2 * _rows(stretches):
        return None  # a triangle or a round: its length is not told from its rows alone
    rate = _rate(subject, cloth, stretches, large)
    if rate is None:
        return None
    rows = _rows(stretches)
    ours = rate.length_cm(rows)
    if ours is None:
        return None
    parts: dict[str, int] = {}
    for s in stretches:
        parts[s.section] = parts.get(s.section, 0) + s.rows
    most = rate.length_cm(max(parts.values())) or Fraction(0)
    if most > wanted * Fraction(_LONG) or ours < wanted * Fraction(_SHORT):
        return where, rows, ours
    return None


def _length(
    m: Measure, subject: Subject, problem: type[LengthDiffers | DepthDiffers]
) -> tuple[bool, Finding | None]:
    """Whether the rows give a length in every size, and the finding if they plainly do not."""
    known = [r for r in subject.kept(rates) if r.rows]
    folded = _FOLDED.search(subject.source.text) is not None
    near: list[set[Key]] = []
    off: list[tuple[Cloth, tuple[str, int, Fraction] | None]] = []
    for cloth in subject.kept(cloths):
        wanted = m.cm(cloth.size)
        if wanted:
            near.append(
                {
                    key
                    for key, ours in _runs(cloth, known, folded=folded).items()
                    if _fits(ours, float(wanted)) and _may_be_of(m, cloth, key)
                }
            )
            off.append((cloth, None if near[-1] else _off(m, cloth, subject)))
    if not near:
        return False, None
    if set.intersection(*near):
        return True, None
    wrong = [(cloth, told) for cloth, told in off if told is not None and not folded]
    alone = None if folded else _alone(m, [cloth for cloth, _ in off], subject)
    if alone is not None:
        wrong = [alone]
    elif not wrong or (
        len(wrong) < len(off) and (len(off) < 3 or len(wrong) > 1 or not _others_agree(near, off))
    ):
        return False, None
    rows = subject.by_size((cloth.way, told[1]) for cloth, told in wrong)
    cms = [f"{float(round(told[2] * 2) / 2):g}" for _, told in wrong]
    ours = cms[0] if len(set(cms)) == 1 else f"{cms[0]} ({', '.join(cms[1:])})"
    if len(wrong) < len(off):
        rows = str(wrong[0][1][1])
    values = [f"{float(v):g}" for v in m.amount.values if v is not None]
    if len(wrong) < len(off) and len(m.amount.values) > 1:
        values = [f"{float(m.amount.values[wrong[0][0].size] or 0):g}"]
    words = values[0] if len(values) == 1 else f"{values[0]} ({', '.join(values[1:])})"
    made = problem(rows, wrong[0][1][0], ours, f"{words} {m.amount.unit}")
    sizes = () if len(wrong) == len(off) else (wrong[0][0].way.size,)
    return True, Finding(problem=made, span=Span(*m.span), related=the_gauge(subject), sizes=sizes)


def _alone(
    m: Measure, told: Sequence[Cloth], subject: Subject
) -> tuple[Cloth, tuple[str, int, Fraction]] | None:
    """The one size in which the rows of the piece do not give a length that they give in all the others."""
    wrong: list[tuple[Cloth, tuple[str, int, Fraction]]] = []
    for cloth in told:
        named, wanted = told_by(m, cloth), m.cm(cloth.size)
        plain = _plain_rows(m, cloth, subject)
        if len(told) < 2 or plain is None or named is None or not wanted or len(m.amount.values) < 2:
            return None
        ours = float(plain[1])
        if not _fits(ours, float(wanted)):
            if abs(ours / float(wanted) - 1) <= _APART:
                return None
            wrong.append((cloth, (plain[0], _rows(named[1]), plain[1])))
    return wrong[0] if len(wrong) == 1 else None


def _others_agree(near: Sequence[set[Key]], off: Sequence[tuple[Cloth, object]]) -> bool:
    """Whether one run of rows gives the length in every size in which nothing is wrong."""
    right = [keys for keys, (_, told) in zip(near, off, strict=True) if told is None]
    return bool(right) and bool(set.intersection(*right))


def _judge(
    subject: Subject, targets: Sequence[Measure], problem: type[LengthDiffers | DepthDiffers]
) -> Answer:
    if not targets:
        return Answer()
    if not any(r.rows for r in subject.kept(rates)):
        return Answer(missing="a gauge with rows")
    if not all(c.sure for c in subject.kept(cloths)):
        return Answer(missing=not_read(subject) or "rows that come out as written")
    codes = {f.code for f in subject.findings}
    if "length-left-to-knitter" in codes:
        return Answer(missing="a length that is left to the knitter")
    if codes & {"length-passed", "shaping-does-not-fit", "too-much-knitting"}:
        return Answer(missing="rows that stop at the lengths they wait for")
    places, findings = 0, []
    missing = None
    for m in targets:
        told, finding = _length(m, subject, problem)
        places += told
        if finding is not None and misshapen(subject):
            return Answer(places=places, fails=True)
        findings += [finding] if finding is not None else []
        if not told and missing is None:
            missing = f"which rows make the length of line {m.line}"
    return Answer(places=places, findings=tuple(findings), missing=missing)


def _finished_length(m: Measure) -> bool:
    return m.source is Said.FINISHED and m.way == "length" and m.agrees and not SLANTED.search(m.words)


def judge_lengths(subject: Subject) -> Answer:
    """C054: the lengths of the header, and rows printed beside a length."""
    found = subject.kept(stated)
    if not found:
        return Answer()
    targets = [
        m for m in found
        if _finished_length(m) and m.part not in _DEPTHS
    ]  # fmt: skip
    header = _judge(subject, targets, LengthDiffers)
    pairs, wrong = row_pairs(subject, found)
    return Answer(
        places=header.places + pairs,
        fails=header.fails,
        findings=(*header.findings, *wrong),
        missing=header.missing,
    )


def judge_depths(subject: Subject) -> Answer:
    """C063."""
    targets = [
        m for m in subject.kept(stated)
        if _finished_length(m) and m.part in _DEPTHS
    ]  # fmt: skip
    return _judge(subject, targets, DepthDiffers)


def lengths_beside(subject: Subject) -> list[Beside]:
    """Each stated length or depth beside the rows that come nearest to it in all sizes together.

    Where none come near in every size, beside those that plainly make it; else beside nothing.
    """
    if not all(c.sure for c in subject.kept(cloths)):
        return []
    known = [r for r in subject.kept(rates) if r.rows]
    folded = _FOLDED.search(subject.source.text) is not None
    out = []
    for m in (m for m in subject.kept(stated) if _finished_length(m)):
        told = [(cloth, wanted) for cloth in subject.kept(cloths) if (wanted := m.cm(cloth.size))]
        if not told:
            continue
        runs = [_runs(cloth, known, folded=folded) for cloth, _ in told]
        near = [
            {key for key, ours in found.items() if _fits(ours, float(wanted))}
            for found, (_, wanted) in zip(runs, told, strict=True)
        ]
        ours: list[Fraction | None]
        made_of = ""
        if set.intersection(*near):
            every = set.intersection(*near)
            key = min(_upright(every, subject, told) or every, key=lambda k: _rank(k, m, runs, told))
            ours = [Fraction(run[key]).limit_denominator(100) for run in runs]
            made_of = _made_of(key)
        else:
            plain = [_plain_rows(m, cloth, subject) for cloth, _ in told]
            ours = [None if one is None else one[1] for one in plain]
            made_of = next((f"the rows of {one[0]}" for one in plain if one is not None), "")
        sizes = tuple(
            InSize(size=cloth.way.size, stated_cm=wanted, ours_cm=cm)
            for (cloth, wanted), cm in zip(told, ours, strict=True)
        )
        out.append(Beside(words=m.words, span=m.span, line=m.line, made_of=made_of, sizes=sizes))
    return out


def _upright(keys: set[Key], subject: Subject, told: Sequence[tuple[Cloth, Fraction]]) -> set[Key]:
    """Of what comes near, the rows alone, where nothing says that the work goes sideways.

    The width of a square in stitches is as long as the square, and tells nothing of its rows.
    """
    turned = any(s.short for cloth, _ in told for s in cloth.stretches)
    if turned or _SIDEWAYS.search(subject.source.text):
        return keys
    return {key for key in keys if key[-1] != "sideways"}


def _rank(
    key: Key, m: Measure, runs: Sequence[dict[Key, float]], told: Sequence[tuple[Cloth, Fraction]]
) -> tuple[int, float, str]:
    """First what bears the same name as a length, then what is nearest to it."""
    off = max(abs(run[key] / float(wanted) - 1) for run, (_, wanted) in zip(runs, told, strict=True))
    return -shared_words(m.words, map(str, key[-2:])), off, str(key)


def _plain_rows(m: Measure, cloth: Cloth, subject: Subject) -> tuple[str, Fraction] | None:
    """What the rows that plainly make a length come to; None where that is not known."""
    told = told_by(m, cloth)
    if told is None or not told[1] or any(s.short for s in told[1]):
        return None
    rate = _rate(subject, cloth, told[1], max(told[1], key=lambda s: s.rows))
    ours = None if rate is None else rate.length_cm(_rows(told[1]))
    return None if ours is None else (told[0], ours)


def _made_of(key: Key) -> str:
    """What makes a length: "the rows of Yoke to Body"."""
    if key[-1] == "sideways":
        return "the stitches, knitted sideways"
    first, last = (str(part) or "the piece" for part in key[-2:])
    lead = {"half": "half ", "twice": "twice "}.get(str(key[0]), "")
    return f"{lead}the rows of {first if first == last else f'{first} to {last}'}"


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C054": judge_lengths, "C063": judge_depths}
