"""What a browser would see of a page: its tags, its attributes and its text."""

from html.parser import HTMLParser

ALLOWED = {"html", "head", "meta", "title", "style", "body", "main", "h1", "h2", "h3", "p", "ul", "li", "table", "caption", "thead", "tbody", "tr", "th", "td", "div",
           "span", "strong"}
ATTRIBUTES = {"lang", "charset", "http-equiv", "content", "name", "class", "scope", "style", "aria-hidden"}


class Seen(HTMLParser):
    """Every tag with its attributes, and the text between them."""

    def __init__(self, content):
        super().__init__(convert_charrefs=True)
        self.tags, self.attributes, self.text, self.open = [], [], [], []
        self.feed(content)
        self.close()

    def handle_starttag(self, tag, attributes):
        self.tags.append(tag)
        self.attributes += attributes
        if tag != "meta":
            self.open.append(tag)

    def handle_endtag(self, tag):
        assert self.open and self.open[-1] == tag, f"</{tag}> closes {self.open[-1:]}"
        self.open.pop()

    def handle_data(self, data):
        self.text.append(data)

    def handle_comment(self, data):
        raise AssertionError(f"a comment: {data[:40]}")


def seen(content, more=()):
    """Return what a browser would see, after a check that nothing of it can run or load.

    Parameters
    ----------
    content : str
        HTML.
    more : set of str
        Tags allowed beside the usual ones.
    """
    found = Seen(content)
    assert set(found.tags) <= ALLOWED | set(more), set(found.tags) - ALLOWED
    assert {name for name, _ in found.attributes} <= ATTRIBUTES or more, {name for name, _ in found.attributes} - ATTRIBUTES
    assert not found.open, f"not closed: {found.open}"
    values = " ".join(str(value) for name, value in found.attributes if name not in ("xmlns",))
    assert "http://" not in values and "https://" not in values and "javascript:" not in values
    assert "url(" not in content.split("</style>")[0] and "@import" not in content
    return found
