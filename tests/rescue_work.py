"""Patterns for the tests of the rescue room, and a knitter who really makes the mistake."""

from functools import cache
from pathlib import Path

from purlwright.needles.knit import knit
from purlwright.needles.looks import is_worked
from purlwright.rescue.mistakes.made import more_before
from purlwright.workup import WorkUp

EXAMPLES = Path(__file__).resolve().parents[1] / "examples"

WEDGE = """\
# Ebb
Cast on 24 sts.
Row 1 (RS): Knit.
Row 2 (WS): Knit to last 4 sts, w&t.
Row 3: Knit to end.
Row 4: Knit to 4 sts before gap, w&t.
Rows 5-8: Rep rows 3 and 4 twice.
Row 9: Knit to end.
Row 10: Knit. (24 sts)
Knit 6 rows.
Bind off.
"""

LACE = """\
# Foam
Cast on 23 sts.
Row 1 (RS): K2, *yo, ssk, k1, k2tog, yo, k1; rep from * to last 3 sts, k3.
Row 2 and all WS rows: Purl.
Row 3: K2, *k1, yo, sk2p, yo, k2; rep from * to last 3 sts, k3.
Row 5: Knit.
Row 7: As row 1.
Row 9: Knit.
Row 10: Purl. (23 sts)
Bind off.
"""

SHAPED = """\
# Skua
Cast on 30 sts.
Knit 2 rows.
Row 1 (RS): K2, m1, k to last 2 sts, m1, k2.
Row 2: Purl.
Rep rows 1 and 2 five times more. (42 sts)
Row 1 (RS): Bind off 3 sts, k to end.
Row 2: Bind off 3 sts, p to end. (36 sts)
Row 3: K2, ssk, k to last 4 sts, k2tog, k2.
Row 4: Purl.
Rep rows 3 and 4 until 24 sts remain.
Bind off.
"""

FAULTY = """\
# Wreck
Cast on 24 sts.
Row 1 (RS): Knit.
Row 2: Purl.
Row 3: *K3, p1; rep from * to end.
Row 4: *K1, p4; rep from * to end.
Row 5: Knit. (24 sts)
Bind off.
"""

CABLES = """\
# Hawser
Cast on 20 sts.
Rows 1, 3, 7 and 9 (RS): P2, k6, p4, k6, p2.
Row 2 and all WS rows: K2, p6, k4, p6, k2.
Row 5: P2, 3/3 LC, p4, k6, p2.
Row 11: P2, k6, p4, 3/3 RC, p2.
Row 12: K2, p6, k4, p6, k2.
Rep rows 1-12 once more.
Bind off.
"""
"""Two cables, crossed six rows apart: only a count up one of them tells which half she is in."""

SMALL = {"wedge": WEDGE, "lace": LACE, "shaped": SHAPED}


@cache
def work(name):
    """The work-up of an example, or of a small pattern."""
    if name in SMALL:
        return WorkUp(SMALL[name], name)
    path = next(EXAMPLES.glob(f"{name}*.pattern.md"))
    return WorkUp(path.read_text(encoding="utf-8"), path.name)


@cache
def desk(name):
    return work(name).desk()


NAMES = ("eel", "gannet", "harbour", "little", "sea-pea", "skerry", "stepping", *SMALL)


def knit_so(name, order, lie):
    """Knit the whole pattern for real, but before the row of this order the loops lie otherwise."""
    pattern = work(name).pattern

    def watch(row):
        if row.order == order:
            row.lay(lie)

    return knit(pattern, watch=watch).ledger


def knitted_with_both(name, table, first, second):
    """The ledger when both are made; None where the second has no place on the loops that the first has left."""
    looks, true = table.piece.looks, table.piece.lies[second.on]
    orders = looks[first.on].entry.order, looks[second.on].entry.order
    loop = next((k for k in range(true.left) if more_before(true, k, second.by) == second.lie), 0)
    placed = []

    def watch(row):
        if row.order == orders[0]:
            row.lay(first.lie)
        if row.order == orders[1]:
            lie = first.lie if orders[0] == orders[1] else row.lie
            both = more_before(lie, min(loop, max(lie.left - 1, 0)), second.by)
            if both is not None:
                placed.append(both)
                row.lay(both)

    entries = knit(work(name).pattern, watch=watch).ledger.entries
    return {e.order: e for e in entries if is_worked(e)} if placed else None


def as_the_words_have_it(real, looks):
    """Whether every one of these rows was worked, and none was gone on from a printed count."""
    for look in looks:
        e, true = real.get(look.entry.order), look.entry
        if e is None or e.resumed or (e.line, e.label, e.pass_) != (true.line, true.label, true.pass_):
            return False
    return True


def once_more(name):
    """A way to knit an example once more with someone watching."""
    return lambda watch: knit(work(name).pattern, watch=watch)
