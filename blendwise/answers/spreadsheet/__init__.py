"""Makers' spreadsheets in and out: tables of text, their headings, their cells, and what comes of them."""
