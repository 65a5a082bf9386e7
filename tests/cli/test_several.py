"""A folder of patterns: every file is told of, in order, and summed up."""

import json
import os
import signal
import subprocess
import sys
import time

import jsonschema
import pytest

from purlwright import wire
from purlwright.cli import main
from purlwright.several import Task, died, prove_one
from purlwright.terminal.look import Look

GOOD = "# Gull Mat {n}\nCast on 12 sts.\nRow 1 (RS): Knit.\nRow 2 (WS): Purl.\nBind off all sts.\n"
FAULTY = GOOD.replace("Purl.", "Purl 11.")
WARNED = GOOD.replace("Row 2 (WS)", "Row 3")


@pytest.fixture
def folder(tmp_path):
    for n in range(6):
        text = {2: FAULTY, 4: WARNED}.get(n, GOOD).format(n=n)
        (tmp_path / f"mat-{n}.pattern.md").write_text(text, encoding="utf-8")
    (tmp_path / "mat-3.pattern.md").write_bytes(b"\xff\xfe")
    return tmp_path


@pytest.mark.parametrize("jobs", ["1", "2"])
def test_a_folder_is_summed_up_and_a_file_that_cannot_be_used_stops_nothing(folder, capsys, jobs):
    assert main(["proof", str(folder), "--jobs", jobs]) == 2
    out, err = capsys.readouterr()
    places = [out.index(f"Gull Mat {n}\n") for n in (0, 1, 2, 4, 5)]
    assert places == sorted(places)
    shown = " ".join(out[out.index("── In all ") :].split())
    assert "6 patterns: 4 hold, 1 fails and 1 cannot be used." in shown
    assert "mat-2.pattern.md: 1 error; first, line 4: Row 2 uses 11 of the 12 stitches" in shown
    assert err.count("\n") == 1
    assert "mat-3.pattern.md" in err


def test_side_by_side_or_one_after_the_other_the_answer_is_the_same(folder, capsys):
    said = []
    for jobs in ("1", "3"):
        for more in ([], ["--json"], ["--report"], ["--report", "--json"]):
            assert main(["proof", str(folder), "--jobs", jobs, *more]) == 2
            said.append(capsys.readouterr())
    assert said[:4] == said[4:]


@pytest.mark.parametrize(
    ("more", "name", "kind"), [([], "patterns", "proof"), (["--report"], "reports", "report")]
)
def test_the_json_answer_has_a_summary(folder, capsys, more, name, kind):
    assert main(["proof", str(folder), "--json", "--strict", *more]) == 2
    got = json.loads(capsys.readouterr().out)
    jsonschema.validate(got, json.loads(wire.schema(kind)))
    assert [one["file"].rpartition("mat-")[2] for one in got[name]] == [
        f"{n}.pattern.md" for n in (0, 1, 2, 4, 5)
    ]
    summary = got["summary"]
    assert {k: summary[k] for k in ("patterns", "hold", "fail", "unusable")} == {
        "patterns": 6, "hold": 3, "fail": 2, "unusable": 1,
    }  # fmt: skip
    assert [(f["errors"], f["warnings"], f["line"]) for f in summary["failing"]] == [(1, 0, 4), (0, 1, 4)]
    assert [u["fault"] for u in summary["unused"]] == [False]


def test_a_fault_of_ours_in_one_pattern_is_told_and_the_rest_goes_on(folder, capsys, monkeypatch):
    from purlwright import several

    real = several.work_up

    def stumble(text, *more):
        if "Mat 1" in text:
            raise RuntimeError
        return real(text, *more)

    monkeypatch.setattr("purlwright.several.work_up", stumble)
    monkeypatch.delenv("PURLWRIGHT_TRACEBACK", raising=False)
    assert main(["proof", str(folder), "--jobs", "1", "--json"]) == 2
    out, err = capsys.readouterr()
    assert (
        'mat-1.pattern.md": purlwright-fault: a fault in Purlwright, not in your pattern (RuntimeError).'
        in err
    )
    assert "Traceback" not in err
    summary = json.loads(out)["summary"]
    assert (summary["hold"], [u["fault"] for u in summary["unused"]]) == (3, [True, False])


def test_a_process_that_died_is_a_fault_of_ours():
    task = Task(
        name="a.pattern.md", size=None, options=(), look=Look(), several=True, json=False, report=False,
        everything=False, repairs=False, strict=False,
    )  # fmt: skip
    outcome = died(task, -9)
    assert outcome.complaint.startswith('"a.pattern.md": purlwright-fault')
    assert "signal 9" in outcome.complaint
    assert outcome.code == prove_one(task).code == 2


def test_standard_input_may_be_one_of_several(folder):
    done = subprocess.run(
        [sys.executable, "-m", "purlwright", "proof", "-", str(folder / "mat-0.pattern.md"), "--jobs", "2"],
        input=FAULTY.format(n="read").encode(),
        capture_output=True,
        check=False,
    )
    assert done.returncode == 1
    assert b"Gull Mat read" in done.stdout
    assert b"2 patterns: 1 holds and 1 fails." in done.stdout
    assert done.stderr == b""


def gone(group):
    """Whether no process of the group is left, a moment after the first ended."""
    for _ in range(100):
        try:
            os.killpg(group, 0)
        except ProcessLookupError:
            return True
        time.sleep(0.05)
    return False


@pytest.mark.skipif(os.name == "nt", reason="there is no such signal to send there")
def test_an_interruption_ends_all_of_it_at_once_and_quietly(folder):
    long = GOOD.replace("Row 2 (WS): Purl.", "Row 2 (WS): Purl.\nRep rows 1 and 2 {rows} times more.")
    for n in range(40):
        text = long.format(n=n, rows=900 + n) + "Sizes: " + ", ".join(map(str, range(20))) + "\n"
        (folder / f"long-{n}.pattern.md").write_text(text, encoding="utf-8")
    (folder / "a-first.pattern.md").write_text(GOOD.format(n="first"), encoding="utf-8")
    # a shell starts what it runs in the background with interruptions ignored, and that would be inherited
    before = signal.signal(signal.SIGINT, signal.SIG_DFL)
    with subprocess.Popen(
        [sys.executable, "-m", "purlwright", "proof", str(folder), "--jobs", "2"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        start_new_session=True,
    ) as run:
        signal.signal(signal.SIGINT, before)
        run.stdout.readline()  # the first answer is there: the others are being worked
        began = time.monotonic()
        os.killpg(run.pid, signal.SIGINT)
        _, err = run.communicate(timeout=20)
        assert time.monotonic() - began < 15  # all 40 would take minutes
    assert run.returncode == 130
    assert err == b""
    assert gone(run.pid)
