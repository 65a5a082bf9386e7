"""Rules of the house that hold for every file, whoever wrote it."""

import csv
import re
import shutil
import subprocess
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
SRC = ROOT / "src"

# Written in pieces, so that this file does not hold what it looks for.
REGISTRY_HOSTS = [
    ".".join(pieces)
    for pieces in (
        ("pypi", "org"),
        ("files", "pythonhosted", "org"),
        ("registry", "npmjs", "org"),
        ("deb", "debian", "org"),
    )
]
# A folder of somebody's own machine. A letter, a dot or a slash before it makes it part of an address.
MACHINE_PATH = re.compile(r"(?<![\w./>})-])/(?:work|root|home|Users)/(?=\w)")


def files_in_git() -> list[Path]:
    git = shutil.which("git")
    if git is None or not (ROOT / ".git").exists():
        pytest.skip("this copy of the project is not a git clone")
    listed = subprocess.run([git, "ls-files", "-z"], cwd=ROOT, check=True, capture_output=True, text=True)
    return [path for name in listed.stdout.split("\0") if name and (path := ROOT / name).is_file()]


def foreign_words(text: str) -> list[str]:
    return [host for host in REGISTRY_HOSTS if host in text.lower()] + MACHINE_PATH.findall(text)


def test_no_file_names_a_package_host_or_a_folder_of_somebodys_machine():
    found = {}
    for path in files_in_git():
        try:
            text = path.read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue  # a picture or a font
        if words := foreign_words(text):
            found[path.relative_to(ROOT).as_posix()] = words
    assert found == {}


@pytest.mark.parametrize("folder", ["work", "root", "home", "Users"])
def test_a_machine_path_would_be_found(folder):
    assert foreign_words(f"see /{folder}/anna/notes.md")
    assert foreign_words(f"path = '/{folder}/anna'")


@pytest.mark.parametrize("host", REGISTRY_HOSTS)
def test_a_package_host_would_be_found(host):
    assert foreign_words(f"--index-url https://{host.upper()}/simple")


@pytest.mark.parametrize(
    "text",
    ["https://library.example/home/books", "knit/work/purl", "sts at the end /work back", "src/home/x"],
)
def test_other_slashes_are_let_through(text):
    assert foreign_words(text) == []


def test_no_source_file_is_too_long_to_hold_in_the_head():
    sources = [*SRC.rglob("*.py"), *(ROOT / "frontend" / "src").rglob("*.ts")]
    assert sources
    lengths = {path: len(path.read_text(encoding="utf-8").splitlines()) for path in sources}
    assert {path.name: lines for path, lines in lengths.items() if lines > 800} == {}


def toml_rows(table: dict, name: str = "") -> list[tuple[str, dict]]:
    """The rows of a TOML table: the nearest tables that hold a value of their own, with their names."""
    rows = []
    for key, value in table.items():
        inner = value if isinstance(value, list) else [value]
        for n, row in enumerate(row for row in inner if isinstance(row, dict)):
            row_name = f"{name}{key}" + (f"[{n}]" if isinstance(value, list) else "")
            if all(isinstance(cell, dict) for cell in row.values()):
                rows += toml_rows(row, f"{row_name}.")
            else:
                rows.append((row_name, row))
    return rows


def rows_without_source(path: Path) -> list[str]:
    """Rows of a table that do not say where they are from.

    A row names its `source`, or its file says it once: in `[defaults]`, as a value at the top of a TOML file, or
    in a `# Source:` line of a CSV file. Stitches need a `status` as well. Where `sources.toml` stands beside the
    file, a source must be one of the names in it.
    """
    text = path.read_text(encoding="utf-8")
    if path.suffix == ".csv":
        lines = text.splitlines()
        if any(line.startswith("#") and "source:" in line.lower() for line in lines):
            return []
        rows = csv.DictReader(line for line in lines if not line.startswith("#"))
        return [f"row {n}" for n, row in enumerate(rows, 1) if not row.get("source")]
    table = tomllib.loads(text)
    usual = {"source": table.get("source")} | table.pop("defaults", {})
    listed = path.with_name("sources.toml")
    known = tomllib.loads(listed.read_text(encoding="utf-8")) if listed.exists() else None
    needed = ["source", "status"] if "stitches" in path.parts else ["source"]

    def says_it(row: dict) -> bool:
        whole = usual | row
        return all(whole.get(key) for key in needed) and (known is None or whole["source"] in known)

    return [name for name, row in toml_rows(table) if not says_it(row)]


