"""Sheets as people really type them, in many habits, each with the chart body that must come of
it.

All songs are invented.
"""

MESSY: dict[str, tuple[str, str]] = {
    "chords in parentheses among the words": (
        "The Salt Road\n\nLow tide (C) pulls the (G) lanterns home\n"
        "And (Am)nobody comes (F)back to tell\n",
        "C G\n: Low tide / pulls the / lanterns home\nAm F\n: And / nobody comes / back to tell",
    ),
    "a bass run, and a line to be played twice": (
        "Tin Kettle\nG - G/F# - Em - C\nthe kettle on the hob is singing\n"
        "G - G/F# - Em - N.C.\n(2x)\n",
        'G G/F# Em C\n: the kettle / on / the hob is / singing\nG G/F# Em N.C.\n"2x"',
    ),
    "slashes between bars and without": (
        "Tin Kettle\n\nIntro: C / / / | G / / / | Am / F / | C / / /\nVerse:\n"
        "C / / /   G / / /\nlow tide  and home\n",
        "== Intro\n| C / / / | G / / / | Am / F / | C / / / |\n== Verse\n"
        "| C / / / | G / / / |\n: | low tide | and home |",
    ),
    "verses numbered at the left edge": (
        "1. C        G\n   Low tide tonight\n   Am       F\n   the lamp is bright\n"
        "2. The boats are gone\n   and so are we\n",
        "C G\n1: Low tide / tonight\n2: The boats are / gone\nAm F\n"
        "1: the lamp / is bright\n2: and so / are we",
    ),
    "German names with Fis and Es": (
        "Meer und Wind\n\nStrophe 1\nAm        Dm\nWenn der Regen fällt\nH7        E\n"
        "bleib ich hier\nFis       B\nallein\nEs        As\nam Meer\n",
        "== Strophe 1\nAm Dm\n: Wenn der / Regen fällt\nB7 E\n: bleib ich / hier\n"
        "F# Bb\n: allein /\nEb Ab\n: am Meer /",
    ),
    "a German B minor in long bars, with other rows that have none": (
        "Meer und Wind\n\nStrophe\n| Hm / / / | G / / D | A / / / | Hm / / / |\nG D A B7\n",
        "== Strophe\n| Bm / / / | G / / D | A / / / | Bm / / / |\nG D A Bb7",
    ),
    "syllables with a major seventh typed 7+": (
        "Canción del puerto\n\nDo        Sol\nCuando baja la marea\nLam       Fa7+\n"
        "vuelve la luz\nRe/Fa#    Sol7\ndel faro\n",
        ("C G\n: Cuando ba- / ja la marea\nAm Fmaj7\n: vuelve la / luz\nD/F# G7\n: del faro /"),
    ),
    "all in small letters": (
        "harbour song\nam        f\nthe low tide pulls\nc         g/b\n"
        "the lanterns home\nam f c g\n",
        ("Am F\n: the low / tide pulls\nC G/B\n: the lan- / terns home\nAm F C G"),
    ),
    "remarks behind chords, a star explained, a fourth that resolves": (
        "Song of the Gate\nC*        Am7 (let ring)\nthe gate in the wind\n"
        "G (hold on)      D4-3\ngoes on   and    on\nC* = play softly\n",
        'C Am7 "let ring"\n: the gate / in the wind\nG "hold on" Dsus4 D\n: goes on and / on /',
    ),
    "dotted lines between chords": (
        "Salt Box\n\nVerse 1\nG ........ D ........ Em\nlow tide . . . and home\n"
        "C . . . G . . .\n.....................\nChorus\nC  G   x2\noh my\n",
        ("== Verse 1\nG D Em\n: low tide . / . . and / home\nC G\n== Chorus x2\nC G\n: oh / my"),
    ),
    "bar lines without blanks, two times": (
        "Salt Box\n\nVerse 1\n|G      |D      |Em  D  |C      |\n"
        " low     tide    pulls   home\n|G      |D      |C      |%      |  (2 times)\n",
        "== Verse 1\n| G | D | Em D | C |\n: | low | tide | pulls | home |\n|: G | D | C | % :|",
    ),
    "a section played so many times, and others by words": (
        "Wren\n\nChorus (repeat 2 times)\nC G\noh wren\nSolo over verse\nC G Am F 2x\n"
        "Verse 2 (same chords)\nthe rafters hold\n",
        '== Chorus x2\nC G\n: oh / wren\n== Solo x2\n"over verse"\nC G Am F\n'
        "== Verse 2\nC G Am F\n\n: the rafters hold",
    ),
    "a chord on a line of its own for each bar": (
        "Low Road\n\nC\nG\nAm\nF\n(repeat)\n\nthe words are here\nand here\n",
        ('C\nG\nAm\nF\n"repeat"\n: the words are here\n: and here'),
    ),
    "short names of sections": (
        "Low Road\nCapo 2 / tuning standard\n\nV1)\nG        C\nlow road\nCh)\n"
        "D        C\noh road\nV2)\nG        C\nmy road\n",
        "== V1\nG C\n: low road /\n== Ch\nD C\n: oh road /\n== V2\nG C\n: my road /",
    ),
    "tabs between words and chords": (
        "Two Lamps\n\n\tG\t\tC\nTwo lamps\tburn low\n\tD7\t\tG\nat the end\tof the pier\n",
        "G C\n: Two / lamps burn low /\nD7 G\n: at the / end of the / pier",
    ),
    "chords of many kinds": (
        "Ferry Song  -  words & music: Ines Quill\n\n"
        "Em7add11  Cmaj7/9  G6sus4  D/A  A7b13\nover the water and over the bar\n"
        "Bb7(b9,#11)  E7#9#5  F#ø7  Gdim7  Caug\nand over the sandbanks we go\n",
        (
            "Em7(11) Cmaj9 Gsus4(add6) D/A A7(b13)\n"
            ": over the / water and / over the / bar /\n"
            "Bb7(b9,#11) E7(#5,#9) F#m7(b5) Gdim7 Caug\n"
            ": and over the / sand- / banks we / go /"
        ),
    ),
    "slashes behind chords, hyphens apart": (
        "Ferry Song\nIntro: Em ///  C ///  G ///  D ///\n\nEm                 C\n"
        " Over the wa - ter and o - ver the bar\nG                  D\n"
        " o - ver the sand - banks we go\n",
        "== Intro\n| Em / / / | C / / / | G / / / | D / / / |\n"
        "== Verse 1\nEm C\n: Over the water / and over the bar\nG D\n"
        ": over the sand- / banks we go",
    ),
    "names in brackets with what goes with them": (
        "The Pilot\n\n[Intro]  Am | F | C | G  (x2)\n[Verse 1]  (quiet)\n"
        "Am           F\nthe pilot is late tonight\n[Chorus]  x2  (all in!)\n"
        "C       G\nbring us in\n[Outro: Am - F - Am (ritard.)]\n\n",
        "== Intro x2\n| Am | F | C | G |\n== Verse 1 (quiet)\nAm F\n"
        ": the pilot is / late tonight\n== Chorus (all in!) x2\nC G\n: bring us / in\n"
        '== Outro\nAm F Am "ritard."',
    ),
    "dashes in runs, stars, silence in parentheses": (
        "Brindle Cove\nKey of D - 3/4 - 96 bpm\n\nD A/C# Bm - Bm/A - G D/F# Em A\n"
        "the cove is grey and the boats are in\nD* A* Bm*\n(N.C.) hey!\n",
        "D A/C# Bm Bm/A G D/F# Em A\n"
        ": the / cove / is / grey / and / the / boats / are in\nD A Bm\nN.C.\n: hey!",
    ),
    "two languages and times in parentheses": (
        "Glass Pier\n(verse 1)\nDm                         Gm\n"
        " Les bateaux sont rentrés  (x2)\nA7                         Dm\n"
        " the lamps are lit, die Nacht ist hier\n(chorus)\nBb   F\nOh, oh\n",
        "== verse 1\nDm Gm\n: Les bateaux sont rentrés /\n"
        "Dm Gm\n: Les bateaux sont rentrés /\nA7 Dm\n"
        ": the lamps are lit, die / Nacht ist hier\n== chorus\nBb F\n: Oh, / oh",
    ),
    "a line cut at every chord": (
        "Gull\n\nC\n a gull\n     G\non a wall\n        Am    F\nin the rain\n\n"
        "C          G\n it knows   nothing\n",
        "C\n: a gull\nG\n: on a / wall\nAm F\n: in the / rain /\nC G\n: it knows / nothing",
    ),
    "bars parted by strokes alone": (
        "Long Rope\nAm|Am|F|G\nAm|Am|F|E7\n\nAm\nhaul on the long rope\n"
        "E7                        Am\nhaul till the sail is home .\n",
        "| Am | Am | F | G |\n| Am | Am | F | E7 |\nAm\n: haul on the long rope\nE7 Am\n"
        ": haul till the sail is home / .",
    ),
    "emphasis with stars, headings between lines": (
        "Lantern\n== VERSE ==\n*C*   *G*\nlow light\n**Am**  **F**\nburn\n"
        "~~~ CHORUS ~~~\nC -- G -- Am -- F\noh burn\n",
        "== VERSE\nC G\n: low / light\nAm F\n: burn /\n== CHORUS\nC G Am F\n: oh / burn / /",
    ),
    "numbers of verses in words": (
        "Stone Boat\n\nVerse one\nEmaj7           A(add9)\nthe stone boat  sinks\n"
        "E5  A5  B5  (palm mute)\nsinks and sinks\nVerse two:\n"
        "Eb°7  G+  Caug7  F#m(maj7)  Ab6/9  Dm7-5\ndown it goes\n",
        '== Verse one\nEmaj7 Aadd9\n: the stone boat / sinks\nE5 A5 B5 "palm mute"\n'
        ": sinks / and / sinks\n== Verse two\n"
        "Ebdim7 Gaug C7(#5) F#m(maj7) Ab6/9 Dm7(b5)\n: down / it / goes / / /",
    ),
    "a title, a capo and a key on one line": (
        "Night Ferry - capo 3 (sounds in Eb)\nC . . G | Am . F .\n night      ferry\n"
        "C | G | Am F | C ||\nriding out to the sea again\nFine\n",
        (
            "| C / / G | Am / F / |\n"
            ": | night | fer- / ry |\n"
            "| C | G | Am F | C @fine ||\n"
            ": | ri- | ding | out / to | the sea again |"
        ),
    ),
    "sections called by letters": (
        "Marsh\n\nA section:\n| Dm7  G7 | Cmaj7    | Dm7  G7 | Cmaj7 |\nB section:\n"
        "| Fm7  Bb7 | Ebmaj7 | Fm7 Bb7 | G7alt |\nD.C. al Fine\n",
        "== A section\n| Dm7 G7 | Cmaj7 | Dm7 G7 | Cmaj7 |\n== B section\n"
        "| Fm7 Bb7 | Ebmaj7 | Fm7 Bb7 | G7alt @D.C. al Fine |",
    ),
    "short names with rows behind them": (
        "Slow Tide\n\nV:\nC - F - C - G (4x)\nSlow tide, slow tide\nC   F\ntake me\n\n"
        "Pre: Am - F\nPC) Am  F\nup and up\n",
        '== V\nC F C G "4x"\n: Slow / / tide, / slow tide\nC F\n: take / me\n== Pre\n'
        "Am F\n== PC\nAm F\n: up / and / up",
    ),
    "chords behind names in brackets": (
        "Harbour Lights\n[Verse 1] C G Am F\nharbour lights are low\n"
        "[Chorus] F - G - C (hold 4)\nlow low low\n[Instrumental] (C G Am F) x 4\n",
        (
            "== Verse 1\n"
            "C G Am F\n"
            ": harbour / lights / are / low\n"
            "== Chorus\n"
            'F G C "hold 4"\n'
            ": low low / low / /\n"
            "== Instrumental x4\n"
            "C G Am F"
        ),
    ),
    "dots and slashes after chords": (
        "The Rope Walk\n\n Bm      A         G      (hold)\nwalk the rope,  my love\n"
        " Bm      A      G  /  /  /\nwalk the line\n Em7 . . / F#7 . .\nall night\n",
        'Bm A G "hold"\n: walk the / rope, my / love\nBm A G\n: walk the / line /\n'
        "Em7 F#7\n: all night /",
    ),
    "signs of accent and of length": (
        "Kite\n\nC [x2] G\nkite on a string\n(Am)  (F)  (C)  (G)\nAm!  F~  C>  G^\nlet it go\n",
        'C "x2" G\n: kite on / a string\n(Am) (F) (C) (G)\nAm! F~ C G\n: let / it go / /',
    ),
    "remarks behind the names of sections": (
        "Old Pier\n\nVerse 1: quiet\nG                  Cadd9\n"
        "The old pier |  is falling\nG                  D\n"
        "into the sea, boys,  into the sea (G)\n\nChorus:  [loud]\nC  D  G\n"
        "into the sea\n",
        (
            "== Verse 1\n"
            '"quiet"\n'
            "G Cadd9\n"
            ": The old pier \\| is / falling\n"
            "G D (G)\n"
            ": into the sea, boys, / into the sea /\n"
            "== Chorus\n"
            '"loud"\n'
            "C D G\n"
            ": in- / to / the sea"
        ),
    ),
    "a figure in tablature behind a name": (
        "Wind Song\n \nINTRO: e|--0--3--|  x2\n\nEm\n wind\n   (Em7)\n song\n"
        "        C             /B        /A\n in the rigging    all night  long\n\n",
        "== INTRO\nEm\n: wind\n(Em7)\n: song\nC /B /A\n: in the / rigging all / night / long",
    ),
}
"""Name to sheet and the body of the chart, blanks evened out."""
