import io

from purlwright.terminal.progress import Progress


class Terminal(io.StringIO):
    def isatty(self):
        return True


def test_a_bar_is_written_over_and_taken_away():
    out = Terminal()
    bar = Progress(1000, out)
    bar.at(500)
    assert out.getvalue() == "\r[###############...............]  500 of 1,000"
    bar.at(501)  # a moment later: nothing new
    assert out.getvalue().count("\r") == 1
    bar.at(1000)
    bar.clear()
    assert out.getvalue().endswith("]  1,000 of 1,000\r" + " " * 48 + "\r")
    assert out.getvalue().isascii()


def test_nothing_is_written_where_nobody_watches():
    out = io.StringIO()
    bar = Progress(10, out)
    bar.at(10)
    bar.clear()
    assert out.getvalue() == ""
    Progress(10, None).at(3)
