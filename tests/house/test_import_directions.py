"""A room imports only rooms below it. The list is the one in docs/architecture.md, lowest first."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

SRC = Path(__file__).resolve().parents[2] / "src" / "purlwright"

# One step a line. "text | units": both may use what stands left of them. "pattern, fabric": strangers.
STEPS = """
text | units | drawing
findings
stitches
pattern, fabric
needles
proof | mend | rewrite | revision | chart | cloth | sizing | lesson | rescue | testknit
sheet
workup
wire
terminal, files, crew
several | sheets | charts | cloths | gauges | plans | regauges | rescues | lessons | testers
bench
cli
"""
STEP_OF = {room: n for n, step in enumerate(STEPS.split("\n")) for room in step.replace("|", ",").split(", ")}
STEP_OF = {room.strip(): n for room, n in STEP_OF.items() if room.strip()}
BESIDE = [step.split(" | ") for step in STEPS.split("\n")]
DOORS = {("__main__", "cli")}  # a door, not a room: `python -m purlwright` starts the command line
HOMES = {
    "typst": ("sheet.out",),
    "starlette": ("bench",),
    "uvicorn": ("bench",),
    "scipy": ("cloth", "sizing"),
}
HEAVY = {"typst", "scipy"}  # even at home, loaded inside the function that needs them


def may_import(user: str, used: str) -> bool:
    """Whether a module of the package (`sheet.out.pdf`) may import another (`sheet.document`)."""
    above, below = user.partition(".")[0], used.partition(".")[0]
    if used == "" or (above, below) in DOORS:
        return True  # the package itself holds the version only
    if user.startswith("sheet.out"):
        return used.startswith(("sheet.document", "sheet.out")) or below in {"text", "drawing"}
    if above == below or above not in STEP_OF or below not in STEP_OF:
        return above == below
    if STEP_OF[above] == STEP_OF[below]:
        step = BESIDE[STEP_OF[above]]
        return above in step and below in step and step.index(below) < step.index(above)
    return STEP_OF[below] < STEP_OF[above]


def imports(tree: ast.Module, module: str, *, is_package: bool) -> Iterator[tuple[str, int]]:
    """Each dotted name that a module imports, with its line; relative imports are made whole."""
    here = ["purlwright", *module.split(".")] if module else ["purlwright"]
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from ((name.name, node.lineno) for name in node.names)
        elif isinstance(node, ast.ImportFrom):
            up = len(here) - node.level + is_package
            start = ".".join([*here[:up], *filter(None, [node.module])]) if node.level else node.module
            if start in {"purlwright", "purlwright.sheet", "purlwright.sheet.out"}:  # its names may be rooms
                yield from ((f"{start}.{name.name}", node.lineno) for name in node.names)
            else:
                yield start, node.lineno


def wrong_imports(src: Path) -> list[str]:
    wrong = []
    for path in sorted(src.rglob("*.py")):
        parts = path.relative_to(src).with_suffix("").parts
        is_package = parts[-1] == "__init__"
        module = ".".join(parts[:-1] if is_package else parts)
        where = path.relative_to(src).as_posix()
        if module.split(".")[0] not in {*STEP_OF, "", "__main__"}:
            wrong.append(f"{where}: not in the list of rooms")
        tree = ast.parse(path.read_text(encoding="utf-8"))
        loaded_at_once = {node.lineno for node in tree.body if isinstance(node, ast.Import | ast.ImportFrom)}
        for name, line in imports(tree, module, is_package=is_package):
            top, _, used = name.partition(".")
            if top == "purlwright" and not may_import(module, "" if used.startswith("__") else used):
                wrong.append(f"{where}:{line}: imports {used}")
            if top in HOMES and not any(f"{module}.".startswith(f"{home}.") for home in HOMES[top]):
                wrong.append(f"{where}:{line}: {top} belongs in {' and '.join(HOMES[top])}")
            elif top in HEAVY and line in loaded_at_once:
                wrong.append(f"{where}:{line}: {top} is heavy; import it inside the function that needs it")
    return wrong


def test_every_room_imports_only_rooms_below_it():
    assert wrong_imports(SRC) == []


@pytest.mark.parametrize(
    ("path", "words"),
    [
        ("text.py", "from purlwright.findings import Finding"),
        ("text.py", "from .units import Length"),
        ("fabric/grow.py", "from purlwright.pattern import tree"),
        ("fabric/grow.py", "from ..pattern.tree import Repeat"),
        ("pattern/file.py", "from purlwright import fabric"),
        ("pattern/read/rows.py", "from ...needles import knit"),
        ("needles/knit.py", "import purlwright.proof.registry"),
        ("proof/counts.py", "def prove():\n    from purlwright.cloth import measure"),
        ("sheet/out/pdf.py", "from purlwright.findings import Finding"),
        ("sheet/out/pdf.py", "from purlwright.sheet import compose"),
        ("sheet/out/pdf.py", "from .. import compose"),
        ("workup.py", "from purlwright import wire"),
        ("wire.py", "import purlwright.cli"),
        ("bench/app.py", "from purlwright.cli import main"),
        ("wire.py", "from purlwright.terminal.look import Look"),
        ("sheets.py", "from purlwright.bench.app import create_app"),
        ("terminal/look.py", "from purlwright.cli import main"),
        ("__init__.py", "from purlwright.text import Span"),
        ("odds_and_ends.py", ""),
        ("proof/counts.py", "def prove():\n    import scipy.sparse"),
        ("cloth/relax.py", "from scipy import sparse"),
        ("wire.py", "from starlette.responses import Response"),
    ],
)
def test_a_planted_wrong_import_is_found(tmp_path, path, words):
    planted = tmp_path / path
    planted.parent.mkdir(parents=True, exist_ok=True)
    planted.write_text(words, encoding="utf-8")
    assert len(wrong_imports(tmp_path)) == 1


@pytest.mark.parametrize(
    ("path", "words"),
    [
        ("drawing.py", "from .text import Span"),
        ("findings.py", "from purlwright.text import Span"),
        ("pattern/read/rows.py", "from ..tree import Repeat\nfrom purlwright.stitches import load"),
        ("needles/knit.py", "from purlwright import fabric, pattern\nimport numpy as np"),
        ("cloth/relax.py", "def relax():\n    from scipy import sparse"),
        ("rescue/rank.py", "from purlwright.lesson.clues import mine"),
        (
            "sheet/out/pdf.py",
            "from ..document import Block\nfrom . import text\ndef pdf():\n    import typst",
        ),
        ("sheet/compose.py", "from purlwright import __version__"),
        ("cli.py", "def bench():\n    from purlwright.bench.app import create_app"),
        ("bench/exports.py", "from purlwright.sheets import sheets"),
        ("terminal/print_proof.py", "from purlwright.workup import Proved"),
        ("cli.py", "from purlwright.terminal.usage import usage"),
        ("__main__.py", "from purlwright.cli import main"),
    ],
)
def test_a_right_import_is_let_through(tmp_path, path, words):
    planted = tmp_path / path
    planted.parent.mkdir(parents=True, exist_ok=True)
    planted.write_text(words, encoding="utf-8")
    assert wrong_imports(tmp_path) == []
