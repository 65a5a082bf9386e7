"""Nobody but the page of this run is answered."""

import pytest

KEY = "the-key-of-this-run"
HOME = "http://127.0.0.1:8321"
ADDRESSES = ["/", "/static/page.js", "/api/binder", "/api/pattern?path=a.pattern.md", "/page/x", "/nothing"]


def refused(answer):
    assert answer.status_code == 403
    assert set(answer.json()) == {"message"}
    assert answer.headers["content-security-policy"].startswith("default-src 'none'")
    return answer.json()["message"]


@pytest.mark.parametrize("address", ADDRESSES)
def test_without_the_key_nothing_is_told(stranger, address):
    assert refused(stranger.get(address)).startswith("This page is not open with the key of this run.")


def test_a_wrong_key_opens_nothing(stranger):
    assert refused(stranger.get("/open", params={"key": KEY[:-1]})).startswith(
        "This link is not of this run."
    )
    assert refused(stranger.get("/open")).startswith("This link is not of this run.")
    assert "set-cookie" not in stranger.get("/open", params={"key": "ключ"}).headers


def test_the_link_gives_a_cookie_that_scripts_cannot_read_and_other_sites_do_not_send(stranger):
    cookie = stranger.get("/open", params={"key": KEY}).headers["set-cookie"]
    assert "HttpOnly" in cookie
    assert "samesite=strict" in cookie.lower()
    assert stranger.get("/api/binder").status_code == 200


@pytest.mark.parametrize(
    "host",
    ["evil.example", "evil.example:8321", "127.0.0.1:8322", "127.0.0.1", "localhost:80", "[::1]:8321", ""],
)
@pytest.mark.parametrize("address", ["/", "/open?key=" + KEY, "/api/binder"])
def test_another_host_is_refused(page, host, address):
    assert refused(page.get(address, headers={"host": host})).startswith("This bench answers only")


def test_the_other_name_of_this_machine_is_as_good(page):
    assert (
        page.get(
            "/api/binder", headers={"host": "localhost:8321", "origin": "http://localhost:8321"}
        ).status_code
        == 200
    )


@pytest.mark.parametrize(
    "origin",
    [
        "http://evil.example",
        "null",
        "http://127.0.0.1:8322",
        "https://127.0.0.1:8321",
        "http://localhost:8321",
    ],
)
def test_another_origin_is_refused(page, origin):
    assert "another page" in refused(page.get("/api/binder", headers={"origin": origin}))
    told = page.put(
        "/api/pattern", json={"path": "a.md", "text": "", "stamp": ""}, headers={"origin": origin}
    )
    assert "another page" in refused(told)


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
def test_a_request_that_the_browser_says_is_from_elsewhere_is_refused(page, site):
    assert "another page" in refused(page.get("/api/binder", headers={"sec-fetch-site": site}))


def test_a_change_without_an_origin_is_refused(page, folder):
    del page.headers["origin"]
    told = page.post("/api/new", json={"name": "Tern", "text": "x"})
    assert "not asked for by the page" in refused(told)
    assert list(folder.iterdir()) == []


@pytest.mark.parametrize("kind", ["text/plain", "application/x-www-form-urlencoded", ""])
def test_a_form_of_another_page_cannot_change_anything(page, folder, kind):
    told = page.post("/api/new", content=b'{"name": "Tern", "text": "x"}', headers={"content-type": kind})
    assert refused(told) == "The bench takes JSON only."
    assert list(folder.iterdir()) == []


def test_the_page_may_load_its_own_files_only(page):
    first, second = (page.get("/").headers["content-security-policy"] for _ in range(2))
    rules = dict(rule.split(" ", 1) for rule in first.split("; "))
    assert rules["default-src"] == "'none'"
    assert rules["script-src"] == "'self'"
    assert rules["connect-src"] == "'self'"
    assert rules["frame-ancestors"] == "'none'"
    assert "unsafe" not in first
    assert first != second  # the mark for styles is new each time
    assert page.get("/").headers["x-content-type-options"] == "nosniff"


def test_what_is_not_there_is_said_in_a_sentence(page):
    for answer, status in (
        (page.get("/nothing"), 404),
        (page.delete("/api/binder"), 403),
        (page.patch("/", json={}), 405),
    ):
        assert answer.status_code == status
        assert set(answer.json()) == {"message"}


@pytest.mark.parametrize(
    "name", ["../app.py", "%2e%2e/app.py", "..%2fapp.py", "a/../../guard.py", ".hidden", "c:/x.js", ""]
)
def test_no_file_beside_the_page_is_given(page, name):
    assert page.get(f"/static/{name}").status_code == 404


def test_the_typefaces_of_the_sheets_are_there_and_nothing_beside_them(page):
    face = page.get("/fonts/Fraunces-SemiBold.ttf")
    assert (face.status_code, face.headers["content-type"]) == (200, "font/ttf")
    for name in ("README.md", "Fraunces-OFL.txt", "..%2fdocument.py", "None.ttf"):
        assert page.get(f"/fonts/{name}").status_code == 404
