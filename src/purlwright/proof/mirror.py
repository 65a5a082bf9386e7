"""Family H, the mirror: rows that are the same from both sides of their centre, and the one that is not
(C086).

In: the texture of the rows of each section, and of each chart. Out: findings on a row whose leans, places or
edges are not mirrored while those of its neighbours are. Every count is right in all of these. A row is
looked at whole, and its repeat alone, about the centre that the other rows share.
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
from purlwright.proof.beside_markers import marker_faults
from purlwright.proof.colours_mirrored import colours_mirrored
from purlwright.proof.drawn import blocks
from purlwright.proof.left_right import pair_faults
from purlwright.proof.lone_rows import lone_slips
from purlwright.proof.panels import panel_faults
from purlwright.proof.subject import Subject
from purlwright.proof.texture import (
    Look,
    Op,
    Worked,
    label_of,
    looks,
    mirrored,
    names,
    special,
    tile_of,
)

__all__ = ["JUDGES", "EdgeDiffers", "MirrorBroken", "edge_faults", "judge_mirror"]


@dataclass(frozen=True, slots=True)
class MirrorBroken:
    """A row is not the mirror of itself about its centre, and the rows round it are.

    A decrease or crossing leans the same way on both sides, or a yarn over stands one stitch nearer the
    centre on one side. No count tells: the row comes out, and the two halves do not match.

    Example: `K1, ssk, k to last 3 sts, ssk, k1` where the other rows end `k2tog, k1`.

    Cure: turn the lean round, or move the stitch, in one half. (Common practice; no source.)
    """

    row: str
    like: str
    what: str

    code = "mirror-broken"
    check = "C086"
    severity = Severity.WARNING

    def message(self) -> str:
        others = f", and those of {self.like} do" if self.like else ", but for one stitch"
        return f"The two halves of {self.row} do not mirror each other{others}: {self.what}."

    def label(self) -> str:
        return "not mirrored"

    def help(self) -> str | None:
        return "Make this half the mirror of the other, or say that it differs."


@dataclass(frozen=True, slots=True)
class EdgeDiffers:
    """A row has another number of edge stitches at one end than all its neighbours.

    The border of one row steps into the fabric by a stitch. The count is right, for the rest is worked "to
    last 2 sts" where it should be "to last 3 sts".

    Example: `K3, purl to last 2 sts, k2` among rows that say `K3, purl to last 3 sts, k3`.

    Cure: give the row the edge of the others. (Common practice; no source.)
    """

    row: str
    like: str
    found: int
    wanted: int
    first: bool

    code = "edge-differs"
    check = "C086"
    severity = Severity.WARNING

    def message(self) -> str:
        where = "begins" if self.first else "ends"
        sts = "stitch" if self.found == 1 else "stitches"
        return (
            f"{self.row} {where} with {self.found} edge {sts}, and {self.like} {where[:-1]} with "
            f"{self.wanted}."
        )

    def label(self) -> str:
        return f"{self.found} here, {self.wanted} elsewhere"

    def help(self) -> str | None:
        return f"Give this row {self.wanted} edge stitches here too."


# --- about the centre of the whole row --------------------------------------------------------------------


class _Fault(NamedTuple):
    """Where a row is not mirrored: the operation, and what is said of it."""

    place: int
    what: str


@lru_cache(maxsize=2048)
def leaning(key: bytes) -> bool:
    """Whether a row has operations that lean both ways, or stand in pairs: what a mirror could tell of."""
    found = [op.look for op in looks(key) if special(op.look)]
    return len(found) >= 2


@lru_cache(maxsize=2048)
def whole_mirror(key: bytes) -> _Fault | bool | None:
    """True if the row is its own mirror; where it is not, if one repair makes it so; else None."""
    return _mirror(tuple(op.look for op in looks(key)))


def _mirror(row: tuple[Look, ...]) -> _Fault | bool | None:
    n = len(row)
    shifted = _beside(row)
    if shifted is not None:
        return shifted
    differ = [i for i in range(n // 2) if row[i] != mirrored(row[n - 1 - i])]
    if n % 2 and row[n // 2] != mirrored(row[n // 2]):
        return None
    if not differ:
        return True
    first, second = row[: n // 2], row[n - n // 2 :]
    if Counter((x.takes, x.makes) for x in first) != Counter((x.takes, x.makes) for x in second):
        return None
    if len(differ) == 1:
        a, b = row[differ[0]], row[n - 1 - differ[0]]
        if (a.takes, a.makes) != (b.takes, b.makes) or not (a.lean and b.lean):
            return None
        return _Fault(n - 1 - differ[0], f"this leans to the {b.lean}, and its fellow in the other half too")
    if len(differ) == 2 and differ[1] == differ[0] + 1:
        i, j = differ
        if row[i] == mirrored(row[n - 1 - j]) and row[j] == mirrored(row[n - 1 - i]):
            return _Fault(n - 1 - j, "two neighbours have changed places in one half")
    return None


def _beside(row: tuple[Look, ...]) -> _Fault | None:
    """A row that mirrors about a place a stitch or two beside its centre, plain stitches at either end."""
    n = len(row)
    first = next((i for i, x in enumerate(row) if x != row[0]), n)
    last = next((i for i, x in enumerate(reversed(row)) if x != row[-1]), n)
    middle = row[first : n - last]
    if first == last or abs(first - last) not in {2, 4} or row[0] != row[-1] or special(row[0]):
        return None
    if any(x != mirrored(y) for x, y in zip(middle, reversed(middle), strict=True)):
        return None
    return _Fault(first, f"{first} stitches stand before the middle part and {last} after it")


# --- about a centre of the repeat -------------------------------------------------------------------------


def _centres(ops: Sequence[Op], width: int) -> frozenset[int]:
    """The centres about which a repeat that goes on for ever is its own mirror, in half stitches, doubled."""
    marks = {((2 * op.at + op.look.takes) % (2 * width), op.look) for op in ops}
    some = min(marks, key=lambda m: (sum(x[1] == m[1] for x in marks), m))
    out = set()
    for at, look in marks:
        if look != mirrored(some[1]):
            continue
        centre = (at + some[0]) % (2 * width)
        if all(((centre - x) % (2 * width), mirrored(y)) in marks for x, y in marks):
            out.add(centre)
    return frozenset(out)


@lru_cache(maxsize=2048)
def _repeat_centres(key: bytes, first: int, last: int, width: int) -> frozenset[int]:
    ops = [op for op in looks(key)[first:last] if special(op.look)]
    return _centres(ops, width) if ops else frozenset()


@lru_cache(maxsize=2048)
def _fault_about(key: bytes, first: int, last: int, width: int, centre: int, doubled: bool) -> _Fault | None:
    """What one repair makes the repeat its own mirror about ``centre``: a lean turned, or a stitch moved.

    doubled : whether the other rows have a double decrease there.
    """
    ops = [op for op in looks(key)[first:last] if special(op.look)]
    marks = {((2 * op.at + op.look.takes) % (2 * width), op.look): op for op in ops}
    alone = [
        op for (at, look), op in marks.items()
        if ((centre - at) % (2 * width), mirrored(look)) not in marks
    ]  # fmt: skip
    if len(alone) == 1 and len(marks) >= 4:
        return _slipped_to_axis(marks, alone[0], width, centre)
    if len(alone) != 2:
        return None
    a, b = alone
    net = [x.look.makes - x.look.takes for x in alone]
    if sum(net) == 0 and net[0]:
        off = [_off_centre(2 * x.at + x.look.takes, centre, width) for x in alone]
        single = next((n for n, x in enumerate(alone) if x.look.takes == 2 and off[n] == 2), None)
        if doubled and single is not None:
            return _Fault(
                alone[single].place, "a yarn over and half of the double decrease are gone on one side"
            )
        return (
            _Fault(b.place, "one half has a yarn over and decrease more than the other")
            if min(off) > 4
            else None
        )
    if len(marks) < 4 or (a.look.takes, a.look.makes) != (b.look.takes, b.look.makes):
        return None
    here, there = (2 * a.at + a.look.takes), (2 * b.at + b.look.takes)
    apart = (here + there - centre) % (2 * width)
    if apart == 0 and a.look.lean and a.look.lean == b.look.lean:
        return _Fault(b.place, f"this leans to the {b.look.lean}, and its fellow in the other half too")
    if min(apart, 2 * width - apart) == 2 and a.look == mirrored(b.look):
        return _Fault(b.place, _NEARER)
    return None


def _slipped_to_axis(
    marks: Mapping[tuple[int, Look], Op], alone: Op, width: int, centre: int
) -> _Fault | None:
    """The fellow of an operation that has none, if it stands on the centre, one stitch from its place."""
    wanted = (centre - 2 * alone.at - alone.look.takes) % (2 * width)
    for (at, look), op in marks.items():
        apart = (at - wanted) % (2 * width)
        on_axis = (centre - 2 * at) % (2 * width) == 0
        if on_axis and look == mirrored(alone.look) and min(apart, 2 * width - apart) == 2:
            return _Fault(op.place, _NEARER)
    return None


_NEARER = "this stands one stitch nearer the centre than its fellow, or farther off"


def _off_centre(at: int, centre: int, width: int) -> int:
    """How far a place is from the nearer centre of a repeat, in half stitches, doubled."""
    d = (2 * at - centre) % (2 * width)
    return min(d, 2 * width - d)


def _repeat_faults(rows: Sequence[Worked]) -> tuple[int, list[tuple[Worked, _Fault, list[Worked]]]]:
    """How many rows have a mirrored repeat, and the one that has none while the others share a centre."""
    of_width: dict[tuple[int, bool], list[tuple[Worked, int, int]]] = {}
    for row in rows:
        tile = tile_of(row)
        if tile is not None and leaning(row.key):
            of_width.setdefault((tile.width, row.back), []).append((row, tile.first, tile.last))
    places, out = 0, []
    for (width, _), group in of_width.items():
        if len(group) < 3:
            continue
        centres = [_repeat_centres(row.key, a, b, width) for row, a, b in group]
        places += sum(bool(c) for c in centres)
        many = Counter(c for found in centres for c in found)
        if not many:
            continue
        centre, _n = max(many.items(), key=lambda x: (x[1], -x[0]))
        good = [row for (row, _, _), c in zip(group, centres, strict=True) if centre in c]
        bad = [x for x, c in zip(group, centres, strict=True) if centre not in c]
        if _ruled(good, [row for row, _, _ in bad]):
            row, a, b = bad[0]
            doubled = all(_doubled(g, centre) for g in good)
            fault = _fault_about(row.key, a, b, width, centre, doubled)
            if fault is not None:
                out.append((row, fault, good))
    return places, out


def _doubled(row: Worked, centre: int) -> bool:
    """Whether a double decrease stands on the centre of the row's repeat."""
    tile = tile_of(row)
    return tile is not None and any(
        op.look.takes == 3 and op.look.makes == 1 and (4 * op.at + 6 - centre) % (2 * tile.width) == 0
        for op in looks(row.key)[tile.first : tile.last]
    )


