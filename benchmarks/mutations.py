"""Planted slips: how many of them a proof notices, and how often the true repair is offered.

    python benchmarks/mutations.py                     5,000 slips in the examples; prints the tables
    python benchmarks/mutations.py --slips 500         fewer
    python benchmarks/mutations.py --repairs 300       repairs are sought for so many of them
    python benchmarks/mutations.py --write             and writes benchmarks/MUTATIONS.md
    python benchmarks/mutations.py --missed KIND       prints the slips of a kind that were not noticed

A slip is one change of one line, as a tired hand makes it, drawn by a fixed seed. It is *caught* if the proof
gives an error or a warning that the unchanged pattern does not give; *in place* if one of them is marked on
the changed line or names it, or is the first after it. Nothing here is asserted.
"""

from __future__ import annotations

import argparse
import os
import random
import re
import sys
from collections import defaultdict
from collections.abc import Callable, Iterator
from itertools import pairwise
from multiprocessing import Pool
from pathlib import Path
from typing import NamedTuple

from purlwright.findings import Finding, Severity
from purlwright.workup import Kept, WorkUp

HERE = Path(__file__).parent
EXAMPLES = sorted((HERE.parent / "examples").glob("*.pattern.md"))
SEED = 20
ABOUT = """# Planted slips

Made by `python benchmarks/mutations.py --write`: {slips:,} slips in {patterns} examples, {repairs:,} of those
caught as errors looked at for repairs. A slip is one change of one line. *Caught*: an error or a warning that
the unchanged pattern does not give. *In place*: marked on the changed line, or on one up to three lines
after it. *Noted*: a note only (not counted as caught). *First*, *in three*: the true repair is the first
offered, or among the first three, of the slips looked at.

"""


class Slip(NamedTuple):
    """One changed text: which pattern, what kind, which line (from 1), and what it says now."""

    file: str
    kind: str
    line: int
    text: str


class Outcome(NamedTuple):
    """What a proof made of a slip. ``rank`` is the true repair's, from 1; 0 not offered; None not asked."""

    slip: Slip
    caught: bool
    noted: bool
    in_place: bool
    error: bool
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


COUNTED: dict[str, Mutate] = {
    "a number off": number_off, "a digit lost": digit_lost, "a total off": total_off,
    "one size off": size_entry_off, "a step left out": step_lost, "a step twice": step_twice,
    "a yarn over left out": yarn_over_lost, "another increase or decrease": stitch_changed,
    "more left out": more_lost, "a bracket lost": bracket_lost, "the star lost": star_lost,
    "a row left out": line_lost,
}  # fmt: skip
NEUTRAL: dict[str, Mutate] = {
    "two steps changed over": steps_swapped, "the other lean": lean_swapped, "knit for purl": knit_for_purl,
    "the other side": side_swapped, "two numbers changed over": numbers_swapped,
    "a hole left out": hole_lost,
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


def slips(count: int) -> Iterator[Slip]:
    """So many slips, spread evenly over kinds and patterns, always the same ones."""
    rng = random.Random(SEED)  # noqa: S311 - a fixed draw, no secret
    texts = {path: path.read_text(encoding="utf-8") for path in EXAMPLES}
    lines = {path: working_lines(WorkUp(text)) for path, text in texts.items()}
    kinds = [*COUNTED.items(), *NEUTRAL.items()]
    made = 0
    seen: set[tuple[Path, str]] = set()
    misses = 0
    while made < count and misses < 200_000:
        kind, mutate = kinds[rng.randrange(len(kinds))]
        path = EXAMPLES[rng.randrange(len(EXAMPLES))]
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
        yield Slip(path.name, kind, number, text)


# --- what a proof makes of them ------------------------------------------------------------------------

_kept: dict[str, Kept] = {}
_clean: dict[str, frozenset[tuple[str, str]]] = {}


def _said(findings: tuple[Finding, ...], grave: bool) -> frozenset[tuple[str, str]]:
    return frozenset((f.code, f.message) for f in findings if (f.severity is not Severity.NOTE) is grave)


def outcome(job: tuple[Slip, bool]) -> Outcome:
    """Prove one slip; and seek its repairs, if asked and it is an error."""
    slip, seek = job
    kept = _kept.setdefault(slip.file, Kept())
    original = (HERE.parent / "examples" / slip.file).read_text(encoding="utf-8")
    if slip.file not in _clean:
        proved = WorkUp(original, kept=kept).proved()
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
    return Outcome(slip, bool(grave), noted, in_place, error, rank)


def _plain(text: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"\s*([,;*])\s*", r"\1", text)).lower()


