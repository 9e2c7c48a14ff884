"""Words for those who sing, as labels of lines have them.

Source of the words, in the languages in which sheets are often written: common practice, no source.
"""

import re
from collections.abc import Sequence

from chartkit.interchange.text.vocabulary.sounds_said import sung_weight

_WORDS = """
he she him her both all together everybody everyone unison duet solo boy boys girl girls man men
woman women mother father son daughter sister brother children kids captain crew shantyman sailors
priest people congregation cantor leader caller response call lead group gang backing choir chorus
audience crowd ladies gents gentlemen lads lasses gals guys fellas females males teacher pupils
class narrator host minister soprano sopranos alto altos tenor tenors baritone baritones basses
treble trebles descant vox voc vocal vocals voice voices singer singers bv bvs bgv bgvs
er sie ihn beide alle zusammen gemeinsam frau frauen mann männer herr dame chor vorsänger solist
solistin kinder damen herren jungs jungen mädchen mädels sopran alt tenöre bässe stimme stimmen
sänger sängerin lehrer lehrerin
elle lui eux elles ensemble tous toutes homme hommes femme femmes soliste chœur choeur foule dames
messieurs filles garçons enfants voix
él ella ellos ellas juntos juntas ambos todos todas hombre hombres mujer mujeres solista coro
chicos chicas niños niñas voz voces
lei entrambi insieme tutti uomo uomini donna donne ragazzi ragazze bambini voce voci
ele ela eles juntos homem mulher homens mulheres meninos meninas vozes
hij zij beiden beide samen allen allemaal vrouw man koor iedereen mannen vrouwen jongens meisjes
stem stemmen
han hon hun båda bägge begge tillsammans sammen alla kvinna kvinne kör kor flickor pojkar stämma
on ona oba oboje wszyscy razem všichni spolu
"""
_SINGERS = frozenset(_WORDS.split())
_DOUBTFUL_WORDS = "solo on chorus call lead man response coro chor kor kör lui"
_DOUBTFUL = frozenset(_DOUBTFUL_WORDS.split())
"""Words that name a section or begin a line of words as well: they count beside another label."""
_SPEAKERS = "me you us ich du wir moi toi nous yo tú io tu ik jij jag eu"
_SPOKEN_TO = frozenset(_SPEAKERS.split())
_SMALL = "the die der das le la les el los las il lo gli i o os as de het"
_ARTICLES = frozenset(_SMALL.split())
_PAIR = "two dos dois duas deux due twee två to dwoje"
_TWO = frozenset(_PAIR.split())
_JOINT = re.compile(r"\s*(?:[&+/,]|(?<!\w)(?:and|und|et|y|e|en|och|og|then|dann|puis)(?!\w))\s*")
_WHICH_WORDS = """
1st 2nd 3rd first second third low high upper lower main male female erste zweite tiefe hohe
première deuxième primera segunda prima seconda primeira eerste tweede första andra
"""
_WHICH = re.compile(rf"\d\.?|\d(?:er|e|ère|ème|ª|º|:a)|{'|'.join(_WHICH_WORDS.split())}")
"""Words for one of several voices, beside a word for a voice."""
_MOST_OF_ONE = 2
_SUNG, _ADDRESSED = 0.15, 0.9
"""Words that others sing weigh so much for being sung, words of address ("oh", "dear") so much."""


def is_singer(who: str) -> bool:
    """Whether words say who sings: known ones, also several and with an article."""
    parts = [part.split() for part in _JOINT.split(who.casefold()) if part.strip()]
    parts = [[word for word in part if not _WHICH.fullmatch(word)] for part in parts]
    return bool(parts) and all(
        0 < len(bare := [word for word in part if word not in _ARTICLES] or part) <= _MOST_OF_ONE
        and all(word.strip(".") in _SINGERS | _SPOKEN_TO | _TWO for word in bare)
        for part in parts
    )


def is_doubtful_singer(who: str) -> bool:
    """Whether words that say who sings may say something else where they stand alone."""
    return {*who.casefold().split()} <= _DOUBTFUL | _SPOKEN_TO | _TWO


def is_unsung_name(words: Sequence[str]) -> bool:
    """Whether nobody sings the last of some words in small letters, and the others are no words of
    address ("Big Ray", "Uncle Ray", but not "Dear Ray"), so that they may be a singer's name."""
    plain = all(sung_weight(word) < _ADDRESSED for word in words[:-1])
    return bool(words) and sung_weight(words[-1]) < _SUNG and plain
