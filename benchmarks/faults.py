"""The printed faults: how many of the fault twins a proof finds, and what it says of the clean ones.

    python benchmarks/faults.py              prints the table, for the pairs in benchmarks/faults
    python benchmarks/faults.py FOLDER       for the pairs of another folder
    python benchmarks/faults.py --write      and writes benchmarks/FAULTS.md
    python benchmarks/faults.py --show 12    prints what was found in both twins of number 12

A fault is *found* if the faulty twin gets an error or a warning that its clean twin does not get, marked on a
line in the range that the truth table gives, for a size that is wrong (or for all). *Noted*: only a note is
so marked. *Elsewhere*: an error or a warning, but on another line or for another size. A clean twin is
*quiet* if it gets no error and no warning. Nothing here is asserted.
"""

from __future__ import annotations

import argparse
import sys
import tomllib
from collections import Counter, defaultdict
from collections.abc import Iterable
from pathlib import Path
from typing import Any, NamedTuple

from purlwright.findings import Finding, Severity
from purlwright.workup import WorkUp

HERE = Path(__file__).parent
FOLDER = HERE / "faults"
ABOUT = """# The printed faults

Made by `python benchmarks/faults.py --write`. Sixty-seven faults of published patterns were tallied; five are
for a person, and of the other sixty-two [faults](faults/README.md) holds a pair of small patterns each,
written before the checks by someone who had not seen them. *Found*: an error or a warning at the right row
and size that the clean twin does not get.

Pair 64 was corrected after it had been measured, for its clean twin was untrue at the needles: at its
gauge the edge of the cap was about 21 in. long and the armhole 17, and the "fault" fitted better than the
correction. The pullover is of a smaller size now, its sleeve narrower (a cap of about 17.5 in., 14.5 with the
fault); the armhole of 7 in., the cap of 4 and of 5.5 in. and the words that went wrong are as they were.
Pair 39 told 12 m for two pockets that take 17; both its twins tell 20 m now.

"""


class Told(NamedTuple):
    """One thing said of a pattern: code, message, its gravity, its line, and the sizes it was met in."""

    code: str
    message: str
    severity: Severity
    line: int
    others: tuple[int, ...]
    sizes: tuple[str, ...]


class Judged(NamedTuple):
    """What a proof made of one pair."""

    fault: dict[str, Any]
    outcome: str
    """"found", "noted", "elsewhere" or "nothing"."""
    by: tuple[str, ...]
    """Codes of what found it."""
    alarms: tuple[Told, ...]
    """Errors and warnings of the clean twin."""
    new: tuple[Told, ...]


def told(text: str) -> list[Told]:
    """Everything that a proof says of a text."""
    work = WorkUp(text)
    out = []
    for f in work.proved().findings:
        line = work.source.place(f.span.start)[0] if f.span.end >= 0 else 0
        others = tuple(work.source.place(r.span.start)[0] for r in f.related if r.span.end >= 0)
        out.append(Told(f.code, f.message, f.severity, line, others, _sizes(f)))
    return out


def _sizes(finding: Finding) -> tuple[str, ...]:
    return tuple(finding.sizes)


def judge(fault: dict[str, Any], folder: Path) -> Judged:
    """Prove both twins of a pair."""
    (clean,) = folder.glob(f"{fault['number']:02}-*.clean.pattern.md")
    faulty = clean.with_name(clean.name.replace(".clean.", ".faulty."))
    of_clean, of_faulty = (told(path.read_text(encoding="utf-8")) for path in (clean, faulty))
    before = Counter((t.code, t.message) for t in of_clean)
    new = []
    for t in of_faulty:
        if before[t.code, t.message]:
            before[t.code, t.message] -= 1
        else:
            new.append(t)
    first, last = fault["lines"]
    wrong = set(fault["sizes"])
    right_place = [
        t for t in new if first <= t.line <= last and (not wrong or not t.sizes or wrong & set(t.sizes))
    ]
    grave = [t for t in right_place if t.severity is not Severity.NOTE]
    if grave:
        outcome, by = "found", grave
    elif right_place:
        outcome, by = "noted", right_place
    elif any(t.severity is not Severity.NOTE for t in new):
        outcome, by = "elsewhere", [t for t in new if t.severity is not Severity.NOTE]
    else:
        outcome, by = "nothing", []
    alarms = tuple(t for t in of_clean if t.severity is not Severity.NOTE)
    return Judged(fault, outcome, tuple(dict.fromkeys(t.code for t in by)), alarms, tuple(new))


def table(judged: Iterable[Judged]) -> str:
    """The sums by kind, then one line a pair that was not found or whose clean twin is not quiet."""
    judged = list(judged)
    by_kind: dict[str, list[Judged]] = defaultdict(list)
    for j in judged:
        by_kind[j.fault["kind"]].append(j)
    lines = [
        "| kind | pairs | found | noted | elsewhere | nothing | clean twins quiet |",
        "|---|---|---|---|---|---|---|",
    ]
    lines += [_line(kind, of_kind) for kind, of_kind in by_kind.items()]
    lines += [_line("**all**", judged), "", "Found by:", ""]
    lines += [
        f"- {j.fault['number']} {j.fault['name']} ({j.fault['kind']}): {j.outcome}"
        + (f", {', '.join(j.by)}" if j.by else "")
        + (f"; the clean twin gets {', '.join(dict.fromkeys(t.code for t in j.alarms))}" if j.alarms else "")
        for j in judged
    ]
    return "\n".join(lines)


def _line(kind: str, judged: list[Judged]) -> str:
    outcomes = Counter(j.outcome for j in judged)
    quiet = sum(not j.alarms for j in judged)
    cells = [kind, len(judged), *(outcomes[o] for o in ("found", "noted", "elsewhere", "nothing")), quiet]
    return "| " + " | ".join(str(cell) for cell in cells) + " |"


def main(argv: list[str]) -> int:
    """Judge every pair and print the table."""
    parser = argparse.ArgumentParser(prog="faults.py")
    parser.add_argument("folder", nargs="?", type=Path, default=FOLDER)
    parser.add_argument("--write", action="store_true")
    parser.add_argument("--show", type=int, action="append", default=[])
    asked = parser.parse_args(argv)
    faults = tomllib.loads((asked.folder / "faults.toml").read_text(encoding="utf-8"))["fault"]
    judged = [
        judge(fault, asked.folder) for fault in faults if not asked.show or fault["number"] in asked.show
    ]
    for j in judged if asked.show else ():
        print(
            f"{j.fault['number']} {j.fault['name']}: {j.outcome}; lines {j.fault['lines']}, {j.fault['note']}"
        )
        for name, of_twin in (("clean", j.alarms), ("new in the faulty", j.new)):
            for t in of_twin:
                print(f"  {name}: line {t.line} {t.severity} {t.code}: {t.message} {', '.join(t.sizes)}")
    shown = table(judged)
    print(shown)
    if asked.write:
        (HERE / "FAULTS.md").write_text(ABOUT + shown + "\n", encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
