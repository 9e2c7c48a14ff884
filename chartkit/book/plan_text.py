"""The night's plan as lines for a terminal: what it saves, a timeline, what to do when."""

from collections.abc import Iterator, Sequence

from chartkit.advise.set_steps import Offer, SetSteps
from chartkit.advise.stage import GuitarSetup, StageCosts, setup_seconds
from chartkit.book.change_words import (
    moves_words,
    night_setting,
    song_setup_words,
    time_words,
    to_do,
)
from chartkit.book.night import Night, planned_night
from chartkit.book.night_plan import NightPlan
from chartkit.book.plan_reasons import Reason
from chartkit.book.player_plan import Changes, PlayerPlan
from chartkit.book.set_list import Player
from chartkit.fretboard.instruments import GUITAR
from chartkit.phrases import counted, listed
from chartkit.theory.capo import step_words

_TITLE = 28
_LOSS_NAMED = 0.1
"""From this loss of time on open shapes on, it is printed (ours)."""
_NONE_LEFT = 0.005
"""A smaller share of time on open shapes would be printed as 0% (ours)."""
_BECAUSE: dict[Reason, str] = {
    "no pause": "since songs run straight on",
    "fewer changes": "to save changes",
}


def plan_lines(night: Night, plan: NightPlan) -> Iterator[str]:
    """The whole plan, line by line."""
    yield from _order_lines(night, plan)
    planned = {player_plan.player.name: player_plan for player_plan in plan.players}
    for player in night.set_list.players:
        if player.part is not None:
            yield ""
            yield player.name
            yield f"  {part_words(player)}"
        elif player.name in planned:
            yield ""
            yield from _player_lines(night, plan, planned[player.name])
    yield ""
    yield _legend(plan)


def part_words(player: Player) -> str:
    """The line of a player who plays a part made for the night: on which instrument, beside
    whom."""
    on = "" if player.part is None or player.part == GUITAR else f" on the {player.part.name}"
    return f"Plays a part{on} beside {player.beside}, without a capo; nothing to change."


def _order_lines(night: Night, plan: NightPlan) -> Iterator[str]:
    yield f"{night.set_list.name}: {counted(len(plan.order), 'song')}"
    if plan.order != tuple(range(len(plan.order))):
        numbers = ", ".join(str(number + 1) for number in plan.order)
        yield f"Order, by the numbers in the file: {numbers}."
        yield from _gain_lines(night, plan)
        yield from _note_lines(night, plan.order)
    for place in plan.alike:
        one, other = (night.facts[plan.order[i]].title for i in (place - 1, place))
        yield f"{one} and {other} follow each other in the same key or at nearly the same tempo."


def _note_lines(night: Night, order: Sequence[int]) -> Iterator[str]:
    """The songs that take a note to another place, where it may be out of place: an interval."""
    moved = [
        f'{place + 1}. {night.facts[number].title} ("{night.set_list.songs[number].note}")'
        for place, number in enumerate(order)
        if number != place and night.set_list.songs[number].note
    ]
    if moved:
        yield f"Notes went with their songs: {', '.join(moved)}."


def _gain_lines(night: Night, plan: NightPlan) -> Iterator[str]:
    """What another order of the songs changes against the file's: neighbours that are too alike,
    and each guitarist's changes and places."""
    before = planned_night(night)
    if len(before.alike) > len(plan.alike):
        few = counted(len(before.alike), "song follows one", "songs follow one")
        yield f"In the file's order {few} in the same key or at nearly the same tempo."
    for one, other in zip(plan.players, before.players, strict=True):
        # Planned in the file's order, so that its places are those of other songs.
        there = dict(zip(before.order, other.steps, strict=True))
        steps = tuple(there[number] for number in plan.order)
        if gains := _gains(night, plan, one, other, steps):
            yield f"{one.player.name}, against the file's order: {'; '.join(gains)}."


