"""Removes what programs print before every line: line numbers, or the time and the writer in a
chat.

Source of the forms: common practice, no source.
"""

import itertools
import re
from collections import Counter
from collections.abc import Sequence

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.head_words.head_labels import title_label, writer_of
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.raw_text.decode import Numbered
from chartkit.interchange.text.raw_text.mail import is_of_a_head
from chartkit.interchange.text.raw_text.song_lines import is_of_a_song
from chartkit.interchange.text.vocabulary.directions import (
    count_words,
    is_talk,
    names_player,
)
from chartkit.interchange.text.vocabulary.facts import (
    facts_and_rest,
    facts_of,
    named_settings,
    names_a_fact,
)
from chartkit.interchange.text.vocabulary.section_names import (
    is_known_name,
    may_name_a_section,
)
from chartkit.interchange.wording import counted, one_line

CHAT = "chat-stamps"
"""The code of the finding that a text was copied from a chat."""
_NUMBER = re.compile(r"\s{0,6}(\d{1,4})(?:[.:)|]?(?=\s)|$)")
_STAMP = re.compile(
    r"\s*(?:[\[(<]\s*)?(?:[^\W\d_]{2,10}[.,]{0,2}\s+){0,2}(?:\d{1,2}\.?\s+[^\W\d_]{3,9}\.?,?\s+)?"
    r"(?:\d{1,4}[./-]\d{1,2}[./-]?(?:\d{2,4})?,?\s+)?"
    r"\d{1,2}[:.]\d{2}(?:[:.]\d{2})?\s?(?:[AaPp]\.?[Mm]\.?)?\s*(?:[\])>]\s*)?(?:[-–]\s*)?"
    r"(?P<who>[^\W\d][^:|]{0,30}):(?:\s|$)"
)
_STAMP_BEHIND = re.compile(
    r"\s*(?:[\[(<]\s*)?(?P<who>[^\W\d_][\w.’'-]{0,20}(?:\s[^\W\d_][\w.’'-]{0,20})?)\s*"
    r"(?:[,@–—-]\s*|[\[(<]\s*|\s)(?:\d{1,2}[./-]\d{1,2}[./-]?(?:\d{2,4})?,?\s+)?"
    r"\d{1,2}[:.]\d{2}(?:[:.]\d{2})?\s?(?:[AaPp]\.?[Mm]\.?)?\s*(?:[\])>]\s*:?|:|[-–—]\s|$)\s*"
)
"""The writer before the time in a chat."""
_SPEAKER = re.compile(r"(?P<who>[^\W\d_][\w’'-]{1,15}):\s+(?=\S)")
"""The name before what somebody says in a chat without times."""
_TIME = re.compile(r"\s*\d{1,2}[:.]\d{2}(?:[:.]\d{2})?\s?(?:[AaPp]\.?[Mm]\.?)?\s*")
_WRITER = re.compile(r"[^\W\d_][\w.’'-]{0,20}(?:\s[^\W\d_][\w.’'-]{0,20})?")
"""A time alone on a line of a chat, and the name above it."""
_FEWEST_NAMED = 2
_CHORD = re.compile(
    r"\(?[A-H][#b♯♭]?(?:maj|min|dim|sus|add|aug|[mM°+]|\d){0,3}(?:/[A-H][#b]?)?[,.)]*"
)
_WORD = re.compile(r"[^\W\d_]{2,}")
_A_CHORD = re.compile(r"(?:[A-Ha-h]|Do|R[eé]|Mi|Fa|Sol|La|Si)[^\s.,;!?]{0,7}$")
_ASKED = re.compile(
    r"(?:(?:ok|oh|and|but|hm+|cool|nice|so|und|et|y)\W{1,3})*(?:(?:what|which|what['’]?s|wh?at is|"
    r"welche[rs]?|quel(?:le)?|qué|que|quale|welk)\s+)?(?:the\s+)?(?P<name>tempo|bpm|key|capo)\b"
    r"(?:\s+(?:is|are|do|did|again|for|we|you|it|this|play|in|on|then|though)){0,5}\s*\?*",
    re.IGNORECASE,
)
"""How somebody in a chat asks for a setting."""
_VALUES = {
    "tempo": re.compile(r"\b\d{2,3}\b"),
    "key": re.compile(r"\b[A-G][#b♯♭]?(?:m|\s?(?:min|maj)(?:or)?)?(?!\w)"),
    "capo": re.compile(r"\b\d{1,2}\b|\bno(?:ne)?\b"),
}
"""What an answer to it holds."""
_LONGEST_QUESTION = 60
_OF_A_CHAT = re.compile(
    r"(?:(?:ha){2,}h?|lol|oops|ups|ouch|jaja(?:ja)*|hihi|hehe|mdr|kkk+)\b.{0,60}|\*[^\W_][^*]{0,40}",
    re.IGNORECASE,
)
"""What somebody says in a chat between lines of a song: a laugh, or a word put right ("*in
clover")."""
_OF_THE_PROGRAM = re.compile(
    r"<[^<>]{3,60}>|\[[^\[\]]{0,20}(?:image|photo|video|audio|gif|sticker|bild|foto|vídeo)[^\[\]]{0,20}\]|"
    r".{0,20}(?:media|image|video|audio|photo|sticker) omitted|"
    r"(?:this|you(?:r)?|diese|dieses?) .{0,20}(?:deleted|gelöscht|eliminado|"
    r"supprimé).{0,20}|(?:missed|verpasster) .{0,30}(?:call|anruf)",
    re.IGNORECASE,
)
"""What the program of a chat writes for a picture, or of a message that is gone."""
_LONGEST_TALK = 100
_MOST_WORDS_OF_AN_ANSWER = 4
_FEWEST_WORDS, _FEWEST_ROWS = 4, 2
_FEWEST_SUNG = 3
_FEWEST = 6
_FEWEST_STAMPED = 3
_MOSTLY = 0.8
_MOST_LINES = 4_000
"""A longer text is a book, not a single sheet."""


