//! Two computers of one learner: a profile written out, and brought in elsewhere.

mod computer;
mod hostile;
mod props;
mod terminal;
mod union;
