"""Where forms stand on a page: content that is kept apart and shown in a place of its own.

pypdf reads the content of a form as if it stood at the corner of the page.  Source: ISO 32000-1,
8.3.4 (matrices), 8.10 (form XObjects).
"""

from collections.abc import Sequence
from typing import Any

Matrix = Sequence[float]
PLAIN: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
_MOST_WITHIN = 20
"""How deep forms stand in forms at most; deeper ones stay where they are."""


def together(first: Matrix, then: Matrix) -> Matrix:
    """The matrix that moves as one and then another do."""
    a, b, c, d, e, f = first
    p, q, r, s, t, u = then
    return (
        *(a * p + b * r, a * q + b * s, c * p + d * r, c * q + d * s),
        *(e * p + f * r + t, e * q + f * s + u),
    )


class Forms:
    """Follows the operators that show forms; ``placed`` turns a matrix inside a form into one on
    the page."""

    def __init__(self, page: Any) -> None:
        self._shown: list[tuple[Matrix, Any]] = [(PLAIN, _resources_of(page))]
        self._next: tuple[Matrix, Any] | None = None

    def before(self, operator: bytes, operands: list[Any], outer: Matrix) -> None:
        """Takes an operator, before it is carried out."""
        if self._next is not None:
            self._shown.append(self._next)  # the first operator of the form
            self._next = None
        if operator == b"Do":
            base, resources = self._shown[-1]
            form = _form_of(resources, operands)
            within = form is None or len(self._shown) > _MOST_WITHIN
            matrix = base if within else together(_matrix_of(form), together(outer, base))
            self._next = matrix, resources if form is None else _resources_of(form) or resources

    def after(self, operator: bytes, *_: Any) -> None:
        """Takes an operator, after it was carried out."""
        if operator == b"Do" and self._next is not None:
            self._next = None  # no form, or one without content
        elif operator == b"Do" and len(self._shown) > 1:
            self._shown.pop()

    def placed(self, outer: Matrix) -> Matrix:
        """A matrix of what is shown now as one on the page."""
        base = self._shown[-1][0]
        return outer if base is PLAIN else together(outer, base)


def _resources_of(holder: Any) -> Any:
    try:
        found = holder.get("/Resources")
        return None if found is None else found.get_object()
    except Exception:
        return None  # a file from elsewhere may be wrong in any way


def _form_of(resources: Any, operands: list[Any]) -> Any:
    """The form that is shown; None for a picture, or where there is none."""
    try:
        shown = resources["/XObject"].get_object()[operands[0]].get_object()
        return shown if shown.get("/Subtype") == "/Form" else None
    except Exception:
        return None  # a file from elsewhere may be wrong in any way


def _matrix_of(form: Any) -> Matrix:
    try:
        matrix = [float(number) for number in form.get("/Matrix", PLAIN)]
    except Exception:
        return PLAIN  # a file from elsewhere may be wrong in any way
    return matrix if len(matrix) == len(PLAIN) else PLAIN
