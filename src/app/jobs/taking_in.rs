//! Taking decks in: a file is looked into, and what was shown of it is taken in when the person says so.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::app::jobs::crew::Crew;
use crate::app::jobs::job::{Control, Job, JobFault, Polled, Prepared, Task};
use crate::app::publish::considering::{Considered, consider};
use crate::app::publish::file;
use crate::app::publish::going_back::go_back;
use crate::app::publish::news::{Done, News};
use crate::app::publish::taking_in::take_in;
use crate::deck::sealed::Refusal;
use crate::domain::day::Instant;
use crate::domain::ids::DeckId;

const TASK: Task<Errand, Brought> = Task { thread: Some("taking-in"), stack: None, limit: None, work };

/// What is to be done, in which home.
struct Errand {
    home: PathBuf,
    what: What,
}

enum What {
    Look(PathBuf),
    TakeIn(Box<Looked>),
    GoBack(DeckId),
}

/// What came of it.
enum Brought {
    Looked(Box<Looked>),
    NotRead(PathBuf, Refusal),
    Taken(PathBuf, Box<News>),
    WentBack(Box<News>),
}

/// A file that was looked into: the very bytes that are taken in after a yes.
#[derive(Clone)]
pub struct Looked {
    /// Where it lies.
    pub path: PathBuf,
    bytes: Arc<Vec<u8>>,
    /// What there is to ask about it.
    pub considered: Considered,
}

/// How far it is.
#[derive(Default)]
pub enum TakingIn {
    /// No file is in hand.
    #[default]
    Nothing,
    /// This file is being looked into.
    Looking(PathBuf),
    /// It may be taken in, if the person says so.
    Offered(Box<Looked>),
    /// It is being taken in, or an edition is being brought back.
    Working,
    /// This file is not taken in; or it is here already.
    Refused(PathBuf, Box<News>),
}

/// What the program has to deal with.
pub enum TakingInEvent {
    /// Another edition of a deck is in use now.
    Changed(Box<News>),
    /// No edition could be brought back.
    NotBack(Refusal),
    /// The work broke off.
    Broken(JobFault),
}

fn work(errand: Errand, _: &Control) -> Brought {
    let home: &Path = &errand.home;
    match errand.what {
        What::Look(path) => match file::read(&path) {
            Ok(bytes) => {
                let considered = consider(home, &bytes);
                Brought::Looked(Box::new(Looked { path, bytes: Arc::new(bytes), considered }))
            }
            Err(refusal) => Brought::NotRead(path, refusal),
        },
        What::TakeIn(looked) => {
            let news = take_in(home, &looked.bytes, looked.considered.wishes, &mut |_| {});
            Brought::Taken(looked.path, Box::new(news))
        }
        What::GoBack(deck) => Brought::WentBack(Box::new(go_back(home, &deck.0))),
    }
}

/// The taking in of a deck, as far as it has come.
pub struct TakingInJob {
    job: Job<(), Errand, Brought>,
    state: TakingIn,
}

impl TakingInJob {
    pub(super) fn new(crew: &Crew) -> Self {
        Self { job: Job::new(TASK, crew.clone()), state: TakingIn::Nothing }
    }

    /// How far it is.
    pub(in crate::app) fn state(&self) -> &TakingIn {
        &self.state
    }

    /// Has a file looked into; what was in hand is put away, unless it is being taken in at this moment.
    pub(in crate::app) fn look(&mut self, home: &Path, path: PathBuf, now: Instant) {
        if !matches!(self.state, TakingIn::Working) {
            self.state = TakingIn::Looking(path.clone());
            self.begin(home, What::Look(path), now);
        }
    }

    /// Takes in what was looked into; false where nothing is in hand.
    pub(in crate::app) fn take_in(&mut self, home: &Path, now: Instant) -> bool {
        match std::mem::take(&mut self.state) {
            TakingIn::Offered(looked) => {
                self.state = TakingIn::Working;
                self.begin(home, What::TakeIn(looked), now);
                true
            }
            state => {
                self.state = state;
                false
            }
        }
    }

    /// Has the edition before brought back; false where something else is being done.
    pub(in crate::app) fn go_back(&mut self, home: &Path, deck: DeckId, now: Instant) -> bool {
        if matches!(self.state, TakingIn::Working) {
            return false;
        }
        self.state = TakingIn::Working;
        self.begin(home, What::GoBack(deck), now);
        true
    }

    /// Puts away what is in hand, unless it is being taken in at this moment.
    pub(in crate::app) fn put_away(&mut self) {
        if !matches!(self.state, TakingIn::Working) {
            self.job.cancel();
            self.state = TakingIn::Nothing;
        }
    }

    fn begin(&mut self, home: &Path, what: What, now: Instant) {
        self.job.cancel();
        let home = home.to_owned();
        self.job.request((), now, |()| Prepared::Ready(Errand { home, what }));
    }

    /// Takes in what has come.
    pub(super) fn poll(&mut self, now: Instant) -> (Polled, Option<TakingInEvent>) {
        let polled = self.job.poll(now);
        (polled, if polled == Polled::Ended { self.come() } else { None })
    }

    /// Waits for what is on its way.
    pub(super) fn wait(&mut self) -> Option<TakingInEvent> {
        if self.job.wait() == Polled::Ended { self.come() } else { None }
    }

    fn come(&mut self) -> Option<TakingInEvent> {
        let refused = |path, news: News| TakingIn::Refused(path, Box::new(news));
        self.state = TakingIn::Nothing;
        match self.job.take()? {
            Err(fault) => return Some(TakingInEvent::Broken(fault)),
            Ok(Brought::NotRead(path, refusal)) => self.state = refused(path, News::refused(refusal)),
            Ok(Brought::Looked(looked)) => {
                let news = &looked.considered.news;
                let is_over = news.refused.is_some() || news.done == Done::AlreadyThere;
                self.state = match is_over {
                    true => refused(looked.path.clone(), news.clone()),
                    false => TakingIn::Offered(looked),
                };
            }
            Ok(Brought::Taken(path, news)) => match news.refused {
                Some(_) => self.state = TakingIn::Refused(path, news),
                None => return Some(TakingInEvent::Changed(news)),
            },
            Ok(Brought::WentBack(news)) => {
                return Some(match news.refused {
                    Some(refusal) => TakingInEvent::NotBack(refusal),
                    None => TakingInEvent::Changed(news),
                });
            }
        }
        None
    }
}
