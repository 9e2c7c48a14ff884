"""Reads the top of a chart: title, writers, key, meter, tempo, sung range, capo."""

import re
from collections.abc import Iterable
from contextlib import suppress
from itertools import islice
from xml.etree.ElementTree import Element

from chartkit.chart.model import (
    BEST_CAPO,
    SETTING_NAMES,
    GivenShape,
    SettingName,
    SettingRow,
    SettingValue,
)
from chartkit.interchange.capo_words import capo_in_words
from chartkit.interchange.intake_result import Findings, SymbolReader
from chartkit.interchange.musicxml.directions import typed_tempo
from chartkit.interchange.musicxml.page_writers import (
    WRITER_TYPES,
    arrangers_on_the_page,
    names_people,
    people_in,
    writers_on_the_page,
)
from chartkit.interchange.musicxml.xml import number, text_of
from chartkit.interchange.score.build import tempo_of
from chartkit.interchange.score.events import Part
from chartkit.interchange.score.timed import Timed
from chartkit.interchange.wording import NAMED_TEXTS, counted, one_line, setting_text
from chartkit.theory.capo import Capo
from chartkit.theory.pitch import PitchRange, parse_range
from chartkit.theory.shape_text import parse_shape

_LANGUAGE = "http://www.w3.org/XML/1998/namespace}lang"
"""The attribute as our parser names it."""
_MOST_CREATORS = 100
_WRITERS = (*WRITER_TYPES, "")
"""Types of a creator who writes the song; MusicXML 4.0 recommends composer, lyricist, arranger."""


def title_of(root: Element) -> str:
    """The work's title, the movement's, or the first large words of the page.  Of two titles that
    differ it is the one that the page prints, where it prints one of them; the name of a file is
    one only where there is no other."""
    titles = _titles(root)
    if len(titles) > 1:
        printed = {setting_text(_first_text(credit)) for credit in root.iterfind("credit")}
        titles.sort(key=lambda title: title not in printed)
    files = _titles_of_files(root)
    own = (title for title in titles if title not in files)
    return next(own, "") or _printed_title(root) or next(iter(titles), "")


def _printed_title(root: Element) -> str:
    """The text of the page that is its title: the one that says so, else the largest of the first
    ones; empty where there is none."""
    largest, size = "", -1.0
    for credit in root.iterfind("credit"):
        said, kind = setting_text(_first_text(credit)), text_of(credit, "credit-type")
        if not said or capo_in_words(said) or names_people(said):
            continue
        if kind == "title":
            return said
        words = credit.find("credit-words")
        own = float(number(None if words is None else words.get("font-size")))
        if not kind and own > size:
            largest, size = said, own
    return largest


def _first_text(credit: Element) -> str:
    """The first of the texts of a credit, with the runs in other type that go on with it."""
    text = ""
    for words in credit.iterfind("credit-words"):
        run = words.text or ""
        if text and not (text[-1:] == " " or run[:1] == " "):
            break
        text += run
    return text


_FILE = re.compile(
    r"(?P<folder>(?:file:/*)?(?:(?:[A-Za-z]:|~|\\)[\\/](?:.*[\\/])?|/[^\\/\s][^\\/]*[\\/](?:.*[\\/])?))?"
    r"(?P<name>[^\\/]*?[^\\/\s.])(?P<end>\.[A-Za-z][A-Za-z\d]{1,7})?"
)
"""The name of a file: its folder, and its ending behind a point, where it has them."""
_KNOWN_ENDINGS = (".mxl", ".xml", ".musicxml")
_NO_TITLES = ("title", "untitled", "untitled score", "no title", "new score", "score", "song title")
"""Titles that programs put in where there is none."""


def _titles(root: Element) -> list[str]:
    """The titles of the work and of the movement that are given, each once."""
    given = (setting_text(text_of(root, path)) for path in ("work/work-title", "movement-title"))
    if is_ours(root):
        return list(dict.fromkeys(filter(None, given)))
    titles = map(_without_folder, given)
    return list(dict.fromkeys(t for t in titles if t and t.lower() not in _NO_TITLES))


def _without_folder(title: str) -> str:
    """A title without the folder of a file and the ending of one: any ending behind a folder, else
    one that we know."""
    read = _FILE.fullmatch(title)
    is_file = read is not None and (read["folder"] or (read["end"] or "").lower() in _KNOWN_ENDINGS)
    return read["name"] if read is not None and is_file else title


