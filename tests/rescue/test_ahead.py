"""What a wrong count means, reckoned ahead: nothing in it that the table and the cures do not say."""

import pytest

from purlwright.needles.knit import knit
from purlwright.rescue.ahead import MOST_COUNTS, MOST_TOLD, ahead
from rescue_work import NAMES, desk, work


@pytest.mark.parametrize("name", NAMES)
def test_every_mistake_leads_to_the_count_it_stands_under(name):
    for table in desk(name).tables:
        looks = table.piece.looks
        told = 0
        shown = {
            (int(r), int(s), table.made[int(m)].kind.name, table.made[int(m)].row)
            for r, s, m in zip(table.column("row"), table.column("sts"), table.made_of, strict=True)
        }
        for row in ahead(table):
            right = looks[row.row].stitches if row.row >= 0 else table.piece.lies[0].live
            assert len(row.counts) <= MOST_COUNTS
            for sts, likely in row.counts:
                assert sts != right
                assert 1 <= len(likely) <= MOST_TOLD
                assert [x.share for x in likely] == sorted((x.share for x in likely), reverse=True)
                assert sum(x.share for x in likely) <= 1.0001
                for x in likely:
                    told += 1
                    assert x.made.row <= row.row
                    assert (row.row, sts, x.made.kind.name, x.made.row) in shown
        assert told > 10


@pytest.mark.parametrize("name", NAMES)
def test_a_cure_ends_on_the_right_count(name):
    for table in desk(name).tables:
        looks = table.piece.looks
        for row in ahead(table):
            for _, likely in (*row.counts, *row.off):
                for x in likely:
                    if x.cure is not None:
                        right = looks[x.done].stitches if x.done >= 0 else table.piece.lies[0].live
                        assert x.then == right, (x.made.kind.name, row.row, x.cure.what)


def test_a_missed_yarn_over_really_made_is_among_the_first():
    """The row is knitted for real on the loops that lack one; the count it leaves is looked up."""
    table = desk("lace").tables[0]
    orders = [x.entry.order for x in table.piece.looks]
    rows = {r.row: dict(r.counts) for r in ahead(table)}
    seen = 0
    for made in table.made:
        if made.kind.name != "missed yarn over" or made.lie is None or made.on >= len(orders):
            continue

        def watch(r, made=made):
            if r.order == orders[made.on]:
                r.lay(made.lie)

        found = knit(work("lace").pattern, watch=watch).ledger.entries
        left = next(e for e in found if e.order == orders[made.on]).end  # a purl row: as many as it found
        names = [x.made.kind.name for x in rows[made.row][left]]
        assert "missed yarn over" in names
        seen += 1
    assert seen > 2
