"""The folder's files, with drafts that were never saved."""

from chartkit.desk.drafts import Draft, Drafts
from chartkit.desk.file_moves import deleted_names
from chartkit.desk.folder import Folder, entry_of
from chartkit.desk.pages import Facts
from chartkit.files import Unusable


def folder_listing(folder: Folder, drafts: Drafts) -> Facts:
    """The folder's name, its charts and sets by name, and the names of deleted ones.

    ``there`` says whether the file is in the folder, ``unsaved`` how many texts were typed into
    it and not saved, each in a window of its own: a song that was begun and never saved is listed
    too, so that it is found again and no other takes its name.
    """
    unsaved = {name: unsaved_texts(folder, name, of) for name, of in drafts.of_each().items()}
    entries = {entry.name: entry for entry in folder.entries()}
    begun = [
        entry_of(name, of[0].text) for name, of in unsaved.items() if of and name not in entries
    ]
    every = sorted([*entries.values(), *begun], key=lambda entry: entry.name)
    files = [
        {
            "name": entry.name,
            "kind": entry.kind,
            "title": entry.title,
            "writer": entry.writer,
            "part": entry.part,
            "there": entry.name in entries,
            "unsaved": len(unsaved.get(entry.name, ())),
        }
        for entry in every
    ]
    return {
        "folder": folder.root.name or str(folder.root),
        "files": files,
        "deleted": deleted_names(folder),
    }


def unsaved_texts(folder: Folder, name: str, drafts: list[Draft]) -> list[Draft]:
    """The drafts of a file that say something else than it does and than those before; one
    without words does not count where there is no file."""
    try:
        saved = folder.read(name).text if folder.path(name).exists() else ""
    except Unusable:
        return []
    by_text = {draft.text: draft for draft in reversed(drafts) if draft.text != saved}
    return list(reversed(by_text.values()))
