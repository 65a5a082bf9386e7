"""Check C053: the stitches, at the gauge, give each stated width.

In: a subject. Out: a finding where a width can be told from the stitches and is another. Lengths are left
to ``lengths``. A width is told from stitches if one stretch of the knitting, one or two of them side by
side, or the rows of work that goes sideways come near it in every size; nothing is said of a width that no
stretch plainly makes.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from purlwright.findings import Finding, Related, Severity
from purlwright.proof.answer import Answer, not_read
from purlwright.proof.beside import Beside, InSize, shared_words
from purlwright.proof.gauges import misshapen
from purlwright.proof.measures import Measure, Said, stated
from purlwright.proof.rates import Rate, rate_for, rates
from purlwright.proof.stretches import Cloth, Stretch, cloths, runs_of_a_line
from purlwright.proof.subject import Subject
from purlwright.proof.width_causes import Blame, Words, to_blame
from purlwright.text import Span

__all__ = ["JUDGES", "WidthDiffers", "widths_beside"]


@dataclass(frozen=True, slots=True)
class WidthDiffers:
    """The stitches at the gauge do not give the width that is stated.

    The piece comes out another size than the sheet promises. Mostly a figure of the gauge, the cast-on or the
    width itself is mistyped.

    Example: `Gauge: 20 sts = 10 cm`, `Finished size: 56 cm round`, and `Cast on 88 sts.` 88 stitches are 44
    cm.

    Cure: correct whichever of the three is wrong; the message gives all three.

    Source: stitches divided by the gauge; the trade counts 4 in as 10 cm. Less than an eighth off is let
    pass.
    """

    stitches: str
    ours: str
    stated: str

    code = "width-differs"
    check = "C053"
    severity = Severity.WARNING

    def message(self) -> str:
        return f"{self.stitches} sts are {self.ours} cm wide at the gauge, and the words say {self.stated}."

    def label(self) -> str:
        return f"{self.ours} cm at the gauge"

    def help(self) -> str | None:
        return "Correct the stitches, the gauge or the width, whichever is mistyped."


_NEAR = 0.06
"""A width this near (and 1 cm) is the stretch's own: seams, rounding to whole repeats, and edges."""
_FAR = 0.125
_AS_YOU_GO = re.compile(r"\b(?:until|till|for|every|work|apart|tail)\b", re.IGNORECASE)
_OF_PIECE = re.compile(
    r"\b(?:piece|work|knitting|strip|squares?|cloth|scarf|blanket|swatch|it)\b[^.;]{0,40}\b(?:is|are|measures?|be)\b",
    re.IGNORECASE,
)
_WORDS_OF_PARTS = {"neck": ("neck", "collar"), "wrist": ("cuff", "wrist"), "upper arm": ("sleeve",)}
_NAMED_PARTS = {"pocket", "sleeve", "thumb", "neck", "wrist", "upper arm", "heel", "back"}
_FLAT_PARTS = {"pocket", "back", "sleeve", "upper arm"}
"""Pieces knitted upwards and worn as they are: their width is neither doubled nor made by rows."""
_SIDEWAYS = re.compile(r"\bsideways|\bside to side|\bcuff to cuff|\bdolman", re.IGNORECASE)


def _targets(subject: Subject) -> list[Measure]:
    """The stated widths: those of the header, and those that a section gives of its own piece."""
    out = []
    for m in subject.kept(stated):
        wide = m.way in {"round", "width", "square"}
        here = m.way == "width" and m.source is Said.TEXT and _OF_PIECE.search(m.words) is not None
        here = here and not _AS_YOU_GO.search(m.words)
        if m.agrees and ((wide and m.source is Said.FINISHED) or here):
            out.append(m)
    return out


