"""CAS and EC numbers as papers print them, and their check digits.

CAS: Σ i × digit i, from the right, without the check digit, modulo 10.  EC: Σ i × digit i, from the left,
modulo 11.  Both from memory of their publishers' descriptions.
"""

from __future__ import annotations

import re

DASHES = dict.fromkeys(map(ord, "‐‑‒–—−﹣-"), "-")
GLUED = re.compile(r"(?<=\bcas)(?=\d)", re.IGNORECASE)
CAS = re.compile(r"(?<![\w-])0*(\d{2,7})-(\d{2})-(\d)(?![\d-])")
_EC = re.compile(r"(?<![\w-])(\d{3})-(\d{3})-(\d)(?![\d-])")


def cas_numbers(text: str) -> tuple[str, ...]:
    """Every number in the form of a CAS number, whether its check digit fits or not; no leading zeros."""
    plain = GLUED.sub(" ", text.translate(DASHES))
    return tuple("-".join(found.groups()) for found in CAS.finditer(plain))


def check_digit_fits(cas: str) -> bool:
    """Whether the last digit of a CAS number is the one that the others ask for."""
    *digits, check = (int(sign) for sign in cas if sign.isdigit())
    return sum(place * digit for place, digit in enumerate(reversed(digits), 1)) % 10 == check


def cas_fault(text: str) -> str | None:
    """The first CAS number in a text whose check digit is wrong, so that the slip is told; else None."""
    return next((number for number in cas_numbers(text) if not check_digit_fits(number)), None)


def ec_numbers(text: str) -> tuple[str, ...]:
    """Every EC number in a text whose check digit fits."""
    found = ("-".join(each.groups()) for each in _EC.finditer(text.translate(DASHES)))
    return tuple(number for number in found if ec_check_digit_fits(number))


def ec_check_digit_fits(ec: str) -> bool:
    """Whether the last digit of an EC number is the one that the others ask for."""
    *digits, check = (int(sign) for sign in ec if sign.isdigit())
    return sum(place * digit for place, digit in enumerate(digits, 1)) % 11 == check
