"""A small text file read safely: its size, kind, encoding and signs are checked before anything is made of it."""

from __future__ import annotations

import os
import re
import stat
from pathlib import Path

from dossier.errors import Problem, Unusable

LARGEST_FILE = 1_000_000
_MARKS = {b"\xff\xfe\x00\x00": "UTF-32", b"\x00\x00\xfe\xff": "UTF-32", b"\xff\xfe": "UTF-16", b"\xfe\xff": "UTF-16"}
_BOM = b"\xef\xbb\xbf"
# YAML counts the last three as line ends, editors do not, so that the line numbers would disagree.
_CONTROL = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ud800-\udfff\ufeff\ufffe\uffff\u2028\u2029]")


def shown(path: Path) -> str:
    """A path as its user would write it: relative to the working directory where it lies below it."""
    if not path.is_absolute():
        return path.as_posix()
    try:
        return path.relative_to(Path.cwd()).as_posix()
    except (ValueError, OSError):
        return path.as_posix()


def read(path: Path) -> tuple[str, bytes]:
    """The text of a file and its bytes. Raises Unusable where it is no small UTF-8 text."""
    name = shown(path)
    raw = _bytes(path, name)
    if raw.startswith(_BOM):
        raise _unusable(name, 1, "begins with a byte-order mark; save it as UTF-8 without one")
    for mark, encoding in _MARKS.items():
        if raw.startswith(mark):
            raise _unusable(name, 1, f"is in {encoding}; save it as UTF-8")
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        raise _unusable(name, line, f"is not UTF-8 (byte 0x{raw[error.start]:02x}), perhaps Latin-1 or Windows-1252; "
                                    "save it as UTF-8") from None
    if text.count("\x00") > len(text) // 4:
        raise _unusable(name, 1, "is in UTF-16; save it as UTF-8")
    if found := control_character(text):
        line = text.count("\n", 0, text.index(found)) + 1
        raise _unusable(name, line, f"holds an invisible control character (U+{ord(found):04X}); remove it")
    return text, raw


def control_character(text: str) -> str:
    """The first sign in a text that no author types on purpose, or an empty text."""
    found = _CONTROL.search(text)
    return found[0] if found else ""


def _bytes(path: Path, name: str) -> bytes:
    try:
        about = os.stat(path)
        if not stat.S_ISREG(about.st_mode):
            raise _unusable(name, 0, "is not an ordinary file")
        if about.st_size > LARGEST_FILE:
            raise _too_large(name, about.st_size)
        with open(path, "rb") as file:
            raw = file.read(LARGEST_FILE + 1)
    except FileNotFoundError:
        raise _unusable(name, 0, "there is no such file") from None
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) else str(error)
        raise _unusable(name, 0, f"cannot be read: {str(reason or error).lower()}") from None
    if len(raw) > LARGEST_FILE:
        raise _too_large(name, len(raw))
    return raw


def _too_large(name: str, size: int) -> Unusable:
    return _unusable(name, 0, f"is too large ({size / 1e6:.1f} MB); a build's text has at most "
                              f"{LARGEST_FILE / 1e6:.0f} MB")


def _unusable(name: str, line: int, message: str) -> Unusable:
    return Unusable([Problem(name, line, "", message)])
