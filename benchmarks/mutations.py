"""Planted slips: how many of them a proof notices, and how often the true repair is offered.

    python benchmarks/mutations.py                     5,000 slips in the examples; prints the tables
    python benchmarks/mutations.py --slips 500         fewer
    python benchmarks/mutations.py --repairs 300       repairs are sought for so many that change the count
    python benchmarks/mutations.py --seed 7            another draw
    python benchmarks/mutations.py --of twins          in the clean twins of benchmarks/faults instead
    python benchmarks/mutations.py --write             and writes benchmarks/MUTATIONS.md
    python benchmarks/mutations.py --missed KIND       prints the slips of a kind that were not noticed
    python benchmarks/mutations.py --kept FILE         keeps what was proved, and goes on from it

A slip is one change of one line, as a tired hand makes it, drawn by a fixed seed. It is *caught* if the proof
gives an error or a warning that the unchanged pattern does not give; *in place* if one of them is marked on
the changed line or names it, or is the first after it. It makes the *same cloth* if in every size and with
every choice of options each row comes out as in the unchanged pattern, with the same stitches drawn through
the same loops in the same yarn: such a slip spoils nobody's knitting. Nothing here is asserted.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import os
import random
import re
import sys
from collections import defaultdict
from collections.abc import Callable, Iterator
from itertools import pairwise
from multiprocessing import Pool
from pathlib import Path
from typing import Any, NamedTuple

from purlwright.findings import Finding, Severity
from purlwright.workup import Kept, WorkUp

HERE = Path(__file__).parent
EXAMPLES = sorted((HERE.parent / "examples").glob("*.pattern.md"))
TWINS = sorted((HERE / "faults").glob("*.clean.pattern.md"))
SEED = 20
HEAD = "# Planted slips\n\nMade by `python benchmarks/mutations.py --write`.\n\n"
ABOUT = """## In {of}

{slips:,} slips in {patterns} {of}, seed {seed}; {repairs:,} of those that change the count and are errors
were looked at for repairs. **{all} of all slips are caught; {counted} of those that change the count,
{neutral} of those that leave it.** Of the slips that change the cloth at all, {cloth} are caught
({counted_cloth} and {neutral_cloth}). Of the repairs sought, {first} have the true one first and {three}
among the first three.

"""
MEANING = """## What is counted

A slip is one change of one line. *Caught*: an error or a warning that the unchanged pattern does not give.
*In place*: marked on the changed line, or on one up to three lines after it. *Noted*: a note only (not
counted as caught). *Same cloth*: nothing is said, and in every size and with every choice of options each row
comes out as before, the same stitches drawn through the same loops in the same yarn; such as `sm, sm`, or
`twice` for `twice more` where the total chooses. They count as not caught; *caught of the others* leaves them
out. *First*, *in three*: the true repair, letter for letter, is the first offered, or among the first three,
of those looked at. Nobody can tell what stood in a row that is gone, unless a rule of its neighbours does.

