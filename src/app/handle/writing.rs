//! A deck is written: opened or begun, its cards answered without a trace, changed in forms, given samples.

use std::fs;
use std::path::{Path, PathBuf};

use crate::app::jobs::job::JobFault;
use crate::app::profile::shelf::OWN_DECKS;
use crate::app::program::app::App;
use crate::app::program::command::WritingCommand;
use crate::app::program::route::{Route, WritePage};
use crate::app::sheet::{AnswerSheet, Stage};
use crate::app::writing::{AtWriting, OpenForm, Trial, WantedOfSample, files};
use crate::deck::Reading;
use crate::deck::writing::{
    Place, SampleForm, begun, blank_form, form_of, usual_topic, with_card, with_new_card, with_sample,
};
use crate::devices::Edited;
use crate::domain::day::Instant;
use crate::domain::english;
use crate::domain::form::{BeginDeck, CardForm, Holds};
use crate::domain::kinds::Kind;
use crate::present::Notice;
use crate::present::writing::Wanted;

impl App {
    pub(super) fn about_writing(&mut self, command: WritingCommand) {
        match command {
            WritingCommand::Open(folder) => self.open_to_write(folder),
            WritingCommand::Begin(deck) => self.begin_deck(&deck),
            WritingCommand::Choose(at) => self.with_writing(|writing| writing.choose(at)),
            WritingCommand::OpenAt { file, line } => self.open_in_editor(&file, line),
            WritingCommand::Try => self.try_card(),
            WritingCommand::TryReported(at) => self.try_reported(at),
            WritingCommand::TakeReports(file) => self.take_reports(&file),
            WritingCommand::Tell => self.tell_marking(),
            WritingCommand::BackToCard => self.show_page(WritePage::Card),
            WritingCommand::Want { point, wanted } => self.want(point, wanted),
            WritingCommand::WantOutcome(outcome) => self.with_writing(|writing| {
                if let Some(wanted) = writing.trial.as_mut().and_then(|trial| trial.wanted.as_mut()) {
                    wanted.outcome = outcome;
                }
            }),
            WritingCommand::KeepSample => self.keep_sample(),
            WritingCommand::Edit => self.edit_card(),
            WritingCommand::New(kind) => self.new_card(kind),
            WritingCommand::Save { form, base } => self.save_card(&form, &base),
        }
    }

    pub(super) fn with_writing(&mut self, run: impl FnOnce(&mut AtWriting)) {
        if let Some(writing) = self.open_mut().and_then(|open| open.writing.as_deref_mut()) {
            run(writing);
        }
    }

    pub(in crate::app) fn writing(&self) -> Option<&AtWriting> {
        self.open()?.writing.as_deref()
    }

    /// The card that is answered while it is written.
    pub(in crate::app) fn trial(&self) -> Option<&Trial> {
        self.writing()?.trial.as_ref()
    }

    pub(super) fn show_page(&mut self, page: WritePage) {
        self.route = Route::Write(page);
    }

    /// Has the folder watched, and the card in hand looked into.
    pub(in crate::app) fn request_writing(&mut self, now: Instant) {
        let Some(folder) = self.writing().map(|writing| writing.folder.clone()) else { return };
        let kept = self.shared_reader();
        self.jobs.writing.request(&folder, kept.clone(), now);
        if let Some(card) = self.writing().and_then(AtWriting::card).cloned() {
            self.jobs.study.request(&card, kept, now);
        }
    }

    /// The deck has been read, or read anew.
    pub(in crate::app) fn take_written(&mut self, read: Result<Reading, JobFault>) {
        let now = self.now();
        match read {
            Ok(reading) => self.with_writing(|writing| {
                writing.take_in(reading, now);
                refresh(writing);
            }),
            Err(fault) => self.say(Notice::failed(fault.told("The deck", "Change a file of it to have it read again"))),
        }
        self.jobs.picture.forget();
    }

