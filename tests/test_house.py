"""The house rules no linter knows: shape, size, names, and pages that must keep up with the code.

Each failure names the place and says how to mend it.
"""

import ast
import importlib
import re
import subprocess
import tomllib
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path

import typer.main

from floorcare.errors import FloorcareError
from floorcare.faces.cli.app import COMMANDS, app
from floorcare.ground.rules.catalogue import RULES

ROOT = Path(__file__).resolve().parents[1]
CODE = ROOT / "floorcare"
DOCS = ROOT / "docs"

TOP_FILES = {"README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml"}
TOP_FOLDERS = {"floorcare", "migrations", "tests", "sample_sites", "docs"}

MODULE_LINES, FUNCTION_LINES = 400, 50
SIZED = ("floorcare", "migrations", "sample_sites", "tests")
UNSIZED = {
    "sample_sites/places.py": "a pure table: the invented contractor, one line a thing",
    "migrations/versions/": "a migration is a list of table statements, never edited once released",
}

WITHOUT_MIRROR = {
    "floorcare/__main__.py": "hands over to the command line, which is tested with it",
}

SOURCED = ("wear", "rules", "worktime", "units", "work")

BANNED = {"manager", "helper", "utils", "handler", "processor"}
BANNED |= {"item", "data", "info", "entity", "task", "job"}
BANNED_YET_NEEDED: dict[str, str] = {}
"""Names a library forces on us, as `path: name`, each with its reason."""

CLOCK_READERS = {
    "datetime": {"datetime.now", "datetime.utcnow", "datetime.today", "date.today"},
    "time": {"time", "time_ns", "localtime", "gmtime", "ctime", "monotonic", "perf_counter"},
}
MAY_READ_THE_CLOCK = ("floorcare/faces/", "floorcare/compose.py", "floorcare/__main__.py")

# written in pieces, so that this file does not hold what it looks for
HOSTS = (
    "pypi" + ".org",
    "python" + "hosted.org",
    "npm" + "js.",
    "ana" + "conda.org",
    "index" + "-url",
)
REGISTRIES = re.compile("|".join(map(re.escape, HOSTS)))
MACHINE_PATH = re.compile(
    r"(?<![\w.:/~$}-])/(?:home|Users|root|work|tmp|opt|mnt|srv|private)/\w|\b[A-Z]:\\\w"
)

README_HEADINGS = ["## Run it", "## Test it"]