def without_stamps(lines: Numbered, findings: Findings) -> Numbered:
    """The lines without what a program printed before each, which is reported."""
    if len(lines) > _MOST_LINES:
        return lines
    lines = _with_times_beside_names(lines)
    filled = [line for _, line in lines if line.strip()]
    if _are_numbered(filled) or _have_words_numbered(filled):
        findings.guess("line-numbers", "the figures before the lines number them: left out")
        return [(number, _without_number(line)) for number, line in lines]
    stamps = [stamp for line in filled if (stamp := _STAMP.match(line)) is not None]
    stamps = stamps or [stamp for line in filled if (stamp := _STAMP_BEHIND.match(line))]
    stamps = stamps or _speakers(filled)
    writers = [stamp["who"].strip() for stamp in stamps]
    first = bool(filled) and bool(stamps) and stamps[0].string == filled[0]
    fewest = _FEWEST_NAMED if stamps and stamps[0].re is _SPEAKER else _FEWEST_STAMPED
    if len(writers) < (fewest if first else max(_FEWEST_STAMPED, len(filled) / 2)):
        return lines
    findings.guess(
        CHAT,
        f"{counted(len(writers), 'line')} of a chat: their times and the names of the writers "
        f"({', '.join(dict.fromkeys(writers))}) are left out",
    )
    return _of_the_sender(lines, stamps[0].re, {*writers}, findings)


def _with_times_beside_names(lines: Numbered) -> Numbered:
    """The lines of a chat that has the name and the time of each message on two lines, both on
    one; any other lines as they are."""
    times = [at for at, (_, line) in enumerate(lines) if at and _TIME.fullmatch(line)]
    above = {at: lines[at - 1][1].strip() for at in times}
    names = Counter(who for who in above.values() if _WRITER.fullmatch(who))
    stamped = [at for at in times if above[at] in names]
    filled = next((at for at, (_, line) in enumerate(lines) if line.strip()), -1)
    if len(stamped) < _FEWEST_STAMPED or max(names.values()) < _FEWEST_NAMED:
        return lines
    if stamped[0] != filled + 1 or len(stamped) < len(times):
        return lines
    result = list(lines)
    for at in stamped:
        result[at - 1] = (lines[at - 1][0], "")
        result[at] = (lines[at][0], f"{lines[at][1].strip()} {above[at]}:")
    return result


