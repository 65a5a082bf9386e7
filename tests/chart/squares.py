"""A chart as lines of marks, so that a test can show it."""

from purlwright.chart.grid import make_grid
from purlwright.chart.tiling import once_across
from purlwright.needles.ledger import Kind
from purlwright.workup import WorkUp

MARKS = {
    "knit": ".", "purl": "-", "over": "o", "two-right": "/", "two-left": "\\", "three-centre": "A",
    "three-right": "R", "purl-three-right": "P", "three-left-passed": "L", "knit-twisted": "q",
    "slip-behind": "v", "close": "c", "cast": "+", "make-left": "l", "make-right": "r", "fork": "Y", "tuck": "t",
}  # fmt: skip


def drawn(grid):
    """The rows from the top down: marks, ``#`` for no stitch, ``~`` for a stitch not reached, with the number
    on the side where the row starts; a sign over several squares fills them with the first letter of its name.
    """
    lines = []
    for row in reversed(grid.rows):
        marks = [" "] * grid.columns
        for c in row.absent:
            marks[c] = "#"
        for c in row.waiting:
            marks[c] = "~"
        for s in row.squares:
            for c in range(s.column, s.column + s.width):
                marks[c] = MARKS.get(s.sign, s.sign.removeprefix("letters:")[:1])
        number = "" if row.number is None else str(row.number)
        left, right = ("", f" {number}") if row.from_right else (f"{number} ", "")
        lines.append(f"{left}{''.join(marks)}{right}".rstrip())
    return lines


def rows_of(words, *, size=None):
    """A pattern knitted, and its rows."""
    work = WorkUp(words, "test")
    knitted = work.knitted(size)
    rows = [
        e for p in knitted.ledger.pieces for e in p.rows
        if e.kind in {Kind.ROW, Kind.ROUND, Kind.BIND_OFF}
    ]  # fmt: skip
    return work, knitted, rows


def chart(words, *, once=False):
    """The chart of all rows of a pattern; ``once`` shows each repeat once."""
    _, knitted, rows = rows_of(words)
    grid = make_grid(knitted, rows, "Test")
    return once_across(grid) if once else grid