@cache
def tracked() -> tuple[str, ...]:
    """Every file git holds or would take in, as a path from the root."""
    # a checkout that belongs to another user is still ours to look at
    git = ["git", "-c", "safe.directory=*", "-C", str(ROOT)]
    listed = subprocess.run(
        [*git, "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        capture_output=True,
        check=True,
    ).stdout.decode()
    return tuple(sorted(path for path in set(listed.split("\0")) if (ROOT / path).is_file()))


def modules(*folders: str) -> Iterator[tuple[str, ast.Module]]:
    """(path from the root, syntax tree) of every Python file under some folders."""
    for folder in folders:
        for path in sorted((ROOT / folder).rglob("*.py")):
            yield path.relative_to(ROOT).as_posix(), parsed(path)


@cache
def parsed(path: Path) -> ast.Module:
    """The syntax tree of a file, read once."""
    return ast.parse(path.read_text(encoding="utf-8"))


def page(name: str) -> str:
    """A page of the documentation, "" while nobody has written it."""
    path = DOCS / name
    return path.read_text(encoding="utf-8") if path.is_file() else ""


def told(problems: Iterable[str], mend: str) -> str:
    """The failure as a person should read it."""
    return "\n".join(["", *(f"  {problem}" for problem in problems), f"Mend: {mend}"])


def test_the_top_level_holds_what_it_should_and_nothing_else():
    names, wanted = {path.split("/")[0] for path in tracked()}, TOP_FILES | TOP_FOLDERS
    strange = sorted(n for n in names - wanted if not n.startswith("."))
    missing = sorted(wanted - names)
    assert not strange, told(strange, "move it into one of the folders, or let .gitignore name it")
    assert not missing, told(missing, "put it back; the top level is the same for everybody")


def test_modules_and_functions_are_short():
    long = []
    for path, tree in modules(*SIZED):
        if path.endswith("_table.py") or path.startswith(tuple(UNSIZED)):
            continue
        lines = len((ROOT / path).read_text(encoding="utf-8").splitlines())
        if lines > MODULE_LINES:
            long.append(f"{path}: {lines} lines, at most {MODULE_LINES}")
        for node in ast.walk(tree):
            if isinstance(node, ast.FunctionDef) and not path.startswith("tests/"):
                length = (node.end_lineno or node.lineno) - node.lineno + 1
                if length > FUNCTION_LINES:
                    long.append(
                        f"{path}:{node.lineno} {node.name}: {length} lines, "
                        f"at most {FUNCTION_LINES}"
                    )
    assert not long, told(long, "split it where its subject changes")


def test_exemptions_from_size_are_still_needed():
    gone = [path for path in UNSIZED if not (ROOT / path).exists()]
    assert not gone, told(gone, "take it out of UNSIZED in this file")


def has_code(tree: ast.Module) -> bool:
    """Whether a module does anything; records and words without a function do not."""
    return any(isinstance(node, ast.FunctionDef | ast.Lambda) for node in ast.walk(tree))


def mirror_of(path: str) -> str:
    """The test file of a module: floorcare/ground/a.py → tests/ground/test_a.py."""
    inside = Path(path).relative_to("floorcare")
    return (Path("tests") / inside.parent / f"test_{inside.name}").as_posix()


def test_every_module_has_its_mirrored_test_file():
    missing = [
        f"{path} wants {mirror_of(path)}"
        for path, tree in modules("floorcare")
        if has_code(tree) and not path.endswith("__init__.py") and path not in WITHOUT_MIRROR
        if not (ROOT / mirror_of(path)).is_file()
    ]
    assert not missing, told(
        missing, "write the test file, or name the module and the reason in WITHOUT_MIRROR"
    )


def test_modules_excepted_from_a_mirror_are_still_without_one():
    stale = [
        path
        for path in WITHOUT_MIRROR
        if not (ROOT / path).is_file() or (ROOT / mirror_of(path)).is_file()
    ]
    assert not stale, told(stale, "take it out of WITHOUT_MIRROR in this file")


def test_every_class_of_the_ground_stands_in_the_words():
    words = page("words.md")
    missing = [
        f"{path}: {node.name}"
        for path, tree in modules("floorcare/ground")
        for node in tree.body
        if isinstance(node, ast.ClassDef) and not node.name.startswith("_")
        if f"`{node.name}`" not in words
    ]
    assert not missing, told(missing, "give it a line in docs/words.md, the name in backticks")


def test_every_figure_of_the_ground_names_its_source_or_assumption():
    silent = []
    for path, tree in modules(*(f"floorcare/ground/{part}" for part in SOURCED)):
        for node in tree.body:
            if not isinstance(node, ast.FunctionDef) or node.name.startswith("_"):
                continue
            said = ast.get_docstring(node) or ""
            if "Source:" not in said and "Assumption:" not in said:
                silent.append(f"{path}:{node.lineno} {node.name}")
    assert not silent, told(silent, 'end its docstring with a line "Source: …" or "Assumption: …"')


def name_words(name: str) -> set[str]:
    """The words of a name, by underscore and camel case, plural and singular."""
    if name.startswith("__") and name.endswith("__"):
        return set()
    found = {
        word.casefold()
        for part in name.split("_")
        for word in re.findall(r"[A-Z]+(?![a-z])|[A-Z]?[a-z]+", part)
    }
    return found | {word.removesuffix("s") for word in found}


def names_given(path: str, tree: ast.Module) -> Iterator[tuple[int, str]]:
    """(line, name) of the module, its classes, functions, arguments and record fields."""
    yield 1, Path(path).stem
    for node in ast.walk(tree):
        if isinstance(node, ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef):
            yield node.lineno, node.name
        if isinstance(node, ast.arg):
            yield node.lineno, node.arg
        if isinstance(node, ast.ClassDef):
            for field in node.body:
                if isinstance(field, ast.AnnAssign) and isinstance(field.target, ast.Name):
                    yield field.lineno, field.target.id


def test_names_are_words_of_the_trade():
    vague = [
        f"{path}:{line} {name}"
        for path, tree in modules("floorcare")
        for line, name in names_given(path, tree)
        if name_words(name) & BANNED and f"{path}: {name}" not in BANNED_YET_NEEDED
    ]
    assert not vague, told(
        vague, "say what it is in a word of docs/words.md (due, work, visit line, record, finding)"
    )


def test_name_words_are_found_in_every_spelling():
    assert name_words("RecoatHandler") >= {"recoat", "handler"}
    assert name_words("visit_data") >= {"visit", "data"}
    assert "item" in name_words("visit_items")
    assert "data" not in name_words("metadata")


def clock_reads(tree: ast.Module) -> Iterator[tuple[int, str]]:
    """(line, what) of every name through which a module reads the clock, whatever it calls it."""
    meant: dict[str, str] = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            for alias in node.names:
                if alias.name in CLOCK_READERS:
                    meant[alias.asname or alias.name] = alias.name
        if isinstance(node, ast.ImportFrom) and node.module in CLOCK_READERS:
            for alias in node.names:
                meant[alias.asname or alias.name] = f"{node.module}.{alias.name}"
    forbidden = {f"{module}.{name}" for module, names in CLOCK_READERS.items() for name in names}
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute | ast.Name):
            first, _, rest = ast.unparse(node).partition(".")
            full = ".".join(part for part in (meant.get(first, ""), rest) if part)
            if first in meant and full in forbidden:
                yield node.lineno, full


