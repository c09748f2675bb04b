//! A why card as data to draw: links ashore, then the learner's order beside the right one.

/// What is shown while a card of this kind is asked.
pub type Asked = WhyAskedView;

/// What is shown of a card of this kind once it is marked.
pub type Marked = WhyMarkedView;

/// Links ashore, shuffled; some belong nowhere.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WhyAskedView {
    /// In the order shown ashore.
    pub links: Vec<LinkView>,
}

/// The learner's order beside the right one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WhyMarkedView {
    /// The learner's links, in the learner's order.
    pub given: Vec<GivenLink>,
    /// The right order, in words; empty where it is told in the debrief.
    pub right: Vec<String>,
}

/// A link of a why.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LinkView {
    /// Position of the link in links then false links, from 1: what `Given::Links` holds.
    pub position: usize,
    /// Words of the link.
    pub text: String,
}

/// A link as the learner placed it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GivenLink {
    /// Words of the link.
    pub text: String,
    /// How it stands.
    pub standing: LinkStanding,
}

/// How a placed link stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LinkStanding {
    /// Part of the longest right run.
    InOrder,
    /// A right link, but out of its place.
    OutOfPlace,
    /// Belongs nowhere.
    False,
}
