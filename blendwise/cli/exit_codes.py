"""Exit codes of every command, as named constants."""

CLEAN = 0  # nothing worse than a caution
FINDINGS = 1  # a conflict or stop broken, a guard undecided, nothing fits, a test or lint failed
NOT_ASKED = 2  # the question could not be asked
STOPPED_EARLY = 3  # neither proved nor refuted
OUR_FAULT = 70
INTERRUPTED = 130
