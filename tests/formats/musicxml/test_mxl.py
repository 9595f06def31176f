"""Packed files are what the standard says, and the same every time."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from io import BytesIO
from pathlib import Path

from lxml import etree
from musicxml_pieces import C, bar, plucks, settings, timeline
from writing_scores import to_musicxml, to_mxl


def piece():
    of = settings(title="Lämpchen", capo=2)
    return timeline([bar(plucks("p5+a1 i3 , m2 , p4 i3 m2 , a1", C, of))] * 3, of)


def test_the_media_type_comes_first_and_uncompressed():
    """MusicXML 4.0, compressed files: `mimetype` first, stored, without an extra field."""
    with zipfile.ZipFile(BytesIO(to_mxl(piece()))) as archive:
        first = archive.infolist()[0]
        assert (first.filename, first.compress_type, first.extra) == (
            "mimetype",
            zipfile.ZIP_STORED,
            b"",
        )
        assert archive.read(first) == b"application/vnd.recordare.musicxml"


def test_the_container_names_the_score():
    """`META-INF/container.xml` leads to the score and gives its media type (MusicXML 4.0 `container.xsd`)."""
    with zipfile.ZipFile(BytesIO(to_mxl(piece()))) as archive:
        container = etree.fromstring(archive.read("META-INF/container.xml"))
        [rootfile] = container.findall("rootfiles/rootfile")
        assert container.tag == "container"
        assert rootfile.get("media-type") == "application/vnd.recordare.musicxml+xml"
        assert archive.read(rootfile.get("full-path")) == to_musicxml(piece())


def test_options_reach_the_packed_score():
    """A packed file is the plain one, packed."""
    with zipfile.ZipFile(BytesIO(to_mxl(piece(), layout="notation", concert=True))) as archive:
        assert archive.read("score.musicxml") == to_musicxml(
            piece(), layout="notation", concert=True
        )


def test_bytes_do_not_depend_on_the_day_the_hash_seed_or_the_country():
    """Two processes that differ in all of them write identical files."""
    program = (
        "import sys, test_mxl, writing_scores as m, hashlib\n"
        "p = test_mxl.piece()\n"
        "print(hashlib.sha256(m.to_mxl(p) + m.to_musicxml(p)).hexdigest())"
    )
    here = str(Path(__file__).parent)
    digests = set()
    for seed, country, zone in (("1", "C", "UTC"), ("2", "de_DE.UTF-8", "Asia/Tokyo")):
        surroundings = {**os.environ, "PYTHONHASHSEED": seed, "LC_ALL": country, "TZ": zone}
        path = os.pathsep.join([here, os.environ.get("PYTHONPATH", "")])
        run = subprocess.run(
            [sys.executable, "-c", program],
            env=surroundings | {"PYTHONPATH": path}, capture_output=True, text=True, check=True,
        )  # fmt: skip
        digests.add(run.stdout.strip())
    assert len(digests) == 1
