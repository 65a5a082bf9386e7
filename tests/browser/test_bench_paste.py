"""Text brought onto the sheet from elsewhere: pasted from messy pages, dropped as a file; and the sheet under a finger."""

import pytest

from bench_page import HAT, beside, settled, until, words

# All invented. As a word processor gives it: bullets, tabs, spaces that do not break, curly quotes.
PROCESSOR = (
    "# Eelgrass Mat\r\n"
    "Gauge:\t20 sts and 40 rows = 10\u00a0cm in garter stitch\r\n\r\n"
    "\u2022\tCast on 24\u00a0sts, \u201cloosely\u201d.\r\n"
    "\u2022\tRow 1 (RS): Knit.\r\n"
    "\u2022\tRow 2 (WS):\u00a0K3, p18, k3. (24\u00a0sts)\r\n"
    "\u2022\tBind o\ufb00.\r\n"
)
# As a PDF of narrow pages gives it: hyphens, wrapped lines, page numbers, a running head.
PDF = (
    "Kelp Collar\n"
    "Page 1 of 2\n"
    "# Kelp Collar\n"
    "> A collar for cold mornings on the quay, for all who would rather not have a scarf in the nets, nor stit-\n"
    "ches that catch, and that lies beside the mar-\n"
    "ker of the last boat.\n"
    "Gauge: 20 sts and 28 rows = 10 cm in stockinette stitch\n\n"
    "Cast on 40 sts. Join to work in the round.\n"
    "Rnd 1: *K2, p2; rep from * to end.\n"
    "Rnds 2-\n"
    "4: Rep rnd 1.\n"
    "Page 2 of 2\n"
    "Kelp Collar\n"
    "Rnd 5: *K8, k2tog; rep from * to end. (36 sts)\n"
    "Bind off.\n"
)
# As a web page gives it: a minus for a hyphen, a fraction slash, boxes to tick, signs that cannot be seen.
WEB = (
    "\ufeff# Sandpiper Strap\n"
    "Needles: 3\u00be mm, 31\u20442 mm for the ends\n\n"
    "\u25a1 Cast on 12 sts.\n"
    "\u25a1 Row 1: K1, *k2tog, yo; rep from * to last st, k1.\u200b (12 sts)\n"
    "\u25a1 Rows 2\u22124: Knit.\n"
    "\u25a1 Bind off.\n"
)
CLEAN = {
    "a word processor": (
        PROCESSOR,
        ['24 sts, "loosely".\nRow 1 (RS): Knit.', "Row 2 (WS): K3, p18", "Bind off."],
    ),
    "a PDF": (PDF, ["nor stitches that catch", "the marker of", "Rnds 2-4: Rep rnd 1.\nRnd 5:"]),
    "a web page": (WEB, ["3½ mm", "\nRow 1: K1, *k2tog", "Rows 2-4: Knit."]),
}
COUNTS = {"a word processor": ("Row 2", "24"), "a PDF": ("Rnd 5", "36"), "a web page": ("Row 1", "12")}
PASTE = """text => {
  const data = new DataTransfer();
  data.setData('text/plain', text);
  document.querySelector('.cm-content').dispatchEvent(new ClipboardEvent('paste', {clipboardData: data, bubbles: true, cancelable: true}));
}"""
DROP = """text => {
  const data = new DataTransfer();
  data.items.add(new File([text], 'strap.txt', {type: 'text/plain'}));
  const sheet = document.querySelector('.cm-content');
  const box = sheet.getBoundingClientRect();
  const at = {dataTransfer: data, bubbles: true, cancelable: true, clientX: box.x + 40, clientY: box.y + 20};
  return [new DragEvent('dragover', at), new DragEvent('drop', at)].map(e => sheet.dispatchEvent(e));
}"""


def all_selected(page):
    page.locator(".cm-content").click()
    page.keyboard.press("Control+a")


@pytest.mark.parametrize("where", CLEAN)
def test_a_messy_text_is_put_right_knitted_and_told(window, bench, where):
    messy, right = CLEAN[where]
    page = window(bench.write("kelp-hat", HAT))
    settled(page)
    all_selected(page)
    page.evaluate(PASTE, messy)
    page.wait_for_selector(".slip table")
    assert page.locator(".slip tbody tr").count() >= 3
    page.get_by_role("button", name="Good").click()
    for part in right:
        assert part in words(page)
    assert not set(words(page)) & set("\u00a0\u2022\u25a1\u201c\u201d\u200b\u2212\ufb00\t")
    row, count = COUNTS[where]
    until(page, f"[...document.querySelectorAll('.beside')].some(e => e.ariaLabel.startsWith('{row}'))")
    assert count in beside(page, row).inner_text().split()
    assert page.locator(".remark-error").count() == 0


def test_the_messy_text_is_left_as_it_was_on_wish(window, bench):
    page = window(bench.write("kelp-hat", HAT))
    settled(page)
    all_selected(page)
    page.evaluate(PASTE, WEB)
    page.get_by_role("button", name="Leave my text as it was").click()
    assert words(page) == WEB


def test_a_file_that_is_dropped_on_the_sheet_is_put_right_and_the_page_stays(window, bench):
    page = window(bench.write("blank", "# A\n"))
    all_selected(page)
    page.keyboard.press("Delete")
    here = page.url
    assert page.evaluate(DROP, WEB)[1] is False  # the browser does not open the file in place of the page
    page.wait_for_selector(".slip table")
    page.get_by_role("button", name="Good").click()
    assert "Rows 2-4: Knit." in words(page)
    settled(page)
    assert page.url == here


def test_a_finger_unfolds_a_row_and_accepts_a_repair(window, bench):
    page = window(
        bench.write("kelp-hat", HAT.replace("54 (60)", "55 (60)")),
        width=390,
        height=844,
        has_touch=True,
        is_mobile=True,
    )
    settled(page)
    beside(page, "Rnd 2: Knit").get_by_role("button").tap()
    page.wait_for_selector(".leaflet-sum")
    page.get_by_role("button", name="Fold up").tap()
    assert page.locator(".leaflet").count() == 0
    page.wait_for_selector(".remark-error .accept")
    page.locator(".remark-error .accept").first.tap()
    until(page, "document.querySelector('.remark-error') === null")
