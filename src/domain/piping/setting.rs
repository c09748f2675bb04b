//! Settings by key: from a learner's answer to a setting of the network, and back.

use super::network::{Network, NodeKind, Setting};
use crate::domain::answer::LinedUp;

/// A key of an answer is shown to this length.
const MOST_SHOWN: usize = 60;

/// An answer that names what cannot be set so. An error of the call.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{message}")]
pub struct SettingError {
    /// What is wrong with it and how to mend it.
    pub message: String,
}

impl Network {
    /// The setting that an answer names: everything that it does not name is shut, three-way valves on neither way;
    /// what is fixed stays as found.
    ///
    /// # Errors
    /// Where a node does not exist, cannot be turned or is named twice, or a way is none of the valve's two.
    pub fn setting_of(&self, given: &LinedUp) -> Result<Setting, SettingError> {
        let mut setting = self.all_shut();
        let mut named = vec![false; self.nodes.len()];
        for key in &given.open {
            let node = self.named(key)?;
            let it = &self.nodes[node];
            if it.kind == NodeKind::ThreeWay {
                return Err(error(format!("`{}` is a three-way valve; set it by `ways`, not by `open`", shown(key))));
            }
            if !it.kind.can_be_shut() {
                let what = it.kind.one();
                return Err(error(format!("`{}` is {what} and can be neither opened nor shut", shown(key))));
            }
            if it.fixed {
                return Err(error(format!("`{}` is fixed as found and cannot be turned; leave it out", shown(key))));
            }
            if std::mem::replace(&mut named[node], true) {
                return Err(error(format!("`{}` is given twice; give each at most once", shown(key))));
            }
            setting.open[node] = true;
        }
        for (key, way) in &given.ways {
            let node = self.named(key)?;
            let Some(ways) = self.nodes[node].ways.filter(|_| self.nodes[node].kind == NodeKind::ThreeWay) else {
                return Err(error(format!("`{}` is no three-way valve and has no ways", shown(key))));
            };
            let to = ways.map(|way| self.nodes[way].key.as_str());
            let Some(way) = to.iter().position(|to| to == way) else {
                let (way, key) = (shown(way), shown(key));
                return Err(error(format!("`{way}` is no way of `{key}`; its ways are `{}` and `{}`", to[0], to[1])));
            };
            setting.way[node] = Some(way);
        }
        Ok(setting)
    }

    /// Everything that can be turned shut, three-way valves on neither way; what is fixed stays as found.
    pub fn all_shut(&self) -> Setting {
        let is_open = |at: usize| {
            let node = &self.nodes[at];
            !node.kind.can_be_shut() || (node.fixed && node.open)
        };
        Setting { open: (0..self.nodes.len()).map(is_open).collect(), way: vec![None; self.nodes.len()] }
    }

    /// The answer that names a setting: what stands open and can be turned, and the way of each three-way valve that
    /// is on one.
    pub fn named_setting(&self, setting: &Setting) -> LinedUp {
        let turnable = self.turnable().into_iter();
        let open = turnable.filter(|at| self.nodes[*at].kind.can_be_shut() && setting.open[*at]);
        let on_a_way = (0..self.nodes.len()).filter_map(|at| Some((at, self.nodes[at].ways?[setting.way[at]?])));
        LinedUp {
            open: open.map(|at| self.nodes[at].key.clone()).collect(),
            ways: on_a_way.map(|(at, way)| (self.nodes[at].key.clone(), self.nodes[way].key.clone())).collect(),
        }
    }

    fn named(&self, key: &str) -> Result<usize, SettingError> {
        self.node_of(key).ok_or_else(|| {
            let keys: Vec<&str> = self.turnable().into_iter().map(|at| self.nodes[at].key.as_str()).collect();
            let can = if keys.is_empty() {
                "nothing can be turned".to_owned()
            } else {
                format!("what can be turned is `{}`", keys.join("`, `"))
            };
            error(format!("there is no node `{}`; {can}", shown(key)))
        })
    }
}

fn error(message: String) -> SettingError {
    SettingError { message }
}

fn shown(key: &str) -> String {
    key.chars().take(MOST_SHOWN).collect()
}
