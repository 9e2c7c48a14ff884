"""Changes to a chord quality as they are written: alterations, and tones that are added."""

ALTERATIONS = {
    **{degree: degree for degree in ("b5", "#5", "b9", "#9", "#11", "b13", "9", "11", "13")},
    "-5": "b5",
    "+5": "#5",
    "-9": "b9",
    "+9": "#9",
    "#4": "#11",
    "+11": "#11",
    "b6": "b13",
    "-13": "b13",
}
"""An alteration as written to the degree it means."""

SIGN_BEHIND = {
    number + sign: kind + degree
    for number, degree, kinds in (
        ("4", "11", "#"),
        ("5", "5", "b#"),
        ("6", "13", "b"),
        ("9", "9", "b#"),
        ("11", "11", "#"),
        ("13", "13", "b"),
    )
    for kind in kinds
    for sign in {"b": "b-", "#": "#+"}[kind]
}
"""The same with the sign behind the number, as it is typed in Brazil, Italy and Spain: ``9-`` is
``b9`` (common practice, no source)."""

ADDED = {
    "2": "9",
    "4": "11",
    "6": "6",
    "b9": "b9",
    "9": "9",
    "#9": "#9",
    "11": "11",
    "#11": "#11",
    "#4": "#11",
    "b13": "b13",
    "13": "13",
}
"""The degree that ``add`` and a number adds."""
