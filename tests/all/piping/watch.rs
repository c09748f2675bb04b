//! A line-up in the terminal watch: everything listed, valves set by number and by name, checked, mended, a setting that
//! works; and what its remedy and its page say.

use bedplate::app::views::kinds::lineup::remedy;
use bedplate::domain::piping::{examine, prove};
use bedplate::present::kinds::lineup::RightSetting;
use bedplate::present::stage::RemedyPart;

use crate::support::networks::fuel_network;
use crate::support::terminal::Dialogue;

#[test]
fn a_line_up_is_asked_checked_mended_and_told_in_the_terminal() {
    let mut dialogue = Dialogue::on_deck("sound--lineup");
    let asked = dialogue.until("What can be turned");
    for part in [
        "Distillate service tank, fuel oil → Quick-closing valve",
        "  1  Quick-closing valve: shut",
        "  3  Return cock: to Distillate service tank (a) or to Residual tank (b)",
        "  - Nothing to the residual tank",
        "Open, such as 1 2, 3 to a: ",
    ] {
        assert!(asked.contains(part), "no “{part}” in:\n{asked}");
    }
    let refused = dialogue.say("the moon");
    assert!(refused.contains("called “the moon”") && refused.ends_with(" to a: "), "and asks again:\n{refused}");
    let told = dialogue.say("quick-closing, cross, return cock to residual tank");
    for part in [
        "First check, which counts: 0 of 2 demands met",
        "not met  Round by the engine: Return cock stands to Residual tank",
        "not met  Nothing to the residual tank: it flows by",
        "Missed: 0 of 2 demands met",
    ] {
        assert!(told.contains(part), "no “{part}” in:\n{told}");
    }
    let mended = dialogue.say("1 3a");
    assert!(mended.contains("Check two: 2 of 2 demands met; the first check counts"), "{mended}");
    assert!(mended.contains("It works") && mended.contains("Missed: 0 of 2"), "the first check counts:\n{mended}");
    let right = dialogue.say("w");
    assert!(
        right.contains("One that works. The only one.") && right.contains("  Open: Quick-closing valve"),
        "{right}"
    );
    assert!(dialogue.say("").contains("Kept."), "the watch goes on");
}

#[test]
fn the_setting_that_is_shown_works_and_is_told_whole() {
    let network = fuel_network();
    let right = RightSetting::of(&network, prove(&network).expect("it is simple enough"));
    assert!(examine(&network, &right.set).expect("simple").works());
    assert_eq!(right.note, "One of 4, with the fewest open.");
    let wanted = [
        "Open: Quick-closing valve (after Distillate service tank), Inlet valve, Return valve",
        "Inlet cock to Filter 1, Outlet cock to Filter 1",
        "Shut: Drain to sludge, Cross-connection",
    ];
    assert_eq!(right.words, wanted);
}

#[test]
fn a_remedy_goes_through_the_demands_and_what_they_need() {
    let parts = remedy(&fuel_network());
    let part =
        |label: &str, text: &str, critical| RemedyPart { label: label.to_owned(), text: text.to_owned(), critical };
    let qcv = "Quick-closing valve (after Distillate service tank)";
    let wanted = [
        part("Demand 1 of 4", "Service tank to supply pump", false),
        part("Demand 2 of 4", "Supply pump to engine", false),
        part("Demand 3 of 4", "Return to service tank", false),
        part("Demand 4 of 4", "Nothing to or from the residual tank", true),
        part("Always open", &format!("{qcv}, Inlet valve and Return valve"), false),
        part("Always shut", "Cross-connection", false),
    ];
    assert_eq!(parts[..6], wanted);
    assert_eq!(parts[6].label, "A setting that works");
    assert_eq!(parts.len(), 7);
}