def _gains(
    night: Night, plan: NightPlan, one: PlayerPlan, other: PlayerPlan, there: SetSteps
) -> list[str]:
    """What a guitarist gains by an order and what it costs: the time of changes, the songs that lie
    better or not so well, and the range shared with others."""
    said = []
    now, then = one.changes.seconds, other.changes.seconds
    if round(now) != round(then):
        said.append(f"changes take {time_words(now)}, not {time_words(then)}")
    better, worse = list[str](), list[str]()
    for place, (step, old) in enumerate(zip(one.steps, there, strict=True)):
        if step is None or old is None or step.offer.score_gap == old.offer.score_gap:
            continue
        lies = better if step.offer.score_gap < old.offer.score_gap else worse
        here, before = (_setting(one, offer) for offer in (step.offer, old.offer))
        title = night.facts[plan.order[place]].title
        lies.append(f"{place + 1}. {title} ({here}, not {before})")
    said += [f"easier to play: {', '.join(better)}"] if better else []
    said += [f"harder to play: {', '.join(worse)}"] if worse else []
    for company, old_company in zip(one.neighbours, other.neighbours, strict=True):
        shared, before_shared = _mean(company.shared), _mean(old_company.shared)
        if f"{shared:.0%}" != f"{before_shared:.0%}":
            said.append(
                f"shares {shared:.0%} of the range with {company.name}, not {before_shared:.0%}"
            )
    return said


def _mean(shared: Sequence[float | None]) -> float:
    known = [share for share in shared if share is not None]
    return sum(known) / len(known) if known else 0.0


def _player_lines(night: Night, plan: NightPlan, one: PlayerPlan) -> Iterator[str]:
    yield one.player.name
    if not any(one.steps):
        yield "  No song to play."
        return
    yield f"  {changes_words(one.changes)}."
    if not one.sets_up:
        return
    some_given = any(one.player.name in song.capos for song in night.set_list.songs)
    yield from (f"  {line}" for line in reason_lines(one, some_given))
    yield from (f"  {line}" for line in _tuned_up_lines(one, night.set_list.stage.costs))
    yield from (f"  {line}" for line in _beside_lines(night, plan, one))
    yield from (f"  {line}" for line in timeline_lines(one))
    lines = change_lines(night, plan, one)
    for place, (number, sentence) in enumerate(zip(plan.order, lines, strict=True), 1):
        title = _shortened(night.facts[number].title)
        words = sentence or "nothing to change."
        best = one.best[place - 1]
        if one.reasons[place - 1] and best is not None:
            words += f" ({_best_words(one, place - 1, best)})"
        yield f"  {place:>2}. {title:<{_TITLE}}  {words}"


def _best_words(one: PlayerPlan, place: int, best: Offer) -> str:
    """What would be best for a song by itself, on which guitar where there are several, and what
    it costs in open shapes to save changes."""
    words = f"best by itself: {_setting(one, best)}"
    step = one.steps[place]
    here = None if step is None else step.offer.open_share
    if here is None or best.open_share is None or one.reasons[place] == "beside":
        return words
    if best.open_share - here < _LOSS_NAMED:
        return words
    return f"{words}; open {best.open_share:.0%} of the time, here {here:.0%}"


def _tuned_up_lines(one: PlayerPlan, costs: StageCosts) -> Iterator[str]:
    """What a capo on each guitar that is tuned down would be in normal tuning, with the same
    shapes, and the time to tune up: both ways are open to the player, so the price is named."""
    places: dict[tuple[int, int], list[tuple[int, int]]] = {}
    for place, step in enumerate(one.steps, 1):
        if step is not None and not step.offer.moves and step.offer.song_tuning is None:
            fret, down = step.offer.option.fret, step.offer.option.tuned_down
            if fret >= down > 0:
                places.setdefault((step.offer.guitar, down), []).append((place, fret - down))
    for (number, down), songs in places.items():
        guitar = one.player.guitars[number]
        strings = len(guitar.instrument.strings)
        seconds = setup_seconds(GuitarSetup(down), GuitarSetup(), strings, costs)
        off = [place for place, fret in songs if not fret]
        lower = [place for place, fret in songs if fret]
        frets = "a fret" if down == 1 else f"{down} frets"
        would = (
            f"{_songs(off).lower()} would need no capo" if off else "",
            f"{_songs(lower).lower()} would have it {frets} lower" if lower else "",
        )
        name = guitar.name if len(one.player.guitars) > 1 else "the guitar"
        yield (
            f"With {name} tuned up {step_words(down)} ({time_words(seconds)}), "
            f"{', and '.join(filter(None, would))}."
        )


