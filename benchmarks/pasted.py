"""Whole patterns pasted into the bench as they are found: what is read, and whether what is not is explained.

    python benchmarks/pasted.py FOLDER            five modern and five old patterns, one line of figures each
    python benchmarks/pasted.py FOLDER --all      every pattern of the folder
    python benchmarks/pasted.py FOLDER --write    and writes benchmarks/PASTED.md
    python benchmarks/pasted.py FOLDER --bare     and prints each line that is neither read nor explained

In: a folder as in ``reading.py``. The lines of each pattern are joined as they stand, with no head, and go
through the page's own addresses: ``/api/paste``, then ``/api/work``. A line is *read* as in ``reading.py``;
*marked* if a finding of the answer touches it; *noted* if the page sets words of it as a note, which tells,
when she rests on it, that nothing is knitted from them. A line that is not read, marked or noted is *bare*:
the page would show its words and say nothing. Out: the figures; exit code 1 if any line is bare.
"""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from reading import judge
from starlette.testclient import TestClient

from purlwright.bench.app import create_app
from purlwright.pattern.file import read_pattern
from purlwright.text import Source

HERE = Path(__file__).parent
KEY, PORT = "the-key-of-this-run", 8321
HOME = f"http://127.0.0.1:{PORT}"
HEAD = """\
# Patterns pasted as they are found

Made by `python benchmarks/pasted.py FOLDER --write`, on five modern and five old patterns of a folder kept
apart: evenly spread over each kind in the order of their names. Their lines are joined as they stand, with no
head, and pasted. *Read*: every word of the line has a meaning. *Marked*: a remark of the bench stands at the
line. *Note only*: not read and not marked, but set in italics as a note, of which the page says that nothing
is knitted from it. *Bare*: not read, and nothing on the page says so; there must be none.

| pattern | kind | lines | read | marked | not read | note only | bare |
| --- | --- | ---: | ---: | ---: | ---: | ---: | ---: |
"""


@dataclass(frozen=True, slots=True)
class Pasted:
    """The figures of one pattern, and its bare lines: (number of the line, its words, what was not read)."""

    id: str
    old: bool
    lines: int
    read: int
    marked: int
    noted: int
    bare: tuple[tuple[int, str, tuple[str, ...]], ...]

    def cells(self) -> str:
        kind = "old" if self.old else "modern"
        figures = (self.lines, self.read, self.marked, self.lines - self.read, self.noted, len(self.bare))
        return f"| {self.id} | {kind} | {' | '.join(map(str, figures))} |"


def as_found(raw: dict[str, Any]) -> str:
    """The lines of a pattern, joined as a page has them."""
    both = ((line.get("label") or "", line.get("text") or "") for line in raw["lines"])
    return "\n".join(f"{label} {text}".strip() for label, text in both)


def unread_lines(text: str) -> dict[int, tuple[str, ...]]:
    """The lines, by number, that hold words without a meaning, and those words."""
    source = Source(text)
    out: dict[int, tuple[str, ...]] = {}
    for section in read_pattern(source).sections:
        for line in section.lines:
            _, unread = judge([line], line.text, line.offset)
            if unread:
                out[line.line] = (*out.get(line.line, ()), *unread)
    return out


def touched(text: str, findings: Iterable[dict[str, Any]]) -> set[int]:
    """The numbers of the lines at which a finding stands, its places counted in UTF-16 units."""
    units = text.encode("utf-16-le")

    def line_of(place: int) -> int:
        return units[: 2 * place].decode("utf-16-le").count("\n") + 1

    out: set[int] = set()
    for one in findings:
        if one["from"] is not None:
            out |= set(range(line_of(one["from"]), line_of(max(one["from"], one["to"] - 1)) + 1))
    return out


def paste(client: TestClient, raw: dict[str, Any]) -> Pasted:
    """One pattern, pasted and worked."""
    text = client.post("/api/paste", json={"text": as_found(raw)}).json()["text"]
    answer = client.post("/api/work", json={"text": text})
    if answer.status_code != 200:
        raise SystemExit(f"{raw['id']}: the bench did not answer: {answer.json()['message']}")
    work = answer.json()
    marked, noted, unread = touched(text, work["findings"]), touched(text, work["notes"]), unread_lines(text)
    lines = {n: words for n, words in enumerate(text.split("\n"), 1) if words.strip()}
    bare = tuple((n, lines.get(n, ""), words) for n, words in unread.items() if n not in marked | noted)
    return Pasted(
        id=raw["id"],
        old=bool(raw.get("old")),
        lines=len(lines),
        read=len(lines) - len(unread),
        marked=len(marked & lines.keys()),
        noted=sum(n in noted and n not in marked for n in unread),
        bare=bare,
    )


def spread(found: list[dict[str, Any]], many: int) -> Iterator[dict[str, Any]]:
    """So many of a list, evenly spread over it."""
    many = min(many, len(found))
    yield from (found[(2 * k + 1) * len(found) // (2 * many)] for k in range(many))


def chosen(folder: Path, *, every: bool) -> list[dict[str, Any]]:
    """The patterns that are pasted, modern ones first."""
    found = [json.loads(path.read_text(encoding="utf-8")) for path in sorted(folder.glob("*.json"))]
    kinds = [[raw for raw in found if bool(raw.get("old")) is old] for old in (False, True)]
    return [raw for kind in kinds for raw in (kind if every else spread(kind, 5))]


def main(argv: list[str] | None = None) -> int:
    ask = argparse.ArgumentParser(description="Patterns pasted into the bench as they are found.")
    ask.add_argument("folder", type=Path)
    ask.add_argument("--all", action="store_true", help="every pattern, not ten")
    ask.add_argument("--write", action="store_true", help="write benchmarks/PASTED.md")
    ask.add_argument("--bare", action="store_true", help="print the lines that are not explained")
    asked = ask.parse_args(argv)
    raws = chosen(asked.folder, every=asked.all)
    if not raws:
        print(f"{asked.folder} holds no pattern.", file=sys.stderr)
        return 2
    done: list[Pasted] = []
    with (
        tempfile.TemporaryDirectory() as home,
        TestClient(
            create_app(Path(home), key=KEY, port=PORT), base_url=HOME, follow_redirects=False
        ) as client,
    ):
        client.get("/open", params={"key": KEY})
        client.headers["origin"] = HOME
        for raw in raws:
            done.append(paste(client, raw))
            print(done[-1].cells(), flush=True)
            if asked.bare:
                for n, words, unread in done[-1].bare:
                    print(f"    line {n}: {words[:160]!r}: {unread}")
    if asked.write:
        (HERE / "PASTED.md").write_text(HEAD + "\n".join(p.cells() for p in done) + "\n", encoding="utf-8")
    return 1 if any(p.bare for p in done) else 0


if __name__ == "__main__":
    sys.exit(main())
