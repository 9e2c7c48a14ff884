"""Names of sections that refer to another one: played again, like it, or with its chords.

Source of the forms: common practice, no source.
"""

import re

from chartkit.chart.section_words import SUNG_KINDS
from chartkit.interchange.text.kinds.line_kinds import (
    KnownLine,
    Remark,
    SectionStart,
)
from chartkit.interchange.text.kinds.sheet_lines import (
    LONGEST,
    SheetLines,
)
from chartkit.interchange.text.quick_looks import BeginsWithWord, words_in
from chartkit.interchange.text.song_form.steps import KnownNames
from chartkit.interchange.text.vocabulary.facts import names_a_fact
from chartkit.interchange.text.vocabulary.form_words import (
    AS_BEFORE,
    OVER_OR_LIKE,
    WORDS_FOR_CHORDS,
    section_meant,
)
from chartkit.interchange.text.vocabulary.reference_lines import is_about_the_song
from chartkit.interchange.text.vocabulary.references import (
    name_and_other,
    place_and_name,
    says_whose,
    section_named_in,
)
from chartkit.interchange.text.vocabulary.section_names import (
    is_known_name,
    is_short_name,
    section_key,
)
from chartkit.interchange.text.vocabulary.times_played import (
    ANY_TIMES,
    ONCE_MORE,
    UNTIL,
    count_among,
    times_of,
)

_AFTER = BeginsWithWord(
    r"after\s+(?:the\s+)?[^,.]{1,20}?,?\s+(?:then\s+)?(?:play|repeat|go back to|back to|do)\s+"
    r"(?:the\s+)?"
    r"(?P<name>[^\W\d_][^,.]{0,20}?)(?:\s+(?:again|once more))?"
    r"(?:,?\s+(?:and\s+|then\s+)*(?:(?:go\s+)?(?:on\s+)?to|into|jump to)\s+"
    r"(?:the\s+)?[^,.]{1,20})?\.?",
)
_EQUAL = re.compile(
    r"(?P<name>(?:\d(?:st|nd|rd|th)\s)?[^\W\d_][^\W_]*(?:[ -][^\W_]+){0,3})\s*=\s*"
    r"(?P<other>[^\W_][^=:|]{0,25})"
)
_NAME_AND_LIKE = re.compile(
    r"(?P<name>[^\W\d_][^\W\d_]*(?:[ -][^\W\d_]+){0,2})\s*(?:[(\[](?P<said>[^()\[\]]{4,60})[)\]]|"
    rf"(?:\s*[:=–—]\s*|\s+-+\s+|,\s+(?=(?:[^\W\d_]+\s)?(?:{WORDS_FOR_CHORDS})\b))"
    r"(?P<behind>.{4,60}))[.]?"
)
_BEHIND_A_NAME = frozenset("([:=–—,-")
"""One of these stands wherever ``_NAME_AND_LIKE`` fits."""
_FOR_ANOTHER = BeginsWithWord(
    r"(?:play|use|take|do)\s+(?:the\s+)?(?P<other>[^\W\d_][^,.]{1,16}?)\s+(?:chords|changes)\s+"
    r"(?:for|in|under|as|over)\s+(?:the\s+)?(?P<name>[^\W\d_][^,.]{1,20}?)\.?",
)
_SAME_AS = re.compile(
    r"(?P<name>[^,.:()]{3,20}?)\s+(?:is\s+|goes\s+|has\s+)?(?:the\s+)?(?:chords\s+)?(?:same\s+)?"
    r"(?:as|like)\s+(?:the\s+)?(?P<other>[^\W_][^,.:()]{1,16}?)\.?",
    re.IGNORECASE,
)
_WORDS_TO_COMPARE = frozenset({"as", "like"})
"""One of these stands between blanks wherever ``_SAME_AS`` fits."""
_NUMBER_LIKE = re.compile(
    r"(?P<name>\d{1,2}|[IVX]{1,4})[.):]*\s+(?:again|nochmals?|encore|igen|"
    r"(?:(?:chords\s+)?(?:same\s+)?(?:as|like)|wie|comme|como|come|als|som)\s+(?P<other>\d{1,2}|[IVX]{1,4})"
    r"[.):]*)",
)
_LONGEST_NUMBERED = 40
_FIRST = frozenset(["first", "1st", "one", "the first", "no 1"])
_MOST_WORDS_THAT_REFER = 8
_MOST_LINES_ABOVE = 300
_FEW_WORDS, _MOST_WORDS_SAID = 3, 6
_DASH = re.compile(r"\s+[-–—]+\s+")
_PLAYED_OVER = frozenset({"solo", "instrumental", "break"})
COUNT_BEHIND = re.compile(rf"(?<!\s)\s*[(\[]?\s?{ANY_TIMES}\s?[)\]]?\s*$", re.IGNORECASE)
_AGAIN = re.compile(ONCE_MORE, re.IGNORECASE)
_AGAIN_AND_MORE = re.compile(rf"\s+{ONCE_MORE}(?=\s*[,;:(–—-])", re.IGNORECASE)
_UNTIL = re.compile(rf"\s+(?P<said>{UNTIL}.{{2,60}})", re.IGNORECASE)
_MORE_BEHIND = re.compile(
    rf"\s*[(\[]?(?P<times>{ANY_TIMES})?[)\]]?(?:\s*[,;:(–—-]\s*(?P<said>[^|]*[^\W\d_][^|]*|.{{2,40}}))?",
    re.IGNORECASE,
)
"""A count behind an earlier name, and what is said behind that."""


