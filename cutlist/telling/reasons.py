"""Why a setting comes when it does, why the saw comes back to a distance, what matches."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from cutlist.ledger.alike import ranges
from cutlist.ledger.visits import dimensions
from cutlist.model.plan import Place
from cutlist.model.sawing import Device
from cutlist.telling.devices import match_devices
from cutlist.telling.distances import distance_words, marks_of
from cutlist.telling.wording import counted, length_words

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from cutlist.ledger.ledger import Ledger
    from cutlist.ledger.visits import Dimension, Visit
    from cutlist.model.matches import Matched
    from cutlist.model.plan import SawSetup

__all__ = ["match_notes", "match_words", "reason_words", "return_words", "visit_rows"]

#: So many pieces are named; of more their number is told.
_MOST_NAMED: Final = 3


def reason_words(ledger: Ledger, setting: SawSetup) -> str:
    """Say since when a setting can be made, and what waits for it."""
    made = {piece.name for cut in setting.cuts for piece in (cut.kept, cut.rest) if piece}
    sources = {
        maker
        for cut in setting.cuts
        if cut.piece not in made and (maker := ledger.made_at(cut.piece)) is not None
    }
    start = f"Ready since setting {max(sources)}" if sources else "Nothing has to come before"
    waiting: dict[str, int] = {}
    for cut in setting.cuts:
        for piece in (cut.kept, cut.rest):
            if piece is not None and piece.name in ledger.divided_by:
                later = ledger.divided_by[piece.name][0].number
                if later != setting.number:
                    waiting[piece.name] = later
    if not waiting:
        return f"{start}; nothing waits for it."
    numbers = sorted(set(waiting.values()))
    if len(numbers) == 1 or len(waiting) > _MOST_NAMED:
        is_one = len(numbers) == 1
        who = f"setting {numbers[0]} waits" if is_one else f"settings {ranges(numbers)} wait"
        names = list(waiting)
        what = ", ".join(names) if len(names) <= _MOST_NAMED else f"{len(names)} of its pieces"
        return f"{start}; {who} for {what}."
    return f"{start}; {_goes_on(waiting, numbers)}."


def _goes_on(waiting: Mapping[str, int], numbers: Sequence[int]) -> str:
    """Say of each piece at which setting it goes on: ``A1 goes on at setting 2, A2 at 4``."""
    said = []
    for number in numbers:
        names = [name for name, later in waiting.items() if later == number]
        verb = f"{'goes' if len(names) == 1 else 'go'} on at setting"
        said.append(f"{' and '.join(names)} {verb if number == numbers[0] else 'at'} {number}")
    return ", ".join(said)


def return_words(ledger: Ledger) -> Mapping[int, str]:
    """Say of each setting that comes back to a distance why; by its number."""
    plan, maker, marks = ledger.plan, ledger.setup_of, marks_of(ledger.plan)
    words = {}
    for dimension in _in_shop(ledger):
        for before, visit in zip(dimension.visits, dimension.visits[1:], strict=False):
            distance = distance_words(dimension.distance, marks[visit.setting], plan.job)
            why = _why(dimension, visit, maker)
            words[visit.setting] = f"Back at {distance} (setting {before.setting}): {why}."
    return words


def _in_shop(ledger: Ledger) -> tuple[Dimension, ...]:
    """Give the distances with their visits; what the store sets is no set-up of the shop."""
    return dimensions(ledger, Place.SHOP)


def _why(dimension: Dimension, visit: Visit, maker: Mapping[int, int]) -> str:
    """Say what one visit beyond the first waited for; ``maker`` gives the setting of each cut."""
    if not visit.waits:
        earlier = {(one.place, one.tool) for one in dimension.visits if one.setting < visit.setting}
        is_new = (visit.place, visit.tool) not in earlier
        return f"now on the {visit.tool}" if is_new else "its pieces were there already"
    wait = visit.waits[0]
    since = f"{wait.piece} came off only at setting {maker[wait.cuts[-1]]}"
    if wait.is_own:
        since += ", from a piece cut to this distance before"
    others = len(visit.waits) - 1
    return f"{since}; {counted(others, 'other piece')} waited too" if others else since


def visit_rows(ledger: Ledger) -> list[tuple[str, str, str, str]]:
    """Give for each number of visits, then each distance, its settings and why they are several.

    Distances that are set once stand together in the first row.
    """
    plan, maker, marks = ledger.plan, ledger.setup_of, marks_of(ledger.plan)
    once = []
    rows = []
    for dimension in sorted(_in_shop(ledger), key=lambda one: one.distance):
        set_to = dict.fromkeys(marks[visit.setting] for visit in dimension.visits)
        words = (distance_words(dimension.distance, mark, plan.job) for mark in set_to)
        distance = ", ".join(words)
        if not dimension.is_revisited:
            once.append(distance)
            continue
        if len({visit.tool for visit in dimension.visits}) > 1:
            numbers = ", ".join(f"{visit.setting} ({visit.tool})" for visit in dimension.visits)
        else:
            numbers = ranges([visit.setting for visit in dimension.visits])
        whys = [
            f"setting {visit.setting}: {_why(dimension, visit, maker)}"
            for visit in dimension.visits[1:]
        ]
        rows.append((str(len(dimension.visits)), distance, numbers, "; ".join(whys)))
    rows.sort(key=lambda row: -int(row[0]))
    if once:
        rows.append(("1", ", ".join(once), "one each", ""))
    return rows


def match_notes(ledger: Ledger, setting: SawSetup) -> list[str]:
    """Say in a setting's block which matching panels get their common size here."""
    notes = []
    for matched in ledger.plan.matches:
        if setting.number not in matched.settings:
            continue
        others = [number for number in matched.settings if number != setting.number]
        if matched.in_one_visit:
            check = _same_mark(match_devices(ledger, matched, setting.number))
            notes.append(f"All panels of {matched.name} match from here{check}.")
        elif others:
            word = "setting" if len(others) == 1 else "settings"
            notes.append(
                f"Panels of {matched.name} come from {word} {ranges(others)} too: compare."
            )
        else:
            notes.append(
                f"Panels of {matched.name} match from here, but for those that no setting gave."
            )
    return notes


