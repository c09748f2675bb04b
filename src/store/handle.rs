//! The handle that the rest of the house holds. Each call hands in a request and gives a ticket at once; the
//! work is done by the store's thread in the order the requests came.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::{Arc, PoisonError};

use super::attempts::{self, ListedAttempt};
use super::backup;
use super::backup_info::BackupInfo;
use super::bring::{self, Merged, ProfileFile, Wish};
use super::editions;
use super::error::StoreError;
use super::events::{self, KeptEvent};
use super::kept::{self, FaultReport};
use super::memory;
use super::notice::Notice;
use super::profiles;
use super::search::{self, Hit, SearchDoc};
use super::sittings::{self, KeptSitting};
use super::take_back;
use super::thread::Worker;
use super::ticket::Ticket;
use crate::domain::attempt::{Attempt, SetAside};
use crate::domain::day::Instant;
use crate::domain::editions::{Asked, Ledger, Lineage, TakenIn, Taking};
use crate::domain::ids::{AttemptId, CardKey, DeckId};
use crate::domain::memory::CardMemory;
use crate::domain::oral::Turn;
use crate::domain::settings::Settings;

/// An open profile. Clone it freely; when the last clone goes, work handed in is finished and the file closed.
#[derive(Clone)]
pub struct Store {
    pub(super) worker: Arc<Worker>,
}

impl Store {
    /// Another program has the profile open, and nothing can be kept here.
    pub fn reads_only(&self) -> bool {
        self.worker.reads_only()
    }

    /// Closes the profile, once this is its last handle, and gives the notices that have not been taken: so that a
    /// command can tell them at its end.
    pub fn close(self) -> Vec<Notice> {
        let notices = self.worker.notices();
        drop(self);
        let mut notices = notices.lock().unwrap_or_else(PoisonError::into_inner);
        std::mem::take(&mut notices)
    }

    /// Notices that have come in since opening or since the last call.
    pub fn take_notices(&self) -> Vec<Notice> {
        self.worker.take_notices()
    }

    /// Keeps an attempt, and what is known of its card after it, in one transaction. Once the ticket says `Ok`,
    /// the attempt survives a killed program and a power cut. Asking twice with one attempt is harmless.
    ///
    /// # Errors
    /// The ticket's error leaves neither in the file; the caller still has the attempt and may try again.
    pub fn record(&self, attempt: Attempt, known: CardMemory) -> Ticket<()> {
        self.worker.keep("keep the answer", move |db| attempts::record(db, &attempt, &known))
    }

    /// Adds attempts made on another computer, in one transaction; gives the number that were new. If any was,
    /// the memory cache loses its stamp and has to be rebuilt.
    pub fn unite(&self, attempts: Vec<Attempt>) -> Ticket<u64> {
        self.worker.keep("add the answers", move |db| attempts::unite(db, &attempts))
    }

    /// Takes attempts back, at the time `at`. They stay in the file, marked by an event, and count for nothing any
    /// more. `memory_of` works a card's memory out of the attempts at it that are left, in order of (time, id); none
    /// where none is left. What is given is each card's memory from now on. All of it is one transaction; taking the
    /// same attempt back twice is harmless.
    ///
    /// # Errors
    /// The ticket's error leaves all as it was; an id that no attempt has is refused.
    pub fn void_attempts(
        &self,
        attempts: Vec<AttemptId>,
        at: Instant,
        memory_of: impl Fn(&[Attempt]) -> Option<CardMemory> + Send + 'static,
    ) -> Ticket<Vec<(CardKey, Option<CardMemory>)>> {
        self.worker.keep("take the answer back", move |db| take_back::void(db, &attempts, at, &memory_of))
    }

    /// Keeps a new sitting, with the turns that it has. One that is there already changes nothing.
    pub fn begin_sitting(&self, sitting: KeptSitting) -> Ticket<()> {
        self.worker.keep("keep the sitting", move |db| sittings::begin(db, &sitting))
    }

    /// Keeps the answered turn `n` (from 0) of a sitting, and the attempt that it makes with what is then known of the
    /// card, in one transaction. Asking twice with the same is harmless.
    ///
    /// # Errors
    /// The ticket's error leaves neither in the file; the caller still has both and may try again.
    pub fn keep_turn(
        &self,
        sitting: String,
        n: usize,
        turn: Turn,
        attempt: Option<(Attempt, CardMemory)>,
    ) -> Ticket<()> {
        self.worker.keep("keep the answer", move |db| sittings::keep_turn(db, &sitting, n, &turn, attempt.as_ref()))
    }

