"""Every case of tests/checks is answered within its source's tolerance, and every tolerance tells right from wrong."""

import checks
import pytest


@pytest.mark.parametrize("case_id", checks.adapters())
def test_case(case_id):
    case = checks.cases()[case_id]
    missed = case.misses(checks.adapters()[case_id](case.inputs))
    assert not missed, "\n".join([f"{case.quantity} ({case.file}.yaml)", *missed, f"source: {case.source} [{case.mark}]"])


def test_every_case_is_answered():
    assert checks.adapters().keys() == checks.cases().keys()
    assert len(checks.cases()) == 254 + 63 + 64


@pytest.mark.parametrize("case", checks.cases().values(), ids=lambda case: case.id)
def test_every_tolerance_tells_right_from_wrong(case):
    right = {name: wanted["value"] if isinstance(wanted, dict) else wanted for name, wanted in case.expected.items()}
    assert not case.misses(right)
    rel, absolute = checks.limits(case.tolerance)
    for name, wanted in right.items():
        wrong = not wanted if isinstance(wanted, bool) else "another" if isinstance(wanted, str) else None
        if isinstance(wanted, list):
            wrong = [*wanted[:-1], wanted[-1] + 1]
        if wrong is None:
            wrong = wanted + 1.01 * absolute + (1.5 * rel + 1e-5) * (abs(wanted) or 1)
        assert case.misses({**right, name: wrong}), name
    assert case.misses({**right, "another name": 1})
    assert case.misses(dict(list(right.items())[1:]))
