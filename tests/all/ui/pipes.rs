//! The colours of pipes: the standard's by medium, seen on both themes, each told from the others.
#![allow(clippy::disallowed_methods, reason = "the tests of colours name colours")]

use bedplate::domain::piping::Medium;
use bedplate::ui::theme::media::{Main, marking, name};
use bedplate::ui::theme::{NIGHT, SHEET};
use eframe::egui::Color32;
use toml::Table;

use crate::ui::look::contrast;

#[test]
fn each_medium_has_the_colour_of_the_standard() {
    let text = include_str!("../../reference/pipe-colours.toml");
    let table: Table = text.parse().expect("the reference is TOML");
    let row = |part: &str, name: &str| table[part].get(name).cloned();
    for medium in Medium::ALL {
        let held = &table["media"][medium.word()];
        let name = held.get("row").or(held.get("group")).and_then(|n| n.as_str()).expect("a row or a group");
        let wanted: Vec<String> = match (row("main", name), row("second", name)) {
            (Some(main), _) => vec![main.as_str().expect("a colour").to_owned()],
            (None, Some(pair)) => {
                pair.as_array().expect("two").iter().map(|c| c.as_str().expect("a colour").to_owned()).collect()
            }
            (None, None) => panic!("no row {name}"),
        };
        let (main, second) = marking(medium);
        let found: Vec<String> = [Some(main), second].into_iter().flatten().map(|c| c.word().to_owned()).collect();
        assert_eq!(found, wanted, "{}", medium.word());
    }
    assert_eq!(table["media"].as_table().expect("a table").len(), Medium::ALL.len());
}

#[test]
fn pipes_have_3_to_1_on_the_sheet_of_both_themes() {
    for main in Main::ALL {
        for (value, palette, theme) in [(main.values()[0], SHEET, "Sheet"), (main.values()[1], NIGHT, "Night")] {
            let ratio = contrast(value, palette.sheet);
            assert!(ratio >= 3.0, "{} on {theme} is {ratio:.2}", main.word());
        }
    }
}

#[test]
fn the_names_of_media_can_be_read() {
    for main in Main::ALL {
        for (theme, palette) in [SHEET, NIGHT].iter().enumerate() {
            let ratio = contrast(name(main, theme), palette.sheet);
            assert!(ratio >= 4.5, "{} in theme {theme} is {ratio:.2}", main.word());
        }
    }
}

/// Hue in degrees, and saturation and lightness from 0 to 1 (HSL).
fn hsl(color: Color32) -> (f64, f64, f64) {
    let [r, g, b] = [color.r(), color.g(), color.b()].map(|c| f64::from(c) / 255.0);
    let (high, low) = (r.max(g).max(b), r.min(g).min(b));
    let (lightness, span) = ((high + low) / 2.0, high - low);
    if span == 0.0 {
        return (0.0, 0.0, lightness);
    }
    let hue = match high {
        h if h == r => (g - b) / span,
        h if h == g => 2.0 + (b - r) / span,
        _ => 4.0 + (r - g) / span,
    };
    ((hue * 60.0).rem_euclid(360.0), span / (1.0 - (2.0 * lightness - 1.0).abs()), lightness)
}

#[test]
fn each_colour_is_what_its_word_says() {
    for main in Main::ALL {
        for value in main.values() {
            let (hue, saturation, _) = hsl(value);
            let right = match main {
                Main::Green => (100.0..170.0).contains(&hue) && saturation > 0.3,
                Main::Blue => (195.0..235.0).contains(&hue) && saturation > 0.4,
                Main::Brown => (18.0..38.0).contains(&hue) && (0.25..0.6).contains(&saturation),
                Main::Orange => (18.0..38.0).contains(&hue) && saturation > 0.7,
                Main::Red => !(10.0..=345.0).contains(&hue) && saturation > 0.6,
                Main::Yellow => (42.0..60.0).contains(&hue) && saturation > 0.6,
                Main::Silver | Main::Grey | Main::Black => saturation < 0.25,
            };
            assert!(right, "{} is {hue:.0}°, {saturation:.2}", main.word());
        }
    }
    // Silver is lighter than grey in both themes; black is the farthest from its sheet.
    for theme in [0, 1] {
        let lightness = |main: Main| hsl(main.values()[theme]).2;
        assert!(lightness(Main::Silver) > lightness(Main::Grey));
        let from_sheet = |main: Main| contrast(main.values()[theme], [SHEET, NIGHT][theme].sheet);
        assert!(Main::ALL.iter().all(|main| *main == Main::Black || from_sheet(*main) < from_sheet(Main::Black)));
    }
}

/// CIE L*a*b* of a colour of sRGB, white D65 (IEC 61966-2-1, CIE 15).
fn lab(color: Color32) -> [f64; 3] {
    let linear = |c: u8| {
        let c = f64::from(c) / 255.0;
        if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
    };
    let [r, g, b] = [color.r(), color.g(), color.b()].map(linear);
    let x = (0.4124564 * r + 0.3575761 * g + 0.1804375 * b) / 0.95047;
    let y = 0.2126729 * r + 0.7151522 * g + 0.0721750 * b;
    let z = (0.0193339 * r + 0.1191920 * g + 0.9503041 * b) / 1.08883;
    let f = |t: f64| if t > 216.0 / 24389.0 { t.cbrt() } else { (24389.0 / 27.0 * t + 16.0) / 116.0 };
    [116.0 * f(y) - 16.0, 500.0 * (f(x) - f(y)), 200.0 * (f(y) - f(z))]
}

#[test]
fn no_two_colours_of_a_theme_are_taken_for_one_another() {
    for theme in [0, 1] {
        for (n, a) in Main::ALL.iter().enumerate() {
            for b in &Main::ALL[n + 1..] {
                let (la, lb) = (lab(a.values()[theme]), lab(b.values()[theme]));
                let apart = (0..3).map(|i| (la[i] - lb[i]).powi(2)).sum::<f64>().sqrt();
                assert!(apart > 12.0, "{} and {} are {apart:.1} apart in theme {theme}", a.word(), b.word());
            }
        }
    }
}
