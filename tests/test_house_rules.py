"""Who may import whom, and that every skill is in the list, the help and the README."""
from __future__ import annotations

import ast
import re
import subprocess
from pathlib import Path

import pytest

from skills import vocabulary
from skills.all_skills import ANSWERS, SKILLS

ROOT = Path(__file__).parents[1]

OURS = ("skills", "bot")
NO_IO = {"sqlite_utils", "sqlite3", "asyncio", "socket", "nio", "prompt_toolkit", "subprocess", "time", "os"}

# part (longest match wins): (what of ours it may import, what it may never import)
RULES: dict[str, tuple[tuple[str, ...], set[str]]] = {
    "skills.physics": (("skills.physics",), NO_IO | {"pydantic", "pint"}),
    "skills.vocabulary": (("skills.vocabulary",), NO_IO | {"numpy", "scipy"}),
    "skills.instants": ((), NO_IO | {"numpy", "scipy"}),
    "skills.dated": (("skills.vocabulary", "skills.dated"), NO_IO | {"numpy", "scipy"}),
    "skills.stand_ins": ((), NO_IO | {"numpy", "scipy"}),
    "skills.mending": (("skills.vocabulary", "skills.dated", "skills.stand_ins"), NO_IO | {"numpy", "scipy"}),
    "skills.breads": ((), NO_IO | {"numpy", "scipy"}),
    "skills.naming": (("skills.breads", "skills.vocabulary", "skills.dated", "skills.mending"),
                      NO_IO | {"numpy", "scipy"}),
    "skills.record": (("skills.vocabulary", "skills.dated", "skills.mending", "skills.naming"),
                      NO_IO | {"numpy", "scipy"}),
    "skills": (("skills",), NO_IO),
    "bot.reading": (("bot.reading", "skills.vocabulary", "skills.units"), NO_IO | {"numpy", "scipy"}),
    "bot.talk": (("skills.instants", "skills.vocabulary"), NO_IO),
    "bot.session": (("bot.reading", "bot.talk", "skills"), NO_IO),
    "bot.planner": (("bot.session", "bot.talk", "skills"), NO_IO),
    "bot.handover": (("bot.planner", "skills"), NO_IO),
    "bot.replies": (("bot.handover", "bot.reading", "bot.session", "bot.talk", "skills"), NO_IO),
    "bot.binding": (("bot.reading", "bot.session", "bot.talk", "skills"), NO_IO),
    "bot.board": (("skills",), NO_IO),
    "bot.log.foreseen": (("bot.talk", "skills.instants"), NO_IO | {"numpy", "scipy"}),
    "bot.log.keeping": (("bot.log.foreseen", "skills"), NO_IO),
    "bot.engine": (("bot.reading", "bot.session", "bot.binding", "bot.board", "bot.log.keeping", "bot.planner",
                    "bot.replies", "bot.talk", "skills"), NO_IO),
    "bot.store": (("bot.talk", "bot.migrations", "bot.mistakes", "skills.vocabulary"),
                  {"nio", "asyncio", "prompt_toolkit"}),
    "bot": (("bot", "skills"), {"nio"}),
    "bot.rooms.matrix": (("bot", "skills"), set()),
}


def modules() -> list[tuple[str, Path]]:
    return [(".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__"), path)
            for top in OURS for path in sorted((ROOT / top).rglob("*.py"))]


def imports(path: Path) -> set[str]:
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found |= {node.module} | {f"{node.module}.{alias.name}" for alias in node.names}
    return found


def rule_for(module: str) -> tuple[tuple[str, ...], set[str]]:
    part = max((name for name in RULES if module == name or module.startswith(name + ".")), key=len)
    return RULES[part]


@pytest.mark.parametrize(("module", "path"), modules(), ids=lambda each: each if isinstance(each, str) else "")
def test_a_module_imports_only_what_its_part_may(module: str, path: Path) -> None:
    allowed, never = rule_for(module)
    for name in imports(path):
        top = name.split(".")[0]
        assert top not in never, f"{module} may not import {name}"
        if top in OURS and "." in name:
            parents = {".".join(name.split(".")[:n]) for n in range(2, len(name.split(".")) + 1)}
            assert "skills" in allowed or "bot" in allowed or parents & set(allowed) or any(
                each.startswith(name + ".") for each in allowed), f"{module} may not import {name}"
            assert not (module.startswith("skills") and top == "bot"), f"{module} imports from bot"


def test_skills_use_no_clock_and_no_global_randomness() -> None:
    for module, path in modules():
        text = path.read_text(encoding="utf-8")
        if module.startswith("skills") or module in ("bot.engine", "bot.session", "bot.replies", "bot.planner"):
            assert not re.search(r"datetime\.(now|today|utcnow)|np\.random\.(seed|rand|normal)\b", text), module


def test_no_file_passes_six_hundred_lines() -> None:
    for module, path in modules():
        assert len(path.read_text(encoding="utf-8").splitlines()) <= 600, module


def test_each_question_kind_has_exactly_one_skill() -> None:
    kinds = [kind for skill in SKILLS for kind in skill.answers]
    assert sorted(kind.__name__ for kind in kinds) == sorted(kind.__name__ for kind in vocabulary.QUESTIONS)
    assert set(ANSWERS) == set(vocabulary.QUESTIONS)


@pytest.mark.skipif(not (ROOT / ".git").exists(), reason="not a git checkout")
def test_nothing_that_git_is_to_ignore_is_under_its_care() -> None:
    """A tracked link to a virtual environment would put itself in place of the real folder of whoever pulls it."""
    kept = subprocess.run(["git", "ls-files", "--cached", "--ignored", "--exclude-standard"], cwd=ROOT,
                          capture_output=True, text=True, check=True)
    assert kept.stdout.split() == []
