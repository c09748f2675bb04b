//! Names and states beside their symbols: where each could stand, and what stands in its way there. Pure.

use eframe::egui::{Pos2, Rect, Vec2, pos2, vec2};

use crate::ui::schematic::model::{Symbol, Text, broken};

/// On which side of its symbol a label stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Under it, centred.
    Below,
    /// Over it, centred.
    Above,
    /// At its right.
    Right,
    /// At its left.
    Left,
    /// Under it and to the right, where a pipe runs down.
    BelowRight,
    /// Under it and to the left.
    BelowLeft,
    /// Over it and to the right.
    AboveRight,
    /// Over it and to the left.
    AboveLeft,
}

impl Side {
    const ALL: [Side; 8] = [
        Side::Below,
        Side::Above,
        Side::Right,
        Side::Left,
        Side::BelowRight,
        Side::AboveRight,
        Side::BelowLeft,
        Side::AboveLeft,
    ];

    /// The lines stand one under the other: by their middle (0), their left (-1) or their right edge (1).
    pub fn align(self) -> f32 {
        match self {
            Side::Below | Side::Above => 0.0,
            Side::Right | Side::BelowRight | Side::AboveRight => -1.0,
            Side::Left | Side::BelowLeft | Side::AboveLeft => 1.0,
        }
    }

    /// How much another side would be liked better, in points of growth.
    fn dislike(self) -> f32 {
        match self {
            Side::Below => 0.0,
            Side::Above => 3.0,
            Side::Right => 5.0,
            Side::Left => 7.0,
            Side::BelowRight | Side::AboveRight => 10.0,
            Side::BelowLeft | Side::AboveLeft => 12.0,
        }
    }
}

/// A name, and under it the state, at a place.
#[derive(Debug, Clone, PartialEq)]
pub struct Label {
    /// The name, line by line.
    pub lines: Vec<String>,
    /// Where the state stands, where it has one.
    pub state: Option<StateAt>,
    /// On which side of the symbol.
    pub side: Side,
    /// Where.
    pub rect: Rect,
}

/// Where the state stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum StateAt {
    /// On a line of its own under the name.
    Under,
    /// Behind the name, so far from its beginning: where height is dear.
    Behind(f32),
}

/// From a symbol to its label.
const GAP: f32 = 3.0;
/// From the middle of a symbol to a label over it or under it, at least.
const LEVEL: f32 = 22.0;
/// Between a name and the state behind it.
const BEHIND: f32 = 6.0;
/// From a pipe to a label in the corner beside it.
const ASIDE: f32 = 7.0;
/// The longest line that is not broken.
const LONG: f32 = 140.0;

/// A place where a label could stand, around the symbol's centre.
#[derive(Debug, Clone)]
pub(super) struct Choice {
    pub label: Label,
    /// How much less it is liked than the best one.
    pub dislike: f32,
}

/// Everything that a symbol's label could be; empty where it has none.
pub(super) fn choices(symbol: &Symbol, reach: Rect, width: &dyn Fn(&str, Text) -> f32) -> Vec<Choice> {
    if symbol.name.is_empty() || super::model::named_inside(symbol.kind) {
        return Vec::new();
    }
    let state = symbol.states.iter().map(|s| width(s, Text::State)).fold(0.0, f32::max);
    let name = |text: &str| width(text, Text::Name);
    let mut out = Vec::new();
    let mut before = usize::MAX;
    for rows in 1..=4 {
        let lines = broken(&symbol.name, rows, &name);
        if lines.len() == before {
            break;
        }
        before = lines.len();
        let names = lines.iter().map(|l| name(l)).fold(0.0, f32::max).ceil();
        let high = lines.len() as f32 * Text::Name.line();
        let behind = names + BEHIND;
        let sizes = match state > 0.0 {
            false => vec![(vec2(names, high), None, 0.0)],
            true => vec![
                (vec2(names.max(state).ceil(), high + Text::State.line()), Some(StateAt::Under), 0.0),
                (vec2((behind + state).ceil(), high), Some(StateAt::Behind(behind)), 4.0),
            ],
        };
        for (size, state, dislike) in
            sizes.into_iter().filter(|(_, at, _)| *at == Some(StateAt::Under) || at.is_none() || rows == 1)
        {
            let long = if size.x > LONG && rows < 4 && !matches!(state, Some(StateAt::Behind(_))) { 20.0 } else { 0.0 };
            for side in Side::ALL {
                let label = Label { lines: lines.clone(), state, side, rect: beside(reach, side, size) };
                out.push(Choice { label, dislike: side.dislike() + 2.5 * (rows - 1) as f32 + long + dislike });
            }
        }
    }
    out
}

