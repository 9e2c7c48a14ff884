"""The plan of a set: which guitar, which capo, and what is pinned."""

from itertools import permutations
from pathlib import Path

import pytest

from chartkit.advise.ranking import rank_options
from chartkit.advise.set_order import ALIKE_COST
from chartkit.advise.set_steps import PlannedSong, steps_cost
from chartkit.advise.settings import AdviceSettings, CapoPrices
from chartkit.book.night import Night, moved_night, planned_in_order, planned_night
from chartkit.book.night_plan import NightPlan
from chartkit.book.offers import OVERLAP_COST
from chartkit.book.plan_text import reordered_lines
from chartkit.book.player_plan import PlayerPlan
from chartkit.book.workshop import Workshop
from chartkit.diagnostics import Source
from chartkit.disk_cache import DiskCache
from chartkit.fretboard.instruments import GUITAR
from chartkit.syntax.reader import read_chart
from tests.book.sets import chart, night_of, set_text

EXAMPLES = Path(__file__).resolve().parent.parent.parent / "examples"


def plan_of(songs: list[str], player: str, texts: dict[str, str]) -> PlayerPlan:
    """The only player's plan of a set."""
    set_file = set_text(songs, f'\n[[players]]\nname = "Bo"\nreads = "both"\n{player}\n')
    return planned_night(night_of(texts, set_file)).players[0]


def taken(plan: PlayerPlan) -> list[tuple[int, int, int]]:
    """Guitar, capo and half steps down of each song."""
    return [
        (step.offer.guitar, step.offer.option.fret, step.offer.option.tuned_down)
        for step in plan.steps
        if step is not None
    ]


OPEN_G = 'guitars = [{ name = "slack", tuning = "open G" }, { name = "cedar" }]'


def test_a_song_goes_to_the_guitar_it_lies_well_on() -> None:
    """Where a song lies far better on one guitar of a player, that one is taken, even if it is
    not the first: guitars of different tunings are held against each other."""
    song = "title: Low\nkey: Em\n\n== A\n| Em | Am | B7 | Em |\n"
    plan = plan_of(['chart = "a.chart"'], OPEN_G, {"a.chart": song})
    assert [guitar for guitar, *_ in taken(plan)] == [1]
    assert plan.changes.score_gap == 0.0
    assert plan.one_by_one.score_gap == 0.0


def test_the_charts_own_easy_capo_stays_on_between_songs_that_have_it() -> None:
    """A swing song in B flat, with G shapes in its chart, between two songs with capo 3: the capo
    stays where it is.  It comes off where the chart names none, is played in another key, or a
    song without a capo is beside it."""
    closed = (EXAMPLES / "kettle-on-the-hob.chart").read_text()
    high = (EXAMPLES / "paper-harbour.chart").read_text()
    bare = closed.replace("capo: 3", "#", 1)
    texts = {"high.chart": high, "swing.chart": closed, "bare.chart": bare}
    around = 'chart = "high.chart"\ncapo = 3'
    for middle, fret in (
        ('chart = "swing.chart"', 3),
        ('chart = "bare.chart"', 0),
        ('chart = "swing.chart"\nshift = 2', 0),
    ):
        plan = plan_of([around, middle, around], 'instrument = "guitar"', texts)
        assert [capo for _, capo, _ in taken(plan)] == [3, fret, 3], middle
    off = 'chart = "high.chart"\ncapo = 0'
    plan = plan_of([off, 'chart = "swing.chart"', off], 'instrument = "guitar"', texts)
    assert [capo for _, capo, _ in taken(plan)] == [0, 0, 0]


def test_what_is_pinned_is_weighed_on_each_guitar() -> None:
    """A capo pinned higher than is welcome is kept, on the guitar where the song lies best
    under it; songs without a pin stay within what is welcome."""
    texts = {"a.chart": chart("Alpha", "Eb"), "b.chart": chart("Beta", "Db")}
    songs = ['chart = "a.chart"\ncapo = { Bo = 8 }', 'chart = "b.chart"']
    plan = plan_of(songs, f"{OPEN_G}\nhighest_capo = 2\ntune_down = 0", texts)
    (_, pinned, down), (_, free, _) = taken(plan)
    assert (pinned, down) == (8, 0)
    assert free <= 2
    offers = {
        step.offer.guitar: step.offer.score_gap for step in plan.steps[:1] if step is not None
    }
    assert all(lack > 0 for lack in offers.values())


def test_tuned_down_by_hand_beyond_what_is_welcome() -> None:
    """A pinned tuning is kept where the player would not tune down unasked."""
    plan = plan_of(
        ['chart = "a.chart"\ncapo = -2', 'chart = "a.chart"'],
        'instrument = "guitar"\ntune_down = 0',
        {"a.chart": chart("Alpha", "C")},
    )
    assert [down for *_, down in taken(plan)] == [2, 0]


