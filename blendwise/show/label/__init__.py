"""The draft of a label, in words."""
