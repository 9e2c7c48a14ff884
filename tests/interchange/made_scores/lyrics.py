"""Invented lines of words in several languages, cut into syllables."""

from random import Random

from tests.interchange.made_scores.song import Syllable

WORDS = {
    "en": "the the a and and my your so in on with from when then low far slow bright moon rain "
    "road tide lamp sea stone hill bread door night light wind home years all this that you we I "
    "they sing call walk wait turn burn drift stay leave know don't it's I'll they're can't "
    "lan-tern har-bour riv-er morn-ing win-ter gar-den eve-ning can-dle ov-er un-der a-way a-lone "
    "be-fore be-tween for-ev-er re-mem-ber yes-ter-day to-mor-row wan-der-ing mel-o-dy "
    "ev-er-y-where sum-mer wa-ter win-dow old gold cold through thought strength",
    "de": "die der und im am das so ein mit von wenn dann mein dein Licht Turm Meer Wind Nacht Tag "
    "hell fern nah Ha-fen Som-mer Gar-ten Mor-gen Was-ser Fen-ster lei-se wie-der ü-ber un-ter "
    "Abend-rot Wan-der-schaft ge-hen blei-ben schö-ner Grü-ße Stra-ße",
    "es": "la el y en un con por mi tu sol mar luz pan flor no-che ca-sa ca-mi-no vien-to llu-via "
    "co-ra-zón ma-ña-na can-ta es-pe-ra siem-pre nun-ca a-mor le-jos a-gua ni-ño tie-rra "
    "pri-ma-ve-ra to-da-ví-a",
    "it": "la il e un con per mio tuo sol mar lu-ce not-te ca-sa stra-da ven-to can-to piog-gia "
    "do-ma-ni sem-pre lon-ta-no pri-ma-ve-ra a-mo-re ac-qua fio-re per-ché cit-tà",
    "fr": "la le et un mon ton sur par nuit mer vent pain feu l'eau d'or qu'on ma-tin jar-din "
    "che-min lu-mière é-toi-le mai-son de-main tou-jours ri-viè-re chan-son s'en-va",
    "ru": "и мой твой ночь свет дом сон дождь снег путь мо-ре зи-ма ве-тер до-ро-га о-гонь "
    "вес-на да-ле-ко у-тро сно-ва по-ёт ти-хо пес-ня лам-па",
    "pl": "i mój twój noc dom sen deszcz śnieg świt mo-rze zi-ma wia-tr dro-ga o-gień "
    "wio-sna da-le-ko ra-no zno-wu śpie-wa ci-cho łód-ka gwiaz-da",
}
"""Words by language; hyphens part syllables."""
NAMES = ("Ivo", "An-na", "Ma-rek", "Li-sa")


def _bank(language: str) -> list[tuple[str, ...]]:
    return [tuple(word.split("-")) for word in WORDS[language].split()]


def line_of(count: int, language: str, capital: bool, end: str, chance: Random) -> list[Syllable]:
    """The syllables of a line: so many of them, the first with a capital or not, ``end`` behind the
    last."""
    bank = _bank(language)
    words: list[tuple[str, ...]] = []
    left = count
    while left:
        fitting = [word for word in bank if len(word) <= left]
        word = chance.choice(fitting)
        if left <= 2 and len(word) < left:
            word = chance.choice([one for one in fitting if len(one) == left] or [word])
        if 0 < left < count and language == "en" and chance.random() < 0.02:
            word = tuple(chance.choice([n for n in NAMES if n.count("-") < left]).split("-"))
        words.append(word)
        left -= len(word)
    if capital:
        words[0] = (words[0][0][0].upper() + words[0][0][1:], *words[0][1:])
    if len(words) > 4 and chance.random() < 0.3:
        middle = len(words) // 2 - 1
        words[middle] = (*words[middle][:-1], words[middle][-1] + ",")
    words[-1] = (*words[-1][:-1], words[-1][-1] + end)
    signs = chance.choices(("", "“”", "()", '""'), (90, 3, 4, 3))[0]
    if signs and count > 2:
        words[0] = (signs[0] + words[0][0], *words[0][1:])
        words[-1] = (*words[-1][:-1], words[-1][-1] + signs[1])
    return [
        Syllable(text, goes_on=i < len(word) - 1, again=i > 0)
        for word in words
        for i, text in enumerate(word)
    ]
