//! How an oral's questions are shared over competences, how long it is, and what passes it.

use serde::{Deserialize, Serialize};

use crate::domain::certificate::Certificate;

/// A blueprint. Ours by default; administrations differ, so that an instructor may change it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Blueprint {
    /// The certificate that it is for.
    pub certificate: Certificate,
    /// How much each competence weighs. Functions weigh what their competences add up to.
    pub shares: Vec<Share>,
    /// How long it is.
    pub length: Length,
    /// What passes it.
    pub rules: Rules,
}

/// A competence's share.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Share {
    /// The competence's key, such as `A-III/1.1.4`.
    pub competence: String,
    /// The competence's weight, from 0; what all add up to does not matter.
    pub weight: f64,
}

/// How long an oral is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Length {
    /// So many lead questions.
    Questions(usize),
    /// So many minutes: no lead question begins after that.
    Minutes(u32),
}

/// What passes an oral.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Rules {
    /// The least share of points over all, 0 to 1.
    pub overall: f64,
    /// The least share of points in each function that was asked, 0 to 1.
    pub each_function: f64,
    /// A safety-critical point that is missing even after a prompt fails the sitting.
    pub critical_fails: bool,
}

/// A blueprint that cannot be used.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{message}")]
pub struct BlueprintError {
    /// What is wrong and how to mend it.
    pub message: String,
}

/// The most lead questions of an oral.
const MOST_QUESTIONS: usize = 60;
/// Minutes that are reckoned with for a lead question with its follow-ups.
pub const MINUTES_A_LEAD: u32 = 4;
/// The longest oral, in minutes.
const MOST_MINUTES: u32 = 240;

/// Weights for each competence, in the order of the Code. Common practice, no published source: marine engineering and
/// safety take most of an oral, English and communications are heard in every answer.
const WATCH: &[(&str, f64)] = &[
    ("A-III/1.1.1", 10.0),
    ("A-III/1.1.2", 1.0),
    ("A-III/1.1.3", 2.0),
    ("A-III/1.1.4", 17.0),
    ("A-III/1.1.5", 10.0),
    ("A-III/1.2.1", 13.0),
    ("A-III/1.2.2", 7.0),
    ("A-III/1.3.1", 5.0),
    ("A-III/1.3.2", 10.0),
    ("A-III/1.4.1", 7.0),
    ("A-III/1.4.2", 3.0),
    ("A-III/1.4.3", 5.0),
    ("A-III/1.4.4", 2.0),
    ("A-III/1.4.5", 1.0),
    ("A-III/1.4.6", 3.0),
    ("A-III/1.4.7", 2.0),
    ("A-III/1.4.8", 2.0),
];
const MANAGEMENT: &[(&str, f64)] = &[
    ("A-III/2.1.1", 11.0),
    ("A-III/2.1.2", 8.0),
    ("A-III/2.1.3", 10.0),
    ("A-III/2.1.4", 6.0),
    ("A-III/2.2.1", 11.0),
    ("A-III/2.2.2", 7.0),
    ("A-III/2.3.1", 7.0),
    ("A-III/2.3.2", 7.0),
    ("A-III/2.3.3", 6.0),
    ("A-III/2.4.1", 5.0),
    ("A-III/2.4.2", 9.0),
    ("A-III/2.4.3", 4.0),
    ("A-III/2.4.4", 6.0),
    ("A-III/2.4.5", 3.0),
];
const ELECTRO: &[(&str, f64)] = &[
    ("A-III/6.1.1", 11.0),
    ("A-III/6.1.2", 9.0),
    ("A-III/6.1.3", 11.0),
    ("A-III/6.1.4", 10.0),
    ("A-III/6.1.5", 4.0),
    ("A-III/6.1.6", 1.0),
    ("A-III/6.1.7", 3.0),
    ("A-III/6.2.1", 12.0),
    ("A-III/6.2.2", 9.0),
    ("A-III/6.2.3", 5.0),
    ("A-III/6.2.4", 5.0),
    ("A-III/6.2.5", 3.0),
    ("A-III/6.3.1", 4.0),
    ("A-III/6.3.2", 5.0),
    ("A-III/6.3.3", 2.0),
    ("A-III/6.3.4", 1.0),
    ("A-III/6.3.5", 2.0),
    ("A-III/6.3.6", 3.0),
];

