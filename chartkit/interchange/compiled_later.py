"""Regular expressions for what few files hold, compiled when they are first used."""

import re
from collections.abc import Callable
from functools import cached_property


class CompiledLater:
    """A pattern that texts are compared with; compiling a long one takes a millisecond."""

    def __init__(self, pattern: str, flags: re.RegexFlag = re.IGNORECASE) -> None:
        self._pattern, self._flags = pattern, flags

    @cached_property
    def fullmatch(self) -> Callable[[str], re.Match[str] | None]:
        """The match of a whole text; None where it does not fit."""
        return re.compile(self._pattern, self._flags).fullmatch

    @cached_property
    def match(self) -> Callable[[str], re.Match[str] | None]:
        """The match at the start of a text; None where it does not fit."""
        return re.compile(self._pattern, self._flags).match
