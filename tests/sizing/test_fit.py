"""Whether pieces go on the bodies they are for, by the tables of bodies; and the tables themselves."""

import pytest

from purlwright.findings import Result
from purlwright.sizing.bodies import GROUPS, bodies, heads_hands_feet, own_bodies
from purlwright.sizing.unknowns import NoPlan
from purlwright.workup import WorkUp

HAT = """# Gull Hat
Sizes: S (L)
{fit}Gauge: 20 sts and 28 rounds = 10 cm in stockinette stitch, in the round
Cast on {sts} sts. Join to work in the round.
Knit 30 rnds.
Next rnd: *K2tog; rep from * to end.
Break the yarn, draw it through the remaining sts and fasten off.
"""
SLEEVE = """# Plover Pullover
To fit: chest {chest} cm
Gauge: 20 sts and 28 rows = 10 cm in stockinette stitch
## Back
Cast on {body} sts.
Work 60 rows in stockinette stitch, ending with a WS row.
Bind off.
## Sleeves (make 2)
Cast on {sleeve} sts.
Work 60 rows in stockinette stitch, ending with a WS row.
Bind off.
"""


def codes(text, check):
    proved = WorkUp(text).proved()
    (verdict,) = [v for v in proved.verdicts if v.check == check]
    return verdict.result, sorted(f.code for f in proved.findings if f.check == check)


@pytest.mark.parametrize(
    ("fit", "sts", "found"),
    [
        ("To fit: head 50 (56) cm\n", "90 (100)", []),
        ("To fit: head 50 (56) cm\n", "50 (60)", ["far-from-body"]),
        ("To fit: head 50 (56) cm\n", "130 (150)", ["far-from-body"]),
        ("", "90 (100)", []),
        ("", "200 (220)", ["far-from-body"]),
    ],
)
def test_a_hat_is_set_beside_the_head_it_is_for_or_beside_all_heads(fit, sts, found):
    result, said = codes(HAT.format(fit=fit, sts=sts), "C066")
    assert said == found
    assert result is (Result.FAILS if found else Result.HOLDS)


@pytest.mark.parametrize(("sts", "found"), [("90 (100)", []), ("60 (70)", ["opening-too-small"])])
def test_a_brim_goes_over_the_head_or_is_found(sts, found):
    assert codes(HAT.format(fit="To fit: head 50 (56) cm\n", sts=sts), "C065")[1] == found


@pytest.mark.parametrize(
    ("chest", "body", "sleeve", "found"),
    [
        (97, 104, 66, []),  # 33 cm round; an arm of this size is about 28 cm
        (97, 104, 48, ["sleeve-too-narrow"]),
        (63.5, 70, 46, []),  # 23 cm round, child 6: 20.5 cm
        (63.5, 70, 34, ["sleeve-too-narrow"]),
    ],
)
def test_a_sleeve_goes_round_the_arm_or_is_found(chest, body, sleeve, found):
    assert codes(SLEEVE.format(chest=chest, body=body, sleeve=sleeve), "C067")[1] == found


def test_a_figure_from_memory_is_said_to_be_one():
    (finding,) = [
        f
        for f in WorkUp(SLEEVE.format(chest=97, body=104, sleeve=48)).proved().findings
        if f.code == "sleeve-too-narrow"
    ]
    assert "from memory" in finding.problem.message()


def test_tables_have_sizes_in_order_and_every_measure_a_status():
    for group in GROUPS:
        chests = [b.size("chest").mm for b in bodies(group)]
        assert chests == sorted(chests)
        assert all(size.status for b in bodies(group) for size in b.measures.values())
    for part in ("head", "hand", "foot"):
        assert all(size.source for b in heads_hands_feet(part) for size in b.measures.values())


def test_a_child_of_six_as_the_standard_prints_it():
    """Craft Yarn Council, child 6: chest 25 in, cross back 10¼, arm to underarm 11½, upper arm 8, armhole
    5.
    """
    (six,) = [b for b in bodies("child") if b.name == "6"]
    inches = {
        name: round(float(six.size(name).mm) / 25.4, 1) for name in ("chest", "upper arm", "armhole depth")
    }
    assert inches == {"chest": 25.0, "upper arm": 8.1, "armhole depth": 4.9}


def test_a_table_in_inches_and_cm():
    mina, oskar = own_bodies("size,chest (in),upper arm\nMina,30,25\nOskar,40-42,\n")
    assert float(mina.size("chest").mm) == 762
    assert float(oskar.size("chest").mm) == pytest.approx(41 * 25.4)
    with pytest.raises(NoPlan, match="no upper arm is known"):
        oskar.size("upper arm")
