//! Keys: which of them a screen may take, given what has the keyboard's focus.
//!
//! A letter typed into a field is text and no command; Enter and Space on a focused button press that button;
//! Escape first leaves a field. A key that is taken is taken out of the input, so that nothing else acts on it.

use std::borrow::Cow;

use eframe::egui::{Context, Event, Id, Key, Ui};

/// A key with the name on its box.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hot {
    /// What the key box says.
    pub face: &'static str,
    keys: &'static [Key],
    with: With,
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum With {
    Nothing,
    Shift,
    Ctrl,
}

/// A line of the list of keys: a key, or several with commas between them, and what it does.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KeyLine {
    /// As on its box: `↑, ↓`.
    pub face: Cow<'static, str>,
    /// What it does.
    pub does: Cow<'static, str>,
}

impl KeyLine {
    /// A line.
    pub const fn of(face: &'static str, does: &'static str) -> Self {
        Self { face: Cow::Borrowed(face), does: Cow::Borrowed(does) }
    }
}

const fn plain(face: &'static str, keys: &'static [Key]) -> Hot {
    Hot { face, keys, with: With::Nothing }
}

/// Enter: the primary action.
pub const ENTER: Hot = plain("ENTER", &[Key::Enter]);
/// Control and Enter: the primary action from inside a field of several lines.
pub const CTRL_ENTER: Hot = Hot { face: "CTRL ENTER", keys: &[Key::Enter], with: With::Ctrl };
/// Space.
pub const SPACE: Hot = plain("SPACE", &[Key::Space]);
/// Tab: where the focus begins. From there on it goes on by itself.
pub const TAB: Hot = plain("TAB", &[Key::Tab]);
/// Tab to be shown only, beside what does it by mouse; no keyboard has this key.
pub const TAB_SHOWN: Hot = plain("TAB", &[Key::F35]);
/// Closer.
pub const CLOSER: Hot = plain("Z", &[Key::Z]);
/// Further off.
pub const FURTHER: Hot = Hot { face: "SHIFT Z", keys: &[Key::Z], with: With::Shift };
/// All of it.
pub const WHOLE: Hot = plain("0", &[Key::Num0]);
/// Escape: back.
pub const ESC: Hot = plain("ESC", &[Key::Escape]);
/// The keys of the screen.
pub const HELP: Hot = plain("?", &[Key::Questionmark]);
/// The keys of the screen, from inside a field.
pub const HELP_ANYWHERE: Hot = plain("F1", &[Key::F1]);
/// The search field.
pub const SLASH: Hot = plain("/", &[Key::Slash]);
/// One notch down.
pub const MINUS: Hot = plain("−", &[Key::Minus]);
/// One notch up.
pub const PLUS: Hot = plain("+", &[Key::Plus, Key::Equals]);
/// Larger.
pub const ZOOM_IN: Hot = Hot { face: "CTRL +", keys: &[Key::Plus, Key::Equals], with: With::Ctrl };
/// Smaller.
pub const ZOOM_OUT: Hot = Hot { face: "CTRL −", keys: &[Key::Minus], with: With::Ctrl };
/// As designed.
pub const ZOOM_PLAIN: Hot = Hot { face: "CTRL 0", keys: &[Key::Num0], with: With::Ctrl };
/// Up.
pub const UP: Hot = plain("↑", &[Key::ArrowUp]);
/// Down.
pub const DOWN: Hot = plain("↓", &[Key::ArrowDown]);
/// Left, or Backspace: out again.
pub const LEFT: Hot = plain("←", &[Key::ArrowLeft, Key::Backspace]);
/// Left, and that alone.
pub const TO_LEFT: Hot = plain("←", &[Key::ArrowLeft]);
/// Backspace or Delete: out.
pub const LIFT: Hot = plain("BACKSPACE", &[Key::Backspace, Key::Delete]);
/// Undo.
pub const UNDO: Hot = Hot { face: "CTRL Z", keys: &[Key::Z], with: With::Ctrl };
/// What was undone, done again.
pub const REDO: Hot = Hot { face: "CTRL Y", keys: &[Key::Y], with: With::Ctrl };
/// Right.
pub const RIGHT: Hot = plain("→", &[Key::ArrowRight]);
/// Shift and up.
pub const SHIFT_UP: Hot = Hot { face: "SHIFT ↑", keys: &[Key::ArrowUp], with: With::Shift };
/// Control and up: an earlier line.
pub const CTRL_UP: Hot = Hot { face: "CTRL ↑", keys: &[Key::ArrowUp], with: With::Ctrl };
/// Control and down: a later line.
pub const CTRL_DOWN: Hot = Hot { face: "CTRL ↓", keys: &[Key::ArrowDown], with: With::Ctrl };
/// Take the last accepted answer back.
pub const TAKE_BACK: Hot = Hot { face: "CTRL B", keys: &[Key::B], with: With::Ctrl };
/// Take a line's value over as the answer.
pub const CTRL_T: Hot = Hot { face: "CTRL T", keys: &[Key::T], with: With::Ctrl };
/// Save.
pub const CTRL_S: Hot = Hot { face: "CTRL S", keys: &[Key::S], with: With::Ctrl };
/// An empty worksheet.
pub const CTRL_L: Hot = Hot { face: "CTRL L", keys: &[Key::L], with: With::Ctrl };
/// The worksheet from everywhere, and back.
pub const WORKSHEET: Hot = plain("F2", &[Key::F2]);
/// Answer by speaking.
pub const SPEAK: Hot = plain("F5", &[Key::F5]);
/// Answer by typing or setting.
pub const WRITE: Hot = plain("F6", &[Key::F6]);
/// A second person marks.
pub const SECOND: Hot = plain("F7", &[Key::F7]);
/// Shift and down.
pub const SHIFT_DOWN: Hot = Hot { face: "SHIFT ↓", keys: &[Key::ArrowDown], with: With::Shift };
/// A page up.
pub const PAGE_UP: Hot = plain("PAGE UP", &[Key::PageUp]);
/// A page down.
pub const PAGE_DOWN: Hot = plain("PAGE DOWN", &[Key::PageDown]);

