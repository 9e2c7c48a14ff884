"""Reads each line of a head as the title, a setting, the writer, how the song goes, or a note."""

import re
from collections.abc import Callable
from dataclasses import replace

from chartkit.interchange.text.building.chart_builder import Sheet
from chartkit.interchange.text.building.song_settings import (
    take_fact,
    take_feel,
    take_head_facts,
    take_legend,
    take_note,
    take_tuned_down,
    take_tuning,
    take_writer,
)
from chartkit.interchange.text.head_words.head_facts import (
    columns_of,
    head_facts,
)
from chartkit.interchange.text.head_words.head_labels import (
    TITLE_LABEL,
    is_to_be_filled_in,
    of_nobody,
    writer_of,
    writes,
)
from chartkit.interchange.text.head_words.head_phrases import head_phrases
from chartkit.interchange.text.head_words.prose_facts import facts_in_prose
from chartkit.interchange.text.head_words.titles import (
    DASH,
    LONGEST_OF_A_SHOW,
    OF_A_MAIL,
    OF_A_SHOW,
    QUOTES,
    is_addressed_to_reader,
    is_of_a_show,
    is_of_a_web_page,
    without_ornaments,
)
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.song_head.head_names import take_name, take_settings_first
from chartkit.interchange.text.song_head.mixed_head_lines import (
    FEWEST_FACTS,
    take_mixed_line,
    uncommented,
)
from chartkit.interchange.text.vocabulary.facts import (
    facts_and_rest,
    facts_of,
    named_settings,
    names_a_fact,
    without_parentheses,
)
from chartkit.interchange.text.vocabulary.farewells import SUBJECTS
from chartkit.interchange.text.vocabulary.feel_words import labelled_feel, plain_feel
from chartkit.interchange.text.vocabulary.key_words import KEY_NAME, key_of
from chartkit.interchange.text.vocabulary.manners import says_style
from chartkit.interchange.text.vocabulary.reference_lines import (
    is_for_the_players,
    legend_pairs,
    says_note,
)
from chartkit.interchange.text.vocabulary.writer_names import (
    names_and_remark,
    names_people,
)
from chartkit.interchange.wording import setting_text

_LIST_OF_CHORDS = re.compile(
    r"(?:the\s+)?(?:chords?|akkorde|accords|acordes|accordi|akkoorden)(?:\s+[^\W\d_’']+){0,4}\s*:\s*"
    r"[A-H]\S{0,8}(?:[\s,–-]+[A-H]\S{0,8}){2}",
    re.IGNORECASE,
)
_MOST_WORDS_BESIDE = 6
"""The most words beside one setting; a line with more says something else."""
_LONGEST_KEY = 12
_OUR_REMARK = re.compile(
    r"\((?P<down>guitar tuned down: )?shapes in (?P<shapes>.{1,20}) over sounding chords\)|"
    r"(?:bold|light): .{1,60}(?:shapes|sounds|sounding).*"
)
"""The words of our own texts and pages for their lines of chords."""
_AT_THE_MARGIN = re.compile(r"\s*(?P<left>\S+(?: {1,2}\S+){0,15}?)(?: {3,}|\t\s*)(?=\S)")
_TEMPO_ALONE = re.compile(r"[~≈@]?\s?(?P<beats>\d{2,3})")
_LOWEST_TEMPO, _HIGHEST_TEMPO = 40, 240
_NOT_WRITTEN_BY = re.compile(
    r"(?:as )?(?:recorded|performed|sung|played|made famous|popularised|popularized|covered|"
    r"gesungen|gespielt|chanté|interprété|cantada?|tocada?|interpretada?)\s(?:by|von|par|por)\b|"
    r"(?:beginner|intermediate|advanced|easy|difficulty|level)\b.*|.*\bstrum\w*\s+[DUdux -]{3,}",
    re.IGNORECASE,
)
"""Who plays a song, how hard it is and how it is strummed: none of these wrote it."""
_SUBJECTS = frozenset(SUBJECTS.casefold().split("|"))
_KEY_WORD = re.compile(rf"(?:{KEY_NAME})\s", re.IGNORECASE)
AT_THE_LAST_MARGIN = re.compile(r"\s*(?P<left>\S.*\S)(?: {3,}|\t\s*)(?=\S)")


