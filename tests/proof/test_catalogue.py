from purlwright.proof.catalogue import CATALOGUE, FAMILIES
from purlwright.proof.registry import JUDGES

BUILT_FOR_THE_FIRST_RELEASE = {
    *(f"C{n:03d}" for n in (*range(1, 15), *range(16, 25))),
    *"C026 C031 C033 C037 C039 C040 C044 C048 C049 C093 C108".split(),
}


def test_every_check_is_listed_once_in_order():
    assert list(CATALOGUE) == [f"C{n:03d}" for n in range(1, 130)]


def test_every_entry_is_whole():
    for check, entry in CATALOGUE.items():
        assert entry.family in FAMILIES
        assert entry.needs in {"text", "gauge", "sizes", "a person"}
        assert entry.noun
        assert entry.title
        assert not entry.title.endswith(".")
        assert check == entry.check


def test_families_stand_together():
    letters = [entry.family for entry in CATALOGUE.values()]
    assert letters == sorted(letters)
    assert set(letters) == set(FAMILIES)


def test_the_checks_that_are_built_are_in_the_catalogue():
    assert JUDGES.keys() <= CATALOGUE.keys()
    assert JUDGES.keys() >= BUILT_FOR_THE_FIRST_RELEASE