/// A letter's key.
pub fn letter(letter: char) -> Hot {
    match letter.to_ascii_uppercase() {
        'A' => plain("A", &[Key::A]),
        'B' => plain("B", &[Key::B]),
        'C' => plain("C", &[Key::C]),
        'D' => plain("D", &[Key::D]),
        'E' => plain("E", &[Key::E]),
        'F' => plain("F", &[Key::F]),
        'G' => plain("G", &[Key::G]),
        'H' => plain("H", &[Key::H]),
        'K' => plain("K", &[Key::K]),
        'L' => plain("L", &[Key::L]),
        'M' => plain("M", &[Key::M]),
        'N' => plain("N", &[Key::N]),
        'O' => plain("O", &[Key::O]),
        'P' => plain("P", &[Key::P]),
        'R' => plain("R", &[Key::R]),
        'S' => plain("S", &[Key::S]),
        'T' => plain("T", &[Key::T]),
        'U' => plain("U", &[Key::U]),
        'V' => plain("V", &[Key::V]),
        'W' => plain("W", &[Key::W]),
        'Y' => plain("Y", &[Key::Y]),
        'Z' => plain("Z", &[Key::Z]),
        _ => plain("X", &[Key::X]),
    }
}

/// The key of a digit from 1 to 9.
pub fn digit(number: usize) -> Hot {
    const DIGITS: [Hot; 9] = [
        plain("1", &[Key::Num1]),
        plain("2", &[Key::Num2]),
        plain("3", &[Key::Num3]),
        plain("4", &[Key::Num4]),
        plain("5", &[Key::Num5]),
        plain("6", &[Key::Num6]),
        plain("7", &[Key::Num7]),
        plain("8", &[Key::Num8]),
        plain("9", &[Key::Num9]),
    ];
    DIGITS[number.clamp(1, 9) - 1]
}