def _speakers(lines: Sequence[str]) -> list[re.Match[str]]:
    """What somebody says behind his name in a chat without times: one of the names, which is no
    section's, stands before several names of sections; nothing for other texts."""
    said = [match for line in lines if (match := _SPEAKER.match(line)) is not None]
    said = [match for match in said if heading_of(match["who"]) is None]
    senders = Counter(match["who"] for match in said if _names_section(match))
    counts = Counter(match["who"] for match in said)
    if not senders or max(senders.values()) < _FEWEST_NAMED:
        return _speakers_above(lines)
    return [match for match in said if counts[match["who"]] >= _FEWEST_NAMED]


def _speakers_above(lines: Sequence[str]) -> list[re.Match[str]]:
    """What several people say to each other in the first lines, above the song; nothing where
    fewer than two names stand before them, or a word that leads to a setting does."""
    said: list[re.Match[str]] = []
    for line in lines:
        match = _SPEAKER.match(line)
        if match is None or _leads_elsewhere(match):
            break
        said.append(match)
    asked = any(match.string.rstrip().endswith("?") or is_talk(match.string) for match in said)
    names = {match["who"] for match in said}
    capitals = all(name[0].isupper() for name in names)
    fewest = _FEWEST_NAMED if capitals else _FEWEST_STAMPED
    return said if asked and len(names) >= _FEWEST_NAMED and len(said) >= fewest else []


def _leads_elsewhere(match: re.Match[str]) -> bool:
    """Whether the word before a colon is no speaker: it leads to a setting, a title or a writer, or
    names a section or a player."""
    who, line = match["who"], match.string.strip()
    label = title_label(line) > 0 or bool(writer_of(line)) or is_of_a_head(line)
    named = heading_of(who) is not None or names_player(who) or bool(named_settings(line))
    return label or named or bool(facts_of(line)) or names_a_fact(line)


def _names_section(match: re.Match[str]) -> bool:
    """Whether a section's name and nothing else stands behind a speaker's name."""
    heading = heading_of(match.string[match.end() :].strip())
    return heading is not None and heading.rest_at is None and is_known_name(heading.name)


def _of_the_sender(
    lines: Numbered, form: re.Pattern[str], writers: set[str], findings: Findings
) -> Numbered:
    """The lines without their stamps, and without what others said to whoever sent the song."""
    said: list[tuple[int, str, str]] = []
    who = ""
    for number, line in lines:
        stamp = form.match(line)
        stamp = stamp if stamp is not None and stamp["who"].strip() in writers else None
        who = stamp["who"].strip() if stamp is not None else who
        said.append((number, who, line[stamp.end() :] if stamp is not None else line))
    songs = Counter(who for _, who, line in said if _is_of_the_song(line))
    sender = max(songs, key=lambda one: songs[one], default="")
    if not sender:
        return [(number, line) for number, _, line in said]  # nobody is known to send the song
    kept: Numbered = []
    asked = talked = questioned = ""
    for at, (number, who, line) in enumerate(said):
        if who == sender and asked and (answer := _answer(asked, line)):
            findings.guess(
                "chat-answer", f'"{one_line(line)}" answers for the {asked}', f"{number}:1"
            )
            line = answer
        asked = _asked_for(line) if who != sender else asked * (not line.strip())
        other = who != sender and line.strip() and not _is_of_the_song(line)
        other = (
            other
            or _is_of_the_chat(line.strip())
            or (bool(talked) and _only_answers(line.strip()) and _stands_alone(said, at))
            or (_is_chord_of(questioned, line) and _ends_message(said, at))
        )
        if other:
            findings.leave_out("letter", f'said in the chat: "{one_line(line)}"', f"{number}:1")
        talked = line if other else ""
        questioned = line if other else questioned * (not line.strip())
        kept.append((number, "" if other else line))
    return kept


def _is_of_the_song(line: str) -> bool:
    """Whether what somebody says in a chat is a section's name, a row of chords, or a name with
    chords behind it ("verse E5 G5 A5", "verse is G C")."""
    if is_of_a_song(line):
        return True
    chords = [_CHORD.fullmatch(word) is not None for word in line.split()]
    in_a_row = any(map(all, itertools.pairwise(chords)))
    return in_a_row and may_name_a_section(line)  # "B like B or B like H" is talk