impl Length {
    /// How many lead questions an oral of this length has, as far as can be said beforehand.
    pub fn leads(self) -> usize {
        match self {
            Length::Questions(n) => n,
            Length::Minutes(n) => (n.div_ceil(MINUTES_A_LEAD) as usize).max(1),
        }
    }
}

impl Blueprint {
    /// A competence's weight; 0 where it is not asked.
    pub fn weight_of(&self, competence: &str) -> f64 {
        self.shares.iter().find(|share| share.competence == competence).map_or(0.0, |share| share.weight)
    }

    /// The blueprint that ships with the program for a certificate: ten lead questions.
    pub fn standard(certificate: Certificate) -> Self {
        let weights = match certificate {
            Certificate::Watch => WATCH,
            Certificate::Second | Certificate::Chief => MANAGEMENT,
            Certificate::ElectroTechnical => ELECTRO,
        };
        let share =
            |(competence, weight): &(&str, f64)| Share { competence: (*competence).to_owned(), weight: *weight };
        Self {
            certificate,
            shares: weights.iter().map(share).collect(),
            length: Length::Questions(10),
            rules: Rules { overall: 0.6, each_function: 0.5, critical_fails: true },
        }
    }

    /// The functions with their weights, in the order of the shares.
    pub fn functions(&self) -> Vec<(&str, f64)> {
        let mut functions: Vec<(&str, f64)> = Vec::new();
        for share in &self.shares {
            let function = function_of(&share.competence);
            match functions.iter_mut().find(|(key, _)| *key == function) {
                Some((_, weight)) => *weight += share.weight,
                None => functions.push((function, share.weight)),
            }
        }
        functions
    }

    /// Whether it can be used.
    ///
    /// # Errors
    /// Where weights are not numbers from 0, none is above 0, a competence stands twice or belongs to another table than
    /// the certificate's, or a length or a rule is out of its range.
    pub fn checked(self) -> Result<Self, BlueprintError> {
        let error = |message: String| Err(BlueprintError { message });
        let table = format!("{}.", self.certificate.table());
        for (at, share) in self.shares.iter().enumerate() {
            if !share.weight.is_finite() || share.weight < 0.0 {
                return error(format!("the weight of {} must be a number from 0", share.competence));
            }
            if !share.competence.starts_with(&table) {
                return error(format!("{} is not in table {}", share.competence, self.certificate.table()));
            }
            if self.shares[..at].iter().any(|other| other.competence == share.competence) {
                return error(format!("{} has two weights; give it one", share.competence));
            }
        }
        if self.shares.iter().all(|share| share.weight <= 0.0) {
            return error("no competence has a weight above 0; give at least one".to_owned());
        }
        match self.length {
            Length::Questions(n) if !(1..=MOST_QUESTIONS).contains(&n) => {
                return error(format!("an oral has 1 to {MOST_QUESTIONS} lead questions"));
            }
            Length::Minutes(n) if !(5..=MOST_MINUTES).contains(&n) => {
                return error(format!("an oral lasts 5 to {MOST_MINUTES} minutes"));
            }
            _ => {}
        }
        if [self.rules.overall, self.rules.each_function].iter().any(|share| !(0.0..=1.0).contains(share)) {
            return error("a pass mark is a share from 0 to 1, such as 0.6".to_owned());
        }
        Ok(self)
    }
}

/// The function that a competence belongs to: `A-III/1.2` of `A-III/1.2.1`.
pub fn function_of(competence: &str) -> &str {
    competence.rsplit_once('.').map_or(competence, |(function, _)| function)
}
