//! The drawings that come with the program and their point cards: every part that has a name can be hit where it is
//! seen, by a painter that knows nothing of the outlines; what is drawn keeps to the manner of the house; and no look
//! gives its part away.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::PathBuf;

use bedplate::domain::answer::{Answer, Given, Pointed};
use bedplate::domain::card::Card;
use bedplate::domain::drawing::{Drawing, Pointing};
use bedplate::domain::kinds::{Body, Detail, Kind, point};
use bedplate::domain::marking::mark;
use bedplate::domain::outcome::Outcome;
use bedplate::svg;

use crate::support::bundled;

/// Dots for each unit of a drawing.
const FINE: f64 = 1.0;

/// A drawing of a deck with one card that asks for a part of it.
struct Sheet {
    path: PathBuf,
    text: String,
    card: Card,
}

impl Sheet {
    fn pointing(&self) -> &Pointing {
        let Body::Point(pointing) = &self.card.body else { panic!("{} is no point", self.card.key) };
        pointing
    }

    fn drawing(&self) -> &Drawing {
        &self.pointing().drawing
    }

    fn name(&self) -> String {
        self.path.file_name().expect("a name").to_string_lossy().into_owned()
    }

    /// The card, asking for another part.
    fn asking(&self, part: &str) -> Card {
        let pointing = Pointing { part: part.to_owned(), ..self.pointing().clone() };
        Card { body: Body::Point(pointing), ..self.card.clone() }
    }
}

fn point_cards() -> Vec<(PathBuf, Card)> {
    let cards = bundled::of_kind(Kind::Point).into_iter();
    cards.map(|card| (bundled::folder().join(&card.key.deck.0), card)).collect()
}

fn sheets() -> Vec<Sheet> {
    let mut sheets = BTreeMap::new();
    for (folder, card) in point_cards() {
        let Body::Point(pointing) = &card.body else { continue };
        let path = folder.join(&pointing.path);
        let text = fs::read_to_string(&path).expect("a drawing");
        sheets.entry(path.clone()).or_insert(Sheet { path, text, card });
    }
    sheets.into_values().collect()
}

fn answered(card: &Card, pointed: Pointed) -> (bool, Option<String>, Outcome) {
    let marking = mark(card, &Answer::of(Given::Pointed(pointed))).expect("marked");
    let Detail::Point(point::Told { hit, part }) = marking.detail else { panic!("{}", card.key) };
    (hit, part, marking.outcome)
}

/// Each dot's part: the drawing with every part in one colour of its own and with all that is no part left out, without
/// softened edges. It goes by the lines of the file, on each of which stands one element.
fn painted(sheet: &Sheet) -> (usize, Vec<Option<usize>>) {
    let mut text = String::new();
    let (mut part, mut inside) = (None, false);
    let mut ids = Vec::new();
    for line in sheet.text.lines() {
        let indented = line.starts_with("     ");
        if line.starts_with("    <g") {
            inside = true;
            part = line.split("id=\"").nth(1).and_then(|rest| rest.split('"').next());
            if let Some(id) = part {
                ids.push(id.to_owned());
                let colour = colour(ids.len());
                text += &format!("<g id=\"{id}\" fill=\"{colour}\" stroke=\"{colour}\">\n");
            }
        } else if line == "    </g>" {
            text += if part.is_some() { "</g>\n" } else { "" };
            (part, inside) = (None, false);
        } else if indented && inside {
            let mut pieces = line.split("=\"#");
            let mut own = pieces.next().unwrap_or_default().to_owned();
            for piece in pieces {
                own += &format!("=\"{}{}", colour(ids.len()), &piece[6..]);
            }
            text += if part.is_some() { &own } else { "" };
        } else {
            text += &line.replacen("<svg ", "<svg shape-rendering=\"crispEdges\" ", 1);
        }
    }
    let dots = svg::draw(text.as_bytes(), |w, h| ((f64::from(w) * FINE) as u32, (f64::from(h) * FINE) as u32));
    let dots = dots.unwrap_or_else(|fault| panic!("{}: {fault:?}", sheet.name()));
    let drawing = sheet.drawing();
    let numbers: Vec<usize> = ids.iter().map(|id| drawing.part(id).expect("a part")).collect();
    let of = |dot: &[u8]| (dot[3] != 0).then(|| numbers[usize::from(dot[0]) / 4 - 1]);
    (dots.width as usize, dots.rgba.chunks_exact(4).map(of).collect())
}

fn colour(n: usize) -> String {
    format!("#{:02x}0080", 4 * n)
}

