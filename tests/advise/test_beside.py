"""A second guitar finds room beside the first, and several spread over the neck."""

from itertools import combinations

import pytest

from chartkit.advise.beside import (
    ComplementWeights,
    compare_parts,
    rank_beside,
    spread_guitars,
    voice_overlap,
)
from chartkit.advise.ranking import played_option
from chartkit.advise.register import (
    Moment,
    histogram,
    moments_together,
    overlap,
    part_of,
    register_of,
    sounded,
    sung_histogram,
)
from chartkit.advise.settings import AdviceSettings
from chartkit.fretboard.instruments import GUITAR, TWELVE_STRING
from chartkit.fretboard.store import shared_boards
from chartkit.syntax.symbol import chord_or_none
from chartkit.theory.capo import Capo
from chartkit.theory.pitch import parse_range
from tests.advise.songs import MAJOR_KEYS, progression, song
from tests.each import each

STUDIO = AdviceSettings(place="studio")
VOICE = parse_range("D3-G4")


def part(bars: str, option: Capo) -> tuple[Moment, ...]:
    """What a guitar sounds through some bars."""
    asked = song(bars)
    return part_of(asked, played_option(asked, option), GUITAR)


def test_the_example_in_b() -> None:
    """Beside A shapes at 2 in B, with a voice from D3 to G4, D shapes at 9 leave most room.

    The figures are those of an earlier reckoning with other weights of the fingering, F always
    a barre; so much either way is expected of them.
    """
    asked = progression("I-IV-V-vi", "B")
    first = part_of(asked, played_option(asked, Capo(2)), GUITAR)
    ranked = rank_beside(asked, first, sung=VOICE, settings=STUDIO)
    complements = {option.played.option: option.complement for option in ranked}
    expected = {Capo(9): 0.44, Capo(7): 0.30, Capo(0, 1): 0.27, Capo(4): 0.24, Capo(2): 0.07}
    for option, complement in expected.items():
        assert complements[option] == pytest.approx(complement, abs=0.06)
    assert max(expected, key=lambda option: complements[option]) == Capo(9)
    playable = [option.played.option for option in ranked if option.playable]
    assert set(expected) - {Capo(7)} <= set(playable)  # half of E shapes there are barres


def test_playable_options_come_first() -> None:
    """No option that plays badly stands before one that plays well, however much room it has."""
    asked = progression("I-IV-V-vi", "B")
    first = part_of(asked, played_option(asked, Capo(2)), GUITAR)
    ranked = rank_beside(asked, first)
    flags = [option.playable for option in ranked]
    assert flags == sorted(flags, reverse=True)
    assert not all(flags)
    for group in (True, False):
        values = [round(o.value, 6) for o in ranked if o.playable is group]
        assert values == sorted(values, reverse=True)


@each("within", [0.2, 1.5, 4.0])
def test_what_plays_well_is_judged_by_ease_alone(within: float) -> None:
    """An option is playable within so much of the easiest, the price of the capo aside."""
    asked = progression("I-IV-V-vi", "B")
    first = part_of(asked, played_option(asked, Capo(2)), GUITAR)
    ranked = rank_beside(asked, first, weights=ComplementWeights(playable_within=within))
    ease = {o.played.option: o.played.score + o.played.price for o in ranked}
    for option in ranked:
        well = ease[option.played.option] >= max(ease.values()) - within
        assert option.playable is well


def test_value_is_complement_less_price_and_effort() -> None:
    """A position is worth its room less a tenth of the plain ranking's price, less a fifth of the
    time on barres, and more where its shapes are easy."""
    asked = progression("I-IV-V-vi", "C")
    first = part_of(asked, played_option(asked, Capo()), GUITAR)
    for place in (AdviceSettings(), STUDIO):
        for option in rank_beside(asked, first, sung=VOICE, settings=place):
            prices = place.prices
            price = prices.capo(option.played.option.fret)
            price += prices.tuning_down(option.played.option.tuned_down, place.place)
            played = option.played
            ease = 0.1 * (played.score + price) - 0.2 * played.measures.barres
            assert option.value == pytest.approx(option.complement - 0.1 * price + ease)


def test_hard_shapes_do_not_lead_for_a_little_room() -> None:
    """Beside G shapes at 3 in a blues in B flat open shapes of A or D come before those of D flat
    at 9, which lie a little further off."""
    asked = progression("blues", "Bb")
    first = part_of(asked, played_option(asked, Capo(3)), GUITAR)
    ranked = [option.played.option for option in rank_beside(asked, first)]
    assert {ranked[0], ranked[1]} <= {Capo(1), Capo(6), Capo(8)}
    capos = [option for option in rank_beside(asked, first) if not option.played.option.tuned_down]
    assert max(capos, key=lambda option: option.complement).played.option == Capo(9)


