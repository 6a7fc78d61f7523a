"""A maker's sentence read as a rule, and a rule printed as the sentence that is read back."""
