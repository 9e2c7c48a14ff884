"""The plan of a night as a picture, and below it what to change for each song.

A lane for each guitar, a numbered column for each song, a box where the guitar is played: the
fret of its capo, a dash for none, ``d1`` for tuned down a half step.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from chartkit.arrange.page_look import PaperName
from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Document, Item, Page, Shape, Stroke
from chartkit.layout.metrics import Metrics, Typesetter
from chartkit.layout.place import SECOND_INK
from chartkit.layout.style import Style, style_for
from chartkit.sheets.changes import change_pages

_LANE, _HEAD, _PLAYER_GAP, _NUMBERS = 26.0, 64.0, 26.0, 12.0
_LEGEND = (
    "a fret number: capo   –: no capo   d1: tuned down a half step   2>4: moved inside the song   "
    "dark: changed before the song"
)
_TITLES = 200.0
"""The room in points that is kept for the songs' titles below the lanes."""
_MOST_SONGS = 40
"""How many songs one page has; a longer night continues on the next page."""


@dataclass(frozen=True, slots=True)
class Lane:
    """A guitar over the night: for each song its setting, None where it lies idle.

    ``changes`` says of each song whether something is changed right before it.
    """

    guitar: str
    settings: tuple[str | None, ...]
    changes: tuple[bool, ...]


@dataclass(frozen=True, slots=True)
class PlayerLanes:
    """A player's guitars, and what the night asks in a line or two.

    A player of a part has no lanes, and only the line.
    ``changes`` says for each song what to do before it; empty where nothing is.
    """

    player: str
    summary: str
    lanes: tuple[Lane, ...]
    saving: str = ""
    changes: tuple[str, ...] = ()


def timeline_sheet(
    name: str,
    titles: Sequence[str],
    players: Sequence[PlayerLanes],
    metrics: Metrics,
    paper: PaperName = "a4",
) -> Document:
    """The timelines of all players, songs from left to right with their titles below, and then
    for each player a page of what to change."""
    typesetter = Typesetter(metrics)
    fitter, style = Fitter(typesetter), style_for(paper)
    setter = _Setter(fitter, style)
    pages = [
        setter.page(name, titles[start : start + _MOST_SONGS], start, together)
        for start in range(0, max(1, len(titles)), _MOST_SONGS)
        for together in setter.on_pages(players)
    ]
    for player in players:
        pages += change_pages(name, player.player, titles, player.changes, fitter, style)
    return Document(
        title=f"{name}: plan",
        author="",
        language="en",
        subject="",
        pages=tuple(pages),
        missing=frozenset(typesetter.missing),
    )