def _ruled(good: Sequence[Worked], bad: Sequence[Worked]) -> bool:
    """A rule: kept by three rows of different words at least, by many alike, or by two that hold a whole
    figure; broken in one row's words.
    """
    if not bad or len({row.key for row in bad}) > 1:
        return False
    words = {row.key for row in good}
    if len(bad) == 1 and len(good) == 2:
        return len(words) == 2 and all(_figure(row) for row in good)
    return len(good) >= 3 * len(bad) and (len(words) >= 2 or len(good) >= 4)


def _figure(row: Worked) -> bool:
    """Whether a row has enough in it for its mirror to be no chance: three operations to a repeat."""
    tile = tile_of(row)
    ops = [op.look for op in looks(row.key)[tile.first : tile.last] if special(op.look)] if tile else []
    return len(ops) >= 3 and len(set(ops)) >= 2


def _whole_faults(rows: Sequence[Worked]) -> tuple[int, list[tuple[Worked, _Fault, list[Worked]]]]:
    lean = [row for row in rows if leaning(row.key)]
    if len(lean) < 4:
        return 0, []
    told = [whole_mirror(row.key) for row in lean]
    good = [row for row, t in zip(lean, told, strict=True) if t is True]
    bad = [(row, t) for row, t in zip(lean, told, strict=True) if isinstance(t, _Fault)]
    others = sum(t is None for t in told)
    if others == 1 and not bad and len(good) >= 3:
        odd = next(row for row, t in zip(lean, told, strict=True) if t is None)
        lacking = _half_lacks(odd.key)
        bad, others = ([(odd, lacking)], 0) if lacking is not None else (bad, others)
    if 4 * others > len(good) or not _ruled(good, [row for row, _ in bad]):
        return len(good), []
    row, fault = bad[0]
    return len(good), [(row, fault, good)]


