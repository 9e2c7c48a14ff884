"""The reason for the rank of a second guitar's position, in one plain sentence."""

from chartkit.advise.ranked import RankedOption
from chartkit.advise.reasons import HIGH_CAPO, barre_names, shape_key_name
from chartkit.advise.register import PartComparison
from chartkit.theory.capo import step_words

_APART = 3
"""The fewest half steps between the middles of two parts that lie apart (ours)."""
_MANY_BARRES = 0.35
"""From this share of the time on, barres are named as a cost (ours)."""


def beside_reason(played: RankedOption, met: PartComparison, voice: float, playable: bool) -> str:
    """Where the part lies, what room it shares, and what it costs to play."""
    if not played.voicings:
        return "There are no chords to play beside the first guitar."
    lies = f"{met.overlap:.0%} of what they sound lies where that guitar plays"
    if voice:
        lies += f" and {voice:.0%} where the voice is"
    praise = f"{shape_key_name(played)} shapes {_where(met)}; {lies}"
    costs = _costs(played, playable)
    return f"{praise}, but {', and '.join(costs)}." if costs else f"{praise}."


def _where(met: PartComparison) -> str:
    steps = round(met.half_steps_above)
    if abs(steps) < _APART:
        return "in the register of the first guitar"
    return f"{abs(steps)} half steps {'above' if steps > 0 else 'below'} the first guitar"


def _costs(played: RankedOption, playable: bool) -> list[str]:
    costs_named = []
    if played.option.tuned_down:
        costs_named.append(f"every string goes down {step_words(played.option.tuned_down)}")
    if played.option.fret >= HIGH_CAPO:
        costs_named.append(f"the capo sits at fret {played.option.fret}")
    if played.measures.unplayable:
        costs_named.append("some chords have no fingering")
    elif played.measures.barres > _MANY_BARRES:
        costs_named.append(barre_names(played))
    elif not playable:
        costs_named.append("it is harder to play than the others")
    return costs_named
