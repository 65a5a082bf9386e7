"""Opening the bench from the command line, its port, and the file to double-click."""

import json
import os
import re
import shlex
import socket
import subprocess
import sys
import time
from contextlib import closing
from http.client import HTTPConnection

import pytest

from purlwright.bench.launcher import launcher_for, write_launcher
from purlwright.bench.refusals import Refused
from purlwright.bench.serve import listen
from purlwright.cli import main


def test_it_listens_on_this_machine_only():
    with listen(None) as listening:
        assert listening.getsockname()[0] == "127.0.0.1"
        assert listening.proto == socket.IPPROTO_TCP  # else each answer waits 40 ms


def test_a_port_that_is_taken_is_said(capsys, folder):
    with listen(None) as listening:
        port = listening.getsockname()[1]
        with listen(None) as other:
            assert other.getsockname()[1] != port
        assert main(["bench", str(folder), "--port", str(port), "--no-open"]) == 2
    assert f"Port {port} is taken" in capsys.readouterr().err


def test_a_folder_that_is_not_there_is_said(capsys, folder):
    assert main(["bench", str(folder / "none"), "--no-open"]) == 2
    assert "There is no folder" in capsys.readouterr().err


def opened(words, folder):
    """Start it with these words; its process, port and key."""
    process = subprocess.Popen(words, cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    for line in process.stdout:
        if found := re.search(r"127\.0\.0\.1:(\d+)/open\?key=(\S+)", line):
            return process, int(found[1]), found[2]
    pytest.fail(process.stderr.read())


def asked(port, path, cookie=""):
    line = HTTPConnection("127.0.0.1", port, timeout=20)
    line.request("GET", path, headers={"Cookie": cookie})
    answer = line.getresponse()
    told = answer.status, answer.read().decode()
    line.close()
    return told


def test_the_command_opens_the_folder_one_works_in_and_ends_quietly(folder):
    (folder / "tern.pattern.md").write_text("# Tern\n", encoding="utf-8")
    process, port, key = opened([sys.executable, "-m", "purlwright", "bench", "--no-open"], folder)
    try:
        assert asked(port, "/api/binder")[0] == 403
        status, told = asked(port, "/api/binder", f"purlwright-bench-{port}={key}")
        assert (status, "tern.pattern.md" in told) == (200, True)
    finally:
        process.send_signal(2)  # as Ctrl-C does
        _, complaints = process.communicate(timeout=20)
    assert complaints == ""
    assert process.returncode in {0, 130}


LONG = "# Long\n\nCast on 400 sts.\n" + "".join(
    f"Row {n}: *K{n % 7 + 1}, p2; rep from * to end.\n" for n in range(5000)
)
SHORT = "# Mat\n\nCast on 8 sts.\nRow 1 (RS): Knit.\nBind off.\n"


def asks(port, key, text):
    """Ask for a lesson as the page does, and do not wait for it."""
    line = HTTPConnection("127.0.0.1", port, timeout=60)
    sent = {
        "Cookie": f"purlwright-bench-{port}={key}",
        "Origin": f"http://127.0.0.1:{port}",
        "Content-Type": "application/json",
    }
    body = {"path": text[2:6], "version": 1, "text": text, "page": "lesson"}
    line.request("POST", "/api/page", json.dumps(body), sent)
    return line


def test_it_ends_quietly_while_something_long_is_being_made(folder):
    process, port, key = opened([sys.executable, "-m", "purlwright", "bench", "--no-open"], folder)
    with closing(asks(port, key, LONG)) as line:
        time.sleep(1.5)
        process.send_signal(2)
        answer = line.getresponse()
        told = answer.status, json.loads(answer.read())["message"]
    said, complaints = process.communicate(timeout=20)
    assert told == (503, "The bench is closing. Your words are safe.")
    assert complaints == ""
    assert said.endswith("The bench is closed. What you wrote is kept in the folder.\n")
    assert process.returncode == 0


# --- the file to double-click ---------------------------------------------------------------------------


@pytest.mark.skipif(
    not sys.platform.startswith("linux"), reason="what it calls is tried on the system that it is for"
)
def test_what_the_file_for_this_system_calls_opens_the_bench(folder, monkeypatch):
    strange = folder / 'Anna\'s "50 %" $HOME `x` \\ müsli'
    strange.mkdir()
    place, said = write_launcher(strange)
    assert os.access(place, os.X_OK)
    assert "no desktop yet" in said
    (line,) = re.findall(r"^Exec=(.*)$", place.read_text(encoding="utf-8"), re.MULTILINE)
    # as the specification has it: first the escapes of a value, then those of an argument, then the per cent signs
    parts = re.findall(r'"((?:\\.|[^"\\])*)"|(\S+)', line.replace("\\\\", "\\"))
    words = [re.sub(r"\\(.)", r"\1", quoted).replace("%%", "%") or bare for quoted, bare in parts]
    assert words[-1] == str(strange.resolve())
    process, port, _ = opened([*words, "--no-open"], folder)
    try:
        assert asked(port, "/")[0] == 403
    finally:
        process.kill()
        process.communicate()


def test_a_file_that_we_did_not_write_is_not_replaced(folder):
    name = launcher_for(folder, sys.executable, sys.platform).name
    (folder / name).write_text("hers", encoding="utf-8")
    with pytest.raises(Refused, match="not one that Purlwright wrote"):
        write_launcher(folder)
    assert (folder / name).read_text(encoding="utf-8") == "hers"


def test_it_is_written_again_and_told(capsys, folder):
    for _ in range(2):
        assert main(["bench", str(folder), "--launcher"]) == 0
        assert "Double-click it to open the bench." in capsys.readouterr().out


@pytest.mark.parametrize(
    ("system", "name"), [("win32", "Open the bench.cmd"), ("darwin", "Open the bench.command")]
)
def test_for_systems_that_were_not_tried_that_is_said(folder, system, name):
    made = launcher_for(folder / "it's 100%", "C:/Python/python.exe", system)
    assert made.name == name
    assert "has not been tried" in made.said
    if system == "win32":
        assert "100%%" in made.words
        assert made.words.endswith("\r\n")
    else:
        assert shlex.split(made.words.splitlines()[2])[-1] == str(folder / "it's 100%")


def test_a_folder_with_a_line_end_in_its_name_is_refused(folder):
    with pytest.raises(Refused, match="hidden sign"):
        launcher_for(folder / "a\nb", "python", "linux")
