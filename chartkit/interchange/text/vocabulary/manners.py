"""Words for how a song goes: its speed, its manner and its style, in the languages in which sheets
are often written.  Source: common practice, no source.
"""

import re

from chartkit.interchange.text.quick_looks import kept


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


MANNER = _words("""
soft softly softer quiet quietly quieter loud louder cresc crescendo decresc dim diminuendo rit
ritard ritardando rall rallentando rubato accel accelerando slow slowly slower slowing fast
faster tempo bright brightly build builds building breakdown big bigger fade fades fading stop
stops stopped hold held fermata tacet sustain staccato legato accent accents pp mp mf ff fff
forte leise leiser laut lauter langsam langsamer langsame schneller schnell ruhig ausklingen
lento despacio rápido fuerte suave doucement lentement vite piano capella cappella acapella
unplugged halftime swing straight shuffle instrumental vamp clap claps count counts counted
muted mute palm strum strummed pick picked picking fingerstyle arpeggio arpeggios distortion
clean solo tag medium moderate moderately lively freely gently steady driving ballad waltz
marcato dolce mosso ring rings pause pauses beat drop drops ad lib improvise improvised spoken
whispered shouted sung hummed unison octave harmonised modulate modulates transpose ritenuto
intensity dynamics tranquilo flojo bajito doux douce fort dolcemente calmo veloce zacht zachter
hard harder rustig langzaam langzamer sneller tyst starkt långsammare snabbare stille sterkt
kräftig sanft steigern a-cappella clapping devagar depressa baixinho rim shaker
tambourine wolno szybko cicho głośno lågt hurtigt hurtigere langsommere svagere szybciej wolniej
ciszej głośniej rascher lauter werdend
schlussakkord endakkord slotakkoord slutackord aushalten feeling
""")
"""How something is played, as directions say it within a song too."""
_STYLES = _words("""
swing swung shuffle shuffled waltz ballad bossa nova samba reggae ska rock polka march latin funk
funky soul gospel jazz jazzy blues bluesy country folk folky two-step twostep hymn rumba tango
cha-cha beguine swingy bouncy groove groovy feel 8ths 8s 16ths eighths up up-tempo uptempo
mid-tempo midtempo med. med mid medium relaxed laid-back quick easy upbeat brisk lazy gentle heavy
mäßig bewegt zügig schleppend getragen walzer marsch ballade rustig vlot matig snel långsamt
lugnt snabbt vals marche valse rapide modéré lent lente moderado rápido balada movido adagio
andante allegretto allegro moderato presto largo vivace slowish fastish quickish
foxtrot slowfox quickstep boogie boogie-woogie rockabilly disco pop punk metal manouche musette
milonga bolero cumbia salsa son rumba huapango corrido ranchera pasodoble cueca zamba joropo
merengue bachata forró baião xote choro marchinha pagode pimba fado vira valzer mazurka tarantella
ländler boarischer zwiefacher schieber rheinländer galopp wals valsje schottis hambo snoa polska
reinlender springar pols halling polonez walc walczyk oberek kujawiak krakowiak
gemütlich gemächlich schwungvoll munter lebhaft feierlich fröhlich lustig flott locker entspannt
träumerisch verträumt verhalten beschwingt treibend zart wiegend
calme tranquille enlevé entraînant gai joyeux vif vive berceuse balancé
alegre pausado animado animada animato brioso tranquillo allegramente calma arrastado
kalm opgewekt vrolijk levendig slepend bedaard glatt livligt raskt stilla gungande rolig roligt
langsom langsomt munter muntert livlig livlige frisk friskt hurtig gyngende
spokojnie wesoło żwawo skocznie powoli umiarkowanie rytmicznie
""")
"""Manners of playing that stand in the head of a sheet beside key and tempo."""
_BESIDE = _words("""
not too so and a bit with nicht zu pas trop non troppo no muy niet te inte fairly quite rather
pretty really kinda sort of nice very in two three four six assez plutôt bastante ganz eher recht
vrij heel ganska ziemlich leicht ikke dość niezbyt poco piuttosto très assai molto
""")
_FEEL = re.compile(
    r"\(?(?!(?:(?:a|and|with)[\s,/-]*)+\)?$)(?:(?:very|slow|slowly|fast|medium|moderate|moderately|mid|quick|easy|"
    r"up|up-?tempo|mid-?tempo|tempo|straight|half-?time|double-?time|ballad|swing|swung|shuffle|shuffled|waltz|jazz|latin|"
    r"bossa(?: nova)?|samba|reggae|ska|rock|pop|polka|march|tango|rumba|cha-?cha|calypso|"
    r"funk|funky|soul|blues|bluesy|country|folk|gospel|hymn|carol|lullaby|jig|reel|hornpipe|"
    r"one[- ]drop|two[- ]step|rubato|freely|gently|lively|driving|groove|feel|"
    r"8ths|8s|16ths|eighths|with|a|and|"
    r"adagio|andante|allegro|allegretto|moderato|largo|lento|vivace|presto|vals|valse|walzer|"
    r"(?:langsam|mäßig|mässig|ruhig|schnell|lebhaft|bewegt|zügig|flott)(?:e[rs]?)?|"
    r"rustig|langzaam|vlot|lugnt|långsamt|lent|modéré|vif|lentamente|moderado|rápido)"
    r"[\s,/-]*){1,5}\)?",
    re.IGNORECASE,
)
"""How a song goes, in words for its speed and its manner."""
_MOST_WORDS = 8


def _says_manner(text: str) -> bool:
    """Whether words say only how a song goes ("med. up swing", "fast!!"), and no count of bars."""
    words = [word.strip("!.,;:()") for word in text.casefold().split()]
    strong = [word in MANNER or word in _STYLES or f"{word}." in _STYLES for word in words]
    return (
        any(strong)
        and len(words) <= _MOST_WORDS
        and all(says or word in _BESIDE for says, word in zip(strong, words, strict=True))
    )


_STYLE_BEHIND = re.compile(
    r"(?:[^\W\d_][^\W_’'-]*[ -]){1,2}(?:tempo|feel|groove|beat|rhythm|style|time|"
    r"reggae|waltz|ballad|blues|swing|rock|shuffle|march|bossa|samba|funk|soul|polka|jig|reel|ska)",
    re.IGNORECASE,
)


def says_style(text: str) -> bool:
    """Whether a few words beside settings end in a style ("roots reggae", "capstan tempo"); a title
    may do so too."""
    return says_feel(text) or _STYLE_BEHIND.fullmatch(text.strip()) is not None


@kept
def says_feel(text: str) -> bool:
    """Whether a line says no more than how the song goes, as "Slow ballad" does."""
    text = _ISH.sub("", text)
    return _FEEL.fullmatch(text) is not None or _says_manner(text)


_ISH = re.compile(r"(?<=[^\W\d_]{3})-?ish\b", re.IGNORECASE)
"""What makes a word of manner less sure ("blues-ish", "slowish")."""
