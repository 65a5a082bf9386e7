"""Files through the server: opened, saved, watched, and attacks refused or harmless."""

import json
import time
from concurrent.futures import ThreadPoolExecutor

import pytest

TERN = "# Tern\n\nCast on 24 sts.\n"
SCRIPT = '"><script>alert(1)</script><img src=x onerror=alert(2)>'


@pytest.fixture
def tern(page, folder):
    (folder / "tern.pattern.md").write_text(TERN, encoding="utf-8")
    return page.get("/api/pattern", params={"path": "tern.pattern.md"}).json()


def save(page, text, stamp, **more):
    return page.put("/api/pattern", json={"path": "tern.pattern.md", "text": text, "stamp": stamp, **more})


def test_the_binder_lists_patterns_and_examples(page, tern):
    got = page.get("/api/binder").json()
    assert [(p["path"], p["title"], p["sizes"]) for p in got["patterns"]] == [("tern.pattern.md", "Tern", 1)]
    assert {"skerry-hat", "gannet-shawl"} <= {e["name"] for e in got["examples"]}
    assert all(e["title"] and e["told"] for e in got["examples"])


def test_an_example_can_be_looked_at_and_begun_from(page, folder):
    hat = page.get("/api/example", params={"name": "skerry-hat"}).json()
    assert hat["title"] == "Skerry Hat"
    made = page.post("/api/new", json={"name": "My hat", "from": "skerry-hat"})
    assert made.status_code == 201
    assert (folder / "My hat.pattern.md").read_text(encoding="utf-8") == hat["text"]
    assert page.get("/api/example", params={"name": "../README"}).status_code == 404
    assert page.post("/api/new", json={"name": "x", "from": "none"}).status_code == 404


def test_a_save_a_draft_and_the_way_back(page, tern):
    assert (
        page.put(
            "/api/draft", json={"path": tern["path"], "text": TERN + "R", "stamp": tern["stamp"]}
        ).status_code
        == 200
    )
    assert page.get("/api/pattern", params={"path": tern["path"]}).json()["draft"]["text"] == TERN + "R"
    got = save(page, TERN + "Row 1: K24.\n", tern["stamp"]).json()
    now = page.get("/api/pattern", params={"path": tern["path"]}).json()
    assert (now["stamp"], now["text"], now["draft"]) == (got["stamp"], TERN + "Row 1: K24.\n", None)
    newest, oldest = page.get("/api/history", params={"path": tern["path"]}).json()["versions"]
    assert (newest["changed"], newest["lines"], oldest["stamp"]) == (1, 4, tern["stamp"])
    back = page.get("/api/history/one", params={"path": tern["path"], "id": oldest["id"]}).json()["text"]
    assert back == TERN


def test_a_conflict_is_told_with_both_texts(page, tern, folder):
    (folder / "tern.pattern.md").write_text(TERN.replace("24", "𝟛0"), encoding="utf-8")
    got = save(page, TERN.replace("24", "28") + "Bind off.\n", tern["stamp"])
    assert got.status_code == 409
    told = got.json()
    assert "changed elsewhere" in told["message"]
    (clash,) = told["merged"]["clashes"]
    units = told["merged"]["text"].encode("utf-16-le")
    assert units[2 * clash["from"] : 2 * clash["to"]].decode("utf-16-le") == clash["hers"]
    assert save(page, told["merged"]["text"], told["stamp"]).status_code == 200


def test_of_two_windows_that_save_at_once_one_is_told(page, tern):
    with ThreadPoolExecutor(4) as pool:
        answers = list(
            pool.map(lambda n: save(page, f"{TERN}Row {n}\n", tern["stamp"]).status_code, range(4))
        )
    assert sorted(answers) == [200, 409, 409, 409]


def test_a_window_hears_that_another_has_saved(page, tern):
    with ThreadPoolExecutor(1) as pool:
        asked = {"path": tern["path"], "stamp": tern["stamp"]}
        waiting = pool.submit(lambda: page.get("/api/watch", params=asked).json())
        time.sleep(0.3)
        stamp = save(page, TERN + "x\n", tern["stamp"]).json()["stamp"]
        assert waiting.result(5) == {"stamp": stamp, "changed": True, "gone": False}
    assert page.get("/api/watch", params={**asked, "stamp": stamp, "wait": "0"}).json()["changed"] is False


def test_a_file_that_is_gone_is_said(page, tern, folder):
    (folder / "tern.pattern.md").unlink()
    asked = {"path": tern["path"], "stamp": tern["stamp"], "wait": "0"}
    assert page.get("/api/watch", params=asked).json() == {"stamp": "", "changed": True, "gone": True}
    assert page.get("/api/pattern", params={"path": tern["path"]}).status_code == 404


