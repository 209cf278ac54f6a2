"""placeholder"""

from __future__ import annotations

import click

MEMO_COMMANDS: tuple[click.Command, ...] = ()