def read_head_line(sheet: Sheet, line: Line) -> None:
    """Takes one line of the head."""
    text = setting_text(without_ornaments(line.text))
    if is_to_be_filled_in(line.text) and text:
        take_note(sheet, line)
    elif text and not any(take(sheet, text, line) for take in _TAKERS):
        take_name(sheet, text, line)


def _take_labelled_title(sheet: Sheet, text: str, line: Line) -> bool:
    label = TITLE_LABEL.match(line.text)
    if label is None or "title" in sheet.top:
        return False
    title, _, more = line.text[label.end() :].partition(". ")
    if head_facts(more.rstrip(".")).facts:
        read_head_line(sheet, replace(line, text=more.rstrip("."), columns=None))
    else:
        title = line.text[label.end() :]
    sheet.top["title"] = setting_text(title)
    return True


def _take_our_remark(sheet: Sheet, text: str, line: Line) -> bool:
    ours = _OUR_REMARK.fullmatch(text)
    if ours is None:
        return False
    sheet.over_sounding |= bool(ours["shapes"])
    take_tuned_down(sheet, ours["shapes"] if ours["down"] else "", line)
    return True


def _take_of_nobody(sheet: Sheet, text: str, line: Line) -> bool:
    """Takes a line that says that nobody knows who wrote the song, and who set it, as the
    writer's."""
    said = of_nobody(text) if "title" in sheet.top and "writer" not in sheet.top else ""
    if said:
        sheet.top["writer"] = setting_text(said)
        sheet.findings.guess("writer", f'"{said}" stands for the writer', line.place())
    return bool(said)


def _take_writer_before(sheet: Sheet, text: str, line: Line) -> bool:
    """Takes the names that begin a line below the title as the writer, and reads what stands
    behind them: settings, how the song goes, or a note."""
    if "title" not in sheet.top or "writer" in sheet.top:
        return False
    bare = without_ornaments(uncommented(line.text))
    names, behind = names_and_remark(bare)
    if not names or names == bare or facts_of(names):
        return False
    take_writer(sheet, names, text, line)
    if behind:
        read_head_line(sheet, replace(line, text=behind, columns=None))
    return True


_SIGN_BEFORE_WRITER = re.compile(r",\s+|\s{2,}|\t\s*|\s+[|/·•]\s+")


def _take_writer_behind(sheet: Sheet, text: str, line: Line) -> bool:
    """Takes the writer behind a dash, a comma or a gap below the title ("Waltz - words by Ida
    Marsh"), and reads what stands before it; names without such words only behind a dash and small
    letters."""
    bare = without_ornaments(uncommented(line.text)).strip()
    gaps = [*DASH.finditer(bare)] if "title" in sheet.top and "writer" not in sheet.top else []
    before, behind = (bare[: gaps[-1].start()], bare[gaps[-1].end() :]) if gaps else ("", "")
    names = writer_of(behind) or (behind if bare[:1].islower() and names_people(behind) else "")
    open_to_it = "title" in sheet.top and "writer" not in sheet.top and "(" not in bare
    signs = [*_SIGN_BEFORE_WRITER.finditer(bare)] if open_to_it and not names else []
    last = bare[signs[-1].end() :] if signs and signs[-1].start() else ""
    if writes(last) or (":" in last and writer_of(last)):
        before, names = bare[: signs[-1].start()], writer_of(last)
    if not names or not before.strip() or writer_of(bare):
        return False
    take_writer(sheet, names, text, line)
    read_head_line(sheet, replace(line, text=before, columns=None))
    return True


_LABEL_OF_FEEL = re.compile(
    r"\s*(?:feel|style|groove|vibe|tempo|stil|stile|estilo|ritmo|rythme)\s*:\s*(?=\S)",
    re.IGNORECASE,
)


