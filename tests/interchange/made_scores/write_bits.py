"""Elements of a score, each as text."""

from fractions import Fraction
from xml.sax.saxutils import escape, quoteattr

from tests.interchange.made_scores.song import Bar, Note, Q, Symbol
from tests.interchange.made_scores.style import Style
from tests.interchange.made_scores.symbols import QUALITIES, name_of, printed_name

_START = Q(0)
_TYPES = {
    Q(8): "breve", Q(4): "whole", Q(2): "half", Q(1): "quarter", Q(1, 2): "eighth", Q(1, 4): "16th",
}  # fmt: skip


def _pitch_in(tag: str, place: int, style: Style) -> str:
    letter, alter = name_of(place)
    sign = f"{alter}.0" if style.decimals else str(alter)
    altered = f"<{tag}-alter>{sign}</{tag}-alter>" if alter else ""
    return f"<{tag}><{tag}-step>{letter}</{tag}-step>{altered}</{tag}>"


def harmony(
    symbol: Symbol | None, style: Style, offset: int = 0, more: str = "", index: int = 0
) -> str:
    """A chord symbol that is already moved to its part; ``more`` are elements at its end, ``index``
    chooses among the ways to write it."""
    end = (f"<offset>{offset}</offset>" if offset else "") + more
    if symbol is None and style.silent_words:
        return words("N.C.", offset=offset)
    if symbol is None:
        return (
            '<harmony><root><root-step text="">C</root-step></root><kind text="N.C.">none</kind>'
            f"{end}</harmony>"
        )
    quality = QUALITIES[symbol.quality]
    odd = style.odd_ways or any(degrees for _, degrees in quality.ways[:1])
    kind, degrees = quality.ways[index % len(quality.ways) if odd else 0]
    text = ""
    if style.kind_texts is not None:
        said = quality.texts[style.kind_texts % len(quality.texts)]
        said = said if not degrees or style.degrees_hidden else _bare(kind, style)
        text = f" text={quoteattr(said)}"
    if style.text_alone and degrees and style.kind_texts is not None:
        text, degrees = f" text={quoteattr(quality.texts[0])}", ()
    if style.whole_by_text and degrees:
        text, kind, degrees = f" text={quoteattr(quality.texts[0])}", "other", ()
    hides = ' print-object="no"' if style.degrees_hidden and style.kind_texts is not None else ""
    tail = "".join(
        f"<degree{hides}><degree-value>{value}</degree-value><degree-alter>{alter}</degree-alter>"
        f"<degree-type>{what}</degree-type></degree>"
        for value, alter, what in degrees
    )
    bass = "" if symbol.bass is None else _pitch_in("bass", symbol.bass, style)
    inversion = _inversion(symbol) if style.inversions and not degrees else 0
    if inversion:
        bass = f"<inversion>{inversion}</inversion>"
    root = _pitch_in("root", symbol.root, style)
    body = f"{root}<kind{text}>{kind}</kind>{bass}{tail}"
    body += _FRAME if style.frames else ""
    return f"<harmony>{body}{end}</harmony>"


_FRAME = (
    "<frame><frame-strings>6</frame-strings><frame-frets>4</frame-frets><frame-note><string>5"
    "</string><fret>3</fret></frame-note><frame-note><string>4</string><fret>2</fret></frame-note>"
    "</frame>"
)


def _bare(kind: str, style: Style) -> str:
    """The text of a kind beside which its degrees are printed."""
    for quality in QUALITIES.values():
        if quality.ways == ((kind, ()),) or (quality.ways[0] == (kind, ()) and kind):
            return quality.texts[(style.kind_texts or 0) % len(quality.texts)]
    return ""


def _inversion(symbol: Symbol) -> int:
    """The number of the inversion that a bass makes; 0 where it is no third or fifth."""
    if symbol.bass is None:
        return 0
    third = -3 if symbol.quality.startswith("m") and not symbol.quality.startswith("maj") else 4
    return {third: 1, 1: 2}.get(symbol.bass - symbol.root, 0)


