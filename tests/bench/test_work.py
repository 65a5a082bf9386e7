"""What the page is told of the knitting, asked through the server and its processes."""

import io
import json
import struct
import zipfile
from pathlib import Path

import numpy as np
import pytest

ROOT = Path(__file__).resolve().parents[2]
HAT = (ROOT / "examples" / "skerry-hat.pattern.md").read_text(encoding="utf-8")
MAT = "# 𝕄at\nGauge: 20 sts and 28 rows = 10 cm in stockinette stitch\n\nCast on 24 sts.\nRow 1 (RS): [K2, p2] 5 times. (24 sts)\nRow 2 (WS): P24.\nBind off.\n"
GOOD = MAT.replace("5 times", "6 times")


def utf16(text, words):
    """Where words stand, as the page counts."""
    at = text.index(words)
    return len(text[:at].encode("utf-16-le")) // 2


def ask(page, what, text=GOOD, /, **more):
    answer = page.post(f"/api/{what}", json={"path": "mat.pattern.md", "version": 7, "text": text, **more})
    assert answer.status_code == 200, answer.text
    return answer


@pytest.fixture(scope="module")
def page(lasting_page):
    return lasting_page


def test_the_margin_has_every_row_at_its_words(page):
    got = ask(page, "work").json()
    assert (got["version"], got["title"], got["sizes"], got["stitches"]) == (7, "𝕄at", ["one size"], 96)
    assert [(r["label"], r["kind"], r["side"], r["start"], r["end"]) for r in got["rows"]] == [
        ("", "cast-on", None, 0, 24),
        ("Row 1", "row", "RS", 24, 24),
        ("Row 2", "row", "WS", 24, 24),
        ("", "bind-off", "RS", 24, 0),
    ]
    assert got["rows"][1]["from"] == utf16(GOOD, "[K2")  # after a letter of two units
    assert got["findings"] == []


def test_a_finding_stands_at_its_words_in_units_of_the_page(page):
    (mark,) = [m for m in ask(page, "work", MAT).json()["findings"] if m["severity"] == "error"]
    units = MAT.encode("utf-16-le")
    words = units[2 * mark["from"] : 2 * mark["to"]].decode("utf-16-le")
    assert (mark["code"], mark["line"], words) == ("count-differs", 5, "[K2, p2] 5 times. (24 sts)")
    assert "20" in mark["message"]
    assert "24" in mark["message"]
    assert mark["label"]


def test_a_size_and_a_value_are_chosen_and_unknown_ones_fall_back(page):
    got = ask(page, "work", HAT, size="adult", options={"turns": "double stitch"}).json()
    assert got["size"] == "adult"
    assert [(o["name"], o["chosen"]) for o in got["options"]] == [("turns", "double stitch")]
    gone = ask(page, "work", HAT, size="giant", options={"turns": "none", "x": "y"}).json()
    assert gone["size"] == got["sizes"][0]
    assert gone["options"][0]["chosen"] == gone["options"][0]["values"][0]


def test_headings_and_notes_have_their_stretches(page):
    got = ask(page, "work", HAT).json()
    (wedge,) = [s for s in got["sections"] if s["name"] == "Wedge"]
    assert HAT[wedge["from"] :].startswith("## Wedge")
    assert HAT[wedge["to"] : wedge["to"] + 4] == "\n## "
    assert any("nobody will" in HAT[n["from"] : n["to"]] for n in got["notes"])


def test_repeated_rows_say_how_often_they_are_worked(page):
    rows = [r for r in ask(page, "work", HAT, size="child").json()["rows"] if r["label"] == "Row 3"]
    assert [(r["section"], r["pass"], r["passes"]) for r in rows] == [
        *(("Wedge", n, 13) for n in range(1, 14)),
        ("Last wedge", 1, 1),
    ]


def test_a_proof_tells_every_check_and_sums_up(page):
    got = ask(page, "proof", HAT).json()
    assert got["ways"] == 6
    assert got["summary"].startswith("Every size can be knitted as written; knitted in 6 ways.")
    assert len(got["checks"]) > 100
    assert all(c["title"] for c in got["checks"])
    assert ask(page, "proof", MAT).json()["summary"].startswith("1 error to correct")


def test_a_repair_is_offered_with_its_edits(page):
    (repair,) = ask(page, "repairs", MAT).json()["repairs"]
    (edit,) = repair["fixes"][0]["edits"]
    units = MAT.encode("utf-16-le")
    mended = units[: 2 * edit["from"]] + edit["insert"].encode("utf-16-le") + units[2 * edit["to"] :]
    assert mended.decode("utf-16-le") == GOOD


