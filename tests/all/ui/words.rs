//! Dates, numbers and counts in words. Weekdays and day counts are from the `date` command of coreutils
//! (`date -d 2026-04-21 +%A`, `date -d 2026-04-21 +%s`).

use bedplate::domain::day::StudyDay;
use bedplate::present::words;

use crate::support::time::TODAY;

#[test]
fn a_day_is_named_with_its_weekday() {
    assert_eq!(words::day(TODAY), "Wednesday 25 November");
    assert_eq!(words::full_date(TODAY), "25 November 2026");
    assert_eq!(words::day(StudyDay(0)), "Thursday 1 January");
    assert_eq!(words::day(StudyDay(-1)), "Wednesday 31 December");
}

#[test]
fn a_date_is_read_as_people_type_it() {
    let oral = Some(StudyDay(20_564));
    for text in ["21 April 2026", "21 apr 2026", "2026-04-21", "21.4.2026", "21/04/2026", " 21st  April, 2026 "] {
        assert_eq!(words::read_date(text, TODAY), oral, "{text}");
    }
    assert_eq!(oral.map(words::weekday), Some("Tuesday"));
    for text in ["", "soon", "31 February 2027", "21", "2026-13-01", "21 Ap 26", "1 2 3 4", "99999999999 May 2026"] {
        assert_eq!(words::read_date(text, TODAY), None, "{text}");
    }
}

#[test]
fn a_date_without_a_year_is_the_next_such_day() {
    assert_eq!(words::read_date("25 November", TODAY), Some(TODAY));
    assert_eq!(words::read_date("24 November", TODAY), Some(TODAY.plus(364)));
    let leap = words::read_date("29 February", TODAY).map(words::full_date);
    assert_eq!(leap.as_deref(), Some("29 February 2028"));
}

#[test]
fn numbers_are_said_plainly() {
    let words: Vec<String> = [0, 1, 20, 21, 40, 99, 100].into_iter().map(words::number).collect();
    assert_eq!(words, ["no", "one", "twenty", "twenty-one", "forty", "ninety-nine", "100"]);
    assert_eq!(words::figure(1876), "1876");
    assert_eq!(words::figure(1_234_567), "1\u{2009}234\u{2009}567");
    assert_eq!(words::count(1, "card"), "1 card");
    assert_eq!(words::count(46, "card"), "46 cards");
    assert_eq!(words::clock(725), "12:05");
    assert_eq!(words::duration(125.4), "2 min 5 s");
    assert_eq!(words::duration(f64::NAN), "0 s");
    assert_eq!(words::oral_line(TODAY.plus(41), TODAY), "Oral in 41 days");
}

#[test]
fn plain_units_get_their_signs() {
    for (plain, signed) in [("45 cm2", "45 cm²"), ("1.2 m3/h", "1.2 m³/h"), ("25 degC", "25 °C"), ("32 bar", "32 bar")]
    {
        assert_eq!(words::signs(plain), signed);
    }
    assert_eq!(words::signs("2.5 kg/cm2, within 3 %"), "2.5 kg/cm², within 3 %");
    assert_eq!(words::signs("CO2.5 x23"), "CO2.5 x23");
}