_PLAYED_ALONE = BeginsWithWord(
    r"(?:(?:now|then|and|we|just|jetzt|dann|puis|luego|poi)\s+)*"
    r"(?:play|strum|pick|whistle|hum|jam|vamp|noodle|do|run|go|spielen|jouer|tocar|suonare|spela)\s+"
    r"(?:(?:on|over|through|round|around)\s+)?(?:(?:the|a|an|another|one|die|eine|le|la|un|una|el)\s+)?"
    r"(?P<name>[^\W\d_][\w ]{1,16}?)(?:\s+(?:chords|changes))?"
    r"(?P<said>\s*[,;:(–—-].{2,50}|\s+(?:once|twice|three|through|again|alone|without|with|on|in|x\s?\d|"
    r"\d\s?x)\b.{0,50})?[.!]?",
)
"""How a line alone asks for a section that the band plays."""
_WITHOUT_WORDS = re.compile(
    r"\b(?:whistl\w+|hum\w*|instrumental\w*|no (?:singing|vocals?|words)|without (?:singing|words)|"
    r"kazoos?|solo|band|ohne gesang|sans chant|sin voz|senza voce)\b",
    re.IGNORECASE,
)


class NamesByReference:
    """Reads lines that name a section by an earlier one; keeps some of their names."""

    def __init__(self, sheet: SheetLines, known: list[KnownLine], names: KnownNames) -> None:
        self.sheet, self.known, self.names = sheet, known, names
        self._above: tuple[int, list[str]] = 0, []

    def _learned(self, start: SectionStart) -> SectionStart:
        """The start of a section, whose name later lines may use."""
        self.names.add(start.name)
        return start

    def _equal_to_another(self, at: int, text: str) -> SectionStart | None:
        """A section of any name that has the music of an earlier one ("Dance break = refrain")."""
        match = _EQUAL.fullmatch(text) if "=" in text and len(text) <= LONGEST else None
        if match is None or self.sheet.is_chords(match["name"]):
            return None
        other = match["other"].strip()
        known = section_key(other)[0] in self.names.kinds and self.sheet.names.is_full(other)
        if not known:
            return None
        return self._learned(SectionStart(match["name"], like=other, guessed=True))

    def _played_after(self, at: int, text: str) -> SectionStart | None:
        """An earlier section that a sentence asks for again ("After B play A again and go to the
        coda")."""
        match = _AFTER.fullmatch(text) if len(text) <= LONGEST else None
        name = match["name"].strip() if match is not None else ""
        known = name in self.names.letters or section_key(name) in self.names.keys
        return SectionStart(name, remarks=(text,), guessed=True) if name and known else None

    def _played_alone(self, at: int, text: str) -> SectionStart | None:
        """An earlier section that a line alone asks the band to play ("Play verse once through,
        whistle if you can"); a verse has its music then and no words.  None for others."""
        if not (self.sheet.is_empty(at - 1) and self.sheet.is_empty(at + 1)):
            return None
        match = _PLAYED_ALONE.fullmatch(text) if len(text) <= LONGEST else None
        name = match["name"].strip() if match is not None else ""
        kind = section_key(name)[0]
        if match is None or not self.sheet.names.is_full(name) or kind not in self.names.kinds:
            return None
        said = (match["said"] or "").strip(" ,;:()–—-")
        played = kind == "verse" or _WITHOUT_WORDS.search(text) is not None
        times = max(1, count_among(said)[0] or times_of(said))
        return SectionStart(name, times, name * played, (said,) if said else (), guessed=True)

    def _like_another(self, at: int, text: str) -> SectionStart | None:
        """A section of any name that has the music of one above ("Fiddle: as the verse", "Dance
        break (chords of the chorus)"), alone with nothing under it; None for any other line."""
        signed = len(text) <= LONGEST and not _BEHIND_A_NAME.isdisjoint(text)
        match = _NAME_AND_LIKE.fullmatch(text) if signed else None
        if match is None or not self._is_apart(at):
            return None
        if text[0].islower() and not self._in_small_letters():
            return None
        said = (match["said"] or match["behind"]).strip()
        other = said.lstrip("= ") if said.startswith("=") else section_meant(said)
        if not other or not (self.sheet.names.is_full(other) or is_short_name(other)):
            return self._refers(at, match["name"], said)
        if section_key(other)[0] not in self.names.kinds or is_about_the_song(text):
            return self._refers(at, match["name"], said)
        remarks = () if said.startswith("=") else (said,)
        return SectionStart(match["name"], 1, other, remarks, guessed=True)

    def _is_apart(self, at: int) -> bool:
        """Whether nothing stands above a line but a section that is asked for again there."""
        if self.sheet.is_empty(at - 1):
            return True
        if not self.known or not isinstance(self.known[-1].kind, SectionStart):
            return False
        key, *others = map(section_key, self.names_above())
        return key in others or self.known[-1].kind.like != ""

    def _ends_there(self, at: int) -> bool:
        """Whether nothing stands below a line but the name of another section."""
        if self.sheet.is_empty(at + 1):
            return True
        text = self.sheet.lines[at + 1].text.strip()
        named = len(text) <= LONGEST and self.sheet.names.end_at(text) > 0
        return named or self.sheet.headings[at + 1] is not None or self._has_row_behind_colon(text)

    def _has_row_behind_colon(self, text: str) -> bool:
        """Whether a line is a name of any kind, a colon and chords ("uit: Em")."""
        name, _, row = text.partition(":") if len(text) <= LONGEST else ("", "", "")
        return bool(row.strip()) and len(name.split()) <= _FEW_WORDS and self.sheet.is_chords(row)

    def _in_small_letters(self) -> bool:
        """Whether the names of all sections above are typed without a capital letter."""
        names = self.names_above()
        return bool(names) and not any(name[0].isupper() for name in names if name)

    def _refers(self, at: int, name: str, said: str) -> SectionStart | None:
        """A section of any name alone on its line, of which words say whose music it has."""
        few = len(said.split()) <= _MOST_WORDS_THAT_REFER and self.sheet.is_empty(at + 1)
        begins, other = place_and_name(said, self.names_above()) if few else (0, "")
        plain = begins == 0 or self.sheet.names.may_name(name)
        plain = plain or len(said.split()) <= _FEW_WORDS
        if not other or not (plain or says_whose(said)) or names_a_fact(said):
            return None
        counted = COUNT_BEHIND.search(said)
        times = times_of(counted[0]) if counted is not None else 1
        own = section_key(name)[0] in self.names.kinds
        return None if own else SectionStart(name, max(1, times), other, (said,), guessed=True)

    def _in_a_sentence(self, at: int, text: str) -> SectionStart | None:
        """A section alone on its line that has the music of one above by a few words behind its
        name ("Solo d'accordéon sur le couplet"); None for any other line."""
        short = len(text) <= LONGEST and len(text.split()) <= _MOST_WORDS_THAT_REFER
        alone = self.sheet.is_empty(at - 1) and self.sheet.is_empty(at + 1)
        within = self.sheet.is_closed and not self.sheet.is_row(at + 1)
        if not short or not (alone or within):
            return None
        name, other, more = name_and_other(text, self.names_above())
        if not other:
            return self._over_something(text) if alone else None
        if not (alone or is_known_name(name)):
            return None
        if section_key(name)[0] in self.names.kinds:
            return None
        return SectionStart(name, 1, other, (more,) if more else (), guessed=True)

    def _over_something(self, text: str) -> SectionStart | None:
        """A solo whose name stands alone on a line with what it is played over ("Piano solo over
        AAB"), which nothing is called; None for any other line."""
        end = self.sheet.names.end_at(text)
        said = text[end:].strip()
        solo = bool(said) and section_key(text[:end])[0] in _PLAYED_OVER
        if not solo or not OVER_OR_LIKE.match(said):
            return None
        return SectionStart(text[:end].strip(), 1, "", (said,), guessed=True)

    def _once_more(self, at: int, text: str) -> SectionStart | None:
        """An earlier section by its very name, alone on its line, with what is said of it ("Parte B
        de novo", "Omkvæd x3, meget langsomt"); None for any other line."""
        alone = self._is_apart(at) and self._ends_there(at)
        if not alone or len(text.split()) > _MOST_WORDS_THAT_REFER + 2 or len(text) > LONGEST:
            return None
        low, names = text.casefold(), [one.partition(" (")[0] for one in self.names_above()]
        name = next((o for o in names if o and low.startswith(o.casefold())), "")
        behind = text[len(name) :]
        if not name or behind[:1].isalnum() or (len(name) == 1 and name not in self.names.letters):
            return None
        if not behind.strip(" .:") or _AGAIN.fullmatch(behind.strip(" ,–-()")):
            return SectionStart(name, guessed=True)
        if until := _UNTIL.match(behind):
            return SectionStart(name, 1, "", (until["said"],), guessed=True)
        again = _AGAIN_AND_MORE.match(behind)
        more = _MORE_BEHIND.fullmatch(behind[again.end() :] if again is not None else behind)
        if more is None or not (again or more["times"] or len(name) == 1):
            return self._among_names(at, name, behind)
        times = times_of(more["times"] or "")
        said = (more["said"].strip(" ()"),) if more["said"] else ()
        return SectionStart(name, max(1, times), "", said, guessed=True)

    def _among_names(self, at: int, name: str, behind: str) -> SectionStart | None:
        """An earlier section by its very name with anything said of it in a few words, beside
        another name ("refrein vol gas" under "refrein"), or a refrain alone; None for others."""
        said = behind.strip(" ,;:–—-.()")
        few = 0 < len(said.split()) <= _MOST_WORDS_THAT_REFER - 2 and not said[0].isdecimal()
        alone = self.sheet.is_empty(at - 1) and self.sheet.is_empty(at + 1)
        if (
            not few
            or (alone and section_key(name)[0] != "chorus")
            or self.sheet.names.may_name(said)
        ):
            return None
        return SectionStart(name, 1, "", (said,), guessed=True)

    def names_above(self) -> list[str]:
        """The names of the last sections above, the nearest first; as they were found before where
        no line has been added."""
        count, names = self._above
        if count != len(self.known):
            lately = self.known[: -_MOST_LINES_ABOVE - 1 : -1]
            names = [one.kind.name for one in lately if isinstance(one.kind, SectionStart)]
            self._above = len(self.known), names
        return names

    def _same_chords(self, at: int, text: str) -> Remark | None:
        """A line right under a name that says its chords are those of before, or of a section above
        that it names."""
        named = at > 0 and self.sheet.headings[at - 1] is not None
        if not named or len(text) > LONGEST:
            return None
        alone = self.sheet.is_empty(at + 1) and len(text.split()) <= _MOST_WORDS_THAT_REFER
        whose = alone and says_whose(text) and section_named_in(text, self.names_above()[1:])
        return Remark(text) if whose or AS_BEFORE.fullmatch(text.strip(" .:")) else None

    def _chords_for_another(self, at: int, text: str) -> SectionStart | None:
        """A section that has the chords of an earlier one by a sentence ("Play the verse chords for
        the solo"); None for any other line."""
        match = _FOR_ANOTHER.fullmatch(text) if len(text) <= LONGEST else None
        if match is None or section_key(match["other"])[0] not in self.names.kinds:
            return None
        plain = all(self.sheet.names.is_full(match[part]) for part in ("name", "other"))
        return SectionStart(match["name"], 1, match["other"], guessed=True) if plain else None

    def _same_as_first(self, at: int, text: str) -> SectionStart | None:
        """A section that is said to be as an earlier one ("2nd verse same as first"), apart."""
        compared = len(text) <= LONGEST and not _WORDS_TO_COMPARE.isdisjoint(words_in(text))
        match = _SAME_AS.fullmatch(text) if compared else None
        name = match["name"] if match is not None else ""
        if match is None or not self.sheet.names.is_full(name) or not self.sheet.is_empty(at - 1):
            return None
        kind = section_key(name)[0]
        other = match["other"].casefold()
        like = f"{kind} 1" if other in _FIRST else other if self.sheet.names.end_at(other) else ""
        known = bool(like) and section_key(like)[0] in self.names.kinds
        return SectionStart(name, 1, like, guessed=True) if known else None

    def _numbered_again(self, at: int, text: str) -> SectionStart | None:
        """A verse of which only the number is typed that is like an earlier one ("2) like 1)"), or
        once more that one ("I. again"); None for any other line."""
        match = _NUMBER_LIKE.fullmatch(text) if len(text) <= _LONGEST_NUMBERED else None
        if match is None or not self.sheet.is_empty(at - 1):
            return None
        names = [
            one.kind.name.strip(".") for one in self.known if isinstance(one.kind, SectionStart)
        ]
        meant = match["other"] or match["name"]
        if meant not in names:
            return None
        like = meant if match["other"] else ""
        return SectionStart(
            match["name"], 1, f"{like}." if like.isdecimal() else like, guessed=True
        )

    def _known_to_somebody(self, at: int, text: str) -> SectionStart | None:
        """A sung section that the sheet does not have, by its name and what is said of it behind a
        dash, over nothing but the next name ("Middle 8 - Kit knows it"); None for any other
        line."""
        name, *said = _DASH.split(text, maxsplit=1)
        if not said or len(text) > LONGEST or not self.sheet.names.is_full(name):
            return None
        key = section_key(name)
        here = key[0] in self.names.kinds or self.sheet.later.get(key, -1) > at
        lines = range(at + 1, len(self.sheet.lines))
        below = next((i for i in lines if not self.sheet.is_empty(i)), None)
        over_name = below is None or self.sheet.headings[below] is not None
        if here or key[0] not in SUNG_KINDS or not (over_name and self.sheet.is_empty(at - 1)):
            return None
        few = 0 < len(said[0].split()) <= _MOST_WORDS_SAID
        start = SectionStart(name, 1, "", (said[0],), guessed=True)
        return self._learned(start) if few else None
