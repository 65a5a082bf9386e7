"""The table says what really knitting the mistake would come to."""

from hypothesis import given, settings
from hypothesis import strategies as st

from purlwright.needles.looks import is_worked
from purlwright.rescue.table import COLUMNS
from purlwright.workup import WorkUp
from rescue_work import NAMES, desk, knit_so

MADE = [
    (name, t, i)
    for name in NAMES
    for t, table in enumerate(desk(name).tables)
    for i, m in enumerate(table.made)
    if m.lie is not None and not m.skipped and not m.again
]


@given(st.sampled_from(MADE))
@settings(deadline=None, max_examples=40)
def test_the_table_is_what_really_knitting_on_comes_to(at):
    """Each count the table gives for a later row is the count of a whole knitting with the mistake in it."""
    name, t, i = at
    table = desk(name).tables[t]
    made = table.made[i]
    looks = table.piece.looks
    lines = (table.made_of == i).nonzero()[0]
    ledger = knit_so(name, looks[made.on].entry.order, made.lie) if made.on < len(looks) else None
    if ledger is None:
        return
    real = {e.order: e for p in ledger.pieces for e in p.rows if is_worked(e)}
    rows, sts = table.seen[lines, COLUMNS.index("row")], table.seen[lines, COLUMNS.index("sts")]
    gaps = dict(zip(rows.tolist(), table.seen[lines, COLUMNS.index("gaps")].tolist(), strict=True))
    for row, said in sorted(zip(rows.tolist(), sts.tolist(), strict=True)):
        if row < made.on:
            continue
        true = looks[row].entry
        entry = real.get(true.order)
        if entry is None or (entry.line, entry.label, entry.pass_) != (true.line, true.label, true.pass_):
            return  # rows "until there are 42 sts" are more or fewer now; she works the rows of the list
        if entry.resumed:
            return  # gone on from a printed count, which she does not do unawares
        assert entry.end == said, (made.kind.code, made.detail, true.label, row)
        assert len(entry.gaps) == gaps[row], (made.kind.code, made.detail, true.label, row)


def test_without_a_mistake_the_table_is_the_ledger():
    for name in NAMES:
        for table in desk(name).tables:
            for line in (table.made_of == 0).nonzero()[0].tolist():
                row = int(table.column("row")[line])
                if row >= 0:
                    assert int(table.column("sts")[line]) == table.piece.looks[row].stitches
                    assert int(table.column("gaps")[line]) == table.piece.looks[row].gaps
                    assert int(table.column("waiting")[line]) == table.piece.looks[row].waiting


def test_every_row_of_the_examples_is_looked_at():
    for name in NAMES:
        for table in desk(name).tables:
            tried = sum(lie is not None for lie in table.piece.lies[:-1])
            assert tried >= len(table.piece.looks) - 1
            assert table.piece.let_go == 0


def test_rows_worked_many_times_over_are_all_looked_into():
    """They are knitted quickly by copying a pass; one who watches for mistakes must see each of them."""
    text = (
        "# A\nCast on 20 sts.\nRow 1 (RS): Knit.\nRow 2 (WS): Purl.\nRep rows 1-2 30 times more.\nBind off.\n"
    )
    (table,) = WorkUp(text).desk().tables
    assert len(table.piece.looks) == 62
    assert None not in table.piece.lies
    assert {m.row for m in table.made if m.kind.code == "E16"} == set(range(62))
