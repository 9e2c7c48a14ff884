"""Settings that sentences name in passing: "we take it in Am, maybe 88, capo on the 2".

Source of the words: common practice in these languages, no source.
"""

import re

from chartkit.interchange.capo_words import CAPO_NAME
from chartkit.interchange.text.vocabulary.facts import ABOUT, Fact, meter_of
from chartkit.interchange.text.vocabulary.key_words import KEY_NAME, key_of

_LONGEST = 400
_SLOWEST, _FASTEST = 40, 260
_MODE = (
    r"(?:major|minor|maj|min|dur|moll|majeur|mineur|mayor|menor|maior|maggiore|minore|duuri|molli)"
)
_ABOUT = (
    rf"(?:{ABOUT}|like|maybe|perhaps|say|at|vielleicht|so|bei|peut-être|quizás?|a unos|talvez|"
    r"forse|misschien|kanske)"
)
_BEATS = (
    r"(?:b\.?p\.?m\b|beats (?:a|per) minute|(?:at|on) the metronome|on the click|am metronom|"
    r"au métronome|à la noire|al metr[oó]nomo|de metr[oó]nomo|no metrônomo|al metronomo|"
    r"op de metronoom|på metronomen|schläge)"
)
_CAPO = rf"(?:{CAPO_NAME})"
_LITTLE = (
    r"(?:is|on|at|im|in|am|au|en|op|på|i|w|na|the|el|la|al|à|a|no|fret|bund|traste|casa|case|kell)"
)
_IN_PROSE = re.compile(
    rf"\b{_CAPO}(?:\s*[:=]|(?:\s+{_LITTLE}){{0,3}})\s*(?P<capo>\d{{1,2}})(?![\d/])|"
    r"\b(?P<shapes>[A-G][#b♯♭]?m?)[ -]shapes?\b|"
    rf"\b(?P<tempo>\d{{2,3}})\s?{_BEATS}|"
    rf"\b(?:tempo|bpm)\s*(?:is\s+|:|=)?\s*(?:{_ABOUT}\s*)?(?P<beats>\d{{2,3}})(?![\d%])|"
    rf"(?:\b{_ABOUT}\s+|~\s?)(?P<about>\d{{2,3}})(?![\d:.]\d|\w|\s*%)|"
    r"\b(?:in|im|en|em|i|à|w|v|a)\s+(?:un\s+|a\s+)?(?P<meter>\d{1,2}/\d{1,2})(?![\d/])|"
    rf"(?:^|(?<=[.,;:!?(]\s))(?P<plain>(?-i:[A-H][#b♯♭]?)[ -]{_MODE})(?=\s*[,.;:!?()]|\s*$)|"
    r"(?:^|(?<=[.,;!]\s))(?:it['’]?s|we['’]?re|we (?:do|play|sing) it|es (?:ist|geht)|geht|ist|"
    r"c['’]est|on est|es|va|è|si fa|det (?:går|är|er)|gaat|staat)\s+(?:in|en|em|i)\s+"
    r"(?P<here>(?-i:[A-H][#b♯♭]?m?|L[aá]|Si|D[oó]|R[ée]|Mi|F[aá]|Sol)(?![\w/#♯♭])"
    rf"(?:[ -]{_MODE}\b)?)|"
    r"\b(?:in|en|em|i|w|v|(?:down|up|back|over) to|"
    rf"(?:{KEY_NAME})(?:\s+(?:of|de|di|is|ist|es|est|è))?)\s*:?\s+"
    r"(?P<key>(?-i:[A-H][#b♯♭]?m?|L[aá]|Si|D[oó]|R[ée]|Mi|F[aá]|Sol)(?!\w)"
    r"(?:[ -](?:flat|sharp|bémol|dièse|bemol|sostenido|bemolle|diesis))?|"
    rf"[a-h](?:is|es|s)?(?=[ -]{_MODE}\b)|(?<=key of )[a-g][#b]?m?(?!\w))"
    rf"(?:(?P<mode>[ -]{_MODE}\b)|(?=\s*[,.;:!?()]|\s*$|"
    r"\s+(?:now|again|like|as|cos|because|since|statt|anstatt|rather|"
    r"this time|tonight|today|instead|around|about|roughly|at|etwa|ca|circa|capo|kapo|with|"
    r"mit|avec|con|met|med|but|aber|mais|pero|ma|maar|men|for|für|pour|para|per|voor|för|maybe|please|pls|plz|"
    r"and|und|et|y|och|og|heute|so|not|no|we|you|i|wir|on|ich)\b|"
    r"\s+[–—-]+\s))",
    re.IGNORECASE,
)


