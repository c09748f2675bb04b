//! Type: sizes, cuts and line heights.

use eframe::egui::text::TextFormat;
use eframe::egui::{Color32, FontFamily, FontId};

/// The sizes, in points.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Size {
    /// 12: labels of the title block, column heads.
    Small,
    /// 14: values, second lines.
    Label,
    /// 16: body.
    Body,
    /// 20: headings.
    Head,
    /// 26: the prompt.
    Prompt,
    /// 34: one big figure or line per screen.
    Big,
}

/// The cuts of the two faces.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Cut {
    /// Source Sans 3, 400.
    Regular,
    /// Source Sans 3, 600.
    Semi,
    /// Source Sans 3, italic 400.
    Italic,
    /// Source Code Pro, 400.
    Mono,
    /// Source Code Pro, 500.
    MonoMedium,
}

impl Size {
    fn points(self) -> f32 {
        match self {
            Size::Small => 12.0,
            Size::Label => 14.0,
            Size::Body => 16.0,
            Size::Head => 20.0,
            Size::Prompt => 26.0,
            Size::Big => 34.0,
        }
    }
}

impl Cut {
    pub(super) fn family(self) -> FontFamily {
        match self {
            Cut::Regular => FontFamily::Proportional,
            Cut::Semi => FontFamily::Name("semi".into()),
            Cut::Italic => FontFamily::Name("italic".into()),
            Cut::Mono => FontFamily::Monospace,
            Cut::MonoMedium => FontFamily::Name("mono-medium".into()),
        }
    }
}

/// The font of a size and cut.
#[expect(clippy::disallowed_methods, reason = "the theme is where fonts stand")]
pub fn font(size: Size, cut: Cut) -> FontId {
    FontId::new(size.points(), cut.family())
}

/// The height of a line, in points.
pub fn line_height(size: Size) -> f32 {
    match size {
        Size::Small => 16.0,
        Size::Label => 20.0,
        Size::Body => 24.0,
        Size::Head => 28.0,
        Size::Prompt => 32.0,
        Size::Big => 40.0,
    }
}

/// A run of text.
pub fn format(size: Size, cut: Cut, color: Color32) -> TextFormat {
    TextFormat { font_id: font(size, cut), color, line_height: Some(line_height(size)), ..TextFormat::default() }
}

/// A run of text on a drawing that is seen at a scale; its line is as high as the letters need.
#[expect(clippy::disallowed_methods, reason = "the theme is where fonts stand")]
pub fn scaled(size: Size, cut: Cut, color: Color32, scale: f32) -> TextFormat {
    TextFormat { font_id: FontId::new(size.points() * scale, cut.family()), color, ..TextFormat::default() }
}
