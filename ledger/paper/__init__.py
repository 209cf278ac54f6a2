"""Sheets of paper: what stands on one, and its two forms, PDF pages and text for the terminal. No books here.

`sheet.py` is the vocabulary, `plain.py` and `pages.py` the two ways to set it, `pdf.py` draws pages. Every text is
drawn letter by letter, none is read as markup.
"""
