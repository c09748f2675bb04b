//! Where the parts of a procedure stand in the file, and its facts by their names.

use crate::deck::check::Site;
use crate::deck::checks;
use crate::deck::fields::{Context, Table, Text};
use crate::domain::plant::Need;

/// Where the parts of a procedure stand in the file.
#[derive(Default)]
pub(super) struct Places {
    pub(super) card: Site,
    pub(super) strict: Option<Site>,
    pub(super) facts: Vec<Site>,
    pub(super) goal: Vec<Site>,
    pub(super) goal_list: Site,
    pub(super) steps: Vec<StepPlaces>,
    pub(super) reflexes: Vec<ReflexPlaces>,
}

/// Where the parts of a step stand.
#[derive(Default)]
pub(super) struct StepPlaces {
    pub(super) step: Site,
    pub(super) needs: Vec<Site>,
    pub(super) faults: Vec<Site>,
    pub(super) trap: Site,
}

/// Where the parts of a reflex stand.
#[derive(Default)]
pub(super) struct ReflexPlaces {
    pub(super) reflex: Site,
    pub(super) when: Vec<Site>,
}

/// The declared facts, by name.
pub(super) struct Names<'t> {
    pub(super) keys: Vec<&'t str>,
    /// Some could not be read, so that nothing can be said of one that is not there.
    pub(super) is_lacking: bool,
}

impl Names<'_> {
    /// A need as a deck writes it.
    pub(super) fn written(&self, need: Need) -> String {
        let key = self.keys.get(need.fact).copied().unwrap_or_default();
        if need.holds { key.to_owned() } else { format!("!{key}") }
    }

    /// The fact of this name; reported where there is none.
    pub(super) fn number(&self, context: &mut Context<'_>, name: &str, site: Site) -> Option<usize> {
        let number = self.keys.iter().position(|key| *key == name);
        if number.is_none() && !self.is_lacking {
            context.report(checks::sequence::unknown_fact(site, name, self.keys.iter().copied()));
        }
        number
    }

    /// A need as written: `fact` or `!fact`.
    pub(super) fn need(&self, context: &mut Context<'_>, text: Text<'_>) -> Option<Need> {
        let written = text.value.trim();
        let name = written.strip_prefix('!').map_or(written, str::trim_start);
        let fact = self.number(context, name, text.site)?;
        Some(Need { fact, holds: !written.starts_with('!') })
    }

    /// A list of needs with their places.
    pub(super) fn needs(&self, context: &mut Context<'_>, table: Table<'_, '_>, key: &str) -> (Vec<Need>, Vec<Site>) {
        let texts = table.texts(context, key).unwrap_or_default();
        let needs = texts.into_iter().filter_map(|text| Some((self.need(context, text)?, text.site)));
        needs.collect::<Vec<_>>().into_iter().unzip()
    }

    /// A list of facts, none of them with `!`.
    pub(super) fn list(&self, context: &mut Context<'_>, table: Table<'_, '_>, key: &str) -> Vec<usize> {
        let mut facts = Vec::new();
        for text in table.texts(context, key).unwrap_or_default() {
            let name = text.value.trim();
            if name.starts_with('!') {
                context.report(checks::sequence::unknown_fact_negated(text.site, name, key));
            } else {
                facts.extend(self.number(context, name, text.site));
            }
        }
        facts
    }
}
