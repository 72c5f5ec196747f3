from floorcare.store.history import HistoryEntry, record
from tests.store.sample import LATER, NOW


def test_entries_come_back_as_they_were_newest_first(store):
    first = HistoryEntry(at=NOW, who="Änne", what="portfolio brought in", detail={"n": [1, None]})
    then = HistoryEntry(at=LATER, who="ben", what="plan made", detail={})
    with store.work(writes=True) as work:
        record(work._writing(), first)
        record(work._writing(), then)
        assert work.history() == (then, first)
        assert work.history(1) == (then,)
