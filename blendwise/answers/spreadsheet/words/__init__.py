"""What headings and cells mean: words, numbers, days, read one cell at a time."""