def test_a_row_unfolds_with_needles_cloth_and_chart(page):
    got = ask(page, "row", order=2).json()
    assert got["words_full"] == "[knit 2, purl 2] 6 times."
    assert sum(run["count"] for run in got["before"]["left"]) == 24
    assert [run["count"] for run in got["after"]["right"]] == [2] * 12
    assert sum(b["takes"] for b in got["frames"]["beats"]) == 24
    assert got["ledger"]["label"] == "Row 1"
    for picture in ("close_up", "chart_line"):
        assert got[picture].startswith("<svg")
        assert "<script" not in got[picture]
    start = utf16(GOOD, "K2, p2")
    assert f'data-span="{start}-' in got["chart_line"]


def test_a_cast_on_says_why_it_has_no_needles(page):
    got = ask(page, "row", order=1).json()
    assert got["frames"] is None
    assert got["why"]


def test_clues_of_a_row(page):
    order = next(r["order"] for r in ask(page, "work", HAT).json()["rows"] if r["label"] == "Row 5")
    got = ask(page, "clues", HAT, order=order).json()
    assert got["here"]
    assert all(order in clue["orders"] for clue in got["here"])


@pytest.mark.parametrize(
    ("before", "remain", "offered", "fits"),
    [
        ("Row 1 (RS): ", 24, "k24", True),
        ("Row 1 (RS): K20, ", 4, "k4", True),
        ("Row 1 (RS): K23, ", 1, "k2tog", False),
        ("Row 1 (RS): *K2, p2; ", 20, "rep from * to end", True),
        ("Row 1 (RS): *K3, p2; ", 19, "rep from * to last 4 sts", True),
        ("Row 1 (RS): [K1, p1] 4 times, *[k1, p1] twice, k1; ", 11, "rep from * to last 1 st", True),
        ("Row 1 (RS): *K1; ", 23, "rep from * to end", True),
        ("Row 1 (RS): K10, pm, k10, ", 4, "p4", True),
    ],
)
def test_what_fits_here(page, before, remain, offered, fits):
    text = f"# Mat\n\nCast on 24 sts.\n{before}\nRow 2 (WS): Purl.\n"
    got = ask(page, "complete", text, at=text.index(before) + len(before)).json()
    assert got["here"]["sts_remain"] == remain
    assert str(remain) in got["here"]["words"]
    (one,) = [o for o in got["offers"] if o["words"] == offered]
    assert one["fits"] is fits


def test_stitches_up_to_a_marker_are_told(page):
    text = "# Mat\n\nCast on 24 sts.\nRow 1 (RS): K10, pm, k14.\nRow 2 (WS): P4, \n"
    got = ask(page, "complete", text, at=len(text) - 1).json()
    assert (got["here"]["to_marker"], got["here"]["side"]) == (10, "WS")
    assert "k to m" in [o["words"] for o in got["offers"]]


def test_a_typed_beginning_is_completed(page):
    text = "# Mat\n\nCast on 24 sts.\nRow 1 (RS): K2t\n"
    got = ask(page, "complete", text, at=len(text) - 1).json()
    assert text[got["from"] : got["to"]] == "K2t"
    assert got["offers"][0]["words"] == "k2tog"


def test_header_keys_and_headings_are_offered(page):
    got = ask(page, "complete", "# Mat\nGau", at=9).json()
    assert [o["words"] for o in got["offers"]] == ["Gauge: "]
    text = "# Mat\n\nCast on 4 sts.\n\n## Fin"
    assert [o["words"] for o in ask(page, "complete", text, at=len(text)).json()["offers"]] == ["Finishing"]


@pytest.mark.parametrize(
    ("word", "name", "takes", "gives"),
    [
        ("k2tog", "knit two together", 2, 1),
        ("yo", "yarn over", 0, 1),
        ("p3", "purl, 3 times", 3, 3),
        ("sl1-k2tog-psso", "slip one, knit two together, pass over", 3, 1),
        ("p2tog tbl", "purl two together through the back loops", 2, 1),
        ("rep", "rep", None, None),
        ("MB", "MB", 1, 1),
    ],
)
def test_what_a_word_means(page, word, name, takes, gives):
    text = f"# Mat\n\n## Abbreviations\nMB (make bobble): [k1, p1, k1] in next st, turn, p3, turn, sl1-k2tog-psso.\n\n## Mat\nCast on 24 sts.\nRow 1: K2, {word}, k2.\n"
    got = ask(page, "hover", text, at=text.rindex(word)).json()
    assert (got["name"], got["takes"], got["gives"]) == (name, takes, gives)
    assert text[got["from"] : got["to"]] == word
    assert got["told"]


