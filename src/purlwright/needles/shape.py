"""The shape of a run: what a row's operations come to, told once and used for every row worked the same way.

In: a run of operations. Out: for each new stitch what it hangs on, counted from the first loop taken, and
what it shows. Where the loops are on a needle, and which stitches they are, is put in by ``worker``.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import numpy as np

from purlwright.fabric.arrays import Link, Seen

if TYPE_CHECKING:
    from purlwright.needles.gather import Run
    from purlwright.needles.optable import OpTable
    from purlwright.needles.resume import Track
    from purlwright.pattern import tree

__all__ = ["Memory", "Plain", "Shape", "Template", "shape_of"]

MOST_TEMPLATES = 4096
LONGEST_KEPT = 2000
"""A run of more operations than this is not likely to be met again."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Shape:
    """A run that takes ``taken`` loops and makes ``total`` loops, ``new`` of them new stitches.

    where : (links,) places of the parents among the loops taken.
    starts : (new,) int32, where among the links those of each begin, None for one each.
    keep : (new,) place of the loop whose column goes on, None if stitch i goes on with loop i.
    fresh : (opened,) which stitches open a new column instead, None if none does.
    seen : what the right side shows, worked on the right and on the wrong side.
    from_op : (new,) which operation made it, None if one each.
    out_new, out_old : for slips, which loops made are new, and where the others come from.
    deep : links that go to the row below the loop met. before : links to the strand before the first loop.
    loose : links that hang on the needle as it was before any crossing.
    """

    run: Run
    taken: int
    total: int
    new: int
    made: int
    lost: int
    ops: Any
    passes: Any
    seen: tuple[Any, Any]
    mount: Any
    where: Any
    links: Any
    starts: Any
    keep: Any
    fresh: Any
    from_op: Any
    out_new: Any
    out_old: Any
    deep: Any
    loose: Any
    before: Any
    first_op: int
    last_op: int


def shape_of(r: Run, t: OpTable) -> Shape:
    """The shape of a run; an empty run is never given."""
    ops = r.ops
    first_op, last_op = int(ops[0]), int(ops[-1])
    if bool(t.plain[ops].all()):
        child = t.first_child[ops]
        rs = t.child_seen[child]
        ws = np.where(rs == Seen.NONE, rs, 1 - rs).astype(np.int8)
        n = r.taken
        return Shape(
            run=r, taken=n, total=n, new=n, made=0, lost=0, ops=ops, passes=r.passes, seen=(rs, ws),
            mount=t.child_twist[child], where=None, links=0, starts=None, keep=None, fresh=None,
            from_op=None, out_new=None, out_old=None, deep=None, loose=None, before=None,
            first_op=first_op, last_op=last_op,
        )  # fmt: skip
    makes, takes = t.makes[ops], t.takes[ops]
    total = int(makes.sum())
    begins = np.cumsum(takes) - takes
    starts = np.cumsum(makes) - makes
    child = np.repeat(t.first_child[ops] - starts, makes) + np.arange(total)
    base = np.repeat(begins, makes)
    new = t.child_new[child]
    whole = bool(new.all())
    keep_child = child if whole else child[new]
    base_new = base if whole else base[new]
    each = t.child_parents[keep_child]
    links_n = int(each.sum())
    rel_at = np.repeat(t.child_rel[keep_child] - _before(each), each) + np.arange(links_n)
    where = np.repeat(base_new, each) + t.rel[rel_at]
    links = t.rel_link[rel_at]
    keeps = t.child_keeps[keep_child]
    fresh = np.flatnonzero(keeps < 0)
    column = np.where(keeps >= 0, base_new + keeps, 0)
    from_op = np.repeat(np.arange(len(ops)), makes)
    if not whole:
        from_op = from_op[new]
    rs = t.child_seen[keep_child]
    net = makes - takes
    before = np.flatnonzero(where < 0)
    deep = np.flatnonzero((links == Link.BELOW) | (links == Link.HEAD))
    loose = np.flatnonzero((links == Link.STRAND) | (links == Link.HEAD)) if r.perms else None
    out_old = None
    if not whole:
        old = ~new
        out_old = (np.flatnonzero(old), base[old] + t.rel[t.child_rel[child[old]]])
    return Shape(
        run=r, taken=r.taken, total=total, new=len(keep_child), made=int(net[net > 0].sum()),
        lost=-int(net[net < 0].sum()), ops=ops[from_op], passes=r.passes[from_op],
        seen=(rs, np.where(rs == Seen.NONE, rs, 1 - rs).astype(np.int8)), mount=t.child_twist[keep_child],
        where=np.clip(where, 0, max(r.taken - 1, 0)), links=links,
        starts=None if links_n == len(each) and bool((each == 1).all()) else _before(each),
        keep=column, fresh=fresh if len(fresh) else None, from_op=from_op,
        out_new=None if whole else np.flatnonzero(new), out_old=out_old,
        deep=deep if len(deep) else None, loose=loose, before=before if len(before) else None,
        first_op=first_op, last_op=last_op,
    )  # fmt: skip


def _before(each: Any) -> Any:
    """How many there are before each, when each has so many."""
    return np.cumsum(each, dtype=np.int32) - each


@dataclass(frozen=True, slots=True, eq=False)
class Template:
    """A row worked before: its steps, its shape, and the places of its words from where its line begins.

    ``spans`` is (m, 2) int32, each once; ``span_of`` (stitches,) says which of them a stitch has.
    """

    steps: tuple[tree.Action, ...]
    shape: Shape
    spans: Any
    span_of: Any
    looks: tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True, eq=False)
class Plain:
    """A line whose actions are one row and the counts printed after it, or (``steps`` None) something else.

    ``span`` holds the row's words, counted from where the line begins.
    """

    actions: tuple[tree.Action, ...]
    steps: tuple[tree.Action, ...] | None
    counts: tuple[tree.Stated, ...] = ()
    span: tuple[int, int] = (-1, -1)


@dataclass(slots=True)
class Memory:
    """Rows worked before, kept from one knitting to the next by whoever knits again after an edit.

    A row is known by its very steps, how many loops there are, and the size; steps read anew are new.
    """

    templates: dict[tuple[int, ...], Template] = field(default_factory=dict)
    simple: dict[int, tuple[object, bool]] = field(default_factory=dict)
    plain: dict[int, Plain] = field(default_factory=dict)
    shapes: dict[tuple[object, ...], Shape] = field(default_factory=dict)
    """What runs come to, by their operations: rows of the same stitches have one shape."""
    tracks: dict[tuple[object, ...], Track] = field(default_factory=dict)
    """The last knitting of each size and choice, to go on from after an edit."""

    def keep(self, key: tuple[int, ...], template: Template) -> None:
        """Remember a row; when there are too many, all are forgotten."""
        if len(self.templates) >= MOST_TEMPLATES:
            self.templates.clear()
            self.simple.clear()
            self.plain.clear()
        self.templates[key] = template

    def shape(self, r: Run, t: OpTable) -> Shape:
        """The shape of a run, told once; it leaves out where the words stand."""
        if len(r.ops) > LONGEST_KEPT or not isinstance(r.yarns, int):
            return shape_of(r, t)
        key = (r.ops.tobytes(), r.passes.tobytes(), r.yarns, r.perms, r.crossed)
        known = self.shapes.get(key)
        if known is None:
            if len(self.shapes) >= MOST_TEMPLATES:
                self.shapes.clear()
            known = self.shapes[key] = shape_of(r, t)
        return known
