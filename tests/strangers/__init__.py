"""Books that are not the demo: generated ones (``books``), and those of strangers (``found/``).

    from tests.strangers.books import a_book, a_plan, found

    book = a_book(tmp_path / "book", seed=7)      # files on disk; book.plans are their paths
    plan = a_plan(7)                              # a plan and the shelf it may be read against

Everything is drawn from ``random.Random(seed)``: the same seed gives the same bytes.
"""