def test_plain_words_mean_nothing_more(page):
    assert ask(page, "hover", "# Mat\nA cloth for the sill.\n", at=10).json() is None


def test_what_a_finding_means(page):
    got = page.get("/api/explain", params={"code": "total-differs"}).json()
    assert (got["code"], got["check"]) == ("total-differs", "C002")
    assert {"head", "text"} == {b["kind"] for b in got["blocks"]}
    check = page.get("/api/explain", params={"code": "C002"}).json()
    assert "pattern" in {b["kind"] for b in check["blocks"]}
    assert page.get("/api/explain", params={"code": "<b>"}).status_code == 404


def cloth(page, text=GOOD, **more):
    raw = ask(page, "cloth", text, **more).content
    (length,) = struct.unpack_from("<I", raw)
    head = json.loads(raw[4 : 4 + length])
    start = 4 + length
    assert start % 8 == 0
    kinds = {"f32": "<f4", "u8": "u1", "u32": "<u4"}
    arrays = {
        a["name"]: np.frombuffer(
            raw, kinds[a["dtype"]], int(np.prod(a["shape"])), start + a["offset"]
        ).reshape(a["shape"])
        for a in head["arrays"]
    }
    return head, arrays


@pytest.mark.parametrize("level", ["quick", "settled"])
def test_the_cloth_has_a_frame_for_every_stitch(page, level):
    head, arrays = cloth(page, level=level)
    assert head["n"] == len(arrays["at"]) > 70
    assert {name: a.shape[1:] for name, a in arrays.items()} == {
        "at": (3,), "along": (3,), "across": (3,), "out": (3,), "shape": (), "colour": (), "row": (), "span": (2,), "stitch": (),
    }  # fmt: skip
    assert np.isfinite(arrays["at"]).all()
    assert np.allclose(np.linalg.norm(arrays["out"], axis=1), 1, atol=1e-3)
    # 24 stitches at 20 to 10 cm
    width = np.ptp(arrays["at"][arrays["row"] == 2][:, 0])
    assert width == pytest.approx(115, abs=8)
    knit = arrays["span"][(arrays["row"] == 2) & (arrays["shape"] == 0)][0]
    assert GOOD.encode("utf-16-le")[2 * knit[0] : 2 * knit[1]].decode("utf-16-le").strip() == "K2"


def test_a_thing_in_space_says_how_it_is_looked_at(page):
    assert cloth(page, lies="blocked")[0]["view"] is None  # pinned out flat
    head, arrays = cloth(page, text=HAT)
    front, up = (np.array(head["view"][way]) for way in ("front", "up"))
    assert np.linalg.norm(front) == pytest.approx(1, abs=1e-3)
    assert np.linalg.norm(up) == pytest.approx(1, abs=1e-3)
    assert front @ up == pytest.approx(0, abs=1e-3)
    assert arrays["at"].std() > 0


def test_words_find_their_stitches(page):
    start = utf16(GOOD, "P24")
    got = ask(page, "stitches", **{"from": start, "to": start + 3}).json()
    assert got == {"version": 7, "stitches": [[48, 71]], "many": 24}


@pytest.mark.parametrize("name", ["sheet", "follow", "lesson", "report"])
def test_a_page_is_shown_in_a_frame_that_can_reach_nothing(page, name):
    got = ask(page, "page", page=name).json()
    shown = page.get(got["url"])
    rules = shown.headers["content-security-policy"]
    assert "default-src 'none'" in rules
    assert "frame-ancestors 'self'" in rules
    assert "allow-same-origin" not in rules
    assert ("allow-scripts" in rules) == (name in {"follow", "lesson"})
    assert shown.text.startswith("<!doctype html>")


def test_charts_come_as_drawings_that_name_their_words(page):
    gannet = (ROOT / "examples" / "gannet-shawl.pattern.md").read_text(encoding="utf-8")
    got = ask(page, "page", gannet, page="chart").json()
    assert got["url"] is None
    assert got["drawings"]
    assert all("data-span=" in d["svg"] and d["words"] for d in got["drawings"])


@pytest.mark.parametrize(
    ("what", "as_", "begins", "name"),
    [
        ("sheet", "pdf", b"%PDF-", "mat.pdf"),
        ("sheet", "text", b"# ", "mat.txt"),
        ("sheet", "follow", b"<!doctype html>", "mat.follow.html"),
        ("lesson", "html", b"<!doctype html>", "mat.lesson.html"),
        ("cloth", "svg", b"<svg", "mat.cloth.svg"),
        ("cloth", "glb", b"glTF", "mat.cloth.glb"),
        ("report", "html", b"<!doctype html>", "mat.report.html"),
    ],
)
def test_all_that_the_command_line_writes_can_be_taken_away(page, what, as_, begins, name):
    got = ask(page, "export", what=what, **{"as": as_})
    assert got.content.startswith(begins)
    assert f'filename="{name}"' in got.headers["content-disposition"]


