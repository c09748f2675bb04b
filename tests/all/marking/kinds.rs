//! Markings of figures, whys and ticked points, as the deck format states them.

use bedplate::domain::answer::{Answer, Given};
use bedplate::domain::card::Card;
use bedplate::domain::key_point::KeyPoint;
use bedplate::domain::kinds::figure::Figure;
use bedplate::domain::kinds::recall::Recall;
use bedplate::domain::kinds::why::Why;
use bedplate::domain::kinds::{Body, Detail, figure, why};
use bedplate::domain::marking::{Marking, SlipKind, mark};
use bedplate::domain::outcome::Outcome::{self, Answered, Fluent, Missed, Prompted};
use bedplate::domain::quantity::{Quantity, Within};
use proptest::prelude::*;

pub fn card(body: Body) -> Card {
    crate::support::cards::card("deck", "card", "?", body)
}

fn figure(value: &str, within: &str) -> Card {
    let quantity = Quantity::parse(value).expect("a value in this test");
    let within = if within.is_empty() { Within::Exact } else { Within::parse(within, &quantity).expect("a tolerance") };
    card(Body::Figure(Figure { value: quantity, value_text: value.to_owned(), within }))
}

fn answer(card: &Card, text: &str) -> Marking {
    mark(card, &Answer::of(Given::Text(text.to_owned()))).expect("an answer of the right form")
}

fn figure_detail(marking: &Marking) -> (Option<f64>, Option<SlipKind>) {
    match &marking.detail {
        Detail::Figure(figure::Told { error, slip, .. }) => (*error, slip.as_ref().map(|s| s.kind)),
        other => panic!("{other:?}"),
    }
}

