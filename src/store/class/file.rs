//! A class's file: found, made, opened, looked through, backed up.

use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use rusqlite::{Connection, OptionalExtension};
use thiserror::Error;

use super::super::error::StoreError;
use super::super::lock::ProfileLock;
use super::super::{backup, copy, files, health, profiles, rights, schema, stamp};
use crate::domain::day::Instant;
use crate::domain::roster::ClassName;

/// Step `n` (from 0) takes a file of version `n` to version `n + 1`; one that has been given out is never changed again.
const STEPS: [&str; 1] = [include_str!("001.sql")];
/// The version that this program writes.
const VERSION: u32 = STEPS.len() as u32;
/// `BEDC`: marks the file as a class of this program's (`PRAGMA application_id`).
const APPLICATION_ID: i32 = 0x4245_4443;
/// The tables of a class's file.
const TABLES: [&str; 7] = ["meta", "assignment", "learner", "attempt", "oral", "fault", "forgotten"];

/// The folder of classes under the home folder.
const CLASSES: &str = "classes";
const FILE: &str = "class.sqlite";
const LOCK: &str = "class.lock";
/// Names in `meta`.
const ID: &str = "id";
const NAME: &str = "name";
const CHANGES: &str = "changes";
pub(super) const SWEEP: &str = "sweep";

const OPEN: &str = "open the class";
const BACK_UP: &str = "make a backup of the class";

/// Why a class could not be opened or changed. Its file is as it was.
#[derive(Debug, Error)]
pub enum ClassError {
    /// None of that name.
    #[error("there is no class `{name}` in {}; {known}. `bedplate assign --class {name} ...` makes one", home.display())]
    NotThere {
        /// The name asked for.
        name: String,
        /// The home folder.
        home: PathBuf,
        /// Those that there are, in words.
        known: String,
    },
    /// Another program has it open.
    #[error("the class in {} is being changed by another program. Wait until it is done, then try again", dir.display())]
    InUse {
        /// The class's folder.
        dir: PathBuf,
    },
    /// Not to be used as it is.
    #[error(
        "{} is damaged: {why}. It was left as it is. {}",
        path.display(),
        match backup {
            Some(backup) => format!("Set it aside under another name and copy {} in its place", backup.display()),
            None => "There is no backup that is sound; set it aside under another name and add the hand-ins again".to_owned(),
        }
    )]
    Damaged {
        /// The file.
        path: PathBuf,
        /// What is wrong with it.
        why: String,
        /// The newest backup that is sound.
        backup: Option<PathBuf>,
    },
    /// Written by a later version.
    #[error(
        "{} was written by a later version of the program (file version {found}, this program reads up to {VERSION}). Install the later version; the file was left as it is",
        path.display()
    )]
    Newer {
        /// The file.
        path: PathBuf,
        /// The file's version.
        found: u32,
    },
    /// The disk, the folder or the rights to it.
    #[error(transparent)]
    Store(#[from] StoreError),
}

/// A class of this home.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ClassInfo {
    /// Which.
    pub class: ClassName,
    /// The class's folder.
    pub dir: PathBuf,
}

/// An open class. Nobody else changes it meanwhile.
pub struct ClassFile {
    pub(super) conn: Connection,
    pub(super) path: PathBuf,
    dir: PathBuf,
    class: ClassName,
    _lock: ProfileLock,
}

/// All classes of a home, by name. Those that cannot be opened are left out.
///
/// # Errors
/// Where the folder is there and cannot be read.
pub fn list_classes(home: &Path) -> Result<Vec<ClassInfo>, StoreError> {
    let folder = home.join(CLASSES);
    let fail = |e: std::io::Error| StoreError::from_io("list the classes", &folder, &e);
    let entries = match fs::read_dir(&folder) {
        Err(e) if e.kind() == ErrorKind::NotFound => return Ok(Vec::new()),
        other => other.map_err(fail)?,
    };
    let mut all = Vec::new();
    for entry in entries {
        let dir = entry.map_err(fail)?.path();
        let file = dir.join(FILE);
        if !file.is_file() {
            continue;
        }
        // What a killed program left half done can only be undone by who may write.
        let name = health::open_to_read(&file).and_then(|conn| class_of(&conn));
        let name = name.or_else(|_| health::open_to_write(&file).and_then(|conn| class_of(&conn)));
        if let Ok(Some(class)) = name {
            all.push(ClassInfo { class, dir });
        }
    }
    all.sort_by(|a, b| (&a.class.name, &a.class.id).cmp(&(&b.class.name, &b.class.id)));
    Ok(all)
}

