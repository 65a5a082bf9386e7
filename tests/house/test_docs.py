"""The documents say what is so: links lead somewhere, files named are there, quoted output is real."""

import html
import re
import shlex
from pathlib import Path

import pytest

from purlwright.cli import main
from purlwright.proof.pages import pages
from purlwright.workup import WorkUp

ROOT = Path(__file__).resolve().parents[2]
PAGES = [
    *sorted(ROOT.glob("*.md")),
    *sorted((ROOT / "docs").rglob("*.md")),
    *sorted((ROOT / "requirements").glob("*.md")),
]
LINK = re.compile(r"(?<!`)\[[^\]]*\]\(([^)\s]+)\)")
FENCE = re.compile(r"^```text\n(.*?)^```$", re.MULTILINE | re.DOTALL)
BARE = re.compile(r"^```.*?^```$|^    .*?$|`[^`\n]*`", re.MULTILINE | re.DOTALL)
README = (ROOT / "README.md").read_text(encoding="utf-8")
MAKEFILE = (ROOT / "Makefile").read_text(encoding="utf-8")


def said(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    main(list(words))
    return capsys.readouterr().out


def anchors(page: Path) -> set[str]:
    """The names that headings can be linked by."""
    heads = re.findall(r"^#+ (.*)$", page.read_text(encoding="utf-8"), re.MULTILINE)
    return {re.sub(r"[^\w -]", "", head.lower()).replace(" ", "-") for head in heads}


@pytest.mark.parametrize("page", PAGES, ids=lambda p: p.relative_to(ROOT).as_posix())
def test_every_link_leads_somewhere(page):
    lost = []
    for link in LINK.findall(BARE.sub("", page.read_text(encoding="utf-8"))):
        if re.match(r"\w+:", link):
            continue
        name, _, anchor = link.partition("#")
        there = page.parent / name if name else page
        if not there.exists() or (anchor and anchor not in anchors(there)):
            lost.append(link)
    assert lost == []


@pytest.mark.parametrize("page", PAGES, ids=lambda p: p.relative_to(ROOT).as_posix())
def test_every_file_that_is_named_is_there(page):
    """`docs/commands.md`, `examples/`, and in the page about the building the name of a file alone."""
    folders = [ROOT / name for name in ("src", "examples", "tests", "scripts", "requirements")]
    known = [f"/{path.as_posix()}" for folder in folders for path in folder.rglob("*")] + ["/my.pattern.md"]
    named = re.findall(r"`([\w.-][\w./-]*(?:\.(?:py|md|toml|json|txt)|/))`", page.read_text(encoding="utf-8"))
    there = {name for name in named if (ROOT / name).exists() or (page.parent / name).exists()}
    there |= {name for name in named if any(path.endswith(f"/{name.rstrip('/')}") for path in known)}
    assert set(named) - there == set()


def test_every_make_target_is_documented():
    targets = set(re.findall(r"^([a-z]+):", MAKEFILE, re.MULTILINE)) - {"help"}
    contributing = (ROOT / "CONTRIBUTING.md").read_text(encoding="utf-8")
    assert {name for name in targets if f"`make {name}`" not in contributing} == set()
    assert {name for name in targets if f"# make {name} " not in MAKEFILE} == set()
    assert set(re.findall(r"`make (\w+)`", README + contributing)) <= targets


def test_every_finding_that_a_page_names_can_be_explained():
    codes = {page.code for page in pages()}
    asked = [
        code
        for page in PAGES
        for code in re.findall(r"explain ([a-z]+(?:-[a-z]+)+)", page.read_text("utf-8"))
    ]
    assert asked
    assert set(asked) <= codes


def test_the_page_about_the_building_has_every_room_and_no_other():
    page = (ROOT / "docs" / "architecture.md").read_text(encoding="utf-8")
    rooms = {path.stem for path in (ROOT / "src" / "purlwright").iterdir() if path.stem[0] not in "_."}
    assert set(re.findall(r"^\| `(\w+)` \|", page, re.MULTILINE)) == rooms - {"schema", "py"}


# --- the README -----------------------------------------------------------------------------------


def test_the_pattern_in_the_readme_gives_the_finding_beside_it(tmp_path, monkeypatch, capsys):
    pattern, finding, *_ = FENCE.findall(README)
    monkeypatch.setenv("COLUMNS", "88")
    (tmp_path / "my.pattern.md").write_text(pattern, encoding="utf-8")
    answer = said(capsys, "proof", str(tmp_path / "my.pattern.md"))
    assert finding in answer
    assert answer.count("\nhelp: ") == 1


def test_every_line_that_the_readme_says_is_read_is_read():
    lines = FENCE.findall(README)[2].splitlines()
    assert len(lines) > 5
    unread = [
        line
        for line in lines
        if any(
            f.code == "not-read"
            for f in WorkUp(f"Slipway\n\nCast on 60 sts.\n{line}\n").proved(None, ()).findings
        )
    ]
    assert unread == []


# --- the pictures ---------------------------------------------------------------------------------

CALLS = re.findall(
    r"^    scripts/picture\.py (\S+) (.*?)-- \S*purlwright (.*)$",
    (ROOT / "docs" / "pictures" / "README.md").read_text(encoding="utf-8"),
    re.MULTILINE,
)


PHOTOGRAPHED = re.findall(
    r"^    scripts/photograph\.py (\S+) ",
    (ROOT / "docs" / "pictures" / "README.md").read_text(encoding="utf-8"),
    re.MULTILINE,
)
OF_THE_BENCH = re.findall(
    r"^    scripts/bench_picture\.py (\S+) ",
    (ROOT / "docs" / "pictures" / "README.md").read_text(encoding="utf-8"),
    re.MULTILINE,
)
CHARTS = re.findall(
    r"^    \.venv/bin/purlwright (chart .*--as svg) --out docs/pictures$",
    (ROOT / "docs" / "pictures" / "README.md").read_text(encoding="utf-8"),
    re.MULTILINE,
)


@pytest.mark.parametrize("command", CHARTS)
def test_a_chart_among_the_pictures_is_the_one_that_is_drawn_today(command, tmp_path, monkeypatch, capsys):
    """If not, look at what has changed, and run `make pictures`."""
    monkeypatch.chdir(ROOT)
    said(capsys, *shlex.split(command), "--out", str(tmp_path))
    (made,) = tmp_path.iterdir()
    assert made.read_text(encoding="utf-8") == (ROOT / "docs" / "pictures" / made.name).read_text(
        encoding="utf-8"
    )


CLOTHS = re.findall(
    r"^    \.venv/bin/purlwright (cloth .*--as svg) --out docs/pictures$",
    (ROOT / "docs" / "pictures" / "README.md").read_text(encoding="utf-8"),
    re.MULTILINE,
)


@pytest.mark.parametrize("command", CLOTHS)
def test_a_cloth_among_the_pictures_is_the_one_that_is_drawn_today(command, tmp_path, monkeypatch, capsys):
    """As large within a fiftieth, and as much drawn. If not, run `make pictures`."""
    monkeypatch.chdir(ROOT)
    said(capsys, *shlex.split(command), "--out", str(tmp_path))
    (made,) = tmp_path.iterdir()
    one, other = (path.read_text(encoding="utf-8") for path in (made, ROOT / "docs" / "pictures" / made.name))
    sizes = [[float(n) for n in re.search(r'viewBox="([^"]*)"', text)[1].split()] for text in (one, other)]
    assert sizes[0] == pytest.approx(sizes[1], rel=0.02)
    assert one.count("Z") == pytest.approx(other.count("Z"), rel=0.02)
    assert one.count("Z") > 1000


def closed_up(words: str) -> str:
    return re.sub(r"[\s─]", "", words)


PRINTED = re.findall(
    r"^    scripts/page_picture\.py (\S+) ",
    (ROOT / "docs" / "pictures" / "README.md").read_text(encoding="utf-8"),
    re.MULTILINE,
)


@pytest.mark.parametrize(("picture", "asked", "command"), CALLS, ids=[call[0] for call in CALLS])
def test_the_words_in_a_picture_are_what_the_command_prints_today(
    picture, asked, command, monkeypatch, capsys
):
    """If not, read what has changed, and run `make pictures`."""
    monkeypatch.chdir(ROOT)
    monkeypatch.setenv("COLUMNS", re.search(r"--columns (\d+)", asked)[1])
    answer = closed_up(said(capsys, *shlex.split(command)))
    typed, *pieces = re.findall(r"<text[^>]*>(.*?)</text>", Path(picture).read_text(encoding="utf-8"))
    assert html.unescape(typed) == f"purlwright {command}"
    shown = "\n".join(html.unescape(piece) for piece in pieces)
    parts = [closed_up(part) for part in re.split(r"^…$", shown, flags=re.MULTILINE)]
    assert answer.startswith(parts[0])
    assert answer.endswith(parts[-1])


def test_every_picture_has_its_line_and_is_shown_with_words_for_those_who_do_not_see_it():
    pictures = (ROOT / "docs" / "pictures").glob("*.[sp][vn]g")
    drawn = {path.relative_to(ROOT).as_posix() for path in pictures}
    charts = {name for name in drawn if ".chart-" in name}
    cloths = {name for name in drawn if ".cloth." in name}
    assert (len(charts), len(cloths)) == (len(CHARTS), len(CLOTHS))
    taken = {*PHOTOGRAPHED, *PRINTED, *OF_THE_BENCH}
    assert drawn - charts - cloths == {call[0] for call in CALLS} | taken
    shown = {link: words for words, link in re.findall(r"!\[([^\]]*)\]\(([^)]*)\)", README)}
    assert set(shown) == drawn
    assert all(len(words) > 40 for words in shown.values())


def test_the_demo_names_patterns_that_are_there():
    demo = (ROOT / "scripts" / "demo").read_text(encoding="utf-8")
    named = re.findall(r"examples/\S+\.md", demo)
    assert len(named) == 2
    assert all((ROOT / name).exists() for name in named)