def test_a_big_band_is_planned_one_after_another() -> None:
    """Thirty guitarists beside one another all have their plans, under each order; the first of
    them plays as they would alone, and some of the others keep clear of them."""
    one = '[[players]]\nname = "P{}"\nreads = "shapes"\ninstrument = "guitar"\n'
    texts = {f"{key}.chart": chart(key, key) for key in ("Db", "A", "F")}
    songs = [f'chart = "{name}"' for name in texts]
    night = night_of(texts, set_text(songs, "".join(map(one.format, range(30)))))
    alone = planned_night(night_of(texts, set_text(songs, one.format(0)))).players[0]
    for free_order in (False, True):
        plans = planned_night(night, free_order).players
        assert len(plans) == 30 and all(len(taken(plan)) == 3 for plan in plans)
    assert taken(planned_night(night).players[0]) == taken(alone)
    assert any(taken(plan) != taken(alone) for plan in planned_night(night).players)


TWO = (
    '[[players]]\nname = "Ada"\nreads = "shapes"\ninstrument = "guitar"\n'
    '[[players]]\nname = "Bo"\nreads = "shapes"\ninstrument = "{}"\n'
)
KEYS = ("Db", "A", "F", "Eb")


def keys_night(players: str, songs: list[str] | None = None, free: bool = False) -> NightPlan:
    """The plan of four songs in different keys, each under one key's name."""
    texts = {f"{key}.chart": chart(key, key) for key in KEYS}
    given = songs or [f'chart = "{name}"' for name in texts]
    return planned_night(night_of(texts, set_text(given, players)), free)


def test_the_first_guitarist_gives_nothing_up_for_the_second() -> None:
    """Whoever is kept clear of has the plan they would have alone; the other one does otherwise,
    and each song that lies worse for that names the reason."""
    alone, _ = keys_night(TWO.format("guitar") + 'beside = "nobody"\n').players
    first, second = keys_night(TWO.format("guitar")).players
    assert taken(first) == taken(alone) != taken(second)
    assert "beside" not in first.reasons and "beside" in second.reasons
    _, led = keys_night(TWO.format("guitar").replace("\n[[", '\nbeside = "Bo"\n[[', 1)).players
    assert taken(led) == taken(alone)


def test_guitarists_in_a_circle_begin_with_the_first() -> None:
    """Of two who keep clear of one another the first of the file plays as if alone."""
    circle = TWO.format("guitar").replace("\n[[", '\nbeside = "Bo"\n[[', 1) + 'beside = "Ada"\n'
    assert [taken(one) for one in keys_night(circle).players] == [
        taken(one) for one in keys_night(TWO.format("guitar")).players
    ]


def test_one_song_in_another_key_leaves_the_others_as_they_are() -> None:
    """A key that changes one song, and no capo with it, changes nobody's other songs: the two
    guitarists do not change places."""
    before = keys_night(TWO.format("guitar"))
    files = [f'chart = "{key}.chart"' for key in KEYS]
    after = keys_night(TWO.format("guitar"), [*files[:-1], f'{files[-1]}\nkey = "E"'])
    for one, other in zip(before.players, after.players, strict=True):
        assert taken(one)[:2] == taken(other)[:2]


def test_a_ukulele_has_no_capo_unasked() -> None:
    """Whoever plays a ukulele or a mandolin stays without a capo and keeps clear of nobody, so
    long as the set file does not ask for it."""
    for instrument in ("ukulele", "mandolin"):
        guitar, small = keys_night(TWO.format(instrument)).players
        assert {fret for _, fret, _ in taken(small)} == {0} != {f for _, f, _ in taken(guitar)}
        assert not small.neighbours and not small.player.beside
        _, asked = keys_night(TWO.format(instrument) + 'highest_capo = 3\nbeside = "Ada"\n').players
        assert asked.neighbours and {fret for _, fret, _ in taken(asked)} != {0}


def test_the_guitar_in_hand_is_kept_for_one_song() -> None:
    """Nobody takes another guitar for one song only to be spared a capo at fret 1."""
    players = (
        '[[players]]\nname = "Bo"\nreads = "shapes"\ninstrument = "guitar"\n'
        'guitars = [{ name = "cedar" }, { name = "slack", tuned_down = 1 }]\n'
    )
    texts = {f"{key}.chart": chart(key, key) for key in ("G", "Db", "D")}
    night = night_of(texts, set_text([f'chart = "{name}"' for name in texts], players))
    assert taken(planned_night(night).players[0]) == [(0, 0, 0), (0, 1, 0), (0, 0, 0)]