impl ClassFile {
    /// Opens the class of this name.
    ///
    /// # Errors
    /// See [`ClassError`].
    pub fn open(home: &Path, name: &str) -> Result<Self, ClassError> {
        let all = list_classes(home)?;
        match all.iter().find(|info| info.class.name == name) {
            Some(info) => Self::open_in(&info.dir),
            None => match damaged_under(home, name) {
                // Its name cannot be read: whatever lies in the folder that the name would have is looked at.
                Some(dir) => Self::open_in(&dir),
                None => Err(not_there(home, name, &all)),
            },
        }
    }

    /// Opens the class of this name, or makes it.
    ///
    /// # Errors
    /// See [`ClassError`].
    pub fn open_or_create(home: &Path, class: &ClassName, now: Instant) -> Result<Self, ClassError> {
        match Self::open(home, &class.name) {
            Err(ClassError::NotThere { .. }) => {
                let dir = create(home, class, now)?;
                Self::open_in(&dir)
            }
            other => other,
        }
    }

    fn open_in(dir: &Path) -> Result<Self, ClassError> {
        let path = dir.join(FILE);
        let lock = ProfileLock::at(dir, &dir.join(LOCK), OPEN)?;
        let lock = lock.ok_or_else(|| ClassError::InUse { dir: dir.to_owned() })?;
        look(&path, dir)?;
        let sql = |e: rusqlite::Error| StoreError::from_sql(OPEN, &path, &e);
        let mut conn = connect(&path)?;
        if schema::version(&conn).map_err(sql)? < VERSION {
            back_up(&conn, dir, stamp_of(&path))?;
            schema::migrate_by(&mut conn, &STEPS, APPLICATION_ID).map_err(sql)?;
        }
        let class = class_of(&conn).map_err(sql)?.ok_or_else(|| damaged(&path, dir, "it does not say its name"))?;
        let mut file = Self { conn, path, dir: dir.to_owned(), class, _lock: lock };
        file.finish_sweep()?;
        Ok(file)
    }

    /// Which class it is.
    pub fn class(&self) -> &ClassName {
        &self.class
    }

    /// The file itself.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Makes a backup of it as it stands, unless nothing has changed since the newest.
    ///
    /// # Errors
    /// Where the disk is full or may not be written.
    pub fn back_up(&self, now: Instant) -> Result<(), StoreError> {
        back_up(&self.conn, &self.dir, now)
    }

    /// Removes every backup.
    pub(super) fn remove_backups(&self) -> Result<(), StoreError> {
        for old in backup::list(&self.dir)? {
            files::remove(&old.path).map_err(|e| StoreError::from_io("remove a backup", &old.path, &e))?;
        }
        Ok(())
    }

    /// Turns SQLite's answer into ours, for `map_err`.
    pub(super) fn fail<'a>(&'a self, doing: &'a str) -> impl Fn(rusqlite::Error) -> StoreError + 'a {
        move |error| StoreError::from_sql(doing, &self.path, &error)
    }

    pub(super) fn meta(&self, name: &str) -> rusqlite::Result<Option<String>> {
        meta(&self.conn, name)
    }
}

/// Counts a change, within its transaction, so that backups know whether there was one.
pub(super) fn count_change(conn: &Connection) -> rusqlite::Result<()> {
    let changes: u64 = meta(conn, CHANGES)?.and_then(|text| text.parse().ok()).unwrap_or(0);
    put_meta(conn, CHANGES, &(changes + 1).to_string())
}

pub(super) fn put_meta(conn: &Connection, name: &str, value: &str) -> rusqlite::Result<()> {
    let sql = "INSERT INTO meta (name, value) VALUES (?1, ?2) ON CONFLICT (name) DO UPDATE SET value = excluded.value";
    conn.execute(sql, [name, value]).map(|_| ())
}

