//! How it looks, as far as a test can say: contrasts, signs, nothing cut off, nothing over another thing, the
//! primary action always in the window.
#![allow(clippy::disallowed_methods, reason = "the tests of colours name colours")]

use std::time::Duration;

use bedplate::app::program::command::{CardCommand, Command, LibraryCommand, WatchCommand};
use bedplate::app::program::route::Route;
use bedplate::domain::answer::Given;
use bedplate::domain::ids::DeckId;
use bedplate::present::View;
use bedplate::ui::theme::{Cut, NIGHT, Palette, SHEET, Size, font};
use eframe::egui::accesskit::Role;
use eframe::egui::{Color32, Key, Rect, Vec2};
use egui_kittest::kittest::Queryable;

use crate::support::window::{Ship, drawn, key, on};
use crate::ui::pictures::{PICTURED, loading, take_away};
use crate::ui::support::{Bench, SIZES};

/// Relative luminance after WCAG 2.2 (the definition of "relative luminance" in its glossary).
fn luminance(color: Color32) -> f64 {
    let channel = |c: u8| {
        let c = f64::from(c) / 255.0;
        if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
    };
    0.2126 * channel(color.r()) + 0.7152 * channel(color.g()) + 0.0722 * channel(color.b())
}

/// Contrast after WCAG 2.2.
pub fn contrast(a: Color32, b: Color32) -> f64 {
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

#[test]
fn contrast_is_the_one_of_the_recommendation() {
    assert!((contrast(Color32::WHITE, Color32::BLACK) - 21.0).abs() < 1e-9);
    // WCAG's own worked example: #777777 on white fails at 4.48.
    assert!((contrast(Color32::from_gray(0x77), Color32::WHITE) - 4.48).abs() < 0.01);
}

#[test]
fn text_has_4_5_to_1_and_lines_have_3_to_1() {
    let check = |name: &str, p: &Palette| {
        let grounds = [("ground", p.ground), ("sheet", p.sheet), ("raised", p.raised)];
        let inks = [
            ("ink", p.ink),
            ("second ink", p.ink_second),
            ("bronze", p.bronze),
            ("sea", p.sea),
            ("amber", p.amber),
            ("red lead", p.red_lead),
        ];
        for (ground_name, ground) in grounds {
            for (ink_name, ink) in inks {
                let ratio = contrast(ink, ground);
                assert!(ratio >= 4.5, "{name}: {ink_name} on {ground_name} is {ratio:.2}");
            }
            let ratio = contrast(p.line, ground);
            assert!(ratio >= 3.0, "{name}: line on {ground_name} is {ratio:.2}");
        }
        assert!(contrast(p.on_accent, p.bronze) >= 4.5, "{name}: on accent");
        let hovered = p.bronze.lerp_to_gamma(p.ink, 0.15);
        assert!(contrast(p.on_accent, hovered) >= 4.5, "{name}: on the hovered accent");
    };
    check("Sheet", &SHEET);
    check("Night", &NIGHT);
}

#[test]
fn the_faces_carry_every_sign_that_the_program_and_its_decks_use() {
    let ship = Ship::new();
    ship.go(Route::About);
    let bench = ship.manned();
    let signs = "≤ ≥ → ← ↑ ↓ ✓ Δ ν η λ ρ Ω ² ³ ₁ ₂ ° − × · – — ’ “ ” … ½ µ ± √ ≈ ⁻ ‰";
    let drawn = |cut, sign: char| {
        let font = font(Size::Body, cut);
        let galley = bench.harness.ctx.fonts_mut(|f| f.layout_no_wrap(sign.to_string(), font, Color32::BLACK));
        let glyph = galley.rows[0].glyphs[0].uv_rect;
        (glyph.min, glyph.max)
    };
    for cut in [Cut::Regular, Cut::Semi, Cut::Italic, Cut::Mono, Cut::MonoMedium] {
        // A sign of the private use area is in no face: it shows as the sign for what is missing.
        let missing = drawn(cut, '\u{E123}');
        for sign in signs.chars().filter(|c| !c.is_whitespace()) {
            assert_ne!(drawn(cut, sign), missing, "{cut:?} lacks {sign}");
        }
    }
}

/// A name, and what brings the ship's program to the screen that it names.
type Screen<'a> = (&'static str, Box<dyn Fn() + 'a>);

/// Every screen, in every state that looks different.
fn screens(ship: &Ship) -> Vec<Screen<'_>> {
    let lay = |card: &'static str| {
        move || {
            ship.lay(card);
        }
    };
    let give = |card: &'static str, given: Given| {
        move || {
            ship.lay(card).give(20, given.clone());
        }
    };
    let go = |route: Route| {
        move || {
            ship.go(route.clone());
        }
    };
    let typed = "the gear pump takes over and someone switches it off".to_owned();
    vec![
        ("front", Box::new(go(Route::Watch))),
        ("recall asked", Box::new(lay("priming-pump"))),
        (
            "recall shown",
            Box::new(move || {
                ship.lay("priming-pump").run(Command::Card(CardCommand::ShowPoints));
                for point in [1, 2, 4, 5] {
                    ship.run(Command::Card(CardCommand::Tick(point)));
                }
            }),
        ),
        ("recall typed", Box::new(give("priming-pump", Given::Text(typed)))),
        ("figure asked", Box::new(lay("full-air"))),
        ("figure marked", Box::new(give("full-air", Given::Text("3 bar".to_owned())))),
        ("why asked", Box::new(lay("blackout"))),
        ("why marked", Box::new(give("blackout", Given::Links(vec![1, 5, 3, 2])))),
        (
            "remedy",
            Box::new(move || {
                ship.remedy("earth-lamp");
                for _ in 0..3 {
                    ship.run(Command::Watch(WatchCommand::RemedyOn));
                }
            }),
        ),
        (
            "end",
            Box::new(move || {
                ship.lay("full-air").give(11, Given::Text("30 bar".to_owned())).run(Command::Card(CardCommand::Accept));
                assert!(matches!(ship.view().view, View::WatchEnd(_)));
            }),
        ),
        ("library", Box::new(go(Route::Library))),
        (
            "search",
            Box::new(move || {
                ship.go(Route::Library).run(Command::Library(LibraryCommand::Search("suction".to_owned())));
            }),
        ),
        ("deck", Box::new(go(Route::Deck(DeckId("marram-light".to_owned()))))),
        ("card", Box::new(go(Route::Card(key("earth-lamp"))))),
        ("profiles", Box::new(go(Route::Profiles))),
        ("settings", Box::new(go(Route::Settings))),
        ("about", Box::new(go(Route::About))),
        ("picture asked", Box::new(lay(PICTURED))),
        ("picture marked", Box::new(give(PICTURED, Given::Said(vec![1, 2])))),
        ("picture of a why", Box::new(lay("fuel-starved"))),
        ("picture on its page", Box::new(go(Route::Card(key(PICTURED))))),
    ]
}