def _titles_of_files(root: Element) -> list[str]:
    """Those of the titles that are names of files, and that no page prints: given with a folder,
    or with an ending in small letters."""
    if is_ours(root):
        return []
    given = (setting_text(text_of(root, path)) for path in ("work/work-title", "movement-title"))
    printed = [setting_text(_first_text(credit)) for credit in root.iterfind("credit")]
    read = ((one, _FILE.fullmatch(one)) for one in given)
    named = [
        one for one, file in read if file and (file["folder"] or (file["end"] or "").islower())
    ]
    return [title for one in named if (title := _without_folder(one)) not in printed]


def writers_of(root: Element) -> str:
    """The writers of the words and the music, each once; those that the page names, where the
    score says nothing else of who made it."""
    writers = [name for kind, name in creators(root) if kind in _WRITERS]
    return ", ".join(dict.fromkeys((*writers, *_writers_of_page(root))))


def creators(root: Element) -> list[tuple[str, str]]:
    """The type and the name of every creator, as the text of the name says it; in a score of our
    own as it stands."""
    given = [
        (one_line(creator.get("type")).lower(), creator.text or "")
        for creator in islice(root.iterfind("identification/creator"), _MOST_CREATORS)
    ]
    if is_ours(root):
        return [(kind, name) for kind, text in given if (name := setting_text(text))]
    return [person for kind, text in given for person in people_in(kind, text)]


def people_of(root: Element) -> tuple[str, ...]:
    """Everybody whose name the head of the chart gives."""
    named = (name for _, name in creators(root))
    return (*named, *_writers_of_page(root), *_arrangers_of_page(root))


def _writers_of_page(root: Element) -> tuple[str, ...]:
    """The writers that only the page names."""
    named = any(kind in _WRITERS for kind, _ in creators(root))
    return () if named else writers_on_the_page(root) or _writers_under_title(root)


def _writers_under_title(root: Element) -> tuple[str, ...]:
    """The names that the page prints under the title without a label, but for those of people who
    did something else."""
    from chartkit.interchange.musicxml.unlabelled_writers import names_under_title  # for few files

    others = {name for _, name in creators(root)} | set(arrangers_on_the_page(root))
    names = () if is_ours(root) else names_under_title(root, title_of(root))
    return tuple(name for name in names if name not in others)


def _arrangers_of_page(root: Element) -> tuple[str, ...]:
    """Those who arranged the song, where only the page names any."""
    named = any(kind not in _WRITERS for kind, _ in creators(root))
    return () if named else arrangers_on_the_page(root)


def report_creators(root: Element, findings: Findings) -> None:
    """Reports who is taken for a writer and in which role; others are kept as notes."""
    more = len(root.findall("identification/creator")) - _MOST_CREATORS
    if more > 0:
        findings.leave_out("many-creators", f"{counted(more, 'creator')} more than are read")
    for kind, name in creators(root):
        if kind in _WRITERS:
            findings.sure("writer", f"{name[:60]} is a writer ({kind or 'of no named kind'})")
        else:
            findings.guess("kept-as-note", f"{name[:60]} ({kind[:30]}) is kept as a note")
    why = "the page says so" if writers_on_the_page(root) else "the name stands under the title"
    for name in _writers_of_page(root):
        findings.guess("writer-on-the-page", f"{name[:60]} is a writer: {why}")
    for name in _arrangers_of_page(root):
        findings.guess("kept-as-note", f"{name[:60]} (arranger) is kept as a note")


