"""The adviser's answers as JSON."""

from dataclasses import asdict
from typing import TYPE_CHECKING

from chartkit.cli.capo_tables import part_room
from chartkit.fretboard.grip_library import tuning_note

if TYPE_CHECKING:
    from chartkit.advise.beside import BesideOption, Spread
    from chartkit.advise.difficulty import Difficulty
    from chartkit.advise.modulations import Modulations
    from chartkit.advise.part.propose import PartProposal
    from chartkit.advise.ranked import RankedOption
    from chartkit.advise.ranking import Advice
    from chartkit.advise.substitutions import Substitution


def advice_json(
    advice: "Advice",
    second: "tuple[BesideOption, ...]",
    parts: "tuple[PartProposal, ...]",
    spread: "tuple[Spread, ...]",
    offers: "tuple[Substitution, ...]",
) -> dict[str, object]:
    """The adviser's answers as plain values."""
    from chartkit.advise.difficulty import difficulty_of

    data: dict[str, object] = {
        "instrument": advice.instrument.name,
        "tuning_note": tuning_note(advice.instrument),
        "verdict": advice.verdict,
        "good": advice.good,
        "difficulty": None if advice.difficulty is None else _difficulty_json(advice.difficulty),
        "modulations": None
        if advice.modulations is None
        else _modulations_json(advice.modulations),
        "substitutions": [_offer_json(offer) for offer in offers],
        "options": [
            {
                **_option_json(option),
                "difficulty": difficulty_of(advice.song, option, advice.knows).index,
            }
            for option in advice.options
        ],
    }
    if second:
        data["beside"] = [
            {
                **_option_json(option.played),
                "complement": option.complement,
                "voice": option.voice,
                "value": option.value,
                "why": option.reason,
                "playable": option.playable,
                **asdict(option.meeting),
            }
            for option in second
        ]
    if parts:
        data["part"] = {
            "place": parts[0].place,
            "complement": part_room(parts[0]),
            **asdict(parts[0].measures),
        }
    if spread:
        data["spread"] = [
            {"capos": [o.option.fret for o in s.guitars], "apart": s.apart} for s in spread
        ]
    return data


def _difficulty_json(difficulty: "Difficulty") -> dict[str, object]:
    return {
        **{name: value for name, value in asdict(difficulty).items() if name != "practise"},
        "practise": [
            {
                "shape": str(one.shape),
                "frets": None if one.voicing is None else str(one.voicing),
                "why": one.why,
            }
            for one in difficulty.practise
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
