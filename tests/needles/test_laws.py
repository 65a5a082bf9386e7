"""The needles agree with the slow model, one loop at a time."""

import pytest
from hypothesis import HealthCheck, given, settings

from needles.patterns import patterns
from needles.slow import knit_slowly
from purlwright.fabric.arrays import Seen
from purlwright.findings import Severity
from purlwright.needles.knit import knit

SLOW = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow, HealthCheck.data_too_large]}
FACES = {Seen.KNIT: "knit", Seen.PURL: "purl", Seen.NONE: "none"}


def rows_of(knitted):
    """What a row of the ledger says, in the words of the slow model."""
    return [
        {
            "order": e.order, "kind": e.kind.value, "label": e.label, "start": e.start, "worked": e.worked,
            "unworked": e.unworked, "made": e.made, "lost": e.lost, "held": e.held, "returned": e.returned, "end": e.end,
            "side": None if e.side is None else e.side.value,
            "gaps": tuple((g.from_right_rs, g.turned_on) for g in e.gaps),
        }
        for e in knitted.ledger.entries
    ]  # fmt: skip


def slow_rows(slow):
    out = []
    for r in slow.rows:
        d = {k: v for k, v in vars(r).items() if k != "markers"}
        if r.kind in {"cast-on", "join"}:
            d["side"] = None
        out.append(d)
    return out


def stitches_of(fabric, until=None):
    """Parents, row and face of each stitch."""
    first, parent = fabric.first_parent_of_stitch.tolist(), fabric.parent.tolist()
    rows, seen = fabric.row_of_stitch.tolist(), fabric.seen_of_stitch.tolist()
    n = fabric.n if until is None else until
    return [(tuple(sorted(parent[first[s] : first[s + 1]])), rows[s], FACES[Seen(seen[s])]) for s in range(n)]


def agree(p):
    slow, fast = knit_slowly(p), knit(p)
    errors = [f for f in fast.findings if f.severity is Severity.ERROR and f.code != "left-live"]
    want, got = slow_rows(slow), rows_of(fast)
    assert got[: len(want)] == want
    made = [
        (tuple(sorted(s.parents)), s.row, s.face)
        for s in slow.stitches
        if s.row <= (want[-1]["order"] if want else 0)
    ]
    if slow.came_out:
        assert not errors, [f.message for f in errors]
        assert len(got) == len(want)
        assert fast.fabric.n == len(slow.stitches)
        for r, e in zip(slow.rows, fast.ledger.entries, strict=True):
            if r.markers is not None:
                # at the very edge a marker stands at the end of one row and the start of the next
                ends = {0, r.end}
                found = tuple((m.name, m.after) for m in e.markers if m.after not in ends)
                assert found == tuple(m for m in r.markers if m[1] not in ends)
    else:
        # a row that stops short is let pass if the next one takes just what it worked: a turn went without saying
        assert errors or slow.stopped_short or slow.marker_crossed or slow.nothing_worked
        if slow.short_row is not None:
            assert (got[len(want)]["worked"], got[len(want)]["unworked"]) == (
                slow.short_row.worked,
                slow.short_row.unworked,
            )
    assert stitches_of(fast.fabric, len(made)) == made


@settings(max_examples=300, **SLOW)
@given(patterns())
def test_knitting_agrees_with_one_loop_at_a_time(p):
    agree(p)


@pytest.mark.long
@settings(max_examples=20_000, **SLOW)
@given(patterns())
def test_knitting_agrees_with_one_loop_at_a_time_at_length(p):
    agree(p)
