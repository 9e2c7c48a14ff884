"""How often something is played: "x2", "twice", "zwei mal".

Source of the words, in the languages in which sheets are often written: common practice, no
source.
"""

import re

from chartkit.interchange.text.quick_looks import (
    has_any,
    in_small_letters,
    words_in,
    words_written,
)


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


_TIMES_IN_WORDS = {
    "once": 1,
    "twice": 2,
    "thrice": 3,
    "bis": 2,
    "zweimal": 2,
    "dreimal": 3,
    "viermal": 4,
    "two times": 2,
    "three times": 3,
    "four times": 4,
    "five times": 5,
    "six times": 6,
    "eight times": 8,
    "dos veces": 2,
    "tres veces": 3,
    "deux fois": 2,
    "trois fois": 3,
    "due volte": 2,
    "tre volte": 3,
    "duas vezes": 2,
    "três vezes": 3,
    "twee keer": 2,
    "drie keer": 3,
    "två gånger": 2,
    "tre gånger": 3,
    "to ganger": 2,
    "tre ganger": 3,
    "to gange": 2,
    "dwa razy": 2,
    "trzy razy": 3,
    "zwei mal": 2,
    "drei mal": 3,
    "vier mal": 4,
    "cuatro veces": 4,
    "quatre fois": 4,
    "quattro volte": 4,
    "quatro vezes": 4,
    "vier keer": 4,
    "twee maal": 2,
    "tweemaal": 2,
    "drie maal": 3,
    "fyra gånger": 4,
    "fire ganger": 4,
    "fire gange": 4,
    "cztery razy": 4,
    "kaksi kertaa": 2,
    "kolme kertaa": 3,
    "neljä kertaa": 4,
}
_REPEATED = (
    r"repeat(?:ed|s)?|rep\.?|rpt\.?|wiederholen|wiederholung|wdh\.?|bis|à répéter|répéter|"
    r"repetir|(?:se )?repite|repete|(?:da )?ripetere|ripeti|herhalen|herhaal|upprepas?|gjenta|"
    r"gentag(?:es)?|powtórz|double|toista"
)
"""Words behind a row of chords that say it is played twice."""
_ANY_WORD = "|".join(sorted(map(re.escape, _TIMES_IN_WORDS), key=len, reverse=True))
_TIMES = (
    r"(?:(?:repeat|play(?:ed)?|sing|sung|rep\.?|rpt\.?|wdh\.?)(?:\s+(?:it|this|that|all))?\s*)?"
    r"(?:[x×]\s*{times}|{many}\s*(?:[x×](?![^\W\d_])|(?:xs|times|tms|mal|veces|fois|volte|vezes|keer|maal|gånger|ggr|ganger|gange|gg|razy|"
    r"kertaa|krát)\b)"
    r"|{word})(?:\s+(?:through|thru|around|round|in all|in total|altogether)\b)?"
)
_WORD_ALONE = r"\b(?!\s+as\s)"
"""Behind a word for a count, which "twice as loud" gives not."""
ANY_TIMES = _TIMES.format(times=r"\d+", many=r"\d+", word=rf"(?:{_ANY_WORD}){_WORD_ALONE}")
NAMED_TIMES = _TIMES.format(
    times=r"(?P<times>\d{1,2})",
    many=r"(?P<many>\d{1,2})",
    word=rf"(?P<word>{_ANY_WORD}){_WORD_ALONE}",
)
_TIMES_ALONE = re.compile(rf"[(\[]?\s*{NAMED_TIMES}\s*[)\]]?[.!]?", re.IGNORECASE)
_COUNT_BEHIND = re.compile(
    rf"(?<=[\s|)])[(\[]?\s*(?:(?:all|alles|line|row|zeile|and|und|spielen|jouer|tocar|spela)\s+)?(?:"
    rf"(?:wiederholen|répéter|repetir|ripetere|herhalen|upprepa)?\s*{NAMED_TIMES}"
    rf"|(?P<again>{_REPEATED}))\s*[)\]]?[.!]?\s*$",
    re.IGNORECASE,
)
_LAST_OF_COUNT = re.compile(r"[^\s(\[|]+$")
_ENDS_COUNT = _words(f"""
{" ".join(_TIMES_IN_WORDS)}
times mal veces fois volte vezes keer maal gånger ggr ganger gange gg razy kertaa krát
repeat repeated repeats rep rpt wiederholen wiederholung wdh bis répéter repetir repite repete
ripetere ripeti herhalen herhaal upprepa upprepas gjenta gentag gentages powtórz double toista
""")
"""The last words of what says how often a row is played."""
MOST_TIMES = 99
ONCE_MORE = (
    r"(?:(?:the )?same(?: (?:again|as before|as above|chords))?|(?:all )?over again|again|"
    r"once (?:more|again)|"
    r"one more time|"
    r"(?:as|like) (?:before|above)|repeat|rep\.?|rpt\.?|ditto|dito|idem|"
    r"noch ?mal|noch einmal|nochmals|wdh\.?|wiederholen|wie (?:oben|vorher|zuvor|gehabt)|gleich|"
    r"nogmaals|nog (?:een keer|eens)|opnieuw|weer|herhaal|herhalen|zelfde|hetzelfde|als boven|"
    r"encore(?: une fois)?|pareil|comme (?:avant|ci-dessus|au début)|"
    r"otra vez|de nuevo|una vez más|igual(?: que antes)?|se repite|repetir|repite|"
    r"di nuovo|ancora(?: una volta)?|ripeti|ripetere|come (?:sopra|prima)|uguale|"
    r"de novo|outra vez|mais uma vez|repete|como antes|"
    r"igen|en gång till|samma(?: igen)?|igjen|en gang til|samme(?: igjen)?|jeszcze raz)"
)
"""Words behind the name of a section that say it is played again."""
AGAIN_FIRST = re.compile(rf"{ONCE_MORE}(?!\w)", re.IGNORECASE)
"""The same, at the beginning of what is said of a section."""
UNTIL = r"(?:until|till?|bis|jusqu|hasta|até|fino|tot|tills|til|aż)\b"
"""How a remark begins that says up to when something is played."""
_LONGEST_LINE = 120
_LONGEST_COUNT = 40
_MOST_WORDS_OF_A_NAME = 4
_FIGURE = re.compile(r"\d")


