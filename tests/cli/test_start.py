"""Help opens about as fast as Python itself, because nothing is loaded for it."""

import os
import subprocess
import sys

import pytest

from purlwright.cli import main


def test_help_loads_nothing_heavy():
    code = (
        "import sys; from purlwright.cli import main; main(['--help']); print(*sys.modules, file=sys.stderr)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    loaded = set(done.stderr.split())
    assert "purlwright.terminal.usage" in loaded
    for heavy in (
        "re",
        "argparse",
        "dataclasses",
        "msgspec",
        "numpy",
        "purlwright.findings",
        "purlwright.wire",
    ):
        assert heavy not in loaded


def test_version(capsys):
    assert main(["--version"]) == 0
    assert capsys.readouterr().out.startswith("purlwright 0.")


@pytest.mark.skipif(os.name == "nt", reason="pipes end differently there")
def test_a_reader_that_goes_away_is_no_fault():
    code = "from purlwright.cli import _print\nfor _ in range(99): _print('row\\n' * 9999)"
    with subprocess.Popen(
        [sys.executable, "-c", code], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    ) as run:
        assert run.stdout.readline() == "row\n"
        run.stdout.close()
        assert run.stderr.read() == ""
