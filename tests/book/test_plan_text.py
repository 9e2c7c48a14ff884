"""The night's plan in words."""

from dataclasses import replace

from chartkit.advise.set_steps import Offer, SetStep
from chartkit.book.night import planned_night
from chartkit.book.plan_reasons import Reason
from chartkit.book.plan_sheet import plan_sheet
from chartkit.book.plan_text import changes_words, plan_lines, reason_words
from chartkit.book.player_plan import Changes, PlayerPlan
from chartkit.book.set_list import Player
from chartkit.theory.capo import Capo
from tests.book.sets import PLAYERS, chart, night_of, set_text
from tests.book.test_books import BROKEN
from tests.each import each

ALONE = Changes(3, 0, 0, 30.0, 1.0)
CAPO_3 = Offer(0, Capo(3), 0.0)


def plan_for(reasons: tuple[Reason | None, ...], guitar: int = 0) -> PlayerPlan:
    """A plan of songs at capo 2 on a guitar, where capo 3 on the first guitar would be best."""
    return PlayerPlan(
        player=Player("Bo", beside="Ada"),
        steps=(SetStep(Offer(guitar, Capo(2), 0.5), 0.0),) * len(reasons),
        changes=Changes(0, 0, 0, 0.0, 1.0),
        best=(CAPO_3,) * len(reasons),
        one_by_one=ALONE,
        reasons=reasons,
    )


@each(
    ("plan", "words"),
    [
        (
            plan_for((None, "beside", "beside", "beside")),
            "Songs 2, 3 and 4: not the best capo, to keep clear of Ada.",
        ),
        (
            plan_for(("no pause", "no pause", "fewer changes")),
            "Songs 1 and 2: not the best capo, since songs run straight on. "
            "Song 3: not the best capo, to save changes.",
        ),
        (
            plan_for((None, "fewer changes"), guitar=1),
            "Song 2: not the best guitar and capo, to save changes.",
        ),
    ],
)
def test_what_the_plan_gives_up_and_why(plan: PlayerPlan, words: str) -> None:
    """Songs that are not played where they lie best are named by reason, beside what playing each
    where it lies best would take."""
    assert reason_words(plan) == (
        f"The best capo for each song would take 3 capo moves: 30 s. {words}"
    )


def test_a_plan_that_gives_nothing_up_says_so() -> None:
    """Where every song is played where it lies best, that is all there is to say."""
    assert reason_words(plan_for((None, None))) == "Every song is played where it lies best."


def test_changes_without_a_pause_are_counted() -> None:
    """What the adviser's first choices would ask for where nobody has a hand free is said, since
    the plan gives up easier shapes for that."""
    assert changes_words(replace(ALONE, without_pause=1)) == "3 capo moves, 1 without a pause: 30 s"


def lines_of(texts: dict[str, str], set_file: str, free: bool = False) -> list[str]:
    """The plan of a set, line by line."""
    night = night_of(texts, set_file)
    return list(plan_lines(night, planned_night(night, free)))


def test_a_song_that_cannot_be_used_is_not_one_sat_out() -> None:
    """The plan tells a broken chart from a song that the player sits out."""
    texts = {"a.chart": chart("Alpha"), "b.chart": BROKEN, "c.chart": chart("x" * 60)}
    set_file = set_text([f'chart = "{name}"' for name in texts])
    set_file = set_file.replace('"guitar"', '"guitar"\nsits_out = [3]')
    lines = lines_of(texts, set_file)
    assert any(line.endswith("its chart cannot be used.") for line in lines)
    (cut,) = [line for line in lines if line.endswith("you sit this one out.")]
    assert f"3. {'x' * 27}…  you" in cut


def test_a_free_order_is_given_in_the_files_numbers() -> None:
    """A free order is given as numbers of the set file, so that songs of one title are told
    apart and the order can be copied."""
    texts = {
        f"{n}.chart": chart("Twice", key).replace("tempo: 100", f"tempo: {tempo}")
        for n, (key, tempo) in enumerate((("C", 60), ("C", 80), ("Db", 100), ("D", 120)), 1)
    }
    songs = [f'chart = "{name}"' for name in texts]
    lines = lines_of(texts, set_text(songs), free=True)
    assert "Order, by the numbers in the file: 1, 3, 2, 4." in lines
    assert not any(line.startswith("Notes") for line in lines)
    noted = [f'{song}\nnote = "note {n}"' if n > 1 else song for n, song in enumerate(songs)]
    said = 'Notes went with their songs: 2. Twice ("note 2").'
    assert said in lines_of(texts, set_text(noted), free=True)