def test_nobody_below_the_faces_reads_the_clock():
    reads = [
        f"{path}:{line} {what}"
        for path, tree in modules("floorcare")
        if not path.startswith(MAY_READ_THE_CLOCK)
        for line, what in clock_reads(tree)
    ]
    assert not reads, told(reads, "take today or now as an argument; the face reads the clock")


def test_clock_reads_are_found_in_every_spelling():
    spellings = {
        "import datetime\ndatetime.datetime.now()": ["datetime.datetime.now"],
        "from datetime import datetime as dt\ndt.utcnow()": ["datetime.datetime.utcnow"],
        "from datetime import date\ndate.today()": ["datetime.date.today"],
        "from time import time\ntime()": ["time.time"],
        "import time as clock\nclock.monotonic()": ["time.monotonic"],
        "from datetime import datetime, time\ndatetime.combine(day, time(22))": [],
        "today.now()": [],
    }
    for text, expected in spellings.items():
        assert [what for _, what in clock_reads(ast.parse(text))] == expected, text


def test_no_file_names_a_registry_or_a_place_on_one_machine():
    found = []
    for path in tracked():
        try:
            text = (ROOT / path).read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue  # not text
        for number, line in enumerate(text.splitlines(), start=1):
            if REGISTRIES.search(line) or MACHINE_PATH.search(line):
                found.append(f"{path}:{number} {line.strip()[:80]}")
    assert not found, told(found, "write it so that it holds on every machine, or leave it out")


def test_the_readme_says_how_to_run_and_how_to_test_in_one_line_each():
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    headings = re.findall(r"^## .*$", text, re.MULTILINE)
    assert headings[:2] == README_HEADINGS, told(
        headings or ["no heading"], f"let README.md begin with {' and '.join(README_HEADINGS)}"
    )
    for heading in README_HEADINGS:
        section = text.split(f"{heading}\n", 1)[1].split("\n## ", 1)[0]
        blocks = re.findall(r"^```(\w*)\n(.*?)^```$", section, re.MULTILINE | re.DOTALL)
        lines = [(kind, len(body.splitlines())) for kind, body in blocks]
        mend = "put one ```sh block of one line right below it, and no other block"
        assert lines == [("sh", 1)], told([f"{heading}: {blocks}"], mend)
        assert section.lstrip().startswith("```"), told([heading], mend)


