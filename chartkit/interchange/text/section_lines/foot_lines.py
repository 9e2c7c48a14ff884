"""Lines below the last written-out section that ask for sections, in whatever words: those that the
readers of single lines left as words or remarks, or of which they read only a part."""

import re
from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace

from chartkit.interchange.text.kinds.line_kinds import (
    Blank,
    Chords,
    ChordsBehind,
    ChordsWithin,
    Note,
    Remark,
    Roadmap,
    SectionStart,
    Words,
)
from chartkit.interchange.text.lines import letters_of
from chartkit.interchange.text.section_lines.said_order_lines import RowReader, added_sections
from chartkit.interchange.text.section_lines.sheet_blocks import Block, SheetBlocks, starts_in
from chartkit.interchange.text.song_form.foot_steps import foot_steps
from chartkit.interchange.text.song_form.said_of_times import LONGEST_SAID, said_of_one
from chartkit.interchange.text.song_form.steps import SAME
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.directions import is_direction, tells_who_plays
from chartkit.interchange.text.vocabulary.ends_on import AT_THE_END
from chartkit.interchange.text.vocabulary.foot_words import (
    ABOVE,
    AS_SOLO,
    OF_A_LINE,
    OVER_NEXT,
    PART_OF,
    REST_LABEL,
)
from chartkit.interchange.text.vocabulary.key_words import says_how_much_higher
from chartkit.interchange.text.vocabulary.order_words import (
    AFTER_EACH,
    LEADS_ON,
    TAKES,
    is_of_last_chords,
)
from chartkit.interchange.text.vocabulary.references import says_whose
from chartkit.interchange.text.vocabulary.section_names import section_key
from chartkit.interchange.text.vocabulary.sounds_said import sounds_said

_MOST_LINES = 40
"""The most lines below a song that are looked at (ours)."""
_SAME_AS = re.compile(
    r"\bsame (?:as|chords|changes|music)\b|gleiche[nr]? akkorde|mêmes accords|mismos acordes|"
    r"stessi accordi|mesmos acordes|zelfde akkoorden|samma ackord|samme akkorder",
    re.IGNORECASE,
)
"""What a line says of the chords of a section, which is not asked for."""
_OF_THE_END = re.compile(
    rf"(?:{AT_THE_END})\s.*\b(?:lines?|zeilen?|lignes?|líneas?|righ?[ae]|regels?|rader?|linjer?|linhas?)\b",
    re.IGNORECASE,
)
"""What says of a line of a section that it comes at the end."""
_MOST_WORDS_OF_A_REFERENCE = 5
_SEVERAL, _SURELY_SAID = 2, 1.0
_WORDS = re.compile(r"[^\W_]+")


def put_steps_of_foot(
    sheet: SheetBlocks,
    texts: Sequence[str],
    settled: Collection[int],
    row_of: RowReader,
    is_chords: IsChords,
) -> None:
    """Puts the sections in place of the lines below the last written-out section that name them,
    and makes remarks of lines that say something of these; what is ``settled`` stays."""
    foot = [at for at in _foot(sheet.blocks) if at not in settled]
    for at in (*foot, *foot):  # what seemed words below a name may be a step itself
        _put_steps(sheet, at, texts[at].strip(), row_of, is_chords)
    for at in foot[:-1]:
        _put_said_of_next(sheet, at, texts[at].strip())


def _put_steps(
    sheet: SheetBlocks, at: int, text: str, row_of: RowReader, is_chords: IsChords
) -> None:
    """Puts the sections in place of one line, where it names any."""
    above = sheet.sections[: sheet.count_above(at)]
    block, names = sheet.blocks[at], [one.name for one in above]
    if _is_ordered(sheet.blocks, at, text) or not above or not 0 < len(text) <= LONGEST_SAID:
        return
    if not _is_doubtful(block, names) or _is_said_of_one_above(sheet.blocks, at, text):
        return
    if REST_LABEL.fullmatch(text):
        sheet.put(at, Roadmap(()))
    elif _is_said_above(text, names):
        sheet.put(at, Remark(text))
    elif not (_is_heading_or_sung(sheet.blocks, at, names) or _is_about_one(block, text, names)):
        written = [(one.name, one.times) for one in above]
        steps = foot_steps(text, written, is_chords, sure=bool(starts_in(block)))
        if steps and (steps[0].at >= 0 or steps[0].like or steps[0].row):
            sheet.put_lines(at, tuple(added_sections(steps, names, block[0].line, row_of)))


