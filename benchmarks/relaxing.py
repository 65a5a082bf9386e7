"""How fast pieces take their shape, beside SciPy's L-BFGS-B on the same energy from the same start.

    python benchmarks/relaxing.py                   print the table
    python benchmarks/relaxing.py --write           and write it to benchmarks/RELAXING.md
    python benchmarks/relaxing.py sock-5k disc-1k   some cases only

Every piece is knitted by Purlwright from written words. Each case is solved in a process of its own, so that
its peak of memory can be read, then by SciPy in another. Nothing here is asserted.
"""

from __future__ import annotations

import argparse
import json
import os
import platform
import resource
import subprocess
import sys
import time
from pathlib import Path
from typing import NamedTuple

import numpy as np

HERE = Path(__file__).parent
SPARE = 16
"""SciPy is given up after so many times the processor time that we took."""
ABOUT = """# Relaxing

Made by `python benchmarks/relaxing.py --write`.
{machine}.

Each piece is knitted by Purlwright from written words and relaxed free in space, start included; reading,
knitting and the net of stitches come before (the column *net*). *Worked* is processor time, *took* what
passed on the clock beside whatever else the machine was doing (load {load} on {cores} cores when this run
began): on a busy machine the first is what counts. *Off* is how far the energy reached lies above the best
that any run of the case found, ours carried on for 600 more steps included. SciPy is L-BFGS-B on the same
energy function, from the same scaled distances, one thread as ours has; its time is that until it came within
1 % of the best energy, and *more than* where it had not when it was stopped, after {spare} times our
processor time or the seconds asked for, with how far off it then was. One run a case.

| case | nodes | net s | worked s | took s | off | goal, s | SciPy worked s | times | goal | peak MB |
|---|---|---|---|---|---|---|---|---|---|---|
"""


class Goal(NamedTuple):
    """What a size must reach: seconds, and times faster than SciPy; 0 for no goal."""

    seconds: float
    times: float


GOALS = {"1k": Goal(0.1, 0), "5k": Goal(0.4, 0), "20k": Goal(4, 8), "100k": Goal(20, 13)}


def tube(around: int, rounds: int) -> str:
    return f"Cast on {around} sts. Join to work in the round.\nKnit {rounds} rounds.\nBind off.\n"


