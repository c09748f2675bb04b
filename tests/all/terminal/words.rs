//! The words of the terminal mean the same at every prompt of a card: asked, marked, in its remedy.

use crate::support::terminal::Dialogue;

#[test]
fn the_words_mean_the_same_at_every_prompt() {
    let mut dialogue = Dialogue::on_deck("sound--sequence");
    let mut told = dialogue.until("Run the compressor into the receiver");
    for _ in 0..4 {
        assert!(told.ends_with("nowhere): "), "{told}");
        assert!(dialogue.say("help").contains("stop leaves the watch"));
        let marked = dialogue.say("1");
        assert!(marked.contains("Missed"), "one step of three: {marked}");
        let help = dialogue.say("Help");
        assert!(help.contains("stop leaves the watch") && help.contains("Missed"), "{help}");
        assert!(dialogue.say("fault: the second step is old").ends_with("notch: "));
        told = dialogue.say("");
        assert!(told.contains("Kept."), "{told}");
    }
    assert!(told.contains("Missed four times in a row.") && told.ends_with("next: "), "a remedy: {told}");
    assert!(dialogue.say("?").contains("aside sets the card aside"));
    let reported = dialogue.say("fault: the third step is old");
    assert!(!reported.contains("Step 2 of") && reported.ends_with("next: "), "no part is uncovered: {reported}");
    assert!(dialogue.say("").contains("Step 2 of"));
    let aside = dialogue.say("aside");
    assert!(aside.contains("Set aside for good.") && aside.contains("The watch is stood"), "{aside}");
}