_TUNED_LOWER = re.compile(
    r"\b(?:tuned?|tuning|detuned?|runter ?gestimmt|gestimmt|accordée?s?|afinad[ao]s?|"
    r"accordat[aei]|gestemd|stämd[ae]?|"
    r"stemt)(?:\s+(?:it|them|everything|all|down|lower|by|to|um|plus bas|d['’]|de|di|una?|een|"
    r"ett?|en|a|one|einen?))"
    r"{0,4}\s*(?:(?P<half>half(?:\s+a)?[- ]?(?:step|tone)|semitone|halbton|halben ton|demi-ton|"
    r"medio tono|semitono|"
    r"meio tom|mezzo tono|halve toon|halvton|halvt? (?:steg|tone?|trinn))|(?:whole|"
    r"full)[- ]?(?:step|tone)|ganzton|"
    r"ganzen ton|ton\b|tono\b|tom\b|hele toon|helton)(?P<behind>\s+(?:down|lower|tiefer|plus bas|"
    r"más bajo|abajo|abaixo|"
    r"sotto|lager|lägre|ned|ner))?|"
    r"\b(?:(?P<first>halbton|halben ton|halve toon)|ganzton|ganzen ton|hele toon)\s+(?:tiefer|"
    r"lager|omlaag)\s+"
    r"(?:gestimmt|gestemd)|"
    r"\btuned?\s+(?:down\s+)?(?:to\s+)?(?P<flat>E ?(?:b|♭|[- ]?flat))\b",
    re.IGNORECASE,
)
"""How a sentence says that the guitars are a half or a whole step lower."""
_LOWER = re.compile(
    r"\b(?:down|lower|detuned?|runter|tiefer|bas|bajo|abajo|abaixo|sotto|lager|omlaag|lägre|ned|ner)",
    re.I,
)
_OTHER_STRINGS = re.compile(
    r"\b(?:bass|basse|bajo|basso|baixo|bas|uke|ukulele|banjo|mandolin|fiddle|second|other|strings?|saite|corde|piano|not|"
    r"never|isn['’]?t|aren['’]?t|nicht|pas|no|non|niet|inte|ikke|used to|if)\b[^,.;:!?]*$",
    re.IGNORECASE,
)
"""Words before it that speak of something else than all guitars."""


def _tuned_lower(text: str) -> re.Match[str] | None:
    """Where a sentence says that the guitars are tuned down; None where none does."""
    match = _TUNED_LOWER.search(text)
    if match is None or _OTHER_STRINGS.search(text[max(0, match.start() - _FAR) : match.start()]):
        return None
    if match["flat"] is None and _LOWER.search(match[0]) is None:
        return None
    return match


_NOT_TONIGHT = re.compile(
    r"\b(?:not|no longer|nicht(?: mehr)?|kein|pas|plus|non|niet|inte|ikke|no|não|nie|instead of|"
    r"rather than|statt|anstatt|au lieu de|en vez de|invece di|in plaats van|istället för|was|were|"
    r"used to be|originally|war|früher|était|era|estaba|stond|var)\s+(?:[^\W\d_]+\s+)?$",
    re.IGNORECASE,
)
"""How words end before a key in which the song is not played."""
_FAR = 30


def facts_in_prose(text: str) -> tuple[Fact, ...]:
    """The capo, key, meter and tempo that sentences name in passing."""
    facts: list[Fact] = []
    about: list[int] = []
    lower = _tuned_lower(text[:_LONGEST])
    for match in _IN_PROSE.finditer(text[:_LONGEST]):
        if lower is not None and lower.start() <= match.start() < lower.end():
            continue  # "tuned down to Eb"
        if match["capo"]:
            facts.append(Fact("capo", int(match["capo"])))
        elif match["shapes"]:
            shapes = key_of(match["shapes"])
            facts += [Fact("shapes", shapes)] if shapes is not None else []
        elif beats := match["tempo"] or match["beats"]:
            facts.append(Fact("tempo", int(beats)))
        elif match["about"]:
            about.append(int(match["about"]))
        elif match["meter"]:
            meter = meter_of(match["meter"])
            facts += [Fact("meter", meter)] if meter is not None else []
        elif match["plain"]:
            key = key_of(match["plain"])
            facts += [Fact("key", key)] if key is not None else []
        elif _NOT_TONIGHT.search(text[max(0, match.start() - _FAR) : match.start()]) is None:
            name = match["here"] or match["key"] + (match["mode"] or "")
            key = key_of(name[0].upper() + name[1:])
            facts += [Fact("key", key)] if key is not None else []
    named = {fact.name for fact in facts}
    if lower is not None and "capo" not in named:
        half = lower["half"] or lower["first"] or lower["flat"]
        facts.append(Fact("capo", -1 if half else -2))
    if named & {"key", "meter"} and "tempo" not in named:  # "in D around 76"
        paces = [beats for beats in about if _SLOWEST <= beats <= _FASTEST]
        facts += [Fact("tempo", beats) for beats in paces[:1]]
    return tuple(facts)
