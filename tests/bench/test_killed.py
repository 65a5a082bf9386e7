"""Killed in the middle of saving, again and again: nothing lost, nothing half written."""

import json
import os
import random
import re
import signal
import subprocess
import sys
import threading
import time
from http.client import HTTPConnection
from pathlib import Path

import pytest

SAVES = 200
KILLS = 12


def words(number):
    """The text of one save: long, and plain to see if a part of it is missing."""
    return f"# Save {number}\n" + f"Row {number}: k{number}.\n" * 2000 + f"# End {number}\n"


class Bench:
    """A real bench in a process of its own."""

    def __init__(self, folder):
        self.process = subprocess.Popen(
            [sys.executable, "-m", "purlwright", "bench", str(folder), "--no-open"],
            stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True, start_new_session=True,
        )  # fmt: skip
        for line in self.process.stdout:
            if found := re.search(r"127\.0\.0\.1:(\d+)/open\?key=(\S+)", line):
                self.port, key = int(found[1]), found[2]
                break
        else:
            pytest.fail("the bench did not open")
        self.cookie = f"purlwright-bench-{self.port}={key}"

    def ask(self, method, path, body=None):
        line = HTTPConnection("127.0.0.1", self.port, timeout=30)
        headers = {
            "Cookie": self.cookie,
            "Origin": f"http://127.0.0.1:{self.port}",
            "Content-Type": "application/json",
        }
        line.request(method, path, None if body is None else json.dumps(body), headers)
        answer = line.getresponse()
        told = json.loads(answer.read())
        line.close()
        return answer.status, told

    def kill(self):
        os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait()
        self.process.stdout.close()


@pytest.mark.slow
@pytest.mark.skipif(os.name == "nt", reason="there it is killed in another way")
def test_nothing_is_lost_when_it_is_killed_during_two_hundred_saves(tmp_path):
    file = tmp_path / "tern.pattern.md"
    file.write_text(words(0), encoding="utf-8")
    chance = random.Random(7)  # noqa: S311 - when to kill
    told = [0]  # saves that were answered
    drafted = [0]
    killed = 0
    # a quick machine has saved its two hundred before it was killed often enough: then it saves on
    while told[-1] < SAVES or killed < KILLS:
        bench = Bench(tmp_path)
        try:
            _, opened = bench.ask("GET", "/api/pattern?path=tern.pattern.md")
            # what stands in the file is whole, and is the last save that was answered, or the one after it
            number = int(re.match(r"# Save (\d+)", opened["text"])[1])
            assert opened["text"] == words(number)
            assert number in {told[-1], told[-1] + 1}
            if drafted[-1] > number:
                assert opened["draft"]["text"] == words(drafted[-1])
            told.append(number)
            stamp = opened["stamp"]
            if killed < KILLS:
                timer = threading.Timer(chance.uniform(0.02, 0.5), bench.kill)
                timer.start()
            while told[-1] < SAVES or killed < KILLS:
                number = told[-1] + 1
                body = {"path": "tern.pattern.md", "text": words(number), "stamp": stamp}
                if number % 5 == 0:
                    assert bench.ask("PUT", "/api/draft", body)[0] == 200
                    drafted.append(number)
                status, answer = bench.ask("PUT", "/api/pattern", body)
                assert status == 200
                stamp = answer["stamp"]
                told.append(number)
        except (OSError, json.JSONDecodeError, ValueError) as e:
            if isinstance(e, AssertionError):
                raise
            killed += 1
            timer.join()
        else:
            bench.kill()
    assert killed == KILLS
    assert file.read_text(encoding="utf-8") == words(told[-1])
    assert_every_save_is_kept(tmp_path, set(told))
    leave_no_parts(tmp_path)


def assert_every_save_is_kept(folder, saved):
    """Each save that was answered can be had again, whole; and nothing else lies about."""
    kept = set()
    for version in Path(folder, ".purlwright", "versions").rglob("*.txt"):
        text = version.read_text(encoding="utf-8")
        number = int(re.match(r"# Save (\d+)", text)[1])
        assert text == words(number)
        kept.add(number)
    assert saved <= kept


def leave_no_parts(folder):
    """What the killed ones had begun to write is swept away by the next one that opens."""
    bench = Bench(folder)
    try:
        deadline = time.monotonic() + 10
        while list(Path(folder, ".purlwright", "parts").iterdir()) and time.monotonic() < deadline:
            time.sleep(0.1)
        assert list(Path(folder, ".purlwright", "parts").iterdir()) == []
    finally:
        bench.kill()
    assert sorted(p.name for p in Path(folder).iterdir()) == [".purlwright", "tern.pattern.md"]
