"""The way in: `python3 -m demo` sets everything up and shows the program at work."""
