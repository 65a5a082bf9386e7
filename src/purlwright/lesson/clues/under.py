"""K10: what lies under a decrease: the hole and the stitch beside it, or the three stitches of a bud."""

from __future__ import annotations

from collections.abc import Iterator

from purlwright.fabric.query import parent_counts
from purlwright.lesson.clues.clue import Claim, Clue, rows_said
from purlwright.lesson.clues.cost import LOOK
from purlwright.lesson.facts import Fact
from purlwright.lesson.rows import Done, Part, Row
from purlwright.proof.said import and_list
from purlwright.stitches.load import dictionary

KIND = "K10"
_PLAIN = frozenset({"k", "p", "k tbl", "p tbl", "sl", "sl wyif", "sl wyib"})
_DEEP = 3
"""Through so many plain rows the eye follows a stitch down."""


def find(part: Part) -> Iterator[Clue]:
    """The decrease with most in it that always lies over the same stitches, at least one of which is not
    plain.
    """
    found: dict[tuple[str, str], list[tuple[Row, tuple[str, ...]]]] = {}
    of = _Below(part)
    for r in part.rows:
        for d in r.seen.done:
            if (d.lean or d.net < 0) and not _of_plain_stitches(d.name):
                found.setdefault((_label(r), d.name), []).append((r, of.roles(d)))
    best: tuple[int, Clue] | None = None
    for (_, name), met in found.items():
        roles = {x for _, x in met}
        if len(roles) != 1:
            continue
        role = roles.pop()
        telling = sum(x not in {"", "a plain stitch", "?"} for x in role)
        if len({r.order for r, _ in met}) < 2 or not telling or "?" in role or not 2 <= len(role) <= 5:
            continue
        rows = list({r.order: r for r, _ in met}.values())
        said, stops = rows_said(part, rows)
        words = f"Each {_name(name)} takes {_listed(role)} of the rows below."
        clue = Clue(
            kind=KIND,
            words=words,
            rows=said,
            stops=stops,
            seconds=LOOK,
            claims=(
                Claim(
                    fact=Fact("under"),
                    orders=tuple(r.order for r in rows),
                    values=tuple((name, *role) for _ in rows),
                ),
            ),
        )
        if best is None or telling * len(met) > best[0]:
            best = telling * len(met), clue
    if best is not None:
        yield best[1]


def _of_plain_stitches(name: str) -> bool:
    """Whether a stitch was passed over that was not slipped for it ("k, k, psso", knitted before a turn): no
    decrease that a knitter would know by a name.
    """
    return "," in name and "psso" in name and not name.startswith("sl")


def _label(row: Row) -> str:
    return f"{row.entry.kind} {row.entry.number}" if row.entry.number is not None else row.entry.label


class _Below:
    """What each stitch stands on, looking down through plain stitches."""

    def __init__(self, part: Part) -> None:
        f = part.knitted.fabric
        self.names = [f.ops[i] for i in f.op_of_stitch.tolist()]
        self.first = f.first_parent_of_stitch.tolist()
        self.parent = f.parent.tolist()
        self.many = parent_counts(f).tolist()

    def roles(self, done: Done) -> tuple[str, ...]:
        """For each stitch it takes, in the order worked, what is found below."""
        return tuple(self._role(s) for s in done.taken)

    def _role(self, stitch: int) -> str:
        for _ in range(_DEEP):
            if stitch < 0:
                return "?"
            name = self.names[stitch]
            if name not in _PLAIN:
                return _role_of(name)
            if self.many[stitch] != 1:
                return "a plain stitch"
            stitch = self.parent[self.first[stitch]]
        return "a plain stitch"


def _role_of(name: str) -> str:
    s = dictionary().stitches.get(name)
    if s is None:
        return "a plain stitch"
    if s.loose.value == "yarn over" and s.family.value == "lace":
        return "a yarn over"
    if s.makes < s.takes:
        return f"a {_name(name)}"
    if s.makes > max(s.takes, 1):
        return "a stitch of an increase"
    return "a plain stitch"


def _name(name: str) -> str:
    s = dictionary().stitches.get(name)
    return s.us or s.name_us if s is not None else name


def _listed(role: tuple[str, ...]) -> str:
    if len(set(role)) == 1:
        one = role[0].removeprefix("a ")
        return (
            f"{len(role)} loops, each {role[0]},"
            if not one.startswith("stitch of")
            else f"the {len(role)} stitches of an increase"
        )
    return and_list(role)
