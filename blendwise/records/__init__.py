"""The maker's files as typed records that know their file and line; safe new files; byte-true edits.

Import from the modules themselves (``records.book``, ``records.plan``, …): nothing is loaded here, so
that a command pays only for what it uses.
"""