def _is_said_of_one_above(blocks: Sequence[Block], at: int, text: str) -> bool:
    """Whether a line in parentheses stands right under a name, or says which line comes
    at the end."""
    under = at > 0 and bool(starts_in(blocks[at - 1])) and text[:1] + text[-1:] == "()"
    return under or _OF_THE_END.match(text) is not None


def _put_said_of_next(sheet: SheetBlocks, at: int, text: str) -> None:
    """Says of a section that is asked for what stands on the line before, which nobody sings ("Step
    it up to Bm")."""
    keyed = says_how_much_higher(text)
    block, next_at = sheet.blocks[at], at + 1
    if keyed and isinstance(sheet.blocks[next_at][0].kind, Blank) and at + 2 < len(sheet.blocks):
        next_at = at + 2
    below = sheet.blocks[next_at]
    starts = starts_in(below)
    above = sheet.blocks[at - 1] if at > 0 else ()
    alone = any(isinstance(one.kind, Blank) for one in above) or (keyed and bool(starts_in(above)))
    keys = {section_key(one.name) for one in sheet.sections}
    names = [one.name for one in sheet.sections]
    again = bool(starts) and (starts[0].guessed or (keyed and names.count(starts[0].name) > 1))
    if not (alone and again) or _names_one(text, keys):
        return
    if not isinstance(block[0].kind, Words) and not (keyed and isinstance(block[0].kind, Remark)):
        return
    said = sounds_said(text) > (0 if keyed else _SURELY_SAID) or is_direction(text)
    if said and len(text) <= LONGEST_SAID:
        first, *more = below
        start = replace(starts[0], remarks=(text.strip(" .:"), *starts[0].remarks))
        sheet.put(at, Roadmap(()))
        sheet.put_lines(next_at, (replace(first, kind=start), *more))


def _foot(blocks: Sequence[Block]) -> range:
    """The lines below the last paragraph that has a row of chords."""
    music = [
        at
        for at, block in enumerate(blocks)
        if _has_row(block) and not _ends_song(blocks[max(0, at - 1)])
    ]
    below = range(music[-1], len(blocks)) if music else range(0)
    first = next((at for at in below if isinstance(blocks[at][0].kind, Blank)), len(blocks))
    return range(first, len(blocks)) if len(blocks) - first <= _MOST_LINES else range(0)


def _ends_song(block: Block) -> bool:
    """Whether a line is the name of the last chords of the song, which stand below it."""
    return any(is_of_last_chords(start.name) for start in starts_in(block))


def _has_row(block: Block) -> bool:
    """Whether a line is a row of chords and names no section."""
    if starts_in(block):
        return False
    return any(isinstance(one.kind, Chords | ChordsBehind | ChordsWithin) for one in block)


def _is_heading_or_sung(blocks: Sequence[Block], at: int, names: Sequence[str]) -> bool:
    """Whether a line names a section whose words stand right below, or is one of the words of a
    section that the sheet names there for the first time."""
    below = blocks[at + 1] if at + 1 < len(blocks) else ()
    if starts_in(blocks[at]):
        return any(isinstance(one.kind, Words) for one in below)
    above = at - 1
    while above >= 0 and isinstance(blocks[above][0].kind, Words):
        above -= 1
    starts = starts_in(blocks[above]) if above >= 0 else []
    if not starts or any(isinstance(one.kind, Remark) for one in blocks[at]):
        return False
    last = starts[-1]
    again = last.guessed or last.remarks or last.like or last.times > 1 or last.with_chords
    return not again and names.count(last.name) < _SEVERAL


