"""Quotation marks and apostrophes in the language of a song.

Typed quotes are straight; a page has the language's own (Unicode CLDR, quotation delimiters, from
memory). Curly signs stay as typed.
"""

import re
from functools import lru_cache

_MARKS = {
    "de": "„“‚‘",
    "cs": "„“‚‘",
    "sk": "„“‚‘",
    "sl": "„“‚‘",
    "da": "“”‘’",
    "is": "„“‚‘",
    "pl": "„”‚’",
    "hu": "„”»«",
    "ro": "„”«»",
    "hr": "„”‚’",
    "sv": "””’’",
    "fi": "””’’",
    "fr": "«»‹›",
    "es": "«»“”",
    "it": "«»“”",
    "pt": "“”‘’",
    "ca": "«»“”",
    "nb": "«»‘’",
    "nn": "«»‘’",
    "no": "«»‘’",
    "ru": "«»„“",
    "uk": "«»„“",
    "el": "«»“”",
}
_ENGLISH = "“”‘’"
_APOSTROPHE = "’"
_OPENS = re.compile(r"(?:^|(?<=[\s(\[{–—-]))[\"'](?=\S)")
_STRAIGHT = re.compile(r"[\"']")


def with_typographic_quotes(text: str, language: str) -> str:
    """The text with true quotes.  A quote opens at the start of a word, else it closes; a single
    one inside or after a word is an apostrophe."""
    if '"' not in text and "'" not in text:
        return text  # most are such, and to keep them would cost more than to look
    return _with_true_quotes(text, language)


@lru_cache(maxsize=1024)
def _with_true_quotes(text: str, language: str) -> str:
    marks = _MARKS.get(language.partition("-")[0].casefold(), _ENGLISH)

    def opened(match: re.Match[str]) -> str:
        if match[0] == '"':
            return marks[0]
        # 'tis and rock 'n' roll begin with an apostrophe: a single quote opens what is closed.
        rest = text[match.end() :]
        closed = re.search(r"\w'(?!\w)", rest)
        return marks[2] if closed and not re.match(r"\w{1,3}\b", rest) else _APOSTROPHE

    text = _OPENS.sub(opened, text)
    return _STRAIGHT.sub(lambda match: marks[1] if match[0] == '"' else _APOSTROPHE, text)
