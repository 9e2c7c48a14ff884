"""Reads lines of a head that are the title or the writer, and the rest of those lines."""

import re

from chartkit.interchange.text.building.chart_builder import Sheet
from chartkit.interchange.text.building.song_settings import (
    take_fact,
    take_feel,
    take_head_facts,
    take_tuning,
    take_writer,
    without_small_talk,
)
from chartkit.interchange.text.head_words.before_titles import (
    dance_before,
    place_before,
    without_dance,
)
from chartkit.interchange.text.head_words.beside_titles import (
    bare_title,
    is_about_tonight,
    is_remark_behind,
    key_said_first,
    key_with_its_mode,
    settings_behind,
    without_occasion,
)
from chartkit.interchange.text.head_words.head_facts import HeadFacts, head_facts
from chartkit.interchange.text.head_words.head_labels import of_nobody, writer_of
from chartkit.interchange.text.head_words.prose_facts import facts_in_prose
from chartkit.interchange.text.head_words.said_titles import said_writer
from chartkit.interchange.text.head_words.settings_at_end import (
    key_before,
)
from chartkit.interchange.text.head_words.titles import (
    DASH,
    IN_BRACKETS_BEHIND,
    NUMBER_BEFORE,
    OF_A_COPY,
    QUOTES,
    SMALL_WORD,
    title_of,
)
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.song_head.behind_titles import (
    QUOTED,
    is_a_person,
    key_behind,
    surnames,
    take_tail,
)
from chartkit.interchange.text.song_head.sung_titles import (
    is_a_band,
    is_sung_below,
)
from chartkit.interchange.text.song_head.title_settings import (
    without_band_before,
    without_settings,
)
from chartkit.interchange.text.vocabulary.farewells import ANSWER
from chartkit.interchange.text.vocabulary.feel_words import plain_feel
from chartkit.interchange.text.vocabulary.key_words import key_of
from chartkit.interchange.text.vocabulary.manners import says_feel
from chartkit.interchange.text.vocabulary.writer_names import (
    names_and_remark,
    undated,
)
from chartkit.interchange.wording import setting_text
from chartkit.theory.note import pitch_class_of

_VERSION = re.compile(
    r"(?P<title>.*\S)\s+[-–—]\s+(?P<said>[^-–—]*\b(?:version|demo|live|arrangement|arr\.|draft|fassung)\b.*)",
    re.IGNORECASE,
)
_PRESENTS = re.compile(
    r"\b(?:this is|here(?:['’]s| is)|it['’]?s|called|new one|das ist|hier ist|heißt|voici|c['’]est|"
    r"s['’]appelle|on (?:rajoute|ajoute|joue)|est[ae] es|se llama|esta é|chama-se|questa è|"
    r"si chiama|dit is|heet|det(?:ta| här) är|heter|dette er|hedder)\b",
    re.IGNORECASE,
)
_BY_SOMEBODY = re.compile(
    r"(?P<title>.{2,60}[^\s,;–—-])(?:(?:\s*[,;]\s*|\s+[-–—]+\s+)(?:by|von|par|por|de|di|door|van|av|af)|"
    r"\s+by)\s+(?P<who>[^\W\d_a-z][^()\d]{3,40}?)(?:,?\s*\(?(?:19|20)\d\d\)?)?"
)
"""Who wrote the song, behind its title and a comma, a dash, or "by" alone."""
_NAME_AND_INITIAL = re.compile(r"[^\W\d_a-z][^\W\d_]{2,}\s[^\W\d_a-z]\.?")
_A_PLACE = re.compile(r"By (?:the|a) \w+")
_PARTICLES = re.compile(r"(?:(?:van|von|de|der|den|di|da|del|la|le|du|ter|zu|af|av)\s)+(?=[A-Z])")
"""Small words before a surname."""
_STROKE = re.compile(r"\s+[/|]\s+")


