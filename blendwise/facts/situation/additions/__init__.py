"""What is added beside oils, lye, water, scent and colour: what it is, where it belongs, how much of it."""