def test_the_drawn_plan_says_what_to_change() -> None:
    """The plan's PDF has after the timelines a page for each guitarist with every change."""
    from io import BytesIO

    from pypdf import PdfReader

    texts = {"a.chart": chart("Alpha"), "b.chart": chart("Beta", "Eb")}
    songs = ['chart = "a.chart"\ncapo = 2', 'chart = "b.chart"\ncapo = 3']
    night = night_of(texts, set_text(songs))
    pages = PdfReader(BytesIO(plan_sheet(night, planned_night(night)))).pages
    assert len(pages) == 2
    assert "Move the capo from 2 to 3." in pages[1].extract_text()
    assert "where it lies best" in pages[0].extract_text()


def test_what_running_straight_on_costs_is_said() -> None:
    """A song that loses every open shape because there is no pause is named with that, and the
    timeline says how much of its time was open where it lies best."""
    plan = plan_for(("no pause", "no pause"))
    best = CAPO_3._replace(open_share=0.9)
    steps = [SetStep(Offer(0, Capo(), 2.0, open_share=share), 0.0) for share in (0.0, 0.4)]
    plan = replace(plan, best=(best, best), steps=tuple(steps))
    assert reason_words(plan).endswith(
        "Songs 1 and 2: not the best capo, since songs run straight on; no open shape is left in "
        "song 1."
    )


SLOW = "title: Slow\nkey: Ab\ntempo: 68\n== A\n| Ab | Eb/G | Fm7 | Db | Eb | Ab | Cm | Db |\n"
CLOSED = (
    "title: Closed\nkey: {key}\ntempo: 120\n== A\n"
    "| Bmaj7 | G#7(b9) | C#m9 | F#13 | D#m7(b5) | G#7(b9) | C#m9 | F#7(b9) |\n"
)


def test_no_song_is_left_without_open_shapes_for_the_next() -> None:
    """A slow song in A flat keeps its open shapes before one on closed grips, which can be played
    under a capo too, whether or not it runs straight on."""
    texts = {"a.chart": SLOW, "b.chart": CLOSED.format(key="B")}
    for straight in ("", "\nstraight_into_next = true"):
        night = night_of(texts, set_text([f'chart = "a.chart"{straight}', 'chart = "b.chart"']))
        (tobias,) = planned_night(night).players
        steps = [step for step in tobias.steps if step is not None]
        assert (steps[0].offer.open_share or 0.0) > 0.4
        assert len(steps) == 2
        if straight:
            assert steps[1].seconds == 0


def test_a_player_of_a_part_has_a_line() -> None:
    """Who plays a part made for the night stands in the plan too, with nothing to change."""
    band = '\n[[players]]\nname = "Ada"\nreads = "both"\ninstrument = "guitar"\n'
    band += '\n[[players]]\nname = "Bo"\nreads = "both"\ninstrument = "guitar"\npart = true\n'
    lines = lines_of({"a.chart": chart("Alpha")}, set_text(['chart = "a.chart"'], band))
    after = lines[lines.index("Bo") + 1]
    assert after == "  Plays a part beside Ada, without a capo; nothing to change."


def test_who_has_nothing_to_set_up_has_one_line() -> None:
    """A ukulele player without a capo reads that nothing changes, not that of every song, and is
    not told "no capo"; the legend has no sign for it."""
    band = PLAYERS.replace('instrument = "guitar"', 'instrument = "ukulele"')
    texts = {"a.chart": chart("Alpha"), "b.chart": chart("Beta", "Eb")}
    lines = lines_of(texts, set_text([f'chart = "{name}"' for name in texts], band))
    assert [one for one in lines[lines.index("Bo") :] if one][:2] == [
        "Bo",
        "  Nothing to change all night.",
    ]
    assert "capo" not in " ".join(lines)