def sock(all_: int) -> str:
    """Cuff down, short-row heel on half the stitches, grafted toe."""
    half = all_ // 2
    turns = half // 3
    toe = (all_ - max(all_ // 16, 2) * 4) // 4 - 1  # down to about a quarter
    return (
        f"Cast on {all_} sts. Join to work in the round, place marker.\nKnit {all_} rounds.\n"
        f"Row 1 (RS): Knit {half - 1}, w&t.\nRow 2 (WS): Purl {half - 2}, w&t.\n"
        "Row 3: Knit to 1 st before gap, w&t.\nRow 4: Purl to 1 st before gap, w&t.\n"
        f"Rep rows 3 and 4 {turns - 2} times more.\n"
        "Row 5 (RS): Knit to the gap, knit the wrapped st together with its wrap, w&t.\n"
        "Row 6 (WS): Purl to the gap, purl the wrapped st together with its wrap, w&t.\n"
        f"Rep rows 5 and 6 {turns - 2} times more.\n"
        f"Set-up rnd: Knit to the gap, knit the wrapped st together with its wraps, pm, knit to end.\n"
        f"Next rnd: Knit the wrapped st together with its wraps, knit to end.\nKnit {all_ * 3 // 4} rounds.\n"
        "Rnd 1: K1, ssk, k to 3 sts before m, k2tog, k1, sm, k1, ssk, k to last 3 sts, k2tog, k1.\n"
        "Rnd 2: Knit.\n"
        f"Rep rnds 1 and 2 {toe} times more.\n"
        "Graft the sole sts to the instep sts.\n"
    )


def disc(wedges: int, steps: int, step: int) -> str:
    """Short-row wedges in garter stitch, grafted to a ring."""
    turns = "".join(
        f"Row {2 * k + 1}: Knit.\nRow {2 * k + 2}: Knit to last {step * (k + 1)} sts, turn.\n"
        for k in range(steps)
    )
    last = 2 * steps + 1
    return (
        f"Cast on {step * steps + 2} sts provisionally.\n{turns}Row {last}: Knit.\nRow {last + 1}: Knit.\n"
        f"Rep rows 1-{last + 1} {wedges - 2} times more.\nWork rows 1-{last} once more.\n"
        "Graft the live sts to the cast-on sts.\n"
    )


def sweater(neck: int, rounds: int, body: int, sleeve: int) -> str:
    """From the neck down in the round: raglan yoke, body, and two sleeves from held stitches."""
    front, arm = neck // 3, neck // 6
    held = arm + 2 * (rounds // 2)
    under = max(neck // 10, 4) // 2 * 2
    return (
        f"## Yoke\nCast on {2 * (front + arm)} sts. Join to work in the round.\n"
        f"Set-up rnd: K{front}, pm, k{arm}, pm, k{front}, pm, k{arm}, pm.\n"
        "Rnd 1: [K1, m1l, knit to 1 st before m, m1r, k1, sm] 4 times.\nRnd 2: Knit.\n"
        f"Rep rnds 1 and 2 {rounds // 2 - 1} times more.\n\n"
        "## Dividing\n"
        f"Dividing rnd: *K{front + 2 * (rounds // 2)}, place the next {held} sts on waste yarn for the "
        f"sleeve, cast on {under} sts for the underarm; rep from * once more.\n"
        f"\n## Body\nKnit {body} rounds.\nBind off.\n\n"
        "## Sleeves (make 2)\n"
        f"Place the held sts of one sleeve on the needle. With RS facing, pick up and knit {under // 2} sts "
        f"from the underarm cast-on, k{held}, pick up and knit {under // 2} sts from the underarm cast-on, "
        "pm and join in the round.\n"
        f"Knit {sleeve} rounds.\nBind off.\n"
    )


CASES = {
    "tube-1k": (tube(40, 25), 5.0, 3.75),
    "sock-1k": (sock(24), 5.0, 3.75),
    "disc-1k": (disc(10, 5, 3), 5.0, 2.5),
    "sock-5k": (sock(48), 5.0, 3.75),
    "disc-5k": (disc(19, 8, 3), 5.0, 2.5),
    "tube-20k": (tube(160, 125), 5.0, 3.75),
    "sock-20k": (sock(96), 5.0, 3.75),
    "sweater-20k": (sweater(78, 36, 52, 60), 5.0, 3.75),
    "sweater-100k": (sweater(150, 84, 128, 136), 5.0, 3.75),
    "sock-100k": (sock(212), 5.0, 3.75),
}


def one(case: str, who: str, target: float, limit: float) -> dict[str, float]:
    """Solve one case; ours, or SciPy's until it reaches ``target`` or has worked for ``limit`` seconds."""
    import scipy.optimize
    import scipy.sparse.csgraph
    import scipy.sparse.linalg

    from purlwright.cloth.mesh import mesh_of
    from purlwright.cloth.relax.level import Slopes, springs_of
    from purlwright.cloth.relax.shape import BEND, levels_of, relax
    from purlwright.cloth.relax.solve import downhill
    from purlwright.cloth.relax.start import begin
    from purlwright.cloth.rest import rest_of
    from purlwright.workup import WorkUp

    words, w, h = CASES[case]
    work = WorkUp(words)
    knitted = work.knitted()
    bad = [f.message for f in work.findings() if f.severity == "error"]
    if bad:
        raise SystemExit(f"{case}: {bad[:3]}")
    net = time.process_time()
    mesh = mesh_of(knitted)
    rest = rest_of(mesh, stitch_mm=w, row_mm=h)
    net = time.process_time() - net
    everything = np.arange(mesh.n, dtype=np.int32)
    if who == "ours":
        worked, took = time.process_time(), time.perf_counter()
        shape = relax(mesh, rest)
        worked, took = time.process_time() - worked, time.perf_counter() - took
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        springs = springs_of(levels_of(mesh, rest, everything, w))
        best = downhill(springs, shape.position_mm / w, bend=BEND, still=1e-7, most=600).energy
        return {
            "n": mesh.n, "net": net, "worked": worked, "took": took, "energy": shape.energy, "best": best,
            "peak": peak, "left": mesh.left_out, "strain": shape.strain,
        }  # fmt: skip
    worked = time.process_time()
    level = levels_of(mesh, rest, everything, w)
    x = begin(level, landmarks=100)
    springs = springs_of(level)
    seen = {"energy": float("inf"), "worked": 0.0}

    slopes = Slopes(springs, 3)

    def judged(flat: np.ndarray) -> tuple[float, np.ndarray]:
        value, slope = slopes.at(flat.reshape(3, -1), BEND)
        return value, slope.ravel()

    def watch(*, intermediate_result: scipy.optimize.OptimizeResult) -> None:
        seen["energy"] = float(intermediate_result.fun)
        seen["worked"] = time.process_time() - worked
        if seen["energy"] <= target or seen["worked"] > limit:
            raise StopIteration

    scipy.optimize.minimize(
        judged, x.T.ravel(), jac=True, method="L-BFGS-B", callback=watch,
        options={"maxiter": 10**6, "maxfun": 10**7, "ftol": 0, "gtol": 1e-9, "maxcor": 10},
    )  # fmt: skip
    return seen


def apart(case: str, who: str, target: float, limit: float) -> dict[str, float]:
    call = [sys.executable, __file__, "--one", case, who, repr(target), repr(limit)]
    environment = {**os.environ, "OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}
    done = subprocess.run(call, capture_output=True, text=True, check=False, env=environment)
    if done.returncode:
        raise SystemExit(done.stdout + done.stderr)
    out: dict[str, float] = json.loads(done.stdout.splitlines()[-1])
    return out


def line(case: str, longest: float) -> str:
    mine = apart(case, "ours", 0, 0)
    best = mine["best"]
    goal = GOALS[case.split("-")[1]]
    limit = min(SPARE * mine["worked"], longest)
    other = apart(case, "scipy", 1.01 * best + 1e-6 * mine["n"], limit)
    reached = other["energy"] <= 1.01 * best + 1e-6 * mine["n"]
    best = min(best, other["energy"])
    off = (mine["energy"] - best) / best if best > 1e-6 * mine["n"] else 0.0
    beside = (
        f"{other['worked']:.2f}"
        if reached
        else (f"more than {other['worked']:.1f} (+{100 * (other['energy'] / best - 1):.0f} %)")
    )
    times = f"{'' if reached else 'over '}{other['worked'] / mine['worked']:.1f}x"
    cells = (
        case.partition("-")[0], f"{mine['n']:,.0f}", f"{mine['net']:.2f}", f"{mine['worked']:.2f}",
        f"{mine['took']:.2f}", f"{100 * off:.2f} %", f"{goal.seconds:g}", beside, times,
        f"{goal.times:g}x" if goal.times else "", f"{mine['peak']:.0f}",
    )  # fmt: skip
    return f"| {' | '.join(cells)} |"


def main() -> None:
    if sys.argv[1:2] == ["--one"]:
        case, who, target, limit = sys.argv[2:]
        print(json.dumps(one(case, who, float(target), float(limit))))
        return
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("cases", nargs="*", help=f"some of {', '.join(CASES)}")
    parser.add_argument("--write", action="store_true")
    parser.add_argument(
        "--longest", type=float, default=400, help="processor seconds that SciPy may take a case"
    )
    asked = parser.parse_args()
    machine = (
        f"Python {platform.python_version()}, NumPy {np.__version__}, "
        f"{platform.system()} {platform.machine()}, {os.cpu_count()} cores"
    )
    about = ABOUT.format(machine=machine, load=f"{os.getloadavg()[0]:.1f}", cores=os.cpu_count(), spare=SPARE)
    print(about, end="")
    lines = []
    for case in asked.cases or CASES:
        lines.append(line(case, asked.longest))
        print(lines[-1], flush=True)
        if asked.write:  # after each case: the large ones take minutes
            (HERE / "RELAXING.md").write_text(about + "\n".join(lines) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