def begins_with_plain_words(text: str) -> bool:
    """Whether a text begins with more words of letters alone than a section's name has, and says
    nowhere how often something is played; a quick look."""
    words = text.split(" ", _MOST_WORDS_OF_A_NAME + 1)[: _MOST_WORDS_OF_A_NAME + 1]
    plain = len(words) > _MOST_WORDS_OF_A_NAME and all(map(str.isalpha, words))
    return plain and not (_FIGURE.search(text) or has_any(in_small_letters(text), _TIMES_IN_WORDS))


def times_of(text: str) -> int:
    """How often something is played by words that say no more ("x2", "twice"); 0 for others."""
    match = _TIMES_ALONE.fullmatch(text.strip()) if len(text) <= _LONGEST_LINE else None
    return times_in(match) if match is not None else 0


_AGAIN_BEHIND = re.compile(rf"\s+(?:{_REPEATED})$", re.IGNORECASE)


def times_said(text: str) -> int:
    """How often a line is sung by what stands in signs behind it ("x2", "2x wiederholen"); 0 for
    anything else."""
    if len(text) > _LONGEST_COUNT:
        return 0
    return times_of(text) or times_of(_AGAIN_BEHIND.sub("", text.strip(), count=1))


_CLAUSE = re.compile(r"\s*(?:[,;:]|\s[-–—+])\s+")


def count_among(text: str) -> tuple[int, str]:
    """How often something is played by the first or the last clause of a remark ("2x, second time
    quiet"), and the remark without it; 0 and the remark where neither says so."""
    clauses = [*_CLAUSE.finditer(text)] if len(text) <= _LONGEST_LINE else []
    if not clauses:
        return count_before(text)
    first, last = clauses[0], clauses[-1]
    if times := times_of(text[: first.start()]):
        return times, text[first.end() :]
    times = times_of(text[last.end() :])
    return times, text[: last.start()] if times else text


_WORDS_OF_COUNTS = words_written(" ".join(_TIMES_IN_WORDS))


def may_have_count(text: str) -> bool:
    """Whether a figure or a word of counts stands in a text, as in all ``ANY_TIMES``; a quick
    look."""
    return _FIGURE.search(text) is not None or not _WORDS_OF_COUNTS.isdisjoint(words_in(text))


_COUNT_FIRST = re.compile(
    r"[(\[]?\s*(?:[x×]\s?(?P<times>\d{1,2})|(?P<many>\d{1,2})\s?[x×])\s*[)\]]?\s+(?=[^\W\d_]{3})"
)


