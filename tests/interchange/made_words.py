"""Words of invented songs, and the words with which people call sections, in five languages.

Source of the names of sections and of the phrases: common practice, no source.
"""

from dataclasses import dataclass

LINES = """
The kettle is singing the window is white
I left on a Monday the tide was too high
There's bread on the table and salt on the floor
Nobody told me the river was wide
Lanterns are burning all over the bay
My brother went walking and never came home
We counted the wagons we counted the stars
She painted the ceiling the colour of rain
The dog on the landing is dreaming of sheep
You said you'd be coming before it was dark
The ferryman whistles a tune of his own
A letter came Tuesday I left it outside
The orchard is empty the ladders are down
Old Martha keeps pigeons on top of the hall
They closed up the harbour they nailed up the doors
I buried my money beneath the blue tree
The snow on the mountain is slow to begin
Her mother was laughing her father was not
There goes the last tram with its windows aglow
The bells of the valley are learning to swim
A hat on a fence post a coat on a nail
The mill wheel is turning with nothing to grind
We slept in the hayloft we woke in the rain
The smoke from the chimney is writing my name
The captain is sleeping the mate is awake
A penny for paper a penny for ink
The roses are climbing all over the gate
I carried the piano up seven long stairs
The geese from the marshes go over at four
The candle is lower than it was before
Your shoes by the fire are still full of sand
The market is folding its tents for the night
""".strip().split("\n")
REFRAINS = """
Carry me over carry me home
Oh let the morning come
Sing it out Rosie sing it out loud
Hold on to me hold on
Row row over the water
Light up the valley tonight
Never no more my darling
Shine on the harbour shine
Give me the road and the rain
We will be dancing till dawn
Come back to the garden come back
Ring all the bells of the town
""".strip().split("\n")
TITLES = """
Harbour Street/Blue Tin Cup/Seven Long Stairs/Rosie at the Gate/The Slow Ferry/Salt and Lanterns/
Pigeon Hall/Paper Boats/Winter Orchard/Mill Wheel Song
""".replace("\n", "").split("/")
WRITERS = ["Ada Quill", "T. Marrow", "Jo Penhale", "Ines Varga", "Sam Tolliver & Ada Quill"]
KEYS = {
    "G": "G C D Em Am D7 Bm",
    "C": "C F G Am Dm G7 Em",
    "D": "D G A Bm Em A7 F#m",
    "A": "A D E F#m Bm E7 C#m",
    "Em": "Em C G D Am B7 Bm",
    "Am": "Am F C G Dm E7 Em",
    "F": "F Bb C Dm Gm C7 Am",
    "E": "E A B C#m F#m B7 G#m",
}


@dataclass(frozen=True)
class Language:
    """How a language calls sections and says what is done with them.

    ``names`` has the name of each kind; in ``over`` and ``again`` stands what is played over the
    verse, or again, for ``{}``, in small letters for ``{small}``; in ``ends`` the last chord.
    """

    names: dict[str, str]
    solos: tuple[str, ...]
    over: tuple[str, ...]
    again: tuple[str, ...]
    ends: tuple[str, ...]
    labels: tuple[str, ...]
    cues: tuple[str, ...]
    same: tuple[str, ...]
    last: tuple[str, ...]


_KINDS = ["Intro", "Verse", "Pre-chorus", "Chorus", "Bridge", "Outro"]


def _language(names: str, *phrases: str) -> Language:
    called = dict(zip(_KINDS, names.split("/"), strict=True))
    return Language(called, *(tuple(one.split("/")) for one in phrases))


ENGLISH = _language(
    "Intro/Verse/Pre-chorus/Chorus/Bridge/Outro",
    "Solo/Guitar solo/Instrumental",
    "{} over verse/{} (verse chords)/{}: same as verse 1/{} over verse chords",
    "{} again/Repeat {small}/({})",
    "End on {}/end on {}/Ends on {}",
    "Form: /Order: /Running order: /Structure: ",
    "softly/drums out/guitar only/build up/half time/everybody in/no bass/with feeling",
    " (same chords)/ (as verse 1)",
    "hold last chord/last chorus softly/stop on the last beat/last time slower",
)
OTHERS = (
    _language(
        "Intro/Strophe/Bridge 1/Refrain/Zwischenteil/Schluss",
        "Solo",
        "{} über Strophe/{} (Akkorde wie Strophe)/{} über die Strophe",
        "{} nochmal/Wdh. {}/({})",
        "Ende auf {}/Schluss auf {}",
        "Ablauf: /Form: /Reihenfolge: ",
        "leise/ohne Schlagzeug/nur Gitarre/alle/langsamer werden",
        " (wie Strophe 1)/ (gleiche Akkorde)",
        "letzter Refrain leise/Schlussakkord halten",
    ),
    _language(
        "Intro/Estrofa/Pre-coro/Coro/Puente/Final",
        "Solo",
        "{} sobre la estrofa/{} (acordes de la estrofa)",
        "{} otra vez/Repetir {small}/({})",
        "Terminar en {}/Acaba en {}",
        "Orden: /Estructura: /Forma: ",
        "suave/sin batería/solo guitarra/todos",
        " (igual que la estrofa 1)/ (mismos acordes)",
        "último coro suave/mantener el último acorde",
    ),
    _language(
        "Intro/Couplet/Pré-refrain/Refrain/Pont/Fin",
        "Solo",
        "{} sur le couplet/{} (accords du couplet)",
        "{} encore/Reprise du {small}/({})",
        "Finir sur {}/Fin sur {}",
        "Structure : /Ordre : /Forme : ",
        "doucement/sans batterie/guitare seule/tous",
        " (comme le couplet 1)/ (mêmes accords)",
        "dernier refrain doucement/tenir le dernier accord",
    ),
    _language(
        "Intro/Strofa/Pre-ritornello/Ritornello/Ponte/Finale",
        "Assolo",
        "{} sulla strofa/{} (accordi della strofa)",
        "{} di nuovo/Ripetere {small}/({})",
        "Finire su {}/Chiudere su {}",
        "Struttura: /Ordine: /Forma: ",
        "piano/senza batteria/solo chitarra/tutti",
        " (come la strofa 1)/ (stessi accordi)",
        "ultimo ritornello piano/tenere l'ultimo accordo",
    ),
)
NAMED_ENDS = frozenset({"Ende", "Schluss", "Fin"})
"""First words of how a song ends that are names of that section as well."""
