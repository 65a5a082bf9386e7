from hypothesis import given
from hypothesis import strategies as st

from purlwright.proof.said import and_list, count
from purlwright.terminal.look import Look, cut, pad, plain, width_of, wrap


def test_nothing_that_a_terminal_obeys_is_printed():
    assert plain("k2\x1b[31m, p2\r\x07") == "k2·[31m, p2··"
    assert plain("a\tb") == "a    b"
    assert plain("\u202ek2\u202c") == "·k2·"


@given(st.text())
def test_plain_words_are_printable_and_keep_their_length_but_for_tabs(words):
    shown = plain(words)
    assert "\x1b" not in shown
    assert len(shown) == len(words) + 3 * words.count("\t")


def test_wide_letters_take_two_columns_and_accents_none():
    assert width_of("表編み") == 6
    assert width_of("e\u0301") == 1


@given(st.text(), st.integers(0, 30))
def test_cut_words_fit(words, columns):
    assert width_of(cut(plain(words), columns)) <= columns


@given(st.text(alphabet="ab  "), st.integers(5, 30))
def test_wrapped_words_are_all_there(words, columns):
    assert " ".join(wrap(words, columns)).split() == words.split()


def test_small_words():
    assert wrap("", 10) == []
    assert wrap("knit to end of row", 11, "  ") == ["knit to end", "  of row"]
    assert pad("ab", 4) == "ab  "
    assert pad("表", 3) == "表 "
    assert count(1, "row") == "1 row"
    assert count(1014, "row") == "1,014 rows"
    assert and_list(["a"]) == "a"
    assert and_list(["a", "b", "c"]) == "a, b and c"
    assert and_list([]) == ""


def test_colour_only_where_it_is_wanted():
    assert Look().bad("x") == "x"
    assert Look(colour=True).bad("x") == "\x1b[1;31mx\x1b[0m"
    assert Look(colour=True).bad("") == ""
