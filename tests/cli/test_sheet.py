"""`purlwright sheet`: which files are written, what is refused, and that nothing of hers is lost."""

import json

import pytest

from purlwright.cli import main
from purlwright.files import MOST_PICTURE_BYTES, Unusable, read_picture
from purlwright.workup import WorkUp

MAT = """\
# Tern Mat
Sizes: small (large)
Options: edge = plain (usual), slipped
Cast on 12 (16) sts.
plain only: Row 1: Knit.
slipped only: Row 1: Sl1, k to end.
Row 2: Knit.
Bind off.
"""


@pytest.fixture
def sheet(tmp_path, capsys, monkeypatch):
    monkeypatch.setenv("NO_COLOR", "1")
    monkeypatch.setenv("COLUMNS", "100")
    monkeypatch.chdir(tmp_path)

    def run(*words, text=MAT):
        (tmp_path / "mat.pattern.md").write_text(text, encoding="utf-8")
        answer = main(["sheet", "mat.pattern.md", *words])
        return (answer, *capsys.readouterr())

    return run


def test_the_files_are_named_and_written_beside_the_pattern(sheet, tmp_path):
    answer, out, err = sheet()
    assert (answer, err) == (0, "")
    assert out == (
        "Tern Mat (plain edge)\n\n"
        "  mat.pdf          print, A4\n"
        "  mat.html         web page\n"
        "  mat.follow.html  follow-along page: one row at a time, for a telephone\n"
        "  mat.txt          plain text, which reads back to the same pattern\n"
    )
    assert (tmp_path / "mat.pdf").read_bytes().startswith(b"%PDF")
    assert WorkUp((tmp_path / "mat.txt").read_text(encoding="utf-8")).sizes == ("small", "large")


def test_size_and_choice_are_in_the_name(sheet, tmp_path):
    answer, _, _ = sheet("--size", "Large", "--option", "edge=slipped", "--as", "text", "--out", "new/sheets")
    assert answer == 0
    text = (tmp_path / "new" / "sheets" / "mat.large.slipped.txt").read_text(encoding="utf-8")
    assert "Cast on 16 sts." in text
    assert "Row 1 (RS): Sl1, k to end." in text


def test_every_kind_is_written(sheet, tmp_path):
    answer, out, _ = sheet("--as", "pdf,letter,large,html,follow,text", "--json")
    told = json.loads(out)
    assert answer == 0
    assert [f["kind"] for f in told["files"]] == ["pdf", "letter", "large", "html", "follow", "text"]
    assert all((tmp_path / f["file"]).stat().st_size == f["bytes"] for f in told["files"])


def test_the_words_to_be_heard_are_for_one_size(sheet, tmp_path):
    answer, out, err = sheet("--as", "spoken")
    assert (answer, out) == (2, "")
    assert "name the size" in err
    for _ in range(2):
        assert sheet("--as", "text,spoken", "--size", "large")[0] == 0
    heard = (tmp_path / "mat.large.spoken.txt").read_text(encoding="utf-8")
    assert "Cast on 16 stitches." in heard
    assert "sts" in (tmp_path / "mat.large.txt").read_text(encoding="utf-8")


def test_our_own_file_is_replaced_and_no_other(sheet, tmp_path):
    assert sheet("--as", "pdf,html,follow,text")[0] == 0
    assert sheet("--as", "pdf,html,follow,text")[0] == 0
    (tmp_path / "mat.pdf").unlink()
    (tmp_path / "mat.txt").write_text("my own notes", encoding="utf-8")
    answer, out, err = sheet("--as", "pdf,text")
    assert (answer, out) == (2, "")
    assert '"mat.txt" is there already and is not a file that Purlwright wrote' in err
    assert (tmp_path / "mat.txt").read_text(encoding="utf-8") == "my own notes"
    assert not (tmp_path / "mat.pdf").exists()


def test_a_link_is_never_followed_to_write(sheet, tmp_path):
    (tmp_path / "hers.txt").write_text("Purlwright", encoding="utf-8")
    (tmp_path / "mat.txt").symlink_to(tmp_path / "hers.txt")
    assert sheet("--as", "text")[0] == 2
    assert (tmp_path / "hers.txt").read_text(encoding="utf-8") == "Purlwright"


def test_a_pattern_with_an_error_has_no_sheet_unless_it_is_asked_for(sheet, tmp_path):
    wrong = MAT.replace("Row 2: Knit.", "Row 2: K5.")
    answer, out, err = sheet("--as", "text", text=wrong)
    assert (answer, out) == (1, "")
    assert "--unproved" in err
    assert not (tmp_path / "mat.txt").exists()
    answer, out, err = sheet("--as", "text", "--unproved", text=wrong)
    assert (answer, err) == (1, "")
    assert "Not proved" in out
    assert "not proved" in (tmp_path / "mat.txt").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--as", "scroll"), "--as takes pdf, letter, large, html, follow, text or spoken"),
        (("--as", ","), "--as takes one or more of"),
        (("--terms", "old"), "--terms takes us or uk"),
        (("--units", "ells"), "--units takes metric, imperial or both"),
        (("--out", " "), "--out takes the name of a folder"),
        (("--size", "giant"), "There is no size"),
    ],
)
def test_a_call_that_cannot_be_followed(sheet, words, told):
    answer, out, err = sheet(*words)
    assert (answer, out) == (2, "")
    assert told in err


JPEG = b"\xff\xd8\xff\xe0rest"


def test_a_picture_beside_the_pattern_is_read(tmp_path):
    (tmp_path / "pictures").mkdir()
    (tmp_path / "pictures" / "mat.jpg").write_bytes(JPEG)
    assert read_picture(str(tmp_path / "mat.pattern.md"), "pictures/mat.jpg") == JPEG


@pytest.mark.parametrize(
    "name", ["../out.jpg", "/etc/hostname", "pictures/../../out.jpg", "a\0b", "..\\out.jpg"]
)
def test_a_picture_elsewhere_is_refused(tmp_path, name):
    (tmp_path / "out.jpg").write_bytes(JPEG)
    inside = tmp_path / "inside"
    inside.mkdir()
    with pytest.raises(Unusable, match=r"folder of the pattern|where it stands"):
        read_picture(str(inside / "mat.pattern.md"), name)


def test_a_picture_behind_a_link_out_of_the_folder_is_refused(tmp_path):
    (tmp_path / "out.jpg").write_bytes(JPEG)
    inside = tmp_path / "inside"
    inside.mkdir()
    (inside / "mat.jpg").symlink_to(tmp_path / "out.jpg")
    with pytest.raises(Unusable, match="folder of the pattern"):
        read_picture(str(inside / "mat.pattern.md"), "mat.jpg")


def test_what_is_no_picture_or_too_large_or_missing_is_refused(tmp_path):
    pattern = str(tmp_path / "mat.pattern.md")
    (tmp_path / "mat.svg").write_bytes(b"<svg/>")
    (tmp_path / "big.jpg").write_bytes(JPEG + bytes(MOST_PICTURE_BYTES))
    for name, told in (("mat.svg", "no JPEG"), ("big.jpg", "over 20 MB"), ("gone.png", "not there")):
        with pytest.raises(Unusable, match=told):
            read_picture(pattern, name)


def test_a_picture_that_cannot_be_read_is_named(sheet, tmp_path):
    (tmp_path / "mat.jpg").write_bytes(JPEG)
    text = MAT.replace("Options:", "Picture: mat.jpg | the mat\nOptions:")
    answer, _, err = sheet("--as", "pdf", text=text)
    assert answer == 2
    assert '"mat.jpg" cannot be read' in err
