"""The adviser's answers as JSON."""

from dataclasses import asdict
from typing import TYPE_CHECKING

from chartkit.cli.capo_tables import part_room
from chartkit.fretboard.grip_library import tuning_note

if TYPE_CHECKING:
    from chartkit.advise.beside import BesideOption
    from chartkit.advise.difficulty import Difficulty
    from chartkit.advise.modulations import Modulations
    from chartkit.advise.ranked import RankedOption
    from chartkit.advise.ranking import Advice
    from chartkit.advise.substitutions import Substitution
    from chartkit.cli.capo_answers import Answers


def answers_json(answers: "Answers") -> dict[str, object]:
    """The adviser's answers as plain values."""
    data = _advice_json(answers.advice, answers.offers)
    if answers.second:
        data["beside"] = [_beside_json(option) for option in answers.second]
    if answers.parts:
        best = answers.parts[0]
        data["part"] = {
            "place": best.place,
            "complement": part_room(best),
            **asdict(best.measures),
        }
    if answers.spread:
        data["spread"] = [
            {"capos": [o.option.fret for o in s.guitars], "apart": s.apart} for s in answers.spread
        ]
    return data


def _advice_json(advice: "Advice", offers: "tuple[Substitution, ...]") -> dict[str, object]:
    from chartkit.advise.difficulty import difficulty_of

    hard, changes = advice.difficulty, advice.modulations
    return {
        "instrument": advice.instrument.name,
        "tuning_note": tuning_note(advice.instrument),
        "verdict": advice.verdict,
        "good": advice.good,
        "difficulty": None if hard is None else _difficulty_json(hard),
        "modulations": None if changes is None else _modulations_json(changes),
        "substitutions": [_offer_json(offer) for offer in offers],
        "options": [
            {
                **_option_json(option),
                "difficulty": difficulty_of(advice.song, option, advice.knows).index,
            }
            for option in advice.options
        ],
    }


def _beside_json(option: "BesideOption") -> dict[str, object]:
    return {
        **_option_json(option.played),
        "complement": option.complement,
        "voice": option.voice,
        "value": option.value,
        "why": option.reason,
        "playable": option.playable,
        **asdict(option.comparison),
    }


def _difficulty_json(difficulty: "Difficulty") -> dict[str, object]:
    return {
        **{name: value for name, value in asdict(difficulty).items() if name != "practise"},
        "practise": [
            {
                "shape": str(exercise.shape),
                "frets": None if exercise.voicing is None else str(exercise.voicing),
                "why": exercise.why,
            }
            for exercise in difficulty.practise
        ],
    }


def _modulations_json(modulations: "Modulations") -> dict[str, object]:
    start, second = modulations.from_start, modulations.second_guitar
    return {
        "dead": [{"where": words, "open_share": share} for words, share in modulations.dead],
        "from_start": None if start is None else start.option.raised,
        "moves": [
            {
                "before": move.before,
                "inside": move.inside,
                "to_key": move.to_key,
                "from": move.from_capo.raised,
                "to": move.to_capo.raised,
                "seconds": move.seconds,
                "beats": move.beats,
                "rest_beats": move.rest_beats,
            }
            for move in modulations.moves
        ],
        "second_guitar": None if second is None else second.raised,
    }


def _offer_json(offer: "Substitution") -> dict[str, object]:
    return {
        "capo": offer.option.raised,
        "instead": [
            {
                "shape": str(old),
                "play": str(new),
                "frets": None if voicing is None else str(voicing),
            }
            for old, new, voicing in offer.chords
        ],
        "barres": offer.barres,
        "good": offer.good,
        "text": offer.text,
    }


def _option_json(option: "RankedOption") -> dict[str, object]:
    return {
        "capo": option.option.fret,
        "strings": list(option.option.strings),
        "tuned_down": option.option.tuned_down,
        "shape_key": str(option.shape_keys[0]),
        "sounding_key": str(option.sounding_keys[0]),
        "score": option.score,
        "price": option.price,
        **asdict(option.measures),
        "shapes": [
            {
                "shape": str(use.shape),
                "sounding": str(use.sounding),
                "share": use.share,
                "frets": None if use.voicing is None else str(use.voicing),
                "fingers": None if use.voicing is None else list(use.voicing.fingers),
            }
            for use in option.shapes
        ],
        "reason": option.reason,
    }
