"""The commands that list and edit an offcut rack."""

from __future__ import annotations

from datetime import date
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from cutlist.command.terminal import errors, say, width, width_of_rows
from cutlist.errors import RackFileError
from cutlist.units.system import Units

if TYPE_CHECKING:
    from cutlist.rack import Change

commands = typer.Typer(
    no_args_is_help=True,
    rich_markup_mode=None,
    help="List, edit and draw the offcut rack: what earlier jobs left over.",
)

_UNDONE = "the rack is as it was"

RackArgument = Annotated[Path, typer.Argument(metavar="RACK", help="The rack's file.")]
DebugOption = Annotated[bool, typer.Option("--debug", help="Show a traceback on an error.")]


@commands.command("new")
def new_rack(
    rack: RackArgument,
    units: Annotated[Units, typer.Option(help="What bare numbers are, and lengths are shown in.")],
    debug: DebugOption = False,
) -> None:
    """Make an empty rack."""
    with errors(debug=debug, undone=_UNDONE):
        from cutlist.rack import make_rack

        make_rack(rack, units)
        say([f"{rack}: an empty rack; a job uses it with the line  offcuts: {rack.name}"])


@commands.command("list")
def list_rack(rack: RackArgument, debug: DebugOption = False) -> None:
    """List what is on the rack."""
    with errors(debug=debug, undone=_UNDONE):
        from cutlist.rack import read_rack
        from cutlist.telling.rack_report import rack_lines

        say(rack_lines(read_rack(rack), width()))


@commands.command("add")
def add_offcut(
    rack: RackArgument,
    material: Annotated[str, typer.Option(metavar="NAME", help="As the jobs call it.")],
    thickness: Annotated[str, typer.Option(metavar="LENGTH", help="As of a sheet.")],
    size: Annotated[str, typer.Option(metavar="SIZE", help="LENGTH x WIDTH.")],
    name: Annotated[
        str, typer.Option(metavar="NAME", help="What is pencilled on it; rack N if left out.")
    ] = "",
    grain: Annotated[
        str,
        typer.Option(metavar="WAY", help="Along the length, along the width, or none of it."),
    ] = "length",
    trim: Annotated[
        str, typer.Option(metavar="LENGTH", help="What has to come off edges that are not clean.")
    ] = "",
    edges: Annotated[
        str,
        typer.Option(metavar="LIST", help="Which these are: left right lower upper; all else."),
    ] = "",
    debug: DebugOption = False,
) -> None:
    """Put a piece on the rack."""
    with errors(debug=debug, undone=_UNDONE):
        from cutlist.rack import add, read_rack
        from cutlist.reading.faults import closest
        from cutlist.reading.rack_list import offcut_from

        before = read_rack(rack)
        cells = {"name": name, "material": material, "thickness": thickness, "size": size}
        cells |= {"grain": grain, "trim": trim, "edges": edges}
        piece = offcut_from(cells, before.units, "offcuts add")
        _tell(rack, add(rack, [piece], day=date.today()))
        known = {one.material for one in before.offcuts}
        near = closest(piece.material, known)
        if near is not None and piece.material not in known:
            say([f"  note     {piece.material} is new on the rack; if {near} is meant, undo this"])


@commands.command("remove")
def remove_offcuts(
    rack: RackArgument,
    names: Annotated[list[str], typer.Argument(metavar="NAME", help="What to take off.")],
    debug: DebugOption = False,
) -> None:
    """Take pieces off the rack by name."""
    with errors(debug=debug, undone=_UNDONE):
        from cutlist.rack import remove

        _tell(rack, remove(rack, names, day=date.today()))


@commands.command("undo")
def undo_change(rack: RackArgument, debug: DebugOption = False) -> None:
    """Undo the last change of the rack; again, the one before it."""
    with errors(debug=debug, undone=_UNDONE):
        from cutlist.rack import undo

        _tell_turned(rack, undo(rack), "undone", "there is nothing to undo")


@commands.command("redo")
def redo_change(rack: RackArgument, debug: DebugOption = False) -> None:
    """Make the change again that was undone last."""
    with errors(debug=debug, undone=_UNDONE):
        from cutlist.rack import redo

        _tell_turned(rack, redo(rack), "made again", "there is nothing to make again")


@commands.command("history")
def list_changes(rack: RackArgument, debug: DebugOption = False) -> None:
    """List every change of the rack, the last one first."""
    with errors(debug=debug, undone=_UNDONE):
        from cutlist.rack import history
        from cutlist.telling.rack_report import history_lines

        say(history_lines(history(rack), width_of_rows()))


@commands.command("export")
def export_list(
    rack: RackArgument,
    file: Annotated[Path, typer.Argument(metavar="FILE", help="The list to write (CSV).")],
    debug: DebugOption = False,
) -> None:
    """Write the rack as a list that a spreadsheet or an editor opens."""
    with errors(debug=debug, undone=_UNDONE):
        from cutlist.output.writing import write_atomically
        from cutlist.rack import read_rack
        from cutlist.rack.text import list_text

        there = read_rack(rack)
        write_atomically(file, list_text(there.offcuts, there.units).encode())
        say([f"written  {file}"])


@commands.command("import")
def import_list(
    rack: RackArgument,
    file: Annotated[Path, typer.Argument(metavar="FILE", help="The list to read (CSV).")],
    replace: Annotated[
        bool, typer.Option("--replace", help="Take everything off that is not in the list.")
    ] = False,
    debug: DebugOption = False,
) -> None:
    """Put the pieces of a list on the rack; what is there just so stays."""
    with errors(debug=debug, undone=_UNDONE):
        from cutlist.rack import read_rack, replace_all
        from cutlist.reading.rack_list import read_rack_list

        pieces = read_rack_list(file, read_rack(rack).units)
        change = replace_all(rack, pieces, day=date.today(), keeping=not replace)
        _tell_turned(rack, change, "", "the rack and the list agree")


@commands.command("draw")
def draw_rack(
    rack: RackArgument,
    out: Annotated[
        Path | None,
        typer.Option("-o", "--out", metavar="FILE", help="The PDF; beside the rack if left out."),
    ] = None,
    debug: DebugOption = False,
) -> None:
    """Draw the rack to scale, on paper as usual for its unit."""
    with errors(debug=debug, undone=_UNDONE):
        from cutlist.drawing.pages.document import write_rack
        from cutlist.drawing.paper import usual_paper
        from cutlist.output.writing import write_atomically
        from cutlist.rack import read_rack

        there = read_rack(rack)
        target = out or rack.with_suffix(".pdf")
        if target == rack:
            raise RackFileError(f"{target}: this is the rack itself; -o names another file")
        buffer = BytesIO()
        write_rack(there, buffer, paper=usual_paper(there.units), date=date.today())
        write_atomically(target, buffer.getvalue())
        say([f"written  {target}"])


def _tell(rack: Path, change: Change) -> None:
    from cutlist.rack import read_rack
    from cutlist.telling.rack_report import change_lines

    there = read_rack(rack)
    count = f"{rack}: {len(there.offcuts)} on the rack now"
    say([count, *change_lines(change, there.units, width())])


def _tell_turned(rack: Path, change: Change | None, what: str, otherwise: str) -> None:
    from cutlist.rack import read_rack

    if change is None:
        say([f"{rack}: {otherwise}"])
        return
    if not what:
        _tell(rack, change)
        return
    job = f" of {change.job}" if change.job else ""
    count = f"{len(read_rack(rack).offcuts)} on the rack now"
    say([f"{rack}: {what}: change {change.number}, {change.kind}{job}; {count}"])
