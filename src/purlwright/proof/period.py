"""Family H, the design's own period: the row that breaks the rule which the rows round it obey (C087).

In: the texture of the rows of each section. Out: findings on a lace row with a yarn over and its decrease
both missing, on operations one stitch off the line they follow, and on a row unlike the others it should
repeat. Every count is right in all of these. A rule counts as one when it is obeyed at least three times
elsewhere and broken once.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from purlwright.findings import Finding, Related, Severity
from purlwright.pattern import tree
from purlwright.proof.answer import Answer, not_read, of_the_work
from purlwright.proof.columns import column_faults
from purlwright.proof.comes_round import unlike_rows
from purlwright.proof.drawn import blocks
from purlwright.proof.faces import face_faults
from purlwright.proof.jumps import place_faults
from purlwright.proof.lines_up import aside_faults
from purlwright.proof.mirror import edge_faults
from purlwright.proof.row_rhythm import rhythm_faults
from purlwright.proof.stacking import stacking_faults
from purlwright.proof.subject import Subject
from purlwright.proof.swallowed import swallowed_faults
from purlwright.proof.texture import Look, Worked, label_of, looks, names, seen_from_right, tile_of

__all__ = ["JUDGES", "LacePairMissing", "OffTheLine", "find_period"]


@dataclass(frozen=True, slots=True)
class LacePairMissing:
    """A lace row lacks a yarn over and its decrease where the rows before and after have them.

    The count is right without the pair, so nothing stops the knitter; a hole is missing in every repeat, and
    she sees it some rows later.

    Example: rows 1, 3, 7 and 9 have four holes to the repeat, each one stitch further on; row 5 has three.

    Cure: give the yarn over and the decrease back to the row. (Common practice; no source.)
    """

    row: str
    like: str
    many: int

    code = "lace-pair-missing"
    check = "C087"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"{self.row} has no yarn over and decrease where {self.like} have them; "
            "the count is right all the same."
        )

    def label(self) -> str:
        return "a pair is missing"

    def help(self) -> str | None:
        where = f" after stitch {self.many} of the row" if self.many else ""
        return f"Give the yarn over and its decrease back{where}."


@dataclass(frozen=True, slots=True)
class OffTheLine:
    """A yarn over, decrease or crossing stands a stitch or two off the line that it follows in other rows.

    Two words changed places ("k1, yo" for "yo, k1") or a number is one out at both ends. The count is right,
    and the line of holes or the cable has a kink.

    Example: the holes of rows 1, 3, 7 and 9 lie one stitch further each time; row 5 has them where row 3 has.

    Cure: move it back to the line, or say that the kink is meant. (Common practice; no source.)
    """

    row: str
    like: str
    found: int
    wanted: int
    across: str

    code = "off-the-line"
    check = "C087"
    severity = Severity.WARNING

    def message(self) -> str:
        by = abs(self.found - self.wanted)
        off = "one stitch" if by == 1 else f"{by} stitches"
        return (
            f"{self.row} has this after stitch {self.found} of the {self.across}; by the line of "
            f"{self.like} it "
            f"belongs after stitch {self.wanted}, {off} {'earlier' if self.found > self.wanted else 'later'}."
        )

    def label(self) -> str:
        return "off the line"

    def help(self) -> str | None:
        return "Look whether two stitches, or two numbers, have changed places here."


# --- lines of holes down the rows -------------------------------------------------------------------------


class _Mark(NamedTuple):
    look: Look
    at: int


class _Odd(NamedTuple):
    """The row that breaks the rule: its place among the rows, what is missing there and what stands there."""

    row: int
    missing: tuple[_Mark, ...]
    extra: tuple[_Mark, ...]
    like: tuple[int, ...]


MOST_SHIFT = 3
"""A line of lace or a cable moves by no more stitches from one pattern row to the next."""
MOST_ROWS = 400


@lru_cache(maxsize=512)
def _odd_row(rows: tuple[frozenset[_Mark], ...], width: int) -> _Odd | None:
    """The one row whose marks leave the lines that the others keep; None if there is none, or several.

    width : stitches of the repeat, by which places are counted round; 0 if there is none.
    """
    found = []
    for k in range(1, len(rows) - 1):
        odd = _judge_row(rows, k, width)
        if odd is not None:
            found.append(odd)
    return found[0] if len(found) == 1 else None


def _judge_row(rows: tuple[frozenset[_Mark], ...], k: int, width: int) -> _Odd | None:
    here = rows[k]
    predicted: dict[_Mark, set[int]] = {}
    for f in rows[k - 1]:
        for g in rows[k + 1]:
            if f.look != g.look:
                continue
            apart = g.at - f.at
            if width:
                apart = (apart + width // 2) % width - width // 2
            if apart % 2 or abs(apart) > 2 * MOST_SHIFT:
                continue
            on = _on_line(rows, k, f, apart // 2, width)
            if len(on) >= 3:
                at = f.at + apart // 2
                predicted.setdefault(_Mark(f.look, at % width if width else at), set()).update(on)
    missing = tuple(sorted(m for m in predicted if m not in here))
    extra = tuple(sorted(m for m in here if m not in predicted))
    if not missing or not _weighty(missing, predicted):
        return None
    like = tuple(sorted(set().union(*(predicted[m] for m in missing))))
    odd = _Odd(k, missing, extra, like)
    return odd if _pair_missing(odd, here) or _moved(odd, width) else None


def _on_line(rows: tuple[frozenset[_Mark], ...], k: int, f: _Mark, step: int, width: int) -> set[int]:
    """The rows about ``k`` that keep the line through ``f`` of the row before, as far as they do so
    unbroken.
    """
    on = {k - 1, k + 1}
    for way in (-1, 1):
        n = k + 2 * way
        while 0 <= n < len(rows):
            at = f.at + step * (n - k + 1)
            if _Mark(f.look, at % width if width else at) not in rows[n]:
                break
            on.add(n)
            n += way
    return on


def _weighty(missing: Sequence[_Mark], predicted: Mapping[_Mark, set[int]]) -> bool:
    """Whether the rule is obeyed often enough: a line of four rows, or two lines of three."""
    return len(missing) > 1 or all(len(predicted[m]) >= 4 for m in missing)


def _pair_missing(odd: _Odd, here: frozenset[_Mark]) -> bool:
    """A yarn over and a decrease are gone, and all else that the row has is where it belongs."""
    net = [m.look.makes - m.look.takes for m in odd.missing]
    return bool(here) and not odd.extra and len(odd.missing) in {2, 3} and sum(net) == 0 and min(net) < 0


def _moved(odd: _Odd, width: int) -> bool:
    """Everything missing stands one stitch away, or two, and nothing else is new."""
    return len(odd.missing) == len(odd.extra) <= 2 and bool(_moves(odd, width))


def _moves(odd: _Odd, width: int) -> list[tuple[_Mark, _Mark]]:
    """Each mark where it should be, and where it is; empty if they do not pair."""
    left = list(odd.extra)
    pairs = []
    for m in odd.missing:
        near = [x for x in left if x.look == m.look and 0 < _apart(x.at, m.at, width) <= 1]
        if not near:
            return []
        left.remove(near[0])
        pairs.append((m, near[0]))
    return pairs


def _apart(a: int, b: int, width: int) -> int:
    d = abs(a - b)
    return min(d, width - d) if width else d


@lru_cache(maxsize=2048)
def _marks(key: bytes, back: bool, at: int, last: int, width: int) -> frozenset[_Mark]:
    """The marks of one repeat, or of the whole row when ``width`` is 0, by place as the right side shows
    it.
    """
    ops = seen_from_right(key, back)
    if not width:
        return frozenset(_Mark(op.look, op.at) for op in ops)
    return frozenset(_Mark(op.look, op.at % width) for op in ops if at <= op.place < last)


def _lace_rows(rows: Sequence[Worked]) -> list[tuple[int, list[Worked]]]:
    """Stretches of rows with something in them and one width of repeat, the plain rows between left out.

    Rows without a repeat go together if the count of stitches stays.
    """
    out: list[tuple[int, list[Worked]]] = []
    before: tuple[int, int] | None = None
    for row in rows:
        if not seen_from_right(row.key, row.back):
            continue
        tile = tile_of(row)
        steady = row.entry.made == row.entry.lost
        kind = (
            (tile.width, 0) if tile is not None else (0, row.entry.start if steady else -1 - row.entry.order)
        )
        if kind == before:
            out[-1][1].append(row)
        else:
            out.append((kind[0], [row]))
        before = kind
    return out


def _marks_of(row: Worked) -> frozenset[_Mark]:
    tile = tile_of(row)
    if tile is None:
        return _marks(row.key, row.back, 0, 0, 0)
    return _marks(row.key, row.back, tile.first, tile.last, tile.width)


def _off_lines(rows: Sequence[Worked]) -> list[Finding]:
    out = []
    for width, lace in _lace_rows(rows):
        if not 4 <= len(lace) <= MOST_ROWS:
            continue
        odd = _odd_row(tuple(_marks_of(row) for row in lace), width)
        if odd is None:
            out += _short_of_a_pair(lace)
            continue
        row = lace[odd.row]
        like = names([lace[n] for n in odd.like])
        related = [Related(label_of(lace[n]), "keeps the rule") for n in odd.like[:2]]
        if not odd.extra:
            over = min(odd.missing, key=lambda m: m.look.takes)
            place = _place_near(row, over.at, width)
            problem: LacePairMissing | OffTheLine = LacePairMissing(
                row.name, like, looks(row.key)[place].at if place is not None else 0
            )
            span = row.entry.span
        else:
            wanted, found = _moves(odd, width)[0]
            place = _place_of(row, found, width)
            if place is None:
                continue
            shift = (wanted.at - found.at + 1) % width - 1 if width else wanted.at - found.at
            shift = -shift if row.back else shift
            tile = tile_of(row)
            stands = looks(row.key)[place].at - (tile.at if tile is not None else 0)
            across = "repeat" if width else "row"
            problem = OffTheLine(row.name, like, stands, stands + shift, across)
            span = row.words(place)
        out.append(Finding(problem=problem, span=span, related=tuple(related)))
    return out


def _short_of_a_pair(lace: Sequence[Worked]) -> list[Finding]:
    """The one row, of five or more, that has a yarn over and a decrease less than every other row."""
    if len(lace) < 5:
        return []
    sorts = [tuple(sorted(Counter(m.look for m in _marks_of(row)).items())) for row in lace]
    (most, times), *others = Counter(sorts).most_common()
    if times != len(lace) - 1 or len({row.key for row in lace}) < 4:
        return []
    n = sorts.index(others[0][0])
    gone, more = Counter(dict(most)) - Counter(dict(sorts[n])), Counter(dict(sorts[n])) - Counter(dict(most))
    net = [look.makes - look.takes for look in gone.elements()]
    if n in {0, len(lace) - 1} or more or sorted(net) != [-1, 1] or not sorts[n]:
        return []
    like = [row for i, row in enumerate(lace) if i != n]
    related = tuple(Related(label_of(row), "has the pair") for row in like[:2])
    return [
        Finding(
            problem=LacePairMissing(lace[n].name, names(like), 0), span=lace[n].entry.span, related=related
        )
    ]


def _place_of(row: Worked, mark: _Mark, width: int) -> int | None:
    """Which operation of the row a mark is; of a repeat, that of its first working."""
    tile = tile_of(row)
    for op in seen_from_right(row.key, row.back):
        if op.look == mark.look and (op.at % width if width else op.at) == mark.at:
            if tile is None or tile.first <= op.place < tile.last:
                return op.place
    return None


def _place_near(row: Worked, at: int, width: int) -> int | None:
    """The operation of the row that stands where a mark should."""
    if row.back:
        return None
    tile = tile_of(row)
    return next(
        (
            op.place
            for op in looks(row.key)
            if (op.at % width if width else op.at) == at and (tile is None or op.place >= tile.first)
        ),
        None,
    )


def judge_period(subject: Subject) -> Answer:
    """C087: places are the lace rows looked at.

    What a row shows is asked only where no other rule of rows, and none of edges, has found its slip.
    """
    answer = subject.period
    if answer.findings or _edges_amiss(subject):
        return answer
    found = stacking_faults(subject) or list(swallowed_faults(subject)) or face_faults(subject)
    found = found or rhythm_faults(subject)
    return answer._replace(findings=tuple(found))


def _edges_amiss(subject: Subject) -> bool:
    """Whether the edges of some rows have a rule that one of them breaks."""
    if subject.of_work(_edges_amiss, tree.Call):
        return False
    for rows, knitted in zip(blocks(subject), subject.knitted_blocks, strict=True):
        if knitted is not None and subject.of_rows(_edges_amiss, knitted) is not None:
            continue
        if edge_faults(rows):
            return True
        if knitted is not None:
            subject.keep_of_rows(_edges_amiss, knitted, 0)
    subject.keep_of_work(_edges_amiss, True, tree.Call)
    return False


@of_the_work(tree.Call)
def find_period(subject: Subject) -> Answer:
    """What C087 answers; made once for a subject, for the mirror leaves out what is found here."""
    findings: list[Finding] = []
    places = 0
    for rows, knitted in zip(blocks(subject), subject.knitted_blocks, strict=True):
        before = subject.of_rows(find_period, knitted) if knitted is not None else None
        if before is not None:
            places += before
            continue
        lace = sum(1 for r in rows if seen_from_right(r.key, r.back))
        places += lace
        found = _first_found(rows, lace) if len(rows) >= 3 else []
        findings += found
        if knitted is not None and not found:  # nor will there be, wherever the same is knitted
            subject.keep_of_rows(find_period, knitted, lace)
    return Answer(places=places, findings=tuple(findings), missing=not_read(subject))


def _first_found(rows: Sequence[Worked], lace: int) -> list[Finding]:
    """What the first kind of rule says that finds anything: one slip, one message."""
    found: list[Finding] = []
    if len(rows) >= 4:
        found = _off_lines(rows) if lace >= 4 else []
        found = found or unlike_rows(rows) or column_faults(rows) or place_faults(rows)
    return found or aside_faults(rows)


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C087": judge_period}
