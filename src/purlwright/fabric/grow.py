"""Growing a fabric: stitches are appended in runs, whole rows at a time.

In: arrays that describe a run of new stitches and what they hang on. Out: a frozen :class:`Fabric`.
Which loops are live, and what the words meant, is known only to the room above.
"""

from __future__ import annotations

from array import array
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from purlwright.fabric.arrays import Fabric, Int8, Int32, Link

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

__all__ = ["Grower", "Mark"]

_STITCH = (
    ("op", np.int16), ("row", np.int32), ("column", np.int32), ("seen", np.int8), ("side", np.int8),
    ("mount", np.int8), ("yarn", np.int8), ("span", np.int32), ("pass_", np.int32), ("first", np.int32),
)  # fmt: skip


_FEW = 1 << 16
"""From so many stitches on room grows fourfold: what is not yet written in takes no memory, copying does."""


def _room_for(many: int, room: int) -> int:
    """How much room to make for so many, when there is too little."""
    while room < many:
        room *= 2 if room < _FEW else 4
    return room


class Mark(NamedTuple):
    """A point in the growing to go back to."""

    n: int
    m: int
    columns: int
    joins: int
    sections: int
    spans: int
    yarns: int

    def and_from(self, a: Mark, b: Mark) -> Mark:
        """As far after this mark as ``b`` is after ``a``."""
        n, m, columns, joins, sections, spans, yarns = self
        return Mark(
            n + b.n - a.n, m + b.m - a.m, columns + b.columns - a.columns, joins + b.joins - a.joins,
            sections + b.sections - a.sections, spans + b.spans - a.spans, yarns + b.yarns - a.yarns,
        )  # fmt: skip