def count_before(text: str) -> tuple[int, str]:
    """How often something is played by a plain sign before the words of a remark ("2x trombones"),
    and these words; 0 and the remark where none stands there."""
    match = _COUNT_FIRST.match(text)
    if match is None:
        return 0, text
    return times_from(match["times"] or match["many"]), text[match.end() :]


_EVERY = (
    r"(?:every|each)(?: single)? time|always|throughout|jedes ?mal|immer|jeweils|"
    r"(?:à )?chaque fois|toujours|cada vez|siempre|sempre|ogni volta|elke keer|altijd|varje gång|"
    r"alltid|hver gang|za każdym razem|zawsze"
)
_EVERY_TIME = re.compile(
    rf"(?:{_EVERY})\s*,?\s*(?P<behind>{ANY_TIMES})|(?P<before>{ANY_TIMES})\s*,?\s*(?:{_EVERY})",
    re.IGNORECASE,
)


def count_every_time(text: str) -> int:
    """How often a section is played wherever its name stands, by a remark that says so ("twice
    every time"); 0 for any other remark."""
    match = _EVERY_TIME.fullmatch(text.strip(" .!()")) if len(text) <= _LONGEST_COUNT else None
    return times_of(match["behind"] or match["before"]) if match is not None else 0


_SAYS_ROUNDS = re.compile(
    r"\b(?:through|thru|around|round|in all|in total|altogether)\b", re.IGNORECASE
)


def counts_rounds(text: str) -> bool:
    """Whether words count rounds, of a section or of a whole tune ("three times through")."""
    return times_of(text) > 1 and _SAYS_ROUNDS.search(text) is not None


_SAYS_UNTIL = re.compile(UNTIL, re.IGNORECASE)


def says_until(text: str) -> bool:
    """Whether a remark says up to when something is played, so that nobody counts."""
    return _SAYS_UNTIL.match(text) is not None


_SAYS_ONCE = re.compile(
    r"(?:(?:but|and|just|only|played|aber|und|nur|mais|pero|ma|maar|men)\s+)*(?:the\s+)?"
    r"(?:once|1\s?[x×]|[x×]\s?1|einmal|ein mal|(?:une|la) (?:seule )?fois|una (?:sola )?vez|"
    r"una (?:sola )?volta|uma (?:só )?vez|(?:één|een) keer|eenmaal|en gång|[eé]n gang|"
    r"(?:jeden )?raz)"
    r"(?:\s+(?:only|through|thru|around|round|this time|nur|seulement|solo|sólo|bara|kun))*"
    r"(?=\s*(?:[.,;!)–-]|$))",
    re.IGNORECASE,
)


def says_once(text: str) -> bool:
    """Whether a remark says that a section is played a single time ("just the once, then stop"),
    also where it is played twice elsewhere."""
    return _SAYS_ONCE.match(text) is not None


_ROUNDS = re.compile(
    r"\b(\d{1,2}|one|two|three|four)\s+(?:chorus(?:es)?|rounds?|times? (?:round|through))"
    r"(?![^\W\d_])",
    re.IGNORECASE,
)
_FEW = {"one": 1, "two": 2, "three": 3, "four": 4}


def rounds_in(text: str) -> int:
    """How many rounds of a song's chords a remark shares out among the players of a solo ("guitar
    1 chorus, harp 2 choruses"); 0 where it shares out none."""
    counts = _ROUNDS.findall(text) if len(text) <= _LONGEST_LINE else []
    return min(MOST_TIMES, sum(_FEW.get(one.casefold()) or int(one) for one in counts))


def count_in_words(text: str) -> tuple[int, int] | None:
    """Where the words begin with which a text ends and that say how often it is played ("repeat",
    "2 mal"), and how often; None where there are none, or where a plain sign says it."""
    last = _LAST_OF_COUNT.search(text.rstrip(" )].!"))
    if last is None or last[0].casefold() not in _ENDS_COUNT:
        return None
    match = _COUNT_BEHIND.search(text, max(0, len(text) - _LONGEST_COUNT))
    if match is None:
        return None
    return match.start(), 2 if match["again"] else times_in(match)


def times_in(match: re.Match[str]) -> int:
    """How often a section is played, as its heading says it."""
    if match["word"]:
        return _TIMES_IN_WORDS[match["word"].lower()]
    return times_from(match["times"] or match["many"])


def times_from(text: str | None) -> int:
    """How often something is played by a number typed for it; once where none was."""
    return max(1, min(MOST_TIMES, int(text))) if text else 1