def _pieces_for(m: Measure, cloth: Cloth) -> set[int]:
    """The pieces that a measure can be of: those that its part names, or knitted in its section; else all."""
    every = set(range(len(cloth.pieces)))
    if m.source is Said.TEXT:
        return set(sorted(s.piece for s in cloth.stretches if s.section.startswith(m.section))[:1])
    if m.part in _NAMED_PARTS:
        words = _WORDS_OF_PARTS.get(m.part, (m.part,))
        return {n for n in every if any(w in cloth.pieces[n].lower() for w in words)} or every
    return every


# --- what makes a width -------------------------------------------------------------------------

Key = tuple[object, ...]


def _candidates(
    cloth: Cloth, pieces: set[int], known: Sequence[Rate], *, flat: bool
) -> Iterator[tuple[Key, float]]:
    """Every width that some stretch makes: alone, doubled, with another piece, and the rows of sideways work.

    flat : one piece by itself, neither doubled nor sideways.
    """
    counts: dict[int, list[Stretch]] = {}
    for s in cloth.stretches:
        if s.piece in pieces and s.count and (s.rows > 1 or len(s.entries) > s.rows):
            counts.setdefault(s.piece, []).append(s)
    for r, rate in enumerate(known):
        if rate.stitches:
            per = float(rate.stitches)
            for found in counts.values():
                for s in found:
                    yield (r, 1, s.key), s.count / per
                    if not s.ring and not flat:
                        yield (r, 2, s.key), 2 * s.count / per
            if flat:
                continue
            widest = [max(found, key=lambda s: s.count) for found in counts.values()][:8]
            for i, a in enumerate(widest):
                for b in widest[i + 1 :]:
                    yield (r, "and", a.key, b.key), (a.count + b.count) / per
                    yield (r, "and two", a.key, b.key), (a.count + 2 * b.count) / per
                    yield (r, "two and", a.key, b.key), (2 * a.count + b.count) / per
        if rate.rows and not flat:
            for n, found in counts.items():
                if max(found, key=lambda s: s.rows).ring:
                    continue  # the rows of a tube are its length
                total = 0
                for section in dict.fromkeys(s.section for s in cloth.of_piece(n)):
                    rows = sum(s.rows + s.short for s in cloth.of_piece(n) if s.section == section)
                    total += rows
                    for many in (1, 2):
                        yield (r, "rows", n, section, many), many * rows / float(rate.rows)
                        yield (r, "rows so far", n, section, many), many * total / float(rate.rows)


def _fits(ours: float, wanted: float, share: float) -> bool:
    return abs(ours - wanted) <= max(1.0, wanted * share)


@dataclass(slots=True)
class _Told:
    """One stated width in one size, and the candidates that come near it."""

    cloth: Cloth
    wanted: float
    all: dict[Key, float]
    near: set[Key]


def _told(m: Measure, subject: Subject) -> list[_Told]:
    known = [r for r in subject.kept(rates) if r.stitches or r.rows]
    share = _NEAR * (2 if m.about else 1)
    out = []
    for cloth in subject.kept(cloths):
        wanted = m.cm(cloth.size)
        if wanted:
            pieces = _pieces_for(m, cloth)
            flat = m.part in _FLAT_PARTS and len(pieces) < len(cloth.pieces)
            flat = flat and _SIDEWAYS.search(subject.low) is None
            found = dict(_candidates(cloth, pieces, known, flat=flat))
            near = {key for key, ours in found.items() if _fits(ours, float(wanted), share)}
            out.append(_Told(cloth, float(wanted), found, near))
    return out


# --- what is wrong ------------------------------------------------------------------------------