#[test]
fn at_every_size_nothing_is_cut_or_covered_and_the_primary_action_is_in_the_window() {
    let ship = Ship::new();
    for (name, bring) in screens(&ship) {
        bring();
        for size in SIZES {
            fits(&ship.window(size), name, size);
        }
    }
    ship.lay("fuel-starved");
    let loading = loading(&ship);
    let new = Ship::unmanned();
    for size in SIZES {
        fits(&drawn(loading.clone(), size), "picture loading", size);
        fits(&new.window(size), "first run", size);
        fits(&on(ship.second(), size).0, "trouble", size);
    }
    take_away(&ship);
    ship.lay(PICTURED);
    for size in SIZES {
        fits(&ship.window(size), "picture failed", size);
    }
}

/// Nothing is cut at a side, nothing covered, the primary action is in the window, and nothing moves.
pub fn fits(bench: &Bench, name: &str, size: Vec2) {
    let place = format!("{name} at {size:?}");
    let window = Rect::from_min_size(Default::default(), size);
    let texts = bench.painted();
    assert!(texts.len() > 3, "{place} shows next to nothing");
    for (rect, clip, text) in &texts {
        let side = rect.left() >= clip.left() - 1.0 && rect.right() <= clip.right().min(window.right()) + 1.0;
        assert!(side, "{place}: “{text}” is cut at a side: {rect:?} in {clip:?}");
    }
    overlaps(&place, &texts);
    primary_action(bench, name, &place, window);
    idle(bench, &place);
}

