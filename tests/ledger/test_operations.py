"""Operations that are no cuts: the ledger follows pieces, whatever is done to them."""

from __future__ import annotations

from dataclasses import dataclass, replace

from cutlist.ledger.ledger import read_ledger
from cutlist.model.plan import Operation, Piece, Place, Plan, Setup
from tests.audit.plans import SOUND, box


@dataclass(frozen=True, slots=True)
class Work(Operation):
    """Work at a bench that takes some pieces and makes others."""

    taken: tuple[str, ...]
    made: tuple[Piece, ...]

    @property
    def takes(self) -> tuple[str, ...]:
        """What is used up."""
        return self.taken

    @property
    def makes(self) -> tuple[Piece, ...]:
        """What is there afterwards."""
        return self.made


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
