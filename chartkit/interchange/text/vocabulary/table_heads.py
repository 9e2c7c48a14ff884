"""What the heads of the columns of a table say stands in them: the names of sections, chords, how
often, how many bars, words, remarks.

Source of the words, in the languages in which sheets are often written: common practice, no
source.
"""

import re
from collections.abc import Sequence

_HEADS = {
    "name": """
section sections part parts form where teil abschnitt partie parte seção sección secção sezione deel
del stuk sektion formdel avsnitt część osa část rész""",
    "chords": """
chords chord changes akkorde accords acordes accordi akkoorden ackord akkorder akordy harmony
harmonie armonía armonia harmonia progression music soinnut akkordok""",
    "bars": """
bars measures length len takte mesures compases compassos battute maten takter takty""",
    "times": """
times time repeats repeat rep reps x mal anzahl wdh fois veces vezes volte keer aantal gånger ganger
gange razy count krát""",
    "words": """
words lyrics text lyric paroles letra testo tekst sångtext""",
    "remark": """
remarks remark notes note comments comment feel who bemerkungen bemerkung anmerkung anmerkungen
hinweis hinweise remarques remarque notas nota observações obs opmerkingen opmerking anmärkningar
anmärkning merknader noter bemærkninger uwagi uwaga details instructions dynamics info wer wie
spielweise observaciones commentaires commentaire cue cues kommentar kommentarer poznámka poznámky
annotazioni comentarios comentários""",
    "counter": "# nr no nº n° num pos",
}
_KIND_OF = {word: kind for kind, words in _HEADS.items() for word in words.split()}
_BAR = re.compile(
    r"(?:(?:takt|bar|measure|mesure|compás|compasso|battuta|maat|b|m|t)\.?\s*)?(?P<number>\d{1,2})\.?",
    re.IGNORECASE,
)
_LONGEST = 24
_FEWEST_BARS = 2


def kind_of_head(text: str) -> str:
    """What stands in the column of a table with some head ("name", "chords", "bars", "times",
    "words", "remark" or "counter"); empty for any other head."""
    return _KIND_OF.get(text.strip(" :.").casefold() or text.strip(), "") if text else ""


def kinds_of_heads(heads: Sequence[str]) -> tuple[str, ...]:
    """What stands in each column of a table, by the heads of all: also "bar", where the columns of
    bars are counted on from one, and "other" for a head of another name; empty for what is no row
    of heads of a table of sections."""
    kinds = [kind_of_head(one) if len(one) <= _LONGEST else "" for one in heads]
    numbers = {at: match for at, one in enumerate(heads) if (match := _BAR.fullmatch(one.strip()))}
    counted = [int(match["number"]) for match in numbers.values()]
    if len(counted) >= _FEWEST_BARS and counted == [*range(1, len(counted) + 1)]:
        kinds = ["bar" if at in numbers else kind for at, kind in enumerate(kinds)]
    if "bars" in kinds and not {"chords", "bar"} & {*kinds}:
        kinds[kinds.index("bars")] = "chords"
    kinds = [
        kind or ("other" if head.strip() else "") for kind, head in zip(kinds, heads, strict=True)
    ]
    named = kinds.count("name") == 1 and ("chords" in kinds or "bar" in kinds)
    alone = all(kinds.count(one) <= 1 for one in ("chords", "times", "bars", "words"))
    known = sum(kind not in ("", "other") for kind in kinds)
    return tuple(kinds) if named and alone and 2 * known > len(kinds) else ()
