"""The number of a gift certificate ends in two check digits, so that a slip of the pen names no other certificate."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledger.errors import NotUnderstood
from ledger.jobs.gift_certificates import code_of, read_code

numbers = st.integers(1000, 999_999_999)


@pytest.mark.published
@pytest.mark.parametrize(("number", "digits"), [(794, "44"), (1001, "05"), (1002, "02")])
def test_check_digits_by_iso_7064_mod_97_10(number: int, digits: str) -> None:
    # ISO/IEC 7064, pure system MOD 97-10: number and digits together leave 1 when divided by 97 (from memory). 794 has
    # 44 in the standard's own example (from memory).
    assert code_of(number) == f"G-{number}-{digits}"
    assert int(f"{number}{digits}") % 97 == 1


@given(numbers)
def test_a_code_is_read_however_it_is_typed(number: int) -> None:
    code = code_of(number)
    assert int(code.replace("G", "").replace("-", "")) % 97 == 1
    for typed in (code, code.lower(), f"  {code} ", code[2:], code.replace("-", ""), code.replace("-", " - ")):
        assert read_code(typed) == code


@given(numbers, st.data())
def test_one_wrong_digit_or_two_that_changed_places_are_refused(number: int, data: st.DataObject) -> None:
    digits = code_of(number).replace("G-", "").replace("-", "")
    place = data.draw(st.integers(0, len(digits) - 1))
    other = data.draw(st.sampled_from("0123456789").filter(lambda digit: digit != digits[place]))
    swapped = data.draw(st.integers(0, len(digits) - 2))
    slips = [digits[:place] + other + digits[place + 1 :]]
    if digits[swapped] != digits[swapped + 1]:
        slips.append(digits[:swapped] + digits[swapped + 1] + digits[swapped] + digits[swapped + 2 :])
    for slip in slips:
        with pytest.raises(NotUnderstood):
            read_code(f"G-{slip[:-2]}-{slip[-2:]}")


@pytest.mark.parametrize(
    "text", ["", "G", "G-1001", "1001-05-", "G-１００１-05", "G-1001-05\x00", "X-1001-05", "G-101-05"]
)
def test_what_is_no_number_is_refused(text: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        read_code(text)
    assert refused.value.field == "gift"