def _same_mark(used: Sequence[Device]) -> str:
    """Say what must agree where panels get their common size on several devices; else nothing."""
    if len(used) < 2:
        return ""
    names = {Device.FENCE: "fence", Device.STOP: "stop", Device.GUIDE: "guide"}
    *first, last = (names[device] for device in used)
    return f" with {', '.join(first)} and {last} set to the same mark: check one against the other"


def match_words(ledger: Ledger, matched: Matched) -> str:
    """Say whether the panels of a match come from one setting, and why not."""
    if matched.in_one_visit:
        if not matched.settings:
            return "no panel of it is cut"
        number = matched.settings[0]
        return f"at setting {number}{_same_mark(match_devices(ledger, matched, number))}"
    said = []
    if len(matched.settings) == 1:
        said.append(f"from setting {matched.settings[0]}")
    elif matched.settings:
        said.append(f"not in one visit: settings {ranges(matched.settings)}")
        said.extend(_whys(ledger, matched.settings))
    if matched.unset:
        sides = counted(matched.unset, "panel side")
        verb = (
            "comes from no setting but is" if matched.unset == 1 else "come from no setting but are"
        )
        reach = ledger.plan.job.saw.max_rip
        beyond = reach is not None and matched.distance > reach
        why = (
            f" (the fence reaches {length_words(reach, ledger.plan.job)})"
            if reach and beyond
            else ""
        )
        said.append(f"{sides} {verb} what a cut leaves, or the stock's own{why}: compare them")
    return "; ".join(said)


def _whys(ledger: Ledger, settings: Sequence[int]) -> list[str]:
    maker = ledger.setup_of
    return [
        _why(dimension, visit, maker)
        for dimension in _in_shop(ledger)
        for visit in dimension.visits[1:]
        if visit.setting in settings
    ]