def top_rows(
    root: Element,
    first: Timed,
    melody: Part,
    capo: int | Capo,
    units: int,
    read_symbol: SymbolReader,
    findings: Findings,
) -> tuple[SettingRow, ...]:
    """The settings; ``first`` is the first full measure, ``melody`` the part that is sung."""
    report_creators(root, findings)
    title = title_of(root)
    if title in _titles_of_files(root):
        findings.guess("title-of-file", f'the title "{title[:60]}" is the name of a file')
    for other in _titles(root):
        if other != title:
            findings.leave_out("second-title", f'a second title, "{other[:60]}"')
    measure = first.measure
    if measure.tempo is None and not is_ours(root):
        measure = measure._replace(tempo=_tempo_on_the_page(root, findings))
    tempo = None if measure.tempo is None else tempo_of(measure.tempo, first, units)
    carried = carried_settings(root)
    values: dict[SettingName, SettingValue | None] = {
        "title": title or None,
        "writer": writers_of(root) or None,
        "key": measure.key,
        "meter": measure.meter,
        "tempo": tempo,
        "range": carried.get("range") or _sung_range(melody, findings),
        "capo": capo or carried.get("capo"),
        "language": _language(root),
        **{name: carried.get(name) for name in NAMED_TEXTS},
    }
    values["feel"] = setting_text(measure.feel) or values["feel"]
    if measure.tempo is not None and tempo is None:
        findings.leave_out("tempo-out-of-reach", f"a tempo of {measure.tempo:g}")
    rows = [SettingRow(n, v) for n in SETTING_NAMES if (v := values.get(n)) is not None]
    return (*rows, *_notes(root), *_shapes(root, read_symbol))


def _tempo_on_the_page(root: Element, findings: Findings) -> float | None:
    """The tempo that a text on the page gives, in quarter notes a minute; None where none does."""
    for words in root.iterfind("credit/credit-words"):
        said = one_line(words.text)
        if (tempo := typed_tempo(said)) is not None:
            findings.guess("tempo-on-the-page", f'the tempo is that of the text "{said[:40]}"')
            return tempo
    return None


def carried_settings(root: Element) -> dict[str, SettingValue]:
    """The settings that our own writer put into miscellaneous fields, as far as they make
    sense: named texts, the range and the capo that is to be chosen."""
    settings: dict[str, SettingValue] = {}
    for name, text in _fields(root):
        if name in NAMED_TEXTS and text:
            settings[name] = text
        elif name == "capo" and text == BEST_CAPO:
            settings[name] = BEST_CAPO
        elif name == "range":
            with suppress(ValueError):
                settings[name] = parse_range(text)
    return settings


def is_ours(root: Element) -> bool:
    """Whether our own writer made the score: then everything is meant as it is written."""
    software = root.iterfind("identification/encoding/software")
    return any(one_line(element.text) == "chartkit" for element in software)


def _fields(root: Element) -> list[tuple[str, str]]:
    if not is_ours(root):
        return []
    fields = root.iterfind("identification/miscellaneous/miscellaneous-field")
    return [(field.get("name", ""), setting_text(field.text or "")) for field in fields]


def _notes(root: Element) -> list[SettingRow]:
    carried = [text for name, text in _fields(root) if name == "note" and text]
    helpers = [f"{kind}: {name}" for kind, name in creators(root) if kind not in _WRITERS]
    helpers += [f"arranger: {name}" for name in _arrangers_of_page(root)]
    return [SettingRow("note", text) for text in (*helpers, *carried)]


def _shapes(root: Element, read_symbol: SymbolReader) -> list[SettingRow]:
    shapes = []
    for name, text in _fields(root):
        symbol, _, frets = text.partition(" ")
        chord = read_symbol(symbol) if name == "shape" else None
        if chord is not None:
            with suppress(ValueError):
                shapes.append(SettingRow("shape", GivenShape(chord, parse_shape(frets))))
    return shapes


def _language(root: Element) -> str | None:
    element = root.find("defaults/lyric-language")
    tag = "" if element is None else element.get(_LANGUAGE, "")
    return tag if re.fullmatch(r"[A-Za-z]{2,3}(-[A-Za-z0-9]{2,8})*", tag) else None


def _sung_range(part: Part, findings: Findings) -> PitchRange | None:
    low, high = part.melody.lowest, part.melody.highest
    if low is None or high is None:
        return None
    sung = PitchRange(low, high)
    if not part.melody.sung and low == high:
        return None
    if part.melody.sung:
        findings.sure("range", f"the sung range is {sung}, from the notes that have words")
    else:
        findings.guess("range", f"nothing is sung: the range {sung} is that of all notes")
    return sung


def names_no_mode(every: Iterable[Element]) -> bool:
    """Whether a score has key signatures and none of them names its mode, by ``every`` element of
    attributes in it."""
    keys = [key for attributes in every for key in attributes.findall("key")]
    return bool(keys) and not any(text_of(key, "mode") for key in keys)
