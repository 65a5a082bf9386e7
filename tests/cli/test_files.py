"""Files and calls that cannot be used: one clear line, exit code 2, never a traceback."""

import io
import os
import subprocess
import sys

import pytest

from purlwright.cli import main
from purlwright.files import MOST_BYTES

COMMANDS = ["ledger", "proof"]


@pytest.fixture
def complaint(capsys):
    """Run, and hand back the one line that was said."""

    def run(*words):
        assert main([str(w) for w in words]) == 2
        out, err = capsys.readouterr()
        assert out == ""
        assert err.startswith("purlwright: ")
        assert err.count("\n") == 1
        assert "Traceback" not in err
        return err.removeprefix("purlwright: ").rstrip("\n")

    return run


@pytest.fixture
def file(tmp_path):
    def write(raw):
        path = tmp_path / "a.pattern.md"
        path.write_bytes(raw)
        return path

    return write


@pytest.mark.parametrize("command", COMMANDS)
def test_a_missing_file(complaint, tmp_path, command):
    assert complaint(command, tmp_path / "no.md") == f'There is no file "{tmp_path}/no.md".'.replace(
        "/", os.sep
    )


def test_a_folder_where_one_file_is_needed(complaint, tmp_path):
    assert complaint("ledger", tmp_path).endswith("is a folder; name a file in it.")


def test_a_folder_without_patterns(complaint, tmp_path):
    (tmp_path / "notes.txt").write_text("Cast on 4.")
    assert complaint("proof", tmp_path).startswith("There is no pattern (*.pattern.md) in the folder")


@pytest.mark.parametrize("command", COMMANDS)
@pytest.mark.parametrize("raw", [b"", b"\n \n", b"\xef\xbb\xbf"])
def test_an_empty_file(complaint, file, command, raw):
    assert complaint(command, file(raw)).endswith("is empty.")


@pytest.mark.parametrize("command", COMMANDS)
def test_a_binary_file(complaint, file, command):
    assert complaint(command, file(b"PNG\0\1\2")).endswith("is not a text file: byte 4 is zero.")


def test_a_file_in_another_encoding(complaint, file):
    said = complaint("proof", file("Cast on 4.\nRow 1: K½.".encode("latin-1")))
    assert said.endswith("is not UTF-8: byte 20 (0xBD, in line 2) is no letter there. Save it as UTF-8.")
    assert complaint("proof", file("Cast on 4.".encode("utf-16"))).endswith(
        "saved as UTF-16; save it as UTF-8."
    )


def test_a_file_over_the_limit(complaint, file):
    said = complaint("proof", file(b"k2, " * (MOST_BYTES // 4) + b"k"))
    assert said.endswith("is over 1 MB; a pattern may have 1,000,000 bytes.")


@pytest.mark.skipif(not os.path.exists("/dev/zero"), reason="no endless file here")  # noqa: PTH110
def test_an_endless_file(complaint):
    assert complaint("proof", "/dev/zero").endswith("is over 1 MB; a pattern may have 1,000,000 bytes.")


def test_a_file_name_that_a_terminal_would_obey(complaint):
    assert "\x1b" not in complaint("proof", "\x1b[2J.md")


def test_a_file_name_with_a_zero_in_it(complaint):
    assert complaint("proof", "a\0b").startswith('"a·b" cannot be read')


def test_standard_input_is_read_with_the_same_care(complaint, monkeypatch):
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(b"\0")))
    assert complaint("ledger", "-") == "Standard input is not a text file: byte 1 is zero."


def test_a_call_that_cannot_be_followed(complaint):
    assert complaint("profo", "x") == 'There is no command "profo"; did you mean "proof"?'


def test_our_own_fault_is_said_as_such(capsys, monkeypatch, file):
    def stumble(*_):
        raise ZeroDivisionError

    monkeypatch.delenv("PURLWRIGHT_TRACEBACK", raising=False)
    monkeypatch.setattr("purlwright.several.work_up", stumble)
    path = str(file(b"Cast on 4."))
    assert main(["proof", path]) == 2
    err = capsys.readouterr().err
    assert "purlwright-fault: a fault in Purlwright, not in your pattern (ZeroDivisionError)" in err
    assert "Traceback" not in err
    monkeypatch.setenv("PURLWRIGHT_TRACEBACK", "1")
    assert main(["proof", path]) == 2
    assert "Traceback" in capsys.readouterr().err


def test_no_traceback_from_the_command_itself(tmp_path):
    done = subprocess.run(
        [sys.executable, "-m", "purlwright", "ledger", str(tmp_path)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert (done.returncode, done.stdout) == (2, "")
    assert "Traceback" not in done.stderr


def test_the_house_style_beside_a_pattern_or_above_it_is_read(tmp_path, capsys, monkeypatch):
    inner = tmp_path / "work" / "hats"
    inner.mkdir(parents=True)
    pattern = inner / "a.pattern.md"
    pattern.write_text("# A\nCast on 4 sts.\nRow 1: Knit.\nBind off.\n", encoding="utf-8")
    (tmp_path / "house-style.md").write_text("Terms: US\n", encoding="utf-8")
    above = tmp_path / "work" / "house-style.md"
    above.write_text("Full stops: no\n", encoding="utf-8")
    monkeypatch.chdir(tmp_path / "work")

    def said():
        assert main(["proof", str(pattern)]) == 0
        return capsys.readouterr().out

    assert '"no full stops"' in said()
    (inner / "house-style.md").write_text("Capitals: no\n", encoding="utf-8")
    assert '"no capitals after the label"' in said()
    (inner / "house-style.md").unlink()
    above.unlink()
    assert "house style is" not in said()  # above the folder in which she works none is looked for