class Grower:
    """A fabric in the making.

    Buffers grow by a factor when full, so that appending costs what copying the new stitches costs.
    ``n`` stitches and ``m`` links so far. Not to be shared between two knittings.
    """

    __slots__ = (
        "_room", "_room_links", "buf", "columns", "joins", "link", "m", "n", "parent", "sections", "span_of",
        "spans", "yarns",
    )  # fmt: skip

    def __init__(self, room: int = 1024, room_links: int = 1024) -> None:
        self.n = 0
        self.m = 0
        self.columns = 0
        self._room = room
        self._room_links = room_links
        self.buf: dict[str, NDArray[Any]] = {name: np.empty(self._room, t) for name, t in _STITCH}
        self.parent = np.empty(self._room_links, np.int32)
        self.link = np.empty(self._room_links, np.int8)
        self.joins = array("i")
        self.spans = array("i")
        self.span_of: dict[tuple[int, int], int] = {}
        self.yarns: list[str] = [""]
        self.sections: list[int] = []

    # --- bookkeeping ---------------------------------------------------------------------------

    def mark(self) -> Mark:
        """Where the growing stands now."""
        joins, sections, spans = len(self.joins), len(self.sections), len(self.spans)
        return Mark(self.n, self.m, self.columns, joins, sections, spans, len(self.yarns))

    def back_to(self, mark: Mark) -> None:
        """Forget all that was appended since ``mark`` (spans of text stay: others may know their numbers)."""
        self.n, self.m, self.columns = mark.n, mark.m, mark.columns
        del self.joins[mark.joins :]
        del self.sections[mark.sections :]

    def until(self, mark: Mark) -> Grower:
        """Another fabric in the making that begins as this one stood at ``mark``."""
        out = Grower(self._room, self._room_links)  # it is likely to grow as far
        n, m = mark.n, mark.m
        for name, a in self.buf.items():
            out.buf[name][:n] = a[:n]
        out.parent[:m], out.link[:m] = self.parent[:m], self.link[:m]
        out.n, out.m, out.columns = n, m, mark.columns
        out.joins, out.sections = self.joins[: mark.joins], self.sections[: mark.sections]
        out.spans, out.yarns = self.spans[: mark.spans], self.yarns[: mark.yarns]
        known = mark.spans // 2
        out.span_of = {key: i for key, i in self.span_of.items() if i < known}
        return out

    def grow_as(
        self, other: Grower, a: Mark, b: Mark, loops: tuple[Int32, Int32], rows: int, moved: int
    ) -> tuple[Int32, int] | None:
        """Append what ``other`` appended between two marks, on the loops that are live here.

        loops : those live in ``other`` at ``a``, and in the same order those live here. rows : by how much
        row numbers differ. moved : by how many characters the words have moved.
        Returns the ids here of the stitches of ``other``, -1 where there is none, and by how much the numbers
        of spans differ; None, and nothing is appended, if anything but these loops was hung on.
        """
        n, m, n0, m0, k = self.n, self.m, a.n, a.m, b.n - a.n
        was, here = loops
        if (a.joins, a.sections) != (b.joins, b.sections) or self.yarns != other.yarns[: a.yarns]:
            return None
        old = other.buf
        now = np.full(b.n, -1, np.int32)
        now[was] = here
        now[n0:] = np.arange(n, n + k, dtype=np.int32)
        columns = np.full(b.columns, -1, np.int32)
        columns[old["column"][was]] = self.buf["column"][here]
        if not np.array_equal(columns[old["column"][was]], self.buf["column"][here]):
            return None
        columns[a.columns :] = np.arange(self.columns, self.columns + b.columns - a.columns, dtype=np.int32)
        parents, column = now[other.parent[m0 : b.m]], columns[old["column"][n0 : b.n]]
        spans, first = old["span"][n0 : b.n], a.spans // 2
        if k and (
            (len(parents) and int(parents.min()) < 0) or int(column.min()) < 0 or int(spans.min()) < first
        ):
            return None
        self._make_room(k, len(parents))
        buf, until, apart = self.buf, n + k, len(self.spans) // 2 - first
        for name in ("op", "seen", "side", "mount", "yarn", "pass_"):
            buf[name][n:until] = old[name][n0 : b.n]
        buf["row"][n:until] = old["row"][n0 : b.n] + rows
        buf["column"][n:until] = column
        buf["span"][n:until] = spans + apart
        buf["first"][n:until] = old["first"][n0 : b.n] + (m - m0)
        self.parent[m : m + len(parents)] = parents
        self.link[m : m + len(parents)] = other.link[m0 : b.m]
        words = np.frombuffer(other.spans[a.spans : b.spans], np.int32) + np.int32(moved)
        self.spans.frombytes(words.tobytes())
        self.n, self.m = until, m + len(parents)
        self.columns += b.columns - a.columns
        self.yarns = other.yarns[: b.yarns]
        return now, apart

    def again(self, a: Mark, times: int, rows: int, loops: tuple[Int32, Int32]) -> bool:
        """Append what was appended since ``a`` so many times more, each on the loops that the last one left.

        rows : by how much row numbers differ from one to the next. loops : those live at ``a``, and in the
        same order those live now, all appended since. False, and nothing is appended, if a column was begun
        by none of these.
        """
        n, m, buf = self.n, self.m, self.buf
        k, links, new = n - a.n, m - a.m, self.columns - a.columns
        was, now = (buf["column"][live] for live in loops)
        order = np.arange(len(was), dtype=np.int32)
        place = np.full(self.columns, -1, np.int32)
        place[was] = order
        if not np.array_equal(place[was], order):
            return False
        place[a.columns :] = np.arange(len(was), len(was) + new, dtype=np.int32)
        which, left = place[buf["column"][a.n : n]], place[now]
        if int(which.min(initial=0)) < 0 or int(left.min(initial=0)) < 0:
            return False
        self._make_room(k * times, links * times)
        buf, until, until_link = self.buf, n + k * times, m + links * times
        here = {name: array_[n:until].reshape(times, k) for name, array_ in buf.items()}
        copy = np.arange(1, times + 1, dtype=np.int32)[:, None]
        for name in ("op", "seen", "side", "mount", "yarn", "span", "pass_"):
            here[name][:] = buf[name][a.n : n]
        np.add(buf["row"][a.n : n], copy * np.int32(rows), out=here["row"])
        np.add(buf["first"][a.n : n], copy * np.int32(links), out=here["first"])
        np.add(self.parent[a.m : m], copy * np.int32(k), out=self.parent[m:until_link].reshape(times, links))
        self.link[m:until_link].reshape(times, links)[:] = self.link[a.m : m]
        if not new and np.array_equal(was, now):
            here["column"][:] = buf["column"][a.n : n]
        else:
            for column in here["column"]:
                there = np.concatenate([now, np.arange(self.columns, self.columns + new, dtype=np.int32)])
                np.take(there, which, out=column)
                now = there[left]
                self.columns += new
        self.n, self.m = until, until_link
        return True

    def span(self, start: int, end: int) -> int:
        """The number of a span of source text."""
        key = (start, end)
        i = self.span_of.get(key)
        if i is None:
            i = self.span_of[key] = len(self.spans) // 2
            self.spans.extend(key)
        return i

    def span_at(self, number: int) -> tuple[int, int]:
        """The span of source text (start, end) with a number."""
        return self.spans[2 * number], self.spans[2 * number + 1]

    def add_spans(self, spans: Int32, offset: int) -> Int32:
        """Numbers, (n,) int32, for spans (n, 2) not looked up before, each moved by ``offset``."""
        first = len(self.spans) // 2
        self.spans.frombytes((spans + np.int32(offset)).tobytes())
        return np.arange(first, first + len(spans), dtype=np.int32)

    def spans_of(self, numbers: Int32, offset: int) -> tuple[Int32, Int32]:
        """The spans, (m, 2) counted from ``offset``, that some numbers (n,) stand for, and which each is."""
        if not len(numbers):
            return np.zeros((0, 2), np.int32), numbers
        first, last = int(numbers.min()), int(numbers.max())
        which = numbers - np.int32(first)
        if last - first > len(numbers):  # far apart: only those that are meant
            some, which = np.unique(which, return_inverse=True)
            words = np.array([self.span_at(first + i) for i in some.tolist()], np.int32)
        else:
            words = np.frombuffer(self.spans[2 * first : 2 * last + 2], np.int32).reshape(-1, 2)
        return words - np.int32(offset), which

    def yarn(self, name: str) -> int:
        """The number of a yarn by the designer's name for it."""
        try:
            return self.yarns.index(name)
        except ValueError:
            self.yarns.append(name)
            return len(self.yarns) - 1

    def _make_room(self, stitches: int, links: int) -> None:
        if self.n + stitches >= self._room:  # "first" ends with one more
            self._room = _room_for(self.n + stitches + 1, self._room)
            for name, a in self.buf.items():
                b = np.empty(self._room, a.dtype)
                b[: self.n] = a[: self.n]
                self.buf[name] = b
        if self.m + links > self._room_links:
            self._room_links = _room_for(self.m + links, self._room_links)
            parent, link = np.empty(self._room_links, np.int32), np.empty(self._room_links, np.int8)
            parent[: self.m], link[: self.m] = self.parent[: self.m], self.link[: self.m]
            self.parent, self.link = parent, link

    # --- appending -----------------------------------------------------------------------------

    def columns_of(self, loops: Int32) -> Int32:
        """The columns of some stitches."""
        got: Int32 = self.buf["column"][loops]
        return got

    def append(
        self,
        *,
        op: int | NDArray[Any],
        row: int,
        column: Int32 | None,
        seen: int | NDArray[Any],
        side: int,
        mount: int | NDArray[Any],
        yarn: int | NDArray[Any],
        span: int | NDArray[Any],
        pass_: int | NDArray[Any],
        count: int,
        parents: Int32,
        links: int | NDArray[Any],
        starts: Int32 | None = None,
        fresh: Int32 | None = None,
    ) -> Int32:
        """Append ``count`` stitches of one row and give their ids, (count,) int32, in working order.

        Each property is one value for the run or an array of (count,). ``column`` is None when all are new;
        ``fresh`` has the places, (new,), of those that open a new column all the same. ``parents`` are stitch
        ids, all of one stitch together; ``starts`` (count,) says where those of each begin, None for one each
        (or none at all if ``parents`` is empty).
        """
        n, m = self.n, self.m
        links_n = len(parents)
        self._make_room(count, links_n)
        a, b = n, n + count
        buf = self.buf
        buf["op"][a:b] = op
        buf["row"][a:b] = row
        buf["seen"][a:b] = seen
        buf["side"][a:b] = side
        buf["mount"][a:b] = mount
        buf["yarn"][a:b] = yarn
        buf["span"][a:b] = span
        buf["pass_"][a:b] = pass_
        ids: Int32 = np.arange(a, b, dtype=np.int32)
        if column is None:
            buf["column"][a:b] = np.arange(self.columns, self.columns + count, dtype=np.int32)
            self.columns += count
        else:
            buf["column"][a:b] = column
            if fresh is not None:
                k = len(fresh)
                buf["column"][a:b][fresh] = np.arange(self.columns, self.columns + k, dtype=np.int32)
                self.columns += k
        if starts is None:
            if links_n:
                buf["first"][a:b] = np.arange(m, m + count, dtype=np.int32)
            else:
                buf["first"][a:b] = m
        elif count:
            np.add(starts, m, out=buf["first"][a:b])
        self.parent[m : m + links_n] = parents
        self.link[m : m + links_n] = links
        self.n, self.m = b, m + links_n
        return ids

    def join(self, a: int, b: int, kind: Link) -> None:
        """Link two stitches that are both there already."""
        self.joins.extend((a, b, int(kind)))

    def join_each(self, loops: Int32, kind: Link) -> None:
        """Link each of some stitches that are there already to the next."""
        links = np.empty((max(len(loops) - 1, 0), 3), np.int32)
        links[:, 0], links[:, 1], links[:, 2] = loops[:-1], loops[1:], kind
        self.joins.frombytes(links.tobytes())

    def parents_of(self, stitch: int) -> Int32:
        """The stitches that ``stitch`` hangs on."""
        first = self.buf["first"]
        a = int(first[stitch])
        b = int(first[stitch + 1]) if stitch + 1 < self.n else self.m
        got: Int32 = self.parent[a:b]
        return got

    def begin_section(self) -> None:
        """The stitches that follow belong to the next section of the words."""
        self.sections.append(self.n)

    # --- the finished thing ----------------------------------------------------------------------

    def finish(self, ops: Sequence[str]) -> Fabric:
        """The finished fabric.

        The buffers are handed over (cut to length, read-only); this grower is done.
        """
        n, m = self.n, self.m

        def cut(name: str) -> NDArray[Any]:
            a = self.buf[name][:n]
            a.flags.writeable = False
            return a

        self.buf["first"][n] = m
        first = self.buf["first"][: n + 1]
        joins = np.array(self.joins, np.int32).reshape(-1, 3)
        spans = np.array(self.spans, np.int32).reshape(-1, 2)
        sections = np.array([*self.sections, n] if self.sections else [0, n], np.int32)
        parent, link = self.parent[:m], self.link[:m]
        kinds: Int8 = joins[:, 2].astype(np.int8)
        rest = (first, parent, link, joins, spans, sections, kinds)
        for a in rest:
            a.flags.writeable = False
        return Fabric(
            ops=tuple(ops), yarns=tuple(self.yarns),
            op_of_stitch=cut("op"), row_of_stitch=cut("row"), column_of_stitch=cut("column"),
            seen_of_stitch=cut("seen"), side_of_stitch=cut("side"), mount_of_stitch=cut("mount"),
            yarn_of_stitch=cut("yarn"), span_of_stitch=cut("span"), pass_of_stitch=cut("pass_"),
            first_parent_of_stitch=first, parent=parent, link=link,
            join_a=joins[:, 0], join_b=joins[:, 1], join_kind=kinds,
            span_start=spans[:, 0], span_end=spans[:, 1], first_stitch_of_section=sections,
        )  # fmt: skip