def take_title(sheet: Sheet, text: str, line: Line) -> None:
    """Takes a line as the title: without a number before it, and without the settings and the
    writer behind it."""
    whole = text
    text = without_settings(sheet, _without_places(sheet, text, line), line)
    text = _take_around_quotes(sheet, bare_title(take_tail(sheet, bare_title(text), line)), line)
    number = NUMBER_BEFORE.match(text)
    bare = text[number.end() :] if number is not None else text
    bare = _without_brackets_behind(sheet, _without_key_last(sheet, bare, line), line)
    if (said := _VERSION.fullmatch(bare)) is not None:
        sheet.notes.append(setting_text(said["said"]))
        bare = said["title"]
    bare = without_band_before(sheet, bare, line)
    by = IN_BRACKETS_BEHIND.fullmatch(bare)
    by = None if by is not None and is_sung_below(sheet, by["inside"]) else by
    place = by is not None and _A_PLACE.fullmatch(by["inside"]) is not None  # "(By the River)"
    if by is not None and "writer" not in sheet.top and not place and writer_of(by["inside"]):
        take_writer(sheet, writer_of(by["inside"]), text, line)
        bare, by = by["title"], None
    if by is not None and "writer" not in sheet.top and (names := surnames(f"({by['inside']})")):
        take_writer(sheet, names, text, line)
        bare, by = by["title"], None
    person = undated(by["inside"]) if by is not None else ""
    if by is not None and is_a_person(person) and "writer" not in sheet.top:
        take_writer(sheet, by["inside"], text, line)
        bare = by["title"]
    named = _BY_SOMEBODY.fullmatch(bare)
    if named is not None and _could_have_written(named["who"]) and "writer" not in sheet.top:
        take_writer(sheet, named["who"], text, line)
        bare = _without_brackets_behind(sheet, named["title"], line)
    parts = _parted_title(sheet, bare, line)
    title = key_behind(sheet, _without_quotes(title_of(parts[0])) or bare, line)
    sheet.top["title"] = title
    _take_behind_dash(sheet, parts[1] if len(parts) > 1 else "", line)
    of = "" if title == whole else f', of "{whole}"'
    sheet.findings.guess("title", f'the title is "{title}"{of}', line.place())


def _without_key_last(sheet: Sheet, text: str, line: Line) -> str:
    """A title with brackets behind it, without the settings behind a dash after these ("Mill Pond
    (Ina Quill) - Bb")."""
    gaps = [*DASH.finditer(text)]
    before = text[: gaps[-1].start()].rstrip() if gaps else ""
    said = text[gaps[-1].end() :] if before.endswith((")", "]")) else ""
    taken = bool(said) and (
        take_head_facts(sheet, said, line) or _take_key_first(sheet, said, line)
    )
    return before if taken else text


def _parted_title(sheet: Sheet, text: str, line: Line) -> list[str]:
    """A title and what stands behind a dash, or behind a stroke where that is a person or a copy;
    a key behind a colon is taken."""
    parts = DASH.split(text, maxsplit=1)
    if len(parts) > 1 and is_sung_below(sheet, parts[1]):
        return [text]
    stroked = _STROKE.split(text, maxsplit=1)
    if len(parts) == 1 and (is_a_person(stroked[-1]) or OF_A_COPY.fullmatch(stroked[-1])):
        return stroked
    named, colon, said = text.partition(": ")
    keyed = len(parts) == 1 and bool(colon) and _KEY_FIRST.fullmatch(said) is not None
    return [named] if keyed and _take_key_first(sheet, said, line) else parts


_NUMBERED = re.compile(r"\s*#\d{1,3}[.:)]?\s+(?=\S)")


def _without_places(sheet: Sheet, text: str, line: Line) -> str:
    """A title without its place in a show or a book, its number behind "#" and the dance before
    it, which says how it goes."""
    text = text[place_before(text) :]
    if _NUMBERED.match(line.text) is not None:
        text = text.lstrip("#0123456789.:) -–—") or text
    if dance := dance_before(text):
        sheet.top.setdefault("feel", setting_text(dance))
    return without_dance(text)


def _without_quotes(title: str) -> str:
    """A title without the quotes around it; those around a part of it stay."""
    bare = title.strip(QUOTES)
    return title if title[:1] not in QUOTES and any(one in QUOTES for one in bare) else bare


def _without_brackets_behind(sheet: Sheet, title: str, line: Line) -> str:
    """A title without what stands in brackets behind it and is no part of it, which is taken."""
    while (behind := IN_BRACKETS_BEHIND.fullmatch(title)) is not None:
        if not _take_in_brackets(sheet, behind["title"], behind["inside"], line):
            break
        title = behind["title"]
    return title


