"""Checks that are worked out from the words and the whole ledger, on small hand-made patterns."""

import pytest
from msgspec.structs import replace

from handmade import Knitted, Pattern, Section, Wrong, finding, ledger, lines_of, piece
from purlwright.findings import Result
from purlwright.needles.ledger import Kind, Piece
from purlwright.proof.catalogue import CATALOGUE
from purlwright.proof.registry import JUDGES, NOT_BUILT, PERSON, prove
from purlwright.proof.subject import Subject, Way
from purlwright.text import Source


def judged(text, *rows, sizes=("one size",), options=(), choices=((),), places=None, name="Cuff"):
    """Prove a hand-made pattern; `rows` are the knitting, the same in every size."""
    source = Source(text)
    pattern = Pattern(
        sections=(Section(lines_of(source, options=options)),), sizes=sizes if len(sizes) > 1 else ()
    )
    book = ledger(piece(name, *rows, source=source)) if rows else ledger()
    ways = [Way(size, choice, Knitted(book, (), places or {})) for size in sizes for choice in choices]
    return source, prove(Subject(source, pattern, ways))


def said(text, *rows, **more):
    """The findings as `code: words`, and the verdicts by check."""
    source, proof = judged(text, *rows, **more)
    found = [f"{f.code}: {source.words(f.span)}" for f in proof.findings]
    return found, {v.check: v for v in proof.verdicts}


# --- C020: numbers ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("Row 1: k\nRow 2: p\nRow 3: k", []),
        ("Row 1: k\nRow 3: p", ["row-missing: Row 3"]),
        ("Row 1: k\nRow 4: p", ["row-missing: Row 4"]),
        ("Row 1: k\nRow 2 and all WS rows: p\nRow 3: k\nRow 5: k", []),
        ("Row 1: k\nRow 2 and all even rows: p\nRow 3: k\nRow 6: k", ["row-missing: Row 6"]),
        ("Row 1: k\nRow 3: k\nRows 2, 4 and 6: p\nRow 5: k", []),
        ("Row 1: k\nRow 2: p\nRow 2: k", ["row-twice: Row 2"]),
        ("Rows 1-4: k\nRows 3-6: p", ["row-twice: Rows 3-6"]),
        ("Row 1: k\nRow 2: p\nRow 4: k\nRow 3: p", ["row-out-of-order: Row 3"]),
        ("Row 1: k\nRow 2: p\nRow 1: k\nRow 2: p", []),
        ("Row 5: k\nRow 6: p", []),
        ("Row 1: k\nRow 3: k\nWork every other row plain.\nRow 5: k", []),
        ("Row 4: k\nRow 5: k\nKnit on for a while.\nRow 4: k\nRow 5: k", []),
        ("".join(f"Rnd {n}: k\n" for n in range(2, 41, 2)), ["row-missing: Rnd 4"]),
        ("Row 1: k\nRow 2: p\nRepeat rows 1 and 2 twice more.\nRow 7: k", []),
        ("Rnd 1: k\nRnd 3: k", ["row-missing: Rnd 3"]),
        ("", []),
    ],
)
def test_row_numbers(text, found):
    assert said(text)[0] == found


def test_options_give_a_row_its_number_in_turn():
    options = (("turns", "wrapped"), ("turns", "double"))
    text = "Row 1: k\nwrapped only: Row 2: w&t\ndouble only: Row 2: turn\nRow 3: k. Leave all wraps."
    found, _ = said(text, options=options, choices=((options[0],), (options[1],)))
    assert found == []


# --- C048: sizes ------------------------------------------------------------------------------------------


def test_a_row_for_some_sizes_only_is_missed_by_the_others():
    found, verdicts = said("Row 1: k\nS, M only: Row 2: k\nRow 3: p", sizes=("S", "M", "L"))
    assert found == ["size-left-out: Row 2"]
    assert verdicts["C048"].result is Result.FAILS
    found, _ = said("Row 1: k\nS, M only: Row 2: k\nL only: Row 2: p\nRow 3: p", sizes=("S", "M", "L"))
    assert found == []
    found, _ = said("Row 1: k\nRow 2: p\nM, L only: Row 3: k", sizes=("S", "M", "L"))
    assert found == []


