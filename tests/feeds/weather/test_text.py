"""Bytes to text: what is read, and what is refused in which words."""

import gzip

import pytest

from sheafwright.core.errors import UnreadableInput
from sheafwright.feeds import weather
from sheafwright.feeds.weather import text

CSV = "date,rain_mm\r\n2024-02-29,3.5\r\n"


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
@pytest.mark.parametrize("name", ["ann.csv", "ann.csv.gz"])
def test_marked_encodings_and_gzip_are_read(file, encoding, name):
    assert weather.read(file(CSV.encode(encoding), name)).values["rain"] == [3.5]


PACKED = gzip.compress(CSV.encode() * 500)
REFUSED = {
    b"": "ann.txt is empty",
    b" \n\n ": "ann.txt is empty",
    b"date,rain_mm\n2024-02-29,3.5 \xb0\n": "ann.txt, line 2: this is not UTF-8 text",
    "date".encode("utf-16") + b"x": "this is not UTF-16 text",
    "date,rain_mm\n".encode("utf-16-le"): "not text .byte 1 is zero",
    b"\x89PNG\r\n\x1a\n\0\0": "not text .byte 8 is zero",
    PACKED[:-20]: "a damaged or cut-off gzip",
    PACKED[:40] + b"\0\0\0" + PACKED[43:]: "a damaged or cut-off gzip",
    b"date,rain_mm\n": "there are no days below the heading",
    b"date,rain_mm\n2024-02-29,\n": "holds no value that can be used",
    b"once upon a time\n": "no weather file we know begins like this",
}


@pytest.mark.parametrize(("content", "words"), REFUSED.items(), ids=REFUSED.values())
def test_what_is_no_weather_file_is_refused_in_words(file, content, words):
    with pytest.raises(UnreadableInput, match=words):
        weather.read(file(content))


def test_a_missing_file_and_a_folder_are_named(tmp_path):
    with pytest.raises(UnreadableInput, match=r"nowhere.csv can't be read \(No such"):
        weather.read(tmp_path / "nowhere.csv")
    with pytest.raises(UnreadableInput, match="Is a directory"):
        weather.read(tmp_path)


def test_a_file_that_unpacks_without_end_is_stopped(file, monkeypatch):
    monkeypatch.setattr(text, "LARGEST_BYTES", 1000)
    with pytest.raises(UnreadableInput, match="more than any record"):
        weather.read(file(CSV * 100, "ann.csv.gz"))
