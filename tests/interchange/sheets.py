"""Messy sheets as they come in mail, each with the chart body that must come of it.

All songs are invented.
"""

SHEETS: dict[str, tuple[str, str]] = {
    "headings with a remark": (
        "Song\n\n[Chorus]\nF G\noh my\n\nBridge - quiet\nAm F\nall so low\n\n"
        "Chorus - loud\n\n[Chorus x2 - loud]\n",
        (
            "== Chorus\n"
            "F G\n"
            ": oh / my\n"
            "== Bridge\n"
            '"quiet"\n'
            "Am F\n"
            ": all / so low\n"
            "== Chorus\n"
            '"loud"\n'
            "== Chorus x2\n"
            '"loud"'
        ),
    ),
    "words with a dash are no heading": (
        "[Verse]\nC        G\nbridge - of stone\nAm\nBreak - my heart\n",
        "== Verse\nC G\n: bridge \\- / of stone\nAm\n: Break - my heart",
    ),
    "chords behind a heading, and a remark": (
        "Song\n\nOutro: D - A/C# - Bm7 - G (x4) fade\n",
        ('== Outro x4\nD A/C# Bm7 G "fade"'),
    ),
    "slashes without bar lines": (
        "G    /   D  /\nlow tide here\n",
        "G D\n: low tide / here",
    ),
    "chords over words": (
        "        G             D/F#\nThe gate in the wind goes on\n",
        "G D/F#\n: The gate / in the wind / goes on",
    ),
    "words before the first chord": (
        "    Am        F\nAnd nobody    knows\n",
        "Am F\n: And / nobody / knows",
    ),
    "tabs": (
        "\tC\tG\nand so\twe\tgo\n",
        "C G\n: and so / we / go",
    ),
    "wide characters": (
        "    C       G\n海の道 low tide 光\n",
        "C G\n: 海の / 道 low / tide 光",
    ),
    "a chord above the second letter": (
        "     C      G\nthe lanterns tell\n",
        "C G\n: the / lanterns / tell",
    ),
    "a chord inside a word": (
        "        C\nthe lanterns\n",
        ("C\n: the lan- / terns"),
    ),
    "typed hyphens": (
        "    C   G\nthe lan-tern\n",
        "C G\n: the / lan- / tern",
    ),
    "chords behind the words": (
        "C       G    Am\nand so\n",
        "C G Am\n: and so /  /",
    ),
    "heading with a colon": ("Verse 1:\nC   G\none two\n", "== Verse 1\nC G\n: one / two"),
    "heading in brackets": ("[Chorus]\nC   G\none two\n", "== Chorus\nC G\n: one / two"),
    "heading in brackets with a sign": ("[Vers=]\nC\none\n", "== Vers\nC\n: one"),
    "heading in capitals": ("PRE-CHORUS\nC\none\n", "== PRE-CHORUS\nC\n: one"),
    "heading with dashes": ("--- Bridge ---\nC\none\n", "== Bridge\nC\n: one"),
    "heading with times": ("Chorus (x2)\nC\none\n", "== Chorus x2\nC\n: one"),
    "heading with times before": ("Chorus 2x:\nC\none\n", "== Chorus x2\nC\n: one"),
    "heading and chords on one line": ("Intro: C G Am\n", "== Intro\nC G Am"),
    "other languages": (
        "Strophe 1\nC\neins\n\nEstribillo\nG\ndos\n\nRefrain\nF\ntrois\n",
        "== Strophe 1\nC\n: eins\n== Estribillo\nG\n: dos\n== Refrain\nF\n: trois",
    ),
    "times at a line's end": ("C G Am x2\n", 'C G Am "x2"'),
    "chords in parentheses at a line's end": (
        "C            G\nand so we go home   (Am G)\n",
        "C G Am G\n: and so we go / home /  /",
    ),
    "no chord": ("N.C.\nalone\nC   n.c.\none two\n", "N.C.\n: alone\nC N.C.\n: one / two"),
    "bar lines": ("| C | G  Am | F |\n", "| C | G Am | F |"),
    "bar lines with words": (
        "    | C    | G    Am |\nand | one  | two  three\n",
        "| C | G Am |\n: and | one | two / three |",
    ),
    "bar lines and slashes": ("| C / / G | Am / F / |\n", "| C / / G | Am / F / |"),
    "bar lines and dots": ("| C . . G |\n", "| C / / G |"),
    "a simile": ("| C | % | F |\n", "| C | % | F |"),
    "an empty bar": ("| C |   | F |\n", "| C | / / / / | F |"),
    "repeats and endings": ("|: C | F |1. G :|2. C ||\n", "|: C | F |1. G :|2. C ||"),
    "three chords in four beats": ("| C F G |\n", "| C / F G |"),
    "no bars where none are": ("C  F  G  C\n", "C F G C"),
    "chords joined by dashes": ("C - G - Am-F\n", "C G Am F"),
    "arrows": ("C -> G => Am\n", "C G Am"),
    "bass runs": ("C  /B  Am  /G\n", "C /B Am /G"),
    "bass run in words": ("C (walk down: C B A)  Am\n", 'C "walk down: C B A" Am'),
    "true flats and sharps": ("B♭  F♯m7♭5\n", "Bb F#m7(b5)"),
    "German names": (
        "Hm  G  A  B\n",
        "Bm G A Bb",
    ),
    "syllables": ("DO  SOL  LAm  FA\nLAm FA DO SOL\n", "C G Am F\nAm F C G"),
    "a line sung on": (
        "C\nthe first line\nthe second line\n",
        "C\n: the first line the second line",
    ),
    "words that look like chords": (
        "C           G\nA dad and Add\n\nAm I a man\n",
        ("C G\n: A dad and / Add\n\n: Am I a man"),
    ),
    "melisma": ("C      G\nho____ me__\n", "C G\n: ho / me"),
    "verses under one row": (
        "C       G\n1. one  two\n2. tri  quad\n",
        "C G\n1: one / two\n2: tri / quad",
    ),
    "a numbered line of one word": (
        "C      G\n1. Ab  Em\n",
        "C G\n1: Ab / Em",
    ),
    "rows of chords with numbers": ("1. C  G\n2. F  G\n", '"1." C G\n"2." F G'),
    "a verse under its heading, without chords": (
        "Verse 1\nC    G\nlow tide tonight\nF\nand home\n\n"
        "Verse 2\nthe lamp burns bright\nand on\n",
        "== Verse 1\nC G\n: low / tide tonight\nF\n: and home\n"
        "== Verse 2 as Verse 1\n: the / lamp burns bright\n: and on",
    ),
    "a verse without heading or chords": (
        "C        G\nlow tide tonight\nF\nand home\n\nthe lamp burns bright\nand on\n",
        "C G\n1: low tide / tonight\n2: the lamp / burns bright\nF\n1: and home\n2: and on",
    ),
    "a chorus of which only the name is typed": (
        "Chorus\nC\nhold on\n\nVerse\nF\none\n\nChorus (x2)\n",
        ("== Chorus\nC\n: hold on\n== Verse\nF\n: one\n== Chorus x2"),
    ),
    "a verse of another length, without chords": (
        "Verse 1\nC\none\n\nVerse 2\nalpha\nbeta\n",
        ("== Verse 1\nC\n: one\n== Verse 2\n: alpha\n: beta"),
    ),
    "tablature is left out": ("C\none\n\ne|--0--1--|\nB|--1--3--|\n", "C\n: one"),
    "trailing signs": ("C*  G,  Am...\n", "C G Am"),
    "marks": ("| C | G (D.S. al Coda) |\n", "| C | G @D.S. al Coda |"),
    "a remark between rows": ("C\none\n(half time)\nG\ntwo\n", 'C\n: one\n"half time"\nG\n: two'),
    "numbers before section names": (
        "1. Strophe:\nAm       Dm\nWenn der Regen fällt\n\nRefrain:\nF    G\nkomm heim\n"
        "\nÜberleitung:\nE7\n\nZwischenspiel (2x)\nAm Dm\n",
        "== 1. Strophe\nAm Dm\n: Wenn der / Regen fällt\n== Refrain\nF G\n: komm / heim\n"
        "== Überleitung\nE7\n== Zwischenspiel x2\nAm Dm",
    ),
    "French names and sections": (
        "Couplet 1\nLam      Rém\nQuand la pluie descend\nSol      Do\nau bord de l’eau\n"
        "\nRefrain :\nFa    Sol\nreviens\n\nPont\nMi7\nah\n",
        (
            "== Couplet 1\n"
            "Am Dm\n"
            ": Quand la / pluie descend\n"
            "G C\n"
            ": au bord / de l’eau\n"
            "== Refrain\n"
            "F G\n"
            ": re- / viens\n"
            "== Pont\n"
            "E7\n"
            ": ah"
        ),
    ),
    "Spanish names and sections": (
        "Estrofa 1:\nLAm      REm\nCuando llueve aquí\n\nEstribillo (x2):\n"
        "FA   SOL    DO\nvuelve a mi casa\n\nPuente musical:\nMI7 LAm\n",
        "== Estrofa 1\nAm Dm\n: Cuando / llueve aquí\n== Estribillo x2\nF G C\n"
        ": vuelve / a mi / casa\n== Puente musical\nE7 Am",
    ),
    "times behind words and bars": (
        "Intro: Am G F E (x4)\n\nVerse 1 (x2)\nAm        G\nPull the oars  x2\n\n"
        "Chorus  2x\nF   E\npull  (repeat)\n\n||: Am | G | F | E :|| x3\n",
        (
            "== Intro x4\n"
            "Am G F E\n"
            "== Verse 1 x2\n"
            'Am G "x2"\n'
            ": Pull the / oars\n"
            "== Chorus x2\n"
            "F E\n"
            ": pull / (repeat)\n"
            "|: Am | G | F | E :| x3"
        ),
    ),
    "several chords in parentheses": (
        "Verse\n(G)        (Em)\nmaybe you will\nC              (D - D7)\n"
        "maybe you won't\nC  (Am7/G)  N.C.  (tacet)  G(no3)\none two three four\n",
        "== Verse\n(G) (Em)\n: maybe you / will\nC (D) (D7)\n: maybe you won't / /\n"
        "C (Am7/G) N.C. (N.C.) G5\n: one / two / three four / /",
    ),
    "bass runs and chords behind": (
        "Am   Am/G   F#dim   F   (C/E Dm7 C)\nwalking down the stairway\n"
        "G - G/F - C/E - (run: E F F# G) - G\ngo\nC \\ B \\ Am\n",
        (
            "Am Am/G F#dim F (C/E) (Dm7) (C)\n"
            ": wal- / king down / the stair- / way / / /\n"
            'G G/F C/E "run: E F F# G" G\n'
            ": go / / /\n"
            'C "\\" B "\\" Am'
        ),
    ),
    "chords behind words": (
        "The harbour sleeps tonight   G  D\nand no one sings along    Em  C\n",
        "G D\n: The harbour sleeps tonight / /\nEm C\n: and no one sings along / /",
    ),
    "rows of chords alone": (
        "Instrumental\nAm7  D9  Gmaj7  Cmaj7\nF#m7b5  B7b9  Em  Em\n"
        "Am7  D9  Gmaj7  Cmaj7\nF#m7b5  B7b9  Em  E7#9\n",
        "== Instrumental\nAm7 D9 Gmaj7 Cmaj7\nF#m7(b5) B7(b9) Em Em\nAm7 D9 Gmaj7 Cmaj7\n"
        "F#m7(b5) B7(b9) Em E7(#9)",
    ),
    "tablature in several manners": (
        "Riff (twice):\n\ne|-----------------|-----------------|\n"
        "B|-----------------|-----------------|\nG|--2---2---2---2--|--2h4-4p2--------|\n"
        "D|--2---2---2---2--|-----------4--2--|\nA|--0-----0-----0--|-----------------|\n"
        "E|-----------------|-----------------|\n\nVerse\nA         D\n"
        "Stones in my shoe\nE|--3--\nE ----------0-2-3---\nA -0-2-3------------\n",
        "== Riff x2\n== Verse\nA D\n: Stones in / my shoe",
    ),
    "too few and too many beats": (
        "| G / / / | C / D / | Em // D/F# / | G / / |\n"
        "| Am7 . D7 . | G . . . | % | /  / |\n  one two   three\n",
        "| G / / / | C / D / | Em / D/F# / | G / / / |\n"
        "| Am7 / D7 / | G / / / | % | / / / / |\n: | one / two | three | | |",
    ),
    "full-width letters": (
        "Ａメロ\nＣ\u3000\u3000\u3000\u3000Ｇ\n海の底から\nC     G   Am\n光が 見える 朝\n",
        "== Aメロ\nC G\n: 海の底 / から\nC G Am\n: 光が / 見える / 朝",
    ),
    "words of chords' letters": (
        "Verse\nA       E        A\nA boat, Ed, a boat\nD     A\nBe a Bee\n",
        "== Verse\nA E A\n: A boat, / Ed, a / boat\nD A\n: Be a / Bee",
    ),
    "a quoted mail": (
        "> Verse 1\n> C        G\n> The gate is wide\n> Am       F\n> come in, come in\n"
        ">\n> Chorus\n> F   C\n> oh my\n",
        "== Verse 1\nC G\n: The gate / is wide\nAm F\n: come in, / come in\n== Chorus\n"
        "F C\n: oh / my",
    ),
    "a last line and a note": (
        "Outro: C - F - C (fade out)\nEnd on C!\n\nNotes: play it slow\n",
        ('== Outro\nC F C "fade out"\n== End\nC!\n"Notes: play it slow"'),
    ),
    "how long chords last": (
        "Verse\nC(2) G(2) Am(4)\none two three\nC*4 G*2\nfour\nDm7♭5  G7♯5  C∆  B°7  Eø\n"
        "low\nC7sus  Bbmaj7#11 A7(#5,#9) Gm7/add11\nhigh\n",
        (
            "== Verse\n"
            'C "2" G "2" Am "4"\n'
            ": one / two / three\n"
            'C "4" G "2"\n'
            ": four /\n"
            "Dm7(b5) G7(#5) Cmaj7 Bdim7 Em7(b5)\n"
            ": low / / / /\n"
            "C7sus4 Bbmaj7(#11) A7(#5,#9) Gm7(11)\n"
            ": high / / /"
        ),
    ),
    "stanzas with numbers alone": (
        "1.\nC    G\nOne two\n\n2.\nC    G\nThree four\n\nR: \nF  C\nla la la\n",
        "== 1.\nC G\n: One / two\n== 2.\nC G\n: Three / four\n== R\nF C\n: la / la la",
    ),
    "a chorus called for again": (
        "Chorus:\nC  G\nhold on\n\nVerse 1:\nAm  F\nlet go\n\nRepeat Chorus\n\nVerse 2:\n"
        "All is so\n\n(Chorus)\nChorus x2\nCoda:\nG C\n",
        (
            "== Chorus\n"
            "C G\n"
            ": hold / on\n"
            "== Verse 1\n"
            "Am F\n"
            ": let / go\n"
            "== Chorus\n"
            "== Verse 2 as Verse 1\n"
            ": All / is so\n"
            "== Chorus\n"
            "== Chorus x2\n"
            "== Coda\n"
            "G C"
        ),
    ),
    "Windows line ends and typographic quotes": (
        "[Intro]\r\nG  D/F#  Em7  Cadd9\r\n\r\n[Verse 1]\r\nG             D/F#\r\n"
        "Don’t you say I’m “late” again\r\nEm7        Cadd9   (D)\r\n"
        "I’ve been waiting — all along…\r\n",
        "== Intro\nG D/F# Em7 Cadd9\n== Verse 1\nG D/F#\n"
        ": Don’t you say / I’m “late” again\nEm7 Cadd9 (D)\n"
        ": I’ve been / waiting — / all along…",
    ),
    "tabs before every line": (
        "Verse:\n\tAm\t\tF\n\tRiver run\tdown to me\n\tC\tG\tG7\n\tcarry\tthe\tsea\n",
        "== Verse\nAm F\n: River run / down to me\nC G G7\n: carry / the / sea",
    ),
    "unbreakable blanks": (
        "Verse\nC\xa0\xa0\xa0\xa0\xa0\xa0G\nLow\xa0tide home\n",
        "== Verse\nC G\n: Low / tide home",
    ),
    "a silent e": (
        "C      G\nlow tide, home\n",
        "C G\n: low / tide, home",
    ),
    "a chord over the end of a word": (
        "C     G\nlittle one\n",
        "C G\n: little / one",
    ),
    "a mail with an empty line after every line": (
        "Verse 1:\n\nC        G\n\nlow tide home\n\nAm       F\n\nand away\n",
        "== Verse 1\nC G\n: low tide / home\nAm F\n: and away /",
    ),
    "a mark on a line of its own": (
        "C  F\nlow tide\nD.C. al Fine\n\nOutro\nC\nFine\n",
        "C F @D.C. al Fine\n: low / tide\n== Outro\nC @fine",
    ),
    "a remark behind a section's name": (
        "[Chorus] (softly)\nC\none\n",
        "== Chorus (softly)\nC\n: one",
    ),
    "a pick-up bar": ("C / | F | G |\n", "C / | F | G |"),
    "a pick-up that shares a beat": ("C,/ _, F | G |\n", "C,/ _,F | G |"),
    "meters in their bars": (
        "  | 2/4 G | 4/4 C / / F |\n    we go   home     now\n\n| C / / / |\n",
        "| 2/4 G | 4/4 C / / F |\n: | we go | home / now |\n| C / / / |",
    ),
    "a meter before the first bar line": ("3/4 | C F G | C |\n", "| 3/4 C F G | C |"),
    "a meter between bar lines of its own": ("| C | (3/4) | F G C |\n", "| C | 3/4 F G C |"),
    "a meter inside a bar is a remark": ("| C 3/4 G |\n", '| C "3/4" G |'),
    "a word before the first bar line": ("Loud | C | G |\n", '| "Loud" C | G |'),
    "bars of rest": (
        "| C | rest | rest 4 (drums alone) | (4 bars rest) | tacet |\n| tacet 8 |\n"
        "| Rest (2) | 16 bars' rest | C | rest x3 ||\n",
        '| C | rest | "drums alone" rest 4 | rest 4 | N.C. |\n| rest 8 |\n'
        "| rest 2 | rest 16 | C | rest 3 ||",
    ),
    "the word rest sung between bar lines": (
        "| C    | F    | G  |\n| and  | rest |    |\n",
        "| C | F | G |\n: | and | rest | |",
    ),
    "a rest in brackets between rows": ("C\n(4 bars rest)\nG\n", "C\n| rest 4 |\nG"),
    "rests on lines of their own": (
        "Song\n\nVerse\nC   G\nlow tide\n\n8 bars rest\ntacet 2\n(Rest 3)\n4 Takte Pause\n"
        "C\nhome\n",
        "== Verse\nC G\n: low / tide\n| rest 8 |\n| rest 2 |\n| rest 3 |\n| rest 4 |\nC\n: home",
    ),
    "chords struck again and held within a beat": (
        "| Gm7,/ / / _,C9 | _ / / / | Gm7,_,_,/ _,/ _,C9, F / |\n",
        "| Gm7,/ / / _,C9 | _ / / / | Gm7,_,_,/ _,/ _,C9,F / |",
    ),
    "words under chords off the beat": (
        "| C,/ / / _,F   | _ / G,   A / |\n  low       tide      home to me\n",
        "| C,/ / / _,F | _ / G,A / |\n: | low / tide | / home / to me |",
    ),
    "signs around chords in parentheses": (
        "| (A7(#5,#9)),/ _,(Bb7(b9)),/ / <(C) | _,<(C)!,_ / / / |\n",
        "| (A7(#5,#9)),/ _,(Bb7(b9)),/ / <(C) | _,<(C)!,_ / / / |",
    ),
    "underscores that fill a bar and that count": (
        "| C _ F | C _ _ F |\nC _ G,/ _\n",
        "| C F | C _ _ F |\nC G",
    ),
    "a row of holds": ("| C |\n| _ _ _ _ | rest 2 |\n", "| C |\n| _ _ _ _ | rest 2 |"),
    "holds after words without chords": (
        "C G\n\n== B\nlow tide\n| _ _ _ _ | C |\n",
        ("C G\n== B\n: low tide\n| _ _ _ _ | C |"),
    ),
    "nothing to hold yet": ("| _ / / _,C | _,F / / / |\n", "| / / / /,C | _,F / / / |"),
    "too much in one beat": (
        "| C,/,/,/,/ / F G |\n| C,D,E,F,G A B C |\n",
        "| C / F G |\n| C,D E,F G,A B,C |",
    ),
    "more chords than a bar can hold": (
        "| 2/4 C D E F G A B C D | C |\n",
        '"2/4" C D E F G A B C D C',
    ),
    "repeats in brackets and colons": (
        "C  G\nlow tide\n[: C G :]\n[: C | G :] x2\n||: C G :||\n/: Am F :/\n(: C G :)\n"
        "[:C G:]\n|:F|C:|\n",
        (
            "C G\n"
            ": low / tide\n"
            "|: C G :|\n"
            "|: C | G :|\n"
            "|: C G :|\n"
            "|: Am F :|\n"
            "|: C G :|\n"
            "|: C G :|\n"
            "|: F | C :|"
        ),
    ),
    "chords in brackets on a row of their own": (
        "Song\n\n[C] [G]\nlow tide\n[C G Am]\n{F  G}\nwe  go\n[Am7]\nhome\n",
        "C G\n: low / tide\nC G Am\nF G\n: we / go\nAm7\n: home",
    ),
    "chords in brackets so many times": (
        "(C G)x2\n(C G Am) (x2)\n[F C] 2x\n(G) (Em)\nlow tide\n",
        "C G C G\nC G Am C G Am\nF C F C\n(G) (Em)\n: low / tide",
    ),
    "letters in brackets that name sections": (
        "[A]\nC   G\nlow tide\n\n[B]\nF\nhome\n\n[A]\n",
        ("== A\nC G\n: low / tide\n== B\nF\n: home\n== A"),
    ),
    "letters in brackets that are chords": (
        "[G]\nlow tide\n[C]\nhome\n",
        "G\n: low tide\nC\n: home",
    ),
    "chords behind a name without a colon": (
        "Intro chords G C\n[Verse: C G]\nSolo - C G Am F\nOutro  F  C (x2)\n",
        ("== Intro\nG C\n== Verse\nC G\n== Solo\nC G Am F\n== Outro x2\nF C"),
    ),
    "what tells of chords and is none": (
        "Song\n\nVerse\nG     C\nlow tide\nChords used: G C D\nTuning: E A D G B E\n"
        "Am = x02210\nF       C\nwalk home\n",
        "== Verse\nG C\n: low / tide\nF C\n: walk / home",
    ),
    "two columns": (
        "Paper Boats\n\n"
        "Verse 1:                         Chorus:\n"
        "G            D                   C         G\n"
        "low tide at the door             hold on to the rope\n"
        "Em           C                   Am        D\n"
        "and nobody home                  we are not alone\n"
        "G            D\n"
        "the lantern is lit               Verse 2:\n"
        "                                 G         D\n"
        "                                 a second tide comes\n"
        "\nOutro\nG\nand home\n",
        "== Verse 1\nG D\n: low tide at / the door\nEm C\n: and nobody / home\nG D\n"
        ": the lantern / is lit\n== Chorus\nC G\n: hold on to / the rope\nAm D\n"
        ": we are not / alone\n== Verse 2\nG D\n: a second / tide comes\n== Outro\nG\n: and home",
    ),
    "a left column that ends below the right one": (
        "Heron Hours\n\n"
        "Verse 1                     Chorus\nF      C                    Bb     C\n"
        "Heron  one                  Hours  go\nDm     Bb                   F      F\n"
        "reeds  now                  on     on\nVerse 2                     Bridge\n"
        "F      C                    Gm     C\nWater  runs                 slow   as\n"
        "Dm     Bb                   Gm     C7\nover   stones               stones\n"
        "F      C\ndown   and\n\nVerse 3\nF  C\nto the sea\n",
        "== Verse 1\nF C\n: Heron / one\nDm Bb\n: reeds / now\n== Verse 2\nF C\n: Water / runs\n"
        "Dm Bb\n: over / stones\nF C\n: down / and\n== Verse 3\nF C\n: to / the sea\n"
        "== Chorus\nBb C\n: Hours / go\nF F\n: on / on\n== Bridge\nGm C\n: slow / as\n"
        "Gm C7\n: stones /",
    ),
    "a right column that ends below the left one": (
        "Heron Hours\n\n"
        "Verse 1                     Chorus\nF      C                    Bb     C\n"
        "Heron  one                  Hours  go\nDm     Bb                   F      F\n"
        "reeds  now                  on     on\nF      C\n"
        "Water  runs                 Verse 2\nDm     Bb                   (as the first)\n"
        "over   stones               Heron  two\n                            stones then\n",
        (
            "== Verse 1\n"
            "F C\n"
            ": Heron / one\n"
            "Dm Bb\n"
            ": reeds / now\n"
            "F C\n"
            ": Water / runs\n"
            "Dm Bb\n"
            ": over / stones\n"
            "== Chorus\n"
            "Bb C\n"
            ": Hours / go\n"
            "F F\n"
            ": on / on\n"
            "== Verse 2\n"
            '"as the first"\n'
            "F C\nDm Bb\nF C\nDm Bb\n\n"
            ": Heron two\n"
            ": stones then"
        ),
    ),
    "three columns": (
        "Verse 1         Verse 2         Chorus\nF      C        F      C        Bb     C\n"
        "Heron  one      Heron  two      Hours  go\nDm     Bb       Dm     Bb       F      F\n"
        "reeds  now      stones then     on     on\n",
        "== Verse 1\nF C\n: Heron / one\nDm Bb\n: reeds / now\n== Verse 2\nF C\n: Heron / two\n"
        "Dm Bb\n: stones / then\n== Chorus\nBb C\n: Hours / go\nF F\n: on / on",
    ),
    "verses side by side over a third": (
        "Verse 1                    Verse 2\nF                          C\n"
        "Heron in the shallows      Heron in the reeds\n\nVerse 3\nG\nHeron in the sky\n",
        "== Verse 1\nF\n: Heron in the shallows\n== Verse 2\nC\n: Heron in the reeds\n"
        "== Verse 3\nG\n: Heron in the sky",
    ),
    "verses side by side over the second": (
        "Verse 1                    Verse 3\nF                          C\n"
        "Heron in the shallows      Heron in the reeds\n\nVerse 2\nG\nHeron in the sky\n",
        "== Verse 1\nF\n: Heron in the shallows\n== Verse 2\nG\n: Heron in the sky\n"
        "== Verse 3\nC\n: Heron in the reeds",
    ),
    "two headings side by side, close together": (
        "Verse 1   Chorus\nC  G      F  G\nlow tide  oh my\nAm F      C  C\nand home  so long\n",
        "== Verse 1\nC G\n: low / tide\nAm F\n: and / home\n== Chorus\nF G\n: oh / my\nC C\n"
        ": so / long",
    ),
    "two columns without headings": (
        "C                          G\n"
        "the third line of all      the seventh line of all\n"
        "    F                           C\n"
        "the fourth and the end     the eighth and the end\n"
        "the first of the lines     the fifth of the lines\n"
        "the second one of them     the sixth one of them\n",
        (
            "C\n"
            ": the third line of all\n"
            "F\n"
            ": the / fourth and the end\n"
            "\n"
            ": the first of the lines\n"
            ": the second one of them\n"
            "G\n"
            ": the seventh line of all\n"
            "C\n"
            ": the / eighth and the end\n"
            "\n"
            ": the fifth of the lines\n"
            ": the sixth one of them"
        ),
    ),
    "words spread out under chords": (
        "C        G\nlow      tide\nF        C\nwalk     home\nAm       F\nand      so\n"
        "C        G\nwe       go\n",
        "C G\n: low / tide\nF C\n: walk / home\nAm F\n: and / so\nC G\n: we / go",
    ),
    "a change before the first chords": (
        "Song\n4/4\n\n== Verse\n(3/4)\n| C F G |\n",
        "== Verse\nmeter: 3/4\n| C F G |",
    ),
}
"""Name to sheet and the body of the chart, blanks evened out."""

