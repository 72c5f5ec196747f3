from dataclasses import replace

import pytest

from floorcare.errors import NotKnown
from floorcare.ground.trade.book import Portfolio
from floorcare.ground.trade.people import Person, Role
from tests.store.means import CONTACT, PERSON, WORKER, with_means
from tests.store.sample import LATER


def test_contacts_and_people_come_back_as_they_were_sorted_by_code(put, read):
    everywhere = replace(CONTACT, code="ABEL", site="")
    theirs = Person(code="low", name="A. Low", role=Role.CUSTOMER, contact="LOW")
    put(replace(with_means(), contacts=(CONTACT, everywhere), people=(theirs, PERSON)))
    assert read("contacts") == (everywhere, CONTACT)
    assert read("people") == (PERSON, theirs)


def test_a_contact_of_a_customer_or_site_nobody_knows_is_told(put):
    with pytest.raises(NotKnown) as told:
        put(replace(with_means(), contacts=(replace(CONTACT, customer="NOBODY"),)))
    assert str(told.value) == 'contact LOW: customer "NOBODY" is not known'
    with pytest.raises(NotKnown, match='site "NOWHERE" is not known'):
        put(replace(with_means(), contacts=(replace(CONTACT, site="NOWHERE"),)))


def test_a_person_may_be_a_worker_who_is_known_already(put, read):
    put(with_means())
    lead = Person(code="lead", name="Lead", role=Role.CREW, worker=WORKER.code)
    put(Portfolio(people=(lead,)), now=LATER)
    assert lead in read("people")
    with pytest.raises(NotKnown, match='person lead: worker "GONE" is not known'):
        put(Portfolio(people=(replace(lead, worker="GONE"),)))