def typed_symbol(symbol: Symbol, offset: int = 0) -> str:
    """A chord symbol as it is typed over a staff."""
    bass = "" if symbol.bass is None else f"/{printed_name(symbol.bass)}"
    said = f"{printed_name(symbol.root)}{QUALITIES[symbol.quality].texts[0]}{bass}"
    return words(said, offset=offset)


def words(said: str, how: str = "", sound: str = "", offset: int = 0) -> str:
    """Words over a staff."""
    late = f"<offset>{offset}</offset>" if offset else ""
    return (
        f'<direction placement="above"><direction-type><words{how}>{escape(said)}</words>'
        f"</direction-type>{late}{f'<sound {sound}/>' if sound else ''}</direction>"
    )


def signed(inner: str, sound: str = "") -> str:
    """A sign over a staff."""
    return (
        f'<direction placement="above"><direction-type>{inner}</direction-type>'
        f"{f'<sound {sound}/>' if sound else ''}</direction>"
    )


def type_of(note: Note) -> str:
    """The value of a note with its dot, and the ratio of a triplet."""
    length = note.length * 3 / 2 if note.triplet else note.length
    ratio = (
        "<time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes>"
        "</time-modification>"
        if note.triplet
        else ""
    )
    if length in _TYPES:
        return f"<type>{_TYPES[length]}</type>{ratio}"
    plain = length * 2 / 3
    return f"<type>{_TYPES[plain]}</type><dot/>{ratio}" if plain in _TYPES else ratio


def pitch(place: int, octave: int) -> str:
    """A pitch in the octaves over the middle C."""
    letter, alter = name_of(place)
    sign = f"<alter>{alter}</alter>" if alter else ""
    return f"<pitch><step>{letter}</step>{sign}<octave>{4 + octave}</octave></pitch>"


def lyric(verse: int, style: Style, inner: str) -> str:
    """The lyric of a verse, numbered or named in one of the usual ways."""
    number = {
        "1": f'number="{verse}"',
        "named": f'number="{verse}" name="verse {verse}"',
        "part": f'number="part1verse{verse}"',
        "name only": f'name="{verse}"',
    }[style.lyric_numbers]
    return f'<lyric {number} default-y="-{60 + 18 * verse}">{inner}</lyric>'


def barline(inner: str, location: str) -> str:
    """A bar line."""
    return f'<barline location="{location}">{inner}</barline>'


def left_line(bar: Bar, forward: bool, style: Style) -> str:
    """The bar line before a bar, if it has anything to say."""
    inner = ""
    if bar.endings:
        numbers = style.ending_commas.join(map(str, bar.endings))
        text = ".".join(map(str, bar.endings)) + "." if style.ending_text else ""
        inner += f'<ending number="{numbers}" type="start">{text}</ending>'
    if forward:
        inner = f'<bar-style>heavy-light</bar-style>{inner}<repeat direction="forward"/>'
    return barline(inner, "left") if inner else ""


def right_line(bar: Bar, endings: tuple[int, ...], last: bool, style: Style) -> str:
    """The bar line behind a bar; ``endings`` are the numbers of the ending that it closes."""
    ending = ""
    if bar.closes and endings:
        numbers = style.ending_commas.join(map(str, endings))
        what = "stop" if bar.ends or style.ending_stop == "stop" else "discontinue"
        if bar.ends or style.ending_stop != "open last":
            ending = f'<ending number="{numbers}" type="{what}"/>'
    if bar.ends:
        says = style.times != "words"
        count = bar.times or (2 if style.times_two else 0)
        times = f' times="{count}"' if count and (says or not bar.times) else ""
        return barline(
            f'<bar-style>light-heavy</bar-style>{ending}<repeat direction="backward"{times}/>',
            "right",
        )
    bar_style = "light-heavy" if last else "light-light" if bar.double else ""
    inner = f"<bar-style>{bar_style}</bar-style>" if bar_style else ""
    return barline(inner + ending, "right") if inner or ending else ""


def units(length: Fraction, style: Style, at: Fraction = _START) -> int:
    """A length in divisions, from a place in the bar to another, each rounded."""
    return round((at + length) * style.divisions) - round(at * style.divisions)