def test_songs_that_run_straight_on_ask_for_no_change() -> None:
    """Between songs that run straight on nothing is changed, though each has another best capo,
    and that is the reason given."""
    files = [f'chart = "{key}.chart"\nstraight_into_next = true' for key in KEYS[:-1]]
    plan = keys_night(TWO.format("guitar"), [*files, 'chart = "Eb.chart"'])
    for one in plan.players:
        assert one.changes.seconds == 0 and one.changes.without_pause == 0
    assert "no pause" in plan.players[0].reasons


def test_with_time_to_change_the_advisers_first_choice_is_taken() -> None:
    """A song by itself is played where the adviser plays it, though another place may have the
    slightly better score."""
    for key in KEYS:
        advice = rank_options(
            read_chart(Source(chart(key, key), "x")).chart, GUITAR, AdviceSettings(highest_capo=7)
        )
        plan = plan_of(['chart = "a.chart"'], 'instrument = "guitar"', {"a.chart": chart(key, key)})
        assert taken(plan)[0][1] == advice.options[0].option.fret


def test_nobody_keeps_clear_in_hard_shapes() -> None:
    """Beside A minor shapes at capo 3 the second guitarist does not take C minor shapes at the nut,
    which lie clearer but are nearly all barres."""
    song = "title: Low\nkey: Cm\n\n== A\n| Cm | Fm | G7 | Cm |\n| Ab | Eb | Bb | G7 |\n| Cm |\n"
    texts = {"a.chart": song}
    night = night_of(texts, set_text(['chart = "a.chart"'], TWO.format("guitar")))
    first, second = planned_night(night).players
    assert taken(first) == [(0, 3, 0)]
    assert taken(second)[0][1] != 0


THREE = TWO.format("guitar") + TWO.format("guitar").split("\n[[")[0].replace("Ada", "Cy") + "\n"


def test_those_beside_one_guitarist_mind_each_other() -> None:
    """The third guitarist keeps clear of the first and of the second, whose plans stay, and does
    otherwise than beside the first alone."""
    first, second, third = keys_night(THREE).players
    one, other = keys_night(TWO.format("guitar")).players
    assert (taken(first), taken(second)) == (taken(one), taken(other))
    assert [mate.name for mate in third.neighbours] == ["Ada", "Bo"]
    solo = THREE.replace('name = "Bo"', 'name = "Bo"\nbeside = "nobody"')
    *_, alone = keys_night(solo).players
    assert [mate.name for mate in alone.neighbours] == ["Ada"]
    assert taken(alone) == taken(other) != taken(third)


def cost_of(plan: NightPlan, night: Night) -> float:
    """What a plan costs, by its own steps: lacks, seconds, shared rooms and neighbours alike."""
    costs = night.set_list.stage.costs.weighed
    songs = tuple(PlannedSong(night.facts[number].seconds) for number in plan.order)
    rooms = sum(
        share or 0.0 for one in plan.players for mate in one.neighbours for share in mate.shared
    )
    steps = sum(steps_cost(one.steps, songs, costs) for one in plan.players)
    return steps + OVERLAP_COST * rooms + ALIKE_COST * len(plan.alike)


@pytest.mark.parametrize("players", [TWO.format("guitar"), THREE])
def test_a_free_order_is_the_best_for_plans_made_one_after_another(players: str) -> None:
    """No order of the songs between the first and the last costs less, where each guitarist is
    planned beside those before (against every order)."""
    keys = ("Db", "A", "F", "Eb", "Bm")
    texts = {f"{key}.chart": chart(key, key) for key in keys}

    def night(order: tuple[str, ...]) -> Night:
        return night_of(texts, set_text([f'chart = "{key}.chart"' for key in order], players))

    freely = cost_of(planned_night(night(keys), free_order=True), night(keys))
    orders = [(keys[0], *middle, keys[-1]) for middle in permutations(keys[1:-1])]
    every = [cost_of(planned_night(one), one) for one in map(night, orders)]
    assert freely == pytest.approx(min(every))
    assert min(every) < max(every)


def test_another_order_is_planned_anew_and_says_what_changes() -> None:
    """In tonight's order every capo is that of the best plan for it, and each song that is played
    otherwise than in the file's order is named; a key moved on top changes that song alone."""
    texts = {f"{key}.chart": chart(key, key) for key in ("Db", "A", "F", "Bb")}
    songs = [f'chart = "{name}"' for name in texts]
    night = night_of(texts, set_text(songs, TWO.format("guitar")))
    numbers = (1, 2, 0, 3)
    ordered = planned_in_order(night, numbers, night, ())
    plan = planned_night(ordered)
    direct = night_of(texts, set_text([songs[n] for n in numbers], TWO.format("guitar")))
    assert list(map(taken, plan.players)) == list(map(taken, planned_night(direct).players))
    said = " ".join(reordered_lines(ordered, plan))
    for one, before in zip(plan.players, planned_night(night).players, strict=True):
        for place, number in enumerate(numbers):
            own = f"{place + 1}. {night.facts[number].title} ("
            mine = said.partition(f"{one.player.name}, for this order")[2].partition(".\n")[0]
            changed = taken(one)[place] != taken(before)[number]
            assert not changed or own in mine
    assert said.count(" not ") == sum(
        taken(one)[place] != taken(before)[number]
        for one, before in zip(plan.players, planned_night(night).players, strict=True)
        for place, number in enumerate(numbers)
    )
    moved = moved_night(
        night, Source("", "night.toml"), {0: "E"}, {}, Workshop(DiskCache(None)), with_plan=True
    )
    after = planned_night(planned_in_order(moved, numbers, night, {0}))
    for one, other in zip(plan.players, after.players, strict=True):
        assert [taken(one)[n] for n in (0, 1, 3)] == [taken(other)[n] for n in (0, 1, 3)]


