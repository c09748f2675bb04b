//! Icons of the rail and the program's own sign, drawn as lines so that they are crisp at every scale.

use eframe::egui::{Color32, CornerRadius, Painter, Pos2, Rect, Shape, Stroke, StrokeKind, Vec2, pos2, vec2};

/// An icon of the rail.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Icon {
    /// A clock.
    Watch,
    /// A speech bubble.
    Oral,
    /// A table.
    Competence,
    /// A line that rises between two axes.
    Plan,
    /// A box of decks.
    Library,
    /// Two people.
    Class,
    /// Ruled lines with a sum under them.
    Worksheet,
    /// Two sliders.
    Settings,
    /// An `i` in a ring.
    About,
    /// A person.
    Learner,
}

/// Paints an icon 16 high around a centre.
pub fn icon(painter: &Painter, center: Pos2, icon: Icon, color: Color32) {
    let s = Stroke::new(1.5, color);
    let at = |x: f32, y: f32| center + vec2(x, y);
    match icon {
        Icon::Watch => {
            painter.circle_stroke(center, 8.0, s);
            painter.add(Shape::line(vec![at(0.0, -5.0), at(0.0, 0.5), at(3.5, 2.5)], s));
        }
        Icon::Oral => {
            let body = Rect::from_min_max(at(-7.5, -7.0), at(7.5, 4.0));
            painter.rect_stroke(body, CornerRadius::same(1), s, StrokeKind::Middle);
            painter.add(Shape::line(vec![at(-4.0, 4.0), at(-4.0, 8.0), at(0.0, 4.0)], s));
        }
        Icon::Competence => {
            let body = Rect::from_min_max(at(-7.0, -7.0), at(7.0, 7.0));
            painter.rect_stroke(body, CornerRadius::same(1), s, StrokeKind::Middle);
            painter.line_segment([at(-7.0, -2.5), at(7.0, -2.5)], s);
            painter.line_segment([at(-7.0, 2.5), at(7.0, 2.5)], s);
            painter.line_segment([at(-2.0, -7.0), at(-2.0, 7.0)], s);
        }
        Icon::Plan => {
            painter.line(vec![at(-7.0, -7.0), at(-7.0, 7.0), at(7.0, 7.0)], s);
            painter.line(vec![at(-4.0, 3.0), at(-1.0, -1.0), at(2.0, 1.0), at(6.0, -5.0)], s);
        }
        Icon::Library => {
            let body = Rect::from_min_max(at(-6.5, -3.0), at(6.5, 8.0));
            painter.rect_stroke(body, CornerRadius::same(1), s, StrokeKind::Middle);
            painter.line_segment([at(-5.0, -5.5), at(5.0, -5.5)], s);
            painter.line_segment([at(-3.5, -8.0), at(3.5, -8.0)], s);
        }
        Icon::Class => {
            for (x, y) in [(-3.5, 0.0), (4.5, -1.5)] {
                painter.circle_stroke(at(x, y - 3.5), 2.8, s);
                painter.add(Shape::line(arc(at(x, y + 7.0), 4.5, 5.5, 180.0, 360.0), s));
            }
        }
        Icon::Worksheet => {
            let body = Rect::from_min_max(at(-6.5, -8.0), at(6.5, 8.0));
            painter.rect_stroke(body, CornerRadius::same(1), s, StrokeKind::Middle);
            for (y, left) in [(-4.0, -3.5), (-0.5, -3.5), (4.5, 0.5)] {
                painter.line_segment([at(left, y), at(3.5, y)], s);
            }
            painter.line_segment([at(-3.5, 2.0), at(3.5, 2.0)], Stroke::new(1.0, color));
        }
        Icon::Settings => {
            for (y, knob) in [(-4.0, 3.0), (4.0, -3.0)] {
                painter.line_segment([at(-8.0, y), at(knob - 2.5, y)], s);
                painter.line_segment([at(knob + 2.5, y), at(8.0, y)], s);
                painter.circle_stroke(at(knob, y), 2.5, s);
            }
        }
        Icon::About => {
            painter.circle_stroke(center, 8.0, s);
            painter.line_segment([at(0.0, -0.5), at(0.0, 4.5)], s);
            painter.circle_filled(at(0.0, -3.8), 1.2, color);
        }
        Icon::Learner => {
            painter.circle_stroke(at(0.0, -4.0), 3.5, s);
            painter.add(Shape::line(arc(at(0.0, 8.0), 7.0, 7.0, 180.0, 360.0), s));
        }
    }
}

/// The program's sign: a bedplate with a shaft in its bearing.
pub fn logo(painter: &Painter, center: Pos2, ink: Color32, accent: Color32) {
    let s = Stroke::new(1.6, ink);
    let at = |x: f32, y: f32| center + vec2(x, y);
    painter.line_segment([at(-10.5, 7.0), at(10.5, 7.0)], s);
    for side in [-1.0, 1.0] {
        let points = vec![at(side * 8.0, 7.0), at(side * 8.0, -3.0), at(side * 4.5, -3.0)];
        painter.add(Shape::line(points, s));
    }
    painter.add(Shape::line(arc(at(0.0, -3.0), 4.5, 4.5, 0.0, 180.0), s));
    painter.circle_filled(at(0.0, -3.4), 2.4, accent);
}

fn arc(center: Pos2, rx: f32, ry: f32, from_degrees: f32, to_degrees: f32) -> Vec<Pos2> {
    let steps = 16;
    (0..=steps)
        .map(|i| {
            let a = (from_degrees + (to_degrees - from_degrees) * i as f32 / steps as f32).to_radians();
            pos2(center.x, center.y) + Vec2::new(rx * a.cos(), ry * a.sin())
        })
        .collect()
}