def _main(cloth: Cloth, pieces: set[int], *, named: bool) -> Stretch | None:
    """The stretch that plainly makes the width: half the rows of the one large piece stand on it.

    None if the piece has no such stretch, or if there is a second piece half as large. named : the pieces are
    those that the measure names, and the same one made again is no second piece.
    """
    area = {n: sum(s.count * s.rows for s in cloth.of_piece(n)) for n in pieces}
    if not area:
        return None
    best = max(area, key=lambda n: area[n])
    shape = _shape(cloth, best)
    again = {n for n in pieces if named and _shape(cloth, n) == shape}
    if any(n != best and n not in again and 2 * a > area[best] for n, a in area.items()):
        return None
    by_count: dict[int, list[Stretch]] = {}
    for s in cloth.of_piece(best):
        by_count.setdefault(s.count, []).append(s)
        if s.short:
            return None
    if not by_count:
        return None
    rows = {n: sum(s.rows for s in found) for n, found in by_count.items()}
    count = max(rows, key=lambda n: rows[n])
    if 2 * rows[count] < sum(rows.values()) or count != max(rows) or rows[count] < 6:
        return None
    return max(by_count[count], key=lambda s: s.rows)


def _shape(cloth: Cloth, piece: int) -> list[tuple[int, int, int]]:
    return [(s.line, s.count, s.rows) for s in cloth.of_piece(piece)]


def _named(m: Measure, cloth: Cloth, pieces: set[int]) -> bool:
    """Whether each of the pieces bears the name of the measured part."""
    words = _WORDS_OF_PARTS.get(m.part, (m.part,))
    return m.part in _NAMED_PARTS and all(any(w in cloth.pieces[n].lower() for w in words) for n in pieces)


def _sure_rate(subject: Subject, cloth: Cloth, stretch: Stretch) -> Rate | None:
    """The gauge of the cloth that the stretch is, or that half of its rows at least are."""
    for rows in (stretch.entries, max(runs_of_a_line(stretch.entries), key=len)):
        rate = rate_for(subject, cloth.ground(rows), in_round=stretch.ring)
        if 2 * len(rows) >= len(stretch.entries) and rate is not None and rate.sure and rate.stitches:
            return rate
    return None


def _made_more_than_twice(subject: Subject) -> bool:
    """Whether pieces are made and joined, so that a width may be of many of them."""
    return subject.pattern.header.make > 2 or _MANY.search(subject.source.text) is not None


_MANY = re.compile(
    r"\b(?:squares|blocks|strips|panels|motifs|modules|mitred|mitered"
    r"|make (?:[3-9]|\d\d|three|four|five|six|eight))\b",
    re.IGNORECASE,
)


def _wrong_everywhere(m: Measure, told: Sequence[_Told], subject: Subject) -> Finding | None:
    """No size's stitches come near: said if one stretch plainly makes the width, at its own cloth's gauge."""
    if any(ours for t in told for ours in t.all.values() if _fits(ours, t.wanted, _FAR)):
        return None
    if m.source is Said.FINISHED and _made_more_than_twice(subject):
        return None
    sizes: list[Blame] = []
    for t in told:
        pieces = _pieces_for(m, t.cloth)
        main = _main(t.cloth, pieces, named=_named(m, t.cloth, pieces))
        rate = _sure_rate(subject, t.cloth, main) if main is not None else None
        if main is None or rate is None or (m.way == "round" and not main.ring and m.source is Said.TEXT):
            return None
        sizes.append(Blame(t.cloth, main, rate, t.wanted))
    if not sizes:
        return None
    counts = subject.by_size((b.cloth.way, b.main.count) for b in sizes)
    ours = _halves([(b.cloth.way, _rounded(b.rate.width_cm(b.main.count))) for b in sizes])
    words = Words(counts, ours, _stated(m))
    return to_blame(subject, sizes, words, _finding(m, *words, sizes[0].main, subject))


def _rounded(cm: Fraction | None) -> Fraction:
    return Fraction(round((cm or Fraction(0)) * 2), 2)


def _halves(widths: Sequence[tuple[object, Fraction]]) -> str:
    words = [f"{float(w):g}" for _, w in widths]
    return words[0] if len(set(words)) == 1 else f"{words[0]} ({', '.join(words[1:])})"


def _stated(m: Measure) -> str:
    values = [f"{float(v):g}" if v is not None else "-" for v in m.amount.values]
    head = values[0] if len(values) == 1 else f"{values[0]} ({', '.join(values[1:])})"
    return f"{head} {m.amount.unit}"


