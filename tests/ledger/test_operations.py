"""Operations that are no cuts: the ledger follows pieces, whatever is done to them."""

from __future__ import annotations

from dataclasses import dataclass, replace

from cutlist.ledger.ledger import Ledger, read_ledger
from cutlist.ledger.matching import matched
from cutlist.ledger.taken_home import taken_home
from cutlist.model.job import Match
from cutlist.model.plan import (
    Cut,
    Direction,
    Operation,
    Panel,
    Piece,
    Place,
    Plan,
    Setup,
    SizeOrigin,
)
from tests.audit.plans import SOUND, box


@dataclass(frozen=True, slots=True)
class Work(Operation):
    """Work at a bench that takes some pieces and makes others."""

    taken: tuple[str, ...]
    made: tuple[Piece, ...]
    #: Across which direction sizes change; None where all stay.
    changes: Direction | None = None

    @property
    def takes(self) -> tuple[str, ...]:
        """What is used up."""
        return self.taken

    @property
    def makes(self) -> tuple[Piece, ...]:
        """What is there afterwards."""
        return self.made

    @property
    def continues(self) -> tuple[tuple[str, str], ...]:
        """All that is taken goes on as all that is made."""
        return tuple((name, piece.name) for name in self.taken for piece in self.made)

    def size_origin(self, made: str, across: Direction) -> SizeOrigin:
        """No size is set."""
        assert made in [piece.name for piece in self.made]
        return SizeOrigin.CHANGED if across is self.changes else SizeOrigin.UNCHANGED


@dataclass(frozen=True, slots=True)
class BenchSetup(Setup):
    """A bench with its work."""

    work: tuple[Work, ...]

    @property
    def operations(self) -> tuple[Operation, ...]:
        """The work."""
        return self.work


def with_work(*work: Work) -> Plan:
    """Return a plan of four panels whose pieces are worked on afterwards."""
    plan = SOUND["two_materials"]()
    bench = BenchSetup(len(plan.setups) + 1, Place.SHOP, "bench", work)
    return replace(plan, setups=(*plan.setups, bench))


def test_routing_makes_one_piece_of_one() -> None:
    """A routed piece comes from the same sheet as before, one operation later."""
    plan = with_work()
    name = plan.panels[0].piece.name
    before = read_ledger(plan).entries[name]
    routed = box("routed", 0, 0, 10, 10)
    ledger = read_ledger(with_work(Work(99, (name,), (routed,))))
    after = ledger.entries["routed"]
    assert (after.stock, after.edges) == (before.stock, before.edges)
    assert after.depth == before.depth + 1
    assert before.stock is not None
    assert ledger.made_at("routed") == len(plan.setups)
    assert ledger.consumer_of[name][1].number == 99
    assert routed in ledger.staying(before.stock.piece)


def test_a_glue_up_has_several_origins() -> None:
    """Panels of two sheets become one piece that comes from both."""
    plan = with_work()
    ledger = read_ledger(plan)
    first = plan.panels[0].piece.name
    other = next(
        panel.piece.name
        for panel in plan.panels
        if ledger.stock_of[panel.piece.name] != ledger.stock_of[first]
    )
    joined = box("joined", 0, 0, 10, 10)
    glued = read_ledger(with_work(Work(99, (first, other), (joined,))))
    assert glued.entries["joined"].origins == (ledger.stock_of[first], ledger.stock_of[other])
    assert first in glued.consumer_of
    assert other in glued.consumer_of


def routed_panel() -> tuple[Plan, Plan]:
    """Return a plan, and the same with its first panel lying beyond work that keeps its size."""
    plan = with_work()
    first, *others = plan.panels
    routed = replace(first.piece, name="routed")
    worked = with_work(Work(99, (first.piece.name,), (routed,)))
    panels = (Panel(first.part, first.copy, routed, first.turned), *others)
    return plan, replace(worked, panels=panels)


def test_sizes_are_followed_through_work() -> None:
    """A cut gives a panel its size whether or not the piece is worked on afterwards."""
    plan, routed = routed_panel()
    before, after = read_ledger(plan), read_ledger(routed)
    cuts = [cut for setting in plan.settings for cut in setting.cuts]
    asked = [ledger_says(before, cut) for cut in cuts]
    assert any(sets for sets, *_ in asked)
    assert asked == [ledger_says(after, cut) for cut in cuts]