    /// A sitting is over and is not taken up again.
    pub fn end_sitting(&self, sitting: String, at: Instant) -> Ticket<()> {
        self.worker.keep("keep the sitting", move |db| sittings::end(db, &sitting, at))
    }

    /// A sitting is ended by hand, before its last question: it can be taken up again.
    pub fn end_sitting_early(&self, sitting: String, at: Instant) -> Ticket<()> {
        self.worker.keep("keep the sitting", move |db| sittings::end_early(db, &sitting, at))
    }

    /// A sitting that was ended by hand goes on.
    pub fn take_up_sitting(&self, sitting: String, at: Instant) -> Ticket<()> {
        self.worker.keep("keep the sitting", move |db| sittings::take_up(db, &sitting, at))
    }

    /// Every sitting, in order of (time, id).
    pub fn sittings(&self) -> Ticket<Vec<KeptSitting>> {
        self.worker.ask(|db| sittings::all(db))
    }

    /// Adds an event of a kind (`plan`, `parameters`, `oral-result`, `worksheet`); its `json` must be JSON.
    pub fn add_event(&self, kind: &'static str, event: KeptEvent) -> Ticket<()> {
        self.worker.keep("keep the change", move |db| events::add(db, kind, &event))
    }

    /// The newest event of a kind: the one that holds.
    pub fn newest_event(&self, kind: &'static str) -> Ticket<Option<KeptEvent>> {
        self.worker.ask(move |db| events::newest(db, kind))
    }

    /// All events of a kind, in order of time.
    pub fn events(&self, kind: &'static str) -> Ticket<Vec<KeptEvent>> {
        self.worker.ask(move |db| events::all(db, kind))
    }

    /// A page of all attempts ever accepted, those taken back among them, in order of (time, id), after the given one
    /// or from the first.
    pub fn list_attempts(&self, after: Option<AttemptId>, limit: usize) -> Ticket<Vec<ListedAttempt>> {
        self.worker.ask(move |db| attempts::list(db, after.as_ref(), limit))
    }

    /// A page of the attempts that count, in order of (time, id), after the given one or from the first. As everywhere
    /// but in [`Store::list_attempts`], those taken back are passed over.
    pub fn attempts(&self, after: Option<AttemptId>, limit: usize) -> Ticket<Vec<Attempt>> {
        self.worker.ask(move |db| attempts::page(db, after.as_ref(), limit))
    }

