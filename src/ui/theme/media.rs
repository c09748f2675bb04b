//! The colours of pipes by what is in them: the main colours of ISO 14726:2008, each with a value for either theme.
//!
//! Where the standard marks a medium with a second colour (main, second, main), so does the mark on its pipe. It has
//! silver, white and black: on paper silver is a cool grey, and at night black is light, as ink is.

use eframe::egui::{Color32, Ui};

use crate::domain::piping::Medium;
use crate::ui::theme::palette::{NIGHT, SHEET, rgb};

/// A main colour of the standard.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Main {
    /// Sea water.
    Green,
    /// Fresh water.
    Blue,
    /// Fuel.
    Brown,
    /// Oils other than fuel.
    Orange,
    /// Steam.
    Silver,
    /// Fire fighting.
    Red,
    /// Gases that do not burn.
    Grey,
    /// Gases that burn; a second colour of condensate.
    Yellow,
    /// Waste: bilge water, waste oil, exhaust gas.
    Black,
}

impl Main {
    /// Every one that is used.
    pub const ALL: [Main; 9] = [
        Main::Green,
        Main::Blue,
        Main::Brown,
        Main::Orange,
        Main::Silver,
        Main::Red,
        Main::Grey,
        Main::Yellow,
        Main::Black,
    ];

    /// Word of the colour in the standard.
    pub fn word(self) -> &'static str {
        match self {
            Main::Green => "green",
            Main::Blue => "blue",
            Main::Brown => "brown",
            Main::Orange => "orange",
            Main::Silver => "silver",
            Main::Red => "red",
            Main::Grey => "grey",
            Main::Yellow => "yellow",
            Main::Black => "black",
        }
    }

    /// Values of the colour on the Sheet, and on Night.
    pub fn values(self) -> [Color32; 2] {
        let [sheet, night] = match self {
            Main::Green => [0x1D_7A_3E, 0x57_B8_77],
            Main::Blue => [0x1F_5F_A8, 0x6B_A8_E5],
            Main::Brown => [0x7A_4B_22, 0xB0_7A_4A],
            Main::Orange => [0xC0_5A_0A, 0xF0_93_40],
            Main::Silver => [0x78_86_92, 0xC3_CE_D6],
            Main::Red => [0xC2_1F_2B, 0xF2_64_6A],
            Main::Grey => [0x5C_63_68, 0x93_9A_9E],
            Main::Yellow => [0x94_79_00, 0xE4_CE_45],
            Main::Black => [0x22_26_29, 0xDD_D8_CC],
        };
        [rgb(sheet), rgb(night)]
    }
}

/// How a medium is marked after the standard: its main colour and, for some, a second one. A medium that the tables
/// at hand do not list has the main colour of its group.
pub fn marking(medium: Medium) -> (Main, Option<Main>) {
    match medium {
        Medium::SeaWater | Medium::BallastWater => (Main::Green, None),
        Medium::FreshWater | Medium::FeedWater => (Main::Blue, None),
        Medium::Condensate => (Main::Blue, Some(Main::Yellow)),
        Medium::FuelOil => (Main::Brown, None),
        Medium::LubricatingOil => (Main::Orange, None),
        Medium::HydraulicOil => (Main::Orange, Some(Main::Grey)),
        Medium::Steam => (Main::Silver, None),
        Medium::FireFighting => (Main::Red, None),
        Medium::Air => (Main::Grey, Some(Main::Orange)),
        Medium::StartingAir => (Main::Grey, Some(Main::Red)),
        Medium::Refrigerant | Medium::InertGas => (Main::Grey, None),
        Medium::FlammableGas => (Main::Yellow, None),
        Medium::BilgeWater | Medium::Waste | Medium::ExhaustGas => (Main::Black, None),
    }
}

/// The colour of a medium's name on its pipe: the pipe's own, nearer to ink, so that it can be read.
pub fn name(main: Main, theme: usize) -> Color32 {
    const NEARER: f32 = 0.3;
    main.values()[theme].lerp_to_gamma([SHEET, NIGHT][theme].ink, NEARER)
}

/// The colour of a medium's name in the theme in force.
pub fn name_on(ui: &Ui, medium: Medium) -> Color32 {
    name(marking(medium).0, usize::from(ui.visuals().dark_mode))
}

/// The colours of a medium's pipe in the theme in force.
pub fn pipe(ui: &Ui, medium: Medium) -> (Color32, Option<Color32>) {
    let theme = usize::from(ui.visuals().dark_mode);
    let (main, second) = marking(medium);
    (main.values()[theme], second.map(|second| second.values()[theme]))
}
