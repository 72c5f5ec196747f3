"""A store that remembers its blocks of work."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from floorcare.store.open import Store
from floorcare.store.unit_of_work import UnitOfWork


class WatchedStore:
    """Hands every block of work on to a real store and keeps account.

    blocks : whether each block was opened to write, in order.
    commits : how many were kept.
    """

    def __init__(self, store: Store) -> None:
        self._store = store
        self.blocks: list[bool] = []
        self.commits = 0

    @contextmanager
    def work(self, writes: bool = False) -> Iterator[Any]:
        self.blocks.append(writes)
        with self._store.work(writes=writes) as block:
            yield _WatchedWork(block, self)


class _WatchedWork:
    def __init__(self, block: UnitOfWork, watcher: WatchedStore) -> None:
        self._block = block
        self._watcher = watcher

    def commit(self) -> None:
        self._watcher.commits += 1
        self._block.commit()

    def __getattr__(self, name: str) -> Any:
        return getattr(self._block, name)