fn meta(conn: &Connection, name: &str) -> rusqlite::Result<Option<String>> {
    conn.query_row("SELECT value FROM meta WHERE name = ?1", [name], |row| row.get(0)).optional()
}

fn class_of(conn: &Connection) -> rusqlite::Result<Option<ClassName>> {
    Ok(meta(conn, ID)?.zip(meta(conn, NAME)?).map(|(id, name)| ClassName { id, name }))
}

fn not_there(home: &Path, name: &str, all: &[ClassInfo]) -> ClassError {
    let names: Vec<&str> = all.iter().map(|info| info.class.name.as_str()).collect();
    let known =
        if names.is_empty() { "there is none yet".to_owned() } else { format!("there are {}", names.join(", ")) };
    ClassError::NotThere { name: name.to_owned(), home: home.to_owned(), known }
}

/// The folder that a class of this name would have, where a file lies in it whose name cannot be read.
fn damaged_under(home: &Path, name: &str) -> Option<PathBuf> {
    let dir = home.join(CLASSES).join(profiles::folder_name(name));
    let file = dir.join(FILE);
    let is_legible = || health::open_to_read(&file).and_then(|conn| class_of(&conn)).is_ok_and(|class| class.is_some());
    (file.exists() && !is_legible()).then_some(dir)
}

fn create(home: &Path, class: &ClassName, now: Instant) -> Result<PathBuf, ClassError> {
    let doing = "make the class";
    let above = home.join(CLASSES);
    let io = |path: &Path, e: &std::io::Error| StoreError::from_io(doing, path, e);
    rights::create_dir(home).map_err(|e| io(home, &e))?;
    rights::create_dir(&above).map_err(|e| io(&above, &e))?;
    let base = profiles::folder_name(&class.name);
    let dirs = (1u32..).map(|n| above.join(if n == 1 { base.clone() } else { format!("{base}-{n}") }));
    let Some(dir) = dirs.into_iter().find(|dir| !dir.join(FILE).exists()) else {
        return Err(ClassError::InUse { dir: above });
    };
    rights::create_dir(&dir).map_err(|e| io(&dir, &e))?;
    let path = dir.join(FILE);
    let unfinished = files::with_suffix(&path, ".new");
    files::remove_with_logs(&unfinished).map_err(|e| io(&unfinished, &e))?;
    let sql = |e: rusqlite::Error| StoreError::from_sql(doing, &unfinished, &e);
    let mut conn = health::open_to_write(&unfinished).map_err(sql)?;
    schema::migrate_by(&mut conn, &STEPS, APPLICATION_ID).map_err(sql)?;
    for (name, value) in [(ID, class.id.clone()), (NAME, class.name.clone()), ("created-ms", now.0.to_string())] {
        put_meta(&conn, name, &value).map_err(sql)?;
    }
    conn.close().map_err(|(_, e)| sql(e))?;
    files::put_in_place(&unfinished, &path).map_err(|e| io(&path, &e))?;
    Ok(dir)
}

fn connect(path: &Path) -> Result<Connection, StoreError> {
    let sql = |e: rusqlite::Error| StoreError::from_sql(OPEN, path, &e);
    let conn = health::open_to_write(path).map_err(sql)?;
    if conn.is_readonly(rusqlite::MAIN_DB).map_err(sql)? {
        let why = "the file is write-protected".to_owned();
        return Err(StoreError::NotWritable { doing: OPEN.to_owned(), place: path.to_owned(), why });
    }
    conn.query_row("PRAGMA journal_mode = DELETE", [], |_| Ok(())).map_err(sql)?;
    conn.pragma_update(None, "synchronous", "FULL").map_err(sql)?;
    conn.pragma_update(None, "foreign_keys", true).map_err(sql)?;
    // What is removed is written over.
    conn.query_row("PRAGMA secure_delete = ON", [], |_| Ok(())).map_err(sql)?;
    conn.set_prepared_statement_cache_capacity(32);
    Ok(conn)
}

