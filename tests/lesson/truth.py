"""What is so after each row, read off the moves and the fabric: the truth that every clue is held to.

Shares no code with the lesson room. Where a fact cannot be known from here (a stitch passed over, one of the pattern's
own) it is ``UNKNOWN``, and the tests count how often that is.
"""

from collections import defaultdict
from itertools import pairwise

import numpy as np

from purlwright.fabric.arrays import Link, Seen
from purlwright.needles.ledger import Kind
from purlwright.stitches.load import dictionary

UNKNOWN = object()
NO_STITCH = {"slip marker", "place marker", "remove marker", "yarn front", "yarn back", "turn"}
ODD = {"pass over", "slip back", "drop", "hold", "return", "bind off"}
DRAWN = (Link.DRAWN, Link.TUCKED, Link.CROSSED_FRONT, Link.CROSSED_BACK)
LANDMARKS = ("holes", "crossings", "increases", "decreases", "turns")


def stitch(name):
    return dictionary().stitches.get(name)


def is_hole(name):
    s = stitch(name)
    return s is not None and s.loose.value == "yarn over" and s.family.value == "lace"


class Truth:
    def __init__(self, knitted):
        self.knitted = knitted
        self.fabric = f = knitted.fabric
        self.entry = {e.order: e for e in knitted.ledger.entries}
        self.piece_of = {e.order: p for p in knitted.ledger.pieces for e in p.rows}
        self.moves = defaultdict(list)
        m = knitted.moves
        for op, taken, made, new, row, span, pass_ in zip(
            m.op_of_move.tolist(), m.taken_of_move.tolist(), m.made_of_move.tolist(), m.stitch_of_move.tolist(),
            m.row_of_move.tolist(), m.span_of_move.tolist(), m.pass_of_move.tolist(), strict=True,
        ):  # fmt: skip
            self.moves[row].append((m.ops[op], taken, made, new, span, pass_))
        self.own = {i[-1] for i in knitted.log if i[0] == "own" and not (i[3] >= 0 and i[4] == i[3] + 1)}
        self.first = f.first_parent_of_stitch.tolist()
        self.parent = f.parent.tolist()
        self.link = f.link.tolist()
        self.seen = f.seen_of_stitch.tolist()
        self.bumps = {}
        self.names = [f.ops[i] for i in f.op_of_stitch.tolist()]

    def parents(self, s):
        a, b = self.first[s], self.first[s + 1]
        return [p for p, how in zip(self.parent[a:b], self.link[a:b], strict=True) if how in DRAWN]

    def simple(self, order):
        """Whether each move of the row is one stitch of the dictionary, or moves no loop."""
        moves = [m for m in self.moves[order] if m[0] not in NO_STITCH]
        return order not in self.own and all(op not in ODD and stitch(op) is not None for op, *_ in moves)

    def work(self, order):
        return [m for m in self.moves[order] if m[0] not in NO_STITCH and (m[1] or m[2])]

    def of(self, fact, order):
        """The value of a fact after the row with this order."""
        e = self.entry[order]
        name, a, b = fact
        match name:
            case "count":
                return e.end
            case "remainder":
                return e.end % a
            case "change":
                return e.end - e.start
            case "is":
                return int(e.end == a)
            case "waiting":
                return e.unworked
            case "waiting is":
                return int(e.unworked == a)
            case "worked":
                return sum(m[1] for m in self.moves[order]) if self.simple(order) else e.worked
            case "gaps":
                return len(e.gaps)
            case "gap steps":
                at = sorted(g.from_right_rs for g in e.gaps)
                return tuple(sorted({y - x for x, y in pairwise(at)}))
            case "fence":
                fences = self.fences(order)
                return fences if fences is UNKNOWN else fences[a]
            case "fence difference":
                fences = self.fences(order)
                return fences if fences is UNKNOWN else fences[a] - fences[b]
            case "side":
                return e.side.value if e.side is not None else ""
            case "odd number":
                return e.number % 2
            case "ridges right" | "ridges left":
                return self.ridges(e, right=name.endswith("right"))
            case "chains right":
                return e.chains_right
            case "chains left":
                return e.chains_left
            case "yarns":
                return e.yarns
            case "stitches so far":
                return int(np.searchsorted(self.fabric.row_of_stitch, order, "right"))
            case "faces":
                return self.faces(order)
            case "first":
                return self.first_face(e)
        if not self.simple(order):
            return UNKNOWN
        return self.of_work(fact, e)

    def of_work(self, fact, e):
        work = self.work(e.order)
        names = [m[0] for m in work]
        match fact.name:
            case "begins":
                return tuple(names[: fact.a])
            case "ends":
                return tuple(names[-fact.a :])
            case "left over":
                again = {m[4] for m in work if m[5] > 1}
                last = max((i for i, m in enumerate(work) if m[4] in again), default=None)
                return None if last is None else sum(m[1] for m in work[last + 1 :])
            case "first hole" | "last hole":
                at = 0
                for m in work if fact.name == "first hole" else work[::-1]:
                    if is_hole(m[0]):
                        return at
                    at += m[2]
                return None
            case "holds":
                return int(LANDMARKS[fact.a] in self.holds(e, work))
            case "kinds":
                return tuple(x for x in LANDMARKS if x in self.holds(e, work))
            case "leans":
                return self.leans(e, work)
            case "right edge" | "left edge":
                k = min(fact.a, len(work) // 2)
                first = (fact.name == "right edge") == (e.side.value != "WS")
                return sum(m[2] - m[1] for m in (work[:k] if first else work[len(work) - k :]))
            case "under":
                return UNKNOWN
        raise AssertionError(fact)

    def holds(self, e, work):
        out = set()
        for name, taken, made, *_ in work:
            s = stitch(name)
            if is_hole(name):
                out.add("holes")
            elif made > taken and s.family.value not in {"pick-up", "cast-on"}:
                out.add("increases")
            elif 0 < made < taken:
                out.add("decreases")
            if s.family.value in {"cable", "twist"}:
                out.add("crossings")
        return out | ({"turns"} if e.unworked else set())

    def leans(self, e, work):
        whole, at = sum(m[2] for m in work), 0
        halves = {"right": set(), "left": set()}
        for name, taken, made, *_ in work:
            s, twice = stitch(name), 2 * at + made
            if made < taken and s.lean.value != "none" and twice != whole:
                early = twice < whole
                halves["right" if early == (e.side.value != "WS") else "left"].add(s.lean.value)
            at += made
        return tuple(tuple(sorted(halves[h])) for h in ("right", "left"))

    def faces(self, order):
        """From the new stitches that hang on one stitch, which hangs no other on it in this row."""
        f = self.fabric
        a, b = (int(np.searchsorted(f.row_of_stitch, order, side)) for side in ("left", "right"))
        met, used = set(), defaultdict(int)
        for s in range(a, b):
            for p in self.parents(s):
                used[p] += 1
        for s in range(a, b):
            ps = self.parents(s)
            if len(ps) == 1 and used[ps[0]] == 1 and Seen.NONE not in {self.seen[s], self.seen[ps[0]]}:
                met.add("same" if self.seen[s] == self.seen[ps[0]] else "other")
        return "" if not met else met.pop() if len(met) == 1 else "mixed"

    def first_face(self, e):
        """What the first loop on the left needle shows to her; unknown where it is not drawn through."""
        work = self.work(e.order)
        if not work or work[0][1] != 1 or work[0][3] < 0:
            return UNKNOWN
        ps = self.parents(work[0][3])
        if len(ps) != 1:
            return UNKNOWN
        knit = self.seen[ps[0]] == Seen.KNIT
        return "V" if knit == (e.side.value != "WS") else "bump"

    def fences(self, order):
        """From where in the row the markers were met; unknown in short rows, which do not meet them all."""
        e = self.entry[order]
        moves = self.moves[order]
        before = self.entry.get(order - 1)
        if e.unworked or (before is not None and before.unworked) or e.gaps or not self.simple(order):
            return UNKNOWN
        at, here = [], 0
        for name, _, made, *_ in moves:
            here += made
            if name in {"slip marker", "place marker"}:
                at.append(here)
        if len(at) != len({m.after for m in e.markers} - ({0, e.end} if e.kind is Kind.ROUND else set())):
            return UNKNOWN  # one was passed without a word
        between = [y - x for x, y in pairwise([0, *at, here])]
        return between if e.side.value != "WS" else between[::-1]

    def ridges(self, upto, *, right):
        """Bumps at one edge, from the outermost stitch of each row that comes to that edge."""
        piece = self.piece_of[upto.order]
        if (id(piece), right) not in self.bumps:
            self.bumps[id(piece), right] = dict(self.count_ridges(piece, right=right))
        return self.bumps[id(piece), right].get(upto.order, UNKNOWN)

    def count_ridges(self, piece, *, right):
        """The bumps so far after each row, as far as they can be known."""
        f, n, turned = self.fabric, 0, False
        for e in piece.rows:
            if e.kind not in {Kind.ROW, Kind.ROUND}:
                continue
            if e.kind is Kind.ROUND or not self.simple(e.order):
                return
            begins_right = e.side.value == "RS"
            reached = not turned if begins_right == right else not e.unworked
            turned = bool(e.unworked)
            if reached:
                work = self.work(e.order)
                move = work[0] if begins_right == right else work[-1]
                if move[3] < 0:
                    return  # slipped
                a, b = (int(np.searchsorted(f.row_of_stitch, e.order, side)) for side in ("left", "right"))
                n += self.seen[a if begins_right == right else b - 1] == Seen.PURL
            yield e.order, n

    def under(self, order, name):
        """For each stitch of this name in the row, what its loops stand on, through up to three plain rows."""
        f = self.fabric
        a, b = (int(np.searchsorted(f.row_of_stitch, order, side)) for side in ("left", "right"))
        mine = [s for s in range(a, b) if self.names[s] == name]
        return [tuple(self.role(p) for p in self.parents(s)) for s in mine]

    def role(self, s):
        for _ in range(3):
            kind = stitch(self.names[s])
            if is_hole(self.names[s]):
                return "hole"
            if kind is not None and kind.makes < kind.takes:
                return "fewer"
            if kind is not None and kind.makes > max(kind.takes, 1):
                return "more"
            ps = self.parents(s)
            if self.names[s] not in {"k", "p", "k tbl", "p tbl"} or len(ps) != 1:
                return "plain"
            s = ps[0]
        return "plain"
