"""No word is lost: saving, drafts, versions, and a file that was changed elsewhere."""

import os
import stat

import pytest
from hypothesis import given
from hypothesis import strategies as st

from purlwright.bench import disk
from purlwright.bench.merge import merge
from purlwright.bench.paths import place
from purlwright.bench.refusals import Refused
from purlwright.bench.store import Binder, ChangedElsewhere
from purlwright.bench.versions import stamp_of

TERN = "# Tern\n\nCast on 24 sts.\nRow 1: Knit.\n"


@pytest.fixture
def binder(folder):
    (folder / "tern.pattern.md").write_text(TERN, encoding="utf-8")
    return Binder(folder)


# --- saving ------------------------------------------------------------------------------------------


def test_what_was_saved_is_there_and_both_versions_are_kept(binder, folder):
    opened = binder.open("tern.pattern.md")
    stamp = binder.save("tern.pattern.md", TERN + "Row 2: Purl.\n", opened.stamp)
    assert (folder / "tern.pattern.md").read_text(encoding="utf-8") == TERN + "Row 2: Purl.\n"
    assert stamp == binder.stamp("tern.pattern.md")
    assert [text for _, text in binder.history("tern.pattern.md")] == [TERN, TERN + "Row 2: Purl.\n"]


def test_a_file_changed_elsewhere_is_not_written_over(binder, folder):
    opened = binder.open("tern.pattern.md")
    (folder / "tern.pattern.md").write_text(TERN.replace("24", "30"), encoding="utf-8")
    with pytest.raises(ChangedElsewhere) as e:
        binder.save("tern.pattern.md", TERN + "Row 2: Purl.\n", opened.stamp)
    assert (folder / "tern.pattern.md").read_text(encoding="utf-8") == TERN.replace("24", "30")
    assert e.value.merged.text == TERN.replace("24", "30") + "Row 2: Purl.\n"
    assert e.value.merged.clashes == ()
    saved = binder.save("tern.pattern.md", e.value.merged.text, e.value.opened.stamp)
    assert saved == binder.stamp("tern.pattern.md")


def test_lines_that_both_changed_clash_and_hers_stand(binder, folder):
    opened = binder.open("tern.pattern.md")
    (folder / "tern.pattern.md").write_text(TERN.replace("24", "30"), encoding="utf-8")
    with pytest.raises(ChangedElsewhere) as e:
        binder.save("tern.pattern.md", TERN.replace("24", "28"), opened.stamp)
    (clash,) = e.value.merged.clashes
    assert (clash.hers, clash.theirs) == ("Cast on 28 sts.\n", "Cast on 30 sts.\n")
    assert e.value.merged.text[clash.start : clash.end] == clash.hers


def test_the_same_words_twice_are_no_clash(binder, folder):
    opened = binder.open("tern.pattern.md")
    (folder / "tern.pattern.md").write_text(TERN + "x\n", encoding="utf-8")
    assert binder.save("tern.pattern.md", TERN + "x\n", opened.stamp) == binder.stamp("tern.pattern.md")


def test_line_ends_mark_and_rights_of_the_file_stay(binder, folder):
    file = folder / "tern.pattern.md"
    file.write_bytes(b"\xef\xbb\xbf" + TERN.replace("\n", "\r\n").encode())
    file.chmod(0o640)
    opened = binder.open("tern.pattern.md")
    assert opened.text == TERN
    binder.save("tern.pattern.md", TERN + "Row 2: Purl.\n", opened.stamp)
    assert file.read_bytes() == b"\xef\xbb\xbf" + (TERN + "Row 2: Purl.\n").replace("\n", "\r\n").encode()
    assert stat.S_IMODE(file.stat().st_mode) == 0o640


@pytest.mark.parametrize(
    ("data", "said"),
    [(b"\xff\xfeT", "UTF-16"), (b"T\0", "zero"), (b"T\xe9", "not UTF-8"), (b"x" * 1_000_001, "over 1 MB")],
)
def test_a_file_that_cannot_be_read_says_why(binder, folder, data, said):
    (folder / "tern.pattern.md").write_bytes(data)
    with pytest.raises(Refused, match=said):
        binder.open("tern.pattern.md")


def test_an_empty_file_is_an_empty_page(binder, folder):
    (folder / "new.txt").write_bytes(b"")
    assert binder.open("new.txt").text == ""


def test_what_could_not_be_read_back_is_not_saved(binder):
    opened = binder.open("tern.pattern.md")
    for text in ("a\0", "\ud800", "x" * 1_000_001):
        with pytest.raises(Refused):
            binder.save("tern.pattern.md", text, opened.stamp)
        with pytest.raises(Refused):
            binder.put_draft("tern.pattern.md", text, opened.stamp)
    assert binder.open("tern.pattern.md").text == TERN


# --- drafts ------------------------------------------------------------------------------------------


