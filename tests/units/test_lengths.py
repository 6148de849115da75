"""Lengths as people write them, and as the trade prints them."""

from __future__ import annotations

import subprocess
import sys
from contextlib import suppress
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from cutlist.errors import CutlistError
from cutlist.units.lengths import (
    LengthError,
    convert,
    finest_mark,
    format_length,
    format_size,
    format_thickness,
    is_shown_exactly,
    other_unit,
    read_length,
    read_size,
)
from cutlist.units.system import Units

IN, MM = Units.INCH, Units.MM


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("23.625", "189/8"),
        ("23 5/8", "189/8"),
        ("23-5/8", "189/8"),
        ("23 5 / 8", "189/8"),
        ("23⅝", "189/8"),
        ("23–5/8", "189/8"),
        ("½", "1/2"),
        ("1½", "3/2"),
        ("9/8", "9/8"),
        ("1/3", "1/3"),
        (".5", "1/2"),
        ("5.", "5"),
        ("0", "0"),
        ("  7  ", "7"),
        ("0.0005", "1/2000"),
    ],
)
def test_reads_bare_numbers_in_the_unit_of_the_job(text: str, inches: str) -> None:
    """Every accepted form of a number gives the exact length, in a job of either unit."""
    assert read_length(text, IN) == Fraction(inches)
    assert read_length(text, MM) == Fraction(inches)


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ('23 5/8"', "189/8"),
        ("23 5/8 in", "189/8"),
        ("23 5/8 in.", "189/8"),
        ("23 5/8 inches", "189/8"),
        ("23 ⅝″", "189/8"),
        ("23\u00a05⁄8”", "189/8"),
        ("23 5/8''", "189/8"),
        ("2' 3 1/2\"", "55/2"),
        ("2'3-1/2\"", "55/2"),
        ("2'-3 1/2\"", "55/2"),
        ("2′ 3½″", "55/2"),
        ("2’ 3 ½”", "55/2"),
        ("2 ft 3 1/2 in", "55/2"),
        ("2 feet 3.5 inches", "55/2"),
        ("2FT 3 1/2IN", "55/2"),
        ("8'", "96"),
        ("1/2 ft", "6"),
    ],
)
def test_reads_inches_and_feet(text: str, inches: str) -> None:
    """Every accepted form of inches and feet gives the exact length, in a job of either unit."""
    assert read_length(text, IN) == Fraction(inches)
    assert read_length(text, MM) == Fraction(inches) * Fraction("25.4")


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("600", "600"),
        ("600.1", "600.1"),
        ("600 mm", "600"),
        ("600mm", "600"),
        ("60 cm", "600"),
        ("60.05 cm", "600.5"),
        ("0.6 m", "600"),
        ("12 1/2 mm", "12.5"),
        ("1 in", "25.4"),
    ],
)
def test_reads_millimetres(text: str, mm: str) -> None:
    """Every accepted metric form gives the exact length."""
    assert read_length(text, MM) == Fraction(mm)


def test_inch_is_25_4_mm() -> None:
    """An inch is 25.4 mm, a foot 304.8 mm, exactly: agreement of 1959, NIST SP 811 app. B.8."""
    assert read_length('1"', MM) == Fraction("25.4")
    assert read_length("1'", MM) == Fraction("304.8")
    assert read_length("25.4 mm", IN) == 1


def test_sheet_of_four_by_eight_feet_in_mm() -> None:
    """4 x 8 ft is 1219.2 x 2438.4 mm, not the 1220 x 2440 of the label (25.4 mm to the inch)."""
    assert read_size("8' x 4'", MM) == (Fraction("2438.4"), Fraction("1219.2"))
    assert format_size(*read_size("96 x 48", IN), IN) == '96" × 48"'
    assert other_unit(Fraction(96), IN) == "2438.4 mm"


@pytest.mark.parametrize(
    ("inches", "mm"),
    [
        # U.S. Product Standard PS 1, table of performance categories as published by APA - The
        # Engineered Wood Association: inches to three places and millimetres, as printed there.
        ("0.219", "5.56"), ("0.281", "7.14"), ("0.313", "7.94"), ("0.344", "8.73"),
        ("0.375", "9.53"), ("0.406", "10.32"), ("0.438", "11.11"), ("0.469", "11.91"),
        ("0.500", "12.70"), ("0.531", "13.49"), ("0.563", "14.29"), ("0.625", "15.88"),
        ("0.656", "16.67"), ("0.688", "17.46"), ("0.719", "18.26"), ("0.750", "19.05"),
        ("0.781", "19.84"), ("0.844", "21.43"), ("1.050", "26.67"), ("1.181", "30.00"),
    ],
)  # fmt: skip
def test_plywood_thickness_in_mm(inches: str, mm: str) -> None:
    """Thicknesses of the plywood standard convert to its own millimetres.

    The inches were rounded to three places: half a thousandth is 0.0127 mm, and half a hundredth
    of a millimetre is the rounding of the other column.
    """
    value = convert(Fraction(inches), IN, MM)
    assert abs(value - Fraction(mm)) <= Fraction("0.0127") + Fraction("0.005")


