//! Where the program's data lives: the folder that was named on the command line, or `BEDPLATE_HOME`, or a folder
//! `bedplate-home` beside the program, or the system's folder for a program's data; in this order.

use std::ffi::OsString;
use std::path::{Component, Path, PathBuf};

use super::error::StoreError;

/// The environment variable that names the folder.
pub const VARIABLE: &str = "BEDPLATE_HOME";
/// The folder beside the program: one on a stick, say, that goes from computer to computer with the program.
pub const BESIDE: &str = "bedplate-home";

/// The home folder: `named` on the command line, or the first of the others. It need not exist yet.
///
/// # Errors
/// Where none is named and the system does not say where a program's data belongs.
pub fn resolve(named: Option<&Path>) -> Result<PathBuf, StoreError> {
    // A program that is reached by a link lies where the link leads to.
    let program = std::env::current_exe().and_then(|path| path.canonicalize()).ok();
    resolve_from(named, std::env::var_os(VARIABLE), program.as_deref())
}

/// As [`resolve`], with the variable's value and the program's own place given. An empty value counts as none; a relative
/// path counts from the working folder. Only a folder that is there counts beside the program.
///
/// # Errors
/// As [`resolve`].
pub fn resolve_from(
    named: Option<&Path>,
    variable: Option<OsString>,
    program: Option<&Path>,
) -> Result<PathBuf, StoreError> {
    let absolute = |path: &Path, by: &str| {
        let doing = format!("find the folder that {by} names");
        std::path::absolute(path).map_err(|e| StoreError::from_io(&doing, path, &e))
    };
    if let Some(named) = named {
        return absolute(named, "--home");
    }
    if let Some(named) = variable.filter(|v| !v.is_empty()) {
        return absolute(Path::new(&named), VARIABLE);
    }
    let beside = program.and_then(Path::parent).map(|folder| folder.join(BESIDE));
    if let Some(beside) = beside.filter(|folder| folder.is_dir()) {
        return Ok(beside);
    }
    match directories::ProjectDirs::from("", "", "Bedplate") {
        Some(dirs) => Ok(dirs.data_dir().to_owned()),
        None => Err(StoreError::Refused {
            what: "the program's data".to_owned(),
            why: "the system does not say where your home folder is; name a folder that you may write by --home or \
                  BEDPLATE_HOME"
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
