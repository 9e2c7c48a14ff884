"""Ways to type the same sheet: each takes the lines of a sheet and types some of them otherwise.

Source of the ways: common practice in mails, notes and word processors, no source.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass

Lines = list[str]
Way = Callable[[Lines], Lines]

_NAMES = (
    "verse|chorus|bridge|intro|outro|solo|pre-chorus|refrain|strophe|tag|interlude|coda|ending|"
    "instrumental|estribillo|estrofa|couplet|refrein|refräng|vers|coro|middle 8"
)
_HEAD = re.compile(
    rf"(?P<opens>[\[(]?)(?P<name>{_NAMES})(?: (?P<number>\d))?(?P<closes>[\])]?):?"
    r"(?: ?\(?(?P<times>x ?\d|\dx)\)?)?:?",
    re.IGNORECASE,
)
_KEY = re.compile(r"key\s?[:=]\s*(?P<value>[A-G][#b]?m?)", re.IGNORECASE)
_CAPO = re.compile(r"capo\s?[:=]?\s*(?P<value>[1-7])", re.IGNORECASE)
_TEMPO = re.compile(r"(?:tempo|bpm)\s?[:=]?\s*(?P<value>\d{2,3})", re.IGNORECASE)
_IN_THE_HEAD = 8
ROMAN = ("", "I", "II", "III", "IV", "V", "VI", "VII")
NUMBERS = ("", "one", "two", "three", "four", "five", "six", "seven")
ORDINALS = ("", "first", "second", "third", "fourth", "fifth", "sixth", "seventh")


@dataclass(frozen=True)
class Head:
    """A line that is a section's name: its number, and how often it is played."""

    name: str
    number: int
    times: int

    @property
    def full(self) -> str:
        """The name with its number."""
        return f"{self.name} {self.number}" if self.number else self.name

    @property
    def plain(self) -> str:
        """The name with its number and its count."""
        return f"{self.full} x{self.times}" if self.times > 1 else self.full


def head_in(line: str) -> Head | None:
    """The section's name that a line is; None for any other line."""
    match = _HEAD.fullmatch(line.strip())
    if match is None or bool(match["opens"]) != bool(match["closes"]):
        return None
    times = int(re.sub(r"\D", "", match["times"])) if match["times"] else 1
    return Head(match["name"], int(match["number"] or 0), times)


def _heads(make: Callable[[Head], str], fits: Callable[[Head], bool] = lambda _: True) -> Way:
    """A way to type the names of sections."""

    def typed(line: str) -> str:
        head = head_in(line)
        return make(head) if head is not None and fits(head) else line

    return lambda lines: [typed(line) for line in lines]


