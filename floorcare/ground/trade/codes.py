"""Codes: the short human names of things, written SITE/ZONE/STATION."""

import re

CODE_LONGEST = 40
NAME_LONGEST = 120
_CODE = re.compile(r"[A-Za-z0-9][A-Za-z0-9_.\-]*\Z")


def code_problem(code: str) -> str:
    """Why this is no code, or "" if it is one.

    >>> code_problem("NORTH-1")
    ''
    >>> code_problem("Hall B")
    'a code is letters, digits, "-", "_" and "." and starts with a letter or digit'
    """
    if not code:
        return "a code is missing"
    if len(code) > CODE_LONGEST:
        return f"a code has at most {CODE_LONGEST} characters"
    if not _CODE.match(code):
        return 'a code is letters, digits, "-", "_" and "." and starts with a letter or digit'
    return ""


def name_problem(name: str) -> str:
    """Why this cannot be shown as a name, or "".

    >>> name_problem("Hall B, north")
    ''
    """
    if not name.strip():
        return "a name is missing"
    if len(name) > NAME_LONGEST:
        return f"a name has at most {NAME_LONGEST} characters"
    if not all(c.isprintable() for c in name):
        return "a name has no control characters or line breaks"
    return ""
