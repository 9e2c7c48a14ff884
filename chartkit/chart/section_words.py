"""The words that musicians use for the sections of a song.

Source of the names, in the languages in which sheets are often written, and of their short forms:
common practice, no source.
"""

import re

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
NAMES_OF_KIND = {
    "intro": "opening, lead-in, lead in, kickoff, kick-off, kick off, prelude, overture, "
    "einleitung, vorspann, prélude, ouverture, preludio, preludium, introduksjon, introduktion, "
    "introducere, úvod, bevezető, előjáték, giriş, εισαγωγή, "
    "intro, introduction, vorspiel, auftakt, forspill, förspel, inleiding, voorspel, "
    "introdução, introducción, introduzione, wstęp, przygrywka, předehra, alkusoitto, entrada, "
    "entrée, вступление, イントロ, 前奏",
    "verse": "rann, véarsa, bhéarsa, erindi, ahapaldia, ahapaldi, "
    "versszak, quadra, quadras, cuarteta, quartina, "
    "verse, verses, vers, verso, versos, estrofa, estrofe, strophe, strofa, couplet, "
    "kitica, kıta, κουπλέ, posmas, salm, pennill, куплет, "
    "zwrotka, copla, stanza, stanzas, stanze, strofe, sloka, stev, "
    "sloky, zwrotki, strofy, säkeistö, vesre, verce, "
    "aメロ, 主歌",
    "pre-chorus": "build-up, build up, vorrefrain, pre coro, precoro, "
    "pre-chorus, pre chorus, prechorus, pre-refrain, pré-refrain, pré-refrão, "
    "pre-refrão, pre-estribillo, pre-refräng, pre-refrein, pre-ritornello, pre-coro, bメロ",
    "chorus": "curfá, loinneog, sèist, byrdwn, diskan, errepika, retrouso, viðlag, priedainis, "
    "piedziedājums, 후렴, פזמון, "
    "burden, refrénu, refrenu, "
    "refrén, nakarat, estribilho, refrängen, refrenget, refreinen, shout chorus, "
    "chorus, choruses, refrain, refrein, refräng, refreng, refren, refrão, estribillo, "
    "coro, ritornello, kehrvers, kehrreim, omkvæd, omkväde, omkved, chrous, chours, chorous, "
    "corus, refrian, kertosäe, припев, приспів, tornada, ρεφρέν, odpev, pripjev, pripev, "
    "refrään, cytgan, サビ, 副歌",
    "post-chorus": "post-chorus, post chorus, postchorus",
    "bridge": "special, mid-8, mid 8, mittelteil, "
    "bridge, middle 8, middle eight, middle bit, middle section, middle part, "
    "middle, mid section, inciso, brug, brygga, łącznik, mostek, brücke, "
    "bro, mellandel, c-del, puente musical, puente, brigde, brige, pont, ponte, stick, overgang, "
    "köprü, punte, híd, γέφυρα, бридж",
    "solo": "szóló, gitárszóló, sólo, solo, solos, soli, solówka, gitarrensolo, "
    "gitarrsolo, gitarsolo, gitaarsolo, guitarsolo, klaviersolo, pianosolo, saxsolo, assolo, "
    "asolo, lead break, guitar lead",
    "trading": "trading fours, trade fours, trading eights, trading 4s, trading 8s",
    "break": "break, breakdown, dub",
    "interlude": "transition, intermezzo, intermède, passagem, pasaje, zwischenteil, "
    "zwischenmusik, übergang, "
    "interlude, zwischenspiel, mellomspill, mellanspel, mellemspil, tussenspel, "
    "przejście, mezihra, välisoitto, tussenstuk, interludio, interlúdio, "
    "interludium, überleitung, közjáték, проигрыш, 間奏",
    "instrumental": "musique seule, musik allein, nur musik, solo música, música sola, só música, "
    "solo musica, sola musica, alleen muziek, bara musik, bare musikk, music only, band only, "
    "instrumental, instr, instrumental break, strumentale, instrumentale, "
    "instrumentaal, instrumentalteil, instrumentalny, instrumentální",
    "outro": "ride out, ride-out, rideout, out chorus, chorus out, tag out, ausklang, uscita, "
    "salida, saída, sortie, avslutning, avslut, lopetus, závěr, encerramento, uitro, "
    "outro, nachspiel, etterspill, efterspel, efterspil, slotspel, dohra, "
    "loppusoitto, zakończenie, naspel, utójáték, アウトロ",
    "end": "big finish, big ending, tag ending, slow ending, "
    "ending, ends, end, schluss, slut, slutt, slot, ende, final, finale, fin, einde, "
    "koniec, vége, befejezés, sluta, slutar, endet, termina, finit, eindigt",
    "coda": "coda",
    "tag": "tag",
    "turnaround": "turnaround",
    "hook": "hook",
    "riff": "riff",
    "trio": "trio",
    "strain": "strain, strains, repris, reprisen, reprisene",
    "part": "high part, low part, slow part, fast part, sung part, singing part, sung bit, "
    "singing bit, spoken part, talking part, talking bit, talky bit, quiet part, quiet bit, "
    "loud part, loud bit, heavy part, heavy bit, soft part, soft bit, slow bit, fast bit, "
    "dance part, main part, jam part, rap part, instrumental part, instrumental bit, vocal part, "
    "gesangsteil, sprechteil, ruhiger teil, lauter teil, partie chantée, partie parlée, "
    "parte cantada, parte hablada, parte cantata, parte parlata",
    "head": "head in, head out, in head, out head, head, theme, thema, tema",
    "playoff": "playoff, play-off, play off, playout, play-out, play out, button, sting",
    "kazoo": "kazoo, kazoos, kazoo solo, kazoo verse, kazoo chorus",
    "vamp": "vamp out, vamp in, vamp till cue, vamp until cue, vamp till ready, vamp",
    "spoken": "spoken, spoken word, gesprochen, sprechteil, hablado, recitado, parlé, rap",
}
SHORT_NAMES_OF_KIND = {
    "intro": "int, intr",
    "verse": "v, vs, vrs, ver, vsz, str, zwr",
    "pre-chorus": "pc, pre, pre-ch, prech",
    "chorus": "c, ch, cho, chor, chrs, chs, ref, refr",
    "post-chorus": "post, post-ch",
    "bridge": "b, br, brg, brdg, bridg, mid, m8",
    "instrumental": "inst",
    "outro": "out, outr",
    "interlude": "interl",
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
    """Each name of a table with its kind."""
    return {name.strip(): kind for kind, names in table.items() for name in names.split(",")}


KIND_OF = kinds_by_name(NAMES_OF_KIND) | {
    f"{who} {what}": what for who in PLAYERS for what in PLAYED
}
"""The kind of each full name in small letters."""
_BESIDE = re.compile(r"\([^()]*\)|[\d.:,;/+&]+")
"""A remark, a number or a sign beside a name."""
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
    return ""


_SHORTEST_PLACE = 3
"""The fewest letters of a place that is written in one word with a name."""
