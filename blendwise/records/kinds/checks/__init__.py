"""What a plan and a recipe must keep that no field of theirs can tell alone."""
