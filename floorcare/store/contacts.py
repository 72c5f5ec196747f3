"""Contacts at customers, and the program's own people, in and out of the store."""

from collections.abc import Iterable
from typing import Any

from sqlalchemy import Connection, Row, select

from floorcare.ground.trade.people import Contact, Person, Role
from floorcare.store import crew_rows, people_rows, rows
from floorcare.store.known import Known
from floorcare.store.merge import Kind, Merged, Writer, merge

CONTACTS = Kind(
    table=people_rows.contact,
    word="contacts",
    key=("code",),
    values=("customer_id", "site_id", "name", "role", "email", "phone"),
    parented=False,
)
PEOPLE = Kind(
    table=people_rows.person,
    word="people",
    key=("code",),
    values=("name", "role", "email", "worker_id", "contact_id"),
    parented=False,
)


def put_contacts(writer: Writer, contacts: Iterable[Contact], known: Known) -> Merged:
    """Bring contacts in.

    Raises
    ------
    NotKnown : a contact's customer or site is neither brought in nor kept.
    """

    def row(one: Contact) -> tuple[Any, ...]:
        where = f"contact {one.code}"
        customer_id = known.id(rows.customer, one.customer, where)
        site_id = known.maybe(rows.site, one.site, where)
        return (one.code, customer_id, site_id, one.name, one.role, one.email, one.phone)

    return merge(writer, CONTACTS, map(row, contacts))


def put_people(writer: Writer, people: Iterable[Person], known: Known) -> Merged:
    """Bring the program's people in.

    Raises
    ------
    NotKnown : the worker or contact that a person is, is neither brought in nor kept.
    """

    def row(one: Person) -> tuple[Any, ...]:
        where = f"person {one.code}"
        worker_id = known.maybe(crew_rows.worker, one.worker, where)
        contact_id = known.maybe(people_rows.contact, one.contact, where)
        return (one.code, one.name, one.role.value, one.email, worker_id, contact_id)

    return merge(writer, PEOPLE, map(row, people))


def contacts_of(connection: Connection) -> tuple[Contact, ...]:
    """Every contact, sorted by code."""
    contact, customer, site = people_rows.contact, rows.customer, rows.site
    found = connection.execute(
        select(contact, customer.c.code.label("customer"), site.c.code.label("site"))
        .join(customer, contact.c.customer_id == customer.c.id)
        .outerjoin(site, contact.c.site_id == site.c.id)
    )
    return tuple(sorted(map(contact_from_row, found), key=lambda c: c.code))


def contact_from_row(row: Row[Any]) -> Contact:
    """The contact of a row."""
    return Contact(
        code=row.code,
        customer=row.customer,
        name=row.name,
        site=row.site or "",
        role=row.role,
        email=row.email,
        phone=row.phone,
    )


def people_of(connection: Connection) -> tuple[Person, ...]:
    """Everybody who uses the program, sorted by code."""
    person, worker, contact = people_rows.person, crew_rows.worker, people_rows.contact
    found = connection.execute(
        select(person, worker.c.code.label("worker"), contact.c.code.label("contact"))
        .outerjoin(worker, person.c.worker_id == worker.c.id)
        .outerjoin(contact, person.c.contact_id == contact.c.id)
    )
    return tuple(sorted(map(person_from_row, found), key=lambda p: p.code))


def person_from_row(row: Row[Any]) -> Person:
    """The person of a row."""
    return Person(
        code=row.code,
        name=row.name,
        role=Role(row.role),
        email=row.email,
        worker=row.worker or "",
        contact=row.contact or "",
    )
