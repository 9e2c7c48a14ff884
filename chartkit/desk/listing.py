"""The folder's files, with drafts that were never saved."""

from chartkit.desk.drafts import Draft, Drafts
from chartkit.desk.file_moves import deleted_names
from chartkit.desk.folder import Folder, entry_of
from chartkit.desk.pages import Facts
from chartkit.files import Unusable


def folder_listing(folder: Folder, drafts: Drafts) -> Facts:
    """The folder's name, its charts and sets by name, and the names of deleted ones.

    ``there`` says whether the file is in the folder, ``unsaved`` whether something was typed into
    it and not saved: a song that was begun and never saved is listed too, so that it is found
    again and no other takes its name.
    """
    open_drafts = {one.file: one for one in drafts.newest_of_each() if _unsaved(folder, one)}
    entries = {one.name: one for one in folder.entries()}
    begun = [entry_of(name, one.text) for name, one in open_drafts.items() if name not in entries]
    every = sorted([*entries.values(), *begun], key=lambda one: one.name)
    files = [
        {
            "name": one.name,
            "kind": one.kind,
            "title": one.title,
            "writer": one.writer,
            "part": one.part,
            "there": one.name in entries,
            "unsaved": one.name in open_drafts,
        }
        for one in every
    ]
    return {
        "folder": folder.root.name or str(folder.root),
        "files": files,
        "deleted": deleted_names(folder),
    }


def _unsaved(folder: Folder, draft: Draft) -> bool:
    """Whether a draft says something else than its file; one without words does not count."""
    try:
        path = folder.path(draft.file)
        return draft.text != folder.read(draft.file).text if path.exists() else bool(draft.text)
    except Unusable:
        return False
