"""Writing a plan's documents: each file is whole or not there."""

from __future__ import annotations

import contextlib
import os
import tempfile
from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING, Final

from cutlist.errors import WriteError
from cutlist.rack import book, booking_text

if TYPE_CHECKING:
    from cutlist.drawing.paper import Paper
    from cutlist.model.job import Job
    from cutlist.model.plan import Plan
    from cutlist.model.variants import Variant

__all__ = [
    "BOOKING",
    "COMPARED",
    "DOCUMENTS",
    "compared_pdf",
    "write_atomically",
    "write_compared",
    "write_documents",
]

#: The documents there are, by the word that asks for them, with the name of each file.
DOCUMENTS: Final = {"pdf": "plan.pdf", "json": "plan.json"}
#: The same for a comparison.
COMPARED: Final = {"pdf": "compare.pdf", "json": "compare.json"}
#: Seconds that making a document takes in any case, for each panel, and for each part: the more
#: kinds of panels the more layouts and settings. On a plain machine, measured on jobs of 300 to
#: 10,000 panels of 5 to 1,000 kinds.
SECONDS: Final = {"pdf": (0.15, 0.0006, 0.0035), "json": (0.01, 0.00009, 0.0)}
#: What the plan of a job with an offcut rack does to the rack once its work is done.
BOOKING: Final = "rack.json"


def write_documents(
    plan: Plan,
    folder: Path | str,
    documents: Sequence[str] = tuple(DOCUMENTS),
    *,
    paper: Paper | None = None,
    day: date | None = None,
) -> tuple[Path, ...]:
    """Write documents of a plan into a folder, which is made if need be.

    Parameters
    ----------
    plan
        The plan.
    folder
        Where the files go; files of the same name are replaced.
    documents
        Words of :data:`DOCUMENTS`. Where the job names an offcut rack, what the plan does to it is
        written as :data:`BOOKING` as well, last.
    paper
        Paper of the PDF; A4 for a job in millimetres and Letter for one in inches if left out.
    day
        Date printed on the PDF; today if left out. With the same date the same plan gives the same
        bytes.

    Returns
    -------
    tuple
        The documents written, in the order asked for.

    Raises
    ------
    WriteError
        If a file cannot be written. All documents are made, and lie on the disk, before the first
        takes the place of an earlier one: where the disk is full all stay as they were.
    """
    makers: dict[str, Callable[[], bytes]] = {
        "pdf": lambda: _pdf(plan, paper, day or date.today()),
        "json": lambda: _json(plan),
    }
    made = {DOCUMENTS[word]: makers[word]() for word in dict.fromkeys(documents)}
    booking = book(plan)
    target = _folder(folder)
    contents = {target / name: content for name, content in made.items()}
    paths = tuple(contents)
    if booking is not None:
        contents[target / BOOKING] = booking_text(booking).encode()
    with contextlib.ExitStack() as stack:
        placers = [stack.enter_context(_beside(*item)) for item in contents.items()]
        # A plan of which a kill left only some documents must not be taken for the one before.
        with contextlib.suppress(FileNotFoundError), _told(target / BOOKING):
            (target / BOOKING).unlink()
        for place in placers:
            place()
    return paths


def seconds_to_write(job: Job, documents: Sequence[str] = tuple(DOCUMENTS)) -> float:
    """Return about how long the documents of a job's plan will take to make."""
    panels, kinds = sum(part.qty for part in job.parts), len(job.parts)
    each = (SECONDS[word] for word in dict.fromkeys(documents))
    return sum(begin + panel * panels + kind * kinds for begin, panel, kind in each)


def write_compared(folder: Path | str, contents: Mapping[str, bytes]) -> tuple[Path, ...]:
    """Write the documents of a comparison, by the words of :data:`COMPARED`, into a folder.

    Raises
    ------
    WriteError
        If a file cannot be written.
    """
    target = _folder(folder)
    paths = []
    for word, content in contents.items():
        paths.append(target / COMPARED[word])
        write_atomically(paths[-1], content)
    return tuple(paths)


def compared_pdf(
    variants: Sequence[Variant], job: Job, *, paper: Paper | None = None, day: date | None = None
) -> bytes:
    """Give the pages of a comparison as a PDF; paper and date are those of the other documents."""
    from cutlist.drawing.pages.compare_pages import compare_pages
    from cutlist.drawing.paper import usual_paper
    from cutlist.drawing.pdf import write_pages

    pages = compare_pages(
        variants, job, paper=paper or usual_paper(job.units), date=day or date.today()
    )
    buffer = BytesIO()
    write_pages(pages, buffer, title=job.name)
    return buffer.getvalue()


def write_atomically(path: Path, content: bytes) -> None:
    """Write a file so that it holds either the old content or the new one, whole.

    Raises
    ------
    WriteError
        If the disk or the folder refuses; nothing half-written is left behind.
    """
    with _beside(path, content) as place:
        place()


@contextlib.contextmanager
def _beside(path: Path, content: bytes) -> Iterator[Callable[[], None]]:
    """Write a file beside its place, whole, and yield what puts it there.

    It is removed where that is not called, or fails.
    """

    def place() -> None:
        try:
            name.replace(path)
        except OSError as error:
            raise WriteError(f"{path}: {error.strerror}") from error

    try:
        handle, text = tempfile.mkstemp(prefix=f".{path.name}.", dir=path.parent)
    except OSError as error:
        raise WriteError(f"{path}: {error.strerror}") from error
    name = Path(text)
    try:
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(content)
                file.flush()
                os.fsync(file.fileno())
            name.chmod(0o666 & ~_umask())
        except OSError as error:
            raise WriteError(f"{path}: {error.strerror}") from error
        yield place
    finally:
        with contextlib.suppress(OSError):
            name.unlink()


@contextlib.contextmanager
def _told(path: Path) -> Iterator[None]:
    try:
        yield
    except FileNotFoundError:
        raise
    except OSError as error:
        raise WriteError(f"{path}: {error.strerror}") from error


def check_folder(folder: Path | str) -> Path:
    """Return the path of a folder that is there or that can still be made.

    Raises
    ------
    WriteError
        If a file stands in its place, or in that of a folder above it.
    """
    target = Path(folder)
    for path in (target, *target.parents):
        if path.exists() and not path.is_dir():
            what = "this" if path == target else str(path)
            raise WriteError(f"{target}: {what} is a file; a folder is wanted")
    return target


def _folder(folder: Path | str) -> Path:
    target = check_folder(folder)
    try:
        target.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise WriteError(f"{target}: {error.strerror}") from error
    return target


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def _json(plan: Plan) -> bytes:
    from cutlist.output.plan_json import to_text

    return to_text(plan).encode()


def _pdf(plan: Plan, paper: Paper | None, day: date) -> bytes:
    from cutlist.drawing.pages.document import write_pdf
    from cutlist.drawing.paper import usual_paper

    buffer = BytesIO()
    write_pdf(plan, buffer, paper=paper or usual_paper(plan.job.units), date=day)
    return buffer.getvalue()
