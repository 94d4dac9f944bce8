"""NamedTuple as typing has it, its classes made in a tenth of the time: one start-up defines some two hundred of them.

Typing compiles a constructor for every class. Here the constructors of all classes with as many fields share one code, in
which only the names of the fields are put in their place. To a type checker it is typing's own.
"""

import sys
from typing import TYPE_CHECKING

if TYPE_CHECKING or sys.version_info >= (3, 14):  # where annotations are only evaluated when asked for
    from typing import NamedTuple
else:
    from _collections import _tuplegetter
    from types import FunctionType

    _CODES = {}

    def _constructor(fields, defaults):
        """A __new__ that takes the fields by place or by name."""
        number = len(fields)
        code = _CODES.get(number)
        if code is None:
            names = ", ".join(f"_{place}" for place in range(number))
            text = f"lambda _cls, {names}: _new(_cls, ({names}{',' if number else ''}))"
            code = _CODES[number] = eval(text, {}).__code__  # compile() would first make all the classes of ast
        named = code.replace(co_varnames=("_cls", *fields), co_name="__new__")
        return FunctionType(named, {"_new": tuple.__new__}, "__new__", defaults)

    class NamedTuple(tuple):
        """The base of records: immutable, their fields by name, equal and unpacked as tuples."""

        __slots__ = ()
        _fields = ()

        def __init_subclass__(cls, **more):
            super().__init_subclass__(**more)
            if NamedTuple not in cls.__bases__:
                return
            fields = tuple(cls.__annotations__)
            defaults = tuple(cls.__dict__[name] for name in fields if name in cls.__dict__)
            if any(name in cls.__dict__ for name in fields[: len(fields) - len(defaults)]):
                raise TypeError(f"{cls.__name__}: a field without a default follows one with a default")
            cls._fields = cls.__match_args__ = fields
            cls._field_defaults = dict(zip(fields[len(fields) - len(defaults) :], defaults, strict=True))
            cls.__new__ = _constructor(fields, defaults)
            for place, name in enumerate(fields):
                setattr(cls, name, _tuplegetter(place, None))

        @classmethod
        def _make(cls, values):
            """A record of these values, in the order of its fields."""
            made = tuple.__new__(cls, values)
            if len(made) != len(cls._fields):
                raise TypeError(f"expected {len(cls._fields)} values, got {len(made)}")
            return made

        def _replace(self, **changed):
            """The record with some fields changed."""
            made = self._make(map(changed.pop, self._fields, self))
            if changed:
                raise ValueError(f"no such fields: {', '.join(changed)}")
            return made

        def _asdict(self):
            """The fields by name."""
            return dict(zip(self._fields, self, strict=True))

        def __getnewargs__(self):
            return tuple(self)

        def __repr__(self):
            inside = ", ".join(f"{name}={value!r}" for name, value in zip(self._fields, self, strict=True))
            return f"{type(self).__name__}({inside})"


__all__ = ["NamedTuple"]
