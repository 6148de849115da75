"""Parts that name a group to match: which size they share."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from cutlist.errors import FaultCode
from cutlist.model.job import Match
from cutlist.reading.faults import closest
from cutlist.units.lengths import format_length

if TYPE_CHECKING:
    from cutlist.reading.drafts import JobDraft, MatchDraft, PartDraft
    from cutlist.reading.faults import Faults
    from cutlist.reading.places import Spot
    from cutlist.units.system import Units


@dataclass(frozen=True, slots=True)
class _Member:
    """A part and how it names its group."""

    part: PartDraft
    match: MatchDraft

    @property
    def spot(self) -> Spot:
        return self.match.name.spot

    @property
    def sides(self) -> tuple[Fraction, ...]:
        """The lengths that the part offers: both sides, or the one it names; once if equal."""
        size = self.part.size.sure()
        chosen = size if self.match.side is None else (size[self.match.side],)
        return tuple(dict.fromkeys(chosen))


def _groups(draft: JobDraft) -> dict[str, list[_Member]]:
    groups: dict[str, list[_Member]] = {}
    for part in draft.parts or ():
        for match in part.matches:
            if match.name.value is not None:
                groups.setdefault(match.name.value, []).append(_Member(part, match))
    return groups


def found_matches(draft: JobDraft) -> tuple[Match, ...]:
    """Give the matches of a draft in which no fault was found, in the order of their parts."""
    matches = []
    for name, members in _groups(draft).items():
        (distance,) = _shared(members)
        parts = dict.fromkeys(member.part.name.sure() for member in members)
        matches.append(Match(name, distance, tuple(parts)))
    return tuple(matches)


def _shared(members: list[_Member]) -> tuple[Fraction, ...]:
    """Give the lengths that every member offers, in the order of the first one's sides."""
    return tuple(
        side for side in members[0].sides if all(side in member.sides for member in members[1:])
    )


def check_matches(draft: JobDraft, faults: Faults) -> None:
    """Refuse a group that shares no size, or two of which it is not said which; or of one panel."""
    groups = _groups(draft)
    for name, members in groups.items():
        if any(member.part.size.value is None for member in members):
            continue
        shared = _shared(members)
        if not shared:
            _refuse_odd(name, members, draft.units, faults)
        elif len(shared) > 1:
            message = (
                f"the parts of {name} share both sides, {_listed(shared, draft.units, 'and')}, "
                "and it is not said which has to match"
            )
            accepted = f"match: {{length: {name}}} or match: {{width: {name}}}"
            faults.at(members[0].spot, FaultCode.MATCH, message, accepted)
        elif len(members) == 1 and not members[0].part.qty.is_wrong:
            _check_alone(name, members[0], groups, faults)


def _refuse_odd(name: str, members: list[_Member], units: Units, faults: Faults) -> None:
    """Report the first member that shares no side with those before it."""
    for count in range(1, len(members)):
        before = _shared(members[:count])
        member = members[count]
        if any(side in member.sides for side in before):
            continue
        asked = _listed(before, units, "or")
        which = "no side" if member.match.side is None else "this side"
        verb = "is" if member.match.side is None else "is not"
        message = f"{which} of the part {verb} {asked}, which the parts of {name} above share"
        faults.at(member.spot, FaultCode.MATCH, message, f"a part with a side of {asked}")
        return


def _check_alone(
    name: str, member: _Member, groups: Mapping[str, list[_Member]], faults: Faults
) -> None:
    if member.part.qty.or_else(1) > 1:
        return
    near = closest(name, (other for other in groups if other != name))
    accepted = f"did you mean {near}?" if near else "the same name at another part"
    faults.at(
        member.spot, FaultCode.MATCH, "there is no other panel for this one to match", accepted
    )


def _listed(sides: tuple[Fraction, ...], units: Units, word: str) -> str:
    return f" {word} ".join(format_length(side, units) for side in sides)
