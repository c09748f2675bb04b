//! Checks: what is wrong with a line-up: its nodes, pipes and demands.

use super::table::short;
use crate::deck::check::{Found, Site};
use crate::deck::suggest;
use crate::domain::piping::{Medium, NodeKind};

checks! {
    ALWAYS_MET {
        code: "always-met",
        severity: Warning,
        says: "a demand that every setting meets",
        why: "However the learner sets the valves, the demand is met, so it asks nothing. Often a pipe or a valve was \
            forgotten.",
        example: &[
            "[[lineup.demand]]",
            r#"name = "Nothing from the engine to the sea""#,
            r#"never = ["engine", "sea-chest"]        # and no pipe joins the two"#,
        ],
        mend: "see whether a pipe is missing or a valve left out, or take the demand out",
    }
    BAD_DEMAND {
        code: "bad-demand",
        severity: Error,
        says: "a demand that is neither a flow through nodes nor a never between two",
        why: "A demand is a flow through two or more nodes, or a flow that must never go from one node to another. \
            Nothing else can be marked.",
        example: &["[[lineup.demand]]", r#"name = "Tank to engine""#, r#"flow = ["service-tank"]"#],
        mend: "write flow with two nodes or more in order, or never with two",
    }
    BAD_PLACE {
        code: "bad-place",
        severity: Error,
        says: "a place that is not on the grid",
        why: "The schematic is drawn on a grid of columns and rows, and this place lies outside the grid.",
        example: &["[[lineup.node]]", "at = [3, 100000]"],
        mend: "write a column and a row from -1000 to 1000, such as at = [3, 1]",
    }
    BAD_WAYS {
        code: "bad-ways",
        severity: Error,
        says: "the ways of a three-way valve are not two of its neighbours",
        why: "A three-way valve joins its common pipe with one of two neighbours. So pipes must tie it to both, and to \
            a third node.",
        example: &["[[lineup.node]]", r#"kind = "three-way""#, r#"ways = ["cooler"]"#],
        mend: "name the two neighbours that it can be set to; a pipe must tie it to both, and to a third",
    }
    DEAD_END {
        code: "dead-end",
        severity: Error,
        says: "a stop in the middle of a flow that has one pipe only",
        why: "Flow goes through a stop: it comes in by one pipe and goes out by another.",
        example: &[
            "[[lineup.pipe]]",
            r#"from = "outlet-valve""#,
            r#"to = "cooler"   # and no other pipe names the cooler"#,
            "[[lineup.demand]]",
            r#"name = "Through the cooler to the engine""#,
            r#"flow = ["service-tank", "cooler", "engine"]"#,
        ],
        mend: "add the pipe by which flow goes on, or let the flow end there",
    }
    DUPLICATE_NODE {
        code: "duplicate-node",
        severity: Error,
        says: "two nodes of a line-up have the same key",
        why: "Pipes, demands and answers name a node by its key, so two nodes cannot share one.",
        example: &["[[lineup.node]]", r#"key = "qcv""#, "[[lineup.node]]", r#"key = "qcv""#],
        mend: "give one of them another key",
    }
    IDLE_VALVE {
        code: "idle-valve",
        severity: Advice,
        says: "a valve on which no demand depends",
        why: "However the valve stands, every demand is met or not as before. So the learner is not asked about it.",
        example: &[
            "[[lineup.node]]",
            r#"key = "drain""#,
            r#"kind = "valve""#,
            r#"name = "Drain""#,
            "# and no demand speaks of where it leads",
        ],
        mend: "add a demand that it matters to, or leave it in as part of the drawing",
    }
    LONE_NODE {
        code: "lone-node",
        severity: Warning,
        says: "a node that no pipe is tied to",
        why: "The node is drawn, but nothing can flow to it or from it.",
        example: &[
            "[[lineup.node]]",
            r#"key = "cooler""#,
            r#"kind = "cooler""#,
            r#"name = "Cooler""#,
            "# and no [[lineup.pipe]] names it",
        ],
        mend: "add its pipes, or take it out",
    }
    MISSING_PLACE {
        code: "missing-place",
        severity: Warning,
        says: "a node that has no place on the grid",
        why: "The schematic is drawn from the places of its nodes. Without this place it is not drawn as you mean it.",
        example: &[
            "[[lineup.node]]",
            r#"key = "qcv""#,
            r#"kind = "quick-closing""#,
            r#"name = "Quick-closing valve""#,
        ],
        mend: "add at = [column, row]",
    }
    NAMES_OVERLAP {
        code: "names-overlap",
        severity: Advice,
        says: "the names of two neighbours run into one another",
        why: "The schematic must be stretched to part the names, and is then smaller to read.",
        example: &[
            "[[lineup.node]]",
            r#"name = "Emergency fire pump sea suction valve"   # one column from another long name"#,
        ],
        mend: "give shorter names, or leave a column free between the two",
    }
    NO_SETTING {
        code: "no-setting",
        severity: Error,
        says: "no setting of the valves meets every demand",
        why: "If the demands cannot be met, the card has no right answer.",
        example: &[
            "[[lineup.demand]]",
            r#"name = "Tank to engine""#,
            r#"flow = ["service-tank", "engine"]   # and a valve between them is fixed shut"#,
        ],
        mend: "see which demands stand against one another, and what is fixed",
    }
    ONE_SIDED {
        code: "one-sided",
        severity: Warning,
        says: "a pump, a compressor or a non-return valve without suction or without delivery",
        why: "What flow passes one way only takes it in by one pipe and gives it out by another.",
        example: &[
            "[[lineup.pipe]]",
            r#"from = "pump""#,
            r#"to = "filter""#,
            "[[lineup.pipe]]",
            r#"from = "pump"   # the suction, written the wrong way round"#,
            r#"to = "tank""#,
        ],
        mend: "add the pipe, or turn one round: its suction names it as `to`, its delivery as `from`",
    }
    PIPE_OVER_SYMBOL {
        code: "pipe-over-symbol",
        severity: Warning,
        says: "a pipe that runs over a node it is not tied to",
        why: "In the drawing it looks as if the pipe were joined to the symbol.",
        example: &[
            "[[lineup.pipe]]",
            r#"from = "tank"   # at [1, 1]"#,
            r#"to = "engine"   # at [5, 1], and a valve of another line stands at [3, 1]"#,
        ],
        mend: "lead it round by corners in `via`, or move the node",
    }
    PIPE_TO_ITSELF {
        code: "pipe-to-itself",
        severity: Error,
        says: "a pipe that goes from a node to the same node",
        why: "Such a pipe leads nowhere. Probably one of its two ends is another node.",
        example: &["[[lineup.pipe]]", r#"from = "qcv""#, r#"to = "qcv""#],
        mend: "name the node at its other end",
    }
    SAME_PLACE {
        code: "same-place",
        severity: Warning,
        says: "two nodes at the same place on the grid",
        why: "One symbol would be drawn on top of the other.",
        example: &["[[lineup.node]]", "at = [3, 1]   # and another node stands there too"],
        mend: "give one of them another column or row",
    }
    STOP_TWICE {
        code: "stop-twice",
        severity: Error,
        says: "a flow that names the same stop twice running",
        why: "Flow has no way to go from a stop to the same stop. Probably another node is meant.",
        example: &[
            "[[lineup.demand]]",
            r#"name = "Tank to engine""#,
            r#"flow = ["service-tank", "pump", "pump", "engine"]"#,
        ],
        mend: "name the stop once, or name what flow goes through before it comes back",
    }
    UNKNOWN_MEDIUM {
        code: "unknown-medium",
        severity: Error,
        says: "a medium that there is not",
        why: "The medium gives a pipe its colour and its word.",
        example: &["[[lineup.pipe]]", r#"medium = "diesel""#],
        mend: "write one of the media that the manual names",
    }
    UNKNOWN_NODE {
        code: "unknown-node",
        severity: Error,
        says: "a line-up names a node that it does not have",
        why: "A pipe or a demand that names no node of the line-up leads nowhere.",
        example: &["[[lineup.pipe]]", r#"from = "servce-tank""#, r#"to = "qcv""#],
        mend: "write the key as its [[lineup.node]] has it, or add the node",
    }
    UNKNOWN_NODE_KIND {
        code: "unknown-node-kind",
        severity: Error,
        says: "a kind of node that there is not",
        why: "The kind of a node decides how flow goes through it.",
        example: &["[[lineup.node]]", r#"kind = "gate-valve""#],
        mend: "write one of the kinds that the manual names",
    }
}

pub(crate) fn always_met(site: Site, name: &str, is_flow: bool) -> Found {
    let why = if is_flow {
        "flow goes there however the valves stand"
    } else {
        "flow never goes there, however the valves stand"
    };
    ALWAYS_MET.at(site, format!("every setting meets the demand “{name}”: {why}"), ALWAYS_MET.mend)
}

/// Neither `flow` nor `never`, or both.
pub(crate) fn bad_demand_one_of(site: Site, has_both: bool) -> Found {
    let what = if has_both { "has both `flow` and `never`" } else { "has neither `flow` nor `never`" };
    let mend = if has_both {
        "make two demands of it"
    } else {
        "add flow = [\"from\", \"to\"], or never = [\"from\", \"to\"]"
    };
    BAD_DEMAND.at(site, format!("this demand {what}"), mend)
}

/// Too few nodes, or too many.
pub(crate) fn bad_demand_number(site: Site, key: &str, given: usize) -> Found {
    let (wanted, mend) = if key == "flow" {
        (
            "two nodes or more",
            "name the nodes that the flow goes through, in order, such as flow = [\"tank\", \"pump\", \"engine\"]",
        )
    } else {
        (
            "two nodes",
            "name where the flow would come from and where it must not go, such as never = [\"tank\", \"bilge\"]",
        )
    };
    BAD_DEMAND.at(site, format!("`{key}` needs {wanted}, and this has {given}"), mend)
}

pub(crate) fn bad_place(site: Site, key: &str) -> Found {
    BAD_PLACE.at(
        site,
        format!("a place in `{key}` lies outside the grid"),
        "write a column and a row from -1000 to 1000, such as [3, 1]",
    )
}

/// Not two different ways.
pub(crate) fn bad_ways_number(site: Site, key: &str) -> Found {
    BAD_WAYS.at(
        site,
        format!("the three-way valve `{key}` must have two different ways"),
        "name the two neighbours that it can be set to, such as ways = [\"cooler\", \"bypass\"]",
    )
}

/// A way that no pipe ties to the valve.
pub(crate) fn bad_ways_stranger(site: Site, key: &str, way: &str) -> Found {
    BAD_WAYS.at(
        site,
        format!("`{way}` is a way of the three-way valve `{key}`, and no pipe ties the two"),
        format!("add a [[lineup.pipe]] between `{key}` and `{way}`, or name a neighbour of the valve"),
    )
}

/// Nothing but the two ways.
pub(crate) fn bad_ways_no_common(site: Site, key: &str) -> Found {
    BAD_WAYS.at(
        site,
        format!("the three-way valve `{key}` has no common pipe beside its two ways"),
        "add the pipe that it joins with the one way or the other",
    )
}

pub(crate) fn dead_end(site: Site, key: &str, kind: NodeKind) -> Found {
    DEAD_END.at(
        site,
        format!("flow cannot go through `{key}`: it is {} with one pipe only", kind.one()),
        format!("add the [[lineup.pipe]] by which flow goes on from `{key}`, or make `{key}` the last of the flow"),
    )
}

pub(crate) fn duplicate_node(site: Site, key: &str) -> Found {
    DUPLICATE_NODE.at(site, format!("there is another node `{key}` above"), "give one of the two another key")
}

pub(crate) fn idle_valve(site: Site, key: &str) -> Found {
    IDLE_VALVE.at(
        site,
        format!("`{key}` changes nothing: every demand is met or not whichever way it stands"),
        "add a demand that it matters to, such as never = [\"from\", \"to\"], or leave it in as part of the drawing",
    )
}

pub(crate) fn lone_node(site: Site, key: &str) -> Found {
    LONE_NODE.at(
        site,
        format!("no pipe is tied to `{key}`"),
        format!("add a [[lineup.pipe]] with from or to = \"{key}\", or take the node out"),
    )
}

pub(crate) fn missing_place(site: Site, key: &str) -> Found {
    MISSING_PLACE.at(
        site,
        format!("node `{key}` has no place on the grid, so that the schematic cannot be drawn as it is meant"),
        "add at = [column, row], such as at = [3, 1]",
    )
}

pub(crate) fn names_overlap(site: Site, key: &str, other: &str) -> Found {
    NAMES_OVERLAP.at(
        site,
        format!("the name of `{key}` runs into that of `{other}`, which stands beside it"),
        "give a shorter name, or leave a column free between the two",
    )
}

/// One demand that no setting meets.
pub(crate) fn no_setting_one(site: Site, name: &str, is_flow: bool) -> Found {
    let (why, mend) = if is_flow {
        (
            "flow cannot go there in any setting",
            "see whether a pipe is missing, a pump or a non-return valve stands the wrong way round, an end lies between or a shut valve is fixed",
        )
    } else {
        ("flow goes there in every setting", "put a valve between the two, or take the demand out")
    };
    NO_SETTING.at(site, format!("no setting meets the demand “{name}”: {why}"), mend)
}

/// Demands that can be met one by one, and not together; the first is at `site`.
pub(crate) fn no_setting_together(site: Site, names: &[&str]) -> Found {
    let names: Vec<String> = names.iter().map(|name| format!("“{name}”")).collect();
    NO_SETTING.at(
        site,
        format!("no setting meets these demands together: {}", names.join(", ")),
        "let a valve stand where their ways part, or take one of them out",
    )
}

/// A node with pipes on one side only; `has_delivery` says on which.
pub(crate) fn one_sided(site: Site, key: &str, kind: NodeKind, has_delivery: bool) -> Found {
    let (what, names) = match (kind, has_delivery) {
        (NodeKind::Pump | NodeKind::Compressor, true) => ("no suction", "to"),
        (NodeKind::Pump | NodeKind::Compressor, false) => ("no delivery", "from"),
        (_, true) => ("no pipe in", "to"),
        (_, false) => ("no pipe out", "from"),
    };
    ONE_SIDED.at(
        site,
        format!("`{key}` is {} with {what}: no pipe names it as `{names}`", kind.one()),
        format!("add a [[lineup.pipe]] with {names} = \"{key}\", or turn one of its pipes round"),
    )
}

pub(crate) fn pipe_over_symbol(site: Site, over: &str) -> Found {
    PIPE_OVER_SYMBOL.at(
        site,
        format!("this pipe runs over `{over}`, as if it were tied to it"),
        "lead it round by corners in `via`, such as via = [[2, 1], [2, 3]], or move the node",
    )
}

pub(crate) fn pipe_to_itself(site: Site, key: &str) -> Found {
    PIPE_TO_ITSELF.at(site, format!("this pipe goes from `{key}` to `{key}`"), PIPE_TO_ITSELF.mend)
}

pub(crate) fn same_place(site: Site, key: &str, other: &str) -> Found {
    SAME_PLACE.at(
        site,
        format!("`{key}` stands at the same place as `{other}`"),
        "give one of the two another column or row",
    )
}

pub(crate) fn stop_twice(site: Site, key: &str) -> Found {
    STOP_TWICE.at(
        site,
        format!("this flow names `{key}` twice running"),
        format!("name `{key}` once here, or name between the two what flow goes through before it comes back"),
    )
}

pub(crate) fn unknown_medium(site: Site, word: &str) -> Found {
    let shown = short(word, 60);
    let words = Medium::ALL.map(Medium::word);
    UNKNOWN_MEDIUM.at(site, format!("there is no medium `{shown}`"), suggest::mend(word, words))
}

pub(crate) fn unknown_node<'a>(site: Site, key: &str, keys: impl Iterator<Item = &'a str> + Clone) -> Found {
    let shown = short(key, 60);
    let mend = match suggest::nearest(key, keys) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("add a [[lineup.node]] with key = \"{shown}\", or name one of those that are there"),
    };
    UNKNOWN_NODE.at(site, format!("the line-up has no node `{shown}`"), mend)
}

pub(crate) fn unknown_node_kind(site: Site, word: &str) -> Found {
    let shown = short(word, 60);
    let words = NodeKind::ALL.map(NodeKind::word);
    UNKNOWN_NODE_KIND.at(site, format!("there is no kind of node `{shown}`"), suggest::mend(word, words))
}
