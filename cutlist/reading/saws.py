"""The list of saws: what they are where the job does not say, and what goes together."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Any, Final, TypeVar

from cutlist.errors import FaultCode
from cutlist.model.job import USUAL_LIMITS, Saw, SawKind
from cutlist.reading import keys
from cutlist.reading.drafts import ListedSawDraft, SawDraft
from cutlist.reading.places import Spot

if TYPE_CHECKING:
    from cutlist.reading.drafts import JobDraft
    from cutlist.reading.faults import Faults
    from cutlist.reading.section import Found, Section
    from cutlist.units.system import Units

T = TypeVar("T")

#: More saws than any shop sets up for one job; each way to share cuts among them is looked at.
_MOST_SAWS: Final = 8
_STOPS: Final = (SawKind.SLED, SawKind.MITRE_GAUGE)
_GUIDES: Final = (SawKind.TRACK_SAW, SawKind.CIRCULAR_SAW)
#: The keys that mean something for saws of some kinds alone.
KINDS_WITH: Final = {
    keys.LARGEST_PIECE.name: _STOPS,
    keys.STEADY_EDGE.name: (SawKind.TABLE_SAW,),
    keys.THINNEST_STRIP.name: (SawKind.TABLE_SAW,),
    keys.REPEATS.name: _GUIDES,
}
#: Why saws of the other kinds have no such key.
_WHY_NOT: Final = {
    keys.LARGEST_PIECE.name: "carries no piece to the blade",
    keys.STEADY_EDGE.name: "has no fence to hold an edge along",
    keys.THINNEST_STRIP.name: "has no fence to cut a thin strip at",
    keys.REPEATS.name: "serves all cuts of a distance once it is set",
}


def draft_saw(section: Section, units: Units) -> SawDraft:
    """Read what every saw has."""
    return SawDraft(
        kerf=section.get(keys.KERF, units),
        max_rip=section.get(keys.MAX_RIP, units),
        scale=section.get(keys.SCALE, units),
    )


def draft_listed_saw(section: Section, units: Units) -> ListedSawDraft:
    """Read an entry of the list."""
    return ListedSawDraft(
        spot=section.spot,
        kind=section.get(keys.SAW_KIND, units),
        name=section.get(keys.SAW_NAME, units),
        saw=draft_saw(section, units),
        longest_cut=section.get(keys.LONGEST_CUT, units),
        largest_piece=section.get_each(keys.LARGEST_PIECE, units),
        smallest_piece=section.get(keys.SMALLEST_PIECE, units),
        steady_edge=section.get(keys.STEADY_EDGE, units),
        thinnest_strip=section.get(keys.THINNEST_STRIP, units),
        repeats=section.get(keys.REPEATS, units),
        minutes=section.get(keys.MINUTES, units),
    )


def check_saws(draft: JobDraft, faults: Faults) -> None:
    """Check that there are saws, listed or not, and that those listed can be told apart."""
    if draft.saws is None or not draft.lists_saws:
        return
    spot = Spot(draft.saws_spot.mark, draft.saws_spot.path)
    if draft.saw is not None:
        message = f"the saw stands by itself too, {draft.saw_spot.place}"
        faults.at(spot, FaultCode.CONTRADICTION, message, "saw: or saws:, not both")
    if not 0 < len(draft.saws) <= _MOST_SAWS:
        message = "the list has no saws" if not draft.saws else "these are more saws than are read"
        faults.at(spot, FaultCode.TOO_MANY, message, f"1 to {_MOST_SAWS} saws")
    _check_names(draft.saws, faults)
    for entry in draft.saws:
        _check_keys(entry, faults)


def _check_names(saws: tuple[ListedSawDraft, ...], faults: Faults) -> None:
    first: dict[str, Spot] = {}
    for entry in saws:
        if entry.kind.value is None or entry.name.is_wrong:
            continue
        name = entry.name.or_else(entry.kind.value.value)
        spot = entry.name.spot if entry.name.given else entry.kind.spot
        if name in first:
            message = f"the name {name} is taken, {first[name].place}"
            faults.at(spot, FaultCode.NAME_TAKEN, message, "a name of its own")
        first.setdefault(name, spot)


def _check_keys(entry: ListedSawDraft, faults: Faults) -> None:
    """Check that a saw has no key that means nothing for its kind."""
    kind = entry.kind.value
    for name, kinds in KINDS_WITH.items():
        found: Found[Any] = getattr(entry, name)
        if kind is not None and kind not in kinds and _is_said(found):
            message = f"a {kind.value} {_WHY_NOT[name]}"
            accepted = f"{name} for a {' or '.join(kinds)} alone"
            faults.at(found.spot, FaultCode.CONTRADICTION, message, accepted)


def _is_said(found: Found[Any]) -> bool:
    """Tell whether something stands there: ``none`` has a text, but no value."""
    return found.value is not None or bool(found.spot.text)


def build_saw(draft: SawDraft) -> Saw:
    """Make the table saw of a draft in which no fault was found."""
    return Saw(draft.kerf.sure(), draft.max_rip.value, draft.scale.value)


def build_listed_saw(draft: ListedSawDraft, units: Units) -> Saw:
    """Make a saw of the list, its kind standing in for what the job does not say."""
    kind = draft.kind.sure()
    usual = USUAL_LIMITS[units][kind]

    def known(found: Found[T], or_else: T | None) -> T | None:
        return found.value if _is_said(found) else or_else

    return Saw(
        kerf=draft.saw.kerf.sure(),
        max_rip=known(draft.saw.max_rip, usual.max_rip),
        scale=draft.saw.scale.value,
        name=draft.name.or_else(kind.value),
        kind=kind,
        longest_cut=known(draft.longest_cut, usual.longest_cut),
        largest_pieces=known(draft.largest_piece, usual.largest_pieces) or (),
        smallest_piece=known(draft.smallest_piece, usual.smallest_piece) or Fraction(0),
        steady_edge=known(draft.steady_edge, usual.steady_edge),
        thinnest_strip=known(draft.thinnest_strip, usual.thinnest_strip) or Fraction(0),
        repeats=draft.repeats.or_else(False),
        minutes_per_setup=draft.minutes.value,
    )