def test_label_thickness_in_mm() -> None:
    """The label of category 23/32 (PS 1, table of APA), 0.703 in, is 17.86 mm and no 18 mm."""
    label = convert(read_length('0.703"', MM), MM, MM)
    assert format_length(label, MM, Fraction(1, 100)) == "≈ 17.86 mm"
    assert label != read_length("18 mm", MM)


@pytest.mark.parametrize(
    ("value", "exact"),
    [
        (7, "7"),
        (23.625, "23.625"),
        (0.1, "1/10"),
        (1e-7, "1/10000000"),
        (Decimal("0.1"), "1/10"),
        (Decimal("1E+2"), "100"),
        (Fraction(1, 3), "1/3"),
        (0, "0"),
        (Decimal(0), "0"),
    ],
)
def test_reads_numbers(value: float | Decimal | Fraction, exact: str) -> None:
    """Numbers are lengths in the job's unit; a float counts as the decimal that it prints."""
    assert read_length(value, IN) == Fraction(exact)


@pytest.mark.parametrize(
    ("text", "phrase"),
    [
        ("", "missing"),
        ("   ", "missing"),
        ("-1", "negative"),
        ("−1 1/2", "negative"),
        ("- 3", "negative"),
        ("+5", "no sign"),
        ("1/0", "0 below the line"),
        ("1 1/0", "0 below the line"),
        ("1/1001", "decimal point"),
        ("1e3", "exponent"),
        ("1E-3", "exponent"),
        ("5/8/2", "one fraction too many"),
        ("23 5/8 5/8", "one fraction too many"),
        ("1½½", "one fraction too many"),
        ("23.5 5/8", "do not go together"),
        ("1.5/2", "do not go together"),
        ("1/2.5", "do not go together"),
        ("23,5", "with a point"),
        ("1,000", "with a point"),
        ("23 9/8", "less than 1"),
        ("23 8/8", "less than 1"),
        ("5 8", "line missing"),
        ("2' 3", "their own mark"),
        ("2' 12\"", "less than 12"),
        ("2.5' 3\"", "must be whole"),
        ("12 mm 3 in", "only feet and inches"),
        ("3 in 2 ft", "only feet and inches"),
        ("5 yd", "not known"),
        ("5 in in", "not known"),
        ("96 x 48", "a size"),
        ("0x10", "plain digits"),
        ("1_000", "plain digits"),
        ("6:30", "plain digits"),
        ("010", "needless 0"),
        ("3²", "raised"),
        ("23⁵⁄₈", "raised"),
        ("nan", "not a length"),
        (".inf", "not a length"),
        ("true", "not a length"),
        ("٣", "not a length"),
        ("1--2/3", "not a length"),
        ("/8", "not a length"),
        (".", "not a length"),
        ('"', "not a length"),
        ("9" * 5000, "too long"),
        ("1000001", "longer than any sheet"),
        ("40 km", "not known"),
    ],
)
def test_refuses_text(text: str, phrase: str) -> None:
    """What is no length is refused with the reason and with an accepted form."""
    with pytest.raises(LengthError, match=phrase) as caught:
        read_length(text, IN)
    assert "accepted: 23 5/8, 23.625" in str(caught.value)
    assert isinstance(caught.value, CutlistError)
    assert isinstance(caught.value, ValueError)
    assert caught.value.exit_status == 2
    assert len(caught.value.found) <= 60


@pytest.mark.parametrize(
    "value",
    [True, False, float("nan"), float("inf"), -1, -0.5, Fraction(-1, 2), Decimal("NaN"),
     Decimal("-1"), Decimal("1E+999999"), Decimal("1E-999999"), 10**400, 1e300, None, [], b"5"],
)  # fmt: skip
def test_refuses_values(value: object) -> None:
    """Numbers that are no length, and other values, are refused without any long computation."""
    with pytest.raises(LengthError):
        read_length(value, IN)  # type: ignore[arg-type]


