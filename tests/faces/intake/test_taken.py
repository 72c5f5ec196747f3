from floorcare.faces.intake.taken import Taken
from floorcare.findings import Finding
from floorcare.ground.trade.book import Portfolio


def taken(*findings):
    return Taken(portfolio=Portfolio(), findings=findings, files=(), rows=0, kind="folder")


def test_only_what_stops_forbids_writing():
    assert not taken(Finding(problem="look", weight="asks")).stops
    assert taken(Finding(problem="look", weight="asks"), Finding(problem="wrong")).stops
