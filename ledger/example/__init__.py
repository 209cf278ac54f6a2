"""The books of a workshop that does not exist, some two years of them, to look around in."""
