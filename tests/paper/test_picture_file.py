"""A picture for the letterhead: sound ones become small opaque pixels, and what is unsound is refused in a sentence."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path
from zlib import crc32

import pytest
from PIL import Image

from ledger.errors import NotPossible
from ledger.paper.picture_file import LIMIT_BYTES, kept_picture, read_picture
from ledger.paper.sheet import LetterPicture

PICTURES = Path(__file__).parent / "pictures"
REFUSED = {
    "cut_off.png": "is damaged or not whole",
    "cut_off.jpg": "is damaged or not whole",
    "head_alone.png": "is damaged or not whole",
    "head_alone.jpg": "is damaged or not whole",
    "wrong_check_sum.png": "is damaged or not whole",
    "words.png": "is no PNG and no JPEG picture by its content",
    "moving.gif": "is no PNG and no JPEG picture by its content",
    "gif_named.png": "is no PNG and no JPEG picture by its content",
    "moving.png": "moves: it holds several pictures",
    "forty_million_pixels.png": "has more than 30 million pixels",
    "unpacks_to_gigabytes.png": "has more than 30 million pixels",
    "one_long_side.png": "or more than 12000 on a side",
    "one_pixel.png": "too small, or too narrow, to print",
    "too_narrow.png": "too small, or too narrow, to print",
    "white_on_white.png": "would be white on white paper",
}
# What the books would not refuse by content alone: its name is looked at where a file is chosen.
BY_NAME = {"jpeg_named.png"}
SIZES = {
    "wide.png": (200, 40),
    "tall.png": (40, 200),
    "tiny.png": (16, 16),
    "clear.png": (60, 60),
    "palette.png": (60, 40),
    "grey.png": (60, 40),
    "two_colours.png": (60, 40),
    "sixteen_bits.png": (60, 40),
    "for_print.jpg": (60, 40),
    "photograph.jpg": (40, 80),
}
DARK_CORNER, LIGHT_CORNER = (2, 2), (-3, -3)


def read(name: str) -> LetterPicture:
    return read_picture((PICTURES / name).read_bytes(), name)


def pixels_of(picture: LetterPicture) -> Image.Image:
    return Image.open(BytesIO(picture.png)).convert("RGB")


def grey_at(pixels: Image.Image, place: tuple[int, int]) -> int:
    x, y = (each % side for each, side in zip(place, pixels.size, strict=True))
    found = pixels.convert("L").getpixel((x, y))
    assert isinstance(found, int)
    return found


def test_every_picture_there_is_is_tried() -> None:
    assert {path.name for path in PICTURES.glob("*.*")} == set(SIZES)
    assert {path.name for path in (PICTURES / "bad").iterdir()} == set(REFUSED) | BY_NAME


@pytest.mark.parametrize("name", REFUSED)
def test_what_cannot_be_used_is_refused_by_name(name: str) -> None:
    with pytest.raises(NotPossible) as refused:
        read_picture((PICTURES / "bad" / name).read_bytes(), name)
    assert refused.value.what.startswith(f"«{name}» ")
    assert REFUSED[name] in refused.value.what
    assert refused.value.field == "picture"


def test_a_large_file_is_not_even_opened() -> None:
    sound = (PICTURES / "wide.png").read_bytes()
    with pytest.raises(NotPossible, match=r"«x\.png» is larger than 10 MB\."):
        read_picture(sound + bytes(LIMIT_BYTES), "x.png")


@pytest.mark.parametrize("name", SIZES)
def test_a_sound_picture_of_any_kind_keeps_its_size_and_its_light(name: str) -> None:
    picture = read(name)
    pixels = pixels_of(picture)
    assert (picture.width, picture.height) == pixels.size == SIZES[name]
    if name not in ("clear.png", "palette.png", "photograph.jpg"):
        assert grey_at(pixels, DARK_CORNER) < 120
        assert grey_at(pixels, LIGHT_CORNER) > 240


def test_what_is_clear_becomes_white_as_the_paper() -> None:
    pixels = pixels_of(read("clear.png"))
    assert pixels.getpixel((0, 0)) == (255, 255, 255)
    assert pixels.getpixel((30, 30)) == (20, 60, 90)


def test_a_photograph_stands_as_the_camera_was_held_and_does_not_say_where() -> None:
    given = (PICTURES / "photograph.jpg").read_bytes()
    assert b"14 Alder Lane" in given
    assert b"Exif" in given
    picture = read("photograph.jpg")
    pixels = pixels_of(picture)
    # Lying on its side in the file, with the dark quarter at the upper left: turned, it is at the upper right.
    assert grey_at(pixels, (-3, 2)) < 120
    assert grey_at(pixels, (2, 2)) > 240
    chunks = [name for name in (b"eXIf", b"tEXt", b"iTXt", b"zTXt", b"iCCP", b"pHYs", b"Alder") if name in picture.png]
    assert chunks == []


def test_a_sound_picture_with_an_unsound_note_of_the_camera_is_taken() -> None:
    file = BytesIO()
    one_of_five_notes = b"Exif\0\0II*\0\x08\0\0\0\x05\0\x12\x01\x03\0\x01\0\0\0\x01\0"
    Image.new("RGB", (60, 40), (20, 60, 90)).save(file, "JPEG", exif=one_of_five_notes)
    picture = read_picture(file.getvalue(), "x.jpg")
    assert (picture.width, picture.height) == (60, 40)


def test_a_sound_picture_that_says_wrongly_that_it_moves_is_taken() -> None:
    sound = (PICTURES / "wide.png").read_bytes()
    chunk = b"acTL" + bytes(8)
    none_at_all = len(chunk[4:]).to_bytes(4) + chunk + crc32(chunk).to_bytes(4)
    picture = read_picture(sound[:33] + none_at_all + sound[33:], "x.png")
    assert (picture.width, picture.height) == (200, 40)


def test_a_large_picture_is_made_as_small_as_it_is_printed_in_its_proportions() -> None:
    file = BytesIO()
    Image.new("RGB", (3000, 1500), (90, 20, 20)).save(file, "JPEG")
    picture = read_picture(file.getvalue(), "large.jpg")
    assert (picture.width, picture.height) == (534, 267)


def test_the_kept_bytes_give_the_picture_back_and_are_the_same_twice() -> None:
    picture = read("wide.png")
    assert kept_picture(picture.png) == picture == read("wide.png")
