"""Prints what the wiring drawing of the sample costs: `python -m tests.benchmarks.drawing`."""

import random
import time

from generator.pages.drawing import render
from generator.pages.drawings import layout
from generator.pages.drawings.arranging import settled
from generator.pages.drawings.channels import Channel
from generator.pages.drawings.wiring import draw
from tests.pages.test_wiring_drawing_sample import SAMPLE

TRIES = 1000


def shuffled(channel: Channel, chance: random.Random) -> int:
    """Crossings with parts in a random order, all else laid out as ever."""
    order = chance.sample(channel.column, len(channel.column))
    return settled(order, channel.spine, channel.wires).lanes.crossings


def main() -> None:
    start = time.perf_counter()
    stands = layout.placed(SAMPLE)
    placed = time.perf_counter()
    dot = draw(SAMPLE)
    drawn = time.perf_counter()
    svg = render(dot)
    done = time.perf_counter()
    channels = [channel for stand in stands for channel in (stand.left, stand.right)]
    ours = sum(channel.lanes.crossings for channel in channels)
    chance = random.Random(1)
    best = min(sum(shuffled(channel, chance) for channel in channels) for _ in range(TRIES))
    print(f"crossings: {ours}; best of {TRIES} random orders of parts: {best}")
    print(f"layout {1000 * (placed - start):.0f} ms")
    print(f"DOT text of what is laid out {1000 * (drawn - placed):.0f} ms")
    print(f"drawing program {1000 * (done - drawn):.0f} ms")
    print(f"DOT {len(dot.encode())} bytes, SVG {len(svg.encode())} bytes")


if __name__ == "__main__":
    main()