@dataclass(frozen=True, slots=True)
class _Setter:
    fitter: Fitter
    style: Style

    def on_pages(self, players: Sequence[PlayerLanes]) -> list[list[PlayerLanes]]:
        """The players in as many groups as pages are needed, the songs' titles below each."""
        paper = self.style.paper
        room = paper.height - paper.top - paper.bottom - _HEAD - _TITLES
        groups, left = list[list[PlayerLanes]]([[]]), room
        for player in players:
            if groups[-1] and self._height(player) > left:
                groups.append([])
                left = room
            groups[-1].append(player)
            left -= self._height(player)
        return groups

    def _height(self, player: PlayerLanes) -> float:
        saving = self.style.small * 1.4 * len(self._saving(player))
        lanes = _NUMBERS + len(player.lanes) * _LANE if player.lanes else 0.0
        return self.style.band * 1.7 + saving + lanes + _PLAYER_GAP

    def _saving(self, player: PlayerLanes) -> list[str]:
        """What the plan saves, in as many lines as that takes."""
        style = self.style
        wrapped = self.fitter.wrapped
        return wrapped(player.saving, "plain", style.small, style.line_width)

    def page(
        self, name: str, titles: Sequence[str], start: int, players: Sequence[PlayerLanes]
    ) -> Page:
        """A page with some of the songs."""
        fitter, style, paper = self.fitter, self.style, self.style.paper
        shown = fitter.shortened(name, "title", style.title, style.line_width)
        items: list[Item] = [
            fitter.text(shown, paper.side, paper.top + 24, "title", style.title, role="title")
        ]
        y = paper.top + _HEAD
        step = (style.line_width - self._names(players)) / max(1, len(titles))
        for player in players:
            items += self._player(player, y, step, start, len(titles))
            y += self._height(player)
        items += self._titles(titles, start, y)
        return Page(paper.width, paper.height, tuple(items))

    def _names(self, players: Sequence[PlayerLanes]) -> float:
        """The room for the guitars' names, in points."""
        names = [lane.guitar for player in players for lane in player.lanes]
        widths = (self.fitter.width(name, "plain", self.style.small) for name in names)
        return min(self.style.line_width * 0.25, max(widths, default=0.0) + 10)

    def _player(
        self, player: PlayerLanes, y: float, step: float, start: int, count: int
    ) -> list[Item]:
        fitter, style, side = self.fitter, self.style, self.style.paper.side
        shown = fitter.shortened(player.player, "strong", style.band, style.line_width * 0.4)
        name = fitter.text(shown, side, y, "strong", style.band, role="player")
        room = style.line_width - name.width - 12
        summary = fitter.shortened(player.summary, "plain", style.small, room)
        items: list[Item] = [name]
        x = side + name.width + 12
        items.append(
            fitter.text(summary, x, y, "plain", style.small, role="summary", ink=SECOND_INK)
        )
        for line in self._saving(player):
            y += style.small * 1.4
            items.append(
                fitter.text(line, side, y, "plain", style.small, role="saving", ink=SECOND_INK)
            )
        if not player.lanes:
            return items
        left = side + style.line_width - step * count
        items += self._numbers(left, step, y + style.band * 0.7 + _NUMBERS - 3, start, count)
        for number, lane in enumerate(player.lanes):
            top = y + style.band * 0.7 + _NUMBERS + number * _LANE
            items += self._lane(lane, top, left, step, range(start, start + count))
        return items

    def _numbers(self, left: float, step: float, y: float, start: int, count: int) -> list[Item]:
        """The songs' numbers above a player's lanes, as many as there is room for."""
        size = self.style.small * 0.85
        wide = self.fitter.width(str(start + count), "plain", size) + 2
        every = max(1, -int(-wide // step)) if step else 1
        items: list[Item] = []
        for i in range(0, count, every):
            number = str(start + i + 1)
            x = left + (i + 0.5) * step - self.fitter.width(number, "plain", size) / 2
            items.append(
                self.fitter.text(number, x, y, "plain", size, role="column", ink=SECOND_INK)
            )
        return items

    def _lane(self, lane: Lane, top: float, left: float, step: float, songs: range) -> list[Item]:
        fitter, style, side = self.fitter, self.style, self.style.paper.side
        middle, size = top + _LANE / 2, style.small
        name = fitter.shortened(lane.guitar, "plain", size, left - side - 6)
        items: list[Item] = [
            fitter.text(name, side, middle + size * 0.36, "plain", size, role="guitar"),
            Stroke(left, middle, left + step * len(songs), middle, 0.6, 0.4),
        ]
        for i, song in enumerate(songs):
            setting = lane.settings[song]
            if setting is not None:
                items += self._box(setting, left + i * step, middle, step, lane.changes[song])
        return items

    def _box(self, setting: str, x: float, middle: float, step: float, changed: bool) -> list[Item]:
        """A song on a guitar: dark where something has changed, else open."""
        half, gap = _LANE * 0.36, min(1.5, step * 0.06)
        corners = (
            (x + gap, middle - half),
            (x + step - gap, middle - half),
            (x + step - gap, middle + half),
            (x + gap, middle + half),
        )
        items: list[Item] = [Shape(corners, 0.0, 0.0), Shape(corners, 0.7)]
        if changed:
            items = [Shape(corners)]
        size = self.fitter.fitting_size(setting, "strong", self.style.cue, step - 2 * gap - 2)
        width = self.fitter.width(setting, "strong", size)
        place = x + (step - width) / 2, middle + size * 0.36
        ink = 0.0 if changed else 1.0
        return [*items, self.fitter.text(setting, *place, "strong", size, role="setting", ink=ink)]

    def _titles(self, titles: Sequence[str], start: int, y: float) -> list[Item]:
        """The numbers of the songs with their titles, in two columns."""
        fitter, style, side = self.fitter, self.style, self.style.paper.side
        rows = -(-len(titles) // 2)
        room = style.paper.height - style.paper.bottom - y
        size = min(style.small * 1.1, room / (max(1, rows) + 2) / 1.45)
        words = fitter.shortened(_LEGEND, "italic", size, style.line_width)
        items: list[Item] = [
            fitter.text(words, side, y, "italic", size, role="legend", ink=SECOND_INK)
        ]
        y += size
        for i, title in enumerate(titles):
            column, row = divmod(i, rows)
            x, base = side + column * style.line_width / 2, y + (row + 1) * size * 1.45
            words = fitter.shortened(
                f"{start + i + 1}. {title}", "words", size, style.line_width / 2 - 10
            )
            items.append(fitter.text(words, x, base, "words", size, role="song"))
        return items
