//! Why a drawing is refused, in words.

use resvg::usvg::Error;
use resvg::usvg::roxmltree;

/// Why a drawing is refused. Shown, it reads on from the drawing's name: `is not a sound SVG file (...); save it again`.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{what}; {mend}")]
pub struct Fault {
    /// What is wrong, with the line where one can be named.
    pub what: String,
    /// How to mend it.
    pub mend: String,
}

impl Fault {
    pub(super) fn new(what: impl Into<String>, mend: &str) -> Self {
        Self { what: what.into(), mend: mend.to_owned() }
    }

    /// The file is no sound SVG.
    pub(super) fn unsound(why: &str) -> Self {
        Self::new(format!("is not a sound SVG file ({why})"), "save it again")
    }

    /// Something in it has its source elsewhere.
    pub(super) fn takes_in(what: &str, line: u32) -> Self {
        Self::new(
            format!("takes in another file or a picture ({what}) on line {line}"),
            "a drawing in a deck holds lines, shapes and text of its own",
        )
    }

    /// Something in it that is not drawn.
    pub(super) fn uses(what: &str, line: Option<u32>) -> Self {
        let place = line.map_or_else(String::new, |line| format!(" on line {line}"));
        Self::new(format!("uses {what}{place}, which cannot be shown"), "save it without")
    }

    /// Something in it that does things.
    pub(super) fn runs(what: &str, line: u32) -> Self {
        Self::new(format!("holds {what} on line {line}"), "take it out; a drawing in a deck does nothing by itself")
    }

    /// More than the engine should be given.
    pub(super) fn complicated() -> Self {
        Self::new("is too complicated to draw", "save it simpler, or as PNG")
    }

    /// More than the engine should be given, with what there is too much of.
    pub(super) fn too_much(what: &str) -> Self {
        Self::new(format!("is too complicated to draw ({what})"), "save it simpler, or as PNG")
    }

    /// More than can be pointed at, with what there is too much of.
    pub(super) fn too_many(what: &str) -> Self {
        Self::new(format!("is too complicated to point at ({what})"), "save it simpler, or make two drawings of it")
    }

    /// The engine gave up.
    pub(super) fn broken() -> Self {
        Self::new("could not be drawn", "save it again, or as PNG")
    }
}

impl From<Error> for Fault {
    fn from(error: Error) -> Self {
        match error {
            Error::ElementsLimitReached => Self::complicated(),
            Error::ParsingFailed(xml) => xml.into(),
            Error::InvalidSize => Self::unsound("its width, height or viewBox is missing or nought"),
            other => Self::unsound(&other.to_string()),
        }
    }
}

impl From<roxmltree::Error> for Fault {
    fn from(error: roxmltree::Error) -> Self {
        use roxmltree::Error::{
            AttributesLimitReached, DtdDetected, NodesLimitReached, UnclosedRootNode, UnexpectedCloseTag,
        };
        match error {
            NodesLimitReached | AttributesLimitReached => Self::complicated(),
            DtdDetected => Self::new("has a document type (<!DOCTYPE>)", "take that line out"),
            UnexpectedCloseTag(open, closed, at) => Self::new(
                format!(
                    "is not a sound SVG file: on its line {} stands </{closed}>, and <{open}> is still open",
                    at.row
                ),
                &format!("close it there with </{open}>, or save the drawing again from the program that made it"),
            ),
            UnclosedRootNode => Self::new(
                "is not a sound SVG file: it ends before </svg>",
                "write </svg> at its end, or save the drawing again from the program that made it",
            ),
            // The engine's words end with the place as `line:column`.
            other => Self::unsound(&other.to_string()),
        }
    }
}