def test_the_same_order_changes_no_capo() -> None:
    """Where the order changes nothing, one line says so; in the file's order nothing is said."""
    texts = {f"{key}.chart": chart(key, key) for key in KEYS}
    night = night_of(texts, set_text([f'chart = "{name}"' for name in texts], TWO.format("guitar")))
    same = planned_in_order(night, range(4), night, ())
    (line,) = reordered_lines(same, planned_night(same))
    assert "every capo is the same" in line
    assert not list(reordered_lines(night, planned_night(night)))


def test_a_guitar_that_comes_tuned_down_makes_hard_shapes_no_better() -> None:
    """A waltz in E flat lies on C shapes at capo 3: that one guitar comes a half step down, for E
    shapes full of barres, changes nothing of that, though for one song alone they are tuned to."""
    bars = (
        "|: Eb | Bb/D | Cm | Cm/Bb |\n| Abmaj7 | Gm7 C7 / |1. Fm7 | Bb7sus4 / Bb7 :|2. Bb7 | Eb |\n"
        "\n== B\n| Ab | Abm | Eb/G | Bb7 |\n\n== A\n"
    )
    text = f"title: Waltz\nkey: Eb\nmeter: 3/4\n\n== A\n{bars}"
    guitars = 'guitars = [{ name = "cedar" }, { name = "slack", tuned_down = 1 }]'
    plan = plan_of(['chart = "a.chart"'], guitars, {"a.chart": text})
    assert taken(plan) == [(0, 3, 0)]
    assert plan.reasons == (None,)


def test_an_unusual_key_is_no_price_where_the_capo_sits_there_already() -> None:
    """Few players put a capo on for B flat shapes. A plan does not count that: the gap between two
    places of a song in B is that of their shapes and frets."""
    advice = rank_options(read_chart(Source(chart("B", "B"), "x")).chart, GUITAR, AdviceSettings())
    score = {one.option.fret: one.score for one in advice.options if not one.option.tuned_down}
    songs = ['chart = "b.chart"\ncapo = { Bo = 1 }']
    plan = plan_of(songs, 'instrument = "guitar"', {"b.chart": chart("B", "B")})
    (step,) = plan.steps
    assert step is not None
    dearer = score[advice.options[0].option.fret] - score[1]
    assert step.offer.score_gap == pytest.approx(dearer - CapoPrices().unusual_key, abs=0.05)


BLUE = 'guitars = [{ name = "blue", tuned_down = 1 }]'


def test_a_guitar_that_comes_tuned_down_keeps_its_tuning_and_takes_a_capo() -> None:
    """A capo on fret 1 brings a guitar tuned down a half step to normal pitch, and nobody tunes up
    six strings to be spared it (common practice, no source): through songs of plain keys the guitar
    stays down, with its capo a fret higher than a guitar in normal tuning has it; a song in E flat
    keeps the open E shapes it was tuned for.  A number in the set file stands for shapes."""
    keys = ("G", "C", "D", "A", "E")
    texts = {f"{key}.chart": chart(key, key) for key in keys}
    for name in texts:
        song = [f'chart = "{name}"']
        ((_, usual, _),) = taken(plan_of(song, 'instrument = "guitar"', texts))
        assert taken(plan_of(song, BLUE, texts)) == [(0, usual + 1, 1)], name
    night = plan_of([f'chart = "{name}"' for name in texts], BLUE, texts)
    assert {down for _, _, down in taken(night)} == {1}
    assert not night.changes.retunes
    pinned = plan_of(['chart = "G.chart"\ncapo = 2'], BLUE, texts)
    assert taken(pinned) == [(0, 3, 1)]  # the shapes that sound a whole step higher
    flat = {"flat.chart": "title: Flat\nkey: Eb\n\n== A\n| Eb | Ab | Bb7 | Eb |\n"}
    assert taken(plan_of(['chart = "flat.chart"'], BLUE, flat)) == [(0, 0, 1)]