/// For each part the dot of it that lies furthest from any other, with how far that is, and how many it has.
fn middles(width: usize, dots: &[Option<usize>], parts: usize) -> Vec<([f64; 2], usize, usize)> {
    let height = dots.len() / width;
    let mut deep = vec![0_usize; dots.len()];
    let near = |deep: &[usize], x: usize, y: usize, steps: &[(isize, isize)]| {
        let here = y * width + x;
        let at = |dx: isize, dy: isize| {
            let (x, y) = (x.checked_add_signed(dx)?, y.checked_add_signed(dy)?);
            (x < width && y < height).then_some(y * width + x)
        };
        let depth = |to: usize| if dots[to] == dots[here] { deep[to] } else { 0 };
        steps.iter().map(|(dx, dy)| at(*dx, *dy).map_or(0, depth)).min().unwrap_or(0) + 1
    };
    for y in 0..height {
        for x in 0..width {
            deep[y * width + x] = near(&deep, x, y, &[(-1, 0), (-1, -1), (0, -1), (1, -1)]);
        }
    }
    for y in (0..height).rev() {
        for x in (0..width).rev() {
            let back = near(&deep, x, y, &[(1, 0), (1, 1), (0, 1), (-1, 1)]);
            deep[y * width + x] = deep[y * width + x].min(back);
        }
    }
    let mut found = vec![([f64::NAN; 2], 0, 0); parts];
    for (n, part) in dots.iter().enumerate() {
        let Some(part) = part else { continue };
        found[*part].2 += 1;
        if deep[n] > found[*part].1 {
            let at = [((n % width) as f64 + 0.5) / FINE, ((n / width) as f64 + 0.5) / FINE];
            (found[*part].0, found[*part].1) = (at, deep[n]);
        }
    }
    found
}

fn with_room(job: impl FnOnce() + Send + 'static) {
    let thread = std::thread::Builder::new().stack_size(svg::STACK).spawn(job).expect("a thread");
    if let Err(panic) = thread.join() {
        std::panic::resume_unwind(panic);
    }
}

#[test]
fn there_are_drawings_and_cards_enough_and_each_asks_for_what_is_there() {
    let cards = point_cards();
    assert!(cards.len() >= 45, "{}", cards.len());
    assert!(sheets().len() >= 10, "{}", sheets().len());
    for (_, card) in &cards {
        let Body::Point(pointing) = &card.body else { continue };
        let target = pointing.target().unwrap_or_else(|| panic!("{}", card.key));
        assert!(pointing.drawing.can_be_found(target), "{}", card.key);
        let parts = &pointing.drawing.parts;
        assert!((8..=24).contains(&parts.len()), "{}: {} parts", card.key, parts.len());
        assert_eq!(pointing.drawing.told_apart(target).map(|choice| choice.len()), Ok(parts.len()), "{}", card.key);
        for part in parts {
            let (hit, named, outcome) = answered(card, Pointed::Part(part.id.clone()));
            let right = part.id == pointing.part;
            assert_eq!((hit, named.as_deref()), (right, Some(part.id.as_str())), "{}", card.key);
            assert_eq!(outcome, if right { Outcome::Answered } else { Outcome::Missed }, "{}", card.key);
        }
    }
}

#[test]
fn every_part_is_hit_where_it_is_seen_and_every_other_misses_it() {
    with_room(|| {
        for sheet in sheets() {
            let drawing = sheet.drawing();
            let (width, dots) = painted(&sheet);
            let middles = middles(width, &dots, drawing.parts.len());
            for (part, (at, deep, seen)) in drawing.parts.iter().zip(&middles) {
                // At half its size a part still has some dots in which the pointer can stand.
                assert!(*deep >= 3 && *seen >= 180, "{}: {} is {deep} deep, {seen} dots", sheet.name(), part.id);
                let card = sheet.asking(&part.id);
                let (hit, named, _) = answered(&card, Pointed::At(*at));
                assert!(hit, "{}: {} at {at:?} is {named:?}", sheet.name(), part.id);
                for other in &drawing.parts {
                    let (hit, named, _) = answered(&sheet.asking(&other.id), Pointed::At(*at));
                    assert_eq!(
                        (hit, named.as_deref()),
                        (other.id == part.id, Some(part.id.as_str())),
                        "{}",
                        sheet.name()
                    );
                }
            }
        }
    });
}

