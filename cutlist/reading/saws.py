"""The list of saws: its keys, what they are where the job does not say, and what goes together."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Final

from cutlist.model.job import Saw, SawKind
from cutlist.reading import fields
from cutlist.reading.drafts import ListedSawDraft, SawDraft
from cutlist.units.system import Units

if TYPE_CHECKING:
    from collections.abc import Mapping

    from cutlist.reading.drafts import JobDraft
    from cutlist.reading.faults import Faults
    from cutlist.reading.section import Found, Section, Spot

SAW_KEYS: Final = ("kerf", "max_rip", "scale")
LISTED_SAW_KEYS: Final = (
    "kind",
    "name",
    "kerf",
    "max_rip",
    "scale",
    "longest_cut",
    "smallest_piece",
    "thinnest_strip",
    "minutes_per_setup",
)
KERF_EXAMPLE: Final = {Units.INCH: "kerf: 1/8", Units.MM: "kerf: 3.2"}

#: More saws than any shop sets up for one job; each way to share cuts among them is looked at.
_MOST_SAWS: Final = 8
_KIND_EXAMPLE: Final = "kind: table saw"

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
    positive = fields.positive_length(units)
    return SawDraft(
        kerf=section.value("kerf", fields.length(units), required=KERF_EXAMPLE[units]),
        max_rip=section.value("max_rip", positive, none=True),
        scale=section.value("scale", positive, none=True),
    )


def draft_listed_saw(section: Section, units: Units) -> ListedSawDraft:
    """Read an entry of the list."""
    return ListedSawDraft(
        spot=section.spot,
        kind=section.value("kind", fields.choice(SawKind), required=_KIND_EXAMPLE),
        name=section.value("name", fields.name),
        saw=draft_saw(section, units),
        longest_cut=section.value("longest_cut", fields.positive_length(units), none=True),
        smallest_piece=section.value("smallest_piece", fields.length(units), none=True),
        thinnest_strip=section.value("thinnest_strip", fields.length(units), none=True),
        minutes=section.value("minutes_per_setup", fields.minutes),
    )


def check_saws(draft: JobDraft, faults: Faults) -> None:
    """Check that there are saws, listed or not, and that those listed can be told apart."""
    if draft.saws is None or not draft.lists_saws:
        return
    spot = draft.saws_spot
    if draft.saw is not None:
        message = f"the saw stands by itself too, in line {draft.saw_spot.mark.line}"
        faults.add(spot.mark, spot.path, "", message, "saw: or saws:, not both")
    if not 0 < len(draft.saws) <= _MOST_SAWS:
        message = "the list has no saws" if not draft.saws else "these are more saws than are read"
        faults.add(spot.mark, spot.path, "", message, f"1 to {_MOST_SAWS} saws")
    _check_names(draft.saws, faults)
    for entry in draft.saws:
        strip = entry.thinnest_strip
        if entry.kind.value not in (None, SawKind.TABLE_SAW) and strip.spot.text:
            message = f"a {entry.kind.value} has no fence to cut a thin strip at"
            _add(faults, strip.spot, message, "thinnest_strip for a table saw alone")


def _check_names(saws: tuple[ListedSawDraft, ...], faults: Faults) -> None:
    first: dict[str, Spot] = {}
    for entry in saws:
        if entry.kind.value is None or entry.name.is_wrong:
            continue
        name = entry.name.or_else(entry.kind.value.value)
        spot = entry.name.spot if entry.name.given else entry.kind.spot
        if name in first:
            message = f"the name {name} is taken, in line {first[name].mark.line}"
            _add(faults, spot, message, "a name of its own")
        first.setdefault(name, spot)


def _add(faults: Faults, spot: Spot, message: str, accepted: str) -> None:
    faults.add(spot.mark, spot.path, spot.text, message, accepted)


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
