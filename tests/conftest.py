"""The long laws run only when asked for: ``pytest -m long``."""

import pytest


def pytest_configure(config):
    config.addinivalue_line("markers", "long: ten thousand examples; run with -m long")


def pytest_collection_modifyitems(config, items):
    if "long" in (config.getoption("-m") or ""):
        return
    skip = pytest.mark.skip(reason="asked for by -m long")
    for item in items:
        if item.get_closest_marker("long") is not None:
            item.add_marker(skip)