#[test]
fn right_figures_in_any_unit_and_spelling() {
    let cases: &[(&str, &str, &[&str])] = &[
        (
            "30 bar",
            "1 bar",
            &[
                "30 bar",
                "30bar",
                "30 Bar",
                "30 BAR",
                "30 bars",
                "3 MPa",
                "3 mpa",
                "3000 kPa",
                "3,000 kPa",
                "3 000 kPa",
                "3\u{202f}000 kPa",
                "3.0 N/mm2",
                "3 N/mm²",
                "435 psi",
                "435 PSI",
                "30.6 kgf/cm2",
                "30.6 kg/cm2",
                "30 bar.",
                "about 30 bar",
                "approx. 30 bar",
                "it is 30 bar",
                "30 bar g",
                "30 barg",
                "30 bar gauge",
                "thirty bar",
                "Thirty bars",
                "29 bar",
                "31 bar",
                "29-31 bar",
                "29 to 31 bar",
                "between 29 and 31 bar",
                "30 ± 1 bar",
                "30 +/- 1 bar",
                "max 30 bar",
                "not more than 30 bar",
                "at least 30 bar",
                "30 bar pressure",
                "2 receivers at 30 bar",
                "30 bar (435 psi)",
                "3×10^6 Pa",
                "3e6 Pa",
                "3 x 10^6 Pa",
                "3·10⁶ Pa",
                "30,0 bar",
                "30.0bar",
                "not 20 bar but 30 bar",
                "30 bar in two receivers",
                "30000 mbar",
                "30 kp/cm2",
                "three megapascals",
                "pressure = 30 bar",
                "30-bar",
                "~30 bar",
                "(30 bar)",
                "30 [bar]",
            ],
        ),
        (
            "45 s",
            "",
            &[
                "45 s",
                "45s",
                "45 sec",
                "45 secs",
                "45 seconds",
                "forty-five seconds",
                "forty five seconds",
                "0.75 min",
                "0,75 min",
                "3/4 min",
                "three quarters of a minute",
                "3/4 of a minute",
                "45 Seconds",
                "within 45 s",
                "less than 45 seconds",
                "45-second",
            ],
        ),
        (
            "15 ppm",
            "",
            &[
                "15 ppm",
                "15 PPM",
                "15ppm",
                "15 parts per million",
                "0.0015 %",
                "0.0015 percent",
                "15 mg/kg",
                "15000 ppb",
                "fifteen ppm",
                "15 p.p.m.",
            ],
        ),
        ("18 h", "", &["18 h", "18 hours", "18 hrs", "eighteen hours", "18 Hours on a cargo ship", "1080 min"]),
        (
            "30 min",
            "",
            &[
                "30 min",
                "half an hour",
                "1/2 h",
                "½ h",
                "0.5 hours",
                "30 Min.",
                "thirty minutes",
                "30 mins",
                "1800 s",
                "0,5 h",
            ],
        ),
        (
            "90 min",
            "",
            &[
                "1 h 30 min",
                "1.5 h",
                "one and a half hours",
                "an hour and a half",
                "1 hour and 30 minutes",
                "1 1/2 hours",
                "1½ h",
            ],
        ),
        ("1 h", "", &["an hour", "1 hour", "one hour", "60 minutes", "within an hour"]),
        ("0.125 mm", "", &["0,125 mm", "0.125 mm", ".125 mm", "125 µm", "125 μm", "125 um", "125 microns", "1/8 mm"]),
        (
            "4320 kW",
            "1 %",
            &[
                "4,320 kW",
                "4.32 MW",
                "4,32 MW",
                "4320 kw",
                "4 320 kW",
                "4.32 megawatts",
                "4320 kilowatts",
                "4320 kWatt",
                "4.320,0 kW",
            ],
        ),
        (
            "85 degC",
            "1 K",
            &[
                "85 C",
                "85 °C",
                "85°C",
                "85 degrees",
                "85 degrees Celsius",
                "85 deg C",
                "85 degC",
                "358.15 K",
                "185 F",
                "185 °F",
                "85 ºC",
                "85 celsius",
                "85c",
                "84-86 C",
            ],
        ),
        ("-18 degC", "1 K", &["-18 C", "−18 °C", "minus 18 degrees", "- 18 C", "0 F"]),
        (
            "12 nmi",
            "",
            &["12 nm", "12 nmi", "12 NM", "12 M", "12 nautical miles", "22.224 km", "22,224 m", "twelve miles"],
        ),
        (
            "720 rpm",
            "",
            &[
                "720 rpm",
                "720 RPM",
                "720 r/min",
                "720 1/min",
                "720 rev/min",
                "720 revolutions per minute",
                "720 r.p.m.",
                "12 Hz",
                "12 1/s",
                "720 min-1",
                "720 min^-1",
                "720 revs per minute",
            ],
        ),
        (
            "120 m3/h",
            "",
            &[
                "120 m3/h",
                "120 m³/h",
                "120 cubic metres per hour",
                "2 m3/min",
                "2000 L/min",
                "2000 litres per minute",
                "120 m3 per hour",
                "120 m^3/hr",
                "120 M3/H",
            ],
        ),
        ("185 g/kWh", "", &["185 g/kWh", "185 g/kwh", "185 grams per kilowatt hour", "185 g / kW h", "0.185 kg/kWh"]),
        (
            "4.19 kJ/(kg K)",
            "",
            &["4.19 kJ/kgK", "4.19 kJ/kg K", "4.19 kJ/(kg K)", "4190 J/kgK", "4.19 kJ/kg·K", "4.19 kJ/(kg·°C)"],
        ),
        (
            "350 kNm",
            "",
            &["350 kNm", "350 kN m", "350 kN·m", "350 kilonewton metres", "350000 Nm", "0.35 MNm", "350 knm"],
        ),
        (
            "21 %",
            "",
            &["21 %", "21%", "21 percent", "21 per cent", "21 % oxygen", "21 pct", "210000 ppm", "twenty-one per cent"],
        ),
        (
            "1 Mohm",
            "",
            &[
                "1 MΩ",
                "1 Mohm",
                "1 megohm",
                "1 megaohm",
                "1000 kΩ",
                "1,000,000 ohms",
                "one megohm",
                "1 meg ohm",
                "10^6 ohm",
            ],
        ),
        ("440 V", "", &["440 V", "440 v", "440 volts", "0.44 kV", "440V"]),
        ("450 kVA", "", &["450 kVA", "450 kva", "0.45 MVA", "450 KVA"]),
        ("60 Hz", "", &["60 Hz", "60 hz", "60 hertz", "60 HZ"]),
        ("15 kn", "", &["15 kn", "15 knots", "15 kts", "15 kt", "15 KN"]),
        ("200 lux", "", &["200 lux", "200 lx", "200 LUX"]),
        ("380 cSt", "", &["380 cst", "380 mm2/s", "380 centistokes", "380 cSt at 50 °C"]),
        ("6", "", &["6", "six", "6 starts", "six consecutive starts", "6.", "at least 6", "six times"]),
        ("12", "", &["twelve", "12", "12 starts", "a dozen"]),
        ("0.8", "", &["0.8", "0,8", ".8", "80 %", "cos phi 0.8", "zero point eight"]),
        ("7.5", "0.2", &["7.5", "pH 7.5", "7.5 pH", "7,5"]),
        ("100 h", "", &["100 h", "a hundred hours", "one hundred hours", "100 hours"]),
        ("1000 h", "", &["1,000 h", "1 000 hours", "one thousand hours", "a thousand hours"]),
        ("2.5 year", "", &["2.5 years", "30 months", "two and a half years"]),
    ];
    let mut wrong = Vec::new();
    for (value, within, texts) in cases {
        let card = figure(value, within);
        for text in *texts {
            let marking = answer(&card, text);
            if marking.outcome != Answered || figure_detail(&marking).1.is_some() {
                wrong.push(format!("{value}: {text}: {}", marking.reason));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Value, tolerance, typed text; outcome, slip, relative error.
type WrongFigure = (&'static str, &'static str, &'static str, Outcome, Option<SlipKind>, Option<f64>);

#[test]
fn wrong_figures_and_their_slips() {
    use SlipKind::{Dimension, PowerOfTen, Unit};
    let cases: &[WrongFigure] = &[
        ("30 bar", "1 bar", "30", Prompted, Some(Unit), Some(0.0)),
        ("30 bar", "1 bar", "thirty", Prompted, Some(Unit), Some(0.0)),
        ("30 bar", "1 bar", "about 31", Prompted, Some(Unit), Some(1.0 / 30.0)),
        ("30 bar", "1 bar", "300", Missed, Some(Unit), Some(9.0)),
        ("30 bar", "1 bar", "25", Missed, Some(Unit), Some(5.0 / 30.0)),
        ("30 bar", "1 bar", "25 bar", Missed, None, Some(5.0 / 30.0)),
        ("30 bar", "1 bar", "300 bar", Missed, Some(PowerOfTen), Some(9.0)),
        ("30 bar", "1 bar", "3 bar", Missed, Some(PowerOfTen), Some(0.9)),
        ("30 bar", "1 bar", "30 kPa", Missed, Some(Unit), Some(0.99)),
        ("30 bar", "1 bar", "30 MPa", Missed, Some(Unit), Some(9.0)),
        ("30 bar", "1 bar", "300 kPa", Missed, Some(PowerOfTen), Some(0.9)),
        ("30 bar", "1 bar", "30 s", Missed, Some(Dimension), None),
        ("30 bar", "1 bar", "30 kW", Missed, Some(Dimension), None),
        ("30 bar", "1 bar", "30 degC", Missed, Some(Dimension), None),
        ("30 bar", "1 bar", "30 zork", Missed, Some(Dimension), None),
        ("30 bar", "1 bar", "30 bar/h", Missed, Some(Dimension), None),
        ("30 bar", "1 bar", "30 bar per fortnight", Missed, Some(Dimension), None),
        ("30 bar", "1 bar", "", Missed, None, None),
        ("30 bar", "1 bar", "no idea", Missed, None, None),
        ("30 bar", "1 bar", "1.5.2", Missed, None, None),
        ("30 bar", "1 bar", "25-30 bar", Missed, None, Some(5.0 / 30.0)),
        ("30 bar", "1 bar", "10 or 30 bar", Missed, None, Some(20.0 / 30.0)),
        ("30 bar", "1 bar", "10 bar or 30 bar", Missed, None, Some(20.0 / 30.0)),
        ("30 bar", "1 bar", "-30 bar", Missed, None, Some(2.0)),
        ("30 bar", "1 bar", "31.01 bar", Missed, None, Some(1.01 / 30.0)),
        ("15 ppm", "", "15", Prompted, Some(Unit), Some(0.0)),
        ("15 ppm", "", "15 %", Missed, Some(Unit), Some(9999.0)),
        ("15 ppm", "", "15 mg", Missed, Some(Dimension), None),
        ("45 s", "", "45 min", Missed, Some(Unit), Some(59.0)),
        ("45 s", "", "4.5 s", Missed, Some(PowerOfTen), Some(0.9)),
        ("4 MW", "1 %", "4 mW", Missed, Some(Unit), Some(1.0)),
        ("4 MW", "1 %", "4 mw", Missed, Some(Unit), Some(1.0)),
        ("450 kVA", "", "450 kW", Missed, Some(Dimension), None),
        ("6", "", "6 bar", Missed, Some(Dimension), None),
        ("6", "", "60", Missed, Some(PowerOfTen), Some(9.0)),
        ("6", "", "5", Missed, None, Some(1.0 / 6.0)),
        ("12 m", "", "12 M", Missed, Some(Unit), Some(1851.0)),
        ("85 degC", "1 K", "85 K", Missed, Some(Unit), Some(273.15 / 85.0)),
        ("0.125 mm", "", "125 mm", Missed, Some(PowerOfTen), Some(999.0)),
    ];
    let mut wrong = Vec::new();
    for (value, within, text, outcome, slip, error) in cases {
        let marking = answer(&figure(value, within), text);
        let (found_error, found_slip) = figure_detail(&marking);
        let same_error = match (found_error, error) {
            (Some(a), Some(b)) => (a - b).abs() <= 1e-9 * b.max(1.0),
            (a, b) => a == *b,
        };
        if marking.outcome != *outcome || found_slip != *slip || !same_error {
            wrong.push(format!("{value}: {text}: {marking:?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_edge_of_a_tolerance_is_within_and_time_makes_fluent() {
    for (value, within, text) in [
        ("30 bar", "1 bar", "31 bar"),
        ("0.3 mm", "0.1 mm", "0.2 mm"),
        ("0.3 mm", "0.1 mm", "0.4 mm"),
        ("30 bar", "2 %", "30.6 bar"),
        ("30 bar", "2 %", "3.06 MPa"),
        ("0.10 %", "2 %", "0.102 %"),
        ("85 degC", "5 degC", "90 C"),
        ("85 degC", "5 K", "363.15 K"),
        ("85 degC", "9 degF", "176 F"),
        ("0 degC", "", "32 F"),
        ("0 degC", "", "273.15 K"),
    ] {
        assert_eq!(answer(&figure(value, within), text).outcome, Answered, "{value}, {within}: {text}");
    }
    assert_eq!(answer(&figure("30 bar", ""), "30.00002 bar").outcome, Answered);
    assert_eq!(answer(&figure("30 bar", ""), "30.0001 bar").outcome, Missed);
    let timed = Card { seconds: Some(10.0), ..figure("30 bar", "1 bar") };
    let given = |seconds| Answer { given: Given::Text("30 bar".to_owned()), seconds };
    for (seconds, outcome) in [(Some(10.0), Fluent), (Some(10.1), Answered), (None, Answered)] {
        assert_eq!(mark(&timed, &given(seconds)).expect("a figure").outcome, outcome);
    }
}

fn why(links: usize, false_links: usize) -> Card {
    let names = |n: usize, what: &str| (1..=n).map(|i| format!("{what} {i}")).collect();
    card(Body::Why(Why { links: names(links, "link"), false_links: names(false_links, "false") }))
}

#[test]
fn whys_count_the_longest_right_run_less_false_links() {
    for (links, given, in_order, false_links, outcome) in [
        (4, &[1, 2, 3, 4][..], 4, 0, Answered),
        (4, &[1, 2, 3], 3, 0, Prompted),
        (4, &[2, 1, 3, 4], 3, 0, Prompted),
        (4, &[1, 5, 2, 3, 4], 4, 1, Prompted),
        (4, &[1, 5, 2, 6, 3, 4], 4, 2, Missed),
        (4, &[4, 3, 2, 1], 1, 0, Missed),
        (4, &[5, 6], 0, 2, Missed),
        (5, &[1, 2, 3], 3, 0, Prompted),
        (5, &[], 0, 0, Missed),
    ] {
        let marking = mark(&why(links, 2), &Answer::of(Given::Links(given.to_vec()))).expect("links");
        assert_eq!(marking.outcome, outcome, "{given:?}: {marking:?}");
        assert_eq!(marking.detail, Detail::Why(why::Told { in_order, false_links }), "{given:?}");
    }
    for given in [&[0][..], &[7], &[1, 1]] {
        assert!(mark(&why(4, 2), &Answer::of(Given::Links(given.to_vec()))).is_err(), "{given:?}");
    }
}

pub fn point(say: &str, accept: &[&str], reject: &[&str], critical: bool) -> KeyPoint {
    let owned = |list: &[&str]| list.iter().map(|s| (*s).to_owned()).collect();
    KeyPoint { say: say.to_owned(), accept: owned(accept), reject: owned(reject), critical }
}

#[test]
fn ticked_points_count_alike_and_a_critical_one_decides() {
    let points = ["a", "b", "c", "d", "e"].map(|s| point(s, &[], &[], s == "b")).to_vec();
    let recall = card(Body::Recall(Recall { points }));
    let ticked = |said: &[usize]| mark(&recall, &Answer::of(Given::Said(said.to_vec())));
    for (said, outcome, reason) in [
        (&[1, 2, 3, 4, 5][..], Answered, "All five points were said."),
        (&[1, 2, 3], Prompted, "Three of five points were said."),
        (&[1, 2], Missed, "Two of five points were said."),
        (&[1, 3, 4, 5], Missed, "Four of five points were said; the safety-critical point 2 was not said."),
        (&[], Missed, "None of five points were said; the safety-critical point 2 was not said."),
    ] {
        let marking = ticked(said).expect("points of this card");
        assert_eq!((marking.outcome, marking.reason.as_str()), (outcome, reason));
    }
    for said in [&[6][..], &[0], &[2, 2]] {
        assert!(ticked(said).is_err(), "{said:?}");
    }
}

#[test]
fn an_answer_of_another_form_is_refused() {
    let text = Answer::of(Given::Text("30 bar".to_owned()));
    let said = Answer::of(Given::Said(vec![1]));
    assert!(mark(&why(3, 0), &text).is_err());
    assert!(mark(&figure("30 bar", ""), &said).is_err());
}

proptest! {
    #[test]
    fn no_typed_figure_panics(text in "\\PC{0,80}") {
        let marking = answer(&figure("30 bar", "1 bar"), &text);
        prop_assert!(!marking.reason.is_empty());
    }

    #[test]
    fn nor_does_one_made_of_the_parts_of_figures(
        parts in proptest::collection::vec(
            prop::sample::select(vec![
                "30", "1.5", "1/2", " ", "bar", "/", "per", "and a half", "e9", "×10^", "-", "–", "to", "or", "(", ")", "²",
                "kJ", "kg", "K", "half", "a", "twenty", "hundred", "point", ",", ".", "%", "°", "µ", "½", "square", "minus",
            ]),
            0..40,
        )
    ) {
        answer(&figure("4.19 kJ/(kg K)", "1 %"), &parts.concat());
        answer(&figure("6", ""), &parts.join(" "));
    }

    #[test]
    fn a_right_figure_is_right_in_every_unit_of_its_dimension(
        number in 0.01f64..5000.0,
        (card_unit, unit) in prop::sample::select(vec![
            ("bar", "MPa"), ("bar", "psi"), ("kPa", "kgf/cm2"), ("kW", "MW"), ("kW", "hp"), ("s", "h"), ("h", "day"),
            ("rpm", "Hz"), ("m3/h", "L/min"), ("degC", "K"), ("degC", "degF"), ("ppm", "%"), ("mm", "in"), ("nmi", "km"),
            ("cSt", "m2/s"), ("g/kWh", "kg/MWh"), ("Nm", "kNm"), ("kVA", "MVA"), ("Mohm", "ohm"), ("kJ/kg", "MJ/kg"),
        ])
    ) {
        let value = format!("{number} {card_unit}");
        let other = Quantity::parse(&value).and_then(|q| q.convert(unit));
        let other = other.map_err(|e| TestCaseError::fail(e.to_string()))?;
        let marking = answer(&figure(&value, ""), &format!("{other} {unit}"));
        prop_assert_eq!(marking.outcome, Answered, "{} as {} {}: {:?}", value, other, unit, marking);
    }
}