# --- C108: markers ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("Row 1: place marker A\nRow 2: to marker A", []),
        ("Row 1: slip marker A", ["marker-not-placed: slip marker A"]),
        ("Row 1: place marker A\nRow 2: slip marker B", ["marker-not-placed: slip marker B", "marker-never-used: place marker A"]),
        ("Row 1: place marker\nRow 2: slip marker", []),
        ("Row 1: place marker A\nRow 2: slip marker", []),
        ("Row 1: k", []),
    ],
)  # fmt: skip
def test_markers(text, found):
    got, verdicts = said(text)
    assert sorted(got) == sorted(found)
    expected = Result.FAILS if found else Result.HOLDS if "marker" in text else Result.NOT_APPLICABLE
    assert verdicts["C108"].result is expected


# --- counts -----------------------------------------------------------------------------------------------

SHAPED = "Cast on\nRow 1: k\nRow 2: k2tog\nRow 3: k\nBind off"


def test_a_total_is_wanted_after_shaping():
    rows = ("Cast on | | +20", "Row 1 | RS |", "Row 2 | WS | -1", "Row 3 | RS |", "Bind off | WS | -19")
    found, verdicts = said(SHAPED, *rows)
    assert found == ["total-lacking: Row 2: k2tog"]
    assert (verdicts["C004"].result, verdicts["C004"].places) == (Result.FAILS, 1)


def test_a_total_on_a_later_row_with_the_same_count_will_do():
    rows = (
        "Cast on | | +20",
        "Row 1 | RS |",
        "Row 2 | WS | -1",
        "Row 3 | RS | 19said",
        "Bind off | WS | -19",
    )
    found, verdicts = said(SHAPED, *rows)
    assert found == []
    assert verdicts["C004"].result is Result.HOLDS


def test_the_total_that_is_lacking_is_offered_for_every_size():
    source = Source(SHAPED)
    books = [
        ledger(piece("Cuff", f"Cast on | | +{n}", "Row 1 | RS |", "Row 2 | WS | -1", source=source))
        for n in (20, 24)
    ]
    pattern = Pattern(sections=(Section(lines_of(source)),), sizes=("S", "M"))
    ways = [Way(size, (), Knitted(book)) for size, book in zip("SM", books, strict=True)]
    (found,) = prove(Subject(source, pattern, ways)).findings
    assert (
        found.message == "After this shaping there are 19 (23) stitches on the needle, and no total says so."
    )
    assert found.fix.edits[0].words == " (19 (23) sts)"


def test_a_total_on_a_repeated_row_that_is_true_once_only():
    rows = ["Cast on | | +20", "Row 1 | RS | -1 19said", "Row 1 | RS | -1 2th", "Row 1 | RS | -1 3th"]
    found, verdicts = said("Cast on\nRow 1: k2tog (19 sts)", *rows)
    assert found == ["total-on-repeat: Row 1: k2tog (19 sts)"]
    assert verdicts["C005"].result is Result.FAILS


def test_a_repeated_row_that_stops_working_fails_without_a_second_message():
    rows = ["Cast on | | +20", "Row 1 | RS | -1 19said", "Row 1 | RS | -1 resumed 2th 18said"]
    found, verdicts = said("Cast on\nRow 1: k2tog", *rows)
    assert found == []
    assert (verdicts["C008"].result, verdicts["C008"].places) == (Result.FAILS, 1)


# --- rows and rounds, turns -------------------------------------------------------------------------------


def test_a_round_called_a_row_is_said_once():
    text = "Cast on\nRow 1: k\nRow 2: k"
    source = Source(text)
    book = ledger(piece("Cuff", "Cast on | | +20", "Row 1 | RS |", "Row 2 | RS |", source=source))
    rounds = [replace(e, kind=Kind.ROUND) for e in book.entries[1:]]
    book = ledger(Piece(name="Cuff", rows=(book.entries[0], *rounds), live=20))
    pattern = Pattern(sections=(Section(lines_of(source)),))
    proof = prove(Subject(source, pattern, [Way("one size", (), Knitted(book))]))
    (found,) = (f for f in proof.findings if f.check == "C023")
    assert found.message == "2 labels say row where the work is in the round; this is the first."


