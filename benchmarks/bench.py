"""How long after a keystroke the margin of the bench has its answer: through the server, as the page asks it.

    python benchmarks/bench.py             print the table
    python benchmarks/bench.py --write     and write it to benchmarks/BENCH.md
    python benchmarks/bench.py --keys 40   so many keystrokes a pattern

A real bench is started in processes of its own. A pattern is opened, words are typed into rows spread over
it, one letter at a time, and after each letter the whole text is sent and its answer, rows and findings, is
waited for and read. Half-typed words are errors, so that what follows is knitted anew, as it is in life.
Beside each figure stands what an empty answer of the same server took, and a fixed loop of Python.
"""

from __future__ import annotations

import argparse
import json
import os
import platform
import re
import statistics
import subprocess
import sys
import threading
import time
from http.client import HTTPConnection
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

HERE = Path(__file__).parent
ABOUT = """# The bench while one types

Made by `python benchmarks/bench.py --write`.
{machine}.

A real bench in processes of its own, asked over HTTP as its page asks: after each letter the whole text is
sent, and what is measured ends when the answer, every row with side and counts and every finding of reading
and knitting, has been read. Letters are typed into rows spread over the pattern; half-typed words are errors.
The proof of every size is asked for apart, by another process, and takes the page its own time; how long is
told. The time of an empty answer of the same server is in each figure. The fixed loop is a million additions
in Python, to tell how fast, or how busy, the machine was. *Least* is the quickest of all keystrokes: what it
takes when nothing else runs. How busy: the load of the last minute was {load}.

| pattern | stitches | rows | letters typed | median | p95 | least | must be under (p95) |
|---|---|---|---|---|---|---|---|
{rows}
| an empty answer | | | {empty_n} | {empty} | {empty_p95} | {empty_least} | |
| a fixed loop | | | {loop_n} | {loop} | {loop_p95} | {loop_least} | |
"""


class Typed(NamedTuple):
    """What was measured of one pattern, in ms."""

    name: str
    stitches: int
    rows: int
    took: list[float]
    target: float


def lace(stitches: int, rows: int) -> str:
    """A shawl panel in rows written out one by one, no two next to each other alike."""
    lines = [
        "# Spindrift Panel",
        "Gauge: 20 sts and 28 rows = 10 cm in stockinette stitch",
        "",
        f"Cast on {stitches} sts.",
    ]
    times = (stitches - 4) // 8
    for n in range(1, rows + 1):
        if n % 2:
            k = n // 2 % 5
            lines.append(
                f"Row {n} (RS): K2, [k{k + 1}, yo, k2tog, k{5 - k}] {times} times, k2. ({stitches} sts)"
            )
        else:
            lines.append(f"Row {n} (WS): Purl.")
    return "\n".join([*lines, "Bind off.", ""])


class Bench:
    """A bench in a process of its own, on a folder that is gone afterwards."""

    def __init__(self, folder: str) -> None:
        command = [sys.executable, "-m", "purlwright", "bench", folder, "--no-open"]
        self.process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
        assert self.process.stdout is not None
        for line in self.process.stdout:
            if found := re.search(r"http://127\.0\.0\.1:(\d+)/open\?key=(\S+)", line):
                self.link, self.port, key = found[0], int(found[1]), found[2]
                break
        else:
            raise SystemExit("the bench did not open")
        self.line = HTTPConnection("127.0.0.1", self.port)
        self.typed = b""
        """The last text that was sent."""
        self.headers = {
            "Cookie": f"purlwright-bench-{self.port}={key}",
            "Origin": f"http://127.0.0.1:{self.port}",
            "Content-Type": "application/json",
        }

    def ask(self, method: str, path: str, body: object = None) -> tuple[dict[str, object], float]:
        """An answer, and after how many ms it was read."""
        begun = time.perf_counter()
        sent = None if body is None else json.dumps(body).encode()
        self.line.request(method, path, sent, self.headers)
        answer = self.line.getresponse()
        told = json.loads(answer.read())
        took = (time.perf_counter() - begun) * 1000
        assert answer.status == 200, told
        return told, took

    def end(self) -> None:
        self.process.terminate()
        self.process.wait()


