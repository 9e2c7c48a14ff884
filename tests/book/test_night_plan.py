"""The plan of a set: which guitar, which capo, and what is pinned."""

from chartkit.book.night import planned_night
from chartkit.book.night_plan import PlayerPlan
from tests.book.sets import chart, night_of, set_text


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
    assert plan.changes.lack == 0.0
    assert plan.one_by_one.lack == 0.0


def test_what_is_pinned_is_weighed_on_each_guitar() -> None:
    """A capo pinned higher than is welcome is kept, on the guitar where the song lies best
    under it; songs without a pin stay within what is welcome."""
    texts = {"a.chart": chart("Alpha", "Eb"), "b.chart": chart("Beta", "Db")}
    songs = ['chart = "a.chart"\ncapo = { Bo = 8 }', 'chart = "b.chart"']
    plan = plan_of(songs, f"{OPEN_G}\nhighest_capo = 2\ntune_down = 0", texts)
    (_, pinned, down), (_, free, _) = taken(plan)
    assert (pinned, down) == (8, 0)
    assert free <= 2
    offers = {step.offer.guitar: step.offer.lack for step in plan.steps[:1] if step is not None}
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
