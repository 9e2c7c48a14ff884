"""The night's plan drawn: what the timeline's page is made from."""

from chartkit.book.change_words import night_setting
from chartkit.book.night import Night
from chartkit.book.night_plan import NightPlan
from chartkit.book.plan_text import change_lines, changes_words, part_words, reason_words
from chartkit.book.player_plan import PlayerPlan
from chartkit.layout.quotes import with_typographic_quotes
from chartkit.pdf.fonts import Fonts
from chartkit.pdf.write import pdf_bytes
from chartkit.sheets.set_sheet_look import short_setting
from chartkit.sheets.timeline import Lane, PlayerLanes, timeline_sheet


def plan_sheet(night: Night, plan: NightPlan) -> bytes:
    """The plan as a PDF: a lane for each guitar, then what each player changes when."""
    titles = [night.facts[number].printed_title for number in plan.order]
    planned = {one.player.name: one for one in plan.players}
    players = [
        _lanes(night, plan, planned[player.name])
        if player.name in planned
        else PlayerLanes(player.name, part_words(player), ())
        for player in night.set_list.players
        if player.part is not None or player.name in planned
    ]
    name = with_typographic_quotes(night.set_list.name, "")
    paper = night.set_list.shared_paper
    return pdf_bytes(timeline_sheet(name, titles, players, Fonts(), paper))


def _lanes(night: Night, plan: NightPlan, one: PlayerPlan) -> PlayerLanes:
    return PlayerLanes(
        one.player.name,
        changes_words(one.changes),
        tuple(_lane(one, guitar) for guitar in range(len(one.player.guitars))),
        reason_words(one),
        tuple(change_lines(night, plan, one)),
    )


def _lane(one: PlayerPlan, guitar: int) -> Lane:
    played = [step is not None and step.offer.guitar == guitar for step in one.steps]
    settings = tuple(
        short_setting(night_setting(one.steps, step)) if step is not None and here else None
        for step, here in zip(one.steps, played, strict=True)
    )
    changes = tuple(
        step is not None and here and step.seconds > 0
        for step, here in zip(one.steps, played, strict=True)
    )
    return Lane(one.player.guitars[guitar].name, settings, changes)
