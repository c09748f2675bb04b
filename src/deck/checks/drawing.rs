//! Checks: what is wrong with pictures, and with the drawings and parts of point cards.

use super::table::short;
use crate::deck::check::{Found, Site};
use crate::deck::suggest;
use crate::svg::Fault;

checks! {
    BAD_DRAWING {
        code: "bad-drawing",
        severity: Error,
        says: "a drawing that cannot be read or holds what may not be in one",
        why: "A drawing may come from anywhere. It may take nothing in from elsewhere, do nothing by itself and keep \
            nobody waiting.",
        example: &[r#"drawing = "pictures/with-script.svg""#],
        mend: "do what the message says, and save the drawing again",
    }
    BAD_PICTURE {
        code: "bad-picture",
        severity: Warning,
        says: "a picture that cannot be shown, because it is damaged, cut short or too large",
        why: "The card is asked without its picture, and the learner is told that the picture is missing.",
        example: &[
            "[[recall]]",
            r#"picture = "pictures/pump.png"   # the file was cut short while it was copied"#,
        ],
        mend: "save the picture again, as PNG or JPEG of at most 8,000 dots on a side and 8 MB, or as a plain SVG",
    }
    DRAWING_TYPE {
        code: "drawing-type",
        severity: Error,
        says: "a drawing to point at that is no SVG",
        why: "Only an SVG drawing knows its parts by their ids, so only an SVG drawing can be pointed at.",
        example: &["[[point]]", r#"drawing = "pictures/pump.png""#],
        mend: "save it as svg",
    }
    LETTERED_DRAWING {
        code: "lettered-drawing",
        severity: Warning,
        says: "a drawing to point at on which the name of a part is written",
        why: "The learner reads the name off the drawing and finds the part without knowing it.",
        example: &[
            r#"<g id="qcv"><title>quick-closing valve</title><rect x="9" y="9" width="9" height="9"/></g>"#,
            r#"<text x="20" y="9">Quick-closing valve</text>"#,
        ],
        mend: "take the lettering out of the drawing",
    }
    LONE_PART {
        code: "lone-part",
        severity: Warning,
        says: "a drawing with no other part than the one to find",
        why: "If there is no other part to point at by mistake, the card asks nothing.",
        example: &["[[point]]", r#"part = "the-only-one""#],
        mend: "give other parts an id and a title too",
    }
    PICTURE_MISSING {
        code: "picture-missing",
        severity: Error,
        says: "a picture that is not in the deck",
        why: "There is no such file in the deck, so there would be nothing to show.",
        example: &["[[recall]]", r#"picture = "pictures/pupm.png""#],
        mend: "put the file in its place, or write its name as it is; capital and small letters count",
    }
    PICTURE_OUTSIDE {
        code: "picture-outside",
        severity: Error,
        says: "a picture path that leaves the deck",
        why: "A deck must hold its own pictures. It must never make the program read other files of the computer.",
        example: &["[[recall]]", r#"picture = "../other-deck/pump.png""#],
        mend: "put the picture into the deck's folder pictures/ and write pictures/name.png",
    }
    PICTURE_TYPE {
        code: "picture-type",
        severity: Error,
        says: "a picture of a type that is not shown",
        why: "The program shows pictures by itself, and it can show only these types.",
        example: &["[[recall]]", r#"picture = "pictures/pump.tiff""#],
        mend: "save it as png, jpg, jpeg or svg",
    }
    SHARED_PART_NAME {
        code: "shared-part-name",
        severity: Warning,
        says: "two parts of a drawing with the name of the one to find",
        why: "A learner who points at the other part is told that it has the same name, and that it is wrong.",
        example: &[
            r#"<circle id="valve-1"><title>exhaust valve</title></circle>"#,
            r#"<circle id="valve-2"><title>exhaust valve</title></circle>"#,
        ],
        mend: "name them apart, or make one group of them with the id and the title",
    }
    TELLING_DESC {
        code: "telling-desc",
        severity: Warning,
        says: "a part whose `<desc>` says its name",
        why: "Where nothing can be drawn the learner chooses among these texts, and one that says the name gives it away.",
        example: &[r#"<g id="qcv"><title>quick-closing valve</title><desc>the quick-closing valve beside the tank</desc></g>"#],
        mend: "say where the part lies and how it looks, in other words than its name",
    }
    UNDESCRIBED_PART {
        code: "undescribed-part",
        severity: Advice,
        says: "a drawing whose parts cannot be told apart in words",
        why: "In a terminal and for a screen reader nothing can be drawn. There the parts are told by their <desc>, \
            and a card without one is passed over.",
        example: &[
            r#"<circle id="qcv"><title>quick-closing valve</title></circle>"#,
        ],
        mend: "give every part a desc with its place and look, without its name",
    }
    UNKNOWN_PART {
        code: "unknown-part",
        severity: Error,
        says: "a part that the drawing does not have",
        why: "The drawing has no element with this id, so there would be nothing to find.",
        example: &["[[point]]", r#"drawing = "pictures/fuel.svg""#, r#"part = "qvc""#],
        mend: "write the id as the drawing has it",
    }
    UNNAMED_PART {
        code: "unnamed-part",
        severity: Warning,
        says: "a part that the drawing gives no name",
        why: "The learner is told what was pointed at. Without a name the id is shown.",
        example: &["[[point]]", r#"part = "path1423""#],
        mend: "give the element a title with its name",
    }
    UNSEEN_PART {
        code: "unseen-part",
        severity: Error,
        says: "a part that cannot be pointed at",
        why: "A part that is not drawn, or lies off the drawing or wholly behind other parts, cannot be found.",
        example: &["[[point]]", r#"part = "hatching-pattern""#],
        mend: "put the id and the title on a shape or a group that is drawn",
    }
}

pub(crate) fn bad_drawing(site: Site, path: &str, fault: &Fault) -> Found {
    BAD_DRAWING.at(site, format!("the drawing `{path}` {}", fault.what), fault.mend.clone())
}

pub(crate) fn bad_picture(site: Site, path: &str, what: &str, mend: &str) -> Found {
    BAD_PICTURE.at(site, format!("the picture `{path}` {what}"), mend)
}

pub(crate) fn drawing_type(site: Site, path: &str) -> Found {
    let shown = short(path, 80);
    DRAWING_TYPE.at(site, format!("`{shown}` is no drawing whose parts can be pointed at"), "save it as .svg")
}

pub(crate) fn lettered_drawing(site: Site, path: &str, name: &str) -> Found {
    LETTERED_DRAWING.at(
        site,
        format!("on the drawing `{path}` the name of a part, {}, can be read", short(name, 60)),
        "take that text out of the drawing, and every other that names a part",
    )
}

pub(crate) fn lone_part(site: Site, path: &str) -> Found {
    LONE_PART.at(
        site,
        format!("the drawing `{path}` has no part that this one could be mistaken for"),
        "give other parts an id and a <title> too",
    )
}

pub(crate) fn picture_missing(site: Site, path: &str) -> Found {
    let shown = short(path, 80);
    PICTURE_MISSING.at(
        site,
        format!("the deck has no file `{shown}`"),
        "put the picture there, or write its name as it is; capital and small letters count",
    )
}

pub(crate) fn picture_outside(site: Site, path: &str, why: &str) -> Found {
    let shown = short(path, 80);
    PICTURE_OUTSIDE.at(
        site,
        format!("the picture path `{shown}` {why}"),
        "put the picture into the deck and write its path from there: pictures/name.png",
    )
}

pub(crate) fn picture_type(site: Site, path: &str) -> Found {
    let shown = short(path, 80);
    PICTURE_TYPE.at(site, format!("`{shown}` is no picture that can be shown"), "save it as .png, .jpg, .jpeg or .svg")
}

pub(crate) fn shared_part_name(site: Site, name: &str, other: &str) -> Found {
    SHARED_PART_NAME.at(
        site,
        format!("the part `{other}` is called {name} too, and is not right"),
        "name them apart, or put them into one <g> with the id and the <title>",
    )
}

pub(crate) fn telling_desc(site: Site, path: &str, id: &str, name: &str) -> Found {
    TELLING_DESC.at(
        site,
        format!("the <desc> of the part `{id}` of `{path}` says its name, {}", short(name, 60)),
        "say where the part lies and how it looks, in other words than its name",
    )
}

pub(crate) fn undescribed_part(site: Site, path: &str, id: &str, alike: Option<&str>) -> Found {
    let what = match alike {
        None => format!("the part `{id}` of `{path}` has no <desc>"),
        Some(other) => format!("the parts `{id}` and `{other}` of `{path}` have the same <desc>"),
    };
    UNDESCRIBED_PART.at(
        site,
        format!("{what}, so that the card is passed over in the terminal"),
        "say of every part where it lies and how it looks, without its name",
    )
}

pub(crate) fn unknown_part<'a>(site: Site, id: &str, path: &str, ids: impl Iterator<Item = &'a str> + Clone) -> Found {
    let shown = short(id, 60);
    let mend = if ids.clone().next().is_none() {
        format!("give the part in the drawing id=\"{shown}\"")
    } else {
        suggest::mend(id, ids).replace(", or take it out", "")
    };
    UNKNOWN_PART.at(site, format!("the drawing `{path}` has no element with the id `{shown}`"), mend)
}

pub(crate) fn unnamed_part(site: Site, id: &str) -> Found {
    let shown = short(id, 60);
    UNNAMED_PART.at(
        site,
        format!("the part `{shown}` has no name for people"),
        "put <title>its name</title> into the element",
    )
}

pub(crate) fn unseen_part(site: Site, id: &str, path: &str, why: &str) -> Found {
    let shown = short(id, 60);
    UNSEEN_PART.at(
        site,
        format!("`{shown}` of the drawing `{path}` {why}"),
        "put the id and the <title> on a shape or a <g> that is drawn and can be seen",
    )
}