def _take_feel_and_settings(sheet: Sheet, text: str, line: Line) -> bool:
    """Takes how the song goes behind the word that says so, with the settings beside it ("Feel:
    rock, 140 bpm", "Tempo: slow")."""
    label = _LABEL_OF_FEEL.match(text)
    head = head_facts(text[label.end() :]) if label is not None else None
    if label is None or head is None or not head.facts or not (head.manner or head.rest):
        return take_feel(sheet, labelled_feel(without_parentheses(text)), line)
    if "feel" not in sheet.top and not head.manner:
        sheet.top["feel"] = setting_text(", ".join(head.rest))
        head = replace(head, rest=())
    return take_head_facts(sheet, text[label.end() :], line, head)


def _take_named_settings(sheet: Sheet, text: str, line: Line) -> bool:
    named = named_settings(line.text)
    if not named or named.keys() & sheet.top.keys():
        return False
    sheet.top.update(named)
    return True


def _take_phrases(sheet: Sheet, text: str, line: Line) -> bool:
    """Takes settings among other words, if they are more than the line's separate parts give."""
    bare = without_ornaments(uncommented(line.text)).strip()
    if "title" not in sheet.top or facts_of(without_parentheses(bare)):
        return False
    phrases, plain = head_phrases(bare), head_facts(bare)
    said = sum(len(part.split()) for part in phrases.rest)
    names = {fact.name for fact in phrases.facts}
    otherwise = ({fact.name for fact in facts} for facts in (plain.facts, facts_and_rest(bare)[0]))
    if not all(names - known for known in otherwise) or (
        said > _MOST_WORDS_BESIDE and len(names) < FEWEST_FACTS
    ):
        return False
    return take_head_facts(sheet, bare, line, phrases)


_IN_PARENTHESES = re.compile(r"\(([^()]*)\)?")


def _take_facts(sheet: Sheet, text: str, line: Line) -> bool:
    """Takes a line of settings alone; what is said more than their values is kept as a note."""
    bare = uncommented(line.text).strip()
    facts = facts_of(without_parentheses(bare))
    for fact in facts:
        take_fact(sheet, fact.name, fact.value, line)
    behind = _IN_PARENTHESES.findall(bare.lstrip("("))
    all_settings = all(facts_of(inside) or key_of(inside) is not None for inside in behind)
    if facts and (not all_settings or any(fact.more for fact in facts)):
        sheet.notes.append(text)
    return bool(facts)


def _take_fact_with_more(sheet: Sheet, text: str, line: Line) -> bool:
    """Takes a setting by its name with other words behind it, which are kept as a note."""
    facts, rest = facts_and_rest(line.text) if names_a_fact(line.text) else ((), ())
    if facts and len(head_facts(line.text).facts) > len(facts):
        return take_head_facts(sheet, line.text, line)
    if len(facts) != 1:
        return False
    take_fact(sheet, facts[0].name, facts[0].value, line)
    said = ", ".join(rest)
    if not (take_head_facts(sheet, said, line) or take_feel(sheet, plain_feel(said), line)):
        sheet.notes.append(text)
    return True


def _take_margin(sheet: Sheet, text: str, line: Line) -> bool:
    """Takes settings at the right margin of a line, and what stands at its left."""
    before = _before_the_margin(line)
    if before is None:
        return False
    right = line.text[line.text.index(before) + len(before) :].strip()
    for fact in facts_and_rest(line.text)[0]:
        take_fact(sheet, fact.name, fact.value, line)
    take_head_facts(sheet, " ".join(right.split()), line, columns_of(right)[0])
    if "title" in sheet.top and "feel" not in sheet.top and says_style(before):
        sheet.top["feel"] = setting_text(before)
    elif len(before) <= _LONGEST_KEY and (key := key_of(without_parentheses(before))) is not None:
        take_fact(sheet, "key", key, line)
    else:
        read_head_line(sheet, replace(line, text=before))
    return True


def _take_line_of_mail(sheet: Sheet, text: str, line: Line) -> bool:
    letter = OF_A_MAIL.match(text)
    if letter is not None:
        _take_of_mail(sheet, letter[1].lower(), text[letter.end() :], line)
    return letter is not None


