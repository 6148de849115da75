"""What the audit reports: coded findings.

The codes stand in blocks of a hundred by theme; a code keeps its number for good. The table in
``docs/plan-format.md`` tells each in a sentence.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import IntEnum
from fractions import Fraction


class Code(IntEnum):
    """One number for each way in which a plan can be wrong."""

    # 1xx: pieces
    NAME_TAKEN = 101
    NAME_EMPTY = 102
    PIECE_UNKNOWN = 103
    PIECE_GONE = 104
    PIECE_WITHOUT_SIZE = 105
    FINAL_PIECE_UNLISTED = 106
    LISTED_PIECE_MISSING = 107
    LISTED_TWICE = 108
    LISTED_PLACE_DIFFERS = 109
    KEEP_MARK_WRONG = 110
    LEFTOVER_MATERIAL = 111

    # 2xx: cuts
    CUT_NUMBER = 201
    NOT_EDGE_TO_EDGE = 202
    WRONG_DIRECTION = 203
    KEPT_OFF_THE_EDGE = 204
    KEPT_NOT_DISTANCE = 205
    REST_NOT_A_KERF_AWAY = 206
    REST_MISSING = 207
    REST_IMPOSSIBLE = 208
    NOTHING_TAKEN_OFF = 209
    BREAK_DOWN_AT_SHOP = 210
    ROUGH_CUT_IS_LAST = 211

    # 3xx: settings
    SETTING_NUMBER = 301
    SETTING_EMPTY = 302
    SETTING_REPEATED = 303
    KERF_NOT_THE_BLADES = 304
    BEYOND_REACH = 305
    OFF_SCALE = 306
    TOOL_UNKNOWN = 307
    DISTANCE_NOT_POSITIVE = 308
    UNSAFE_CUT_NOT_FLAGGED = 309
    FLAG_WITHOUT_CAUSE = 310
    SETUP_UNKNOWN = 311
    DEVICE_WRONG = 312
    MARK_WRONG = 313
    RIDING_EDGE_WRONG = 314
    CAUTIONS_WRONG = 315
    EDGE_OFF_WRONG = 316
    SIZE_CHECK_WRONG = 317
    SETTING_OF_SEVERAL_CUTS = 318
    ANOTHER_SAW_MAKES_IT = 319

    # 4xx: panels
    PART_UNKNOWN = 401
    COPY_NUMBER = 402
    QUANTITY_NOT_MET = 403
    PANEL_SIZE = 404
    PANEL_GRAIN = 405
    PANEL_MATERIAL = 406
    OUTSIDE_USABLE_REGION = 407
    OVERLAP = 408
    CLOSER_THAN_KERF = 409
    MATCHES_UNTOLD = 410
    MATCH_DISTANCE = 411
    MATCH_PANELS = 412
    MATCH_SETTINGS = 413
    MATCH_UNSET = 414

    # 5xx: edges
    PANEL_FACTORY_EDGE = 501
    PANEL_STORE_EDGE = 502
    UNCLEAN_REFERENCE_EDGE = 503
    CLEAN_UP_TOO_SMALL = 504

    # 6xx: stock and purchase
    STOCK_UNKNOWN = 601
    STOCK_DIFFERS = 602
    BUY_COUNT = 603
    MORE_THAN_IN_STOCK = 604
    MORE_THAN_ON_HAND = 605
    PURCHASE_DIFFERS = 606
    PURCHASE_COST = 607
    PURCHASE_TWICE = 608

    # 7xx: totals and bounds
    TOTAL_SHEETS = 701
    TOTAL_COST = 702
    TOTAL_SETUPS = 703
    TOTAL_CUTS = 704
    TOTAL_PARTS = 705
    TOTAL_PART_AREA = 706
    TOTAL_SHEET_AREA = 707
    TOTAL_KEPT_OFFCUT_AREA = 708
    TOTAL_WASTE_PERCENT = 709
    BOUND_COST = 711
    BOUND_COST_PROVEN = 712
    BOUND_SHEETS = 713
    BOUND_SETUPS = 714
    BOUND_SETUPS_PROVEN = 715
    TOTAL_SETUPS_BY_DEVICE = 716
    TOTAL_STORE_SETUPS = 717
    TOTAL_MINUTES = 718

    # 8xx: store and vehicle
    NO_STORE = 801
    STORE_CUT_LATE = 802
    STORE_CUTS_EXCEEDED = 803
    STORE_CUTS_OFFCUT = 804
    VEHICLE_TOO_SMALL = 805
    PIECE_TOO_HEAVY = 806

    # 82x: weights and trips
    WEIGHT_DIFFERS = 821
    WEIGHT_UNTOLD = 822
    LIFT_WRONG = 823
    TRIP_PIECES = 824
    TRIP_WEIGHT = 825
    TRIP_OVERLOADED = 826

    # 9xx: the audit itself
    CHECK_FAILED = 901


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing wrong with a plan.

    Parameters
    ----------
    code
        What kind of thing.
    where
        The cut, setting, piece, panel or figure it belongs to, such as ``cut 12``.
    message
        What was found and what was expected, in one sentence.
    """

    code: Code
    where: str
    message: str

    def __str__(self) -> str:
        return f"[{self.code.value}] {self.where}: {self.message}"


@dataclass(slots=True)
class Report:
    """Collects findings while the checks run."""

    findings: list[Finding] = field(default_factory=list)

    def add(self, code: Code, where: str, message: str) -> None:
        """Note one finding."""
        self.findings.append(Finding(code, where, message))


def show(value: Fraction) -> str:
    """Print a length or area for a message: exact where ten digits suffice, else the fraction."""
    text = f"{float(value):.10g}"
    return text if Fraction(text) == value else f"{text} ({value})"
