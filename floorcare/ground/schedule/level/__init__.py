"""Overloaded weeks of a branch levelled: exactly where few visits may move, greedily above."""