def test_every_row_of_every_table_says_where_it_is_from():
    tables = [*SRC.rglob("*.toml"), *SRC.rglob("*.csv")]
    lacking = {path.relative_to(SRC).as_posix(): rows_without_source(path) for path in tables}
    assert {path: rows for path, rows in lacking.items() if rows} == {}


@pytest.mark.parametrize(
    ("name", "text", "lacking"),
    [
        (
            "stitches/a.toml",
            '[stitch.k]\nsource = "s"\nstatus = "confirmed"\n[stitch.p]\nsource = "s"',
            ["stitch.p"],
        ),
        ("stitches/a.toml", 'source = "all"\n[[stitch]]\nabbreviation = "k"', ["stitch[0]"]),
        ("stitches/a.toml", '[[stitch]]\nsource = "s"\nstatus = "own"\n[stitch.chart]\nmark = "dot"', []),
        (
            "stitches/a.toml",
            '[defaults]\nsource = "s"\nstatus = "own"\n[k]\nmakes = 1\n[p]\nsource = ""',
            ["p"],
        ),
        ("cloth/a.toml", "[plain]\nkw = 4.2", ["plain"]),
        ("cloth/a.toml", 'source = "all of it"\n[plain]\nkw = 4.2', []),
        ("cloth/a.csv", "kw,source\n4.2,\n4.1,s\n", ["row 1"]),
        ("cloth/a.csv", "kw\n4.2\n", ["row 1"]),
        ("cloth/a.csv", "# Source: a book.\nkw\n4.2\n", []),
        ("cloth/a.csv", "", []),
        ("cloth/a.toml", "", []),
    ],
)
def test_a_row_without_source_would_be_found(tmp_path, name, text, lacking):
    path = tmp_path / name
    path.parent.mkdir()
    path.write_text(text, encoding="utf-8")
    assert rows_without_source(path) == lacking


def test_a_source_that_is_not_in_the_list_beside_it_would_be_found(tmp_path):
    (tmp_path / "sources.toml").write_text('book = "A. Author, A Book, 1900"', encoding="utf-8")
    (tmp_path / "a.toml").write_text('[k]\nsource = "book"\n[p]\nsource = "bok"', encoding="utf-8")
    assert rows_without_source(tmp_path / "a.toml") == ["p"]


def package_names(requirements: list[str]) -> set[str]:
    return {re.split(r"[^\w.-]", name, maxsplit=1)[0].lower().replace("_", "-") for name in requirements}


def locked(name: str) -> dict[str, str]:
    text = (ROOT / "requirements" / name).read_text(encoding="utf-8")
    return dict(re.findall(r"^([\w.-]+)==(\S+)", text, flags=re.MULTILINE))


def test_the_lock_holds_every_package_asked_for():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    run = package_names([*project["project"]["dependencies"], *project["build-system"]["requires"]])
    dev = package_names(project["project"]["optional-dependencies"]["dev"])
    assert run <= locked("run.txt").keys()
    assert dev <= locked("dev.txt").keys()
    assert locked("run.txt").items() <= locked("dev.txt").items()


@pytest.mark.parametrize("name", ["run.txt", "dev.txt"])
def test_the_lock_pins_by_hash_and_names_no_index(name):
    text = (ROOT / "requirements" / name).read_text(encoding="utf-8")
    entries = re.split(r"\n(?=\S)", text.strip())
    assert all("==" in entry and "--hash=sha256:" in entry for entry in entries)
    assert "://" not in text
    assert "index" not in text.lower()
