"""What texts of a job file look like, as patterns that a JSON Schema may hold.

They are for an editor, while somebody types, and keep to the part of regular expressions that ECMA
262 and Python share. They let pass all that is read, and refuse most of what is not; what is said
of it in words, and the last word, is the reader's.
"""

from __future__ import annotations

from typing import Final

_SIGN: Final = "[½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒]"
_WHOLE: Final = r"(?:0|[1-9]\d*)"
_FRACTION: Final = r"(?:0|[1-9]\d*)\s*[/⁄∕]\s*[1-9]\d*"
_NUMBER: Final = (
    rf"(?:{_WHOLE}(?:\s*[-‐‑–]\s*|\s+)(?:{_FRACTION}|{_SIGN})|{_WHOLE}?{_SIGN}|{_FRACTION}"
    rf"|{_WHOLE}\.\d*|\.\d+|{_WHOLE})"
)
_WORD: Final = (
    r"[iI][nN](?:[cC][hH](?:[eE][sS])?)?\.?|[fF][tT]\.?|[fF][oO][oO][tT]|[fF][eE][eE][tT]"
    r"|[mM][mM]|[cC][mM]|[mM]"
)
_UNIT: Final = rf"(?:[\"″”“ʺ]|['′’‘ʹ]{{1,2}}|{_WORD})"
_LENGTH: Final = rf"{_NUMBER}\s*{_UNIT}?(?:\s*[-‐‑–]?\s*{_NUMBER}\s*{_UNIT})?"
#: Somewhere a figure other than 0: in front of a line, a point or a unit, or as a sign.
_ABOVE_0: Final = rf"(?=.*(?:[1-9]|{_SIGN}))"
_AMOUNT: Final = r"\d{1,9}(?:\.\d{1,4})?"

LENGTH: Final = rf"^\s*{_LENGTH}\s*$"
POSITIVE_LENGTH: Final = rf"^{_ABOVE_0}\s*{_LENGTH}\s*$"
SIZE: Final = rf"^\s*{_LENGTH}\s*[xX×]\s*{_LENGTH}\s*$"
WHOLE: Final = r"^\s*(?:0|[1-9]\d{0,3})\s*$"
COUNT: Final = r"^\s*[1-9]\d{0,3}\s*$"
MONEY: Final = rf"^\s*{_AMOUNT}\s*$"
MINUTES: Final = r"^\s*\d{1,3}(?:\.\d{1,4})?\s*$"
WEIGHT: Final = rf"^\s*{_AMOUNT}\s*(?:lbs?|kg)\s*$"
DENSITY: Final = rf"^\s*{_AMOUNT}\s*(?:kg/m|lb/ft)[3³]\s*$"
PERCENT: Final = r"^\s*\d{1,2}(?:\.\d{1,4})?\s*%\s*$"
YES_OR_NO: Final = r"^\s*(?:yes|no|true|false)\s*$"
