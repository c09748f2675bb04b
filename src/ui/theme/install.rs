//! Hands fonts, colours and spacing to egui, and follows the learner's choices.

use std::sync::Arc;

use eframe::egui::{
    self, Context, CornerRadius, FontData, FontDefinitions, Stroke, Theme, ThemePreference, Vec2, Visuals,
};

use crate::domain::settings::ThemeChoice;
use crate::faces;
use crate::ui::theme::{Cut, NIGHT, Palette, SHEET, Size, font, measure};

/// Once, when the window opens.
pub fn install(ctx: &Context) {
    ctx.set_fonts(fonts());
    ctx.options_mut(|o| {
        o.zoom_with_keyboard = false;
        o.fallback_theme = Theme::Light;
    });
    for (theme, palette) in [(Theme::Light, &SHEET), (Theme::Dark, &NIGHT)] {
        ctx.set_visuals_of(theme, visuals(theme, palette));
        ctx.style_mut_of(theme, |style| {
            style.text_styles.values_mut().for_each(|f| *f = font(Size::Body, Cut::Regular));
            style.spacing.item_spacing = Vec2::ZERO;
            style.spacing.interact_size = Vec2::splat(measure::S24);
            style.interaction.selectable_labels = false;
            style.spacing.scroll = egui::style::ScrollStyle {
                bar_width: measure::S8,
                floating_width: measure::S4,
                bar_inner_margin: 0.0,
                bar_outer_margin: 1.0,
                foreground_color: false,
                fade: egui::style::ScrollFadeStyle { strength: 0.0, ..Default::default() },
                ..egui::style::ScrollStyle::floating()
            };
        });
    }
}

/// Before every frame: theme, scale, motion.
pub fn apply(ctx: &Context, theme: ThemeChoice, scale_percent: u32, still: bool) {
    let preference = match theme {
        ThemeChoice::System => ThemePreference::System,
        ThemeChoice::Sheet => ThemePreference::Light,
        ThemeChoice::Night => ThemePreference::Dark,
    };
    if ctx.options(|o| o.theme_preference) != preference {
        ctx.set_theme(preference);
    }
    let zoom = scale_percent.clamp(80, 200) as f32 / 100.0;
    if (ctx.zoom_factor() - zoom).abs() > f32::EPSILON {
        ctx.set_zoom_factor(zoom);
    }
    let motion = if still { 0.0 } else { 0.12 };
    if ctx.global_style().animation_time != motion {
        ctx.all_styles_mut(|style| {
            style.animation_time = motion;
            style.scroll_animation = if still {
                egui::style::ScrollAnimation::none()
            } else {
                egui::style::ScrollAnimation::duration(motion)
            };
        });
    }
}

fn fonts() -> FontDefinitions {
    let mut fonts = FontDefinitions::empty();
    let files: [(&str, &'static [u8]); 5] = [
        ("sans", faces::SANS),
        ("sans-semi", faces::SANS_SEMI),
        ("sans-italic", faces::SANS_ITALIC),
        ("code", faces::CODE),
        ("code-medium", faces::CODE_MEDIUM),
    ];
    for (name, bytes) in files {
        fonts.font_data.insert(name.to_owned(), Arc::new(FontData::from_static(bytes)));
    }
    for (cut, first) in [
        (Cut::Regular, "sans"),
        (Cut::Semi, "sans-semi"),
        (Cut::Italic, "sans-italic"),
        (Cut::Mono, "code"),
        (Cut::MonoMedium, "code-medium"),
    ] {
        let mut names = vec![first.to_owned()];
        names.extend(["sans", "code"].iter().filter(|n| **n != first).map(|n| (*n).to_owned()));
        fonts.families.insert(cut.family(), names);
    }
    fonts
}

fn visuals(theme: Theme, p: &Palette) -> Visuals {
    let mut v = if theme == Theme::Dark { Visuals::dark() } else { Visuals::light() };
    let corner = CornerRadius::same(measure::CORNER);
    for w in [
        &mut v.widgets.noninteractive,
        &mut v.widgets.inactive,
        &mut v.widgets.hovered,
        &mut v.widgets.active,
        &mut v.widgets.open,
    ] {
        w.bg_fill = p.line;
        w.weak_bg_fill = p.raised;
        w.bg_stroke = Stroke::new(measure::LINE, p.line);
        w.fg_stroke = Stroke::new(measure::LINE, p.ink);
        w.corner_radius = corner;
        w.expansion = 0.0;
    }
    v.widgets.hovered.bg_fill = p.ink_second;
    v.widgets.active.bg_fill = p.bronze;
    v.override_text_color = Some(p.ink);
    v.weak_text_color = Some(p.ink_second);
    v.selection.bg_fill = if theme == Theme::Dark { p.line } else { p.hairline };
    v.selection.stroke = Stroke::new(measure::LINE, p.ink);
    v.hyperlink_color = p.bronze;
    v.faint_bg_color = p.raised;
    v.extreme_bg_color = p.sheet;
    v.code_bg_color = p.raised;
    v.warn_fg_color = p.amber;
    v.error_fg_color = p.red_lead;
    v.window_corner_radius = corner;
    v.menu_corner_radius = corner;
    v.window_shadow = egui::Shadow::NONE;
    v.popup_shadow = egui::Shadow::NONE;
    v.window_fill = p.sheet;
    v.window_stroke = Stroke::new(measure::LINE, p.line);
    v.panel_fill = p.ground;
    v.text_cursor.blink = false;
    v.text_cursor.stroke = Stroke::new(measure::FOCUS, p.ink);
    v
}
