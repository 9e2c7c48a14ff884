"""Names of sections that say of themselves that they are a part of the song, whatever else they
are called: "Drum bit", "Dub section", "Trommelteil", "partie batterie".

Source of the words, in the languages in which sheets are often written: common practice, no
source.
"""

import re

from chartkit.interchange.text.quick_looks import kept
from chartkit.interchange.text.vocabulary.bar_words import BARS
from chartkit.interchange.text.vocabulary.times_played import ANY_TIMES

_PART = (
    r"(?:bit|solo|section|part|break|breakdown|break-down|passage|stukje|stuk|gedeelte|parti|"
    r"stykke|stycke|teil)"
)
_IN_ONE_WORD = r"(?:teil|deel|stuk|stück|gedeelte|parti|partiet|stykke|stycke|delen|del)"
_OF = (
    r"(?:(?:partie|passage|parte|pasaje|passaggio|passagem|trozo|sección|sezione|seção|secção|część|partia|fragment)\s+"
    r"(?:d['’]|dell['’]|(?:de|del|di|da|du|des|della|dei|delle|do|das|dos)\s+)?)"
)
_BARS = rf"\d{{1,3}}\s?{BARS}\b"
_NAMED = re.compile(
    r"(?P<name>"
    rf"[^\W\d_][\w'’]{{1,15}}(?:[ -](?!{_PART}\b)[^\W\d_]{{2,12}})?[ -]{_PART}(?![\w'’-])"
    rf"|[^\W\d_]{{3,14}}(?<!\s){_IN_ONE_WORD}(?!\w)"
    rf"|(?P<of>{_OF})[^\W\d_]{{3,14}}(?!\w))"
    r"(?P<number>\s\d{1,2}(?=\s*(?:$|[,;:(–—-])))?"
    rf"(?P<more>\s*[:.!]?$|\s*[,;:(–—]\s*\S.*|\s+-+\s+\S.*|\s+[(\[]?(?:{ANY_TIMES}).*|\s+{_BARS}.*)",
    re.IGNORECASE,
)
_WORDS_BEFORE = """
the a an every each any all some no this that these those my your his her our their its it it's
little last first second third next same other another best worst better worse whole only half
tiny small for in on of to at by from with and or but take took play sing repeat do is was
hardest easy easiest favourite favorite good bad sweet lovely
der die das ein eine jeder dieser letzter erster gleicher vor nach an ab ur gegen
de het een elke deze die laatste eerste la le les une un cette chaque el los una esta cada en
il lo questa ogni o um uma esta cada
"""
_BEFORE_PARTS = frozenset(_WORDS_BEFORE.split())
"""What stands before such a word in a sentence, or before a part that another line names."""
_OTHER_WORDS_IN_ONE = """
vorteil nachteil gegenteil urteil vorurteil anteil abteil bestandteil großteil hotel model fidel
handel händel medel mandel nadel wandel pudel rudel onderdeel nadeel voordeel oordeel
meestendeels misstyckes smörgåsdel fördel nackdel
"""
_OTHER_WORDS = frozenset(_OTHER_WORDS_IN_ONE.split())
"""Words of other meanings that end as such names do."""
_LONGEST = 120


@kept
def part_named(text: str) -> re.Match[str] | None:
    """The ``name`` of a part with which a text begins, its ``number``, and ``more`` behind a sign,
    a count of times or of bars; None for any other text."""
    match = _NAMED.fullmatch(text) if 0 < len(text) <= _LONGEST else None
    if match is None:
        return None
    words = match["name"].casefold().replace("-", " ").split()
    before = () if match["of"] else words[:-1]
    return None if words[0] in _OTHER_WORDS or not _BEFORE_PARTS.isdisjoint(before) else match