def test_words_that_were_typed_are_there_after_a_crash(binder, folder):
    stamp = binder.open("tern.pattern.md").stamp
    binder.put_draft("tern.pattern.md", TERN + "Row 2", stamp)
    draft = Binder(folder).open("tern.pattern.md").draft
    assert (draft.text, draft.stamp) == (TERN + "Row 2", stamp)


def test_two_windows_keep_their_drafts_apart(binder):
    stamp = binder.open("tern.pattern.md").stamp
    binder.put_draft("tern.pattern.md", TERN + "one", stamp, window="a")
    binder.put_draft("tern.pattern.md", TERN + "two", stamp, window="b")
    binder.save("tern.pattern.md", TERN + "two", stamp, window="b")
    assert binder.open("tern.pattern.md").draft.text == TERN + "one"


def test_a_draft_that_is_let_go_stays_among_the_versions(binder):
    stamp = binder.open("tern.pattern.md").stamp
    binder.put_draft("tern.pattern.md", TERN + "Row 2", stamp)
    binder.let_go("tern.pattern.md")
    assert binder.open("tern.pattern.md").draft is None
    assert [(v.draft, t) for v, t in binder.history("tern.pattern.md")][1] == (True, TERN + "Row 2")


def test_a_draft_that_cannot_be_read_is_passed_over(binder, folder):
    stamp = binder.open("tern.pattern.md").stamp
    binder.put_draft("tern.pattern.md", TERN + "Row 2", stamp)
    (file,) = (folder / ".purlwright" / "drafts").rglob("*.json")
    file.write_text("{half", encoding="utf-8")
    assert binder.open("tern.pattern.md").draft is None


# --- versions ------------------------------------------------------------------------------------------


