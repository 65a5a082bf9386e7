"""Which combinations of option values are knitted."""

from itertools import combinations

from hypothesis import given
from hypothesis import strategies as st

from purlwright.workup import ALL_WAYS, option_choices

OPTIONS = st.lists(st.integers(1, 5), max_size=7).map(
    lambda sizes: [(f"o{n}", tuple(f"v{v}" for v in range(size))) for n, size in enumerate(sizes)]
)


def test_no_options_is_one_way():
    assert option_choices([]) == (((),), True)


@given(OPTIONS)
def test_the_usual_values_come_first_and_no_combination_twice(options):
    choices, _ = option_choices(options)
    assert choices[0] == tuple((name, values[0]) for name, values in options)
    assert len(set(choices)) == len(choices)


@given(OPTIONS)
def test_up_to_sixty_four_all_are_knitted_and_beyond_every_pair(options):
    total = 1
    for _, values in options:
        total *= len(values)
    choices, every = option_choices(options)
    assert every == (total <= ALL_WAYS)
    if every:
        assert len(choices) == total
        return
    assert len(choices) < total
    met = {pair for choice in choices for pair in combinations(choice, 2)}
    for (a, a_values), (b, b_values) in combinations(options, 2):
        assert all(((a, x), (b, y)) in met for x in a_values for y in b_values)
    most, second, *_ = sorted((len(values) for _, values in options), reverse=True)
    assert len(choices) <= 4 * most * second