def _beside_lines(night: Night, plan: NightPlan, one: PlayerPlan) -> Iterator[str]:
    """How much of their range the player shares with the guitarist beside, and the songs in which
    both use the same capo."""
    titles = [night.facts[number].title for number in plan.order]
    for other in one.neighbours:
        shared = [share for share in other.shared if share is not None]
        if not shared:
            continue
        mean = _mean(shared)
        yield f"Beside {other.name}: the two guitars share {mean:.0%} of their range."
        if other.same_place:
            songs = ", ".join(
                titles[i] if titles.count(titles[i]) == 1 else f"{i + 1}. {titles[i]}"
                for i in other.same_place
            )
            yield f"Both use the same capo, since another would cost more than it gains: {songs}."


def change_lines(night: Night, plan: NightPlan, one: PlayerPlan) -> Iterator[str]:
    """A player's changes before each song in playing order, and inside it; empty where nothing
    changes."""
    straight = straight_before(night, plan)
    helper = night.set_list.stage.costs.helper
    dues = to_do(one.player, one.steps, straight, helper)
    for number, step, due in zip(plan.order, one.steps, dues, strict=True):
        if step is not None and due is not None:
            moves = moves_words(step.offer.setup)
            yield " ".join(filter(None, (*due.sentences, moves)))
        elif night.facts[number].broken:
            yield "its chart cannot be used."
        else:
            yield "you sit this one out."


def reordered_lines(night: Night, plan: NightPlan | None) -> Iterator[str]:
    """The changes of each guitarist against the order of the set file, if tonight's is another;
    nothing if nothing is planned."""
    if plan is None or not night.in_file_order:
        return
    lines = list(
        filter(None, (_reordered(night, plan, player_plan) for player_plan in plan.players))
    )
    yield from lines or ["In this order every capo is the same as in the set file's order."]


def _reordered(night: Night, plan: NightPlan, one: PlayerPlan) -> str:
    changed = []
    for place, (step, song) in enumerate(zip(one.steps, night.in_file_order, strict=True)):
        before = song.get(one.player.name)
        if step is None or before is None:
            continue
        now, then = (_setting(one, offer) for offer in (step.offer, before.offer))
        if now != then:
            title = night.facts[plan.order[place]].title
            changed.append(f"{place + 1}. {title} ({now}, not {then})")
    return f"{one.player.name}, for this order: {'; '.join(changed)}." if changed else ""


def _setting(one: PlayerPlan, offer: Offer) -> str:
    """The setting of the guitar through a song, and which guitar it is if there are several."""
    guitar = f" on {one.player.guitars[offer.guitar].name}" if len(one.player.guitars) > 1 else ""
    return f"{song_setup_words(offer.setup)}{guitar}"


def _shortened(title: str) -> str:
    return title if len(title) <= _TITLE else title[: _TITLE - 1].rstrip() + "…"


def straight_before(night: Night, plan: NightPlan) -> tuple[bool, ...]:
    """Of each song in playing order, whether the one before it runs straight into it."""
    songs = night.set_list.songs
    return (False, *(songs[number].straight_into_next for number in plan.order[:-1]))


def changes_words(changes: Changes) -> str:
    """How much there is to change in a night."""
    numbers = (
        (changes.capo_moves, "capo move", ""),
        (changes.retunes, "retuning", ""),
        (changes.swaps, "change of guitar", "changes of guitar"),
    )
    words = ", ".join(counted(*one) for one in numbers if one[0])
    if changes.without_pause:
        words += f", {changes.without_pause} without a pause"
    return f"{words}: {time_words(changes.seconds)}" if words else "Nothing to change all night"


def reason_words(one: PlayerPlan) -> str:
    """The songs that are not played in their own best place, with the reasons."""
    return " ".join(reason_lines(one))


def reason_lines(one: PlayerPlan, some_given: bool = False) -> tuple[str, ...]:
    """The reasons in lines: the changes that the best for each song would take, then the songs by
    reason.

    ``some_given`` says that the capo of some songs is not for the plan to choose.
    """
    if not any(one.reasons):
        which = "Every song whose capo is not given" if some_given else "Every song"
        return (f"{which} is played where it lies best.",)
    alone = changes_words(one.one_by_one) if one.one_by_one.seconds else "no change"
    because = _BECAUSE | {"beside": f"to keep clear of {_names(one)}"}
    lines = [f"The best capo for each song would take {alone}."]
    for reason, words in because.items():
        songs = [place for place, own in enumerate(one.reasons, 1) if own == reason]
        if songs:
            left = _left_words(one, songs)
            lines.append(f"{_songs(songs)}: {_other(one, songs)}, {words}{left}.")
    return tuple(lines)