def test_very_many_versions_are_thinned_to_the_last_of_old_days(binder, monkeypatch):
    monkeypatch.setattr("purlwright.bench.versions._MOST", 20)
    day = 86_400_000
    for n in range(60):
        binder.versions.keep("tern.pattern.md", f"version {n}".encode(), day * (n // 6) + n)
    kept = [
        binder.versions.bytes_of("tern.pattern.md", v.id) for v in binder.versions.listed("tern.pattern.md")
    ]
    assert len(kept) <= 21
    assert kept[-10:] == [f"version {n}".encode() for n in range(50, 60)]
    assert b"version 5" in kept  # the last of the first day
    assert b"version 4" not in kept


@pytest.mark.parametrize("name", ["../../x", "1", "", "0000000000000-" + "a" * 64, "..", "a/b"])
def test_a_version_that_is_none_is_refused(binder, name):
    binder.open("tern.pattern.md")
    with pytest.raises(Refused):
        binder.version("tern.pattern.md", name)


# --- new -----------------------------------------------------------------------------------------------


def test_a_new_pattern_never_takes_the_place_of_another(binder, folder):
    assert binder.new("Eider: a *mitt*?", "x")[0] == "Eider a mitt.pattern.md"
    with pytest.raises(Refused) as e:
        binder.new("Eider a mitt", "y")
    assert e.value.more == {"free": "Eider a mitt 2.pattern.md"}
    assert (folder / "Eider a mitt.pattern.md").read_text(encoding="utf-8") == "x"


@pytest.mark.parametrize("name", ["", "...", "/", "..", " ", "con", "\n"])
def test_a_name_that_is_none_is_refused(binder, folder, name):
    before = sorted(p.name for p in folder.iterdir())
    with pytest.raises(Refused):
        binder.new(name, "x")
    assert [p for p in sorted(p.name for p in folder.iterdir()) if p != ".purlwright"] == before


@given(st.text(max_size=60))
def test_any_name_at_all_stays_in_the_folder(name):
    from purlwright.bench.paths import file_name

    try:
        path = file_name(name)
    except Refused:
        return
    assert "/" not in path
    assert "\\" not in path
    assert not path.startswith(".")
    assert len(path.encode()) < 400


# --- nothing but texts below the folder -------------------------------------------------------------------

OUTSIDE = [
    "../secret.md", "a/../../secret.md", "/etc/passwd.md", "..\\secret.md", "a\\..\\..\\secret.md", "./tern.pattern.md",
    "tern.pattern.md/", "//tern.pattern.md", "C:/x.md", ".hidden.md", ".purlwright/lock", "tern.pattern.md\0.md", "nul.md",
    "tern.pattern.md ", "", "x" * 300 + ".md", "a/b/c/d/e/f/g.md", "%2e%2e/secret.md\n", "tern.py", "tern", "~/x.md/..",
]  # fmt: skip


@pytest.mark.parametrize("path", OUTSIDE)
def test_a_path_that_leads_outside_is_refused(binder, folder, path):
    (folder.parent / "secret.md").write_text("secret", encoding="utf-8")
    for act in (
        lambda: binder.open(path),
        lambda: binder.save(path, "x", ""),
        lambda: binder.put_draft(path, "x", ""),
        lambda: binder.history(path),
        lambda: binder.version(path, "1"),
        lambda: binder.stamp(path),
        lambda: binder.let_go(path),
    ):
        with pytest.raises(Refused) as e:
            act()
        assert "secret" not in str(e.value) or "secret" in path
    assert (folder.parent / "secret.md").read_text(encoding="utf-8") == "secret"


@pytest.mark.parametrize("kind", ["file", "folder", "dangling"])
def test_links_to_other_places_are_refused_and_not_listed(binder, folder, kind):
    there = folder.parent / "elsewhere"
    there.mkdir()
    (there / "secret.md").write_text("secret", encoding="utf-8")
    target, name = {
        "file": (there / "secret.md", "link.md"),
        "folder": (there, "link"),
        "dangling": (there / "none.md", "link.md"),
    }[kind]
    (folder / name).symlink_to(target)
    path = "link/secret.md" if kind == "folder" else "link.md"
    with pytest.raises(Refused, match="another place"):
        binder.open(path)
    with pytest.raises(Refused, match="another place"):
        binder.save(path, "x", "")
    assert binder.names() == ["tern.pattern.md"]
    assert (there / "secret.md").read_text(encoding="utf-8") == "secret"


@given(st.text(max_size=40))
def test_no_name_at_all_leads_outside(tmp_path_factory, name):
    folder = tmp_path_factory.getbasetemp().resolve()
    try:
        at = place(folder, f"{name}.md")
    except Refused:
        return
    assert folder in at.parents
    assert ".." not in at.parts


def test_the_chosen_folder_itself_may_be_a_link(folder, tmp_path):
    (folder / "tern.pattern.md").write_text(TERN, encoding="utf-8")
    (tmp_path / "short").symlink_to(folder)
    assert Binder(tmp_path / "short").open("tern.pattern.md").text == TERN


def test_only_texts_are_listed_patterns_first(binder, folder):
    for name in ("notes.txt", "a.md", "photo.png", ".hidden.md", "sub/b.pattern.md", "lost.pattern.md.part"):
        (folder / name).parent.mkdir(exist_ok=True)
        (folder / name).write_text("x", encoding="utf-8")
    binder.open("tern.pattern.md")  # makes the hidden folder
    assert binder.names() == ["sub/b.pattern.md", "tern.pattern.md", "a.md", "notes.txt"]


# --- the disk ----------------------------------------------------------------------------------------------


def test_a_write_that_fails_leaves_the_old_file_and_nothing_else(folder, monkeypatch):
    file = folder / "tern.pattern.md"
    file.write_bytes(b"old")

    def full(_fd):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(disk.os, "fsync", full)
    with pytest.raises(OSError, match="No space"):
        disk.replace(file, b"new", folder / "parts")
    monkeypatch.undo()
    assert file.read_bytes() == b"old"
    assert list((folder / "parts").iterdir()) == []


def test_parts_of_a_program_that_has_ended_are_swept_away(folder):
    (folder / "999999999-abc.part").write_bytes(b"half")
    (folder / f"{os.getpid()}-abc.part").write_bytes(b"being written")
    disk.sweep(folder)
    assert [p.name for p in folder.iterdir()] == [f"{os.getpid()}-abc.part"]


# --- two texts put together --------------------------------------------------------------------------------

LINES = st.lists(st.sampled_from(["a\n", "b\n", "c\n", "d\n", "\n", "long\n"]), max_size=12).map("".join)


@given(LINES, LINES)
def test_where_one_changed_nothing_the_other_is_taken(base, other):
    assert merge(base, other, base).text == other
    assert merge(base, base, other).text == other
    assert merge(base, other, other).text == other
    assert not merge(base, other, base).clashes
    assert not merge(base, base, other).clashes


@given(LINES, LINES, LINES)
def test_putting_together_loses_no_line_of_hers(base, hers, theirs):
    done = merge(base, hers, theirs)
    for clash in done.clashes:
        assert done.text[clash.start : clash.end] == clash.hers
    new = set(hers.splitlines()) - set(base.splitlines())
    assert new <= set(done.text.splitlines())
    told = {line for clash in done.clashes for line in clash.theirs.splitlines()}
    assert set(theirs.splitlines()) - set(base.splitlines()) <= set(done.text.splitlines()) | told


def test_texts_too_long_to_compare_clash_as_a_whole():
    base = "a\n" * 6000
    done = merge(base, base + "b\n", "c\n" + base)
    assert len(done.clashes) == 1
    assert done.text == base + "b\n"


def test_a_stamp_tells_contents_apart():
    assert stamp_of(b"a") != stamp_of(b"b")
    assert len(stamp_of(b"")) == 64
