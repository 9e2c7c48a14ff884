"""Where the syllables of a word begin, about, and how many there are.

Source of the rules: common practice for English and its neighbours, no source.
"""

import re
import unicodedata
from functools import lru_cache
from itertools import pairwise

_ONE_SOUND = (
    "ai",
    "au",
    "ay",
    "ea",
    "ee",
    "ei",
    "eu",
    "ey",
    "ie",
    "oa",
    "oe",
    "oi",
    "oo",
    "ou",
    "oy",
)
"""Pairs of vowels that are usually one syllable (common practice, no source)."""
_SILENT = re.compile(r"[b-df-hj-np-tv-z]{0,3}e(?:d|s)?", re.IGNORECASE)
"""How words may end in an e that is not sung, as in *tide*, *asked* and *leaves* (in English;
common practice)."""
_SUNG_ENDING = re.compile(r".*(?:[dt]ed|(?:[cgsxz]|ch|sh)es|[^aeiouy][lr]es?)", re.IGNORECASE)
"""Words whose last e is sung all the same, as in *wanted*, *roses* and *little*."""
_VOWELS = re.compile(r"(?:(?<!q)u|(?<=[^aeiou])y|[aeio])(?:[aeiou]|y(?![aeiou]))*")
_POSSESSIVE = re.compile(r"(?<![sxzc])(?<![cs]h)(?<!ge)(?<!ce)(?<!se)(?<!ze)['’]s\Z", re.IGNORECASE)
"""A genitive that adds no syllable to its word."""
_CONTRACTED = re.compile(r"['’][a-z]{1,3}\b.*")
"""Contracted endings, as in *you're*, that add no syllable."""
_RUNS = re.compile(r"[aeiouyæœøı]+")
_CLOSED = ("ght", "gh", "ck", "tch", "dg")
"""Consonants that belong to the syllable before."""
_ENDS_IN_LE = re.compile("le[sd]?")
_BEHIND_SILENT_E = re.compile(
    r"(?P<stem>\w*[^aeiou\W]e)(?:ly|ful|fully|less|ness|ment|body|things?|times?|where|wards?|how|"
    r"what|land|man|men|light|side|one|day|line|work|long)\b"
)
"""English words of which the first part ends in an e that is not sung, as *somebody*."""
_BEHIND_EVERY = re.compile(r"(?P<stem>ev(?=ery)|eve(?=ning))\w*")
_ALL_ONSETS = """
b c d f g h j k l m n p r s t v w x z bl br ch chr cl cr dr dw fl fr gl gn gr kn kr ph phr pl pr qu
rh sc sch scr sh shr sk sl sm sn sp sph spl spr squ st str sw th thr tr tw wh wr
"""
_ONSETS = frozenset(_ALL_ONSETS.split())
"""Runs of consonants that can begin a syllable."""
_VOWEL = re.compile(r"[aeiouyAEIOUY]")
_LAST_LATIN = 0x24F
"""The last of the Latin letters with marks (Unicode blocks)."""


@lru_cache(maxsize=4_096)  # songs have few words, and say them again
def syllable_near(word: str, at: int) -> int:
    """The start of the syllable nearest to a place in a word; 0 if that is the word's beginning, or
    unknown."""
    if not word.isascii():
        plain = "".join(unicodedata.normalize("NFD", letter)[0] for letter in word)
        if not any(map(str.isascii, filter(str.isalpha, plain))):
            return at if _parts(word[:at], word[at:]) else 0
        word = plain
    begins = [b for b in _syllables_of(word) if _parts(word[:b], word[b:])]
    return min([0, *begins], key=lambda begin: (abs(begin - at), begin))


def _syllables_of(word: str) -> list[int]:
    """Where the second and further syllables of a word begin, about: before the longest run of
    consonants that can begin one (common practice for English and its neighbours, no source).

    A dictionary for hyphenation knows less than half of the places that singers know.
    """
    word = _CONTRACTED.sub("", word.lower())
    compound = _BEHIND_SILENT_E.match(word) or _BEHIND_EVERY.match(word)
    if compound is not None:  # the e before it is not sung
        start = compound.end("stem")
        before = _plain_syllables(compound["stem"].removesuffix("e"))
        return [*before, start, *(start + at for at in _plain_syllables(word[start:]))]
    return _plain_syllables(word)


def _plain_syllables(word: str) -> list[int]:
    begins = []
    for before, after in pairwise(_VOWELS.finditer(word)):
        cluster = word[before.end() : after.start()]
        closed = _closes(cluster, word[after.start() :])
        rest = cluster[len(closed) :]
        if len(rest) > 1 and _ENDS_IN_LE.fullmatch(word, after.start() - 1):
            onset = rest[-2:]
        else:
            onset = next((rest[i:] for i in range(len(rest)) if rest[i:] in _ONSETS), "")
        begins.append(after.start() - len(onset))
    return begins


def _closes(cluster: str, after: str) -> str:
    """The consonants that belong to the syllable before them, of those between two vowels."""
    if (cluster == "ng" and after.startswith("ing")) or (cluster == "w" and after.startswith("er")):
        return cluster
    if cluster == "ght":
        return "gh"
    return next((end for end in _CLOSED if cluster.startswith(end)), "")


def _parts(before: str, after: str) -> bool:
    """Whether a word can be sung in these two parts: each has a vowel, no pair of vowels that
    sounds as one is torn, and the second is more than a letter or an e that is not sung."""
    torn = f"{before[-1:]}{after[:1]}".lower() in _ONE_SOUND
    end = _POSSESSIVE.sub("", after.strip(".,;:!?…\"”’'"))  # "love's" has one syllable
    silent = _SILENT.fullmatch(end) is not None and not _SUNG_ENDING.fullmatch(before + end)
    silent = silent or (len(end) == 1 and end.isascii())
    return not torn and not silent and _sings(before) and _sings(after)


def _sings(part: str) -> bool:
    """Whether a part of a word can be a syllable: it has a vowel, or is in a script where we cannot
    know."""
    if part.isascii():
        return _VOWEL.search(part) is not None
    letters = unicodedata.normalize("NFD", part.lower())
    return any(c in "aeiouyæœøı" or (c.isalpha() and ord(c) > _LAST_LATIN) for c in letters)


def syllable_count(word: str) -> int:
    """How many syllables a word has, about: runs of vowels, or signs of another script."""
    letters = unicodedata.normalize("NFD", word.lower())
    return len(_RUNS.findall(letters)) or max(1, sum(ord(c) > _LAST_LATIN for c in word))