@each("key", MAJOR_KEYS)
@each("capo", [0, 2, 5])
def test_tuning_down_on_stage_leads_only_by_far(key: str, capo: int) -> None:
    """On stage a guitar tuned down leads only with clearly more room than any other has."""
    asked = progression("I-IV-V-vi", key)
    first = part_of(asked, played_option(asked, Capo(capo)), GUITAR)
    leading = rank_beside(asked, first, sung=VOICE)
    others = [o.complement for o in leading if o.playable and not o.played.option.tuned_down]
    best = leading[0]
    assert not best.played.option.tuned_down or best.complement > max(others) + 0.05


def test_reasons_beside() -> None:
    """Each position has one sentence: where it lies, and what it costs to play."""
    asked = progression("I-IV-V-vi", "B")
    first = part_of(asked, played_option(asked, Capo(2)), GUITAR)
    reasons = {o.played.option: o.reason for o in rank_beside(asked, first, sung=VOICE)}
    for reason in reasons.values():
        assert reason.endswith(".")
        assert ". " not in reason
        assert "first guitar" in reason
    assert reasons[Capo(9)].startswith("D shapes 8 half steps above the first guitar")
    assert "the capo sits at fret 9" in reasons[Capo(9)]
    assert "every string goes down a half step" in reasons[Capo(0, 1)]
    assert "but" not in reasons[Capo(4)]


def test_a_part_meets_itself_wholly() -> None:
    """A part overlaps itself entirely, and two octaves apart hardly at all."""
    one = part("| G | C | D | Em |", Capo())
    met = compare_parts(one, one)
    assert (met.overlap, met.unisons, met.half_steps_above) == pytest.approx((1.0, 1.0, 0.0))
    high = tuple(Moment(m.start, m.end, tuple(p + 30 for p in m.pitches)) for m in one)
    far = compare_parts(one, high)
    assert far.overlap < 0.1
    assert far.unisons == 0
    assert far.half_steps_above == pytest.approx(30)


def test_overlap_is_the_same_both_ways() -> None:
    """Which of two parts comes first makes no difference to how far they overlap."""
    one = part("| B | E | F# | G#m |", Capo(2))
    other = part("| B | E | F# | G#m |", Capo(7))
    assert compare_parts(one, other).overlap == pytest.approx(compare_parts(other, one).overlap)
    there, back = compare_parts(one, other), compare_parts(other, one)
    assert there.half_steps_above == pytest.approx(-back.half_steps_above)


def test_overlap_by_hand() -> None:
    """Overlap is the common part of two histograms that each sum to one."""
    for pitches in ((40, 47, 52, 56, 59, 64), (60,), (60, 60, 67)):
        assert sum(histogram(pitches)) == pytest.approx(1.0)
    assert overlap(histogram((60,)), histogram((60,))) == pytest.approx(1.0)
    assert overlap(histogram((60, 90)), histogram((60,))) == pytest.approx(0.5)
    near, nearer = (overlap(histogram((60,)), histogram((p,))) for p in (63, 61))
    assert 0 < near < nearer < 1


def test_overlap_is_reckoned_moment_by_moment() -> None:
    """Two parts that fill the same room at different times do not overlap."""
    one = (Moment(0, 4, (40,)), Moment(4, 8, (70,)))
    other = (Moment(0, 4, (70,)), Moment(4, 8, (40,)))
    assert compare_parts(one, other).overlap == pytest.approx(0.0, abs=1e-6)


def test_parts_of_different_charts_meet_in_time() -> None:
    """Parts that change at different beats are compared over each beat they share."""
    one = (Moment(0, 3, (40,)), Moment(3, 8, (50,)))
    other = (Moment(0, 5, (60,)), Moment(5, 6, (70,)))
    moments = [(beats, a, b) for beats, a, b in moments_together(one, other)]
    assert moments == [(3, (40,), (60,)), (2, (50,), (60,)), (1, (50,), (70,))]
    assert compare_parts(one, ()).overlap == 0