def _take_in_brackets(sheet: Sheet, title: str, inside: str, line: Line) -> bool:
    """Takes settings and remarks in brackets behind a title; whether they are no part of it."""
    if take_head_facts(sheet, inside, line):
        return True
    if "writer" not in sheet.top and of_nobody(inside):
        sheet.top["writer"] = setting_text(inside)
        return True
    first = key_said_first(inside)
    if (key := key_with_its_mode(inside)) is not None:
        take_fact(sheet, key[0].name, key[0].value, line)
        sheet.notes += filter(None, [key[1]])
    elif first is not None and sheet.first_root == pitch_class_of(first[0].tonic):
        take_fact(sheet, "key", first[0], line)
        sheet.notes.append(first[1])
    elif take_feel(sheet, plain_feel(inside), line):
        return True
    elif is_about_tonight(inside) or (is_remark_behind(title, inside) and not writer_of(inside)):
        sheet.notes.append(setting_text(inside))
    else:
        return False
    return True


def _take_behind_dash(sheet: Sheet, said: str, line: Line) -> None:
    """Takes what stands behind a dash after the title: settings, the writer, or, in small letters
    behind a title with capitals, a note."""
    if not said or take_head_facts(sheet, said, line):
        return
    if take_tuning(sheet, said, line) or _take_key_first(sheet, said, line):
        return
    if says_feel(said):
        sheet.top.setdefault("feel", setting_text(said))
        return
    title, writer = sheet.top["title"], writer_of(said)
    named = writer or names_and_remark(said)[0]
    cased = not str(title).islower()
    plain = _PARTICLES.sub("", said.replace(" the ", " "))
    sentence = plain[:1].islower() or SMALL_WORD.search(plain) is not None
    if not named and ((cased and sentence) or OF_A_COPY.fullmatch(said) is not None):
        sheet.notes.append(setting_text(said))
    elif "writer" not in sheet.top:
        take_writer(sheet, writer or said, said, line)


_KEY_FIRST = re.compile(
    r"(?P<key>[A-H][#b♯♭]?(?:m|min|maj|[ -](?:minor|major|min|maj|moll|dur))?)"
    r"(?:(?:\s*[,;/]\s*|\s+[-–—]+\s+)(?P<more>.+))?",
    re.IGNORECASE,
)


def _take_key_first(sheet: Sheet, said: str, line: Line) -> bool:
    """Takes a key alone behind the dash after a title, and how the song goes behind a comma ("Ab,
    easy swing"): the root of the first chord, or a key that more follows."""
    match = _KEY_FIRST.fullmatch(said)
    name = match["key"] if match is not None else ""
    key = key_of(f"{name[:1].upper()}{name[1:]}")
    if match is None or key is None or "key" in sheet.top:
        return False
    if sheet.first_root != pitch_class_of(key.tonic) and not match["more"]:
        return False
    take_fact(sheet, "key", key, line)
    sheet.findings.guess("head-settings", f'"{match["key"]}" is read as the key', line.place())
    if match["more"] and not take_feel(sheet, plain_feel(match["more"]), line):
        sheet.notes.append(setting_text(match["more"]))
    return True


def _could_have_written(who: str) -> bool:
    """Whether what stands behind "by" is a band or a person, also by a first name and an
    initial."""
    return is_a_person(who) or is_a_band(who) or _NAME_AND_INITIAL.fullmatch(who) is not None