_SIGNS = """
{}:  [{}]  ({})  ---_{}_---  ==_{}_==  #_{}  ##_{}  *{}*  **{}**  **{}:**  {}.  <{}>  {{{}}}  ~_{}_~
•_{}  -_{}  -{}-  {}_-  —_{}_—  >>_{}  "{}"  |{}|  /{}/  {}_:  {};  {}...  ...{}  ={}=  {}_-----
▶_{}  ->_{}  =>_{}  [{}]:  *_{}  +_{}  {}!  <<{}>>  [[{}]]  ***_{}_***  |_{}  {}…  “{}”  ***{}***
"""
_NUMBERED = """
{name}_{roman}  {name}_{word}  {wordup}  {name}_#{n}  {name}#{n}  {name}{n}  {name}-{n}
{name}_no._{n}
{name}_Nr_{n}  {name}_nº_{n}  {name}.{n}  {n}._{name}  {n}_{name}  {n})_{name}  {name}_{n}.
{name}__{n}  {name}_0{n}  {ordinal}_{name}
"""
_COUNTED = """
{n}_x{t}  {n}_x_{t}  {n}_{t}x  {n}_{t}_x  {n}_(x{t})  {n}_({t}x)  {n}_[x{t}]  {n}_{t}_times
{n}_({t}_times)
{n}_({w}_times)  {n}_{w}_times  {n}_X{t}  {n}_×{t}  {n}_{t}×  {n}_*{t}  {n}_*_{t}  {t}x_{n}
x{t}_{n}
{n}:_x{t}  {n}_x{t}:  {n}_-_x{t}  {n}_-_{t}x  {n},_x{t}  {n},_{t}_times  [{n}_x{t}]  [{n}_(x{t})]
[{n}]_x{t}  [{n}]_(x{t})  ({n})_x{t}  {n}_(play_{t}_times)  {n}_-_play_{t}x  {n}_(sing_{t}x)
{n}____x{t}  {n}_=_x{t}  {n}_..._x{t}  {n}_/_x{t}  {n}_{t}_mal  {n}_({t}_fois)  {n}_({t}_veces)
{n}_({t}_volte)  {n}_({t}_vezes)  {n}_{t}_ggr  {n}_{t}_keer  {n}_{t}tms  {n}_<x{t}>  {n}_(rep_x{t})
{n}_(repeat_{t}_times)  repeat_{n}_{t}x  {n}_rpt_x{t}  {n}_({t}_times_through)  {n}_x{t}!
"""
_TWICE = """
{}_twice  {}_(twice)  {},_twice  {}_-_twice  {}_(bis)  {}_bis  {},_bis  Double_{}  {}_(double)
twice_{}  {}_(play_twice)  {}_(sing_twice)  repeat_{}_twice  {}:_twice  {}_zweimal  {}_deux_fois
{}_dos_veces  {}_due_volte  {}_duas_vezes
"""
_AGAIN = """
({})  {}_again  {}_(again)  Repeat_{}  Rep._{}  →_{}  ->_{}  {}...  {}_as_before  {}_-_same
{}_(same)  back_to_{}  then_{}  {}:_repeat  {}_as_above  {}_once_more  {}_x1  {}_again!  go_to_{}
(go_to_{})  the_{}  repeat_the_{}  sing_{}  {}_etc.  {}_(ditto)  whole_{}_again
"""
_KEYS = """
Key_of_{}  Key_-_{}  KEY:_{}  key_=_{}  (Key:_{})  Key_{}  in_{}  (in_{})  [Key:_{}]  Key_...._{}
Key_is_{}  {}_key  Tonart:_{}  Ton_:_{}  *Key:*_{}  Key?_{}  -_Key:_{}  The_key_is_{}
"""
_CAPOS = """
Capo:_{n}  CAPO_{n}  Capo_on_{n}  capo_@{n}  Capo_fret_{n}  capo_on_the_{n}th  (capo_{n})
[Capo_{n}]  Capo_-_{n}  Capo_=_{n}  Capo_{roman}  Capo_#{n}  Cap._{n}  Capo_{word}
capo_on_{ordinal}_fret  Kapo_{n}  Kapodaster_{n}._Bund  Cejilla_{n}
{n}_capo  Capo{n}  *Capo_{n}*  -_Capo_{n}
"""
_TEMPOS = """
{}_bpm  {}bpm  Tempo:_{}_bpm  BPM:_{}  ♩_=_{}  ♩={}  q_=_{}  ({}_bpm)  ca._{}_bpm  ~{}_bpm
{}ish_bpm
MM_{}  about_{}_bpm  -_Tempo:_{}  {}_beats_per_minute  click_{}  quarter_=_{}  Tempo:_♩_=_{}
"""


def _patterns(text: str) -> list[str]:
    """The patterns in a table of them, where a low line stands for a blank."""
    return [pattern.replace("_", " ") for pattern in text.split()]


def _signed(pattern: str) -> Way:
    return _heads(lambda head: pattern.format(head.plain))


def _twice(pattern: str) -> Way:
    return _heads(lambda head: pattern.format(head.full), lambda head: head.times == 2)


def _numbered(pattern: str) -> Way:
    return _heads(
        lambda head: pattern.format(
            name=head.name,
            n=head.number,
            roman=ROMAN[head.number],
            word=NUMBERS[head.number],
            wordup=f"{head.name} {NUMBERS[head.number]}".upper(),
            ordinal=ORDINALS[head.number].title(),
        ),
        lambda head: 0 < head.number < len(NUMBERS) and head.times == 1,
    )


def _counted(pattern: str) -> Way:
    return _heads(
        lambda head: pattern.format(n=head.full, t=head.times, w=NUMBERS[head.times]),
        lambda head: 1 < head.times < len(NUMBERS),
    )


def _again(pattern: str) -> Way:
    """A way to name a section once more, above another name or at the end."""

    def typed(lines: Lines) -> Lines:
        seen: set[str] = set()
        result = []
        for at, line in enumerate(lines):
            head = head_in(line)
            below = next((text for text in lines[at + 1 :] if text.strip()), "")
            plain = head is not None and head.plain.casefold() == head.name.casefold()
            again = head is not None and plain and head.name.casefold() in seen
            again = again and (not below or head_in(below) is not None)
            result.append(pattern.format(head.name) if head is not None and again else line)
            seen |= {head.name.casefold()} if head is not None else set()
        return result

    return typed


def _setting(wanted: re.Pattern[str], pattern: str) -> Way:
    def typed(lines: Lines) -> Lines:
        result = list(lines)
        for at, line in enumerate(lines[:_IN_THE_HEAD]):
            if (match := wanted.fullmatch(line.strip())) is not None:
                value = match["value"]
                n = int(value) if value.isdecimal() and len(value) == 1 else 0
                result[at] = pattern.format(
                    value, n=value, roman=ROMAN[n], word=NUMBERS[n], ordinal=ORDINALS[n]
                )
        return result

    return typed