def test_every_dependency_has_its_line():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    wanted = [*project["dependencies"], *project["optional-dependencies"]["dev"]]
    names = [re.split(r"[<>=!~ \[;]", line)[0] for line in wanted]
    named = page("dependencies.md")
    missing = [name for name in names if f"| `{name}` |" not in named]
    assert not missing, told(missing, "give it a row in docs/dependencies.md")
    rows = re.findall(r"^\| `([\w-]+)` \|", named, re.MULTILINE)
    stale = sorted(set(rows) - set(names))
    assert not stale, told(stale, "take its row out of docs/dependencies.md")


def test_every_rule_is_explained():
    planning = page("planning.md")
    missing = [rule.name for rule in RULES if f"**{rule.name}**" not in planning]
    assert not missing, told(missing, "explain it in docs/planning.md, its name in bold")


def test_the_assumptions_named_are_those_in_the_code():
    rows = re.findall(r"^\| [^|]+ \| ([\d.]+) \| `([\w.]+)\.([A-Z_]+)`", page("planning.md"), re.M)
    assert rows
    wrong = []
    for figure, module, name in rows:
        found = getattr(importlib.import_module(f"floorcare.{module}"), name, None)
        if found is None or float(found) != float(figure):
            wrong.append(f"{module}.{name}: the page says {figure}, the code {found}")
    assert not wrong, told(wrong, "write the figure of the code into docs/planning.md")


def test_every_command_and_option_is_explained():
    text = page("commands.md")
    missing = []
    known = typer.main.get_command(app)
    for command in COMMANDS:
        name = command.__name__.rstrip("_")
        _, heading, rest = text.partition(f"\n## floorcare {name}\n")
        section = rest.split("\n## ", 1)[0]
        if not heading:
            missing.append(name)
            continue
        for parameter in known.commands[name].params:
            for option in parameter.opts:
                spelt = option if option.startswith("-") else option.upper()
                if f"`{spelt}" not in section:
                    missing.append(f"{name} {spelt}")
    assert not missing, told(
        missing, 'explain it in docs/commands.md below a heading "## floorcare COMMAND"'
    )


def test_every_exit_code_is_explained():
    text = page("commands.md")
    codes = {0, 1, 2, 130, FloorcareError.exit_code}
    codes |= {kind.exit_code for kind in FloorcareError.__subclasses__()}
    missing = [str(code) for code in sorted(codes) if f"\n| {code} |" not in text]
    assert not missing, told(missing, "give it a row in the table of exit codes, docs/commands.md")


def anchors(text: str) -> set[str]:
    """The anchors of a page's headings, as forges make them."""
    headings = re.findall(r"^#+ (.+)$", text, re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", h.casefold()).strip().replace(" ", "-") for h in headings}


def test_links_between_pages_resolve():
    broken = []
    pages = [path for path in tracked() if path.endswith(".md")]
    for path in pages:
        text = re.sub(r"```.*?```", "", (ROOT / path).read_text(encoding="utf-8"), flags=re.DOTALL)
        for target in re.findall(r"\]\(([^)\s]+)\)", text):
            if re.match(r"[a-z]+:", target):
                continue
            name, _, anchor = target.partition("#")
            aim = (ROOT / path).parent / name if name else ROOT / path
            if not aim.exists():
                broken.append(f"{path}: {target}")
            elif anchor and anchor not in anchors(aim.read_text(encoding="utf-8")):
                broken.append(f"{path}: {target} (no such heading)")
    assert not broken, told(broken, "point the link at a page and heading that stand")


def test_the_index_names_every_page():
    index = page("README.md")
    pages = [path.relative_to(DOCS).as_posix() for path in sorted(DOCS.rglob("*.md"))]
    missing = [name for name in pages if name != "README.md" and f"({name})" not in index]
    assert not missing, told(missing, "link it from docs/README.md")
