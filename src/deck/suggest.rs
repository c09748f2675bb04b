//! "Did you mean": the nearest word of those that would have been right.

/// Other words that people write for a key, with the key that is meant.
const MEANT: &[(&str, &str)] = &[
    ("question", "ask"),
    ("prompt", "ask"),
    ("text", "ask"),
    ("answer", "value"),
    ("tolerance", "within"),
    ("reason", "because"),
    ("explanation", "because"),
    ("why", "because"),
    ("section", "heading"),
    ("image", "picture"),
    ("time", "seconds"),
    ("competence", "topic"),
    ("author", "publisher"),
    ("version", "edition"),
    ("name", "title"),
    ("label", "title"),
    ("license", "licence"),
    ("description", "about"),
    ("lang", "language"),
    ("key", "id"),
    ("synonyms", "accept"),
    ("refuse", "reject"),
    ("deny", "reject"),
    ("safety", "critical"),
    ("follow_ups", "probes"),
    ("distractors", "false_links"),
    ("wrong_links", "false_links"),
    ("causes", "links"),
    ("type", "kind"),
];

/// The one of `candidates` that `word` was probably meant to be; `None` where nothing is near.
pub(crate) fn nearest<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str> + Clone) -> Option<&'a str> {
    let length = word.chars().take(61).count();
    if length == 0 || length > 60 {
        return None;
    }
    let folded = fold(word);
    let meant = MEANT.iter().filter(|(other, _)| *other == folded).find_map(|(_, key)| {
        let mut all = candidates.clone().into_iter();
        all.find(|candidate| candidate == key)
    });
    meant.or_else(|| {
        let near = |candidate: &&str| strsim::osa_distance(&folded, &fold(candidate));
        let best = candidates.into_iter().min_by_key(near)?;
        (near(&best) <= (length / 3).max(1)).then_some(best)
    })
}

/// `did you mean ...?` where something is near, else the words that would be right.
pub(crate) fn mend<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str> + Clone) -> String {
    if let Some(near) = nearest(word, candidates.clone()) {
        return format!("did you mean `{near}`?");
    }
    let mut all: Vec<&str> = candidates.into_iter().take(40).collect();
    match all.pop() {
        None => "take it out".to_owned(),
        Some(last) if all.is_empty() => format!("write `{last}`, or take it out"),
        Some(last) => format!("write `{}` or `{last}`, or take it out", all.join("`, `")),
    }
}

fn fold(word: &str) -> String {
    word.to_lowercase().replace('-', "_")
}
