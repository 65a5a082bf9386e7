"""What the ledger looks like."""

import re

import pytest

from handmade import flap, ledger, piece
from purlwright.needles.knit import knit
from purlwright.pattern.file import read_pattern
from purlwright.terminal.look import Look
from purlwright.terminal.print_ledger import _gaps, show_ledger
from purlwright.text import Source
from purlwright.workup import WorkUp

COLOUR = re.compile(r"\x1b\[[\d;]*m")


def show(book, source=None, *, title="Tern Flap", brief=False, **look):
    lines = show_ledger(book, title, source or Source(""), Look(**look), brief=brief)
    return "\n".join(line.rstrip() for line in lines)


def test_a_flap_in_eighty_columns():
    source, book = flap()
    assert (
        show(book, source)
        == """\
Tern Flap
one size

── Tern Flap ───────────────────────────────────────────────────────────────────
  row      side start worked left made lost end  words
  Cast on           ·      ·    ·  +20    ·  20  Cast on 20 sts.
  Row 1      RS    20     20    ·    ·    ·  20  Knit.
  Row 2      WS    20     20    ·    ·    ·  20  Purl.
  Row 3      RS    20     20    ·    ·   −1  19  K2, [k3, p1] 4 times, k2tog. (…
  Bind off   WS    19     19    ·    ·  −19   0  Bind off all sts.

In all: 1 piece, 3 rows, 19 bound off."""
    )


def test_size_options_sections_and_gaps_are_shown():
    wedge = piece("Cap", "Cast on | | +36", "Row 1 | RS |", "Row 2 | WS | 4left 4gap", section="Wedge")
    shown = show(ledger(wedge, size="adult", options=(("turns", "wrapped"),)), title="Cap")
    lines = shown.splitlines()
    assert lines[1] == "size adult; turns: wrapped"
    assert lines[5] == "  Wedge"
    assert lines[8] == "  Row 2     WS    36     32    4    ·    ·  36  4"
    assert "36 still live at the end" in lines[-1]


def test_what_was_held_or_copied_stands_with_the_words():
    body = piece("Body", "Cast on | | +36", "Row 1 | RS | 12held", "Row 2 | WS | 12back copied")
    lines = show(ledger(body), width=120).splitlines()
    assert lines[6].endswith("[12 held]")
    assert lines[7].endswith("[12 back] as Row 1, line 2")


@pytest.mark.parametrize(
    ("gaps", "shown"), [((), ""), ((4, 8), "4, 8"), ((4, 8, 12), "4-12 by 4"), ((4, 8, 11), "4, 8, 11"), ((8, 4, 0), "8, 4, 0")]
)  # fmt: skip
def test_gaps_at_even_steps_are_said_shortly(gaps, shown):
    assert _gaps(list(gaps)) == shown


def test_passes_are_numbered_and_brief_gathers_them():
    rows = ["Cast on | | +8"]
    for n in range(1, 5):
        rows += [f"Row 1 | RS | {n}th", f"Row 2 | WS | -1 {n}th"]
    book = ledger(piece("Strap", *rows))
    assert "  Row 2 (4)   WS     5      5    ·    ·   −1   4" in show(book)
    assert show(book, brief=True).splitlines()[5:9] == [
        "  Cast on          ·      ·    ·   +8    ·   8",
        "  Row 1     RS     8      8    ·    ·    ·   8",
        "  Row 2     WS     8      8    ·    ·   −1   7",
        "  ... Row 1 to Row 2 again, 3 more times: 6 rows, 4 sts at the end",
    ]


def test_rows_in_doubt_are_marked():
    lines = show(ledger(piece("Cuff", "Cast on | | +8", "Row 1 | RS | unread"))).splitlines()
    assert lines[6].startswith(" ?Row 1")
    assert "Rows marked ?" in lines[-2]


@pytest.mark.parametrize("width", [40, 60, 80, 120])
def test_nothing_is_wider_than_the_page(width):
    source, book = flap()
    assert max(len(line) for line in show(book, source, width=width).splitlines()) <= max(width, 58)


def test_colour_changes_nothing_but_colour():
    source, book = flap()
    assert COLOUR.sub("", show(book, source, colour=True)) == show(book, source)


def test_a_pattern_with_nothing_cast_on():
    assert "Nothing is cast on" in show(ledger(), title="")
    assert "A pattern without a title" in show(ledger(), title="")


def test_stitches_worked_in_several_pieces_are_added_up_once():
    # 12 cast on, 12 in a row, 12 bound off, twice over
    text = "# Tern Flap\n\n" + "## {}\nCast on 12 sts.\nRow 1: Knit.\nBind off.\n\n"
    source = Source((text + text.split("\n\n", 1)[1]).format("Front", "Back"))
    book = knit(read_pattern(source)).ledger
    assert "2 pieces, 2 rows, 72 stitches worked" in show(book, source)


def test_a_copied_row_is_named_without_its_line_where_there_is_no_room():
    source = Source("Cast on 20 sts.\nRow 1: Knit.\nRows 2-4: Rep row 1.")
    work = WorkUp(source.text)
    book = work.knitted().ledger
    assert "  as Row 1, line 2" in show(book, work.source, width=80)
    narrow = show(book, work.source, width=62)
    assert "  as Row 1\n" in narrow
    assert "lin…" not in narrow


def test_rows_without_a_label_are_spoken_of_when_brief():
    work = WorkUp("# Flap\n\n## Flap\nCast on 20 sts.\nKnit 6 rows.\nBind off all sts.")
    shown = show(work.knitted().ledger, work.source, brief=True)
    assert "... this row again, 5 more times: 5 rows, the count stays" in shown
