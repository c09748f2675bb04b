//! Where the program's data lives: `BEDPLATE_HOME`, or the system's folder for a program's data.

use std::ffi::OsString;
use std::path::{Component, Path, PathBuf};

use super::error::StoreError;

/// The environment variable that names the folder.
pub const VARIABLE: &str = "BEDPLATE_HOME";

/// The home folder. It need not exist yet.
///
/// # Errors
/// Where the variable is not set and the system does not say where a program's data belongs.
pub fn resolve() -> Result<PathBuf, StoreError> {
    resolve_from(std::env::var_os(VARIABLE))
}

/// As [`resolve`], with the variable's value given. An empty value counts as none; a relative path counts from
/// the working folder.
///
/// # Errors
/// As [`resolve`].
pub fn resolve_from(variable: Option<OsString>) -> Result<PathBuf, StoreError> {
    if let Some(named) = variable.filter(|v| !v.is_empty()).map(PathBuf::from) {
        return std::path::absolute(&named)
            .map_err(|e| StoreError::from_io("find the folder that BEDPLATE_HOME names", &named, &e));
    }
    match directories::ProjectDirs::from("", "", "Bedplate") {
        Some(dirs) => Ok(dirs.data_dir().to_owned()),
        None => Err(StoreError::Refused {
            what: "the program's data".to_owned(),
            why: "the system does not say where your home folder is; set BEDPLATE_HOME to a folder that you may write"
                .to_owned(),
        }),
    }
}

/// The name of the folder that holds the profiles.
pub(super) const PROFILES: &str = "profiles";

/// The folder that holds the profiles.
pub fn profiles_dir(home: &Path) -> PathBuf {
    home.join(PROFILES)
}

/// A profile's folder by its name in the list; `None` where the name is not one plain folder name.
pub fn profile_dir(home: &Path, folder: &str) -> Option<PathBuf> {
    let mut parts = Path::new(folder).components();
    match (parts.next(), parts.next()) {
        (Some(Component::Normal(name)), None) if name == folder => Some(profiles_dir(home).join(folder)),
        _ => None,
    }
}