    /// Another page is gone to. Where that is none of writing, the folder is watched no more, and the library takes in what
    /// was written.
    pub(super) fn leave_writing(&mut self, to: &Route) {
        if !self.in_writing() || matches!(to, Route::Write(_)) {
            if matches!(to, Route::Write(WritePage::Desk)) {
                self.with_writing(|writing| (writing.trial, writing.form) = (None, None));
            }
            return;
        }
        let now = self.now();
        self.jobs.writing.cancel();
        let Some(open) = self.open_mut() else { return };
        let Some(writing) = &mut open.writing else { return };
        (writing.trial, writing.form) = (None, None);
        let folder = writing.folder.clone();
        if writing.read_at.is_some() && folder.parent() == Some(&open.shelf.own_folder) {
            self.jobs.decks.add(folder, now);
        }
    }

    fn open_to_write(&mut self, folder: PathBuf) {
        if !folder.is_dir() {
            let text =
                format!("There is no folder {}. Name the folder that holds a deck’s deck.toml.", folder.display());
            return self.say(Notice::failed(text));
        }
        let Some(open) = self.open_mut() else { return };
        if open.writing.as_ref().is_none_or(|writing| writing.folder != folder) {
            open.writing = Some(Box::new(AtWriting::of(folder)));
        }
        self.gather_reports();
        self.show_page(WritePage::Desk);
    }

    fn begin_deck(&mut self, deck: &BeginDeck) {
        let folder = self.setup.home.join(OWN_DECKS).join(&deck.id);
        let files = match begun(deck) {
            Ok(files) => files,
            Err(error) => return self.fail(&error),
        };
        if folder.exists() {
            let text = format!("There is a folder {} already. Give the new deck another id.", folder.display());
            return self.say(Notice::failed(text));
        }
        let write = || -> std::io::Result<()> {
            fs::create_dir_all(&folder)?;
            files.iter().try_for_each(|(name, text)| files::put(&folder.join(name), text))
        };
        match write() {
            Ok(()) => {
                self.open_to_write(folder.clone());
                self.say(Notice::done(format!("Begun in {}.", folder.display())));
            }
            Err(error) => self.cannot_write(&folder, &error),
        }
    }

    pub(super) fn cannot_write(&mut self, file: &Path, error: &std::io::Error) {
        self.say(Notice::failed(format!(
            "{} could not be written ({error}). Free the disk or allow writing there, and try again.",
            file.display()
        )));
    }

    fn open_in_editor(&mut self, file: &str, line: usize) {
        let Some(folder) = self.writing().map(|writing| writing.folder.clone()) else { return };
        let path = folder.join(file);
        let notice = match (self.sound.devices.edit)(&path, line) {
            Edited::AtLine => Notice::done(format!("{file} opens in the editor at line {line}.")),
            Edited::File => Notice::done(format!("{file} opens in the editor; go to line {line} there.")),
            Edited::Nothing => Notice::failed(format!(
                "No editor was found on this computer. Open {} by hand and go to line {line}.",
                path.display()
            )),
        };
        self.say(notice);
    }

    pub(super) fn try_card(&mut self) {
        let now = self.now();
        let (seed, shuffle) = (self.fresh_seed(), self.shuffle());
        let Some(writing) = self.open_mut().and_then(|open| open.writing.as_deref_mut()) else { return };
        let (Some(card), place) = (writing.card().cloned(), writing.in_hand().and_then(AtWriting::place_of)) else {
            return self.say(Notice::failed("This card cannot be read yet, so it cannot be answered."));
        };
        writing.opened += 1;
        let sheet = AnswerSheet::of(&card, Stage::Asked, now, seed, shuffle);
        writing.trial = Some(Trial::of(card, place, sheet));
        self.expect_typing();
        self.show_page(WritePage::Card);
    }

