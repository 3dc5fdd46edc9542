"""Truth tables over all states, each held in one int: bit i is the answer in state i."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, field
from functools import cache, cached_property

MOST_VARIABLES = 22
"""Above this a table has more than 4 million states (512 KiB each); see `too_many`."""

Table = int
Cube = tuple[tuple[int, bool], ...]
"""A few variables with their values: all states that agree with them."""


@dataclass(frozen=True)
class Space:
    """All states of K yes/no variables; variable v of state i is bit v of i."""

    count: int
    variables: tuple[Table, ...] = field(init=False)

    def __post_init__(self) -> None:
        if self.count > MOST_VARIABLES:
            raise ValueError(f"{self.count} variables, at most {MOST_VARIABLES}")
        object.__setattr__(self, "variables", tuple(map(self._column, range(self.count))))

    @cached_property
    def full(self) -> Table:
        """The table that is true in every state."""
        return (1 << self.size) - 1

    @property
    def size(self) -> int:
        """How many states there are."""
        return 1 << self.count

    def _column(self, variable: int) -> Table:
        # 2^v zeros, then 2^v ones, doubled until it fills the table.
        width = 1 << variable
        table, length = ((1 << width) - 1) << width, 2 * width
        while length < self.size:
            table |= table << length
            length *= 2
        return table

    def where(self, variable: int, value: bool) -> Table:
        """Return the table of states in which a variable has this value."""
        column = self.variables[variable]
        return column if value else self.full ^ column

    def no(self, table: Table) -> Table:
        """Return the opposite table."""
        return self.full & table ^ self.full

    def flip(self, table: Table, variable: int) -> Table:
        """Return the states that are one flip of a variable away from those in `table`."""
        if not table:
            return 0
        width = 1 << variable
        worked = table & self.variables[variable]
        return worked >> width | (table ^ worked) << width

    def some(self, table: Table, variables: Iterable[int]) -> Table:
        """Return where `table` holds for some value of these variables (projection)."""
        for variable in variables if table else ():
            table |= self.flip(table, variable)
        return table

    def cube_table(self, cube: Cube) -> Table:
        """Return the table of all states in a cube."""
        table = self.full
        for variable, value in cube:
            table &= self.where(variable, value)
        return table

    def state_cube(self, state: int) -> Cube:
        """Return the cube that holds one state only."""
        return tuple((v, bool(state >> v & 1)) for v in range(self.count))

    def widen(
        self, state: int, table: Table, also: Table = 0, sooner: Collection[int] = ()
    ) -> Cube:
        """Return a largest cube round `state` inside `table`, `also` counted as don't-care.

        Variables are dropped from the last to the first, those that should go `sooner` before the
        others, so the result is the same every time; no further one can be dropped (a prime
        implicant in the sense of Quine 1952).
        """
        within, cube = table | also, self.state_cube(state)
        for variable in sorted(range(self.count), key=lambda v: (v not in sooner, -v)):
            fewer = tuple(pair for pair in cube if pair[0] != variable)
            if self.cube_table(fewer) & ~within == 0:
                cube = fewer
        return cube

    def cover(self, table: Table, also: Table = 0) -> Iterator[Cube]:
        """Yield cubes that together hold every state of `table`, and none but it and `also`."""
        left = table
        while left:
            cube = self.widen(first(left), table, also)
            yield cube
            left &= ~self.cube_table(cube)


@cache
def space_of(count: int) -> Space:
    """Return the space of so many variables: the same for a circuit and all that it may become."""
    return Space(count)


def first(table: Table) -> int:
    """Return the lowest state in a table that is not empty."""
    return (table & -table).bit_length() - 1


def states(table: Table) -> Iterator[int]:
    """Yield the states in a table, lowest first."""
    while table:
        lowest = table & -table
        yield lowest.bit_length() - 1
        table ^= lowest