def ledger_says(ledger: Ledger, cut: Cut) -> tuple[bool, ...]:
    """Return what the ledger says of the sizes that a cut gives."""
    leaves = (ledger.leaves_panels(cut, cut.kept), ledger.leaves_panels(cut, cut.rest))
    return ledger.sets_panels(cut), ledger.sizes_panels(cut), *leaves


def test_a_match_is_followed_through_work() -> None:
    """The set-up that gave a routed panel its size is that of its blank."""
    plan, routed = routed_panel()
    first = plan.panels[0]
    match = Match("all", first.piece.width, (first.part,))
    asked = [replace(one, job=replace(one.job, matches=(match,))) for one in (plan, routed)]
    before, after = (matched(read_ledger(one)) for one in asked)
    assert before == after
    assert before[0].settings or before[0].guided


def test_a_glue_up_has_the_sizes_that_stay_of_all_and_no_other() -> None:
    """Pieces joined along their width: their length is set, what they measure together is not."""
    plan = with_work()
    pair = [panel.piece for panel in plan.panels][:2]
    joined = box("joined", 0, 0, 10, 10)
    work = Work(99, tuple(piece.name for piece in pair), (joined,), Direction.RIP)
    panel = Panel("board", 1, joined, turned=False)
    ledger = read_ledger(replace(with_work(work), panels=(panel,)))
    found = {way: cuts_of(plan, way, pair) for way in Direction}
    assert found[Direction.RIP]
    assert found[Direction.CROSSCUT]
    assert not any(ledger.sets_panels(cut) for cut in found[Direction.RIP])
    assert all(ledger.leaves_panels(cut, cut.kept) for cut in found[Direction.RIP])
    assert all(ledger.sets_panels(cut) for cut in found[Direction.CROSSCUT])


def cuts_of(plan: Plan, way: Direction, pieces: list[Piece]) -> list[Cut]:
    """Return the cuts of a direction that set a size of one of the pieces."""
    before = read_ledger(replace(plan, panels=tuple(
        panel for panel in plan.panels if panel.piece in pieces
    )))  # fmt: skip
    cuts = [cut for setting in plan.settings for cut in setting.cuts if cut.direction is way]
    return [cut for cut in cuts if before.sets_panels(cut)]


def test_what_is_worked_on_is_no_spare() -> None:
    """Whatever a routed panel comes from is needed, as what a sawn one comes from is."""
    plan, routed = routed_panel()
    needed = [one.is_spare for one in taken_home(read_ledger(plan))]
    assert needed
    assert [one.is_spare for one in taken_home(read_ledger(routed))] == needed


def test_a_piece_may_come_from_nothing_known() -> None:
    """A test piece that is brought along has no stock, clean edges, and is of no sheet."""
    plan = with_work(Work(99, (), (box("brought", 0, 0, 10, 10),)))
    ledger = read_ledger(plan)
    entry = ledger.entries["brought"]
    assert (entry.stock, entry.origins, entry.depth) == (None, (), 0)
    assert all(edge.is_clean for edge in entry.edges.values())
    assert "brought" not in ledger.stock_of
    stays = [piece.name for one in plan.workpieces for piece in ledger.staying(one.piece)]
    assert "brought" not in stays


def test_a_test_piece_is_used_up() -> None:
    """An operation that makes nothing leaves nothing of what it took."""
    plan = with_work()
    spare = plan.leftovers[0].piece.name
    stock = read_ledger(plan).stock_of[spare].piece
    ledger = read_ledger(with_work(Work(99, (spare,), ())))
    assert spare not in [piece.name for piece in ledger.staying(stock)]
    assert spare in [piece.name for piece in read_ledger(plan).staying(stock)]


def test_cuts_alone_are_lines() -> None:
    """What is no cut draws no line across a sheet."""
    plan = with_work()
    name = plan.panels[0].piece.name
    routed = with_work(Work(99, (name,), (box("routed", 0, 0, 10, 10),)))
    assert read_ledger(routed).lines == read_ledger(plan).lines
    assert name not in read_ledger(routed).divided_by