def _take_tempo_alone(sheet: Sheet, text: str, line: Line) -> bool:
    """Takes a number alone under the title that can only be the tempo."""
    match = _TEMPO_ALONE.fullmatch(text) if "title" in sheet.top else None
    beats = int(match["beats"]) if match is not None else 0
    if "tempo" in sheet.top or not _LOWEST_TEMPO <= beats <= _HIGHEST_TEMPO:
        return False
    take_fact(sheet, "tempo", beats, line)
    sheet.findings.guess("head-settings", f'"{text}" alone is read as the tempo', line.place())
    return True


def _take_shapes_or_note(sheet: Sheet, text: str, line: Line) -> bool:
    if legend_pairs(text):
        take_legend(sheet, line)
        return True
    if "title" in sheet.top and _NOT_WRITTEN_BY.match(text) and not head_facts(text).facts:
        take_note(sheet, line)
        return True
    of_a_page = is_of_a_web_page(line.text.strip())
    if is_for_the_players(text) or says_note(text) or is_of_a_show(text) or of_a_page:
        take_note(sheet, line)
        return True
    return False


def _take_said(sheet: Sheet, text: str, line: Line) -> bool:
    """Takes a sentence in a mail as a note, and leaves out the title said once more."""
    if sheet.subject is not None and is_addressed_to_reader(text):
        if take_settings_first(sheet, text, line):
            return True
        sheet.notes.append(text)
        return True
    return text.strip(QUOTES) == sheet.top.get("title")


def _take_show(sheet: Sheet, text: str, line: Line) -> bool:
    """Takes a line that says of which show the song is as a note."""
    if len(text) > LONGEST_OF_A_SHOW or OF_A_SHOW.fullmatch(text) is None:
        return False
    take_note(sheet, line)
    return True


def _take_list_of_chords(sheet: Sheet, text: str, line: Line) -> bool:
    """Takes a line that lists the chords of the song as a note, and the capo that it names."""
    if _LIST_OF_CHORDS.match(text) is None:
        return False
    for fact in facts_in_prose(text):
        if fact.name == "capo":
            take_fact(sheet, fact.name, fact.value, line)
    take_note(sheet, line)
    return True


_TAKERS: tuple[Callable[[Sheet, str, Line], bool], ...] = (
    _take_labelled_title,
    _take_list_of_chords,
    _take_show,
    _take_our_remark,
    _take_of_nobody,
    _take_writer_before,
    _take_writer_behind,
    _take_feel_and_settings,
    _take_named_settings,
    take_tuning,
    _take_tempo_alone,
    _take_phrases,
    _take_facts,
    _take_fact_with_more,
    _take_margin,
    take_mixed_line,
    _take_line_of_mail,
    _take_shapes_or_note,
    _take_said,
)
"""What a line of the head can be, in the order in which it is tried; each tells whether it took
the line."""


def _before_the_margin(line: Line) -> str | None:
    """What stands at the left of a line with facts by their names at its right margin; None for
    any other line."""
    if "  " not in line.text and "\t" not in line.text:
        return None
    for gap in (_AT_THE_MARGIN, AT_THE_LAST_MARGIN):
        left = gap.match(line.text)
        if left is None or facts_of(left["left"]):
            return None
        right = line.text[left.end() :]
        columns, count = columns_of(right)
        if count > 1 and len({fact.name for fact in columns.facts}) > 1:
            return left["left"]
        named = facts_of(right) and (names_a_fact(right) or _KEY_WORD.match(right))
        head = head_facts(right)
        plain = [fact.name for fact in head.facts] not in ([], ["key"])
        if named or (plain and not head.rest):
            return left["left"]
    return None


def _take_of_mail(sheet: Sheet, name: str, text: str, line: Line) -> None:
    """A line of a mail's own head: its subject may name the song, the rest is a note."""
    if name in _SUBJECTS and text.strip() and sheet.subject is None:
        sheet.subject = replace(line, text=text)
    else:
        sheet.notes.append(setting_text(line.text))
