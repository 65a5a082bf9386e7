"""Work in processes: the newest words win, and what takes too long or dies harms nothing else."""

import asyncio
import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from purlwright.bench.hands import Fault, Hand, Superseded
from purlwright.bench.refusals import Refused

TEXT = "# Mat\n\nCast on 8 sts.\nRow 1 (RS): Knit.\nBind off.\n"


def body(text=TEXT, version=1):
    return json.dumps({"path": "m", "version": version, "text": text}).encode()


def run(doing):
    return asyncio.run(doing)


async def with_hand(limit_s, doing, patience_s=None):
    hand = Hand("test", limit_s, patience_s)
    try:
        return await doing(hand)
    finally:
        await asyncio.to_thread(hand.close)


def test_of_texts_that_wait_only_the_newest_is_worked():
    async def doing(hand):
        await hand.warm()
        first = asyncio.create_task(hand.ask("work", body(version=0), ("work", "m")))
        await asyncio.sleep(0.05)
        later = [asyncio.create_task(hand.ask("work", body(version=n), ("work", "m"))) for n in range(1, 30)]
        other = asyncio.create_task(hand.ask("work", body(version=99), ("work", "other")))
        return await asyncio.gather(first, *later, other, return_exceptions=True)

    first, *later, newest, other = run(with_hand(30, doing))
    assert json.loads(first)["version"] == 0
    assert all(isinstance(one, Superseded) for one in later)
    assert json.loads(newest)["version"] == 29
    assert json.loads(other)["version"] == 99


def long_one(rows):
    """Words that take seconds to read, knit and prove: no row is like the one before."""
    return "# Long\n\nCast on 400 sts.\n" + "".join(
        f"Row {n}: *K{n % 7 + 1}, p2; rep from * to end.\n" for n in range(rows)
    )


def test_what_takes_too_long_is_stopped_and_the_next_is_answered():
    async def doing(hand):
        await hand.warm()
        hand.limit_s = 0.05
        begun = time.monotonic()
        with pytest.raises(Refused) as e:
            await hand.ask("proof", body(long_one(5000)))
        took = time.monotonic() - begun
        hand.limit_s = 30
        return e.value, took, json.loads(await hand.ask("work", body()))

    why, took, after = run(with_hand(60, doing))
    assert why.status == 503
    assert "was stopped" in why.sentence
    assert "Your words are safe" in why.sentence
    assert took < 5
    assert after["title"] == "Mat"


def test_a_process_that_dies_is_a_fault_and_the_next_is_answered():
    async def doing(hand):
        await hand.warm()
        waiting = asyncio.create_task(hand.ask("proof", body(long_one(5000))))
        await asyncio.sleep(0.1)
        os.kill(hand._process.pid, signal.SIGKILL)
        with pytest.raises(Fault):
            await waiting
        return json.loads(await hand.ask("work", body()))

    assert run(with_hand(60, doing))["title"] == "Mat"


def test_long_work_that_is_no_longer_wanted_is_ended():
    async def doing(hand):
        await hand.warm()
        older = asyncio.create_task(hand.ask("proof", body(long_one(5000)), ("proof", "m")))
        await asyncio.sleep(0.2)
        begun = time.monotonic()
        newer = await hand.ask("proof", body(), ("proof", "m"))
        with pytest.raises(Superseded):
            await older
        return json.loads(newer), time.monotonic() - begun

    newer, _ = run(with_hand(60, doing, patience_s=0.1))
    assert newer["summary"].startswith("It can be knitted as written")


def test_long_work_that_nobody_waits_for_any_longer_is_ended():
    async def doing(hand):
        await hand.warm()
        process = hand._process
        left = asyncio.create_task(hand.ask("proof", body(long_one(5000))))
        await asyncio.sleep(0.1)
        left.cancel()
        newer = json.loads(await hand.ask("work", body()))
        return newer, hand._process is not process

    newer, ended = run(with_hand(60, doing, patience_s=0.2))
    assert newer["title"] == "Mat"
    assert ended


def test_whoever_waits_when_the_bench_closes_is_told():
    async def doing(hand):
        await hand.warm()
        waiting = [asyncio.create_task(hand.ask("proof", body(long_one(5000)))) for _ in range(2)]
        await asyncio.sleep(0.1)
        hand.refuse(Refused(503, "The bench is closing."))
        waiting.append(asyncio.create_task(hand.ask("work", body())))
        return await asyncio.gather(*waiting, return_exceptions=True)

    assert [why.sentence for why in run(with_hand(60, doing))] == ["The bench is closing."] * 3


def test_a_page_that_goes_away_leaves_no_work_behind(page, monkeypatch):
    """The page hangs up while its question is at work: the question is let go, and answered with nothing."""
    from purlwright.bench import routes_work

    async def hung_up(_request):
        await asyncio.sleep(0.05)

    monkeypatch.setattr(routes_work, "_gone", hung_up)
    got = page.post("/api/page", json={"path": "m", "version": 7, "text": long_one(5000), "page": "lesson"})
    assert got.json() == {"stale": True, "version": 7}


def test_a_fault_of_ours_is_told_as_one_without_its_traceback(page, monkeypatch):
    from purlwright.bench import routes_files

    def broken(_binder):
        raise KeyError("secret inner words")

    monkeypatch.setattr(routes_files, "_told", broken)
    got = page.get("/api/binder")
    assert got.status_code == 500
    assert got.json()["message"].startswith(
        "purlwright-fault: a fault in Purlwright, not in your pattern (KeyError)."
    )
    assert "secret" not in got.text
    assert "Traceback" not in got.text


def test_a_disk_that_refuses_is_told_in_a_sentence(page, monkeypatch):
    from purlwright.bench import disk

    def full(_fd):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(disk.os, "fsync", full)
    got = page.post("/api/new", json={"name": "Tern", "text": "x"})
    assert (got.status_code, got.json()["message"]) == (
        500,
        "The disk does not let the bench do that: No space left on device.",
    )


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="processes are listed in another way there")
def test_no_process_is_left_over_when_the_bench_is_killed(folder):
    words = [sys.executable, "-m", "purlwright", "bench", str(folder), "--no-open"]
    with subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as bench:
        for line in bench.stdout:
            if "open?key=" in line:
                break
        deadline = time.monotonic() + 60
        while not (mine := children(bench.pid)) and time.monotonic() < deadline:
            time.sleep(0.1)
        assert mine  # the one for typing is started at once
        bench.kill()
        bench.wait()
        while (left := {pid for pid in mine if alive(pid)}) and time.monotonic() < deadline:
            time.sleep(0.1)
        assert left == set()
        assert "Traceback" not in bench.stderr.read()


def state(pid):
    """How a process is, and whose it is; None when it is not there."""
    try:
        told = Path(f"/proc/{pid}/stat").read_text(encoding="utf-8").rpartition(")")[2].split()
    except OSError:
        return None
    return told[0], int(told[1])


def children(parent):
    pids = [int(p.name) for p in Path("/proc").iterdir() if p.name.isdecimal()]
    return {pid for pid in pids if (told := state(pid)) and told[1] == parent}


def alive(pid):
    """Whether a process is there and not merely waiting to be counted."""
    told = state(pid)
    return told is not None and told[0] != "Z"
