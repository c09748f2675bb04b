//! The certificates of competency that a learner may aim at, as the STCW Convention names them.

use serde::{Deserialize, Serialize};

/// A certificate of competency that an oral is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, Default)]
#[serde(rename_all = "kebab-case")]
pub enum Certificate {
    /// Officer in charge of an engineering watch, STCW III/1.
    #[default]
    Watch,
    /// Second engineer officer, STCW III/2.
    Second,
    /// Chief engineer officer, STCW III/2.
    Chief,
    /// Electro-technical officer, STCW III/6.
    ElectroTechnical,
}

impl Certificate {
    /// All four, in the order in which they are offered.
    pub const ALL: [Certificate; 4] =
        [Certificate::Watch, Certificate::Second, Certificate::Chief, Certificate::ElectroTechnical];

    /// The certificate's name.
    pub fn title(self) -> &'static str {
        match self {
            Certificate::Watch => "Officer in charge of an engineering watch",
            Certificate::Second => "Second engineer officer",
            Certificate::Chief => "Chief engineer officer",
            Certificate::ElectroTechnical => "Electro-technical officer",
        }
    }

    /// The regulation of the STCW Convention that it is issued under, such as `STCW III/1`.
    pub fn regulation(self) -> &'static str {
        match self {
            Certificate::Watch => "STCW III/1",
            Certificate::Second | Certificate::Chief => "STCW III/2",
            Certificate::ElectroTechnical => "STCW III/6",
        }
    }

    /// The table of the STCW Code that its examination covers, such as `A-III/1`.
    pub fn table(self) -> &'static str {
        match self {
            Certificate::Watch => "A-III/1",
            Certificate::Second | Certificate::Chief => "A-III/2",
            Certificate::ElectroTechnical => "A-III/6",
        }
    }
}