#[test]
fn what_is_painted_and_what_is_hit_agree() {
    with_room(|| {
        for sheet in sheets() {
            let drawing = sheet.drawing();
            let (width, dots) = painted(&sheet);
            let mut same = vec![[0_u32; 2]; drawing.parts.len()];
            for (n, part) in dots.iter().enumerate().filter(|(n, _)| (n / width).is_multiple_of(4)) {
                let Some(part) = part else { continue };
                let at = [((n % width) as f64 + 0.5) / FINE, ((n / width) as f64 + 0.5) / FINE];
                same[*part][usize::from(drawing.part_at(at) == Some(*part))] += 1;
            }
            for (part, [other, own]) in drawing.parts.iter().zip(&same) {
                // Thin lines count wider than they are drawn, so that edges differ.
                let share = f64::from(*own) / f64::from(own + other);
                assert!(share > 0.7, "{}: {} {share:.2}", sheet.name(), part.id);
            }
        }
    });
}

/// The pressure lifts the needle at its shoulder, so who points there is right. The shoulder lies where the rod grows
/// thick inside the chamber, from 196 to 206 across the sheet; the rod on either side of it is the needle.
#[test]
fn the_shoulder_of_the_injectors_needle_is_where_the_pressure_takes_hold() {
    let cards = point_cards();
    let (_, card) = cards.iter().find(|(_, c)| c.key.card == "injector-chamber").expect("the injector's card");
    for at in [[201.0, 240.0], [201.0, 250.0], [201.0, 260.0], [190.0, 232.0], [190.0, 268.0]] {
        let (hit, named, outcome) = answered(card, Pointed::At(at));
        assert!(hit && outcome == Outcome::Answered, "{at:?} is {named:?}");
    }
    for at in [[150.0, 250.0], [185.0, 250.0], [240.0, 250.0]] {
        let (hit, named, _) = answered(card, Pointed::At(at));
        assert_eq!((hit, named.as_deref()), (false, Some("needle")), "{at:?}");
    }
}

/// Words that are in so many names or looks that they give nothing away.
const COMMON: [&str; 21] = [
    "valve", "valves", "the", "and", "for", "with", "part", "pump", "water", "steam", "pipe", "oil", "gas", "air",
    "box", "ring", "cock", "piston", "plate", "bearing", "plates",
];

#[test]
fn no_look_says_its_name_and_every_sheet_has_its_words() {
    for sheet in sheets() {
        let name = sheet.name();
        let mut names = BTreeSet::new();
        for part in &sheet.drawing().parts {
            assert!(names.insert(part.name.to_lowercase()), "{name}: two parts are called {}", part.name);
            let look = part.look.as_deref().unwrap_or_default();
            assert!(look.split_whitespace().count() >= 6, "{name}: {} looks like {look:?}", part.id);
            assert!(!look.to_lowercase().contains(&part.name.to_lowercase()), "{name}: {look}");
            let words = |text: &str| -> BTreeSet<String> {
                let words = text.split(|c: char| !c.is_alphanumeric()).filter(|w| w.len() > 3);
                words.map(str::to_lowercase).collect()
            };
            let told: Vec<String> = words(&part.name).intersection(&words(look)).cloned().collect();
            let own = words(&part.name).into_iter().filter(|w| !COMMON.contains(&w.as_str())).collect::<BTreeSet<_>>();
            let all = !own.is_empty() && own.iter().all(|word| told.contains(word));
            assert!(!all, "{name}: the look of {} gives {told:?} away: {look}", part.id);
        }
        let head = sheet.text.lines().next().unwrap_or_default();
        assert!(head.contains(" role=\"img\" aria-label=\"") && head.contains(" viewBox=\"0 0 880 480\""), "{name}");
        assert!(sheet.text.contains("\n  <title>") && sheet.text.contains("\n  <desc>"), "{name}");
    }
}

/// Ink, second ink, ground, and the two colours that stand for water and for oil or heat. No green and no red: those
/// say after the answer what was right.
const COLOURS: [&str; 5] = ["1C2830", "55626B", "FBF9F4", "2F5D86", "8A5A12"];

#[test]
fn the_sheets_keep_to_the_manner_of_the_house() {
    for sheet in sheets() {
        let name = sheet.name();
        for value in sheet.text.split("=\"#").skip(1) {
            assert!(COLOURS.contains(&&value[..6]), "{name}: #{}", &value[..6]);
        }
        for width in sheet.text.split("stroke-width=\"").skip(1) {
            let width: f64 = width.split('"').next().and_then(|w| w.parse().ok()).expect("a width");
            assert!(width >= 1.0, "{name}: a line of {width}");
        }
        for shunned in ["<text", "Gradient", "<filter", "opacity", "<image", "href", "style=", "class="] {
            assert!(!sheet.text.contains(shunned), "{name}: {shunned}");
        }
        assert!(sheet.text.len() < 100_000, "{name}: {} bytes", sheet.text.len());
    }
}
