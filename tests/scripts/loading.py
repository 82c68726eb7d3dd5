"""Loads a script of scripts/ as a module, so that tests reach what is in it."""

import functools
import sys
from importlib.machinery import SourceFileLoader
from importlib.util import module_from_spec, spec_from_loader
from pathlib import Path
from types import ModuleType

SCRIPTS = Path(__file__).resolve().parents[2] / "scripts"


@functools.cache
def script(name: str) -> ModuleType:
    loader = SourceFileLoader(name.replace("-", "_"), str(SCRIPTS / name))
    spec = spec_from_loader(loader.name, loader)
    if spec is None:
        raise ImportError(name)
    module = module_from_spec(spec)
    sys.modules[loader.name] = module
    loader.exec_module(module)
    return module
