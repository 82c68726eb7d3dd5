"""The sound of a take as the server gives it: exact samples, any range of them, and what is drawn of them."""

import io
from itertools import pairwise

import numpy as np
import pytest
import soundfile
from hypothesis import given
from hypothesis import strategies as st

from tests.web.desks import PHONES, a_desk, serving

TAKE = "/api/takes/L0001-1"
FRAME = 2000  # samples of a frame: 48 kHz, 24 a second
BANDS = 128


@pytest.fixture(scope="module")
def shown(tmp_path_factory):
    """A desk that nobody changes anything at."""
    with serving(a_desk(tmp_path_factory.mktemp("desk"))) as desk:
        yield desk


def samples_of(answer):
    return soundfile.read(io.BytesIO(answer.content), dtype="float32")


@pytest.mark.parametrize("subtype", ["PCM_U8", "PCM_16", "PCM_24", "PCM_32", "FLOAT", "DOUBLE"])
def test_the_sound_of_a_take_has_exactly_the_samples_of_its_recording(tmp_path, subtype):
    folder = a_desk(tmp_path, rate=44_100, subtype=subtype)
    recorded = soundfile.read(tmp_path / "reel 1.wav", dtype="float32")[0]
    with serving(folder) as desk:
        answer = desk.get("/api/takes/L0001-2/sound")
    samples, rate = samples_of(answer)

    assert answer.headers["content-type"] == "audio/wav"
    assert rate == 44_100
    assert np.array_equal(samples, recorded[3 * rate : 3 * rate + len(samples)])
    assert len(samples) == -(-PHONES * 44_100 // 24)


@given(st.data())
def test_any_range_of_the_sound_is_that_part_of_the_whole(shown, data):
    whole = shown.get(f"{TAKE}/sound").content
    first = data.draw(st.integers(0, len(whole) - 1))
    last = data.draw(st.integers(first, len(whole) + 5))
    part = shown.get(f"{TAKE}/sound", headers={"Range": f"bytes={first}-{last}"})

    assert part.status_code == 206
    assert part.content == whole[first : last + 1]
    assert part.headers["content-range"] == f"bytes {first}-{min(last, len(whole) - 1)}/{len(whole)}"


@pytest.mark.parametrize(
    ("asked", "status", "span"),
    [
        ("bytes=-10", 206, slice(-10, None)),
        ("bytes=10-", 206, slice(10, None)),
        ("bytes=-0", 416, None),
        ("bytes=99999999-", 416, None),
        ("bytes=5-4", 416, None),
        ("bytes=-", 200, slice(None)),
        ("bytes=0-1,3-4", 200, slice(None)),
        ("words=0-1", 200, slice(None)),
    ],
)
def test_ranges_are_answered_as_the_standard_says(shown, asked, status, span):
    """RFC 9110, sections 14.1.2, 14.2 and 15.5.17; a range that ends before it begins is invalid."""
    whole = shown.get(f"{TAKE}/sound").content
    answer = shown.get(f"{TAKE}/sound", headers={"Range": asked})

    assert answer.status_code == status
    assert answer.content == (whole[span] if span else b"")


def test_a_range_counts_only_of_the_sound_that_was_seen(shown):
    etag = shown.get(f"{TAKE}/sound").headers["etag"]
    same, other = (
        shown.get(f"{TAKE}/sound", headers={"Range": "bytes=0-9", "If-Range": one}) for one in (etag, '"another"')
    )

    assert (same.status_code, other.status_code) == (206, 200)
    assert shown.get(f"{TAKE}/sound", headers={"If-None-Match": f'"x", W/{etag}'}).status_code == 304


def test_a_wave_file_of_an_odd_number_of_bytes_is_padded(tmp_path):
    folder = a_desk(tmp_path, rate=44_100, subtype="PCM_24", frames=PHONES + 1)
    with serving(folder) as desk:
        answer = desk.get(f"{TAKE}/sound")

    assert int(answer.headers["content-length"]) == len(answer.content)
    assert len(answer.content) % 2 == 0
    assert int.from_bytes(answer.content[4:8], "little") == len(answer.content) - 8


@given(first=st.integers(0, 30_000), length=st.integers(1, 4000), count=st.integers(1, 300))
def test_peaks_are_the_lows_and_highs_of_even_parts(shown_samples, first, length, count):
    shown, samples = shown_samples
    answer = shown.get(f"{TAKE}/peaks?from={first}&to={first + length}&count={count}").json()
    parts = min(count, length)
    edges = [first + k * length // parts for k in range(parts + 1)]
    pieces = [samples[a:b] for a, b in pairwise(edges)]

    assert answer["lows"] == [float(piece.min()) for piece in pieces]
    assert answer["highs"] == [float(piece.max()) for piece in pieces]


@pytest.fixture(scope="module")
def shown_samples(shown):
    return shown, samples_of(shown.get(f"{TAKE}/sound"))[0]


@pytest.mark.parametrize(
    "span", [(0, 0, 1), (0, 999_999, 1), (-1, 5, 1), (0, 5, 0), (0, 9000, 9000), ("x", 5, 1)], ids=str
)
def test_peaks_of_what_is_not_there_are_refused(shown, span):
    first, stop, count = span

    assert shown.get(f"{TAKE}/peaks?from={first}&to={stop}&count={count}").status_code == 400


def spectra(desk, first, step, rows, below=20):
    return desk.get(f"{TAKE}/spectra?from={first}&step={step}&rows={rows}&below={below}")


def test_spectra_of_a_stretch_are_parts_of_those_of_more(shown):
    whole, part = (spectra(shown, first, 64, rows) for first, rows in ((6400, 100), (6400 + 64 * 30, 10)))

    assert len(whole.content) == 100 * BANDS
    assert part.content == whole.content[30 * BANDS : 40 * BANDS]
    assert len(set(whole.content)) > 50


def test_where_a_take_ends_there_are_fewer_rows(shown):
    step = 1000
    rows = len(spectra(shown, PHONES * FRAME - 2 * step - 1, step, 256).content) // BANDS

    assert rows == 3


def test_spectra_that_the_browser_has_are_not_sent_again(shown):
    tag = spectra(shown, 0, 64, 10).headers["etag"]
    again, other = (
        shown.get(f"{TAKE}/spectra?from=0&step=64&rows={rows}&below=20", headers={"If-None-Match": tag})
        for rows in (10, 11)
    )

    assert (again.status_code, other.status_code) == (304, 200)


@pytest.mark.parametrize("asked", [(PHONES * FRAME, 64, 1), (0, 0, 1), (0, 64, 0), (0, 64, 257), ("x", 64, 1)], ids=str)
def test_spectra_of_what_is_not_there_are_refused(shown, asked):
    assert spectra(shown, *asked).status_code == 400