/// What has the keyboard's focus.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Held {
    /// Nothing.
    Nothing,
    /// A button: Enter and Space are its own.
    Button,
    /// A checkbox or a radio button: Space is its own.
    Choice,
    /// A row of a list to be ticked: Space is its own, and Escape leaves it.
    Tick,
    /// A field of one line: all but Enter is its own.
    Line,
    /// A field of several lines: everything is its own.
    Text,
}

#[derive(Clone, Copy)]
struct Note {
    id: Id,
    held: Held,
    pass: u64,
}

fn note_id() -> Id {
    Id::new("keyboard-focus-note")
}

/// A widget that has the focus says what it is, every pass.
pub fn note(ctx: &Context, id: Id, held: Held) {
    let pass = ctx.cumulative_pass_nr();
    ctx.data_mut(|d| d.insert_temp(note_id(), Note { id, held, pass }));
}

/// What has the focus now.
pub fn held(ctx: &Context) -> Held {
    let note: Option<Note> = ctx.data(|d| d.get_temp(note_id()));
    match (ctx.memory(|m| m.focused()), note) {
        (None, _) => Held::Nothing,
        (Some(id), Some(note)) if note.id == id => note.held,
        (Some(_), _) => Held::Button,
    }
}

/// Whether a field, or a row to be ticked, had the focus just before this pass: Escape then only leaves it.
fn was_in_field(ctx: &Context) -> bool {
    let note: Option<Note> = ctx.data(|d| d.get_temp(note_id()));
    note.is_some_and(|n| {
        matches!(n.held, Held::Line | Held::Text | Held::Tick) && n.pass + 1 >= ctx.cumulative_pass_nr()
    })
}

/// Whether a key would be taken now: where the keyboard writes into a field, a letter is text, and its box is not shown.
pub fn works(ctx: &Context, hot: Hot) -> bool {
    if hot.with == With::Ctrl {
        return true;
    }
    let held = held(ctx);
    match hot.keys[0] {
        Key::Escape => !was_in_field(ctx),
        Key::F1 | Key::F2 | Key::F5 | Key::F6 | Key::F7 => true,
        Key::Enter => matches!(held, Held::Nothing | Held::Choice | Held::Tick | Held::Line),
        Key::Space => held == Held::Nothing,
        Key::PageUp | Key::PageDown => held != Held::Text,
        _ => !matches!(held, Held::Line | Held::Text),
    }
}

/// Takes a key out of the input, if it was pressed (not merely held down) and a screen may have it.
pub fn take(ui: &Ui, hot: Hot) -> bool {
    take_any(ui, hot, false)
}