def _take_around_quotes(sheet: Sheet, text: str, line: Line) -> str:
    """The title in quotes at one end of a line, or in what is said to the band; what stands
    around it is kept as a note, and its settings are taken."""
    quoted = QUOTED.search(text)
    around = f"{text[: quoted.start()]} {text[quoted.end() :]}".strip() if quoted else ""
    if quoted and _IN_PARENTHESES.search(text) is not None:
        around, text = around.replace("( )", "").strip(), text.replace("(", "").replace(")", "")
        quoted = QUOTED.search(text)
    if quoted and take_feel(sheet, _kind_of_song(around), line):
        return quoted[1]
    if quoted and _take_key_and_writer(sheet, around, line):
        return quoted[1]
    if quoted and (writer := said_writer(around)):
        sheet.top.setdefault("writer", writer)
    if quoted is None or not any(map(str.isalpha, around)) or DASH.match(f" {around}"):
        return text
    inside = (
        _PERSON_BEHIND.match(text, quoted.end()) if not text[: quoted.start()].strip() else None
    )
    if inside is not None and is_a_person(undated(inside["who"])):
        return f"{quoted[1]} {text[quoted.end() :].strip()}"
    within = quoted.start() > 0 and quoted.end() < len(text)
    settings = settings_behind(text[quoted.end() :]).facts
    settings = settings or head_facts(text[quoted.end() :]).facts
    if within and not settings and not _PRESENTS.search(around):
        return text
    if by := writer_of(around):
        sheet.top.setdefault("writer", by)
        return quoted[1]
    if is_a_person(around.strip(" -–—()/|")):
        return text
    run = settings_behind(text[quoted.end() :])
    if run.facts:
        _take_run(sheet, text[: quoted.start()], run, line)
    elif not take_head_facts(sheet, around.strip(" -–—,.!"), line):
        for fact in facts_in_prose(around):
            take_fact(sheet, fact.name, fact.value, line)
        sheet.notes += map(setting_text, without_small_talk(sheet, [around], line))
    return quoted[1]


def _take_key_and_writer(sheet: Sheet, around: str, line: Line) -> bool:
    """Takes a key in brackets and the writer behind it, where nothing else stands beside a title in
    quotes; whether they do."""
    keyed = key_before(around, sheet.first_root)
    if keyed is None or "writer" in sheet.top or not is_a_person(undated(keyed[1])):
        return False
    take_fact(sheet, "key", keyed[0], line)
    take_writer(sheet, undated(keyed[1]), line.text, line)
    return True


_PERSON_BEHIND = re.compile(r"\s*\((?P<who>[^()]{3,40})\)")
_IN_PARENTHESES = re.compile(r"\(\s*[\"“„«][^\"”“„«»()]{2,60}[\"”“»]\s*\)")
_NAMES_NOTHING = re.compile(
    r"\b(?:the|a|an|my|our|that|this|new|old|little|one|thing|song|tune|number)\b", re.IGNORECASE
)


def _kind_of_song(around: str) -> str:
    """How a song goes by the words in small letters beside its title ("ska thing"); empty where
    they say something else."""
    plain = " ".join(_NAMES_NOTHING.sub(" ", around).strip(" ,.:–—-").split())
    return plain if plain and around[:1].islower() and says_feel(plain) else ""


def _take_run(sheet: Sheet, before: str, run: HeadFacts, line: Line) -> None:
    """Takes the settings that stand right behind a title in quotes; what led to the title is no
    note, what is said behind the settings is."""
    for fact in run.facts:
        take_fact(sheet, fact.name, fact.value, line)
        sheet.findings.guess(
            "head-settings", f'the {fact.name} is read out of "{line.text.strip()}"', line.place()
        )
    if run.manner and "feel" not in sheet.top:
        sheet.top["feel"] = setting_text(", ".join(run.manner))
    parts = [before.strip(" ,:–—-"), *(said.strip(" ,:–—-") for said in run.rest)]
    if _PRESENTS.search(parts[0]) and not head_facts(parts[0]).facts:
        sheet.findings.leave_out(
            "small-talk", f'"{parts[0]}" only leads to the title: it is no note', line.place()
        )
        del parts[0]
    for part in filter(None, parts):
        if not take_head_facts(sheet, part, line):
            sheet.notes += map(setting_text, without_small_talk(sheet, [part], line))


def without_title(sheet: Sheet, text: str) -> str:
    """What stands behind the song's title where a line says it once more; else the line."""
    parts = DASH.split(text, maxsplit=1)
    again = len(parts) > 1 and parts[0].strip(QUOTES) == sheet.top.get("title")
    return parts[1] if again and parts[1] else text


def settle_title(sheet: Sheet) -> None:
    """Takes the subject of a mail as the title where the text in it has none; else it is left
    out."""
    subject = sheet.subject
    text = without_occasion(ANSWER.sub("", subject.text)).strip() if subject is not None else ""
    if subject is None or not text or text.strip(QUOTES) == sheet.top.get("title"):
        return
    if "title" not in sheet.top:
        take_title(sheet, text, subject)
    else:
        sheet.findings.leave_out(
            "mail-subject", f'the subject of the email: "{text}"', subject.place()
        )
