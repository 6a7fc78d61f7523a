"""Parts of a sentence put together: lists of names, spans of amounts, what only carries others left out."""
