"""The commands of the guides print what the guides show."""

from pathlib import Path

import pytest

from tests.evening import GUIDES, differs, prepare, printed, steps


@pytest.mark.parametrize("guide", GUIDES, ids=lambda guide: guide.stem)
def test_commands_print_what_the_guide_shows(
    guide: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A reader who types the commands of a guide in order sees the same lines."""
    monkeypatch.chdir(tmp_path)
    prepare(tmp_path, guide)
    done = 0
    for step in steps(guide.read_text(encoding="utf-8")):
        if step.file:
            Path(step.file).write_text("\n".join(step.lines) + "\n", encoding="utf-8")
            continue
        lines = iter(printed(step.command))
        for wanted in step.lines:
            if wanted == "...":
                break
            line = next(lines, "")
            assert not differs(line, wanted), f"{step.command}:\n{line!r}\n{wanted!r}"
        else:
            assert next(lines, None) is None, f"{step.command} prints more than is shown"
        done += 1
    assert done >= 2