/// Takes the key of an action of this name. A second stroke of Enter so soon that nobody can have read what it would do now is
/// taken for an accident, and dropped.
pub fn take_for(ui: &Ui, hot: Hot, name: &'static str) -> bool {
    /// Two strokes within so many seconds are one of a hand.
    const TWICE: f64 = 0.4;
    if !take(ui, hot) {
        return false;
    }
    if hot != ENTER {
        return true;
    }
    let now = ui.input(|i| i.time);
    let id = Id::new("enter-did");
    let before = ui.data_mut(|d| {
        let before: Option<(&'static str, f64)> = d.get_temp(id);
        d.insert_temp(id, (name, now));
        before
    });
    before.is_none_or(|(did, at)| did == name || now - at > TWICE)
}

/// Takes a key as [`take`] does, and again for as long as it is held down.
pub fn take_repeated(ui: &Ui, hot: Hot) -> bool {
    take_any(ui, hot, true)
}

/// Takes a key from inside a field of one line, for keys that mean nothing there: up and down.
pub fn take_in_line(ui: &Ui, hot: Hot) -> bool {
    held(ui.ctx()) == Held::Line && pull(ui, hot, true)
}

fn take_any(ui: &Ui, hot: Hot, repeats: bool) -> bool {
    works(ui.ctx(), hot) && pull(ui, hot, repeats)
}

fn pull(ui: &Ui, hot: Hot, repeats: bool) -> bool {
    let taken = ui.input_mut(|input| {
        let hit = |e: &Event| match e {
            Event::Key { key, pressed: true, repeat, modifiers, .. } => {
                let with = match hot.with {
                    With::Ctrl => modifiers.command,
                    With::Shift => modifiers.shift && !modifiers.command && !modifiers.alt,
                    With::Nothing => !modifiers.command && !modifiers.alt && (!modifiers.shift || !is_motion(*key)),
                };
                hot.keys.contains(key) && with && (repeats || !repeat)
            }
            _ => false,
        };
        let at = input.events.iter().position(hit)?;
        let Event::Key { key, .. } = input.events.remove(at) else { return None };
        // The same stroke also arrives as text, at once or in the next pass: it must not fall into a field that
        // is given the focus by it.
        let text = input.events.iter().skip(at).position(|e| is_text_of(e, key));
        if let Some(text) = text {
            input.events.remove(at + text);
        }
        Some((key, text.is_some()))
    });
    if let Some((key, false)) = taken {
        let pass = ui.ctx().cumulative_pass_nr();
        ui.data_mut(|d| d.insert_temp(stroke_id(), Stroke { key, pass }));
    }
    taken.is_some()
}

#[derive(Clone, Copy)]
struct Stroke {
    key: Key,
    pass: u64,
}

fn stroke_id() -> Id {
    Id::new("stroke-awaited-as-text")
}

fn is_text_of(event: &Event, key: Key) -> bool {
    matches!(event, Event::Text(text) if text.eq_ignore_ascii_case(key.symbol_or_name()))
}

/// Before anything else in a pass: drops the text of a stroke that was taken before it arrived. It is awaited
/// until the key is let go or another is pressed.
pub fn settle(ui: &Ui) {
    let Some(stroke) = ui.data(|d| d.get_temp::<Stroke>(stroke_id())) else { return };
    if stroke.pass == ui.ctx().cumulative_pass_nr() {
        return;
    }
    let settled = ui.input_mut(|i| {
        let text = i.events.iter().position(|e| is_text_of(e, stroke.key));
        if let Some(at) = text {
            i.events.remove(at);
        }
        text.is_some() || i.events.iter().any(|e| matches!(e, Event::Key { .. }))
    });
    if settled {
        ui.data_mut(|d| d.remove::<Stroke>(stroke_id()));
    }
}

fn is_motion(key: Key) -> bool {
    matches!(
        key,
        Key::ArrowUp | Key::ArrowDown | Key::ArrowLeft | Key::ArrowRight | Key::Backspace | Key::Enter | Key::Tab
    )
}

/// What the page in front offers by key; noted only while that page is being drawn.
#[derive(Clone, Default)]
struct Offers {
    noting: bool,
    lines: Vec<KeyLine>,
}

fn with_offers<R>(ctx: &Context, run: impl FnOnce(&mut Offers) -> R) -> R {
    ctx.data_mut(|d| run(d.get_temp_mut_or_default(Id::new("offered-by-key"))))
}

/// Draws a page, and notes anew what it offers by key.
pub fn noting_offers<R>(ui: &mut Ui, page: impl FnOnce(&mut Ui) -> R) -> R {
    with_offers(ui.ctx(), |offers| *offers = Offers { noting: true, lines: Vec::new() });
    let result = page(ui);
    with_offers(ui.ctx(), |offers| offers.noting = false);
    result
}

/// Whatever shows a key with what it does says so here, every pass: the list of keys is made from this.
pub fn offer(ctx: &Context, hot: Hot, does: &str) {
    with_offers(ctx, |offers| {
        let known = |line: &KeyLine| line.face == hot.face && line.does == does;
        if offers.noting && !offers.lines.iter().any(known) {
            offers.lines.push(KeyLine { face: Cow::Borrowed(hot.face), does: Cow::Owned(does.to_owned()) });
        }
    });
}

/// What the page in front offered by key when it was last drawn.
pub fn offers(ctx: &Context) -> Vec<KeyLine> {
    with_offers(ctx, |offers| offers.lines.clone())
}
