"""The list of saws: what they are where the job does not say, and what goes together."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Final

from cutlist.errors import FaultCode
from cutlist.model.job import Saw, SawKind
from cutlist.reading import keys
from cutlist.reading.drafts import ListedSawDraft, SawDraft
from cutlist.reading.places import Spot
from cutlist.units.system import Units

if TYPE_CHECKING:
    from collections.abc import Mapping

    from cutlist.reading.drafts import JobDraft
    from cutlist.reading.faults import Faults
    from cutlist.reading.section import Found, Section

#: More saws than any shop sets up for one job; each way to share cuts among them is looked at.
_MOST_SAWS: Final = 8

#: What a saw of a kind takes where the job does not say, in inches and in millimetres; a kind that
#: is left out has no limit. An edge of 12 in (300 mm) along the fence is where the warnings common
#: to table-saw manuals begin to call work short; all others are common practice: what sleds and
#: gauges carry, what leaves the hands 3 in (75 mm) from the blade on either side of it, the width
#: of a guide, the thinnest strip that a push stick still reaches.
_FARTHEST: Final = {SawKind.SLED: (48, 1200), SawKind.MITRE_GAUGE: (36, 900)}
_LONGEST: Final = {SawKind.SLED: (24, 600), SawKind.MITRE_GAUGE: (12, 300)}
_SMALLEST: Final = {
    SawKind.TABLE_SAW: (12, 300),
    SawKind.SLED: (6, 150),
    SawKind.MITRE_GAUGE: (6, 150),
    SawKind.TRACK_SAW: (8, 200),
    SawKind.CIRCULAR_SAW: (8, 200),
}
_THINNEST: Final = {SawKind.TABLE_SAW: (Fraction(3, 8), 10)}


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
        smallest_piece=section.get(keys.SMALLEST_PIECE, units),
        thinnest_strip=section.get(keys.THINNEST_STRIP, units),
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
        strip = entry.thinnest_strip
        if entry.kind.value not in (None, SawKind.TABLE_SAW) and strip.spot.text:
            message = f"a {entry.kind.value} has no fence to cut a thin strip at"
            accepted = "thinnest_strip for a table saw alone"
            faults.at(strip.spot, FaultCode.CONTRADICTION, message, accepted)


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


def build_saw(draft: SawDraft) -> Saw:
    """Make the table saw of a draft in which no fault was found."""
    return Saw(draft.kerf.sure(), draft.max_rip.value, draft.scale.value)


def build_listed_saw(draft: ListedSawDraft, units: Units) -> Saw:
    """Make a saw of the list, its kind standing in for what the job does not say."""
    kind = draft.kind.sure()

    def known(
        found: Found[Fraction], usual: Mapping[SawKind, tuple[Fraction | int, int]]
    ) -> Fraction | None:
        # What stands there as none has a text, but no value.
        is_said = found.value is not None or found.spot.text
        if is_said or kind not in usual:
            return found.value
        return Fraction(usual[kind][0 if units is Units.INCH else 1])

    return Saw(
        kerf=draft.saw.kerf.sure(),
        max_rip=known(draft.saw.max_rip, _FARTHEST),
        scale=draft.saw.scale.value,
        name=draft.name.or_else(kind.value),
        kind=kind,
        longest_cut=known(draft.longest_cut, _LONGEST),
        smallest_piece=known(draft.smallest_piece, _SMALLEST) or Fraction(0),
        thinnest_strip=known(draft.thinnest_strip, _THINNEST) or Fraction(0),
        minutes_per_setup=draft.minutes.value,
    )