HEADS: dict[str, tuple[str, dict[str, str]]] = {
    "title and writer": (
        "Gate in the Wind\nby The Tidewater Five\n\nC\none\n",
        {"title": "Gate in the Wind", "writer": "The Tidewater Five"},
    ),
    "title and writer on a line": (
        "Gate in the Wind - The Tidewater Five\n\n[Verse]\nC\n",
        {"title": "Gate in the Wind", "writer": "The Tidewater Five"},
    ),
    "capo": ("Small Song\nCapo 3\n\nC\none\n", {"capo": "3", "chords": "shapes"}),
    "capo at a fret": ("Small Song\n(capo: 2nd fret)\n\nC\none\n", {"capo": "2"}),
    "capo in German": ("Kleines Lied\nKapodaster\nCapo im 2. Bund\n\nC\neins\n", {"capo": "2"}),
    "capo in Roman": ("Small Song\nCapo IV\n\nC\none\n", {"capo": "4"}),
    "key, meter and tempo": (
        "Small Song\nKey: Bb   3/4   Tempo 92\n\n| Bb |\n",
        {"key": "Bb major", "meter": "3/4", "tempo": "92"},
    ),
    "key of": ("Small Song\nKey of F#m, 120 bpm\n\nC\none\n", {"key": "F# minor", "tempo": "120"}),
    "a mail's own head": (
        "From: Ines\r\nSubject: Fw: “Paper Boats”\r\n\r\n"
        "“Paper Boats” – The Tidewater Five\r\nCapo 2nd fret\r\n\r\n[Intro]\r\n"
        "G  D/F#  Em7  Cadd9\r\n\r\n[Verse 1]\r\nG             D/F#\r\n"
        "Don’t you say I’m “late” again\r\nEm7        Cadd9   (D)\r\n"
        "I’ve been waiting — all along…\r\n",
        {"title": "Paper Boats", "writer": "The Tidewater Five", "capo": "2"},
    ),
    "capo with a remark": (
        "Hill Song\nBy: M. Sandoval\nCapo: 3rd fret (sounds in Eb)\nKey: C\n"
        "Tuning: standard\nBPM: 84\nStrumming: D DU UDU\n\nVerse\nC       Am\n"
        "up on the hill\n",
        {"capo": "3", "chords": "shapes", "writer": "M. Sandoval", "tempo": "84", "key": "C major"},
    ),
    "a key that sounds, over shapes": (
        "Hill Song\nCapo: 3\nKey: Bb\n\nG/D     Em/C\nup on the hill\nD     G\nand down\n",
        {"capo": "3", "chords": "shapes", "key": "G major"},
    ),
    "a minor key that sounds, over shapes": (
        "Hill Song\nCapo: 2\nKey: F#m\n\nEm      C\nup on the hill\nG     D\nand down\n",
        {"capo": "2", "chords": "shapes", "key": "E minor"},
    ),
    "a key that sounds, over what sounds": (
        "Hill Song\nCapo: 3\nKey: Bb\n\nBb      Eb\nup on the hill\nF     Bb\nand down\n",
        {"capo": "3", "chords": "sounding", "key": "Bb major"},
    ),
    "shapes over what sounds, no capo named": (
        "Hill Song\n\nG      C\nA      D\nup on the hill\nD     G\nE     A\nand down\n",
        {"capo": "2", "chords": "sounding"},
    ),
    "rows one under the other that are no shapes": (
        "Hill Song\n\nG  C\nA  D\nD  G\nup on the hill\n",
        {"capo": "None", "chords": "None"},
    ),
    "a tune that goes up a step": (
        "Hill Song\n\nAm F\nBm G\n\nAm F\nBm G\n\nAm F\nBm G\n",
        {"capo": "None", "chords": "None"},
    ),
    "the shapes' own key": (
        "Hill Song\nCapo: 2\nKey: G\n\nG      C\nup on the hill\nD     G\nand down\n",
        {"capo": "2", "chords": "shapes", "key": "G major"},
    ),
    "a title in another language": (
        "Kleines Boot\nTonart: Am\n\n1. Strophe:\nAm       Dm\nWenn der Regen fällt\n\n"
        "Refrain:\nF    G\nkomm heim\n\nÜberleitung:\nE7\n\nZwischenspiel (2x)\nAm Dm\n",
        {"title": "Kleines Boot", "key": "A minor"},
    ),
    "a writer's line without a name": ("Hill Song\nBy:\n\nC\none\n", {"writer": "None"}),
    "tuning is no name": (
        "Hill Song\ntuning: standard\nM. Sandoval\n\n[Verse]\nC\none\n",
        {"title": "Hill Song", "writer": "M. Sandoval", "note": "tuning: standard"},
    ),
    "chords used and shapes of one's own": (
        "Hill Song\nChords used: G C D\nG 320003\nAm = x02210, C: x 3 2 0 1 0\nCapo: 2nd fret\n"
        "Key: G / Bpm: 90\n\nVerse\nG     C\nlow tide\n",
        {
            "title": "Hill Song",
            "writer": "None",
            "note": "Chords used: G C D",
            "shape": "G 320003",
            "capo": "2",
            "key": "G major",
            "tempo": "90",
        },
    ),
    "title and facts on one line": (
        "Small Song       Key of F#m, 120 bpm\n\nC\none\n",
        {"title": "Small Song", "key": "F# minor", "tempo": "120", "feel": "None"},
    ),
    "facts and how the song goes": (
        "Small Song\nKey: G · 6/8 · ♩. = 56 · rocking, two in the bar\n\nC\none\n",
        {"key": "G major", "meter": "6/8", "tempo": "56", "feel": "rocking, two in the bar"},
    ),
    "tuned down": (
        "Small Song\nTuned down a half step\nby Ines Quill\n\nE\none\n",
        {"capo": "-1", "chords": "shapes", "writer": "Ines Quill"},
    ),
    "no title": ("C   G\none two\n", {"title": "None"}),
}
"""Name to sheet and the settings that must come of its heading."""
