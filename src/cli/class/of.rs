//! Which cards of a class a command is about.

use std::path::PathBuf;

/// Which cards of a class, and how long a lesson.
#[derive(clap::Args)]
pub struct Of {
    /// The class's name.
    pub name: String,
    /// Only cards of this deck, by its id.
    #[arg(long)]
    pub deck: Option<String>,
    /// Only cards of competences that this blueprint asks (a TOML file), with its shares for the lesson.
    #[arg(long)]
    pub blueprint: Option<PathBuf>,
    /// The next lesson's length, 1 to 600.
    #[arg(long, default_value_t = 45, value_parser = clap::value_parser!(u32).range(1..=600))]
    pub minutes: u32,
}