def test_silence_meets_nothing() -> None:
    """Where either part is silent nothing is shared, and what sounds together later counts."""
    silent, sounds = (Moment(0, 4, ()),), (Moment(0, 4, (60, 64)),)
    for one, other in ((silent, sounds), (sounds, silent), (silent, silent)):
        assert compare_parts(one, other) == compare_parts((), ())
    later = (Moment(0, 2, ()), Moment(2, 4, (60, 64)))
    assert compare_parts(later, sounds).unisons == compare_parts(sounds, later).unisons == 1
    assert voice_overlap(silent, VOICE) == 0


def test_three_guitars_are_spread_unless_said_otherwise() -> None:
    """Without a number three positions are chosen."""
    assert len(spread_guitars(progression("I-IV-V-vi", "B"))[0].guitars) == 3


def test_the_voice_takes_room() -> None:
    """A part within the sung range overlaps it more than one above, and the middle most."""
    low, middle, high = ((Moment(0, 1, (p,)),) for p in (51, 58, 80))
    assert voice_overlap(middle, VOICE) > voice_overlap(low, VOICE) > 0.05
    assert voice_overlap(high, VOICE) == pytest.approx(0.0, abs=1e-6)
    assert sum(sung_histogram(VOICE)) == pytest.approx(1.0)


def test_complement_formula() -> None:
    """Complement is one less 0.6 overlap, 0.15 unisons and 0.25 voice."""
    asked = progression("I-IV-V-vi", "C")
    first = part_of(asked, played_option(asked, Capo()), GUITAR)
    for option in rank_beside(asked, first, sung=VOICE):
        met = option.comparison
        taken = 0.6 * met.overlap + 0.15 * met.unisons + 0.25 * option.voice
        assert option.complement == pytest.approx(1 - taken)


def test_registers() -> None:
    """A register names the ends and the weighed middle of what sounds."""
    register = register_of((Moment(0, 3, (40, 52)), Moment(3, 4, (64, 64))))
    assert register is not None
    assert (register.lowest, register.highest) == (40, 64)
    assert register.middle == pytest.approx((3 * 46 + 64) / 4)
    assert sum(share for _, share in register.shares) == pytest.approx(1.0)
    assert register_of(()) is None


def test_paired_strings_sound_too() -> None:
    """A twelve-string sounds the octaves of its four low courses."""
    chord = chord_or_none("Em")
    plain = shared_boards().board(GUITAR).voicing_of(chord, (0, 2, 2, 0, 0, 0))
    rich = shared_boards().board(TWELVE_STRING).voicing_of(chord, (0, 2, 2, 0, 0, 0))
    octaves = [pitch + 12 for pitch in sounded(plain, GUITAR)[:4]]
    assert sorted((*sounded(plain, GUITAR), *octaves)) == list(sounded(rich, TWELVE_STRING))


@pytest.mark.parametrize("guitars", [2, 3])
def test_spread_is_the_best_choice_of_all(guitars: int) -> None:
    """The first spread is the best of every choice of playable positions, lowest guitar first."""
    asked = progression("I-IV-V-vi", "B")
    ranked = spread_guitars(asked, guitars)
    weights = ComplementWeights()
    best = ranked[0]
    parts = [part_of(asked, option, GUITAR) for option in best.guitars]
    apart = []
    for one, other in combinations(parts, 2):
        met = compare_parts(one, other)
        apart.append(1 - (0.6 * met.overlap + 0.15 * met.unisons) / 0.75)
    assert best.apart == pytest.approx(sum(apart) / len(apart))
    ease = sum(option.score for option in best.guitars) / guitars
    barres = sum(option.measures.barres for option in best.guitars) / guitars
    charged = weights.ease * ease - weights.barres * barres
    assert best.value == pytest.approx(best.apart + charged)
    assert best.value == max(spread.value for spread in ranked)
    for spread in ranked:
        middles = [register.middle for register in spread.registers if register]
        assert middles == sorted(middles)
    assert len({option.option for option in best.guitars}) == guitars


def test_open_positions_lead_where_they_lie_nearly_as_far_apart() -> None:
    """In C open C and G or E shapes lead; nobody is asked for F shapes at 7 for a bit of room."""
    ranked = spread_guitars(progression("I-IV-V-vi", "C"), 2)
    capos = [tuple(option.option.fret for option in spread.guitars) for spread in ranked]
    assert capos[0] in ((0, 5), (0, 8))
    assert (0, 7) not in capos


def test_spread_needs_two_to_four_guitars() -> None:
    """Another number of guitars is refused in words."""
    with pytest.raises(ValueError, match="2 to 4 guitars"):
        spread_guitars(progression("blues", "A"), 7)