def test_the_price_of_a_capo_on_a_guitar_tuned_down_is_named() -> None:
    """Both ways are open to whoever brings a guitar tuned down: the plan says which songs would
    need no capo in normal tuning, which would have it lower, and how long tuning up takes: six
    strings at 5 s and 8 s for the check, as the guide says.  The legend of the
    timeline explains the capo there too.  A guitar in normal tuning says nothing of that."""
    keys = {"G": "G C D G", "Bb": "Bb Eb F Bb", "Eb": "Eb Ab Bb7 Eb"}
    texts = {
        f"{key}.chart": f"title: In {key}\nkey: {key}\n\n== A\n| {chords.replace(' ', ' | ')} |\n"
        for key, chords in keys.items()
    }
    usual = set_text([f'chart = "{name}"' for name in texts])
    down = usual.replace('"guitar"', '"guitar"\nguitars = [{ name = "blue", tuned_down = 1 }]')
    lines = lines_of(texts, down)
    (line,) = [line for line in lines if "tuned up" in line]
    assert "3 = capo on fret 3" in lines[-1]
    assert line.strip() == (
        "With the guitar tuned up a half step (38 s), song 1 would need no capo, and song 2 would "
        "have it a fret lower."
    )
    assert not any("tuned up" in line for line in lines_of(texts, usual))


TWO_GUITARS = PLAYERS.replace(
    'instrument = "guitar"',
    'instrument = "guitar"\nguitars = [{ name = "six" }, { name = "low", tuned_down = 1 }]',
)


@each(
    ("keys", "said"),
    [
        (
            ("Eb", "Bb", "A", "D", "F"),
            "changes take 21 s, not 12 s; easier to play: 1. Song 1 (down 1 on low, not capo 1 "
            "on six).",
        ),
        (
            ("B", "Cm", "Bb", "B", "A"),
            "changes take 27 s, not 24 s; easier to play: 1. Song 1 (down 1 on low, not capo 2 on "
            "six), 3. Song 4 (down 1 on low, not capo 2 on six); harder to play: 2. Song 3 "
            "(down 1, capo 2 on low, not capo 1 on six).",
        ),
    ],
)
def test_what_a_free_order_gains_is_said(keys: tuple[str, ...], said: str) -> None:
    """A free order says what it changes for each guitarist against the file's: the time of changes,
    and which songs lie better or not so well, as the two plans have it."""
    texts = {
        f"{n}.chart": chart(f"Song {n}", key).replace("tempo: 100", f"tempo: {40 + 20 * n}")
        for n, key in enumerate(keys, 1)
    }
    night = night_of(texts, set_text([f'chart = "{name}"' for name in texts], TWO_GUITARS))
    plan, before = planned_night(night, True), planned_night(night)
    assert f"Bo, against the file's order: {said}" in list(plan_lines(night, plan))
    gaps = {
        number: step.offer.score_gap
        for number, step in zip(before.order, before.players[0].steps, strict=True)
        if step is not None
    }
    easier, _, harder = said.partition("harder")
    for number, step in zip(plan.order, plan.players[0].steps, strict=True):
        assert step is not None
        name, gap = f" Song {number + 1} ", step.offer.score_gap
        assert (name in easier, name in harder) == (gap < gaps[number], gap > gaps[number])
    assert not any("file's order" in line for line in plan_lines(night, before))


def test_neighbours_that_a_free_order_parts_are_counted() -> None:
    """Songs alike that follow one another in the file's order are counted where the free one parts
    them."""
    texts = {f"{n}.chart": chart(f"Song {n}", key) for n, key in enumerate("CGGDE")}
    for (name, text), tempo in zip(texts.items(), (60, 80, 100, 120, 140), strict=True):
        texts[name] = text.replace("tempo: 100", f"tempo: {tempo}")
    night = night_of(texts, set_text([f'chart = "{name}"' for name in texts]))
    lines = list(plan_lines(night, planned_night(night, True)))
    assert any(line.startswith("In the file's order 1 song follows one in") for line in lines)