fn overlaps(place: &str, texts: &[(Rect, Rect, String)]) {
    for (i, (a, clip_a, text_a)) in texts.iter().enumerate() {
        for (b, clip_b, text_b) in &texts[i + 1..] {
            // Lines are as high as their line height, their letters are not: a little overlap is none.
            let a = a.intersect(*clip_a).shrink2(Vec2::new(1.0, 4.0));
            let b = b.intersect(*clip_b).shrink2(Vec2::new(1.0, 4.0));
            let both = a.intersect(b);
            let over = both.width() > 0.0 && both.height() > 0.0;
            assert!(!over, "{place}: “{text_a}” and “{text_b}” lie over one another: {a:?} {b:?}");
        }
    }
}

fn primary_action(bench: &Bench, name: &str, place: &str, window: Rect) {
    let primary = [
        "Start the first watch",
        "Start the watch",
        "Show key points",
        "Accept",
        "Mark it",
        "Reading…",
        "Mark the order",
        "Mark this part",
        "Next part",
        "Run it",
        "Check",
        "Check again",
        "On with the watch",
        "To the front page",
        "Open the deck",
        "Open the card",
        "Set aside",
        "Open",
        "Report as PDF",
        "Try again",
        "To the watch",
        "Back to the deck",
        "Back to the card",
        "Look into it",
        "Yes, take it in",
        "To the library",
        "Answer it here",
        "Write this deck",
        "Write it into the card as a sample",
        "Save",
    ];
    let found = primary.iter().find_map(|p| bench.harness.query_by_role_and_label(Role::Button, p));
    match found {
        Some(node) => assert!(window.contains_rect(node.rect()), "{place}: {:?}", node.rect()),
        None => assert!(["settings", "about", "worksheet"].contains(&name), "{place} has no action"),
    }
}

/// Nothing is drawn while nothing happens: no frame is wanted before the program itself wants one, because a clock on the
/// screen will have moved on.
fn idle(bench: &Bench, place: &str) {
    let after = bench.harness.output().viewport_output.values().map(|v| v.repaint_delay).min();
    let wanted = bench.wanted.get().unwrap_or(Duration::from_secs(3600));
    assert!(wanted >= Duration::from_secs(1), "{place}: the program wants a frame after {wanted:?}");
    // The toolkit wakes a frame early.
    let early = Duration::from_millis(300);
    assert!(
        after.is_none_or(|d| d.saturating_add(early) >= wanted),
        "{place} wants a frame after {after:?}, the program after {wanted:?}"
    );
}

#[test]
fn the_outcome_stays_in_sight_whatever_the_size() {
    let ship = Ship::new();
    for size in SIZES {
        for (card, given) in [
            ("priming-pump", Given::Said(vec![])),
            ("full-air", Given::Text("3 bar".to_owned())),
            ("blackout", Given::Links(vec![5, 1])),
        ] {
            ship.lay(card).give(20, given);
            let bench = ship.window(size);
            let seen = bench
                .painted()
                .iter()
                .any(|(rect, clip, text)| text.starts_with("Missed") && clip.contains_rect(rect.shrink(2.0)));
            assert!(seen, "{card} at {size:?}");
        }
    }
}

#[test]
fn a_focused_field_does_not_blink() {
    let ship = Ship::new();
    ship.go(Route::Library);
    let mut bench = ship.manned();
    bench.key(Key::Slash).text("a");
    bench.harness.step();
    idle(&bench, "the search field");
}
