"""The desk's addresses and their handlers."""

import asyncio
import gzip
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager, suppress
from dataclasses import asdict
from functools import cache
from pathlib import Path

from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import FileResponse, Response, StreamingResponse
from starlette.routing import Route

from chartkit.assets import font_path
from chartkit.desk import advice
from chartkit.desk.answers import (
    ADVICE,
    KEEPER,
    SLOW,
    Plain,
    answered_in_lines,
    answering,
    request_in,
    run_beside,
    slowly,
    work_response,
)
from chartkit.desk.changes import events
from chartkit.desk.drafts import Drafts
from chartkit.desk.edits import with_capo, with_setting
from chartkit.desk.export_song import exported_song
from chartkit.desk.file_moves import deleted_file, renamed_file, sets_naming, taken_back
from chartkit.desk.folder import FileChanged, Folder, StoredFile
from chartkit.desk.guard import App, Guard
from chartkit.desk.import_song import import_file
from chartkit.desk.listen import playback
from chartkit.desk.listing import folder_listing, unsaved_texts
from chartkit.desk.night import make_books, night_facts, sung_set, without_song
from chartkit.desk.page_files import page_file, takes_gzip
from chartkit.desk.pages import rendered_pages, tidied_text, transposed_text
from chartkit.desk.requests import (
    BooksRequest,
    ExportRequest,
    FileRequest,
    GripsRequest,
    KeysRequest,
    NeckRequest,
    PageRequest,
    RenameRequest,
    SaveRequest,
    SetEditRequest,
    SetRequest,
    SettingRequest,
    TextRequest,
    TransposeRequest,
    look_options,
)
from chartkit.desk.second_guitar import second_guitar
from chartkit.desk.set_edits import edited_set
from chartkit.desk.vocabulary import vocabulary
from chartkit.files import Unusable
from chartkit.layout.faces import FILES

_FONTS: dict[str, str] = {str(font): file for font, file in FILES.items()}
_PACKING = 5
"""The compression level of fonts (zlib): the highest takes three times as long for one per cent
less."""


def desk_app(root: Path, key: str, port: int) -> App:
    """The desk of a folder, for requests with the key."""
    desk = _Desk(Folder(root))
    routes = [
        Route("/", page_file),
        Route("/fonts/{font}", desk.font),
        Route("/api/files", desk.files),
        Route("/api/file", desk.file),
        Route("/api/changes", desk.changes),
        Route("/api/vocabulary", desk.words),
        Route("/api/look", desk.look),
        Route("/api/pages", answering(PageRequest, rendered_pages), methods=["POST"]),
        Route("/api/neck", answering(NeckRequest, advice.neck, ADVICE), methods=["POST"]),
        Route("/api/keys", answering(KeysRequest, advice.keys, ADVICE), methods=["POST"]),
        Route("/api/shapes", answering(PageRequest, advice.shapes, ADVICE), methods=["POST"]),
        Route("/api/grips", answering(GripsRequest, advice.grips, ADVICE), methods=["POST"]),
        Route("/api/second", answering(PageRequest, second_guitar, SLOW), methods=["POST"]),
        Route("/api/listen", answering(PageRequest, playback, SLOW), methods=["POST"]),
        Route("/api/setting", answering(SettingRequest, with_setting), methods=["POST"]),
        Route("/api/transpose", answering(TransposeRequest, _transpose), methods=["POST"]),
        Route("/api/incoming", import_file, methods=["POST"]),
        Route("/api/night", desk.night, methods=["POST"]),
        Route("/api/set-edit", desk.set_edit, methods=["POST"]),
        Route("/api/books", desk.books, methods=["POST"]),
        Route("/api/made", desk.made),
        Route("/api/out", answering(ExportRequest, exported_song), methods=["POST"]),
        Route("/api/tidy", answering(TextRequest, _tidy), methods=["POST"]),
        Route("/api/save", answering(SaveRequest, desk.save, KEEPER), methods=["POST"]),
        Route("/api/draft", answering(SaveRequest, desk.draft, KEEPER), methods=["POST"]),
        Route("/api/undraft", answering(SaveRequest, desk.undraft, KEEPER), methods=["POST"]),
        Route("/api/sets-with", answering(FileRequest, desk.sets_with, KEEPER), methods=["POST"]),
        Route("/api/rename", answering(RenameRequest, desk.rename, KEEPER), methods=["POST"]),
        Route("/api/delete", answering(FileRequest, desk.delete, KEEPER), methods=["POST"]),
        Route("/api/take-back", answering(FileRequest, desk.take_back, KEEPER), methods=["POST"]),
        Route("/api/examples", desk.examples, methods=["POST"]),
        Route("/page/{digest}/{name}", page_file),
    ]
    return Guard(Starlette(routes=routes, lifespan=desk.life), key, port)


