"""Run something in a child that may not pass over permissions, as the owner of a system may."""

from __future__ import annotations

import json
import os
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path
from shutil import rmtree
from typing import Any

import pytest

NOBODY = 65534


@pytest.fixture
def open_to_all() -> Iterator[Path]:
    """A folder that anyone reaches, for the folders of the tests are their owner's alone; what is in it is removed."""
    folder = Path(tempfile.mkdtemp(prefix="twopurse-test-"))
    folder.chmod(0o755)
    yield folder
    for path in [folder, *folder.rglob("*")]:
        if path.is_dir():
            path.chmod(0o700)
    rmtree(folder)


def as_nobody(act: Callable[[], Any]) -> Any:
    """What an act gives back (as JSON) when a child does it, without the rights of root where root runs the tests.

    Whatever it imports has to be imported before: the child may not be able to read the program's own files.
    """
    ours, theirs = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            if os.geteuid() == 0:
                os.setgroups([])
                os.setgid(NOBODY)
                os.setuid(NOBODY)
            said = json.dumps(act())
        except BaseException as error:
            said = json.dumps({"failed": repr(error)})
        os.write(theirs, said.encode())
        os._exit(0)
    os.close(theirs)
    with open(ours, "rb") as pipe:
        said = pipe.read().decode()
    os.waitpid(child, 0)
    found = json.loads(said)
    assert not (isinstance(found, dict) and "failed" in found), found["failed"]
    return found
