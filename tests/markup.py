"""A strict, plain reader of our own pages: every element closed, in order, with its attributes and words."""

from dataclasses import dataclass, field
from html.parser import HTMLParser

VOID = {"meta", "input", "img", "br", "hr", "link"}


@dataclass
class Element:
    tag: str
    attributes: dict
    inside: list = field(default_factory=list)  # elements and words, in order

    def all(self, tag="", **attributes):
        """Every element below this one with this tag and these attributes, in reading order."""
        for part in self.inside:
            if isinstance(part, Element):
                asked = {name.rstrip("_").replace("_", "-"): value for name, value in attributes.items()}
                if tag in {"", part.tag} and asked.items() <= part.attributes.items():
                    yield part
                yield from part.all(tag, **attributes)

    def one(self, tag="", **attributes):
        (found,) = self.all(tag, **attributes)
        return found

    @property
    def text(self):
        return "".join(part if isinstance(part, str) else part.text for part in self.inside)


class _Reader(HTMLParser):
    def __init__(self):
        super().__init__()
        self.open = [Element("", {})]

    def handle_starttag(self, tag, attrs):
        names = [name for name, _ in attrs]
        assert len(names) == len(set(names)), f"an attribute twice: {self.get_starttag_text()}"
        element = Element(tag, dict(attrs))
        self.open[-1].inside.append(element)
        if tag not in VOID:
            self.open.append(element)

    def handle_startendtag(self, tag, attrs):
        self.open[-1].inside.append(Element(tag, dict(attrs)))

    def handle_endtag(self, tag):
        assert self.open[-1].tag == tag, f"</{tag}> closes <{self.open[-1].tag}>"
        self.open.pop()

    def handle_data(self, data):
        self.open[-1].inside.append(data)


def read(html):
    """The page as elements; an assertion fails where one is not closed in its turn."""
    reader = _Reader()
    reader.feed(html)
    reader.close()
    assert [element.tag for element in reader.open] == [""]
    return reader.open[0]
