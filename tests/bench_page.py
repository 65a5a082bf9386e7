"""What the tests of the bench do with its page, by the names that a person would use."""

from time import monotonic

HAT = """# Kelp Hat
Sizes: small (large)
Gauge: 18 sts and 26 rounds = 10 cm in stockinette stitch
Options: brim = folded (usual), rolled

## Brim
Cast on 72 (80) sts and join to work in the round.
folded only: Rnd 1: *K2, p2; rep from * to end.
rolled only: Rnd 1: Knit.
Rnds 2-6: Rep rnd 1. (72 (80) sts)

## Crown
Rnd 1: *K6, k2tog; rep from * to end. (63 (70) sts)
Rnd 2: Knit.
Rnd 3: *K5, k2tog; rep from * to end. (54 (60) sts)
Bind off.
"""


def words(page):
    """What stands on the sheet, as the page would save it."""
    return page.evaluate("document.querySelector('.cm-content').cmTile.view.state.doc.toString()")


def go_to(page, text):
    """Puts the cursor behind these words, as a hand would, by the keys."""
    line = page.locator(".cm-line", has_text=text).first
    line.click()
    page.keyboard.press("Home")


def until(page, script, seconds=20):
    """Waits until this is so of the page, which lets nobody bring it words to run by itself."""
    end = monotonic() + seconds
    while not page.evaluate(script):
        assert monotonic() < end, f"never came true: {script}"
        page.wait_for_timeout(40)


def settled(page):
    """Waits until something was knitted and stands in the margin."""
    page.wait_for_selector(".margin-left li[data-line]")


def beside(page, text):
    """The cell of the left margin that stands at the height of this line."""
    line = page.evaluate(
        """text => {
          const top = e => e.getBoundingClientRect().top;
          const line = [...document.querySelectorAll(".cm-line")].find(e => e.textContent.includes(text));
          const cells = [...document.querySelectorAll(".margin-left li[data-line]")];
          cells.sort((a, b) => Math.abs(top(a) - top(line)) - Math.abs(top(b) - top(line)));
          return cells[0].dataset.line;
        }""",
        text,
    )
    return page.locator(f'.margin-left li[data-line="{line}"]')


def write_anew(page, text):
    """Takes all that stands there away and types something else."""
    page.locator(".cm-content").click()
    page.keyboard.press("Control+a")
    page.keyboard.insert_text(text)


def turn_to(page, leaf):
    page.get_by_role("link", name=leaf).click()
