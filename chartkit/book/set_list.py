"""A set as values: who plays, what they read, which songs in which order, on what stage."""

from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal

from chartkit.advise.settings import USUAL_HIGHEST_CAPO, Venue
from chartkit.advise.stage import StageCosts
from chartkit.arrange.page_look import SCREENS, PageLook, PaperName
from chartkit.diagnostics import Span
from chartkit.fretboard.instrument import Instrument
from chartkit.theory.capo import Capo
from chartkit.theory.pitch import PitchRange

Reads = Literal["both", "shapes", "sounding", "numbers", "words", "road-map", "transposed"]
"""What a player's pages show: shapes over sounding chords, one of the two, scale degrees, the
words alone, a road map of bars and hits, or chords for an instrument that reads another key than
it sounds in."""

CapoChoice = Literal["plan", "chart"]
"""Where a capo comes from that is not pinned: the night's plan, or each chart's own."""


@dataclass(frozen=True, slots=True)
class StageGuitar:
    """A guitar on stage: its name, its strings, and how many half steps it is tuned down
    at the start."""

    name: str
    instrument: Instrument
    tuned_down: int = 0


@dataclass(frozen=True, slots=True)
class Player:
    """One of the band.

    ``guitars`` is empty for whoever plays no fretted instrument.  ``sung_range`` is what a singer
    sings in comfort, ``short_capos`` what the guitarist has besides a capo over all strings,
    ``sat_well`` songs, each a title, file name or number, with the key in which
    they suited the voice.  ``beside`` names the guitarist
    out of whose way this one keeps, empty where there is none.  ``part`` is the instrument of
    whoever plays a part made for the night beside that guitarist, without a capo; there are no
    ``guitars`` to plan then.  ``sits_out`` names
    the songs that the player does not play, each a title, a chart's file name or a number from 1;
    ``sits_out_spans`` is where each of them stands.
    """

    name: str
    instrument: str = ""
    guitars: tuple[StageGuitar, ...] = ()
    highest_capo: int = USUAL_HIGHEST_CAPO
    short_capos: tuple[Capo, ...] = ()
    most_down: int = 0
    look: PageLook = PageLook()
    sung_range: PitchRange | None = None
    sat_well: tuple[tuple[str, str], ...] = ()
    beside: str = ""
    part: Instrument | None = None
    sits_out: tuple[str, ...] = ()
    sits_out_spans: tuple[Span, ...] = ()

    @property
    def takes_capo(self) -> bool:
        """Whether it matters to this player where the capo sits."""
        return self.look.show in ("both", "shapes")


@dataclass(frozen=True, slots=True)
class SongEntry:
    """A song of the set: its chart file and what is special about it tonight.

    ``key`` is a tonic or a key as written in the file; ``shift`` are half steps on top of
    it.  ``capos`` are pinned by player.  ``span`` is where the chart is named.
    """

    chart: Path
    name: str
    key: str | None = None
    shift: int = 0
    capos: dict[str, Capo] = field(default_factory=dict)
    note: str = ""
    count_in: str = ""
    straight_into_next: bool = False
    interval_after: bool = False
    span: Span = Span(0, 0)
    key_span: Span = Span(0, 0)


@dataclass(frozen=True, slots=True)
class Stage:
    """Live or in the studio, what changes cost there, and where capos come from."""

    place: Venue = "live"
    costs: StageCosts = StageCosts()
    capos: CapoChoice = "plan"


@dataclass(frozen=True, slots=True)
class SetList:
    """A whole night."""

    name: str
    date: str
    place: str
    stage: Stage
    players: tuple[Player, ...]
    songs: tuple[SongEntry, ...]

    @property
    def is_planned(self) -> bool:
        """Whether capos come from a plan: there is one if somebody reads shapes."""
        return self.stage.capos == "plan" and any(player.guitars for player in self.players)

    @property
    def shared_paper(self) -> PaperName:
        """The paper of what is printed for all: what most players have, A4 where none has any."""
        papers = (player.look.paper for player in self.players)
        printed = Counter[PaperName](paper for paper in papers if paper not in SCREENS)
        return printed.most_common(1)[0][0] if printed else "a4"