def _unless(sign: str, way: Way) -> Way:
    """A way for sheets in which a sign does not stand yet."""
    return lambda lines: list(lines) if any(sign in line for line in lines) else way(lines)


WHOLE: dict[str, Way] = {
    "blank lines twice": lambda lines: [
        copy for line in lines for copy in ([line] if line.strip() else [line, ""])
    ],
    "carriage returns": lambda lines: [line + "\r" for line in lines],
    "two blanks before": lambda lines: ["  " + line if line.strip() else line for line in lines],
    "blanks behind": lambda lines: [line + "   " for line in lines],
    "quoted": _unless(">", lambda lines: [f"> {line}".rstrip() for line in lines]),
    "hard blanks": lambda lines: [line.replace(" ", "\u00a0") for line in lines],
    "empty lines around": lambda lines: ["", "", *lines, "", ""],
    "between fences": lambda lines: ["```", *lines, "```"],
    "names apart": lambda lines: [
        copy for line in lines for copy in (["", line, ""] if head_in(line) else [line])
    ],
    "rules before names": _unless(
        "--",
        lambda lines: [
            copy for line in lines for copy in ["-" * 12] * bool(head_in(line)) + [line]
        ],
    ),
    "upper case": _heads(lambda head: head.plain.upper()),
    "lower case": _heads(lambda head: head.plain.lower()),
}

EVERY: dict[str, Way] = {
    **WHOLE,
    **{f"sign {one}": _signed(one) for one in _patterns(_SIGNS)},
    **{f"number {one}": _numbered(one) for one in _patterns(_NUMBERED)},
    **{f"count {one}": _counted(one) for one in _patterns(_COUNTED)},
    **{f"twice {one}": _twice(one) for one in _patterns(_TWICE)},
    **{f"again {one}": _again(one) for one in _patterns(_AGAIN)},
    **{f"key {one}": _setting(_KEY, one) for one in _patterns(_KEYS)},
    **{f"capo {one}": _setting(_CAPO, one) for one in _patterns(_CAPOS)},
    **{f"tempo {one}": _setting(_TEMPO, one) for one in _patterns(_TEMPOS)},
}
"""All ways by their names."""

_LANGUAGES = """
Strophe Refrain Überleitung | Couplet Refrain Pont | Estrofa Estribillo Puente
Strofa Ritornello Ponte
Verso Refrão Ponte | Couplet Refrein Brug | Vers Refräng Stick | Vers Refreng Bro | Vers Omkvæd Bro
Zwrotka Refren Mostek | Säkeistö Kertosäe Bridge | Sloka Refrén Mezihra | Versszak Refrén Híd
Kıta Nakarat Köprü | Куплет Припев Бридж | Estrofa Tornada Pont | Strofa Refren Punte
Kitica Pripjev Bridge | Κουπλέ Ρεφρέν Γέφυρα | Vs Chor. Br
"""
LANGUAGES = [
    dict(zip(("verse", "chorus", "bridge"), names.split(), strict=True))
    for line in _LANGUAGES.strip().splitlines()
    for names in line.split("|")
]
_TRANSLATED = re.compile(r"\b(?:verse|chorus|bridge)s?\b", re.IGNORECASE)
_UNTRANSLATED = ("intro", "outro", "solo")


def translated(names: dict[str, str]) -> Way:
    """A way to name verse, chorus and bridge; none for a sheet that speaks of these elsewhere."""

    def typed(lines: Lines) -> Lines:
        result = []
        for line in lines:
            head = head_in(line)
            if head is None and _TRANSLATED.search(line):
                return list(lines)
            if head is not None and head.name.casefold() not in (*names, *_UNTRANSLATED):
                return list(lines)
            name = names.get(head.name.casefold(), head.name) if head is not None else ""
            result.append(Head(name, head.number, head.times).plain if head is not None else line)
        return result

    return typed


def in_language(expected: str, names: dict[str, str]) -> str:
    """The expected chart of a sheet with the names of its sections translated."""
    named = re.sub(
        r"^\[(verse|chorus|bridge)(?=[ \]])",
        lambda match: f"[{names[match[1].casefold()]}",
        expected,
        flags=re.IGNORECASE | re.MULTILINE,
    )
    return re.sub(
        r"^(\[.*\]=)(verse|chorus|bridge)(?=[ \d]|$)",
        lambda match: match[1] + names[match[2].casefold()],
        named,
        flags=re.IGNORECASE | re.MULTILINE,
    )
