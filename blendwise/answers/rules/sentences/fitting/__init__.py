"""Shapes of sentences: how the parts that were heard become a rule, a file a kind of rule."""
