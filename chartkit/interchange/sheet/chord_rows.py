"""A row of chords with the words under it, before it on one line, or around its chords."""

from dataclasses import replace

from chartkit.interchange.sheet.cursor import Cursor
from chartkit.interchange.sheet.lines import Line
from chartkit.interchange.sheet.token import Token, roots_of
from chartkit.interchange.sheet.under import VERSE, without_tail, words_row


def read_chords(cursor: Cursor, line: Line, tokens: tuple[Token, ...]) -> None:
    """A row of chords with the words under it."""
    sheet = cursor.sheet
    if cursor.stanza_begins:
        sheet.begin_stanza()
    if _shapes_above(cursor, tokens):
        cursor.at += 1
        line, tokens = cursor.line, cursor.kinds[cursor.at] or tokens
    sheet.chord_rows += 1
    cursor.at += 1
    under = cursor.words_under(VERSE.match(line.text) is not None)
    if len(under) == 1 and (numbered := _numbered(line, under[0])) is not None:
        tokens, under = tokens[1:], [numbered]
    tails: list[Token] = []
    barred = any(token.kind == "bar" for token in tokens)
    if len(under) == 1:
        words, tails = without_tail(
            under[0], sheet.tokens, tokens[-1].end,
            {token.column for token in tokens if token.struck} if barred else (),
        )  # fmt: skip
        under = [words]
    read = sheet.bars.row((*tokens, *tails), line.place())
    sheet.add_music(read.music)
    for words in under:
        sheet.add(words_row(words, read))
    if under:
        sheet.add_line()
        sheet.words_lines += len(under) - 1


def _numbered(chords: Line, words: Line) -> Line | None:
    """The words with the number of their verse where it stands before the chords above; None
    where there is none, or the words begin too far left for it."""
    number = VERSE.match(chords.text)
    if number is None or words.text[: number.end()].strip() or VERSE.match(words.text):
        return None
    return replace(words, text=number[0] + words.text[number.end() :])


def read_chords_behind(cursor: Cursor, words: Line, tokens: list[Token]) -> None:
    """Words with their chords behind them: the chords are struck after the words."""
    _read_one_line(cursor, words, tokens)
    cursor.sheet.findings.guess(
        "chords-behind-words", "chords typed behind a line of words are struck after it",
        words.place(),
    )  # fmt: skip


def read_chords_within(cursor: Cursor, words: Line, tokens: list[Token]) -> None:
    """Words with chords in parentheses among them: each is struck where it stands."""
    if cursor.stanza_begins:
        cursor.sheet.begin_stanza()
    _read_one_line(cursor, words, tokens)


def _read_one_line(cursor: Cursor, words: Line, tokens: list[Token]) -> None:
    """Chords and words that were typed on one line."""
    sheet = cursor.sheet
    sheet.chord_rows += 1
    cursor.at += 1
    read = sheet.bars.row(tokens, words.place())
    sheet.add_music(read.music)
    sheet.add(words_row(words, read))
    sheet.add_line()


def _shapes_above(cursor: Cursor, tokens: tuple[Token, ...]) -> bool:
    """Whether the next line holds the sounding chords of these shapes, so that these can
    go: the capo says so.  An N.C. or a remark among the shapes alone goes along."""
    sheet, at = cursor.sheet, cursor.at + 1
    below = cursor.kinds[at] if at < len(cursor.lines) else None
    capo = sheet.top.get("capo")
    if below is None or not isinstance(capo, int):
        return False
    shapes, sounding = roots_of(tokens), roots_of(below)
    raised = [None if root is None else (root + capo) % 12 for root in shapes]
    silent = [token for token in tokens if token.kind == "none"] if None not in sounding else []
    if silent:
        raised = [root for root in raised if root is not None]
    if not raised or raised != sounding:
        return False
    said = {token.text for token in below}
    remarks = [t for t in tokens if t.kind in ("cue", "word") and t.text not in said]
    both = sorted((*below, *silent, *remarks), key=lambda token: token.column)
    cursor.kinds[at] = tuple(both)
    if sheet.top.get("chords") != "sounding":
        sheet.top["chords"] = "sounding"
        sheet.findings.take_back("chords-are-shapes")
    return True