"""


class Slip(NamedTuple):
    """One changed text: which pattern, what kind, which line (from 1), and what it says now."""

    file: str
    kind: str
    line: int
    text: str


class Outcome(NamedTuple):
    """What a proof made of a slip.

    ``same`` if it makes the same cloth; ``rank`` is the true repair's, from 1; 0 not offered; None not asked.
    """

    slip: Slip
    caught: bool
    noted: bool
    in_place: bool
    error: bool
    same: bool
    rank: int | None


# --- slips --------------------------------------------------------------------------------------------------

_NUMBER = re.compile(r"(?<![\w.{])([A-Za-z]{0,2})(\d{1,3})(?![\d.}])")
_LABEL = re.compile(r"^\s*(?:[^:(]{1,40}only:\s*)?(?:Rows?|Rnds?|Rounds?|Next|Set-up|Inc|Dec)\b[^:]{0,40}:")
_TOTAL = re.compile(r"\([^()]*(?:\([^()]*\)[^()]*)?st(?:s|itches)?\b[^()]*\)")
_OPPOSITE = {
    "k2tog": "ssk", "ssk": "k2tog", "yo": "k1", "k1": "p1", "p1": "k1", "m1l": "m1r", "m1r": "m1l",
    "k3tog": "sssk", "ssp": "p2tog", "p2tog": "ssp",
}  # fmt: skip
_OTHER_COUNT = {
    "k2tog": "k3tog", "ssk": "sk2p", "sk2p": "k2tog", "k3tog": "k2tog", "yo": "yo twice", "kfb": "k1",
    "m1l": "k1", "m1r": "k1", "p2tog": "p3tog", "p3tog": "p2tog",
}  # fmt: skip

Mutate = Callable[[str, int, random.Random], "str | None"]
"""Changes a line, whose working words begin at a place; None if it cannot be slipped in this way."""


def _body(line: str) -> int:
    m = _LABEL.match(line)
    return m.end() if m else 0


def _working(line: str) -> str:
    """The line with its printed totals blanked out, for finding places in it."""
    return _TOTAL.sub(lambda m: " " * len(m[0]), line)


def _items(line: str, at: int) -> list[tuple[int, int]]:
    """Where the stitches between commas stand."""
    words = _working(line)
    spans = [(m.start(), m.end()) for m in re.finditer(r"[^,;:.()\[\]*\s][^,;:.()\[\]*]*", words[at:])]
    return [(a + at, a + at + len(words[a + at : b + at].rstrip())) for a, b in spans]


def _ops(line: str, at: int, table: dict[str, str]) -> list[tuple[int, int]]:
    return [(a, b) for a, b in _items(line, at) if line[a:b].lower() in table]


def _put(line: str, a: int, b: int, words: str) -> str:
    return line[:a] + words + line[b:]


def number_off(line: str, at: int, rng: random.Random) -> str | None:
    found = list(_NUMBER.finditer(_working(line), at))
    if not found:
        return None
    m = rng.choice(found)
    n = int(m[2]) + rng.choice([-2, -1, 1, 2])
    return _put(line, m.start(2), m.end(2), str(n)) if n > 0 else None


def digit_lost(line: str, at: int, rng: random.Random) -> str | None:
    found = [m for m in _NUMBER.finditer(_working(line), at) if len(m[2]) > 1]
    if not found:
        return None
    m = rng.choice(found)
    k = rng.randrange(len(m[2]))
    new = m[2][:k] + m[2][k + 1 :]
    return None if new.startswith("0") else _put(line, m.start(2), m.end(2), new)


def total_off(line: str, at: int, rng: random.Random) -> str | None:
    m = _TOTAL.search(line, at)
    numbers = list(re.finditer(r"\d+", m[0])) if m else []
    if m is None or not numbers:
        return None
    n = rng.choice(numbers)
    new = max(1, int(n[0]) + rng.choice([-10, -2, -1, 1, 2, 10]))
    return _put(line, m.start() + n.start(), m.start() + n.end(), str(new))


def size_entry_off(line: str, _at: int, rng: random.Random) -> str | None:
    lists = list(re.finditer(r"\d+ \((?:\d+(?:, )?)+\)", _working(line)))
    if not lists:
        return None
    m = rng.choice(lists)
    n = rng.choice(list(re.finditer(r"\d+", m[0])))
    new = max(1, int(n[0]) + rng.choice([-4, -2, -1, 1, 2, 4]))
    return _put(line, m.start() + n.start(), m.start() + n.end(), str(new))


def step_lost(line: str, at: int, rng: random.Random) -> str | None:
    items = _items(line, at)
    if len(items) < 2:
        return None
    n = rng.randrange(len(items))
    a, b = items[n]
    after = re.match(r"[,;]\s*", line[b:])
    before = re.search(r"[,;]\s*$", line[:a])
    if after:
        return _put(line, a, b + after.end(), "")
    return _put(line, before.start(), b, "") if before else None


def step_twice(line: str, at: int, rng: random.Random) -> str | None:
    items = [(a, b) for a, b in _items(line, at) if not line[a:b].lower().startswith(("rep", "to "))]
    if not items:
        return None
    a, b = rng.choice(items)
    return _put(line, b, b, f", {line[a:b].lower()}")


def yarn_over_lost(line: str, at: int, rng: random.Random) -> str | None:
    found = list(re.finditer(r"\byo, ", _working(line)[at:]))
    if not found:
        return None
    m = rng.choice(found)
    return _put(line, at + m.start(), at + m.end(), "")


def stitch_changed(line: str, at: int, rng: random.Random) -> str | None:
    found = _ops(line, at, _OTHER_COUNT)
    if not found:
        return None
    a, b = rng.choice(found)
    return _put(line, a, b, _OTHER_COUNT[line[a:b].lower()])


def more_lost(line: str, _at: int, _rng: random.Random) -> str | None:
    m = re.search(r" (?:more times|times more)\b|(?<=twice) more\b", line)
    return _put(line, m.start(), m.end(), " times" if "times" in m[0] else "") if m else None


def bracket_lost(line: str, at: int, rng: random.Random) -> str | None:
    found = [i for i, c in enumerate(_working(line)) if c in "()[]" and i >= at]
    if not found:
        return None
    i = rng.choice(found)
    return _put(line, i, i + 1, "")


def star_lost(line: str, at: int, _rng: random.Random) -> str | None:
    i = line.find("*", at)
    return _put(line, i, i + 1, "") if i >= 0 else None


def line_lost(line: str, at: int, _rng: random.Random) -> str | None:
    return "" if at and "only:" not in line else None


def steps_swapped(line: str, at: int, rng: random.Random) -> str | None:
    items = _items(line, at)
    pairs = [
        (x, y) for x, y in pairwise(items)
        if re.fullmatch(r",\s*", line[x[1] : y[0]]) and line[x[0] : x[1]].lower() != line[y[0] : y[1]].lower()
    ]  # fmt: skip
    if not pairs:
        return None
    (a, b), (c, d) = rng.choice(pairs)
    return line[:a] + line[c:d] + line[b:c] + line[a:b] + line[d:]


def lean_swapped(line: str, at: int, rng: random.Random) -> str | None:
    found = _ops(line, at, _OPPOSITE)
    found = [(a, b) for a, b in found if line[a:b].lower() not in {"yo", "k1", "p1"}]
    crossings = list(re.finditer(r"\b(?:C\d+|\d+/\d+ )([FBRL])(?=C?P?C?\b)", line[at:]))
    if not found and not crossings:
        return None
    if crossings and (not found or rng.random() < 0.5):
        m = rng.choice(crossings)
        other = {"F": "B", "B": "F", "R": "L", "L": "R"}
        return _put(line, at + m.start(1), at + m.end(1), other[m[1]])
    a, b = rng.choice(found)
    return _put(line, a, b, _OPPOSITE[line[a:b].lower()])


def knit_for_purl(line: str, at: int, rng: random.Random) -> str | None:
    found = list(re.finditer(r"\b([kpKP])(?=\d)|\b(knit|purl|Knit|Purl)\b", _working(line)[at:]))
    if not found:
        return None
    m = rng.choice(found)
    pairs = (("k", "p"), ("K", "P"), ("knit", "purl"), ("Knit", "Purl"))
    other = {a: b for pair in pairs for a, b in (pair, pair[::-1])}
    return _put(line, at + m.start(), at + m.end(), other[m[0]])


def side_swapped(line: str, at: int, _rng: random.Random) -> str | None:
    m = re.search(r"\b(RS|WS)\b", line[:at])
    return _put(line, m.start(), m.end(), "WS" if m[0] == "RS" else "RS") if m else None


def numbers_swapped(line: str, at: int, rng: random.Random) -> str | None:
    found = [m for m in _NUMBER.finditer(_working(line), at) if m[1]]
    pairs = [(x, y) for x, y in pairwise(found) if x[2] != y[2]]
    if not pairs:
        return None
    x, y = rng.choice(pairs)
    return line[: x.start(2)] + y[2] + line[x.end(2) : y.start(2)] + x[2] + line[y.end(2) :]


def hole_lost(line: str, at: int, rng: random.Random) -> str | None:
    """A yarn over and the decrease beside it, both left out for plain stitches."""
    words = _working(line)
    found = list(re.finditer(r"\b(?:yo, (?:k2tog|ssk)|(?:k2tog|ssk), yo)\b", words[at:]))
    if not found:
        return None
    m = rng.choice(found)
    return _put(line, at + m.start(), at + m.end(), "k2")


_SPELT = ("once", "twice", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def times_off(line: str, at: int, rng: random.Random) -> str | None:
    """A number in words: ``twice`` for ``once``, ``six times`` for ``five times``."""
    found = list(re.finditer(rf"\b(?:{'|'.join(_SPELT)})\b", _working(line)[at:]))
    if not found:
        return None
    m = rng.choice(found)
    n = _SPELT.index(m[0])
    other = _SPELT[1 - n] if n < 2 else _SPELT[min(9, max(2, n + rng.choice([-1, 1])))]
    return None if other == m[0] else _put(line, at + m.start(), at + m.end(), other)


def digits_over(line: str, at: int, rng: random.Random) -> str | None:
    """Two digits in the other order: ``84`` for ``48``."""
    found = [m for m in _NUMBER.finditer(_working(line), at) if len(m[2]) > 1 and m[2][0] != m[2][1]]
    if not found:
        return None
    m = rng.choice(found)
    new = m[2][1] + m[2][0] + m[2][2:]
    return None if new.startswith("0") else _put(line, m.start(2), m.end(2), new)


def digit_twice(line: str, at: int, rng: random.Random) -> str | None:
    """A key struck twice: ``66`` for ``6``."""
    found = list(_NUMBER.finditer(_working(line), at))
    if not found:
        return None
    m = rng.choice(found)
    return _put(line, m.start(2), m.end(2), m[2] + m[2][-1])


def row_twice(line: str, at: int, _rng: random.Random) -> str | None:
    """The whole row printed twice under its own number."""
    return f"{line}\n{line}" if at and "only:" not in line else None


def marker_lost(line: str, at: int, rng: random.Random) -> str | None:
    found = list(re.finditer(r"\b(?:sm|pm|slip m|place m), ", _working(line)[at:]))
    if not found:
        return None
    m = rng.choice(found)
    return _put(line, at + m.start(), at + m.end(), "")


def colour_other(line: str, _at: int, rng: random.Random) -> str | None:
    """``With A`` for ``With B``."""
    found = list(re.finditer(r"\b(?P<with>[Ww]ith )(?P<c>A|B|MC|CC)\b", line))
    if not found:
        return None
    m = rng.choice(found)
    other = {"A": "B", "B": "A", "MC": "CC", "CC": "MC"}[m["c"]]
    return _put(line, m.start("c"), m.end("c"), other)


def yarn_other_side(line: str, at: int, rng: random.Random) -> str | None:
    found = list(re.finditer(r"\bwyi([bf])\b", line[at:]))
    if not found:
        return None
    m = rng.choice(found)
    return _put(line, at + m.start(1), at + m.end(1), "f" if m[1] == "b" else "b")


def label_off(line: str, at: int, rng: random.Random) -> str | None:
    """Another number in the label: ``Row 6`` for ``Row 5``."""
    found = list(re.finditer(r"\d+", line[:at]))
    if not found:
        return None
    m = rng.choice(found)
    n = int(m[0]) + rng.choice([-1, 1, 10])
    return _put(line, m.start(), m.end(), str(n)) if n > 0 else None


def row_for_round(line: str, at: int, rng: random.Random) -> str | None:
    """A row called a round, or the reverse."""
    found = list(re.finditer(r"\b(?:[Rr]ows?|[Rr](?:n|oun)ds?)\b", line))
    if not found or not at:
        return None
    m = rng.choice(found)
    many = "s" if m[0].endswith("s") else ""
    word = ("rnd" if m[0].lower().startswith("row") else "row") + many
    return _put(line, m.start(), m.end(), word.capitalize() if m[0][0].isupper() else word)


COUNTED: dict[str, Mutate] = {
    "a number off": number_off, "a digit lost": digit_lost, "a total off": total_off,
    "one size off": size_entry_off, "a step left out": step_lost, "a step twice": step_twice,
    "a yarn over left out": yarn_over_lost, "another increase or decrease": stitch_changed,
    "more left out": more_lost, "a bracket lost": bracket_lost, "the star lost": star_lost,
    "a row left out": line_lost, "a row twice": row_twice, "a number in words off": times_off,
    "a marker left out": marker_lost, "two digits changed over": digits_over, "a digit twice": digit_twice,
}  # fmt: skip
NEUTRAL: dict[str, Mutate] = {
    "two steps changed over": steps_swapped, "the other lean": lean_swapped, "knit for purl": knit_for_purl,
    "the other side": side_swapped, "two numbers changed over": numbers_swapped,
    "a hole left out": hole_lost, "the other colour": colour_other, "yarn at the other side": yarn_other_side,
    "another row number": label_off, "row for round": row_for_round,
}  # fmt: skip


def working_lines(work: WorkUp) -> list[int]:
    """The numbers of the lines that are worked, from 1."""
    return sorted({
        line.line
        for section in work.pattern.sections
        if section.kind != "define"
        for line in section.lines
        if any(type(a).__name__ != "Note" for a in line.actions)
    })  # fmt: skip


def slips(count: int, seed: int = SEED, of: list[Path] = EXAMPLES) -> Iterator[Slip]:
    """So many slips, spread evenly over kinds and patterns, always the same ones for a seed."""
    rng = random.Random(seed)  # noqa: S311 - a fixed draw, no secret
    texts = {path: path.read_text(encoding="utf-8") for path in of}
    lines = {path: working_lines(WorkUp(text)) for path, text in texts.items()}
    kinds = [*COUNTED.items(), *NEUTRAL.items()]
    made = 0
    seen: set[tuple[Path, str]] = set()
    misses = 0
    while made < count and misses < 600_000:
        kind, mutate = kinds[rng.randrange(len(kinds))]
        path = of[rng.randrange(len(of))]
        number = rng.choice(lines[path])
        rows = texts[path].split("\n")
        line = rows[number - 1]
        new = mutate(line, _body(line), rng)
        if new is None or new.strip().lower() == line.strip().lower():
            misses += 1
            continue
        text = "\n".join([*rows[: number - 1], new, *rows[number:]])
        if (path, text) in seen:
            misses += 1
            continue
        seen.add((path, text))
        made += 1
        yield Slip(str(path.relative_to(HERE.parent)), kind, number, text)


# --- what a proof makes of them ------------------------------------------------------------------------

_kept: dict[str, Kept] = {}
_clean: dict[str, frozenset[tuple[str, str]]] = {}
_cloth: dict[str, str] = {}


def cloth(work: WorkUp) -> str:
    """What every size and choice comes out as, row by row and stitch by stitch, as one short string."""
    sum_ = hashlib.sha256()
    for knitted in work.proved().knitted:
        fabric = knitted.fabric
        names = [fabric.ops[op] for op in fabric.op_of_stitch.tolist()]
        rows = [
            (e.order, e.kind.value, str(e.side), e.start, e.worked, e.made, e.lost, e.held, e.returned, e.end)
            for piece in knitted.ledger.pieces
            for e in piece.rows
        ]
        ends = [(piece.bound_off, piece.live, piece.held) for piece in knitted.ledger.pieces]
        yarns = [fabric.yarns[yarn] for yarn in fabric.yarn_of_stitch.tolist()]
        sum_.update(repr((knitted.ledger.size, rows, ends, names, yarns)).encode())
        for array in (
            fabric.row_of_stitch, fabric.seen_of_stitch, fabric.mount_of_stitch,
            fabric.first_parent_of_stitch, fabric.parent, fabric.link,
            fabric.join_a, fabric.join_b, fabric.join_kind,
        ):  # fmt: skip
            sum_.update(array.tobytes())
    return sum_.hexdigest()


def _said(findings: tuple[Finding, ...], grave: bool) -> frozenset[tuple[str, str]]:
    return frozenset((f.code, f.message) for f in findings if (f.severity is not Severity.NOTE) is grave)


def outcome(job: tuple[Slip, bool]) -> Outcome:
    """Prove one slip; and seek its repairs, if asked and it is an error."""
    slip, seek = job
    kept = _kept.setdefault(slip.file, Kept())
    original = (HERE.parent / slip.file).read_text(encoding="utf-8")
    if slip.file not in _clean:
        unchanged = WorkUp(original, kept=kept)
        proved = unchanged.proved()
        _cloth[slip.file] = cloth(unchanged)
        _clean[slip.file] = _said(proved.findings, True) | _said(proved.findings, False)
    work = WorkUp(slip.text, kept=kept)
    proved = work.proved()
    clean = _clean[slip.file]
    grave = [
        f for f in proved.findings if f.severity is not Severity.NOTE and (f.code, f.message) not in clean
    ]
    noted = bool(_said(proved.findings, False) - clean)
    places = {work.source.place(f.span.start)[0] for f in grave if f.span.end >= 0}
    places |= {work.source.place(r.span.start)[0] for f in grave for r in f.related if r.span.end >= 0}
    in_place = any(0 <= n - slip.line <= 3 for n in places)
    error = any(f.severity is Severity.ERROR for f in grave)
    rank: int | None = None
    if seek and error:
        rank = 0
        for repair in work.repairs():
            for n, fix in enumerate(repair.fixes, 1):
                text = slip.text
                for edit in sorted(fix.edits, key=lambda e: -e.span.start):
                    text = text[: edit.span.start] + edit.words + text[edit.span.end :]
                if _plain(text) == _plain(original) and (rank == 0 or n < rank):
                    rank = n
    same = not grave and cloth(work) == _cloth[slip.file]
    return Outcome(slip, bool(grave), noted, in_place, error, same, rank)


def _plain(text: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"\s*([,;*])\s*", r"\1", text)).lower()


def table(outcomes: list[Outcome]) -> str:
    """One line a kind, then the sums."""
    by_kind: dict[str, list[Outcome]] = defaultdict(list)
    for o in outcomes:
        by_kind[o.slip.kind].append(o)
    head = "| slip | made | caught | same cloth | caught of the others | in place | noted only |"
    lines = [head + " repairs sought | first | in three |", "|---" * 10 + "|"]
    for name, kinds in (("changes the count", COUNTED), ("leaves the count", NEUTRAL)):
        of_name = [o for kind in kinds for o in by_kind[kind]]
        lines += [_line(kind, by_kind[kind]) for kind in kinds if by_kind[kind]]
        lines.append(_line(f"**{name}**", of_name))
    return "\n".join(lines)


def _share(n: int, of: int) -> str:
    return f"{100 * n / of:.1f} %" if of else ""


def _of_others(outcomes: list[Outcome]) -> str:
    """The share caught of the slips that change the cloth."""
    return _share(sum(o.caught for o in outcomes), sum(not o.same for o in outcomes))


def _line(name: str, outcomes: list[Outcome]) -> str:
    made = len(outcomes)
    caught = [o for o in outcomes if o.caught]
    sought = [o for o in outcomes if o.rank is not None]
    cells = [
        name, f"{made:,}", _share(len(caught), made), f"{sum(o.same for o in outcomes):,}",
        _of_others(outcomes),
        _share(sum(o.in_place for o in caught), len(caught)),
        _share(sum(o.noted and not o.caught for o in outcomes), made), f"{len(sought):,}",
        _share(sum(o.rank == 1 for o in sought), len(sought)),
        _share(sum(bool(o.rank and o.rank <= 3) for o in sought), len(sought)),
    ]  # fmt: skip
    return "| " + " | ".join(cells) + " |"


def about(outcomes: list[Outcome], of: str, patterns: int, seed: int) -> str:
    """What stands above the table."""
    counted = [o for o in outcomes if o.slip.kind in COUNTED]
    neutral = [o for o in outcomes if o.slip.kind in NEUTRAL]
    ranks = [o.rank for o in outcomes if o.rank is not None]
    return ABOUT.format(
        of=of,
        seed=seed,
        slips=len(outcomes),
        patterns=patterns,
        repairs=len(ranks),
        all=_share(sum(o.caught for o in outcomes), len(outcomes)),
        counted=_share(sum(o.caught for o in counted), len(counted)),
        neutral=_share(sum(o.caught for o in neutral), len(neutral)),
        cloth=_of_others(outcomes),
        counted_cloth=_of_others(counted),
        neutral_cloth=_of_others(neutral),
        first=_share(sum(r == 1 for r in ranks), len(ranks)),
        three=_share(sum(0 < r <= 3 for r in ranks), len(ranks)),
    )


class Keep:
    """Outcomes kept in a file, one a line, so that a run that stops goes on where it was."""

    def __init__(self, path: Path | None) -> None:
        self._path = path
        self.known: dict[str, list[Any]] = {}
        if path is not None and path.exists():
            for line in path.read_text(encoding="utf-8").splitlines():
                key, *rest = json.loads(line)
                self.known[key] = rest

    @staticmethod
    def key(job: tuple[Slip, bool]) -> str:
        return hashlib.sha256(repr(job).encode()).hexdigest()

    def outcome(self, job: tuple[Slip, bool]) -> Outcome | None:
        found = self.known.get(self.key(job))
        return Outcome(job[0], *found) if found is not None else None

    def add(self, job: tuple[Slip, bool], made: Outcome) -> None:
        if self._path is not None:
            with self._path.open("a", encoding="utf-8") as file:
                file.write(json.dumps([self.key(job), *made[1:]]) + "\n")


def prove_all(asked: argparse.Namespace, of: list[Path], keep: Keep) -> list[Outcome]:
    """Every slip proved; then repairs sought for a draw of those that change the count and are errors."""
    drawn = sorted(slips(asked.slips, asked.seed, of), key=lambda slip: slip.file)
    with Pool(asked.processes) as pool:
        made = _each(pool, [(slip, False) for slip in drawn], keep)
        errors = [n for n, o in enumerate(made) if o.error and o.slip.kind in COUNTED]
        rng = random.Random(asked.seed)  # noqa: S311 - a fixed draw, no secret
        chosen = sorted(rng.sample(errors, min(asked.repairs, len(errors))))
        for n, o in zip(chosen, _each(pool, [(drawn[n], True) for n in chosen], keep), strict=True):
            made[n] = o
    return made


def _each(pool: Any, jobs: list[tuple[Slip, bool]], keep: Keep) -> list[Outcome]:
    todo = [job for job in jobs if keep.outcome(job) is None]
    fresh = {}
    for job, made in zip(todo, pool.imap(outcome, todo, chunksize=5), strict=True):
        keep.add(job, made)
        fresh[job] = made
    return [fresh.get(job) or keep.outcome(job) or outcome(job) for job in jobs]


def main(argv: list[str]) -> int:
    """Draw the slips, prove them, print the table."""
    parser = argparse.ArgumentParser(prog="mutations.py")
    parser.add_argument("--slips", type=int, default=5000)
    parser.add_argument("--repairs", type=int, default=300)
    parser.add_argument("--seed", type=int, default=SEED)
    parser.add_argument("--of", choices=["examples", "twins", "both"], default="examples")
    parser.add_argument("--write", action="store_true")
    parser.add_argument("--missed", metavar="KIND")
    parser.add_argument("--unmended", metavar="KIND")
    parser.add_argument("--kept", type=Path, metavar="FILE")
    parser.add_argument("--processes", type=int, default=os.cpu_count() or 1)
    asked = parser.parse_args(argv)
    keep = Keep(asked.kept)
    page = HEAD
    both = {"examples": ("examples", EXAMPLES), "twins": ("clean twins", TWINS)}
    wanted = list(both) if asked.of == "both" else [asked.of]
    for name in wanted:
        said, of = both[name]
        outcomes = prove_all(asked, of, keep)
        shown = about(outcomes, said, len(of), asked.seed) + table(outcomes) + "\n\n"
        print(shown)
        page += shown
        _show(outcomes, asked)
    if asked.write:
        (HERE / "MUTATIONS.md").write_text(page + MEANING.rstrip("\n") + "\n", encoding="utf-8")
    return 0


def _show(outcomes: list[Outcome], asked: argparse.Namespace) -> None:
    """The slips of a kind that were not noticed, or not mended, as far as they are asked for."""
    for o in outcomes:
        missed = asked.missed == o.slip.kind and not o.caught and not o.same
        unmended = asked.unmended == o.slip.kind and o.rank is not None and not 0 < o.rank <= 3
        if missed or unmended:
            said = o.slip.text.split("\n")[o.slip.line - 1]
            print(f"\n{o.slip.file}:{o.slip.line} rank {o.rank}\n  {said}")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
