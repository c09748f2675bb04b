//! Keys as a keyboard sends them: with others let go in any order, and with fields in the way.

use std::cell::RefCell;

use bedplate::ui::keys;
use bedplate::ui::strokes::Strokes;
use eframe::egui::{Context, Event, Key, Modifiers, RawInput};

fn stroke(key: Key, place: Key, pressed: bool, modifiers: Modifiers) -> Event {
    Event::Key { key, physical_key: Some(place), pressed, repeat: false, modifiers }
}

/// How often a key is taken over passes with these events.
fn taken(passes: &[Vec<Event>], hot: keys::Hot) -> usize {
    let ctx = Context::default();
    let count = RefCell::new(0);
    let mut strokes = Strokes::default();
    for events in passes {
        let mut input = RawInput { events: events.clone(), ..RawInput::default() };
        strokes.mend(&mut input.events);
        let mut out = ctx.run_ui(input, |ui| {
            if keys::take(ui, hot) {
                *count.borrow_mut() += 1;
            }
        });
        out.textures_delta.clear();
    }
    count.into_inner()
}

/// Presses twelve times a key that needs Shift on most keyboards, Shift let go first, as many hands do.
fn twelve_times(key: Key, place: Key, bare: Key, held: Modifiers) -> Vec<Vec<Event>> {
    let both = held | Modifiers::SHIFT;
    (0..12).flat_map(|_| [vec![stroke(key, place, true, both)], vec![stroke(bare, place, false, held)]]).collect()
}

#[test]
fn shift_may_be_let_go_before_the_key() {
    let marks = twelve_times(Key::Questionmark, Key::Slash, Key::Slash, Modifiers::NONE);
    assert_eq!(taken(&marks, keys::HELP), 12, "?");
    let plus = twelve_times(Key::Plus, Key::Equals, Key::Equals, Modifiers::NONE);
    assert_eq!(taken(&plus, keys::PLUS), 12, "+");
    let larger = twelve_times(Key::Plus, Key::Equals, Key::Equals, Modifiers::COMMAND | Modifiers::CTRL);
    assert_eq!(taken(&larger, keys::ZOOM_IN), 12, "Ctrl +");
}

#[test]
fn a_key_held_down_counts_once_in_whatever_name_it_is_repeated() {
    let shift = Modifiers::SHIFT;
    let held = [
        vec![stroke(Key::Questionmark, Key::Slash, true, shift)],
        vec![stroke(Key::Questionmark, Key::Slash, true, shift)],
        // Shift is let go; the keyboard goes on repeating the key by its other name.
        vec![stroke(Key::Slash, Key::Slash, true, Modifiers::NONE)],
        vec![stroke(Key::Slash, Key::Slash, false, Modifiers::NONE)],
    ];
    assert_eq!(taken(&held, keys::HELP), 1);
    assert_eq!(taken(&held, keys::SLASH), 0);
}

#[test]
fn what_is_let_go_in_another_window_is_not_held_for_ever() {
    let passes = [
        vec![stroke(Key::P, Key::P, true, Modifiers::NONE)],
        vec![Event::WindowFocused(false)],
        vec![Event::WindowFocused(true), stroke(Key::P, Key::P, true, Modifiers::NONE)],
    ];
    assert_eq!(taken(&passes, keys::letter('P')), 2);
}