def _tidy(request: TextRequest) -> object:
    return {"text": tidied_text(request.text)}


def _transpose(request: TransposeRequest) -> object:
    text = transposed_text(request)
    return {"text": text if request.capo is None else with_capo(text, request.capo)}


def _changed(reason: FileChanged) -> Response:
    """What the file is now instead."""
    now = {"text": reason.stored.text, "version": reason.stored.version}
    return Plain({"reason": str(reason), "stored": now}, 409)


@cache
def _packed_font(font: str) -> bytes:
    return gzip.compress(font_path(_FONTS[font]).read_bytes(), _PACKING)


_FIRST_SONG = "title: A\nkey: C\n\n== A\n| C | F |\n: la | la |\n"
"""A song that is engraved while the browser starts, in a folder without one."""
_LONGEST_FIRST_SONG = 50_000
"""Letters of a song that is engraved before it is asked for."""


class _Desk:
    """The state that the handlers share: the folder, its drafts, and whether the server is
    ending."""

    def __init__(self, folder: Folder) -> None:
        self._folder = folder
        self._drafts = Drafts(folder.root)
        self._ending = asyncio.Event()

    @asynccontextmanager
    async def life(self, app: Starlette) -> AsyncIterator[None]:
        """At the start, deletes old drafts and loads what the first page needs; at the end, closes
        open streams."""
        self._drafts.tidy_up()
        first = run_beside(self._engrave_first_song)
        fonts = (asyncio.to_thread(_packed_font, font) for font in _FONTS)
        warming = asyncio.gather(first, *fonts)
        yield
        await warming
        self._ending.set()

    def _engrave_first_song(self) -> None:
        """Engraves the song that is likely to be opened, so that it is not slower than others."""
        text = _FIRST_SONG
        with suppress(Unusable):
            if (name := self._folder.first_chart()) is not None:
                text = self._folder.read(name).text
        rendered_pages(PageRequest(text=text if len(text) <= _LONGEST_FIRST_SONG else _FIRST_SONG))

    # ---- the page itself
    async def font(self, request: Request) -> Response:
        """The file of a face, packed once for all who ask."""
        font = request.path_params["font"]
        if font not in _FONTS:
            return Response(status_code=404)
        headers = {"Cache-Control": "max-age=86400", "Vary": "Accept-Encoding"}
        if not takes_gzip(request):
            return FileResponse(font_path(_FONTS[font]), media_type="font/ttf", headers=headers)
        content = await asyncio.to_thread(_packed_font, font)
        packed = headers | {"Content-Encoding": "gzip"}
        return Response(content, media_type="font/ttf", headers=packed)

    # ---- files
    async def files(self, request: Request) -> Response:
        """Every chart and set of the folder."""
        return await work_response(folder_listing, self._folder, self._drafts, worker=KEEPER)

    async def file(self, request: Request) -> Response:
        """A file's text and version, what was typed into it last and not saved, and what was
        typed in other windows."""
        name = request.query_params.get("name", "")
        return await work_response(self._opened, name, worker=KEEPER)

    def _opened(self, name: str) -> object:
        there = self._folder.path(name).exists()
        drafts = self._drafts.of(name)
        if there or not drafts:
            stored = self._folder.read(name)
            self._drafts.drop_saved(name, stored.text)
        else:
            stored = StoredFile("", "")
        drafts = [draft for draft in drafts if draft.text != stored.text or not stored.version]
        others = unsaved_texts(self._folder, name, drafts)
        return {
            "name": name,
            "text": stored.text,
            "version": stored.version,
            "draft": asdict(drafts[0]) if drafts else None,
            "others": [asdict(draft) for draft in others if draft.text != drafts[0].text],
        }

    def save(self, request: SaveRequest) -> object:
        """Saves a file; if it has changed meanwhile, says what it is now instead.

        The draft has the text first: killed before the draft is forgotten, it says what the file
        says, and nobody is asked which of two texts of theirs is the right one.
        """
        with suppress(Unusable):
            self.draft(request)
        try:
            version = self._folder.save(request.name, request.text, request.version)
        except FileChanged as reason:
            return _changed(reason)
        self._forget(request)
        self._drafts.drop_saved(request.name, request.text)
        return {"version": version}

    def draft(self, request: SaveRequest) -> object:
        """Keeps what is typed and not saved."""
        self._folder.path(request.name)
        self._drafts.keep(request.name, request.text, request.version, request.window)
        self._forget_inherited(request)
        return {"kept": True}

    def undraft(self, request: SaveRequest) -> object:
        """Forgets a window's draft."""
        self._forget(request)
        return {"kept": False}

    def _forget(self, request: SaveRequest) -> None:
        self._drafts.drop(request.name, request.window)
        self._forget_inherited(request)

    def _forget_inherited(self, request: SaveRequest) -> None:
        """The draft that a window went on from is in its own now; it must not come back later."""
        if request.inherited is not None:
            self._drafts.drop(request.name, request.inherited.window, request.inherited.time)

    def sets_with(self, request: FileRequest) -> object:
        """The sets that name a chart."""
        return {"sets": sets_naming(self._folder, request.name)}

    def rename(self, request: RenameRequest) -> object:
        """Gives a file another name."""
        try:
            return renamed_file(self._folder, request)
        except FileChanged as reason:
            return _changed(reason)

    def delete(self, request: FileRequest) -> object:
        """Puts a file among the deleted ones."""
        try:
            return deleted_file(self._folder, request)
        except FileChanged as reason:
            return _changed(reason)

    def take_back(self, request: FileRequest) -> object:
        """Puts a deleted file back."""
        return taken_back(self._folder, request)

    async def examples(self, request: Request) -> Response:
        """Copies the example songs into the folder."""
        return await work_response(lambda: {"copied": self._folder.copy_examples()})

    # ---- the night
    async def night(self, request: Request) -> Response:
        """The night that a set file makes."""
        asked = await request_in(SetRequest, request)
        if isinstance(asked, Response):
            return asked
        return await slowly(night_facts, self._folder, asked)

    async def set_edit(self, request: Request) -> Response:
        """The set file with one change."""
        asked = await request_in(SetEditRequest, request)
        if isinstance(asked, Response):
            return asked
        if asked.change == "sing-player":
            return await slowly(sung_set, self._folder, asked)
        if asked.change == "remove":
            return await slowly(without_song, self._folder, asked)
        return await work_response(edited_set, asked)

    async def books(self, request: Request) -> Response:
        """Makes everybody's books, and reports the progress."""
        asked = await request_in(BooksRequest, request)
        if isinstance(asked, Response):
            return asked
        return answered_in_lines(lambda progress: make_books(self._folder, asked, progress))

    async def made(self, request: Request) -> Response:
        """A book that was made: a PDF to look at, a book for a screen to keep."""
        name = request.query_params.get("name", "")
        return await work_response(self._folder.made, name)

    async def changes(self, request: Request) -> Response:
        """A stream of changes in the folder."""
        stream = events(self._folder, self._ending)
        return StreamingResponse(
            stream, media_type="text/event-stream", headers={"Cache-Control": "no-store"}
        )

    async def look(self, request: Request) -> Response:
        """Every option of a page."""
        return await work_response(look_options)

    async def words(self, request: Request) -> Response:
        """What the text pane completes."""
        return await work_response(vocabulary)
