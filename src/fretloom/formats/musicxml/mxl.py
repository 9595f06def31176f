"""Packs a MusicXML file as `.mxl` (MusicXML 4.0, "Compressed .MXL files")."""

from __future__ import annotations

from fretloom.formats.musicxml.options import ScoreOptions
from fretloom.formats.musicxml.score import score_of_lesson
from fretloom.formats.shape import Output, file_name
from fretloom.performance.reading import Reading

MIMETYPE = b"application/vnd.recordare.musicxml"
SCORE_NAME = "score.musicxml"
_CONTAINER = f"""\
<?xml version="1.0" encoding="UTF-8"?>
<container>
  <rootfiles>
    <rootfile full-path="{SCORE_NAME}" media-type="{MIMETYPE.decode()}+xml"/>
  </rootfiles>
</container>
"""
#: The earliest date a zip entry can have; a real one would make every file different.
_DATE = (1980, 1, 1, 0, 0, 0)


def write(reading: Reading, options: ScoreOptions) -> tuple[Output, ...]:
    """Write what is played as a compressed MusicXML file; raises what the plain one raises."""
    score, left_out = score_of_lesson(reading, options)
    return (Output(file_name(reading.lesson, ".mxl"), pack(score), left_out),)


def pack(score: bytes) -> bytes:
    """Return the archive of one score: `mimetype` first and stored, the rest deflated."""
    from io import BytesIO
    from zipfile import ZIP_DEFLATED, ZIP_STORED, ZipFile, ZipInfo

    entries = (
        ("mimetype", MIMETYPE, ZIP_STORED),
        ("META-INF/container.xml", _CONTAINER.encode(), ZIP_DEFLATED),
        (SCORE_NAME, score, ZIP_DEFLATED),
    )
    packed = BytesIO()
    with ZipFile(packed, "w") as archive:
        for name, content, how in entries:
            entry = ZipInfo(name, _DATE)
            entry.compress_type = how
            entry.create_system = 3
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, content)
    return packed.getvalue()
