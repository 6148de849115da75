"""The second stage: every group on the cheapest sheets that were found for it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from cutlist.errors import CannotCutError
from cutlist.nesting.allowance import Allowance
from cutlist.nesting.failures import ItemFitsNowhereError, StockTooSmallError
from cutlist.nesting.problem import Nesting, Problem
from cutlist.nesting.stopping import StopRule
from cutlist.planning.dividing.groups import Division, Group
from cutlist.planning.packing.break_down import break_down, case_of, refusals
from cutlist.planning.packing.idle_offcuts import spared
from cutlist.planning.packing.parallel import nest_side_by_side
from cutlist.planning.packing.partial_breakdown import most_valuable_broken
from cutlist.planning.packing.shortage import Selection, missing_sheets, most_valuable
from cutlist.planning.remedies.reasons import refusal_of
from cutlist.planning.remedies.transport import why_left_behind
from cutlist.planning.terms.terms import Terms


@dataclass(frozen=True, slots=True)
class Packed:
    """Layouts of all groups.

    Parameters
    ----------
    division
        The job, with its groups as they are cut: of sheets that are broken down the bins are
        blanks, and offcuts that save no money are not there.
    nestings
        For each group its layouts, and what is proven of their cost.
    left_out
        Where the stock does not suffice, for each part by its number how many panels are not made.
    """

    division: Division
    nestings: tuple[Nesting, ...]
    left_out: tuple[tuple[int, int], ...] = ()

    @property
    def is_cheapest(self) -> bool:
        """Whether it is proven that no plan costs less."""
        return all(nesting.cost == nesting.bound for nesting in self.nestings)


def pack(division: Division, terms: Terms) -> Packed:
    """Pack every group, one after the other.

    Raises
    ------
    CannotCutError
        If a part fits no stock, or the stock does not suffice and the plan may not be partial.
    StoppedError
        If interrupted before every group had layouts.
    """
    if len(division.groups) > 1:
        reasons = refusals(division)
        if reasons:
            raise CannotCutError(reasons)
    terms.reporter.begin(len(division.groups), division.money)
    parameters = terms.parameters.packing
    is_large = division.panels > terms.parameters.trades.most_panels
    whole = terms.allowance.first(
        seconds=parameters.seconds_if_large if is_large else parameters.seconds,
        steps=parameters.steps,
    )
    done: list[_PackedGroup] = []
    left = division.panels
    for index, group in enumerate(division.groups):
        packing = _Packing(division, index, group, group.panels / left, whole, terms)
        done.append(packing.run(has_others=bool(done)))
        left -= group.panels
    return Packed(
        replace(division, groups=tuple(one.group for one in done)),
        tuple(one.nesting for one in done),
        tuple(sorted(part for one in done for part in one.left_out)),
    )


@dataclass(frozen=True, slots=True)
class _PackedGroup:
    group: Group
    nesting: Nesting
    left_out: tuple[tuple[int, int], ...] = ()

    @classmethod
    def of(cls, group: Group, selection: Selection) -> _PackedGroup:
        """Return what was selected of a group."""
        counts = zip(group.parts, selection.left_out, strict=True)
        return cls(group, selection.nesting, tuple((part, n) for part, n in counts if n))


@dataclass(frozen=True, slots=True)
class _Packing:
    """The packing of one group with its share of what is left for all packing."""

    division: Division
    index: int
    group: Group
    share: float
    allowance: Allowance
    terms: Terms

    def run(self, *, has_others: bool) -> _PackedGroup:
        """Pack the group, or as much of it as its stock gives where that is asked for."""
        if self.group.limits is not None:
            return self._broken_down(has_others=has_others)
        parameters = self.terms.parameters.packing
        may_fall_short = self.terms.is_partial and self.group.is_limited
        share = self.share * (parameters.partial if may_fall_short else 1)
        try:
            nesting = self._nest(share)
        except StockTooSmallError as error:
            if not self.terms.is_partial:
                raise self._in_words(error) from error
        except ItemFitsNowhereError as error:
            raise self._in_words(error) from error
        else:
            return self._without_idle_offcuts(nesting)
        parts = [self.division.job.parts[part] for part in self.group.parts]
        allowance = self.allowance.part(self.share)
        selection = most_valuable(self.group, parts, seed=self.terms.seed, allowance=allowance)
        if any(selection.left_out):
            return _PackedGroup.of(self.group, selection)
        return self._without_idle_offcuts(selection.nesting)

    def _nest(self, share: float) -> Nesting:
        """Pack the group's problem with a share of what is left."""
        return nest_side_by_side(
            self.group.problem,
            seed=self.terms.seed,
            allowance=self.allowance.part(share),
            observer=self.terms.reporter.observer(self.index),
            seed_step=self.terms.parameters.packing.seed_step,
        )

    def _without_idle_offcuts(self, nesting: Nesting) -> _PackedGroup:
        """Leave offcuts in the rack that save no money."""
        parameters = self.terms.parameters.packing

        def pack_again(problem: Problem, is_reached: StopRule) -> Nesting:
            return nest_side_by_side(
                problem,
                seed=self.terms.seed,
                allowance=self.allowance.part(parameters.idle_offcuts),
                also=is_reached,
                seed_step=parameters.seed_step,
            )

        problem, found = spared(self.group.problem, nesting, pack_again, parameters.most_tries)
        return _PackedGroup(replace(self.group, problem=problem), found)

    def _broken_down(self, *, has_others: bool) -> _PackedGroup:
        """Pack the group on the blanks that the store makes of its sheets."""
        terms, parameters = self.terms, self.terms.parameters.packing
        try:
            on_whole = self._nest(self.share * parameters.whole)
            group, nesting = break_down(
                self.division,
                self.group,
                on_whole,
                seed=terms.seed,
                allowance=self.allowance.part(self.share * parameters.broken_down),
                has_others=has_others,
            )
            packed = _PackedGroup(group, nesting)
        except (ItemFitsNowhereError, StockTooSmallError) as error:
            is_short = isinstance(error, StockTooSmallError)
            if not (terms.is_partial and is_short and self.group.is_limited):
                raise self._in_words(error) from error
            group, selection = most_valuable_broken(
                self.division,
                self.group,
                seed=terms.seed,
                allowance=self.allowance.part(self.share),
                parameters=terms.parameters.partial,
            )
            packed = _PackedGroup.of(group, selection)
        terms.reporter.packed(self.index, packed.nesting)
        return packed

    def _in_words(self, error: ItemFitsNowhereError | StockTooSmallError) -> CannotCutError:
        """Tell why the group cannot be cut, and what would help."""
        group, terms = self.group, self.terms
        missing: dict[str, int] = {}
        if isinstance(error, StockTooSmallError):
            missing = missing_sheets(
                group,
                seed=terms.seed,
                is_late=terms.allowance.is_late,
                parameters=terms.parameters.shortage,
            )
        why = None
        if group.left_behind:
            lost = list(error.short if isinstance(error, StockTooSmallError) else error.items)
            why = why_left_behind(case_of(self.division, group, lost))
        told = refusal_of(
            self.division.job,
            group.parts,
            error,
            missing,
            left_behind=group.left_behind,
            why=why,
        )
        # Of sheets that are broken down part is planned only where each runs out.
        helps = group.limits is None or group.is_limited
        return told if helps else CannotCutError(told.reasons)