_EXACT = 0.015
_BESIDE = 0.05


def _one_size_beside(m: Measure, told: Sequence[_Told], subject: Subject) -> Finding | None:
    """The same stretch gives the width of every size but one to the half centimetre, and of that one it is a
    twentieth or more off; with the width that the stitches give, the sizes step more evenly.
    """
    if len(told) < 3 or m.about or len(m.amount.values) < len(told):
        return None
    found: dict[int, Key] = {}
    for key in set.intersection(*(set(t.all) for t in told)):
        if key[1] not in {1, 2}:
            continue
        off = [n for n, t in enumerate(told) if abs(t.all[key] - t.wanted) > max(0.5, _EXACT * t.wanted)]
        if not off:
            return None
        if len(off) == 1 and abs(told[off[0]].all[key] - told[off[0]].wanted) > _BESIDE * told[off[0]].wanted:
            found[off[0]] = min(found.get(off[0], key), key, key=str)
    if len(found) != 1:
        return None
    ((n, key),) = found.items()
    printed = [t.wanted for t in told]
    knitted = [*printed[:n], told[n].all[key], *printed[n + 1 :]]
    if abs(knitted[n] - printed[n]) < 1.5 or 2 * _unevenness(knitted) > _unevenness(printed):
        return None
    return _of_one_size(m, told[n], key, subject)


def _unevenness(widths: Sequence[float]) -> float:
    """How much the steps from size to size differ among themselves."""
    steps = [b - a for a, b in pairwise(widths)]
    return max(steps) - min(steps)


def _one_size_out(m: Measure, told: Sequence[_Told], subject: Subject) -> Finding | None:
    """The same stretch gives the width in every size but one, and in that one nothing does."""
    out = [t for t in told if not any(_fits(ours, t.wanted, _FAR) for ours in t.all.values())]
    if len(told) < 3 or len(out) != 1:
        return None
    (odd,) = out
    shared = set.intersection(*(t.near for t in told if t is not odd)) & odd.all.keys()
    plain = sorted((key for key in shared if key[1] in {1, 2}), key=str)
    if not plain:
        return None
    return _of_one_size(m, odd, plain[0], subject)


def _of_one_size(m: Measure, odd: _Told, key: Key, subject: Subject) -> Finding | None:
    """What is said of the one size whose stretch ``key`` gives another width than is stated."""
    stretch = next((s for s in odd.cloth.stretches if s.key == key[2]), None)
    if stretch is None:
        return None
    ours = Fraction(round(odd.all[key] * 2), 2)
    printed = m.amount.values[odd.cloth.size] if len(m.amount.values) > 1 else m.amount.values[0]
    words = f"{float(printed or 0):g} {m.amount.unit}"
    found = _finding(m, str(stretch.count * int(str(key[1]))), f"{float(ours):g}", words, stretch, subject)
    return Finding(problem=found.problem, span=found.span, related=found.related, sizes=(odd.cloth.way.size,))


def _finding(m: Measure, counts: str, ours: str, words: str, stretch: Stretch, subject: Subject) -> Finding:
    entry = stretch.entries[0]
    related = [Related(entry.span, f"{entry.end} sts here")] if entry.span.end >= 0 else []
    gauges = subject.pattern.header.gauges
    related += [Related(g.span, "the gauge") for g in gauges[:1]]
    return Finding(problem=WidthDiffers(counts, ours, words), span=Span(*m.span), related=tuple(related))


