"""What goes on from row to row: repeats that meet, rhythms, interruptions and sides.

In: the tree, the ledger and the texture of rows. Out: findings on yarn overs that meet where a repeat begins
again and on sizes that reach a section on different sides. The rest counts where the question arises.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING

from purlwright.findings import Finding, Related, Severity
from purlwright.needles.ledger import Kind
from purlwright.needles.problems import TimesChosen
from purlwright.pattern import tree
from purlwright.pattern.tree import Side
from purlwright.proof.answer import Answer, not_read, of_the_work, while_knitting
from purlwright.proof.subject import Subject, at
from purlwright.proof.texture import Worked, looks, tile_of
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.needles.ledger import Entry
    from purlwright.proof.subject import Way

__all__ = ["JUDGES", "CountedTwoWays", "SizesOnOtherSides", "YarnOversMeet"]


@dataclass(frozen=True, slots=True)
class YarnOversMeet:
    """A repeat begins and ends with a yarn over, so that two of them meet where it begins again.

    Side by side they make one large hole, and the next row must work into the second loop or drop it.
    Elsewhere in the pattern no double yarn over is made, so it is hardly meant.

    Example: `*yo, k2tog, k1, ssk, yo; rep from * to end`.

    Cure: put a stitch between them, or say that the two make one large hole. (Common practice; no source.)
    """

    row: str

    code = "yarn-overs-meet"
    check = "C042"
    severity = Severity.NOTE

    def message(self) -> str:
        return (
            f"The repeat of {self.row} begins and ends with a yarn over: two meet wherever it begins again."
        )

    def label(self) -> str:
        return "meets the yarn over before it"

    def help(self) -> str | None:
        return "Look whether a stitch belongs between them."


@dataclass(frozen=True, slots=True)
class SizesOnOtherSides:
    """The sizes come to a section on different sides, and its words do not say which side faces.

    Shapings given "at the beginning of the row" then fall on the other edge in some sizes.

    Example: `Knit 7 (8, 9) rows.` and then, under the next heading, `Next row: Bind off 5 sts, knit to end.`

    Cure: give each size an even number of rows, or say the side for each size. (Common practice; no source.)
    """

    section: str
    right: tuple[str, ...]
    wrong: tuple[str, ...]

    code = "sizes-on-other-sides"
    check = "C025"
    severity = Severity.NOTE

    def message(self) -> str:
        return (
            f'"{self.section}" begins on the right side in size {" and ".join(self.right)} '
            f"and on the wrong side in size {' and '.join(self.wrong)}."
        )

    def label(self) -> str:
        return "begins here"

    def help(self) -> str | None:
        return "Make the number of rows before it even or odd in all sizes, or say the side for each."


@dataclass(frozen=True, slots=True)
class CountedTwoWays:
    """The same words of "n times" count the first working in one place and leave it out in another.

    At each place the printed counts bear out one reading, and the readings differ. A knitter who has learned
    from the first place what "3 times" means goes wrong at the second.

    Example: `Dec 1 st at each end of next and every foll 4th row 3 times (34 sts)` from 40 stitches is 3 in
    all; on the sleeve the same words take off 8 stitches.

    Cure: say at both places "times in all" or "times more".
    """

    here: str
    there: str

    code = "counted-two-ways"
    check = "C043"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f'"Times" means {self.here} here and {self.there} elsewhere, as the printed counts show: the '
            f"first is counted in one place and not in the other."
        )

    def label(self) -> str:
        return f"{self.here} here"

    def help(self) -> str | None:
        return 'Say "in all" or "more" at both places.'


# --- C025 -------------------------------------------------------------------------------------------------


def _begin(way: Way) -> dict[str, tuple[Entry, Side]]:
    """The first flat row of every section but the first of a piece, and the side it is worked on."""
    out: dict[str, tuple[Entry, Side]] = {}
    for piece in way.knitted.ledger.pieces:
        sections = {piece.rows[0].section} if piece.rows else set()
        for e in piece.rows:
            if e.section not in sections:
                sections.add(e.section)
                if e.kind is Kind.ROW and e.side is not None and not e.unread:
                    out.setdefault(e.section, (e, e.side))
    return out


def judge_sides(subject: Subject) -> Answer:
    """C025: places are the sections that begin flat, in work with several sizes."""
    if len(subject.pattern.sizes) < 2 or len(subject.ways) < 2:
        return Answer()
    begun = [(way, _begin(way)) for way in subject.ways]
    findings: list[Finding] = []
    names = list(dict.fromkeys(name for _, b in begun for name in b))
    fails = False
    for name in names:
        sides: dict[Side, dict[str, None]] = {}
        entry = next(b[name][0] for _, b in begun if name in b)
        for way, b in begun:
            if name in b:
                sides.setdefault(b[name][1], {})[way.size] = None
        if len(sides) < 2 or set(sides[Side.RS]) & set(sides[Side.WS]):
            continue
        fails = True
        line = subject.line_of(entry)
        told = "C021" in subject.found or (line is not None and line.label is not None and line.label.side)
        if not told and line is not None and not findings:
            problem = SizesOnOtherSides(name, tuple(sides[Side.RS]), tuple(sides[Side.WS]))
            findings.append(at(line, problem))
    return Answer(places=len(names), findings=tuple(findings), fails=fails, missing=not_read(subject))


# --- C027, C041, C043, C090 -------------------------------------------------------------------------


def judge_taken_up(subject: Subject) -> Answer:
    """C027: a pattern worked on after other rows, or from a row that is named; found while knitting."""
    answer = while_knitting("C027")(subject)
    return answer if answer.places else Answer()


def judge_readings(subject: Subject) -> Answer:
    """C041: rows with a comma or semicolon; those with two readings were tried while they were knitted."""
    rows = sum(
        1 for line in subject.lines if line.label is not None and ("," in line.text or ";" in line.text)
    )
    return Answer(places=rows, missing=not_read(subject))


def judge_rhythms(subject: Subject) -> Answer:
    """C043: shapings told by a rhythm, and rows and stitches worked again "n times", count in one way.

    The printed counts tell which way each was meant. A rhythm that makes a total untrue is C002's.
    """
    ways: dict[str, dict[bool, tuple[Span, TimesChosen]]] = {}
    for f in subject.findings:
        if isinstance(f.problem, TimesChosen):
            ways.setdefault(f.problem.sort, {}).setdefault(f.problem.more, (f.span, f.problem))
    findings = []
    for chosen in ways.values():
        if len(chosen) < 2:
            continue
        (before, one), (after, other) = sorted(chosen.values(), key=lambda c: c[0].start)
        related = (Related(before, f"{_times(one)} here"),)
        findings.append(
            Finding(problem=CountedTwoWays(_times(other), _times(one)), span=after, related=related)
        )
    places = len(subject.nodes(tree.Shaping)) + sum(len(chosen) for chosen in ways.values())
    return Answer(places=places, findings=tuple(findings))


def _times(chosen: TimesChosen) -> str:
    return f"{chosen.times} more" if chosen.more else f"{chosen.times} in all"


# --- C042 -------------------------------------------------------------------------------------------------


def _meet(row: Worked) -> bool:
    tile = tile_of(row)
    return tile is not None and tile.last - tile.first >= 2 and _overs_meet(row.key, tile.first, tile.last)


@lru_cache(maxsize=2048)
def _overs_meet(key: bytes, first: int, last: int) -> bool:
    """Whether the operations from one place to another begin and end with a yarn over."""
    body = looks(key)[first:last]
    return all(
        op.look.takes == 0 and op.look.makes >= 1 and op.look.faces == "n" for op in (body[0], body[-1])
    )


def _doubles(row: Worked) -> bool:
    """Whether two yarn overs stand side by side within the repeat or outside it."""
    ops = looks(row.key)
    overs = [op.look.takes == 0 and op.look.faces.startswith("n") for op in ops]
    tile = tile_of(row)
    seam = {tile.last - 1} if tile is not None else set()
    return any(a and b and n not in seam for n, (a, b) in enumerate(pairwise(overs))) or any(
        op.look.faces == "nn" for op in ops
    )


@of_the_work()
def judge_meeting(subject: Subject) -> Answer:
    """C042: places are the rows with a repeat that has a yarn over."""
    rows = [r for r in subject.worked_rows if r.entry.made and tile_of(r) is not None]
    meeting = [r for r in rows if _meet(r)]
    findings = []
    if meeting and 2 * len(meeting) <= len(rows) and "C016" not in subject.found:
        if not any(_doubles(r) for r in subject.worked_rows if r.entry.made and r not in meeting):
            row = meeting[0]
            tile = tile_of(row)
            span = row.words(tile.last - 1) if tile is not None else row.entry.span
            findings.append(Finding(problem=YarnOversMeet(row.name), span=span))
    return Answer(places=len(rows), findings=tuple(findings), missing=not_read(subject))


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {
    "C025": judge_sides,
    "C027": judge_taken_up,
    "C041": judge_readings,
    "C042": judge_meeting,
    "C043": judge_rhythms,
}
