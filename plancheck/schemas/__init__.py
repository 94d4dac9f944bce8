"""The published schemas: the top-level folder schemas/ in a checkout, this folder in an installed package."""

import os.path as _p

_top = _p.join(_p.dirname(_p.dirname(_p.dirname(_p.abspath(__file__)))), "schemas")
if _p.isfile(_p.join(_p.dirname(_top), "pyproject.toml")) and _p.isdir(_top):
    __path__ = [_top]