# --- attacks -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "path", ["../secret.md", "/etc/hostname.md", "link.md", "a/../../secret.md", "..%2fsecret.md", "x.py"]
)
@pytest.mark.parametrize("address", ["/api/pattern", "/api/history", "/api/watch"])
def test_nothing_outside_the_folder_can_be_read(page, folder, path, address):
    (folder.parent / "secret.md").write_text("the secret", encoding="utf-8")
    (folder / "link.md").symlink_to(folder.parent / "secret.md")
    got = page.get(address, params={"path": path, "stamp": "", "wait": "0"})
    assert got.status_code == 403
    assert "the secret" not in got.text
    told = page.put("/api/pattern", json={"path": path, "text": "x", "stamp": ""})
    assert told.status_code == 403
    assert (folder.parent / "secret.md").read_text(encoding="utf-8") == "the secret"


def test_a_huge_body_is_refused(page, tern):
    for size in (1_100_000, 5_000_000):
        got = save(page, "x" * size, tern["stamp"])
        assert got.status_code == 413
        assert "1 MB" in got.json()["message"]
    work = page.post("/api/work", json={"text": "x" * 1_100_000})
    assert work.status_code == 413

    def endless():
        for _ in range(100):
            yield b" " * 100_000

    got = page.put("/api/pattern", content=endless(), headers={"content-type": "application/json"})
    assert got.status_code == 413


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"{",
        b"[]",
        b"null",
        b'{"path": 1}',
        b"\xff\xfe",
        b'{"path":"a.md","text":"\\ud800","stamp":""}',
        b"[" * 100_000,
    ],
    ids=str,
)
@pytest.mark.parametrize(
    "address", ["PUT /api/pattern", "POST /api/work", "POST /api/new", "POST /api/export", "POST /api/rescue"]
)
def test_a_body_that_is_none_is_answered_in_a_sentence(page, address, body):
    method, path = address.split()
    got = page.request(method, path, content=body, headers={"content-type": "application/json"})
    assert 400 <= got.status_code < 500
    assert "Traceback" not in got.text
    assert got.json()["message"]


def test_script_in_every_field_comes_back_as_text_in_json_only(page, tern, folder):
    answers = [
        page.get("/api/pattern", params={"path": f"{SCRIPT}.md"}),
        page.get("/api/history/one", params={"path": tern["path"], "id": SCRIPT}),
        page.get("/api/explain", params={"code": SCRIPT}),
        page.get("/api/example", params={"name": SCRIPT}),
        page.get(f"/static/{SCRIPT}"),
        page.get(f"/page/{SCRIPT}"),
        page.get(f"/{SCRIPT}"),
        save(page, SCRIPT, SCRIPT, window=SCRIPT),
        page.put(
            "/api/draft", json={"path": tern["path"], "text": SCRIPT, "stamp": SCRIPT, "window": SCRIPT}
        ),
        page.post("/api/new", json={"name": SCRIPT, "text": SCRIPT}),
        page.post("/api/paste", json={"text": SCRIPT}),
        page.get("/api/binder"),
    ]
    for got in answers:
        assert got.headers["content-type"] == "application/json"
        assert got.headers["x-content-type-options"] == "nosniff"
        json.loads(got.text)
    inside = {p.relative_to(folder).parts[0] for p in folder.rglob("*")}
    assert all("/" not in name and "<" not in name for name in inside)


def test_script_in_the_words_of_a_pattern_stays_words(page):
    text = (
        f"# {SCRIPT}\nSizes: {SCRIPT}\nYarn: {SCRIPT}\nGauge: 20 sts and 28 rows = 10 cm in {SCRIPT}\n{SCRIPT}: {SCRIPT}\n\n"
        f"## {SCRIPT}\n> {SCRIPT}\nCast on 8 sts.\nRow 1 (RS): K2, yo, k2tog, k4.\nRow 2: Purl.\n{SCRIPT}\nBind off.\n"
    )
    asked = {"path": "x.md", "text": text}
    for what, more in (("work", {}), ("row", {"order": 2})):
        got = page.post(f"/api/{what}", json={**asked, **more})
        assert got.status_code == 200
        assert got.headers["content-type"] == "application/json"
        for picture in ("close_up", "chart_line"):
            assert "<script" not in (got.json().get(picture) or "")
            assert "<img" not in (got.json().get(picture) or "")
    for name in ("sheet", "report", "follow", "chart"):
        got = page.post("/api/page", json={**asked, "page": name, "extra": {"unproved": True}})
        assert got.status_code == 200, got.text
        for drawing in got.json()["drawings"]:
            assert "<script" not in drawing["svg"]
        if url := got.json()["url"]:
            shown = page.get(url).text
            assert "<script>alert" not in shown
            assert "<img src=x" not in shown


def test_a_long_poll_and_odd_numbers_do_no_harm(page, tern):
    for wait in ("-1", "1e9", "nan", "²", ""):
        asked = {"path": tern["path"], "stamp": "other", "wait": wait}
        assert page.get("/api/watch", params=asked).json()["changed"] is True