@lru_cache(maxsize=2048)
def _half_lacks(key: bytes) -> _Fault | None:
    """A row that would be its own mirror but for a yarn over and its decrease in one half."""
    row = looks(key)
    width = sum(op.look.takes for op in row)
    return _fault_about(key, 0, len(row), width, 0, False) if width else None


# --- edges ------------------------------------------------------------------------------------------------


class _Edges(NamedTuple):
    """How many stitches of one look stand at either end, and what follows them."""

    first: int
    last: int
    looks: tuple[Look, Look, Look, Look]


MOST_EDGE = 10
"""An edge has no more stitches than this."""


@lru_cache(maxsize=2048)
def _edges(key: bytes) -> _Edges | None:
    row = [op.look for op in looks(key)]
    if len(row) < 4 or any(special(x) for x in (row[0], row[-1])):
        return None
    first = next((i for i, x in enumerate(row) if x != row[0]), 0)
    last = next((i for i, x in enumerate(reversed(row)) if x != row[-1]), 0)
    if not (0 < first <= MOST_EDGE and 0 < last <= MOST_EDGE):
        return None
    return _Edges(first, last, (row[0], row[first], row[-last - 1], row[-1]))


def edge_faults(rows: Sequence[Worked]) -> list[Finding]:
    """The one row whose edge is a stitch or two wider or narrower than in all the others."""
    groups: dict[tuple[tuple[Look, Look, Look, Look], bool], list[tuple[Worked, _Edges]]] = {}
    for row in rows:
        edges = _edges(row.key)
        if edges is not None and row.entry.kind.value == "row":
            groups.setdefault((edges.looks, row.back), []).append((row, edges))
    out = []
    for group in groups.values():
        if len(group) < 5:
            continue
        many = Counter((e.first, e.last) for _, e in group)
        (first, last), times = many.most_common(1)[0]
        if times != len(group) - 1 or first != last:
            continue
        row, e = next((r, e) for r, e in group if (e.first, e.last) != (first, last))
        if (e.first != first) == (e.last != last) or abs(e.first + e.last - first - last) > 2:
            continue
        at_first = e.first != first
        found, wanted = (e.first, first) if at_first else (e.last, last)
        n = len(looks(row.key))
        span = row.words(0) if at_first else row.words(n - 1)
        like = names([r for r, _ in group if r is not row])
        out.append(Finding(problem=EdgeDiffers(row.name, like, found, wanted, at_first), span=span))
    return out