def test_accepted_forms_are_accepted() -> None:
    """Every form that a refusal shows can itself be read."""
    for units in Units:
        with pytest.raises(LengthError) as caught:
            read_length("?", units)
        for form in caught.value.accepted.replace(" or ", ", ").split(", "):
            assert read_length(form, units) > 0
        with pytest.raises(LengthError) as caught:
            read_size("?", units)
        for form in caught.value.accepted.split(" or "):
            assert min(read_size(form, units)) > 0


@pytest.mark.parametrize(
    ("value", "size"),
    [
        ("96 x 48", ("96", "48")),
        ("96x48", ("96", "48")),
        ("96 X 48", ("96", "48")),
        ("34 1/2 × 23 1/4", ("69/2", "93/4")),
        ('34½"×23¼"', ("69/2", "93/4")),
        ("2540 x 1270 mm", ("100", "50")),
        ("8 x 4 ft", ("96", "48")),
        ("24 in x 254 mm", ("24", "10")),
        ("254 mm x 24", ("10", "24")),
        ("2' 3\" x 1'", ("27", "12")),
        ("30 x 4'", ("30", "48")),
        ("35¼ x 2' 6\"", ("141/4", "30")),
        (["96", "254 mm"], ("96", "10")),
        ((96, 48.5), ("96", "97/2")),
    ],
)
def test_reads_sizes(value: str | list[str] | tuple[float, ...], size: tuple[str, str]) -> None:
    """A size is two lengths; a unit after the second alone counts for both."""
    assert read_size(value, IN) == tuple(map(Fraction, size))


@pytest.mark.parametrize(
    ("value", "phrase"),
    [
        ("96", "x between"),
        ("96 48", "x between"),
        ("1 x 2 x 3", "x between"),
        ("96 x", "missing"),
        ("x 48", "missing"),
        ("", "x between"),
        (["96"], "not 1"),
        (["1", "2", "3"], "not 3"),
        ("96 by 48", "x between"),
        ("23,5 x 8", "with a point"),
        (5, "two lengths"),
        (b"96", "two lengths"),
    ],
)
def test_refuses_sizes(value: object, phrase: str) -> None:
    """What is no size is refused with the reason."""
    with pytest.raises(LengthError, match=phrase):
        read_size(value, IN)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("value", "units", "scale", "text"),
    [
        ("189/8", IN, None, '23 5/8"'),
        ("5/8", IN, None, '5/8"'),
        ("24", IN, None, '24"'),
        ("0", IN, None, '0"'),
        ("600", MM, None, "600 mm"),
        ("600.1", MM, None, "600.1 mm"),
        ("600.14", MM, None, "≈ 600.1 mm"),
        ("600.15", MM, None, "≈ 600.2 mm"),
        ("3000/127", IN, None, '≈ 23 5/8"'),
        ("1513/64", IN, "1/32", '≈ 23 21/32"'),
        ("189/8", IN, "1/16", '23 5/8"'),
        ("189/8", IN, "1/2", '≈ 23 1/2"'),
        ("231/10", IN, "1/10", '23.1"'),
        ("1/3", IN, "1/3", '≈ 0.333"'),
        ("100", MM, "1/2", "100 mm"),
        ("100.3", MM, "1/2", "≈ 100.5 mm"),
        ("0.01", IN, None, '≈ 1/64"'),
        ("0.001", IN, None, '≈ 0"'),
    ],
)
def test_formats_lengths(value: str, units: Units, scale: str | None, text: str) -> None:
    """A length is printed to the scale's marks; what is rounded is marked."""
    marks = None if scale is None else Fraction(scale)
    assert format_length(Fraction(value), units, marks) == text


def test_format_can_leave_the_unit_out() -> None:
    """A column head may name the unit once for all."""
    assert format_length(Fraction(189, 8), IN, unit=False) == "23 5/8"
    assert format_length(Fraction(600), MM, unit=False) == "600"


def test_formats_sizes() -> None:
    """A size reads as on a drawing, in either unit."""
    assert format_size(Fraction(69, 2), Fraction(93, 4), IN) == '34 1/2" × 23 1/4"'
    assert format_size(Fraction(2440), Fraction(1220), MM) == "2440 × 1220 mm"
    assert format_size(Fraction(1, 3), Fraction(12), IN) == '≈ 21/64" × 12"'


