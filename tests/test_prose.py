"""The prose of the project says what is there: commands, options, links, examples."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from typer.main import get_command

from cutlist.command.main import app
from cutlist.errors import JobFileError
from cutlist.reading import read_job
from cutlist.telling.report import fault_lines

HOME = Path(__file__).parents[1]
PAGES = [HOME / "README.md", HOME / "DEVELOPERS.md", *sorted((HOME / "docs").glob("*.md"))]
README = PAGES[0].read_text(encoding="utf-8")


def blocks(language: str) -> list[str]:
    """Return the contents of the README's fenced blocks in a language."""
    return re.findall(rf"```{language}\n(.*?)```", README, re.DOTALL)


def anchor(heading: str) -> str:
    """Return the anchor that a heading gets on the usual hosts of repositories."""
    kept = re.sub(r"[^\w\- ]", "", heading.strip().lower())
    return kept.replace(" ", "-")


LINKS = [
    (page, link)
    for page in PAGES
    for link in re.findall(r"\]\(([^)\s]+)\)", page.read_text(encoding="utf-8"))
]


@pytest.mark.parametrize(("page", "link"), LINKS)
def test_links_lead_somewhere(page: Path, link: str) -> None:
    """Every link within the project names a file that is there, and a heading in it."""
    name, _, heading = link.partition("#")
    target = page.parent / name if name else page
    assert target.is_file()
    if heading:
        headings = re.findall(r"^#+ (.*)$", target.read_text(encoding="utf-8"), re.MULTILINE)
        assert heading in [anchor(one) for one in headings]


def test_the_first_command_plans_a_sample_that_is_there() -> None:
    """The first command is one line and ends with the path of a sample."""
    command = blocks("sh")[0].strip()
    assert "\n" not in command
    assert " plan sample_projects/" in command
    assert (HOME / command.split()[-1]).is_file()


def test_the_test_command_stands_where_it_is_looked_for() -> None:
    """Below the mark stands a fence with one line that runs the tests."""
    found = re.findall(r"<!-- the test command -->\n```sh\n(.+)\n```\n", README)
    assert len(found) == 1
    assert found[0].endswith(".venv/bin/pytest")


def test_the_example_is_sound(tmp_path: Path) -> None:
    """The README's job is read without a fault."""
    path = tmp_path / "bench.yaml"
    path.write_text(blocks("yaml")[0], encoding="utf-8")
    assert read_job(path).name == "Hall bench"


def test_the_faults_are_those_that_are_reported(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The README's example with two slips is refused in the README's words."""
    monkeypatch.chdir(tmp_path)
    text = blocks("yaml")[0].replace("kerf: 1/8 ", "kerf: 1,8 ")
    text = text.replace("{name: divider, material", "{name: divider, materiel")
    Path("bench.yaml").write_text(text, encoding="utf-8")
    with pytest.raises(JobFileError) as caught:
        read_job(Path("bench.yaml"))
    assert "\n".join(fault_lines(caught.value)) + "\n" in blocks("text")


def flat(command: Any, name: str = "") -> dict[str, Any]:
    """Return every command by the words that call it, those of a group one by one."""
    below = getattr(command, "commands", None)
    if below is None:
        return {name.strip(): command}
    return {
        words: one
        for word, sub in below.items()
        for words, one in flat(sub, f"{name} {word}").items()
    }


def test_every_option_is_listed() -> None:
    """The tables name the commands and options that exist, with the commands that have them."""
    rows = [row.split(" | ") for row in README.splitlines() if row.startswith("| `-")]
    commands = flat(get_command(app))
    listed = {
        (name, option)
        for row in rows
        for option in re.findall(r"`(-o|--[a-z]+)|, `(--[a-z]+)", row[0])
        for option in filter(None, option)
        for name in (commands if row[1] == "all" else re.findall(r"`([\w ]+)`", row[1]))
    }
    there = {
        (name, option)
        for name, command in commands.items()
        for parameter in command.params
        for option in parameter.opts
        if option.startswith("-") and option not in {"-h", "--help"}
    }
    assert listed == there
    shown = re.findall(r"^\| `cutlist ([a-z ]+?)(?: [A-Z][A-Z… ]*)?` ", README, re.MULTILINE)
    assert sorted(shown) == sorted(commands)


def test_every_exit_status_is_listed() -> None:
    """The table of exit statuses names success and every status that an error carries."""
    from cutlist import errors

    kinds = [kind for kind in vars(errors).values() if isinstance(kind, type)]
    carried = {kind.exit_status for kind in kinds if issubclass(kind, errors.CutlistError)}
    listed = re.findall(r"^\| (\d+) \| ", README, re.MULTILINE)
    assert sorted(map(int, listed)) == sorted({0, *carried})


def test_files_named_for_developers_are_there() -> None:
    """Every module that the developers' page names is in the tree, under that path or name."""
    text = (HOME / "DEVELOPERS.md").read_text(encoding="utf-8")
    there = [path.relative_to(HOME).as_posix() for path in HOME.glob("[ctd]*/**/*.py")]
    names = set(re.findall(r"`([\w/]+\.py)`", text))
    assert names
    for name in names:
        assert any(path.endswith(f"/{name}") or path == name for path in there), name
    for room in set(re.findall(r"`(\w+)/`", text)):
        assert any(f"/{room}/" in f"/{path}" for path in there), room
