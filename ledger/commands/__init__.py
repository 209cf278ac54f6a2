"""The commands, one file a subject, each a thin face of an act or a figure."""
