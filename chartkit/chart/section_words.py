"""What the name of a section means, in any of the languages in which sheets are often written.

Source of the short forms and of who plays: common practice, no source.
"""

import re
import unicodedata

from chartkit.chart.section_languages import NAMES_BY_LANGUAGE, SLIPS

PLAYERS = (
    "guitar",
    "gtr",
    "bass",
    "piano",
    "keys",
    "organ",
    "drum",
    "drums",
    "sax",
    "soprano",
    "alto",
    "tenor",
    "baritone",
    "bari",
    "cornet",
    "flugelhorn",
    "tuba",
    "banjo",
    "mandolin",
    "mando",
    "bouzouki",
    "dobro",
    "pedal steel",
    "steel",
    "viola",
    "concertina",
    "squeezebox",
    "pipes",
    "vibes",
    "trumpet",
    "tpt",
    "tbn",
    "vln",
    "perc",
    "horn",
    "horns",
    "brass",
    "strings",
    "synth",
    "trombone",
    "clarinet",
    "flute",
    "accordion",
    "violin",
    "cello",
    "harp",
    "ukulele",
    "uke",
    "whistle",
    "kazoo",
    "percussion",
    "vocal",
    "band",
    "harmonica",
    "fiddle",
    "intro",
    "verse",
    "chorus",
    "outro",
)
PLAYED = ("solo", "riff", "break", "intro", "lick", "fill")
SOLO_IN_ONE_WORD = (
    r"(?!(?:con|gira|para|que)solo)(?P<player>[^\W\d_]{3,16}?)(?:-|s-)?solos?(?![^\W\d_])"
)
"""A pattern for a solo and who plays it in one word: ``Geigensolo``, ``Munspels-solo``."""
SHORT_NAMES_OF_KIND = {
    "intro": "int, intr, vorsp",
    "verse": "v, vs, vrs, ver, vsz, str, strof, estr, cpl, coupl, zwr",
    "pre-chorus": "pc, pre, pre-ch, prech",
    "chorus": "c, ch, cho, chor, chrs, chs, ref, refr, estrib, omk",
    "post-chorus": "post, post-ch",
    "bridge": "b, br, brg, brdg, bridg, mid, m8",
    "instrumental": "inst",
    "break": "brk, brkdn, brkdwn, bkdn, bkdwn",
    "outro": "out, outr, nachsp",
    "interlude": "interl, zwsp, zw.spiel, zw.-sp, zw.sp",
}
USUAL_NAMES = (
    "intro|introduction|verse|pre-?chorus|chorus|refrain|bridge|middle|solo|interlude|tag|outro|"
    "coda|vamp|ending|turnaround|instrumental|hook"
)
"""The names that nearly every band uses, as alternatives of a pattern: a word that stands alone is
taken for a section only if it is one of them."""
SUNG_KINDS = frozenset({"verse", "pre-chorus", "chorus", "post-chorus", "bridge"})
"""Kinds of sections that have words."""


def kinds_by_name(table: dict[str, str]) -> dict[str, str]:
    """Each name of a table of kinds with its kind."""
    return {name.strip(): kind for kind, names in table.items() for name in names.split(",")}


_TYPED_PLAINLY = str.maketrans({"ø": "o", "æ": "ae", "ł": "l", "ß": "ss", "đ": "d"})
_UMLAUTS = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue", "å": "aa", "ø": "oe"})
_FEWEST_PLAIN_LETTERS = 4
_OTHER_WORDS = frozenset(["parle"])
"""What a shorter name, or one of these, is without its accents is another word ("hid")."""


def without_accents(text: str) -> str:
    """A text as it is typed where no accents are at hand: ``refrao``, ``Zakonczenie``."""
    parted = unicodedata.normalize("NFD", text)
    bare = "".join(one for one in parted if not unicodedata.combining(one))
    return unicodedata.normalize("NFC", bare).translate(_TYPED_PLAINLY)


_NAMES_AS_WRITTEN = {
    name: kind
    for table in (*NAMES_BY_LANGUAGE.values(), SLIPS)
    for name, kind in kinds_by_name(table).items()
}
_CALLED_SECTIONS = {
    name: kind
    for name, kind in kinds_by_name(NAMES_BY_LANGUAGE["English"]).items()
    if name.isalpha() and kind != "part" and not name.endswith("s")
}
"""Plain names behind which the word "section" may stand ("Dub section")."""
KIND_OF = (
    {
        plain: kind
        for name, kind in _NAMES_AS_WRITTEN.items()
        for plain in (without_accents(name), without_accents(name.translate(_UMLAUTS)))
        if len(plain) >= _FEWEST_PLAIN_LETTERS and plain not in _OTHER_WORDS
    }
    | _NAMES_AS_WRITTEN
    | {f"{who} {what}": what for who in PLAYERS for what in PLAYED}
    | {f"{name} section": kind for name, kind in _CALLED_SECTIONS.items()}
)
"""The kind of each full name in small letters, also of those typed without accents."""
KINDS = frozenset(kind for table in NAMES_BY_LANGUAGE.values() for kind in table)
"""Every kind of section that has a name of its own."""
_BESIDE = re.compile(r"\([^()]*\)|[\d.:,;/+&]+")
"""A remark, a number or a sign beside a name."""
_SOLO_IN_ONE_WORD = re.compile(SOLO_IN_ONE_WORD)
_LONGEST = 60
_PLACES = frozenset({"intro", "outro", "end", "part"})
"""Kinds whose names also say where in a song another section stands: ``Final Chorus``, ``Outro
Chorus`` and ``Refrain final`` are choruses (common practice, no source)."""


def kind_of_section(name: str) -> str:
    """The kind of a section by its name in full, in any of the languages above: "chorus" for
    "Kertosäe 2", "Last Chorus (softly)", "Final Chorus" or "Schlussrefrain"; empty for a name that
    is no musician's word."""
    words = _BESIDE.sub(" ", name[:_LONGEST].casefold()).split()
    kinds: list[str] = []
    start = 0
    while start < len(words):
        for end in range(len(words), start, -1):
            if kind := _kind_of_words(" ".join(words[start:end])):
                kinds.append(kind)
                start = end
                break
        else:
            start += 1
    return next((kind for kind in kinds if kind not in _PLACES), kinds[0] if kinds else "")


def _kind_of_words(words: str) -> str:
    """The kind of a name, or of one written in one word with the place where it stands:
    ``slutrefräng``; empty for none."""
    if words in KIND_OF or " " in words:
        return KIND_OF.get(words, "")
    for length in range(_SHORTEST_PLACE, len(words)):
        kind = KIND_OF.get(words[length:].lstrip("-"), "")
        if kind and KIND_OF.get(words[:length]) in _PLACES:
            return kind
    return "solo" if _SOLO_IN_ONE_WORD.fullmatch(words) else ""


_SHORTEST_PLACE = 3
"""The fewest letters of a place that is written in one word with a name."""