fn beside(reach: Rect, side: Side, size: Vec2) -> Rect {
    // Names in a row stand at one height, whatever is over them.
    let (low, high) = ((reach.bottom() + GAP).max(LEVEL), (reach.top() - GAP).min(-LEVEL) - size.y);
    let center = reach.center();
    let min: Pos2 = match side {
        Side::Below => pos2(center.x - size.x / 2.0, low),
        Side::Above => pos2(center.x - size.x / 2.0, high),
        Side::Right => pos2(reach.right() + 2.0 * GAP, center.y - size.y / 2.0),
        Side::Left => pos2(reach.left() - 2.0 * GAP - size.x, center.y - size.y / 2.0),
        Side::BelowRight => pos2(ASIDE, low),
        Side::BelowLeft => pos2(-ASIDE - size.x, low),
        Side::AboveRight => pos2(ASIDE, high),
        Side::AboveLeft => pos2(-ASIDE - size.x, high),
    };
    Rect::from_min_size(min, size)
}

/// Something that a label must not lie over, with the columns and rows that it hangs on.
#[derive(Debug, Clone, Copy)]
pub(super) struct Thing {
    pub rect: Rect,
    pub cols: (usize, usize),
    pub rows: (usize, usize),
}

/// More room between two columns, or two rows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Wish {
    pub level: bool,
    pub from: usize,
    pub to: usize,
    pub more: f32,
}

/// How dear a point of growth is in each direction.
#[derive(Debug, Clone, Copy)]
pub(super) struct Price {
    pub x: f32,
    pub y: f32,
}

/// What it would take to move two things apart that overlap: the cheaper way, with its price. None where no growth
/// of the grid can do it.
pub(super) fn apart(mine: &Thing, other: &Thing, price: Price) -> Option<(Wish, f32)> {
    let both = mine.rect.intersect(other.rect);
    debug_assert!(both.width() > 0.0 && both.height() > 0.0, "they overlap");
    let along = |level: bool| {
        let (a, b) = if level { (mine.cols, other.cols) } else { (mine.rows, other.rows) };
        let (low_a, high_a, low_b, high_b) = if level {
            (mine.rect.left(), mine.rect.right(), other.rect.left(), other.rect.right())
        } else {
            (mine.rect.top(), mine.rect.bottom(), other.rect.top(), other.rect.bottom())
        };
        // Mine before the other, or after it: where the grid has them in that order.
        let before = (a.1 < b.0).then_some(Wish { level, from: a.1, to: b.0, more: high_a - low_b });
        let after = (b.1 < a.0).then_some(Wish { level, from: b.1, to: a.0, more: high_b - low_a });
        before.or(after)
    };
    let cost = |wish: &Wish| wish.more * if wish.level { price.x } else { price.y };
    [along(true), along(false)].into_iter().flatten().map(|wish| (wish, cost(&wish))).min_by(|a, b| a.1.total_cmp(&b.1))
}

/// Whether two rectangles lie over one another.
pub(super) fn overlap(a: Rect, b: Rect) -> bool {
    a.left() < b.right() && b.left() < a.right() && a.top() < b.bottom() && b.top() < a.bottom()
}
