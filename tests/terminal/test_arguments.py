import pytest

from purlwright.terminal.arguments import COMMANDS, OPTIONS, BadCall, read_call
from purlwright.terminal.usage import usage


def read(words):
    return read_call(words.split())


def test_a_command_its_file_and_its_options_in_any_order():
    for words in (
        "ledger hat.md --json --size M",
        "--json ledger --size=M hat.md",
        "--size M --json ledger -- hat.md",
    ):
        call = read(words)
        assert (call.command, call.names, call.size, call.json) == ("ledger", ["hat.md"], "M", True)


def test_options_of_the_pattern_may_repeat_and_hold_spaces():
    call = read_call(["proof", "a", "--option", "turns=double stitch", "--option=brim = folded"])
    assert call.options == [("turns", "double stitch"), ("brim", "folded")]


def test_a_name_that_begins_with_a_dash_stands_after_two_dashes():
    assert read("proof -- --odd.md").names == ["--odd.md"]
    assert read("proof -").names == ["-"]


def test_nothing_asked_is_a_request_for_help():
    assert read("").help
    assert read("-h").help
    assert read("--help").help
    assert read("proof --help").command == "proof"
    assert read("-V").version


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("profo a", 'There is no command "profo"; did you mean "proof"?'),
        (
            "zzz a",
            f'There is no command "zzz"; there are {", ".join(COMMANDS[:-1])} and {COMMANDS[-1]}.',
        ),
        ("proof a --strcit", 'There is no option "--strcit"; did you mean "--strict"?'),
        ("proof", "proof takes one or more files or folders"),
        ("proof - -", "Standard input can be read once only"),
        ("ledger", "ledger takes one file"),
        ("ledger a b", "ledger takes one file"),
        ("ledger a --size", "--size takes a value: --size NAME"),
        ("ledger a --json=yes", "--json takes no value"),
        ("ledger a --option turns", "--option takes NAME=VALUE"),
        ("ledger a --option =x", "--option takes NAME=VALUE"),
        ("ledger a --option a=1 --option a=2", '--option gives "a" twice'),
        ("explain C001 --size M", "--size means nothing to explain"),
        ("ledger a --all", "--all means nothing to ledger"),
        ("proof a --jobs 0", '--jobs takes a whole number from 1 to 256; "0" is not that.'),
        ("proof a --jobs ²", "--jobs takes a whole number"),
        ("ledger a --jobs 2", "--jobs means nothing to ledger"),
        ("proof a --report --all", "--report lists every check"),
        ("--json", "Say first what to do"),
    ],
)
def test_a_call_that_cannot_be_followed_is_answered_in_one_sentence(words, said):
    with pytest.raises(BadCall) as e:
        read(words)
    assert str(e.value).startswith(said)


def test_help_names_every_command_and_its_own_page_every_option():
    whole = usage()
    assert len(whole.splitlines()) <= 40
    for command in COMMANDS:
        assert f"\n  purlwright {command} " in whole
    for command in COMMANDS:
        assert usage(command).startswith(f"purlwright {command}")
        for option, (commands, _, _) in OPTIONS.items():
            assert (f"\n  {option} " in usage(command)) == (command in commands)


def test_help_fits_a_terminal():
    for command in ("", *COMMANDS):
        assert max(len(line) for line in usage(command).splitlines()) <= 100
