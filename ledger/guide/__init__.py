"""The guide: one Markdown file a chapter, read in the rooms and by `twopurse guide`."""
