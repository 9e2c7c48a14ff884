"""Tempos that are only heard in playback: which of them a player has to know.

Programs play a "rit." or a fermata by several tempos that nobody sees, and go back by one more;
on paper the words are all that is said.  A single new tempo without such words is one.  Common
practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.score.events import Measure

_CHANGES = re.compile(
    r"\b(?:rit(?:\b|ard|en)|rall|accel|string(?:\.|endo)|allarg|slentando|calando|morendo|"
    r"slow(?:ing|s)?\s+down|slowing|speed(?:ing|s)?\s+up|hold(?:ing)?\s+back|broaden|"
    r"(?:a|in)\s+tempo|tempo\s+(?:primo|i|1)\b)",
    re.IGNORECASE,
)
"""Words that say that the tempo changes, or that it comes back."""
_SAME = 1.0
"""Quarter notes a minute within which two tempos are one."""
_LASTS = 2
"""Measures for which a change of tempo goes on without another sign of it; ours."""
_LONG = 4
"""Measures after which a tempo has come to stay; ours."""


def changes_tempo(text: str) -> bool:
    """Whether words to the players are of a change of the tempo and no name of one."""
    return _CHANGES.search(text) is not None


def with_heard_tempos(measures: Sequence[Measure], findings: Findings) -> tuple[Measure, ...]:
    """Writes the heard tempos that players need, and leaves out those that repeat what holds;
    returns the measures."""
    if not any(measure.heard or measure.tempo is not None for measure in measures):
        return tuple(measures)
    follower = _Follower(list(measures), findings)
    for at in range(len(measures)):
        follower.follow(at)
    follower.end()
    return tuple(follower.made)


@dataclass(slots=True)
class _Follower:
    """Goes through the measures with the tempo that holds, the tempos of a change that goes on,
    by their measures, and for how many measures it still does.  ``steady`` says that nothing has
    changed since a tempo was shown."""

    made: list[Measure]
    findings: Findings
    tempo: float | None = None
    changing: list[tuple[int, float]] = field(default_factory=list)
    lasts: int = 0
    steady: bool = False

    def follow(self, at: int) -> None:
        measure = self.made[at]
        held = any(mark.kind == "fermata" for mark in measure.marks)
        says = any(changes_tempo(one.text) for one in measure.instructions)
        self.lasts = _LASTS if held or says or len(measure.heard) > 1 else self.lasts - 1
        again = self.steady and measure.tempo == self.tempo and not measure.feel
        self.steady = not says and (self.steady or measure.tempo is not None)
        if measure.tempo is not None:
            self._leave_out()
            self.tempo = measure.tempo
            if again:
                self.made[at] = measure._replace(tempo=None)
            return
        for heard in measure.heard:
            if self.tempo is not None and abs(heard - self.tempo) <= _SAME:
                self._leave_out()
            elif self.tempo is not None and self.lasts > 0:
                self.changing.append((at, heard))
                self.lasts = _LASTS
            else:
                self._leave_out()
                self._keep(at, heard)

    def end(self) -> None:
        """Keeps the last tempo of a change that much of the song is played in."""
        if self.changing and len(self.made) - self.changing[-1][0] > _LONG:
            at, heard = self.changing.pop()
            self._keep(at, heard)
        self._leave_out()

    def _keep(self, at: int, heard: float) -> None:
        self.steady = False
        self.made[at] = self.made[at]._replace(tempo=heard)
        self.tempo = heard

    def _leave_out(self) -> None:
        if self.changing:
            at, heard = self.changing[0]
            self.findings.leave_out(
                "heard-tempo",
                f"a change of tempo that is only heard, to {heard:g} quarter notes a minute",
                f"measure {self.made[at].number}",
            )
            self.changing.clear()
