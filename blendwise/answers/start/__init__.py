"""The first hour: a book of one's own, from a few questions and the shipped starter."""
