"""Why a setting comes when it does, why the saw comes back to a distance, what matches."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from cutlist.ledger.alike import ranges
from cutlist.ledger.visits import Dimension, dimensions
from cutlist.model.plan import Place
from cutlist.telling.devices import laid_anew
from cutlist.telling.distances import distance_words, marks_of
from cutlist.telling.wording import counted

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from cutlist.ledger.ledger import Ledger
    from cutlist.ledger.visits import Visit
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
            if piece is not None and piece.name in ledger.consumer_of:
                later = ledger.consumer_of[piece.name][0].number
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
            why = _why(visit, maker)
            words[visit.setting] = f"Back at {distance} (setting {before.setting}): {why}."
    return words


def _in_shop(ledger: Ledger) -> tuple[Dimension, ...]:
    """Give the distances that each fence and stop is set to, with the visits there.

    What the store sets is no set-up of the shop, and a guide that is laid anew for every cut never
    comes back to a distance.
    """
    anew = laid_anew(ledger)
    found = []
    for dimension in dimensions(ledger, Place.SHOP):
        for tool in dict.fromkeys(visit.tool for visit in dimension.visits):
            if tool not in anew:
                visits = tuple(visit for visit in dimension.visits if visit.tool == tool)
                found.append(Dimension(dimension.distance, visits))
    return tuple(found)


def _why(visit: Visit, maker: Mapping[int, int]) -> str:
    """Say what one visit beyond the first waited for; ``maker`` gives the setting of each cut."""
    if not visit.waits:
        return "its pieces were there already"
    wait = visit.waits[0]
    since = f"{wait.piece} came off only at setting {maker[wait.cuts[-1]]}"
    if wait.is_own:
        since += ", from a piece cut to this distance before"
    others = len(visit.waits) - 1
    return f"{since}; {counted(others, 'other piece')} waited too" if others else since


def visit_rows(ledger: Ledger) -> list[tuple[str, str, str, str]]:
    """Give for each number of visits, then each distance, its settings and why they are several.

    Distances that are set once stand together in the last row; where there are several tools, by
    tool.
    """
    plan, maker, marks = ledger.plan, ledger.setup_of, marks_of(ledger.plan)
    once: dict[str, list[str]] = {}
    rows = []
    for dimension in sorted(_in_shop(ledger), key=lambda one: one.distance):
        tool = dimension.visits[0].tool
        set_to = dict.fromkeys(marks[visit.setting] for visit in dimension.visits)
        words = (distance_words(dimension.distance, mark, plan.job) for mark in set_to)
        distance = ", ".join(words)
        if not dimension.is_revisited:
            once.setdefault(tool, []).append(distance)
            continue
        numbers = ranges([visit.setting for visit in dimension.visits])
        whys = [f"setting {visit.setting}: {_why(visit, maker)}" for visit in dimension.visits[1:]]
        named = f"{distance} on the {tool}" if ledger.has_tools else distance
        rows.append((str(len(dimension.visits)), named, numbers, "; ".join(whys)))
    rows.sort(key=lambda row: -int(row[0]))
    if once:
        lists = {tool: ", ".join(distances) for tool, distances in once.items()}
        told = [f"{tool} {words}" if ledger.has_tools else words for tool, words in lists.items()]
        rows.append(("1", "; ".join(told), "one each", ""))
    return rows


def match_notes(ledger: Ledger, setting: SawSetup) -> list[str]:
    """Say in a setting's block which matching panels get their common size here."""
    notes = []
    for matched in ledger.plan.matches:
        if setting.number in matched.guided:
            notes.append(
                f"Panels of {matched.name} are cut along a guide: they are not from one setting. "
                "Compare."
            )
        if setting.number not in matched.settings:
            continue
        others = [number for number in matched.settings if number != setting.number]
        others += matched.guided
        if matched.in_one_visit:
            notes.append(f"All panels of {matched.name} match from here.")
        elif others:
            word = "setting" if len(others) == 1 else "settings"
            notes.append(
                f"Panels of {matched.name} come from {word} {ranges(sorted(others))} too: compare."
            )
        else:
            notes.append(
                f"Panels of {matched.name} match from here, but for those that no setting gave."
            )
    return notes


def match_words(ledger: Ledger, matched: Matched) -> str:
    """Say whether the panels of a match come from one setting, and why not."""
    if matched.in_one_visit:
        return f"at setting {matched.settings[0]}" if matched.settings else "no panel of it is cut"
    said = []
    if len(matched.settings) == 1:
        said.append(f"from setting {matched.settings[0]}")
    elif matched.settings:
        said.append(f"not in one visit: settings {ranges(matched.settings)}")
        said.extend(_whys(ledger, matched.settings))
    if matched.guided:
        word = "setting" if len(matched.guided) == 1 else "settings"
        said.append(
            f"along a guide, laid anew for each cut: {word} {ranges(matched.guided)}, "
            "so not from one setting: compare them"
        )
    if matched.unset:
        sides = counted(matched.unset, "panel side")
        verb = (
            "comes from no setting but is" if matched.unset == 1 else "come from no setting but are"
        )
        reaches = [saw.max_rip for saw in ledger.plan.job.tools]
        is_beyond = all(reach is not None and matched.distance > reach for reach in reaches)
        why = " (no saw of the shop reaches that far)" if is_beyond else ""
        said.append(f"{sides} {verb} what a cut leaves, or the stock's own{why}: compare them")
    return "; ".join(said)


def _whys(ledger: Ledger, settings: Sequence[int]) -> list[str]:
    maker = ledger.setup_of
    return [
        _why(visit, maker)
        for dimension in _in_shop(ledger)
        for visit in dimension.visits[1:]
        if visit.setting in settings
    ]