def test_wraps_need_a_word():
    found, verdicts = said(
        "Cast on\nRow 1: k\nRow 2: k to last 4, w&t", "Cast on | | +20", "Row 1 | RS |", "Row 2 | WS | 4left"
    )
    assert found == ["wraps-not-spoken-of: w&t"]
    assert verdicts["C033"].result is Result.FAILS
    found, _ = said("Row 1: k\nRow 2: k to last 4, w&t\nWork the wraps together with their stitches.")
    assert found == []


def test_a_turn_left_open():
    rows = ("Cast on | | +20", "Row 1 | RS | 4left 4gap")
    found, verdicts = said("Cast on\nRow 1: k16, turn", *rows)
    assert found == ["turn-left-open: turn"]
    assert verdicts["C033"].result is Result.FAILS


def test_a_bind_off_across_all_works_over_the_gaps():
    rows = ("Cast on | | +20", "Row 1 | RS | 4left 4gap", "Bind off | WS | -20")
    assert said("Cast on\nRow 1: k16, turn\nBind off", *rows)[0] == []


# --- verdicts ---------------------------------------------------------------------------------------------


def test_what_is_not_built_says_so_and_what_needs_a_person_too():
    _, verdicts = said("")
    for check in [c for c, e in CATALOGUE.items() if c not in JUDGES and e.needs != "a person"][:1]:
        assert verdicts[check].missing == NOT_BUILT
    assert verdicts["C124"].missing == PERSON
    assert verdicts["C001"].result is Result.NOT_APPLICABLE
    assert len(verdicts) == 129


def test_words_that_were_not_read_leave_a_check_undecided():
    rows = ("Cast on | | +20", "Row 1 | RS | unread")
    _, verdicts = said("Cast on\nRow 1: ??", *rows, places={"C001": 1})
    assert verdicts["C001"].result is Result.UNDECIDED
    assert verdicts["C001"].missing == "line 2 could not be worked as written"


def test_a_fault_found_is_a_fault_however_much_was_not_read():
    source = Source("Cast on\nRow 1: k\nRow 2: ??")
    book = ledger(piece("Cuff", "Cast on | | +20", "Row 1 | RS |", "Row 2 | WS | unread", source=source))
    pattern = Pattern(sections=(Section(lines_of(source)),))
    knitted = Knitted(book, (finding(source, "Row 1: k"),), {"C001": 2})
    proof = prove(Subject(source, pattern, [Way("one size", (), knitted)]))
    verdict = next(v for v in proof.verdicts if v.check == "C001")
    assert (verdict.result, verdict.places) == (Result.FAILS, 2)
    assert next(v for v in proof.verdicts if v.check == "C049").result is Result.FAILS


def test_the_same_fault_in_several_ways_is_one_finding():
    source = Source("Cast on\nRow 1: k")
    pattern = Pattern(sections=(Section(lines_of(source)),), sizes=("S", "M"))
    wrapped, double = (("turns", "wrapped"),), (("turns", "double"),)
    fault = finding(source, "k", Wrong())

    def prove_with(*faulty):
        ways = [
            Way(size, choice, Knitted(ledger(), (fault,) if (size, choice) in faulty else ()))
            for size in "SM"
            for choice in (wrapped, double)
        ]
        (found,) = prove(Subject(source, pattern, ways)).findings
        return found.sizes, dict(found.options)

    every = [(size, choice) for size in "SM" for choice in (wrapped, double)]
    assert prove_with(*every) == ((), {})
    assert prove_with(("M", wrapped), ("M", double)) == (("M",), {})
    assert prove_with(("S", wrapped), ("M", wrapped)) == ((), {"turns": "wrapped"})
    assert prove_with(("S", double)) == (("S",), {"turns": "double"})