@pytest.mark.parametrize(
    ("text", "units", "shown"),
    [
        ("18 mm", IN, "18 mm"),
        ("3/4", IN, '3/4"'),
        ("0.703", IN, '0.703"'),
        ("18", MM, "18 mm"),
        ("3/4 in", MM, '3/4"'),
        ("17.7", MM, "17.7 mm"),
        ("17.85", MM, "17.85 mm"),
        ("1/3", IN, '≈ 21/64"'),
    ],
)
def test_formats_thickness_in_its_plain_unit(text: str, units: Units, shown: str) -> None:
    """A thickness is called by the figure that it is sold under, whatever the job's unit."""
    assert format_thickness(read_length(text, units), units) == shown


def test_second_figure_is_in_the_other_unit() -> None:
    """The second figure of a length is marked where it is rounded."""
    assert other_unit(Fraction(189, 8), IN) == "≈ 600.1 mm"
    assert other_unit(Fraction(600), MM) == '≈ 23 5/8"'
    assert other_unit(Fraction(127), MM) == '5"'


@given(
    st.sampled_from([(IN, "1/64"), (IN, "1/32"), (IN, "1/10"), (IN, "1/1000")])
    | st.sampled_from([(MM, "1/10"), (MM, "1/2"), (MM, "1/20"), (MM, "1")]),
    st.integers(0, 10**4),
)
def test_what_is_shown_exactly_reads_back(scale: tuple[Units, str], marks: int) -> None:
    """A length on a mark prints without the sign of rounding, and reads back unchanged."""
    units, step = scale[0], Fraction(scale[1])
    value = marks * step
    assert is_shown_exactly(value, step)
    text = format_length(value, units, step)
    assert "≈" not in text
    assert read_length(text, units) == value
    other = MM if units is IN else IN
    assert convert(read_length(text, other), other, units) == value


@given(
    st.sampled_from(list(Units)),
    st.fractions(0, 10**4, max_denominator=5000),
    st.fractions(Fraction(1, 1000), 30, max_denominator=1000) | st.none(),
)
@example(IN, Fraction(5, 254), Fraction(5, 254))
def test_rounding_is_marked_and_small(
    units: Units, value: Fraction, scale: Fraction | None
) -> None:
    """Text without ``≈`` is exact; text with it is within half a mark and the last place."""
    text = format_length(value, units, scale)
    back = read_length(text.removeprefix("≈ "), units)
    step = finest_mark(units) if scale is None else scale
    assert abs(back - value) <= step / 2 + Fraction(1, 200)
    if text.startswith("≈"):
        assert not is_shown_exactly(value, step) or back != value
    else:
        assert back == value


@given(st.sampled_from(list(Units)), st.fractions(0, 10**4), st.fractions(0, 10**4))
def test_sizes_read_back(units: Units, length: Fraction, width: Fraction) -> None:
    """A printed size reads back where it is exact, in a job of either unit."""
    length, width = (side // finest_mark(units) * finest_mark(units) for side in (length, width))
    text = format_size(length, width, units)
    assert read_size(text, units) == (length, width)
    other = MM if units is IN else IN
    expected = (convert(length, units, other), convert(width, units, other))
    assert read_size(text, other) == expected


@pytest.mark.parametrize("value", ['600 x 24"', "600 x 2'", "600 x 2 ft 3 in"])
def test_refuses_a_bare_number_beside_an_inch_mark(value: str) -> None:
    """In a mm job a number without unit beside one in inches may be either, and is refused."""
    assert read_size(value, IN)[0] == 600
    with pytest.raises(LengthError, match="not clear which unit"):
        read_size(value, MM)


LENGTH_LIKE = st.text(alphabet="0123456789 ./-'\"xmftcinh½⅜″′⁄×,e+:_", max_size=20)


@given(st.text(max_size=80) | LENGTH_LIKE, st.sampled_from(list(Units)))
def test_any_text_is_read_or_refused(text: str, units: Units) -> None:
    """No text raises anything but the length error, and no length is negative."""
    with suppress(LengthError):
        assert read_length(text, units) >= 0
    with suppress(LengthError):
        assert min(read_size(text, units)) >= 0


def test_import_is_light() -> None:
    """Reading lengths pulls in nothing outside the standard library."""
    code = (
        "import sys, cutlist.units.lengths, cutlist.units.grid;"
        "print(sorted({m.partition('.')[0] for m in sys.modules} - set(sys.stdlib_module_names)))"
    )
    result = subprocess.run(
        [
            sys.executable,
            "-I",
            "-S",
            "-c",
            f"import sys; sys.path.insert(0, {sys.path[0]!r});{code}",
        ],
        capture_output=True,
        text=True,
        check=False,
        cwd="/",
    )
    assert result.stdout.strip() == "['__main__', 'cutlist']", result.stderr