    /// Goes through all attempts in order of (time, id) on the store's thread, taking `state` along.
    pub fn fold_attempts<S: Send + 'static>(
        &self,
        mut state: S,
        mut step: impl FnMut(&mut S, Attempt) + Send + 'static,
    ) -> Ticket<S> {
        self.worker.ask(move |db| {
            attempts::each(db, |attempt| step(&mut state, attempt))?;
            Ok(state)
        })
    }

    /// All attempts at one card, in order of (time, id).
    pub fn attempts_of(&self, card: CardKey) -> Ticket<Vec<Attempt>> {
        self.worker.ask(move |db| attempts::of_card(db, &card))
    }

    /// Attempts from `from` up to, not including, `to`, in order of (time, id).
    pub fn attempts_between(&self, from: Instant, to: Instant) -> Ticket<Vec<Attempt>> {
        self.worker.ask(move |db| attempts::between(db, from, to))
    }

    /// For each of these cards the last attempt that counts, under the key that it was given under, which may be a former
    /// one; cards without one are left out.
    pub fn last_attempts(&self, cards: Vec<CardKey>) -> Ticket<Vec<(CardKey, Attempt)>> {
        self.worker.ask(move |db| attempts::last_of(db, &cards))
    }

    /// From now on attempts are read under the keys that they count under by this lineage. The file stays as it is.
    pub fn go_by(&self, lineage: Lineage) -> Ticket<()> {
        self.worker.ask(move |db| {
            db.lineage = lineage;
            Ok(())
        })
    }

    /// Which editions of which decks were taken in.
    pub fn ledger(&self) -> Ticket<Ledger> {
        self.worker.ask(|db| editions::ledger(db))
    }

    /// Keeps what of editions was new, in one transaction.
    pub fn keep_editions(&self, taken: Vec<TakenIn>) -> Ticket<()> {
        self.worker.keep("keep which edition was taken in", move |db| editions::keep(db, &taken))
    }

    /// Keeps that what an edition brought has been looked at.
    pub fn edition_seen(&self, taking: Taking, at: Instant) -> Ticket<()> {
        self.worker.keep("keep the change", move |db| editions::keep_seen(db, &taking, at))
    }

    /// The editions of which what they brought has been looked at: their decks, and when they were taken in.
    pub fn editions_seen(&self) -> Ticket<Vec<(DeckId, Instant)>> {
        self.worker.ask(|db| editions::seen(db))
    }

    /// What cards asked, by what stands for it; what is not kept is left out.
    pub fn asked(&self, digests: Vec<String>) -> Ticket<BTreeMap<String, Asked>> {
        self.worker.ask(move |db| editions::asked(db, &digests))
    }

    /// Puts a whole memory cache in place of the old one. `stamp` says what it was worked out by.
    pub fn replace_memory(&self, stamp: String, all: Vec<(CardKey, CardMemory)>) -> Ticket<()> {
        self.worker.keep("keep what was worked out of the answers", move |db| memory::replace(db, &stamp, &all))
    }

    /// Keeps the settings, changed at the time `at`.
    pub fn save_settings(&self, settings: &Settings, at: Instant) -> Ticket<()> {
        let settings = settings.clone();
        self.worker.keep("keep the settings", move |db| {
            kept::save_settings(db, &settings, at)?;
            profiles::note(db.dir(), Some(&settings.learner), None);
            Ok(())
        })
    }

    /// Writes all that the profile holds into one file, to be brought into the same learner's profile on another computer.
    pub fn write_profile(&self, to: PathBuf, now: Instant) -> Ticket<ProfileFile> {
        self.worker.ask(move |db| bring::write(db, &to, now))
    }

    /// What bringing a file that was looked at into this profile would change; nothing is kept.
    pub fn would_bring(&self, file: ProfileFile, now: Instant) -> Ticket<Merged> {
        let wish = Wish { sha256: file.sha256, mixing: false, keep: false };
        self.worker.ask(move |db| bring::merge(db, &file.file, &wish, now))
    }

    /// Brings a file that was looked at into this profile, all of it or nothing; another learner's only where `mixing` is
    /// wished. What was worked out of the answers has to be worked out again: open the profile anew.
    pub fn bring(&self, file: ProfileFile, mixing: bool, now: Instant) -> Ticket<Merged> {
        let wish = Wish { sha256: file.sha256, mixing, keep: true };
        self.worker.keep("bring the profile’s file in", move |db| bring::merge(db, &file.file, &wish, now))
    }

    /// Keeps that a card was set aside or taken back.
    pub fn set_aside(&self, event: SetAside) -> Ticket<()> {
        self.worker.keep("set the card aside", move |db| kept::add_set_aside(db, &event))
    }

    /// Keeps a report that a card is wrong.
    pub fn report_fault(&self, fault: FaultReport) -> Ticket<()> {
        self.worker.keep("keep the fault report", move |db| kept::add_fault(db, &fault))
    }

    /// Makes the search index hold these decks and no others; gives the number that had to be read in anew,
    /// which are those with a new digest.
    /// A store that reads only leaves the index as it is.
    pub fn index_decks(&self, decks: Vec<SearchDoc>) -> Ticket<usize> {
        let reads_only = self.reads_only();
        self.worker.ask(move |db| if reads_only { Ok(0) } else { search::index(db, &decks) })
    }

    /// Cards in which every word of the query is found, the best first, at most `limit`.
    pub fn search(&self, query: &str, limit: usize) -> Ticket<Vec<Hit>> {
        let query = query.to_owned();
        self.worker.ask(move |db| search::search(db, &query, limit))
    }

    /// The profile's backups, the newest first.
    pub fn backups(&self) -> Ticket<Vec<BackupInfo>> {
        self.worker.ask(|db| backup::list(db.dir()))
    }

    /// Lets the file grow to this many pages and no further (`None`: as far as the disk goes). For tests of a
    /// full disk.
    #[doc(hidden)]
    pub fn limit_pages(&self, pages: Option<u32>) -> Ticket<()> {
        self.worker.ask(move |db| {
            let sql = format!("PRAGMA max_page_count = {}", pages.unwrap_or(u32::MAX - 1));
            db.conn.query_row(&sql, [], |_| Ok(())).map_err(|e| StoreError::from_sql("set a limit", &db.file, &e))
        })
    }
}
