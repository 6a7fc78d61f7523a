"""The kinds of file that a spreadsheet may be: each becomes rows of text."""
