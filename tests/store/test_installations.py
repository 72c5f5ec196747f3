import pytest
from sqlalchemy.exc import IntegrityError

from floorcare.store.installations import UID_DOMAIN, Installation, put_installation
from tests.store.sample import INSTALLATION, LATER, NOW


def test_the_installation_is_written_once(store):
    with store.work(writes=True) as work:
        made = Installation(uuid=INSTALLATION, domain=UID_DOMAIN, made_at=NOW)
        assert work.installation() == made
        with pytest.raises(IntegrityError):
            put_installation(
                work._writing(), Installation(uuid="other", domain="other", made_at=LATER)
            )
