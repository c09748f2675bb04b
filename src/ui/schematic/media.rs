//! The media's names on their pipes: each medium at least once, on the longest pipe that has room for it. Pure.

use eframe::egui::{Pos2, Rect, Vec2, pos2, vec2};

use crate::domain::piping::Medium;
use crate::ui::schematic::labels::overlap;
use crate::ui::schematic::model::{Model, Text, medium_text};
use crate::ui::schematic::routes::Route;

/// A medium's name on a pipe.
#[derive(Debug, Clone, PartialEq)]
pub struct MediumLabel {
    /// Which.
    pub medium: Medium,
    /// On which pipe.
    pub pipe: usize,
    /// Where.
    pub rect: Rect,
}

/// From a pipe to the name on it.
const OFF: f32 = 6.0;
/// A medium is named again on a pipe so far from where it is named already.
const AGAIN: f32 = 340.0;
/// How often at most.
const TIMES: usize = 3;

/// Names the media. Where one finds no place, says how much longer a pipe of it would have to be.
pub(super) fn name_media(
    model: &Model,
    routes: &[Route],
    taken: &[Rect],
    width: &dyn Fn(&str, Text) -> f32,
) -> (Vec<MediumLabel>, Option<(usize, f32)>) {
    let mut named: Vec<MediumLabel> = Vec::new();
    let mut wish = None;
    for medium in model.media() {
        let (words, text) = medium_text(medium);
        let size = vec2(width(words, text).ceil(), text.line());
        let mut pipes: Vec<usize> = (0..routes.len()).filter(|p| model.lines[*p].medium == Some(medium)).collect();
        pipes.sort_by(|a, b| longest(&routes[*b]).total_cmp(&longest(&routes[*a])).then(a.cmp(b)));
        let mut places: Vec<Pos2> = Vec::new();
        for pipe in &pipes {
            let free = |rect: &Rect| {
                !taken.iter().any(|t| overlap(*t, *rect))
                    && !named.iter().any(|n| overlap(n.rect, *rect))
                    && places.iter().all(|at| (*at - rect.center()).length() >= AGAIN)
            };
            let Some(rect) = spots(&routes[*pipe], size).into_iter().find(free) else { continue };
            places.push(rect.center());
            named.push(MediumLabel { medium, pipe: *pipe, rect });
            if places.len() == TIMES {
                break;
            }
        }
        if places.is_empty()
            && wish.is_none()
            && let Some(pipe) = pipes.iter().max_by(|a, b| level(&routes[**a]).total_cmp(&level(&routes[**b])))
        {
            wish = Some((*pipe, (size.x + 8.0 - level(&routes[*pipe])).max(12.0)));
        }
    }
    (named, wish)
}

fn longest(route: &Route) -> f32 {
    route.parts().map(|(a, b)| (b - a).length()).fold(0.0, f32::max)
}

/// The longest level part.
fn level(route: &Route) -> f32 {
    route.parts().filter(|(a, b)| a.y == b.y).map(|(a, b)| (b.x - a.x).abs()).fold(0.0, f32::max)
}

/// Where a name could stand on a pipe, the best first: over a level part or under it, beside an upright one.
fn spots(route: &Route, size: Vec2) -> Vec<Rect> {
    let mut parts: Vec<(Pos2, Pos2)> = route.parts().collect();
    parts.sort_by(|a, b| {
        let (la, lb) = (a.0.y == a.1.y, b.0.y == b.1.y);
        lb.cmp(&la).then((b.1 - b.0).length().total_cmp(&(a.1 - a.0).length()))
    });
    let mut out = Vec::new();
    for (a, b) in parts {
        let whole = Rect::from_two_pos(a, b);
        for share in [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9] {
            let at = a + (b - a) * share;
            if a.y == b.y {
                let left = (at.x - size.x / 2.0).max(whole.left()).min((whole.right() - size.x).max(whole.left()));
                if whole.width() >= size.x {
                    out.push(Rect::from_min_size(pos2(left, at.y - OFF - size.y), size));
                    out.push(Rect::from_min_size(pos2(left, at.y + OFF), size));
                }
            } else if whole.height() >= size.y {
                let top = (at.y - size.y / 2.0).max(whole.top()).min(whole.bottom() - size.y);
                out.push(Rect::from_min_size(pos2(at.x + OFF + 2.0, top), size));
                out.push(Rect::from_min_size(pos2(at.x - OFF - 2.0 - size.x, top), size));
            }
        }
    }
    out
}