def test_several_charts_are_put_into_one_file(page):
    twice = (
        "\n## Sill\nRow 3 (RS): K2, yo, k2tog, k20.\nRow 4 (WS): Purl.\n"
        "\n## Ledge\nRow 5 (RS): K9, [yo, ssk, k1] 5 times.\nRow 6 (WS): Purl.\n"
    )
    text = GOOD.replace("Bind off.\n", twice + "Bind off.\n")
    got = ask(page, "export", text, what="chart", **{"as": "svg"})
    assert 'filename="mat.chart.zip"' in got.headers["content-disposition"]
    with zipfile.ZipFile(io.BytesIO(got.content)) as whole:
        assert whole.namelist() == ["mat.chart-ledge.svg", "mat.chart-sill.svg"]


def test_a_sheet_of_a_pattern_with_errors_says_which(page):
    got = page.post("/api/export", json={"path": "m.md", "text": MAT, "what": "sheet", "as": "pdf"})
    assert got.status_code == 422
    assert got.json()["message"].startswith("The pattern has 1 error, so no sheet is made of it yet")
    assert got.json()["findings"][0]["code"] == "count-differs"
    assert ask(page, "export", MAT, what="sheet", extra={"unproved": True}, **{"as": "text"}).content


def test_a_complaint_names_nothing_that_only_the_command_line_has(page):
    got = page.post(
        "/api/export",
        json={"path": "m.md", "text": GOOD.replace("[K2, p2] 6 times", "Knit"), "what": "chart", "as": "svg"},
    )
    assert got.status_code == 422
    assert "--" not in got.json()["message"]


def test_one_who_is_lost_is_asked_and_answered(page):
    shawl = (ROOT / "examples" / "gannet-shawl.pattern.md").read_text(encoding="utf-8")
    first = ask(page, "rescue", shawl).json()
    assert first["found"]["next"]["asks"]
    told = ask(page, "rescue", shawl, answers=[{"fact": "sts", "said": "76"}]).json()["found"]
    assert told["facts"] == {"sts": "76"}
    assert told["found"] or told["clash"] or told["next"]
    rows = ask(
        page, "where", shawl, answers=[{"fact": "sts", "said": "77"}, {"fact": "side", "said": "WS"}]
    ).json()
    assert rows["found"]["rows"]


def test_an_answer_that_is_none_is_said(page):
    got = page.post("/api/rescue", json={"text": GOOD, "answers": [{"fact": "sts", "said": "many"}]})
    assert (got.status_code, got.json()["fact"]) == (422, "sts")
    assert page.post("/api/rescue", json={"text": "# Mat\n"}).status_code == 422


@pytest.mark.parametrize(
    "text", ["", " ", "\n", "# ", "Cast on 1 st.", "x" * 5000, "\u202e*[((", "Row 1: k1, 𝕂\n" * 50]
)
@pytest.mark.parametrize("what", ["work", "complete", "hover"])
def test_any_words_at_all_are_answered(page, what, text):
    ask(page, what, text, **({} if what == "work" else {"at": len(text) + 5}))


@pytest.mark.parametrize(("row", "said"), [("P24.", None), ("P24. (24 sts)", 24), ("P24. (25 sts)", 25)])
def test_a_row_tells_the_total_that_is_printed_with_it(page, row, said):
    rows = ask(page, "work", GOOD.replace("P24.", row)).json()["rows"]
    assert [r["said"] for r in rows] == [None, 24, said, None]


KEPT = "# Mat\nWith the fine needles cast on 24 sts.\nKnit 1 row wiith MC.\nRow 2: Purl.\n"


@pytest.mark.parametrize("words", ["With the fine needles", "wiith MC"])
def test_words_in_a_row_from_which_nothing_is_knitted_are_told(page, words):
    notes = ask(page, "work", KEPT).json()["notes"]
    assert any(KEPT[n["from"] : n["to"]].strip(" .") == words for n in notes)
    got = ask(page, "hover", KEPT, at=KEPT.index(words) + 1).json()
    assert got["name"] == "A note"
    assert "nothing is knitted from them" in got["told"]
    assert not any("Row 2" in KEPT[n["from"] : n["to"]] for n in notes)
