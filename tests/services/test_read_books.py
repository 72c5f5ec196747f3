from floorcare.services.read_books import read_books


def test_books_of_every_site_and_the_meters_are_read(loaded):
    books, meters = read_books(loaded)
    assert [book.site.code for book in books] == ["NORTH", "SOUTH"]
    assert meters == ()
