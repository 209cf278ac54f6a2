"""The machine: what it cost, what it has taken in and earned, and when it is paid off."""
