"""Colour is for a terminal that wants it, and for nothing else."""

import os
import subprocess
import sys

import pytest

pty = pytest.importorskip("pty")

TEXT = "# Gull Coaster\nCast on 12 sts.\nRow 1 (RS): [k3, p1] 2 times.\nBind off all sts.\n"


def on_a_terminal(path, **settings):
    """What `proof` writes when its output is a terminal."""
    ours, theirs = pty.openpty()
    env = {k: v for k, v in os.environ.items() if k not in {"NO_COLOR", "TERM", "COLUMNS"}}
    words = [sys.executable, "-m", "purlwright", "proof", str(path)]
    subprocess.run(words, stdout=theirs, env={**env, "TERM": "xterm", **settings}, check=False)
    os.close(theirs)
    out = b""
    try:
        while piece := os.read(ours, 65536):
            out += piece
    except OSError:  # how a terminal says that its other end has closed
        pass
    os.close(ours)
    return out.decode("utf-8")


@pytest.fixture
def path(tmp_path):
    file = tmp_path / "a.pattern.md"
    file.write_text(TEXT, encoding="utf-8")
    return file


def test_a_terminal_gets_colour(path):
    assert "\x1b[1m" in on_a_terminal(path)


@pytest.mark.parametrize("settings", [{"NO_COLOR": "1"}, {"TERM": "dumb"}])
def test_no_colour_where_none_is_wanted(path, settings):
    shown = on_a_terminal(path, **settings)
    assert "\x1b" not in shown
    assert "Gull Coaster" in shown


def test_a_file_or_pipe_gets_none(path):
    words = [sys.executable, "-m", "purlwright", "proof", str(path)]
    assert b"\x1b" not in subprocess.run(words, capture_output=True, check=False).stdout


@pytest.mark.parametrize(("columns", "widest"), [("60", 60), ("120", 88), ("nonsense", 80), ("1", 40)])
def test_the_width_is_asked_for(path, columns, widest):
    env = {**os.environ, "COLUMNS": columns}
    words = [sys.executable, "-m", "purlwright", "proof", str(path)]
    out = subprocess.run(words, capture_output=True, check=False, env=env).stdout.decode("utf-8")
    assert max(len(line) for line in out.splitlines() if line.startswith("──")) == widest
