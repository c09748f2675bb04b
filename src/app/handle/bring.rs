//! Two computers of one learner: a profile's file is taken in, or written.

use std::path::PathBuf;

use crate::app::jobs::bring::{Done, Wish};
use crate::app::jobs::job::JobFault;
use crate::app::program::app::App;
use crate::app::views;
use crate::domain::english;
use crate::present::Notice;
use crate::store::bring::Whose;

impl App {
    /// Files that may be taken in are looked for.
    pub(super) fn find_files(&mut self) {
        self.jobs.bring.looked = None;
        self.do_errand(Wish::Find(self.setup.home.clone()));
    }

    /// A file is looked into: what would come is told first.
    pub(super) fn look_into(&mut self, file: &str) {
        self.do_errand(Wish::Look(PathBuf::from(file.trim())));
    }

    /// What was looked into is left where it is.
    pub(super) fn leave_file(&mut self) {
        self.jobs.bring.looked = None;
    }

    /// What was looked into is brought in. Another learner's was asked about on the page.
    pub(super) fn take_in(&mut self) {
        if let Some((file, would)) = self.jobs.bring.looked.clone() {
            self.save_worksheet();
            self.do_errand(Wish::Take(Box::new(file), would.whose == Whose::Other));
        }
    }

    /// The profile is written out.
    pub(super) fn write_out(&mut self, to: &str) {
        self.do_errand(Wish::Write(PathBuf::from(to.trim())));
    }

    fn do_errand(&mut self, wish: Wish) {
        let now = self.now();
        if let Some(store) = self.open().map(|open| open.profile.store.clone()) {
            self.jobs.bring.request(wish, &store, now);
        }
    }

    /// An errand has come to its end.
    pub(in crate::app) fn errand_done(&mut self, done: Result<Done, JobFault>) {
        match done {
            Ok(Done::Found(files, to)) => (self.jobs.bring.found, self.jobs.bring.to) = (files, Some(to)),
            Ok(Done::Looked(file, would)) => self.jobs.bring.looked = Some((*file, *would)),
            Ok(Done::Taken(merged)) => {
                // All that was read at the start is read anew, and what was worked out is worked out again.
                self.reopen();
                self.say(Notice::done(views::bring_over::taken(&merged)));
            }
            Ok(Done::Written(file)) => self.say(Notice::done(views::bring_over::written(&file))),
            Err(JobFault::Store(error)) => {
                self.jobs.bring.looked = None;
                self.say(Notice::failed(english::sentence(&error.to_string())));
            }
            Err(fault) => self.tell_fault("The profile’s file", "Try again", &fault),
        }
    }
}