/// What is wrong with a file, if anything; what a killed program left half done is undone.
fn fault_of(path: &Path) -> rusqlite::Result<Option<String>> {
    let conn = health::open_to_write(path)?;
    let mark: i32 = conn.query_row("PRAGMA application_id", [], |row| row.get(0))?;
    if mark != APPLICATION_ID {
        return Ok(Some("it is not a class of this program".to_owned()));
    }
    let told: String = conn.query_row("PRAGMA quick_check(1)", [], |row| row.get(0))?;
    if told != "ok" {
        return Ok(Some(told.lines().collect::<Vec<_>>().join(" ")));
    }
    if schema::version(&conn)? <= VERSION {
        for table in TABLES {
            if !schema::has_table(&conn, table)? {
                return Ok(Some(format!("its table `{table}` is missing")));
            }
        }
    }
    Ok(None)
}

fn look(path: &Path, dir: &Path) -> Result<(), ClassError> {
    if !path.is_file() {
        return Err(damaged(path, dir, "it is missing"));
    }
    match fault_of(path) {
        Ok(None) => {}
        Ok(Some(why)) => return Err(damaged(path, dir, &why)),
        Err(error) => match StoreError::from_sql(OPEN, path, &error) {
            StoreError::Damaged { why, .. } => return Err(damaged(path, dir, &why)),
            other => return Err(other.into()),
        },
    }
    let found = health::open_to_read(path).and_then(|conn| schema::version(&conn));
    match found.map_err(|e| StoreError::from_sql(OPEN, path, &e))? {
        found if found > VERSION => Err(ClassError::Newer { path: path.to_owned(), found }),
        _ => Ok(()),
    }
}

fn damaged(path: &Path, dir: &Path, why: &str) -> ClassError {
    let backups = backup::list(dir).unwrap_or_default();
    let sound = backups.into_iter().find(|b| matches!(fault_of(&b.path), Ok(None)));
    ClassError::Damaged { path: path.to_owned(), why: why.to_owned(), backup: sound.map(|b| b.path) }
}

/// When the file was changed last: the name of the backup before it is brought up to date.
fn stamp_of(path: &Path) -> Instant {
    let changed = fs::metadata(path).and_then(|meta| meta.modified()).ok();
    let since = changed.and_then(|at| at.duration_since(std::time::UNIX_EPOCH).ok());
    Instant(since.map_or(0, |since| i64::try_from(since.as_millis()).unwrap_or(0)))
}

fn back_up(conn: &Connection, dir: &Path, now: Instant) -> Result<(), StoreError> {
    let folder = files::backups(dir);
    let io = |e: std::io::Error| StoreError::from_io(BACK_UP, &folder, &e);
    rights::create_dir(&folder).map_err(io)?;
    let older = backup::list(dir)?;
    let changes = |conn: &Connection| meta(conn, CHANGES).ok().flatten();
    let newest = older.first().and_then(|b| health::open_to_read(&b.path).ok()).and_then(|conn| changes(&conn));
    if !older.is_empty() && newest == changes(conn) {
        return Ok(());
    }
    let number = older.first().and_then(|b| backup::number_of(&b.path)).map_or(1, |n| n.saturating_add(1));
    let path = folder.join(format!("{number:06}-{}.sqlite", stamp::stamp(now)));
    let unfinished = files::with_suffix(&path, ".new");
    files::remove_with_logs(&unfinished).map_err(io)?;
    let made = copy::copy(conn, &unfinished).map_err(|e| StoreError::from_sql(BACK_UP, &unfinished, &e));
    let made = made.and_then(|()| match fault_of(&unfinished) {
        Ok(None) => files::put_in_place(&unfinished, &path).map_err(io),
        told => Err(StoreError::Io {
            doing: BACK_UP.to_owned(),
            place: unfinished.clone(),
            why: format!("the copy is not sound: {told:?}"),
        }),
    });
    if made.is_err() {
        // Gives the room back.
        let _ = files::remove_with_logs(&unfinished);
    }
    made?;
    for old in older.iter().skip(backup::KEPT - 1) {
        files::remove(&old.path).map_err(io)?;
    }
    Ok(())
}
