"""The colours of each set: cotton and indigo of the project's own, two of high contrast, and two that send none."""

from __future__ import annotations

from textual.theme import Theme

from ledger import colours

# `scrim` lies over a room while a form is open; without colour it hides the room, which could not be dimmed.
# `focused` is the ground of the field that is typed in.
# Indigo cloth on unbleached cotton, and the same by lamplight; the accents are madder, weld and walnut.
DAYLIGHT = Theme(
    name=colours.DAYLIGHT.name,
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
    variables={"scrim": "#f6f1e6b3", "focused": "#cdcfd5"},
)
LAMPLIGHT = Theme(
    name=colours.LAMPLIGHT.name,
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
    variables={"scrim": "#15171fb3", "focused": "#191960"},
)
# High contrast: 7 to 1 at least, for everything that is read.
INK = Theme(
    name=colours.INK.name,
    dark=False,
    primary="#00105c",
    secondary="#3a2a00",
    accent="#6b0014",
    foreground="#000000",
    background="#ffffff",
    surface="#ffffff",
    panel="#f0f0f0",
    success="#003d12",
    warning="#4a2c00",
    error="#7a0010",
    variables={"scrim": "#ffffffd9", "focused": "#ccd0df"},
)
CHALK = Theme(
    name=colours.CHALK.name,
    dark=True,
    primary="#a9ccff",
    secondary="#ffe08a",
    accent="#ffb3c0",
    foreground="#ffffff",
    background="#000000",
    surface="#000000",
    panel="#1a1a1a",
    success="#9dffb0",
    warning="#ffd76a",
    error="#ffb0b8",
    variables={"scrim": "#000000d9", "focused": "#1e2a44"},
)
# Without colour at all: light grey on black, states told by words, markers and reverse alone.
PLAIN = Theme(
    name=colours.PLAIN.name,
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
    variables={"scrim": "#000000", "focused": "#4d4d4d"},
)
# Sent as the terminal's own colours: `sixteen_colours` tells by their hues what these here stand for.
TERMINAL = Theme(
    name=colours.TERMINAL.name,
    dark=True,
    primary="#ff80ff",
    secondary="#80ffff",
    accent="#ff8080",
    foreground="#e6e6e6",
    background="#000000",
    surface="#000000",
    panel="#202020",
    success="#80ff80",
    warning="#ffff80",
    error="#ffff80",
    variables={"scrim": "#000000", "focused": "#4d264d"},
)
THEMES = (DAYLIGHT, LAMPLIGHT, INK, CHALK, TERMINAL, PLAIN)