    /// The answer has been looked at: the question about a run goes, or the card.
    pub(super) fn put_answer_away(&mut self) {
        let explained = self.with_sheet(|_, sheet| {
            let is_in_front = sheet.explaining.is_some();
            if is_in_front {
                sheet.explained();
            }
            is_in_front
        });
        if explained == Some(false) {
            self.with_writing(|writing| writing.trial = None);
            self.show_page(WritePage::Desk);
        }
    }

    pub(super) fn tell_marking(&mut self) {
        let mut is_told = false;
        self.with_writing(|writing| {
            let Some(trial) = &mut writing.trial else { return };
            let found = trial.marked().map(|(_, marking)| WantedOfSample::as_found(marking));
            is_told = found.is_some();
            trial.wanted = trial.wanted.take().or(found);
        });
        if is_told {
            self.show_page(WritePage::Told);
        }
    }

    fn want(&mut self, point: usize, wanted: Wanted) {
        self.with_writing(|writing| {
            let Some(trial) = &mut writing.trial else { return };
            let points = trial.card.key_points().map_or(0, <[_]>::len);
            let Some(all) = trial.wanted.as_mut().filter(|_| (1..=points).contains(&point)) else { return };
            all.says.retain(|one| *one != point);
            all.denies.retain(|one| *one != point);
            match wanted {
                Wanted::Open => {}
                Wanted::Said => all.says.push(point),
                Wanted::Denied => all.denies.push(point),
            }
            all.says.sort_unstable();
            all.denies.sort_unstable();
        });
    }

    fn keep_sample(&mut self) {
        let Some(writing) = self.writing() else { return };
        let Some(trial) = &writing.trial else { return };
        let (Some((answer, _)), Some(wanted), Some((file, place))) = (trial.marked(), &trial.wanted, &trial.place)
        else {
            return self.say(Notice::failed("The card has no id yet, so that no sample can be written into it."));
        };
        let sample =
            SampleForm { answer, says: wanted.says.clone(), denies: wanted.denies.clone(), outcome: wanted.outcome };
        let (path, name) = (writing.folder.join(file), file.clone());
        let otherwise = trial.otherwise();
        let text = match files::text_of(&path) {
            Ok(text) => text,
            Err(error) => return self.cannot_read(&path, &error),
        };
        let changed = match with_sample(&text, place, &sample) {
            Ok(changed) => changed,
            Err(error) => return self.fail(&error),
        };
        if let Err(error) = files::put(&path, &changed) {
            return self.cannot_write(&path, &error);
        }
        self.with_writing(|writing| writing.trial = None);
        self.show_page(WritePage::Desk);
        self.say(match otherwise.is_empty() {
            true => Notice::done(format!("The sample is written into {name}; it comes out as it is meant.")),
            false => Notice {
                tone: crate::present::Tone::Weak,
                text: format!(
                    "The sample is written into {name}. As the card stands it comes out otherwise: {otherwise}."
                ),
            },
        });
    }

    pub(super) fn cannot_read(&mut self, file: &Path, error: &std::io::Error) {
        self.say(Notice::failed(format!("{} could not be read ({error}).", file.display())));
    }

    fn edit_card(&mut self) {
        let Some(writing) = self.writing() else { return };
        let Some((file, place)) = writing.in_hand().and_then(AtWriting::place_of) else {
            return self.say(Notice::failed("The card has no id yet. Give it one in the editor first."));
        };
        let path = writing.folder.join(&file);
        match files::text_of(&path).map(|text| form_of(&text, &place)) {
            Err(error) => self.cannot_read(&path, &error),
            Ok(Err(error)) => self.fail(&error),
            Ok(Ok(form)) => self.open_form(OpenForm { form, place: Some(place), file, trouble: String::new() }),
        }
    }

    fn open_form(&mut self, form: OpenForm) {
        self.with_writing(|writing| {
            writing.opened += 1;
            writing.form = Some(form);
        });
        self.show_page(WritePage::Form);
    }

