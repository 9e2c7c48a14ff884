"""A ``name: value`` row: which setting it is and what it means."""

import re

from lark import Token

from chartkit.chart.model import REPEATABLE, SETTING_NAMES, SettingName, SettingRow
from chartkit.chart.section_words import USUAL_NAMES
from chartkit.diagnostics import Span
from chartkit.syntax.report import Report
from chartkit.syntax.setting_hints import value_hints
from chartkit.syntax.settings import BODY_NAMES, nearest_name, setting_value
from chartkit.syntax.words import comment_text
from chartkit.theory.capo import Capo
from chartkit.theory.key import UnknownMode

SECTION_WORD = re.compile(rf"(?:{USUAL_NAMES}|break)\b", re.IGNORECASE)
"""The beginning of a section's name."""


def read_setting(
    parts: list[Token], in_body: bool, seen: set[SettingName], span: Span, report: Report
) -> SettingRow | None:
    """The setting that the grammar's tokens make; None, and a report, where they make none.

    ``seen`` holds the settings already given at the top, and is added to.
    """
    name = parts[0][:-1].strip()
    start = parts[0].start_pos or 0
    end = start + len(name)
    known = setting_named(name)
    if known is None:
        _report_unknown(name, start, report)
        return None
    if in_body and known not in BODY_NAMES:
        message = f'"{known}" belongs at the top, before the first section'
        hint = f"inside the song only {', '.join(BODY_NAMES)} may change"
        if known == "note":
            hint = "inside the song, a word to the players is a cue: a row in quotes"
        report.add("setting-too-late", start, end, message, hint)
        return None
    if not in_body and known not in REPEATABLE and known in seen:
        message, hint = f'"{known}" is given a second time', "take one of the two rows out"
        report.add("setting-twice", start, end, message, hint)
        return None
    row = _with_value(known, parts, end, span, report)
    if row is not None and in_body and known == "capo" and not _is_fret(row.value):
        report.add(
            "capo-inside",
            *report.in_row(span),
            "inside the song the capo can only move to a fret; you cannot retune the guitar there",
            "write capo: and the fret, or capo: 0 to take it off",
        )
        return None
    if row is not None:
        seen.add(known)
    return row


def _is_fret(value: object) -> bool:
    return isinstance(value, Capo) or (isinstance(value, int) and value >= 0)


_COMMENT = 'a "#" begins a comment; in a value write "\\#"'


def _with_value(
    name: SettingName, parts: list[Token], colon: int, span: Span, report: Report
) -> SettingRow | None:
    value = next((t for t in parts[1:] if t.type == "PLAIN"), None)
    comment = next((t for t in parts[1:] if t.type == "COMMENT"), None)
    if value is None:
        hint = (_COMMENT,) if comment is not None else ()
        report.add("empty-setting", colon, colon + 1, f'"{name}" has no value', *hint)
        return None
    plain = " ".join(re.sub(r"\\([#\\])", r"\1", value).split())
    try:
        meaning = setting_value(name, plain)
    except ValueError as reason:
        start = value.start_pos or 0
        offset = (
            start + max(0, value.rfind(reason.word)) if isinstance(reason, UnknownMode) else start
        )
        report.add(
            f"bad-{name}",
            offset,
            start + len(value.strip()),
            str(reason),
            *value_hints(name, plain, reason),
        )
        return None
    return SettingRow(name, meaning, comment_text(comment), span)


def _report_unknown(name: str, start: int, report: Report) -> None:
    near = nearest_name(name)
    if SECTION_WORD.match(name):
        report.add(
            "unknown-setting",
            start,
            start + len(name),
            f'"{name}" is not a setting',
            f'a section row begins with two equals signs: "== {name}"',
        )
        return
    if name.lower() in ("cue", "cues", "dynamics"):
        message = f'"{name}" is not a setting'
        hint = 'a cue is a row in quotes: "softly"'
        report.add("unknown-setting", start, start + len(name), message, hint)
        return
    hint = f'did you mean "{near}"?' if near else f"the names are {', '.join(SETTING_NAMES)}"
    report.add(
        "unknown-setting",
        start,
        start + len(name),
        f'"{name}" is not a setting',
        hint,
        'if these are words to be sung, begin the row with ":"; a cue stands in quotes',
    )


def setting_named(name: str) -> SettingName | None:
    """The setting of that name, case aside; None for any other word."""
    lowered = name.lower()
    return next((known for known in SETTING_NAMES if known == lowered), None)
