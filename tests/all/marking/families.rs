//! Words of opposite meaning and names of different substances or things never meet: a point that names one is not made
//! by the other. Pairs of single words are tried also beside a word that both the point and the answer have, so that
//! words which only come near are found out too.

use bedplate::domain::answer::{Answer, Given};
use bedplate::domain::card::Card;
use bedplate::domain::kinds::recall::Recall;
use bedplate::domain::kinds::{Body, Detail, recall};
use bedplate::domain::marking::mark;

use crate::marking::kinds::{card, point};

/// Pairs that must stay apart, by the trade's common use of the words. Each is tried both ways round.
const APART: &[(&str, &str)] = &[
    // Fuels, oils and waters.
    ("gas oil", "heavy fuel oil"),
    ("gas oil", "HFO"),
    ("MGO", "HFO"),
    ("MGO", "MDO"),
    ("gas oil", "marine diesel oil"),
    ("gas oil", "lubricating oil"),
    ("diesel oil", "heavy fuel oil"),
    ("diesel oil", "lubricating oil"),
    ("marine diesel oil", "residual fuel"),
    ("heavy fuel", "lubricating oil"),
    ("fuel oil", "lubricating oil"),
    ("cylinder oil", "system oil"),
    ("hydraulic oil", "lubricating oil"),
    ("ULSFO", "VLSFO"),
    ("sea water", "fresh water"),
    ("sea water", "jacket water"),
    ("sea water", "boiler feed water"),
    ("fresh water", "bilge water"),
    ("feed water", "condensate"),
    ("steam", "condensate"),
    ("black water", "grey water"),
    ("sludge", "bilge water"),
    ("grease", "oil"),
    // Gases and chemicals.
    ("hydrogen", "oxygen"),
    ("oxygen", "carbon dioxide"),
    ("nitrogen", "carbon dioxide"),
    ("oxygen bottle", "acetylene bottle"),
    ("acid", "alkali"),
    ("alkaline", "low pH"),
    ("copper", "steel"),
    ("black smoke", "white smoke"),
    ("white smoke", "blue smoke"),
    ("dry powder", "foam"),
    ("co2 extinguisher", "foam extinguisher"),
    ("control air", "starting air"),
    // Opposites.
    ("open", "shut"),
    ("start", "stop"),
    ("rises", "falls"),
    ("increase", "decrease"),
    ("hot", "cold"),
    ("full", "empty"),
    ("before", "after"),
    ("first", "last"),
    ("inlet", "outlet"),
    ("suction", "delivery"),
    ("port side", "starboard"),
    ("ahead", "astern"),
    ("clockwise", "anticlockwise"),
    ("upstream", "downstream"),
    ("inwards", "outwards"),
    ("series", "parallel"),
    ("live", "dead"),
    ("leading", "lagging"),
    ("active", "reactive"),
    ("essential", "non essential"),
    ("manual", "automatic"),
    ("local", "remote"),
    ("tight", "loose"),
    ("thick", "thin"),
    ("fast", "slow"),
    ("high suction", "low suction"),
    ("overcharge", "undercharge"),
    ("too early", "too late"),
    ("advance", "retard"),
    ("by the head", "by the stern"),
    ("hard to port", "hard to starboard"),
    ("maximum", "minimum"),
    ("expand", "shrink"),
    ("vacuum", "under pressure"),
    // Machines and their parts.
    ("main engine", "auxiliary engine"),
    ("main switchboard", "emergency switchboard"),
    ("shaft generator", "emergency generator"),
    ("incoming machine", "running set"),
    ("evaporator", "condenser"),
    ("purifier", "oily water separator"),
    ("settling tank", "service tank"),
    ("screw pump", "gear pump"),
    ("centrifugal pump", "screw pump"),
    ("rotor", "stator"),
    ("liferaft", "lifeboat"),
    ("lifejacket", "immersion suit"),
    ("clutch", "coupling"),
    ("padlock", "notice"),
    ("top end", "bottom end"),
    ("crankcase doors", "crankcase relief valve"),
    ("overboard valve", "sea suction valve"),
    ("lubricating oil cooler", "charge air cooler"),
    ("stretcher", "breathing apparatus"),
    ("fourth engineer", "third engineer"),
    ("short circuit", "earth fault"),
    ("overload", "short circuit"),
    ("frequency", "voltage"),
    ("governor", "voltage regulator"),
    ("frost", "defrost"),
    ("daily", "weekly"),
    ("weekly", "monthly"),
    ("corrosion", "erosion"),
    ("viscosity", "density"),
    ("flash point", "pour point"),
];

fn said(wanted: &str, given: &str) -> bool {
    // A word that no family has, beside which the pair stands.
    let say =
        if wanted.contains(' ') || given.contains(' ') { wanted.to_owned() } else { format!("the {wanted} brindle") };
    let points = vec![point(&say, &[wanted], &[], false)];
    let asked = Card { ask: "What is it?".to_owned(), ..card(Body::Recall(Recall { points })) };
    let meets = |text: String| match mark(&asked, &Answer::of(Given::Text(text))).expect("a typed answer").detail {
        Detail::Recall(recall::Told { points }) => points[0].said,
        other => panic!("{other:?}"),
    };
    // Terms of several words share some of them; they are tried alone.
    let one_word = !wanted.contains(' ') && !given.contains(' ');
    one_word && meets(format!("the {given} brindle")) || meets(given.to_owned())
}

#[test]
fn no_family_holds_opposites_or_different_things() {
    let mut joined = Vec::new();
    for (a, b) in APART {
        for (wanted, given) in [(a, b), (b, a)] {
            assert!(said(wanted, wanted), "{wanted} is made by its own words");
            if said(wanted, given) {
                joined.push(format!("{wanted} is made by {given}"));
            }
        }
    }
    assert!(APART.len() >= 60);
    assert!(joined.is_empty(), "{}", joined.join("\n"));
}

#[test]
fn words_that_mean_the_same_still_meet() {
    for (wanted, given) in [
        ("gas oil", "MGO"),
        ("diesel oil", "MDO"),
        ("diesel oil", "DO"),
        ("heavy fuel", "HFO"),
        ("lubricating oil", "LO"),
        ("sea water", "SW"),
        ("fresh water", "FW"),
        ("fuel", "HFO"),
        ("fuel", "gas oil"),
        ("lifejacket", "life vest"),
        ("oxygen", "O2"),
    ] {
        assert!(said(wanted, given), "{wanted} is made by {given}");
    }
}

#[test]
fn do_is_diesel_oil_only_where_it_is_written_as_such() {
    for (given, wanted) in [
        ("DO", true),
        ("D.O.", true),
        ("we change to DO before the line", true),
        ("we do", false),
        ("do it", false),
        ("DO NOT STOP THE ENGINE", false),
        ("WE DO THE ROUND", false),
        ("DO not touch it", false),
    ] {
        let points = vec![point("Change to diesel oil", &["diesel oil"], &[], false)];
        let asked = card(Body::Recall(Recall { points }));
        let Detail::Recall(recall::Told { points }) =
            mark(&asked, &Answer::of(Given::Text(given.to_owned()))).expect("a typed answer").detail
        else {
            panic!("a recall's marking")
        };
        assert_eq!(points[0].said, wanted, "{given}");
    }
}
