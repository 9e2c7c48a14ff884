"""The text of a page in HTML as lines, by Python's own parser: blanks are kept where they
were typed to be kept."""

import re
from html.parser import HTMLParser

_LINES = {"p", "div", "li", "tr", "h1", "h2", "h3", "h4", "blockquote", "pre", "table"}
_UNSEEN = {"script", "style", "head", "title"}


class _Reader(HTMLParser):
    """Gathers text; ``kept`` counts open elements whose blanks are typed as they are meant."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.parts: list[str] = []
        self.unseen = self.kept = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.unseen += tag in _UNSEEN
        self.kept += tag == "pre"
        if tag == "br":
            self.parts.append("\n")
        elif tag in _LINES:
            self._new_line()

    def handle_endtag(self, tag: str) -> None:
        self.unseen -= tag in _UNSEEN and self.unseen > 0
        self.kept -= tag == "pre" and self.kept > 0
        if tag in _LINES:
            self._new_line()

    def handle_data(self, data: str) -> None:
        if self.unseen:
            return
        # Unbreakable blanks hold chords in their columns and are no white space of HTML's.
        text = data if self.kept else re.sub(r"[ \t\r\n\f]+", " ", data)
        if text.strip(" ") or not self._at_start():
            self.parts.append(text.lstrip(" ") if self._at_start() and not self.kept else text)

    def _at_start(self) -> bool:
        return not self.parts or self.parts[-1].endswith("\n")

    def _new_line(self) -> None:
        if not self._at_start():
            self.parts.append("\n")


_IF_FOR_OFFICE = re.compile(r"<!\[(?:if|endif)[^<>]{0,200}>", re.IGNORECASE)
"""Conditions for one family of programs, outside of comments."""


def text_of_html(html: str) -> str:
    """The text, a line for each line that the page shows."""
    reader = _Reader()
    reader.feed(_closed(_IF_FOR_OFFICE.sub("", html)))
    reader.close()
    return "".join(reader.parts)


def _closed(html: str) -> str:
    """The page with every sign that opens what is never closed as a plain letter: Python's parser
    looks for the end of each one to the end of the text, in quadratic time."""
    html = html.replace("<![", "&lt;![")
    end = html.rfind(">") + 1
    html = html[:end] + html[end:].replace("<", "&lt;")
    end = html.rfind("-->") + 3 if "-->" in html else 0
    return html[:end] + html[end:].replace("<!--", "&lt;!--")
