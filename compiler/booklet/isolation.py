"""A quiet place to use reportlab in; in: nothing, out: a context in which no setting from outside reaches it.

When it is first imported, reportlab runs any `reportlab_mods.py` and `reportlab_settings.py` it finds on
the path (under `python -m` also in the current folder), else `~/.reportlab_mods` and
`~/.reportlab_settings`, and takes `RL_*` variables of the environment (reportlab/__init__.py and
reportlab/rl_config.py of 5.1.0). A booklet must not depend on those, and a stranger's file must not be run.
While `isolated` holds, empty modules stand in their place and the variables are absent. This module itself
imports nothing of reportlab, so that it can come first.
"""

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from types import ModuleType

_HOOKS = ("reportlab_mods", "reportlab_settings", "reportlab.local_rl_mods", "reportlab.local_rl_settings")
_VARIABLES = (
    "SOURCE_DATE_EPOCH",
    "EVAL_DEBUG",
)  # read by reportlab itself; our caller passes the date instead


@contextmanager
def isolated() -> Iterator[None]:
    """A context without reportlab's hooks and variables; afterwards all is as it was before."""
    modules = {name: sys.modules.get(name) for name in _HOOKS}
    variables = {name: os.environ.pop(name) for name in sorted(os.environ) if _is_setting(name)}
    sys.modules.update({name: ModuleType(name) for name in _HOOKS})
    try:
        yield
    finally:
        for name, module in modules.items():
            if module is None:
                sys.modules.pop(name, None)
            else:
                sys.modules[name] = module
        os.environ.update(variables)


def _is_setting(name: str) -> bool:
    return name.startswith("RL_") or name in _VARIABLES