def _is_of_the_chat(line: str) -> bool:
    """Whether a line is a laugh, a word put right, or what the program says of a picture."""
    line = line[:_LONGEST_TALK]
    return _OF_A_CHAT.fullmatch(line) is not None or _OF_THE_PROGRAM.fullmatch(line) is not None


def _stands_alone(said: Sequence[tuple[int, str, str]], at: int) -> bool:
    """Whether no line of words by the same writer follows a line, as others of a verse would."""
    following = said[at + 1 : at + 2]
    return not following or following[0][1] != said[at][1] or _is_of_the_song(following[0][2])


def _is_chord_of(asked: str, line: str) -> bool:
    """Whether a line answers what was said in a chat by a chord of which that asked ("is that Bm or
    D/F#?")."""
    words = [word.strip(".,;!?") for word in asked.split()]
    chords = [word for word in words if _CHORD.fullmatch(word)]
    return 0 < len(chords) < len(words) and line.strip(" .!?") in chords


def _ends_message(said: Sequence[tuple[int, str, str]], at: int) -> bool:
    """Whether a line stands alone, or nothing more stands in its message."""
    below = said[at + 1 : at + 2]
    return _stands_alone(said, at) or not below[0][2].strip()


def _only_answers(line: str) -> bool:
    """Whether a line below what was only said in a chat is a word of answer to it ("np", "5:30"):
    it is short and says nothing of the song."""
    words = line.split()
    if not 0 < len(words) <= _MOST_WORDS_OF_AN_ANSWER or _is_of_the_song(line):
        return False
    return count_words(line).strong == 0 and not facts_and_rest(line)[0] and ":" not in line[-1:]


def _have_words_numbered(lines: Sequence[str]) -> bool:
    """Whether the lines of words are numbered through, as those of a poem are, and rows of chords
    and names between them are not."""
    matches = [_NUMBER.match(line) for line in lines]
    places = [at for at, one in enumerate(matches) if one is not None and _has_words(lines[at])]
    figures = [int(one[1]) for at in places if (one := matches[at]) is not None]
    if len(places) < _FEWEST or figures != [*range(1, len(places) + 1)]:
        return False
    others = [line for line in lines[places[0] : places[-1]] if _NUMBER.match(line) is None]
    words = sum(
        len(_WORD.findall(line)) > 1 and heading_of(line.strip()) is None for line in others
    )
    rows = sum(all(map(_A_CHORD.match, line.split())) for line in lines)
    return len(places) >= _MOSTLY * (len(places) + words) and rows >= _FEWEST_ROWS


def _has_words(line: str) -> bool:
    """Whether a line has as many words as one that is sung."""
    return len(_WORD.findall(line)) >= _FEWEST_WORDS


def _asked_for(line: str) -> str:
    """The setting that somebody asks for in a chat ("what tempo?"); empty for other lines."""
    match = _ASKED.fullmatch(line.strip()) if len(line) <= _LONGEST_QUESTION else None
    return match["name"].lower().replace("bpm", "tempo") if match is not None else ""


def _answer(name: str, line: str) -> str:
    """The setting of a name by the answer of the sender; empty where it gives none."""
    value = _VALUES[name].search(line) if len(line) <= _LONGEST_QUESTION else None
    return f"{name}: {value[0]}" if value is not None else ""


def _without_number(line: str) -> str:
    """A line with blanks for the number that begins it."""
    match = _NUMBER.match(line)
    return line if match is None else " " * match.end() + line[match.end() :]


def _are_numbered(lines: Sequence[str]) -> bool:
    """Whether mostly all lines begin with figures that count on by one, but for the head and for
    names of sections between them."""
    matches = [_NUMBER.match(line) for line in lines]
    places = [at for at, match in enumerate(matches) if match is not None]
    figures = [int(match[1]) for match in matches if match is not None]
    on = all(after - before == 1 for before, after in itertools.pairwise(figures))
    if not on or len(figures) < _FEWEST:
        return False
    song = range(places[0], places[-1] + 1)
    named = sum(matches[at] is None and heading_of(lines[at].strip()) is not None for at in song)
    sung = sum(_has_words(lines[at]) for at in places)
    within = len(places) + named == len(song) and figures[0] == 1 and sung >= _FEWEST_SUNG
    return within or len(figures) >= _MOSTLY * len(lines)
