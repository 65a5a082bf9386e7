"""How long the page's own script works on a frame while the whole cloth of 50,400 stitches is turned.

    python benchmarks/turning.py                print the table
    python benchmarks/turning.py --write        and write it to benchmarks/TURNING.md
    python benchmarks/turning.py --frames 60    so many frames

A real bench is opened in Chromium, and the cloth is turned by its button, frame by frame. What is measured is
the script alone: placing the camera, choosing how finely each piece is drawn, and handing it over to be
drawn. How fast a graphics card then draws is not measured, and not claimed.
"""

from __future__ import annotations

import argparse
import os
import platform
import statistics
import subprocess
from pathlib import Path
from tempfile import TemporaryDirectory

from playwright.sync_api import Page, sync_playwright

from bench import Bench

HERE = Path(__file__).parent
MOST_MS, MOST_CALLS, MOST_TRIANGLES = 4, 10, 3_000_000
PLAIN = """# Plain
Gauge: 20 sts and 28 rows = 10 cm in stockinette stitch

Cast on 200 sts.
Row 1 (RS): Knit.
Row 2 (WS): Purl.
Rep rows 1 and 2 124 times more.
Bind off.
"""
ABOUT = """# The whole cloth while it is turned

Made by `python benchmarks/turning.py --write`.
Python {python}, {system}, {cores} cores, Chromium {chromium} that draws with the processor.

A real bench in Chromium, its cloth of {stitches:,} stitches turned by its button, {frames} frames at
{wide} by {high}. The script alone is timed: placing the camera, choosing how finely each piece is drawn,
handing it over. How fast a graphics card then draws is not measured. The load of the last minute was {load}.

| of a frame | got | must be |
|---|---|---|
| script, median | {median:.2f} ms | |
| script, p95 | {p95:.2f} ms | under {most_ms} ms |
| draw calls, most | {calls} | {most_calls} or fewer |
| triangles, most | {triangles:,} | {most_triangles:,} or fewer |
"""
HEAR = """() => {
  window.frames_told = [];
  const canvas = document.querySelector("canvas.cloth");
  new MutationObserver(() => window.frames_told.push({
    script: Number(canvas.dataset.script),
    calls: Number(canvas.dataset.calls),
    triangles: Number(canvas.dataset.triangles),
  })).observe(canvas, { attributes: true, attributeFilter: ["data-script"] });
}"""


def turned(page: Page, frames: int) -> list[dict[str, float]]:
    """What each frame told while the cloth was turned so many times."""
    page.wait_for_selector("canvas[data-script]", timeout=240_000)
    page.wait_for_function(
        "document.querySelector('.leaf-cloth > .empty').textContent === ''", timeout=240_000
    )
    page.evaluate(HEAR)
    turn = page.get_by_role("button", name="Turn left")
    for n in range(frames):
        turn.evaluate("button => button.click()")
        page.wait_for_function("n => window.frames_told.length > n", arg=n, timeout=240_000)
    told: list[dict[str, float]] = page.evaluate("window.frames_told")
    return told


def main() -> None:
    """Measure, print and perhaps write."""
    arguments = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    arguments.add_argument("--write", action="store_true")
    arguments.add_argument("--frames", type=int, default=100)
    asked = arguments.parse_args()
    browser = subprocess.run(
        [HERE.parent / "scripts" / "browser"], capture_output=True, text=True, check=True
    )
    is_root = hasattr(os, "geteuid") and os.geteuid() == 0
    wide, high = 640, 420  # a processor draws, and slowly
    with TemporaryDirectory() as folder, sync_playwright() as playwright:
        Path(folder, "plain.pattern.md").write_text(PLAIN, encoding="utf-8")
        bench = Bench(folder)
        try:
            chromium = playwright.chromium.launch(
                executable_path=browser.stdout.strip(), args=["--no-sandbox"] if is_root else []
            )
            page = chromium.new_page(viewport={"width": wide, "height": high})
            page.set_default_timeout(240_000)
            assert page.request.get(bench.link).ok
            page.goto(f"http://127.0.0.1:{bench.port}/#plain.pattern.md/cloth")
            told = turned(page, asked.frames)
            stitches = int(page.locator("canvas").get_attribute("data-stitches") or 0)
            version = chromium.version
            chromium.close()
        finally:
            bench.end()
    script = sorted(one["script"] for one in told)
    text = ABOUT.format(
        python=platform.python_version(),
        system=f"{platform.system()} {platform.machine()}",
        cores=os.cpu_count(),
        chromium=version.partition(".")[0],
        load=f"{os.getloadavg()[0]:.1f}" if hasattr(os, "getloadavg") else "not known",
        wide=wide,
        high=high,
        stitches=stitches,
        frames=len(told),
        median=statistics.median(script),
        p95=script[max(0, round(len(script) * 0.95) - 1)],
        most_ms=MOST_MS,
        calls=int(max(one["calls"] for one in told)),
        most_calls=MOST_CALLS,
        triangles=int(max(one["triangles"] for one in told)),
        most_triangles=MOST_TRIANGLES,
    )
    print(text)
    if asked.write:
        (HERE / "TURNING.md").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
