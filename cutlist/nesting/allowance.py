"""What a search may spend of time and steps: one tree, whose parts charge themselves.

The whole is shared out into parts, these into further ones. Whoever works on a part charges it with
the steps it took; the part charges what it is a part of, and so on up to the whole. So nothing is
counted twice and nothing is forgotten, and what one part leaves over is there for the next.
"""

from __future__ import annotations

import time
from typing import TYPE_CHECKING

from cutlist.nesting.stopping import AfterSteps, FirstOf, WhenAsked

if TYPE_CHECKING:
    from cutlist.nesting.stopping import Standing, StopRule


class Allowance:
    """A whole, or a part of one.

    Parameters
    ----------
    seconds
        Wall-clock time; None where time does not count.
    steps
        Search steps; None where steps do not count. With steps alone, equal seeds give equal
        answers.
    asked
        Ends every part once asked, as Ctrl-C does.
    started
        When the time began to run, by :func:`time.monotonic`; now if left out.

    Raises
    ------
    ValueError
        If neither is given: such a search would never end. If one of them is negative.
    """

    __slots__ = ("_begin", "_most", "_parent", "_seconds", "_spent", "asked")

    def __init__(
        self,
        seconds: float | None = None,
        steps: int | None = None,
        *,
        asked: WhenAsked | None = None,
        started: float | None = None,
    ) -> None:
        if seconds is None and steps is None:
            raise ValueError("found neither seconds nor steps; a search needs one of them to end")
        for name, amount in (("seconds", seconds), ("steps", steps)):
            if amount is not None and not amount >= 0:
                raise ValueError(f"{name}: found {amount}; accepted: 0 or more")
        self.asked = WhenAsked() if asked is None else asked
        self._begin = time.monotonic() if started is None else started
        self._seconds = seconds
        self._most = steps
        self._spent = 0
        self._parent: Allowance | None = None

    def _child(self, begin: float, seconds: float | None, most: int | None) -> Allowance:
        child = object.__new__(Allowance)
        child.asked = self.asked
        child._begin, child._seconds, child._most = begin, seconds, most
        child._spent = 0
        child._parent = self
        return child

    def part(self, share: float) -> Allowance:
        """Return a part: so much of what is left now of time and steps, from now on."""
        seconds, steps = self.seconds_left, self.steps_left
        return self._child(
            time.monotonic(),
            None if seconds is None else share * seconds,
            None if steps is None else int(share * steps),
        )

    def first(self, *, seconds: float, steps: float) -> Allowance:
        """Return what is left of the first part of the whole.

        Parameters
        ----------
        seconds, steps
            The shares of all the time and of all the steps at which it ends.
        """
        most = None if self._most is None else max(0, int(steps * self._most) - self._spent)
        return self._child(
            self._begin, None if self._seconds is None else seconds * self._seconds, most
        )

    def less(self, seconds: float, *, least: float = 0.0) -> Allowance:
        """Return what is left once time is set aside for what comes after.

        Parameters
        ----------
        seconds
            What is set aside.
        least
            The share of all the time that is not set aside, however little that leaves.
        """
        if self._seconds is None:
            return self._child(self._begin, None, self.steps_left)
        kept = max(self._seconds - seconds, least * self._seconds)
        return self._child(self._begin, kept, self.steps_left)

    def spend(self, steps: int) -> None:
        """Charge steps to this part and to all that it is a part of."""
        whole: Allowance | None = self
        while whole is not None:
            whole._spent += steps
            whole = whole._parent

    @property
    def is_timed(self) -> bool:
        """Whether time counts."""
        return self._seconds is not None

    @property
    def spent(self) -> int:
        """Steps charged so far, through all parts."""
        return self._spent

    @property
    def steps_left(self) -> int | None:
        """Steps left, not below 0; None where they do not count."""
        left: int | None = None
        whole: Allowance | None = self
        while whole is not None:
            if whole._most is not None:
                own = max(0, whole._most - whole._spent)
                left = own if left is None else min(left, own)
            whole = whole._parent
        return left

    @property
    def seconds_left(self) -> float | None:
        """Seconds left, not below 0; None where time does not count."""
        left: float | None = None
        whole: Allowance | None = self
        now = time.monotonic()
        while whole is not None:
            if whole._seconds is not None:
                own = max(0.0, whole._begin + whole._seconds - now)
                left = own if left is None else min(left, own)
            whole = whole._parent
        return left

    def is_over(self) -> bool:
        """Say whether nothing is left, or somebody asked for the end."""
        return self.asked.was_asked or self.is_late() or self.steps_left == 0

    def is_late(self) -> bool:
        """Say whether the time is up, or somebody asked for the end, whatever steps are left.

        This is what ends work that counts its own effort, so that with steps alone it comes to
        the same end each time.
        """
        return self.asked.was_asked or self.seconds_left == 0

    def rule(self, searches: int = 1) -> StopRule:
        """Return a stop rule for one of so many searches that share this part."""
        rules: list[StopRule] = [self._is_late_at]
        steps = self.steps_left
        if steps is not None:
            rules.append(AfterSteps(max(1, steps // searches)))
        return FirstOf(*rules)

    def _is_late_at(self, standing: Standing) -> bool:  # noqa: ARG002
        return self.is_late()
