//! A working in the terminal watch, through the program on a pipe: what is given, lines worked out and echoed, an error
//! at its place, the marking, a second try, the model working, and fresh figures.

use crate::support::terminal::Dialogue;

fn holds(text: &str, parts: &[&str]) {
    let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
    for part in parts {
        assert!(flat.contains(part), "no “{part}” in:\n{text}");
    }
}

#[test]
fn a_working_is_asked_worked_out_marked_and_tried_again_in_the_terminal() {
    let mut dialogue = Dialogue::on_deck("sound--working");
    let asked = dialogue.read();
    holds(&asked, &["Given:", "(Mean indicated pressure)", "In kW, or in any other unit of power."]);
    let given = |symbol: &str| -> f64 {
        let line = asked.lines().find(|line| line.trim().starts_with(symbol)).expect("a given");
        line.split_whitespace().nth(2).expect("a number").parse().expect("a number")
    };
    let area = std::f64::consts::PI * (given("bore") / 1_000.0).powi(2) / 4.0;
    let area = if area < 0.1 { format!("{area:.5}") } else { format!("{area:.4}") };
    holds(&dialogue.say("A = pi/4 * bore^2"), &[&format!("1 A = {area} m²"), "Line 2 or the answer:"]);
    let wrong = dialogue.say("V = A * strok");
    holds(&wrong, &["“strok” is not known. Did you mean “stroke”?", "Line 2 or the answer:"]);
    let lines: Vec<&str> = wrong.lines().collect();
    let typed = lines.iter().position(|l| l.contains("V = A * strok")).expect("said again");
    assert_eq!(lines[typed].find("strok"), lines[typed + 1].find("^^^^^"), "the place is marked:\n{wrong}");
    dialogue.say("V = A * stroke");
    dialogue.say("= 2 * 3");
    holds(&dialogue.say("P = pm * V * speed * cylinders"), &["4 P = ", " kW"]);
    let missed = dialogue.say("take");
    holds(
        &missed,
        &["A four-stroke fires every second revolution.", "Prompted: ", "t tries again, m shows a model working"],
    );
    assert!(!missed.contains("The right answer:"), "a second try is open:\n{missed}");
    holds(&dialogue.say("t"), &["First try, ", "A right answer now counts as prompted.", "4 P = pm * V"]);
    dialogue.say("undo");
    dialogue.say("P = pm * V * speed / 2 * cylinders");
    let prompted = dialogue.say("take");
    holds(&prompted, &["Second try, ", ": right, within 1 % of ", "Prompted: right at the second try,"]);
    holds(&dialogue.say("m"), &["A model working, with these figures:", "1 area = pi * bore^2 / 4 → "]);
    let fresh = dialogue.say("n");
    holds(&fresh, &["Fresh figures, for practice", "Find the indicated power", "Line 1 or the answer:"]);
    holds(&dialogue.say("1 kW"), &["1 kW: not right", "That was practice.", "Prompted: right at the second try,"]);
    holds(&dialogue.say("b"), &["Second try, ", "Prompted: "]);
    holds(&dialogue.say(""), &["Because: Each cylinder does its work once in two revolutions.", "Kept."]);
}
