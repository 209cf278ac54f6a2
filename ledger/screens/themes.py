"""The colours: a light and a dark set of the project's own, and a plain one where colour is not wanted."""

from __future__ import annotations

from collections.abc import Mapping

from textual.theme import Theme

# `scrim` lies over a room while a form is open; without colour it hides the room, which could not be dimmed.
# Indigo cloth on unbleached cotton, and the same by lamplight; the accents are madder, weld and walnut.
DAYLIGHT = Theme(
    name="daylight",
    dark=False,
    primary="#2b3f73",
    secondary="#5b4a1f",
    accent="#8a2f3b",
    foreground="#22242c",
    background="#f6f1e6",
    surface="#fbf8f1",
    panel="#e6dec9",
    success="#2d5f3a",
    warning="#7a4e00",
    error="#99202c",
    variables={"scrim": "#f6f1e6b3"},
)
LAMPLIGHT = Theme(
    name="lamplight",
    dark=True,
    primary="#9db4ee",
    secondary="#d8c38a",
    accent="#e79aa5",
    foreground="#e9e4d8",
    background="#15171f",
    surface="#1d2029",
    panel="#2a2e3b",
    success="#93cf9f",
    warning="#e8bd6a",
    error="#f29aa2",
    variables={"scrim": "#15171fb3"},
)
# Without colour at all: light grey on black, states told by words, markers and reverse alone.
PLAIN = Theme(
    name="plain",
    dark=True,
    primary="#ffffff",
    secondary="#ffffff",
    accent="#ffffff",
    foreground="#e6e6e6",
    background="#000000",
    surface="#000000",
    panel="#303030",
    success="#ffffff",
    warning="#ffffff",
    error="#ffffff",
    variables={"scrim": "#000000"},
)
THEMES = (DAYLIGHT, LAMPLIGHT, PLAIN)


def default_theme(environment: Mapping[str, str]) -> str:
    """The theme to begin with: plain under NO_COLOR, else as TWOPURSE_THEME names, else lamplight."""
    if environment.get("NO_COLOR"):
        return PLAIN.name
    named = environment.get("TWOPURSE_THEME", "")
    return named if named in {each.name for each in THEMES} else LAMPLIGHT.name
