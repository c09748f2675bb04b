//! The two palettes.

use eframe::egui::Color32;

/// Colours by role.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Palette {
    /// Under everything.
    pub ground: Color32,
    /// Cards and tables.
    pub sheet: Color32,
    /// Under pictures, light in both themes, and their white.
    pub mount: Color32,
    /// Hover, selected, filled parts of a bar.
    pub raised: Color32,
    /// Separators only.
    pub hairline: Color32,
    /// Frames, fields, title block, axes, key boxes.
    pub line: Color32,
    /// Text.
    pub ink: Color32,
    /// Text of second rank.
    pub ink_second: Color32,
    /// Accent and primary action.
    pub bronze: Color32,
    /// Text on the accent.
    pub on_accent: Color32,
    /// Right, ready, open.
    pub sea: Color32,
    /// Weak, caution.
    pub amber: Color32,
    /// Wrong, safety-critical.
    pub red_lead: Color32,
}

/// Light.
pub const SHEET: Palette = Palette {
    ground: rgb(0xEF_EB_E2),
    sheet: rgb(0xFB_F9_F4),
    mount: rgb(0xFF_FF_FF),
    raised: rgb(0xF1_EC_DF),
    hairline: rgb(0xCF_C7_B6),
    line: rgb(0x85_7B_68),
    ink: rgb(0x1C_28_30),
    ink_second: rgb(0x55_62_6B),
    bronze: rgb(0x8A_5A_12),
    on_accent: rgb(0xFB_F9_F4),
    sea: rgb(0x14_68_5C),
    amber: rgb(0x8F_5E_00),
    red_lead: rgb(0xA5_30_1F),
};

/// Dark.
pub const NIGHT: Palette = Palette {
    ground: rgb(0x0F_16_1B),
    sheet: rgb(0x17_21_2A),
    mount: rgb(0xE8_E2_D5),
    raised: rgb(0x1F_2C_36),
    hairline: rgb(0x2E_3D_48),
    line: rgb(0x6C_7C_88),
    ink: rgb(0xE8_E2_D5),
    ink_second: rgb(0x9F_AA_B1),
    bronze: rgb(0xDD_A9_4B),
    on_accent: rgb(0x0F_16_1B),
    sea: rgb(0x5C_C0_AE),
    amber: rgb(0xE2_B3_54),
    red_lead: rgb(0xEE_7C_6B),
};

#[expect(clippy::disallowed_methods, reason = "the palette is where colours stand")]
pub(super) const fn rgb(hex: u32) -> Color32 {
    Color32::from_rgb((hex >> 16) as u8, (hex >> 8) as u8, hex as u8)
}
