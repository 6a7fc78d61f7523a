"""The parts of a rule as words of a sentence."""
