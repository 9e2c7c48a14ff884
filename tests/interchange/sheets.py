"""Messy sheets as they come in mail, each with the chart body that must come of it.

All songs are invented.
"""

SHEETS: dict[str, tuple[str, str]] = {
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
        "C\n: the lant- / erns",
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
        "C G (Am) (G)\n: and so we go / home /  /",
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
        "C G\n: A dad and / Add Am I a man",
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
        "== Chorus\nC\n: hold on\n== Verse\nF\n: one\n== Chorus as Chorus x2\n: hold on",
    ),
    "a verse of another length, without chords": (
        "Verse 1\nC\none\n\nVerse 2\nalpha\nbeta\n",
        "== Verse 1\nC\n: one\n== Verse 2\nN.C.\n: alpha\nN.C.\n: beta",
    ),
    "tablature is left out": ("C\none\n\ne|--0--1--|\nB|--1--3--|\n", "C\n: one"),
    "trailing signs": ("C*  G,  Am...\n", "C G Am"),
    "marks": ("| C | G (D.S. al Coda) |\n", "| C | G @D.S. al Coda |"),
    "a remark between rows": ("C\none\n(half time)\nG\ntwo\n", 'C\n: one\n"half time"\nG\n: two'),
    "a pick-up bar": ("C / | F | G |\n", "C / | F | G |"),
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
    "no title": ("C   G\none two\n", {"title": "None"}),
}
"""Name to sheet and the settings that must come of its heading."""