def table(outcomes: list[Outcome]) -> str:
    """One line a kind, then the sums."""
    by_kind: dict[str, list[Outcome]] = defaultdict(list)
    for o in outcomes:
        by_kind[o.slip.kind].append(o)
    head = "| slip | made | caught | in place | noted only | repairs sought | first | in three |"
    lines = [head, "|---|---|---|---|---|---|---|---|"]
    for name, kinds in (("changes the count", COUNTED), ("leaves the count", NEUTRAL)):
        of_name = [o for kind in kinds for o in by_kind[kind]]
        lines += [_line(kind, by_kind[kind]) for kind in kinds if by_kind[kind]]
        lines.append(_line(f"**{name}**", of_name))
    return "\n".join(lines)


def _line(name: str, outcomes: list[Outcome]) -> str:
    def share(n: int, of: int) -> str:
        return f"{100 * n / of:.1f} %" if of else ""

    made = len(outcomes)
    caught = [o for o in outcomes if o.caught]
    sought = [o for o in outcomes if o.rank is not None]
    cells = [
        name, f"{made:,}", share(len(caught), made), share(sum(o.in_place for o in caught), len(caught)),
        share(sum(o.noted and not o.caught for o in outcomes), made), f"{len(sought):,}",
        share(sum(o.rank == 1 for o in sought), len(sought)),
        share(sum(bool(o.rank and o.rank <= 3) for o in sought), len(sought)),
    ]  # fmt: skip
    return "| " + " | ".join(cells) + " |"


def main(argv: list[str]) -> int:
    """Draw the slips, prove them, print the table."""
    parser = argparse.ArgumentParser(prog="mutations.py")
    parser.add_argument("--slips", type=int, default=5000)
    parser.add_argument("--repairs", type=int, default=300)
    parser.add_argument("--write", action="store_true")
    parser.add_argument("--missed", metavar="KIND")
    parser.add_argument("--unmended", metavar="KIND")
    parser.add_argument("--processes", type=int, default=os.cpu_count() or 1)
    asked = parser.parse_args(argv)
    drawn = list(slips(asked.slips))
    every = max(1, len(drawn) // max(1, asked.repairs))
    jobs = [(slip, asked.repairs > 0 and n % every == 0) for n, slip in enumerate(drawn)]
    jobs.sort(key=lambda job: job[0].file)
    with Pool(asked.processes) as pool:
        outcomes = pool.map(outcome, jobs, chunksize=25)
    shown = table(outcomes)
    print(shown)
    for o in outcomes:
        missed = asked.missed == o.slip.kind and not o.caught
        unmended = asked.unmended == o.slip.kind and o.rank is not None and not 0 < o.rank <= 3
        if missed or unmended:
            said = o.slip.text.split("\n")[o.slip.line - 1]
            print(f"\n{o.slip.file}:{o.slip.line} rank {o.rank}\n  {said}")
    if asked.write:
        sought = sum(o.rank is not None for o in outcomes)
        about = ABOUT.format(slips=len(drawn), patterns=len(EXAMPLES), repairs=sought)
        (HERE / "MUTATIONS.md").write_text(about + shown + "\n", encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