def _is_about_one(block: Block, text: str, names: Sequence[str]) -> bool:
    """Whether a line says something of sections that stand elsewhere, or asks."""
    if text.endswith("?") or AFTER_EACH.search(text) is not None:
        return True
    if said_of_one(text, names, True) is not None:
        return True
    if starts_in(block):
        return text.startswith("==") and not any(map(_is_part, starts_in(block)))
    label = text.partition(":")[0]
    solo = label in names and section_key(label)[0] == "solo"
    takes = TAKES.match(text) is not None and AS_SOLO.search(text) is None
    return solo or _SAME_AS.search(text) is not None or (takes and tells_who_plays(text))


def _is_said_above(text: str, names: Sequence[str]) -> bool:
    """Whether a line says something of a section that it calls the one above."""
    match = ABOVE.match(text)
    kinds = {section_key(name)[0] for name in names}
    return match is not None and section_key(match["name"])[0] in kinds


def _is_ordered(blocks: Sequence[Block], at: int, text: str) -> bool:
    """Whether a line begins an order on several lines, which was read before, or a section that
    starts there has what another line says of it."""
    words = letters_of(text)
    remarks = [said for start in starts_in(blocks[at]) for said in start.remarks]
    if not all(letters_of(said) in words for said in remarks):
        return True
    below = blocks[at + 1][0].kind if at + 1 < len(blocks) else None
    return isinstance(below, Roadmap)


def _is_part(start: SectionStart) -> bool:
    return PART_OF.fullmatch(start.name) is not None


def _is_doubtful(block: Block, names: Sequence[str]) -> bool:
    """Whether a line was read as something else than sections, or not to its end: a remark names a
    section above, or a section that nobody knows has no music."""
    if any(isinstance(one.kind, Words | Note | Remark) for one in block):
        return True
    keys = {section_key(name) for name in names} | {(section_key(one)[0], "") for one in names}
    return any(
        _is_half_read(start, keys)
        or (start.remarks and _is_part(start) and start.name not in names)
        for start in starts_in(block)
    )


def _is_half_read(start: SectionStart, keys: set[tuple[str, str]]) -> bool:
    own = section_key(start.name)
    kinds = {kind for kind, _ in keys}
    if any(_is_reference(one, keys) for one in start.remarks[:1]) or (
        own[0] not in kinds and any(map(PART_OF.match, start.remarks[:1]))
    ):
        return len(start.remarks) > 1 and _names_one(start.remarks[1], keys)
    if own[0] not in kinds and start.remarks and _says_whose(start.remarks[0].strip("()")):
        return False
    if start.with_chords and any(map(OF_A_LINE.match, start.remarks[:1])):
        return True
    if any(map(LEADS_ON.match, start.remarks)):
        return True  # "C again, then end on G"
    if start.like == SAME and own[0] not in kinds:
        return True
    if own[0] not in kinds and not (start.like or start.with_chords):
        return True
    return any(_names_one(one, keys) for one in start.remarks if not _says_whose(one))


def _is_reference(said: str, keys: set[tuple[str, str]]) -> bool:
    """Whether a remark names a section over which a solo goes ("over verse")."""
    match = OVER_NEXT.fullmatch(said.strip("()"))
    return match is not None and section_key(match["name"]) in keys


def _says_whose(said: str) -> bool:
    return len(said.split()) <= _MOST_WORDS_OF_A_REFERENCE and says_whose(said) and "," not in said


def _names_one(said: str, keys: set[tuple[str, str]]) -> bool:
    """Whether words beside a section name one of the sheet."""
    words = _WORDS.findall(said)
    return any(section_key(name) in keys for name in _names(words))


def _names(words: Sequence[str]) -> Iterator[str]:
    for at, word in enumerate(words):
        if not word.isdecimal():  # that counts, or is a number of lines
            yield word
        yield " ".join(words[at : at + 2])