def judge_widths(subject: Subject) -> Answer:
    """C053."""
    targets = _targets(subject)
    if not targets:
        return Answer()
    if not any(r.stitches for r in subject.kept(rates)):
        return Answer(missing="a gauge with stitches")
    if not all(c.sure for c in subject.kept(cloths)):
        return Answer(missing=not_read(subject) or "rows that come out as written")
    places = 0
    findings: list[Finding] = []
    open_lines: list[int] = []
    for m in targets:
        told = _told(m, subject)
        wrong = _one_size_beside(m, told, subject)
        if wrong is None and told and set.intersection(*(t.near for t in told)):
            places += 1
            continue
        if wrong is None and not all(t.near for t in told):
            wrong = _wrong_everywhere(m, told, subject) or _one_size_out(m, told, subject)
        if wrong is not None:
            places += 1
            if misshapen(subject):
                return Answer(places=places, fails=True)
            if not any(f.span == wrong.span and f.code == wrong.code for f in findings):
                findings.append(wrong)
        elif m.source is Said.FINISHED:
            open_lines.append(m.line)
    missing = None
    if open_lines:
        missing = f"which stitches make the width of line {open_lines[0]}"
    return Answer(places=places, findings=tuple(findings), missing=missing)


# --- beside what is stated ------------------------------------------------------------------------


def widths_beside(subject: Subject) -> list[Beside]:
    """Each stated width beside the stitches that come nearest to it in all sizes together.

    Where none comes near in every size, beside those that plainly make it; else beside nothing.
    """
    if not all(c.sure for c in subject.kept(cloths)):
        return []
    out = []
    for m in _targets(subject):
        told = _told(m, subject)
        if not told:
            continue
        near = set.intersection(*(t.near for t in told))
        if near:
            key = min(near, key=lambda k: _rank(k, m, told))
            ours: list[Fraction | None] | None = [Fraction(t.all[key]).limit_denominator(100) for t in told]
            made_of = _made_of(key, [t.cloth for t in told])
        else:
            ours, made_of = _plainly(m, told, subject)
        sizes = tuple(
            InSize(size=t.cloth.way.size, stated_cm=Fraction(t.wanted).limit_denominator(100), ours_cm=cm)
            for t, cm in zip(told, ours or [None] * len(told), strict=True)
        )
        out.append(Beside(words=m.words, span=m.span, line=m.line, made_of=made_of, sizes=sizes))
    return out


def _rank(key: Key, m: Measure, told: Sequence[_Told]) -> tuple[bool, int, float, str]:
    """First one stretch by itself, then what bears the same name as a width, then what is nearest to it."""
    headings = [s.section for s in told[0].cloth.stretches if s.key in key[2:]]
    off = max(abs(t.all[key] / t.wanted - 1) for t in told)
    return key[1] not in {1, 2}, -shared_words(m.words, headings), off, str(key)


def _plainly(m: Measure, told: Sequence[_Told], subject: Subject) -> tuple[list[Fraction | None] | None, str]:
    ours: list[Fraction | None] = []
    made_of = ""
    for t in told:
        pieces = _pieces_for(m, t.cloth)
        main = _main(t.cloth, pieces, named=_named(m, t.cloth, pieces))
        rate = _sure_rate(subject, t.cloth, main) if main is not None else None
        if main is None or rate is None:
            return None, ""
        ours.append(rate.width_cm(main.count))
        made_of = made_of or _made_of((0, 1, main.key), [t.cloth])
    return ours, made_of


def _made_of(key: Key, all_: Sequence[Cloth]) -> str:
    """What makes a width: "88 (96, 104) sts of Body", "twice 44 sts of Back", "the rows of Wedge"."""
    if key[1] in {"rows", "rows so far"}:
        return f"the rows {'of' if key[1] == 'rows' else 'up to the end of'} {key[3] or 'the piece'}"
    found = [[s for s in cloth.stretches if s.key in key[2:]] for cloth in all_]
    if key[1] not in {1, 2}:
        return " and ".join(dict.fromkeys(s.section or "the piece" for s in found[0]))
    counts = [str(f[0].count) for f in found if f]
    many = counts[0] if len(set(counts)) == 1 else f"{counts[0]} ({', '.join(counts[1:])})"
    where = found[0][0].section
    return f"{'twice ' if key[1] == 2 else ''}{many} sts{f' of {where}' if where else ''}"


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C053": judge_widths}
