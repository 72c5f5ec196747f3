from datetime import date

from floorcare.ground.trade.book import DateKnown, TreatmentDone
from floorcare.ground.trade.treatment import Work
from tests.store.sample import LATER, NOW, portfolio, site_book, with_zone


def test_treatments_done_come_back_as_they_were_sorted_by_date(store):
    done = (
        TreatmentDone(
            work=Work.REPOLISH, done_on=date(2020, 5, 1), known=DateKnown.ABOUT, about_days=60
        ),
        TreatmentDone(work=Work.BURNISH, done_on=date(2026, 2, 3), share=0.4, performer="site"),
        TreatmentDone(work=Work.RECOAT, done_on=date(2026, 2, 3), visit="a-uuid"),
    )
    with store.work(writes=True) as work:
        book = with_zone(site_book(), done=tuple(reversed(done)))
        work.put_portfolio(portfolio(book), who="t", now=NOW)
        assert work.books()[0].zones[0].done == done


def test_a_share_told_later_changes_that_treatment_only(store):
    burnished = TreatmentDone(work=Work.BURNISH, done_on=date(2026, 2, 3))
    with store.work(writes=True) as work:
        work.put_portfolio(portfolio(with_zone(site_book(), done=(burnished,))), who="t", now=NOW)
        part = TreatmentDone(work=Work.BURNISH, done_on=date(2026, 2, 3), share=0.5)
        book = with_zone(site_book(), done=(part,))
        count = work.put_portfolio(portfolio(book), who="t", now=LATER)["treatments done"]
        assert (count.added, count.changed) == (0, 1)
        assert work.books()[0].zones[0].done == (part,)


def test_a_treatment_of_one_of_our_visits_outranks_what_the_folder_says_of_that_day(store):
    ours = TreatmentDone(work=Work.RECOAT, done_on=date(2026, 2, 3), share=0.95, visit="a-uuid")
    typed = TreatmentDone(work=Work.RECOAT, done_on=date(2026, 2, 3), share=0.5)
    with store.work(writes=True) as work:
        for first, then in ((typed, ours), (ours, typed)):
            work.put_portfolio(portfolio(with_zone(site_book(), done=(first,))), who="t", now=NOW)
            book = with_zone(site_book(), done=(then,))
            count = work.put_portfolio(portfolio(book), who="t", now=LATER)["treatments done"]
            assert work.books()[0].zones[0].done == (ours,)
        assert (count.changed, count.outranked) == (0, 1)
        (change,) = count.changes
        assert change.key == "NORTH/LANE recoat 2026-02-03"
        assert change.fields[0] == ("share", "0.95", "0.5")