    fn new_card(&mut self, kind: Kind) {
        let (Some(mut form), Some(writing)) = (blank_form(kind), self.writing()) else { return };
        let file = file_for_new(writing);
        let like = writing.card();
        let text = writing.reading.iter().flat_map(|reading| &reading.texts).find(|text| text.name == file);
        let usual = text.and_then(|text| usual_topic(&text.text)).map(str::to_owned);
        let topic = like.map(|card| card.topic.clone()).or(usual).unwrap_or_default();
        form.set("topic", Holds::Text(topic));
        form.set("heading", Holds::Text(like.and_then(|card| card.heading.clone()).unwrap_or_default()));
        let known = writing.deck.iter().flat_map(|deck| deck.sources.keys()).next().cloned();
        let sources = like.map(|card| card.sources.clone()).unwrap_or_else(|| known.into_iter().collect());
        form.set("sources", Holds::List(sources));
        self.open_form(OpenForm { form, place: None, file, trouble: String::new() });
    }

    fn save_card(&mut self, form: &CardForm, base: &CardForm) {
        let Some(writing) = self.writing() else { return };
        let Some(open) = writing.form.clone() else { return };
        let path = writing.folder.join(&open.file);
        let is_double =
            open.place.is_none() && writing.cards.iter().any(|seen| seen.written.id.as_deref() == Some(&form.id));
        if is_double {
            let text = format!("There is a card `{}` in this deck already. Give the new one another id.", form.id);
            return self.say(Notice::failed(text));
        }
        let text = match files::text_of(&path) {
            Err(error) if error.kind() == std::io::ErrorKind::NotFound && open.place.is_none() => String::new(),
            Err(error) => return self.cannot_read(&path, &error),
            Ok(text) => text,
        };
        let changed = match &open.place {
            None => with_new_card(&text, form),
            Some(place) => match form_of(&text, place) {
                Ok(now) if !now.says_as(base) => {
                    // Asked about on the page, which sees the other form there.
                    return self.with_writing(|writing| writing.form = Some(OpenForm { form: now, ..open }));
                }
                Ok(_) => with_card(&text, place, form),
                Err(error) => Err(error),
            },
        };
        let place =
            Place { kind: form.kind, nth: open.place.as_ref().map_or(0, |place| place.nth), id: form.id.clone() };
        let written = changed.and_then(|changed| form_of(&changed, &place).map(|form| (changed, form)));
        let (changed, form) = match written {
            Ok(written) => written,
            Err(error) => return self.fail(&error),
        };
        if let Err(error) = files::put(&path, &changed) {
            return self.cannot_write(&path, &error);
        }
        let file = open.file.clone();
        self.with_writing(|writing| {
            writing.opened += 1;
            writing.awaited = Some(form.id.clone());
            writing.form = Some(OpenForm { form, place: Some(place), ..open });
        });
        self.say(Notice::done(format!("Written to {file}.")));
    }
}

/// The form that is open says what the file now says.
fn refresh(writing: &mut AtWriting) {
    let Some(form) = &mut writing.form else { return };
    let Some(place) = &form.place else { return };
    let text = writing.reading.iter().flat_map(|reading| &reading.texts).find(|text| text.name == form.file);
    let now = match text {
        Some(text) => form_of(&text.text, place).map_err(|error| english::sentence(&error.to_string())),
        None => Err(format!("{} is not there any more.", form.file)),
    };
    match now {
        Ok(now) => (form.form, form.trouble) = (now, String::new()),
        Err(trouble) => form.trouble = trouble,
    }
}

/// The file that a new card goes into: that of the card in hand, or the deck's last file of cards.
fn file_for_new(writing: &AtWriting) -> String {
    let of_hand = writing.in_hand().map(|seen| seen.written.file.clone());
    let texts = writing.reading.as_ref().map_or(&[][..], |reading| &reading.texts);
    let names = texts.iter().map(|text| text.name.clone());
    let last = names.rev().find(|name| name != "deck.toml");
    of_hand.or(last).unwrap_or_else(|| "cards.toml".to_owned())
}