def _songs(places: Sequence[int]) -> str:
    return f"{'Song' if len(places) == 1 else 'Songs'} {listed(places)}"


def _left_words(one: PlayerPlan, songs: Sequence[int]) -> str:
    """Which of these songs, counted from 1, have no open shape left where they are played."""
    left = []
    for place in songs:
        step, best = one.steps[place - 1], one.best[place - 1]
        here, there = step and step.offer.open_share, best and best.open_share
        if here is not None and there is not None and here < _NONE_LEFT <= there:
            left.append(place)
    if not left:
        return ""
    which = "" if left == list(songs) else f" in {_songs(left).lower()}"
    return f"; no open shape is left{which}"


def _names(one: PlayerPlan) -> str:
    return listed([other.name for other in one.neighbours] or [one.player.beside])


def _other(one: PlayerPlan, songs: Sequence[int]) -> str:
    """What differs from the best in these songs, counted from 1."""
    for place in songs:
        step, best = one.steps[place - 1], one.best[place - 1]
        if step is not None and best is not None and step.offer.guitar != best.guitar:
            return "not the best guitar and capo"
    return "not the best capo"


def timeline_lines(one: PlayerPlan) -> Iterator[str]:
    """A line for each guitar, a column for each song: its capo where it is played.

    ``3`` is a capo at the third fret, ``-`` none, ``d1`` tuned down a half step, ``t-`` the
    strings tuned for the song, ``2>4`` a capo that goes from fret 2 to 4 inside the song, ``.``
    lies idle; a bar before a song says that something changes there.
    """
    names = [guitar.name for guitar in one.player.guitars]
    width = max(map(len, names))
    rows = [_cells(one, guitar) for guitar in range(len(names))]
    widest = max(3, *(len(cell) for cells in rows for cell in cells))
    yield " " * width + "".join(f" {place:>{widest}}" for place in range(1, len(one.steps) + 1))
    changes = [step is not None and step.seconds > 0 for step in one.steps]
    for name, cells in zip(names, rows, strict=True):
        yield f"{name:<{width}}" + "".join(
            f"{'|' if change and cell != '.' else ' '}{cell:>{widest}}"
            for change, cell in zip(changes, cells, strict=True)
        )


def _legend(plan: NightPlan) -> str:
    """What the signs of the timelines mean; only those that stand there."""
    shown = [player_plan for player_plan in plan.players if player_plan.sets_up]
    rows = [
        _cells(player_plan, guitar)
        for player_plan in shown
        for guitar in range(len(player_plan.player.guitars))
    ]
    cells = {cell for row in rows for cell in row}
    changes = any(
        step is not None and step.seconds > 0
        for player_plan in plan.players
        for step in player_plan.steps
    )
    meanings = (
        (any(_names_fret(cell) for cell in cells), "3 = capo on fret 3"),
        (any("-" in cell for cell in cells), "- = no capo"),
        (any("d" in cell for cell in cells), "d1 = tuned down a half step"),
        (any("t" in cell for cell in cells), "t = strings tuned for this song"),
        (any("(" in cell for cell in cells), "2 (5-3) = at 2 over strings 5 to 3"),
        (any(">" in cell for cell in cells), "2>4 = moved from 2 to 4 inside the song"),
        ("." in cells, ". = not played"),
        (changes, "| = a change before this song"),
    )
    return f"Timeline: {', '.join(words for used, words in meanings if used)}."


def _names_fret(cell: str) -> bool:
    """Whether a cell has a fret alone or after the tuning: ``3``, ``t3``, ``d1, 3``."""
    return cell.lstrip("t").rpartition(", ")[2].isdigit()


def _cells(one: PlayerPlan, guitar: int) -> Sequence[str]:
    cells = []
    for step in one.steps:
        if step is None or step.offer.guitar != guitar:
            cells.append(".")
        else:
            way = step.offer.setup
            bare = step._replace(offer=step.offer._replace(song_tuning=None))
            setting = night_setting(one.steps, bare)
            setting = setting.replace("no capo", "-").replace("off", "-")
            setting = setting.replace(", then ", ">").replace("capo ", "").replace("down ", "d")
            cells.append(f"t{setting}" if way.song_tuning is not None else setting)
    return cells
