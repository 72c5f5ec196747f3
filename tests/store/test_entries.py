import sqlite3
from concurrent.futures import ThreadPoolExecutor
from threading import Barrier

import pytest

from floorcare.errors import Clash
from floorcare.store.open import open_store
from tests.store.sample import LATER, NOW

UUID = "7b1d7c52-5f51-4f77-9d4e-2ad0b6a5c001"


def put(store, digest, answer, now=NOW, who="vale"):
    with store.work(writes=True) as work:
        given = work.put_entry(UUID, who, digest, answer, now)
        work.commit()
    return given


def entries(database):
    raw = sqlite3.connect(database)
    found = raw.execute("SELECT uuid, who, digest, answer FROM entry").fetchall()
    raw.close()
    return found


def test_an_entry_that_comes_twice_is_given_its_first_answer(store, database):
    assert put(store, "d1", "kept") == "kept"
    assert put(store, "d1", "kept again", now=LATER) == "kept"
    assert entries(database) == [(UUID, "vale", "d1", "kept")]


def test_another_content_under_the_same_uuid_is_a_clash_that_names_the_first(store, database):
    put(store, "d1", "kept")
    with pytest.raises(Clash, match="on 2026-03-02 09:30 UTC by vale; send it anew"):
        put(store, "d2", "other", who="moss")
    assert entries(database) == [(UUID, "vale", "d1", "kept")]


def test_the_answer_can_be_asked_for_before_anything_is_done(store):
    with store.work() as work:
        assert work.answer(UUID, "d1") is None
    put(store, "d1", "")
    with store.work() as work:
        assert work.answer(UUID, "d1") == ""
        with pytest.raises(Clash):
            work.answer(UUID, "d2")


def test_an_entry_left_without_commit_never_came_in(store, database):
    with store.work(writes=True) as work:
        work.put_entry(UUID, "vale", "d1", "kept", NOW)
    assert entries(database) == []


def test_eight_senders_of_one_entry_at_once_all_get_the_one_answer(database):
    store = open_store(str(database))
    start = Barrier(8)

    def send(number):
        start.wait()
        return put(store, "d1", f"answer {number}")

    with ThreadPoolExecutor(8) as pool:
        answers = list(pool.map(send, range(8)))
    store.close()
    assert len(set(answers)) == 1
    assert [row[3] for row in entries(database)] == answers[:1]


def test_of_two_contents_sent_at_once_one_is_kept_and_the_other_clashes(database):
    store = open_store(str(database))
    start = Barrier(2)

    def send(digest):
        start.wait()
        try:
            return put(store, digest, digest)
        except Clash:
            return "clash"

    with ThreadPoolExecutor(2) as pool:
        answers = sorted(pool.map(send, ["d1", "d2"]))
    store.close()
    assert answers[0] == "clash"
    assert entries(database) == [(UUID, "vale", answers[1], answers[1])]