def typed(bench: Bench, name: str, text: str, keys: int, target: float) -> Typed:
    """Type into rows spread over the pattern, letter by letter."""
    asked: dict[str, object] = {"path": name, "version": 0, "text": text}
    told, _ = bench.ask("POST", "/api/work", asked)
    bench.ask("POST", "/api/work", asked)
    places = [m.start() for m in re.finditer(r"K2, \[", text)]
    word = "k1, yo, k2tog, "
    took: list[float] = []
    spot = 0
    while len(took) < keys:
        at = places[len(places) * (2 * spot % 7 + 1) // 8]
        spot += 1
        for n in range(1, len(word) + 1):
            new = text[:at] + word[:n] + text[at:]
            asked = {"path": name, "version": len(took) + 1, "text": new}
            bench.typed = json.dumps(asked).encode()
            answer, ms = bench.ask("POST", "/api/work", asked)
            assert answer["version"] == len(took) + 1
            took.append(ms)
            if len(took) == keys:
                break
    rows = told["rows"]
    assert isinstance(rows, list)
    stitches = told["stitches"]
    assert isinstance(stitches, int)
    return Typed(name, stitches, len(rows), took, target)


def recast(bench: Bench, name: str, text: str, keys: int, target: float) -> Typed:
    """Another number cast on each time, so that every row of the pattern is knitted anew."""
    told, _ = bench.ask("POST", "/api/work", {"path": name, "text": text})
    found = re.search(r"Cast on (\d+)", text)
    assert found is not None
    took: list[float] = []
    for n in range(keys):
        number = int(found[1]) + 8 * (n % 9 + 1)
        new = f"{text[: found.start(1)]}{number}{text[found.end(1) :]}"
        answer, ms = bench.ask("POST", "/api/work", {"path": name, "version": n, "text": new})
        assert answer["version"] == n
        took.append(ms)
    rows, stitches = told["rows"], told["stitches"]
    assert isinstance(rows, list)
    assert isinstance(stitches, int)
    return Typed(f"{name}, another number cast on", stitches, len(rows), took, target)


def while_proving(bench: Bench, name: str, text: str, keys: int, target: float) -> Typed:
    """The same while what was typed last is proved behind it, again and again."""
    bench.typed = json.dumps({"path": name, "version": 0, "text": text}).encode()
    ended = threading.Event()
    proofs: list[float] = []

    def prove() -> None:
        line = HTTPConnection("127.0.0.1", bench.port)
        while not ended.is_set():
            begun = time.perf_counter()
            line.request("POST", "/api/proof", bench.typed, bench.headers)
            answer = line.getresponse()
            assert json.loads(answer.read())["checks"]
            proofs.append((time.perf_counter() - begun) * 1000)

    behind = threading.Thread(target=prove)
    behind.start()
    done = typed(bench, name, text, keys, target)
    ended.set()
    behind.join()
    return done._replace(
        name=f"{name}, while it is proved behind (a proof: {statistics.median(proofs):,.0f} ms)"
    )


def fixed_loop() -> float:
    begun = time.perf_counter()
    total = 0
    for n in range(1_000_000):
        total += n
    return (time.perf_counter() - begun) * 1000


def p95(took: list[float]) -> float:
    return sorted(took)[max(0, round(len(took) * 0.95) - 1)]


def main() -> None:
    """Measure, print and perhaps write."""
    arguments = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    arguments.add_argument("--write", action="store_true")
    arguments.add_argument("--keys", type=int, default=120)
    asked = arguments.parse_args()
    hat = (HERE.parent / "examples" / "gannet-shawl.pattern.md").read_text(encoding="utf-8")
    with TemporaryDirectory() as folder:
        bench = Bench(folder)
        try:
            time.sleep(6)  # its processes are started one after another
            done = [
                measure(bench, name, text, asked.keys, target)
                for measure in (typed, recast, while_proving)
                for name, text, target in (
                    ("lace of 5,000", lace(68, 74), 50),
                    ("lace of 100,000", lace(404, 248), 200),
                )
            ]
            bench.ask("POST", "/api/work", {"path": "gannet", "text": hat})
            empty = [bench.ask("GET", "/api/explain?code=total-differs")[1] for _ in range(asked.keys)]
            loop = [fixed_loop() for _ in range(20)]
        finally:
            bench.end()
    rows = "\n".join(
        f"| {t.name} | {t.stitches:,} | {t.rows} | {len(t.took)} | {statistics.median(t.took):.0f} ms | "
        f"{p95(t.took):.0f} ms | {min(t.took):.0f} ms | {t.target:.0f} ms |"
        for t in done
    )
    page = ABOUT.format(
        machine=f"Python {platform.python_version()}, {platform.system()} {platform.machine()}, "
        f"{os.cpu_count()} cores",
        load=f"{os.getloadavg()[0]:.1f}" if hasattr(os, "getloadavg") else "not known",
        rows=rows,
        empty_n=len(empty),
        empty=f"{statistics.median(empty):.1f} ms",
        empty_p95=f"{p95(empty):.1f} ms",
        empty_least=f"{min(empty):.1f} ms",
        loop_n=len(loop),
        loop=f"{statistics.median(loop):.0f} ms",
        loop_p95=f"{p95(loop):.0f} ms",
        loop_least=f"{min(loop):.0f} ms",
    )
    print(page)
    if asked.write:
        (HERE / "BENCH.md").write_text(page, encoding="utf-8")


if __name__ == "__main__":
    main()
