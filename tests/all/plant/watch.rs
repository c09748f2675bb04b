//! A sequence in the terminal watch: its steps lie ashore in a random order, the learner types numbers, and the list
//! is run and told line by line.

use crate::support::terminal::Dialogue;

#[test]
fn a_sequence_is_asked_run_and_told_in_the_terminal() {
    let mut dialogue = Dialogue::on_deck("sound--sequence");
    let asked = dialogue.until("Run the compressor into the receiver");
    assert!(asked.contains("Emergency board live: holds"), "{asked}");
    let number = |step: &str| {
        let line = asked.lines().find(|line| line.ends_with(step)).expect("every step lies ashore");
        line.split_whitespace().next().expect("a number").to_owned()
    };
    let told = dialogue.say(&format!(
        "{} {} {}",
        number("Run the compressor into the receiver"),
        number("Start the cooling pump"),
        number("Drain the water")
    ));
    for part in [
        "Run the compressor into the receiver: fails",
        "The compressor overheats.",
        "Severity: damage",
        "which counts: 0 of 3 lines",
        "Missed: goal not reached, 1 step broken",
    ] {
        assert!(told.contains(part), "no “{part}” in:\n{told}");
    }
    assert!(dialogue.say("w").contains("A right order."));
    assert!(dialogue.say("").contains("Kept."), "the watch goes on");
}
