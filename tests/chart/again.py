"""A chart's rows in words as a pattern, and what was worked in some rows, so that two knittings can be laid side
by side.
"""

from purlwright.chart.follow import follow
from purlwright.chart.words import rows_in_words
from purlwright.needles.ledger import Kind
from purlwright.pattern.words import definition_words
from purlwright.stitches.load import dictionary

ROWS = {Kind.ROW, Kind.ROUND, Kind.BIND_OFF}


def usual(deed):
    """What a stitch is, whatever it is called."""
    name = deed.inner[0] if deed.own and len(deed.inner) == 1 else deed.name
    stitch = dictionary().stitches.get(name)
    return stitch.chart if stitch is not None and stitch.chart else name


def worked(knitted, orders):
    """Each row from left to right: what was worked, on which loops of the row below, how many loops it left
    and what the right side shows of those that are new.
    """
    fabric = knitted.fabric
    entries = [e for p in knitted.ledger.pieces for e in p.rows if e.order in orders]
    first = min((i for i, row in enumerate(fabric.row_of_stitch.tolist()) if row in orders), default=0)
    out, before = [], None
    for row in follow(knitted, entries):
        place = {id(loop): i for i, loop in enumerate(before or ())}
        out.append(
            [
                (
                    usual(d),
                    len(d.taken) if before is None else [place[id(loop)] for loop in d.taken],
                    0 if d.closed else len(d.made),
                    []
                    if d.closed
                    else [int(fabric.seen_of_stitch[m.stitch]) for m in d.made if m.stitch >= first],
                )
                for d in row.deeds
            ]
        )
        before = row.line
    return out


def written(work, grid):
    """A pattern made of nothing but a chart's rows in words."""
    lines = ["# Again"]
    if grid.colours > 1:
        lines += [f"Yarn: {name}, wool" for name in grid.yarns if name]
    if work.pattern.definitions:
        lines += ["## Abbreviations", *map(definition_words, work.pattern.definitions)]
    join = " Join to work in the round." if grid.rows[0].round else ""
    return "\n".join(
        [*lines, "## Rows", f"Cast on {grid.rows[0].start} sts.{join}", *rows_in_words(grid), ""]
    )
