"""A desk to type the commands of the guide at, as the tests of commands have it."""

from __future__ import annotations

from tests.commands.conftest import begun, begun_once, empty_desk

__all__ = ["begun", "begun_once", "empty_desk"]
