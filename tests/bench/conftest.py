"""A bench on a folder of its own, asked as its page would."""

import pytest
from starlette.testclient import TestClient

from purlwright.bench.app import create_app

PORT = 8321
KEY = "the-key-of-this-run"
HOME = f"http://127.0.0.1:{PORT}"


@pytest.fixture
def folder(tmp_path):
    home = tmp_path / "patterns"
    home.mkdir()
    return home


@pytest.fixture
def stranger(folder):
    """Somebody without the key."""
    with TestClient(create_app(folder, key=KEY, port=PORT), base_url=HOME, follow_redirects=False) as client:
        yield client


@pytest.fixture
def page(stranger):
    """The page, opened with the link of this run."""
    assert stranger.get("/open", params={"key": KEY}).status_code == 303
    stranger.headers["origin"] = HOME
    return stranger


@pytest.fixture(scope="module")
def lasting_page(tmp_path_factory):
    """One bench for all tests of a file: its processes take a second each to start."""
    home = tmp_path_factory.mktemp("patterns")
    with TestClient(create_app(home, key=KEY, port=PORT), base_url=HOME) as client:
        client.get("/open", params={"key": KEY})
        client.headers["origin"] = HOME
        yield client
