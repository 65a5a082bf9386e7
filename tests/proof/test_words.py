"""C093 on patterns as read: abbreviations explained, those explained used, one form of each."""

from handmade import Knitted, ledger
from purlwright.findings import Result
from purlwright.pattern.file import read_pattern
from purlwright.proof.registry import prove
from purlwright.proof.subject import Subject, Way
from purlwright.text import Source

LACE = """\
# Tern Lace
## Abbreviations
k = knit
p = purl
k2tog = knit 2 sts together
MB (make bobble): [k1, p1, k1] in next st, turn, p3, turn, sl1-k2tog-psso
RS = right side
yo = yarn over
## Lace
Cast on 13 sts.
Row 1 (RS): K1, *yo, k2tog; rep from * to end.
Row 2: Purl.
Bind off.
"""


def words_of(text):
    source = Source(text)
    proof = prove(Subject(source, read_pattern(source), [Way("one size", (), Knitted(ledger()))]))
    verdict = next(v for v in proof.verdicts if v.check == "C093")
    found = [f"{f.code}: {source.words(f.span)}" for f in proof.findings if f.check == "C093"]
    return found, verdict


def test_a_leftover_in_the_list():
    found, verdict = words_of(LACE)
    assert found == ["abbreviation-not-used: MB"]
    assert verdict.result is Result.FAILS


def test_a_whole_list():
    found, verdict = words_of(LACE.replace("Row 2: Purl.", "Row 2: P6, MB, p6."))
    assert found == []
    assert verdict.result is Result.HOLDS
    assert verdict.places == 10


def test_an_abbreviation_without_explanation():
    found, _ = words_of(LACE.replace("Row 2: Purl.", "Row 2: P6, MB, p4, ssk."))
    assert found == ["abbreviation-not-explained: ssk"]


def test_the_list_must_use_the_form_of_the_rows():
    found, _ = words_of(
        LACE.replace("Row 2: Purl.", "Row 2: P6, MB, p6.").replace("yo = yarn", "yfwd = yarn")
    )
    assert sorted(found) == ["abbreviation-not-explained: yo", "abbreviation-not-used: yfwd"]


def test_words_written_out_need_no_explanation():
    found, _ = words_of(
        "# A\n## Abbreviations\nyo = yarn over\n## B\nCast on 4 sts.\nRow 1: Knit 2, yo, purl 2.\n"
    )
    assert found == []


def test_without_a_list_nothing_can_be_said():
    _, verdict = words_of("# A\nCast on 5 sts.\nRow 1: K2, p2, k1.\n")
    assert (verdict.result, verdict.missing) == (Result.UNDECIDED, "the pattern has no list of abbreviations")
    _, verdict = words_of("# A\nCast on 4 sts.\nRow 1: Knit.\n")
    assert verdict.result is Result.NOT_APPLICABLE


def test_two_forms_of_one_word():
    text = "# A\nCast on 12 sts. Join.\nRnd 1: Knit.\nRound 2: Purl.\n"
    assert words_of(text)[0] == ["two-forms: Round 2"]
    assert words_of(text.replace("Round", "Rnd"))[0] == []


def test_special_stitches_alone_need_not_hold_every_abbreviation():
    special = "# A\n## Special stitches\nMB: [k1, p1, k1] in next st.\n## Body\nCast on 9 sts.\nRow 1: K4, MB, ssk, k2.\n"
    found, verdict = words_of(special)
    assert (found, verdict.result) == ([], Result.UNDECIDED)
    found, _ = words_of(special.replace("Special stitches", "Abbreviations used"))
    assert "abbreviation-not-explained: ssk" in found
