"""The desk at which a restore is signed: the keys of the copy itself, and the counts of tries of this machine."""

from collections.abc import Iterator
from contextlib import contextmanager

from desktop import shop_assembly
from desktop.files.bad_secrets import bad_choices
from desktop.files.shop_json import ShopJson
from desktop.signing import Ed25519Verifier, KeyMaker
from desktop.storage.places import this_machine
from desktop.storage.records.key_store import KeyStore
from desktop.storage.shop_store import open_shop
from desktop.usecases.records.copies.copy_ports import PreparedCopy
from desktop.usecases.records.copies.sign_restore import keeper_of, sign_restore
from desktop.usecases.records.keys.signing_desk import SigningDesk


class RestoreSigning:
    """Signs restores. See ``RestoreSigner`` of the ports; ``named`` is the keeper's id, empty for the only one."""

    def __init__(self, named: str) -> None:
        self._named = named

    def sign(self, prepared: PreparedCopy, lacks: str, secret: str) -> None:
        """Sign a record of the restore into the prepared file. Raise Refusal for a wrong secret, or nobody's."""
        with _desk_at(prepared) as desk:
            sign_restore(desk, keeper_of(desk, self._named).id, secret, prepared, lacks)


@contextmanager
def _desk_at(prepared: PreparedCopy) -> Iterator[SigningDesk]:
    # The mark of an open shop is held for the copy already: this file is not yet one that a window could open.
    state = shop_assembly._state_folder()  # noqa: SLF001 - the one place that knows the folder
    with open_shop(prepared.place, ShopJson(), this_machine()) as store:
        yield SigningDesk(
            shop_assembly.shop_with(store),
            store.shop_id,
            store.name,
            KeyStore(state, store.shop_id),
            KeyMaker(),
            Ed25519Verifier(),
            bad_choices(),
        )
