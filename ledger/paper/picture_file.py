"""A picture file as it comes, read with care and kept as small opaque pixels: what is printed, and nothing beside it.

A photograph says where it was taken; receipts go to customers, so nothing but the pixels is kept.
"""

from __future__ import annotations

import struct
import warnings
import zlib
from io import BytesIO
from typing import TYPE_CHECKING, Final

from ledger.errors import NotPossible
from ledger.paper.sheet import PICTURE_BOX, LetterPicture

if TYPE_CHECKING:
    from PIL.Image import Image

LIMIT_BYTES: Final = 10 * 1024 * 1024
LIMIT_PIXELS: Final = 30_000_000
LIMIT_SIDE: Final = 12_000
LEAST_SIDE: Final = 8
MOST_PROPORTION: Final = 20
_PRINTED_PIXELS_AN_INCH: Final = 300
_WHITE: Final = 250
_MARKS: Final = {b"\x89PNG\r\n\x1a\n": "PNG", b"\xff\xd8\xff": "JPEG"}
_PNG_SIZE: Final = slice(16, 24)
# What the library raises for a file that is damaged, cut off, or made to do harm.
_DAMAGED: Final = (
    OSError,
    SyntaxError,
    ValueError,
    TypeError,
    KeyError,
    IndexError,
    EOFError,
    struct.error,
    zlib.error,
)


def read_picture(content: bytes, name: str, field: str = "picture") -> LetterPicture:
    """The picture as it will be printed. Raises NotPossible for anything but a sound PNG or JPEG of a usual size."""
    if len(content) > LIMIT_BYTES:
        raise _refused(f"«{name}» is larger than {LIMIT_BYTES // 1024 // 1024} MB.", "Save it smaller.", field)
    kind = next((kind for mark, kind in _MARKS.items() if content.startswith(mark)), None)
    if kind is None:
        raise _refused(
            f"«{name}» is no PNG and no JPEG picture by its content.", "Save the picture as PNG or JPEG.", field
        )
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of what a camera left half written, and the library makes good
        try:
            return _printed(_opened(content, kind, name, field), name, field)
        except _DAMAGED:
            raise _refused(
                f"«{name}» is damaged or not whole.", "Open it in a picture program and save it anew.", field
            ) from None


def kept_picture(png: bytes) -> LetterPicture:
    """A picture that `read_picture` made, from its bytes; its size stands in them."""
    width, height = struct.unpack(">II", png[_PNG_SIZE])
    return LetterPicture(png, width, height)


def _opened(content: bytes, kind: str, name: str, field: str) -> Image:
    """Its pixels, turned as the camera was held."""
    from PIL import Image, ImageOps

    try:
        with Image.open(BytesIO(content), formats=(kind,)) as picture:
            _check(picture, kind, name, field)
            picture.verify()
    except Image.DecompressionBombError:
        raise _too_large(name, field) from None
    with Image.open(BytesIO(content), formats=(kind,)) as picture:
        picture.load()
        return ImageOps.exif_transpose(picture)


def _check(picture: Image, kind: str, name: str, field: str) -> None:
    """What its head says, before anything is unpacked."""
    if max(picture.size) > LIMIT_SIDE or picture.width * picture.height > LIMIT_PIXELS:
        raise _too_large(name, field)
    # Many cameras keep a second picture in a JPEG; only a PNG of several is meant to move.
    if kind == "PNG" and getattr(picture, "n_frames", 1) > 1:
        raise _refused(f"«{name}» moves: it holds several pictures.", "Save one of them as a PNG.", field)


def _printed(picture: Image, name: str, field: str) -> LetterPicture:
    """Opaque on white, no larger than is printed, without anything but pixels."""
    from PIL import Image

    opaque = _on_white(picture)
    most = tuple(round(side / 72 * _PRINTED_PIXELS_AN_INCH) for side in PICTURE_BOX)
    opaque.thumbnail((most[0], most[1]), Image.Resampling.LANCZOS)
    if min(opaque.size) < LEAST_SIDE or max(opaque.size) > MOST_PROPORTION * min(opaque.size):
        raise _refused(
            f"«{name}» has {picture.width} by {picture.height} pixels: that is too small, or too narrow, to print.",
            f"Take a larger picture, at most {MOST_PROPORTION} times as wide as high.",
            field,
        )
    darkest = opaque.convert("L").getextrema()[0]
    if isinstance(darkest, int | float) and darkest >= _WHITE:
        raise _refused(f"«{name}» would be white on white paper.", "Take one in a darker colour.", field)
    file = BytesIO()
    Image.frombytes(opaque.mode, opaque.size, opaque.tobytes()).save(file, "PNG", optimize=True)
    return LetterPicture(file.getvalue(), opaque.width, opaque.height)


def _on_white(picture: Image) -> Image:
    from PIL import Image

    if picture.mode.startswith("I"):  # sixteen bits a grey, which the library would cut off at eight
        picture = picture.point(lambda grey: grey / 256).convert("L")
    if "A" in picture.mode or "transparency" in picture.info:
        clear = picture.convert("RGBA")
        return Image.alpha_composite(Image.new("RGBA", clear.size, "white"), clear).convert("RGB")
    return picture.convert("L" if picture.mode in ("1", "L") else "RGB")


def _too_large(name: str, field: str) -> NotPossible:
    return _refused(
        f"«{name}» has more than {LIMIT_PIXELS // 1_000_000} million pixels, or more than {LIMIT_SIDE} on a side.",
        "Save it smaller: on paper it is two inches wide.",
        field,
    )


def _refused(what: str, do: str, field: str) -> NotPossible:
    return NotPossible(what, do, field)