def _lone(rows: Sequence[Worked]) -> list[Finding]:
    """Rows that are compared with nothing but themselves."""
    return [
        Finding(problem=MirrorBroken(row.name, "", slip.what), span=row.words(slip.place))
        for row, slip in lone_slips(rows)
    ]


@of_the_work(tree.Call)
def judge_mirror(subject: Subject) -> Answer:
    """C086: places are the rows that are mirrored."""
    findings: list[Finding] = []
    places, fails = 0, False
    told = [f.span for f in subject.period.findings]
    for rows, knitted in zip(blocks(subject), subject.knitted_blocks, strict=True):
        if len(rows) < 4:
            continue
        before = subject.of_rows(judge_mirror, knitted) if knitted is not None else None
        if before is not None:
            places += before
            continue
        whole, faults = _whole_faults(rows)
        repeats, more = _repeat_faults(rows)
        edges = edge_faults(rows)
        places += max(whole, repeats)
        if knitted is not None and not (faults or more or edges):
            subject.keep_of_rows(judge_mirror, knitted, max(whole, repeats))
        for row, fault, good in faults or more:
            if any(row.entry.span.start <= span.start < row.entry.span.end for span in told):
                fails = True  # one slip, one message
                continue
            problem = MirrorBroken(row.name, names(good), fault.what)
            related = tuple(Related(label_of(r), "mirrored") for r in good[:2])
            findings.append(Finding(problem=problem, span=row.words(fault.place), related=related))
        findings += edges
    findings += pair_faults(blocks(subject))
    if not findings and not told:
        rows_ = subject.worked_rows
        found = [*marker_faults(rows_), *panel_faults(rows_)] or list(colours_mirrored(subject))
        findings += (found or _lone(rows_))[:1]
    return Answer(places=places, findings=tuple(findings), fails=fails, missing=not_read(subject))


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C086": judge_mirror}
