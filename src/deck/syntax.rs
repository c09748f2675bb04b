//! A file's text to tables. A text that the parser refuses is cut at the starts of its cards and each piece is
//! parsed alone, so that one bad card hides no other.

use toml::Spanned;
use toml::de::DeTable;

use super::check::{Found, Site};
use super::checks;
use super::checks::file::Around;
use super::kinds;
use super::problem::Collector;
use super::scan::{self, MOST_DEPTH, MOST_PARTS, MOST_TABLES};

/// Beyond this size only the first fault of a piece is asked for, so that faults cannot fill memory.
const MOST_RECOVERED_BYTES: usize = 256 * 1024;
/// Later faults of a piece mostly follow from the first ones.
const MOST_FAULTS_OF_PIECE: usize = 5;

/// A part of a file that was parsed.
pub(crate) struct Piece<'t> {
    /// The first byte of the piece in the file.
    pub(crate) base: usize,
    /// The text of the piece.
    pub(crate) text: &'t str,
    /// What it says; none where it is not TOML.
    pub(crate) table: Option<Spanned<DeTable<'t>>>,
}

/// The pieces of `text` in order: one where it is sound. `bad_lines` holds places whose lines have been
/// reported already.
pub(crate) fn pieces<'t>(text: &'t str, file: usize, bad_lines: &[usize], problems: &mut Collector) -> Vec<Piece<'t>> {
    let scan = scan::scan(text);
    let site = |at: usize| Site { file, start: at, end: at + 1 };
    if let Some(found) = beyond_limits(&scan, site) {
        problems.report(found);
        return Vec::new();
    }
    if let Ok(table) = DeTable::parse(text) {
        return vec![Piece { base: 0, text, table: Some(table) }];
    }
    let errors_before = problems.errors();
    let kinds = kinds::words();
    let cuts = scan::cuts(text, &kinds);
    let pieces: Vec<Piece<'t>> = cuts
        .windows(2)
        .map(|cut| piece(&text[cut[0]..cut[1]], cut[0], bad_lines, &|start, end| Site { file, start, end }, problems))
        .collect();
    if problems.errors() == errors_before && bad_lines.is_empty() {
        // Each piece is sound, but they do not go together, such as a table that stands twice. What a fault brings
        // with it in its own piece is not told again.
        let mut last_piece = None;
        for fault in faults(text) {
            let piece = cuts.partition_point(|cut| *cut <= fault.start);
            // A header with a bracket too few is told where its card is read.
            let from = piece.checked_sub(1).map_or(0, |piece| cuts[piece]);
            if last_piece != Some(piece) && scan::single_header(&text[from..], &kinds).is_none() {
                problems.report(checks::file::not_toml(
                    Site { file, start: fault.start, end: fault.end },
                    &fault.detail,
                    Around::default(),
                ));
            }
            last_piece = Some(piece);
        }
    }
    pieces
}

fn beyond_limits(scan: &scan::Scan, site: impl Fn(usize) -> Site) -> Option<Found> {
    if let Some(at) = scan.too_deep {
        return Some(checks::file::too_deep(site(at), MOST_DEPTH));
    }
    if let Some(at) = scan.too_many_tables {
        return Some(checks::file::too_many(site(at), "tables in this file", MOST_TABLES));
    }
    scan.too_many_parts.map(|at| checks::file::too_many(site(at), "values in this file", MOST_PARTS))
}

/// A fault that the parser found, in bytes of the parsed text.
struct Fault {
    start: usize,
    end: usize,
    detail: String,
}

fn faults(text: &str) -> Vec<Fault> {
    let errors = if text.len() > MOST_RECOVERED_BYTES {
        DeTable::parse(text).err().into_iter().collect()
    } else {
        DeTable::parse_recoverable(text).1
    };
    let mut faults: Vec<Fault> = errors
        .into_iter()
        .map(|error| {
            let span = error.span().unwrap_or(0..0);
            Fault { start: span.start, end: span.end, detail: error.message().to_owned() }
        })
        .collect();
    faults.sort_by_key(|fault| fault.start);
    faults
}

fn piece<'t>(
    text: &'t str,
    base: usize,
    bad_lines: &[usize],
    site: &dyn Fn(usize, usize) -> Site,
    problems: &mut Collector,
) -> Piece<'t> {
    if let Ok(table) = DeTable::parse(text) {
        return Piece { base, text, table: Some(table) };
    }
    let scan = scan::scan(text);
    let mut told: Vec<usize> = bad_lines.to_vec();
    for &at in &scan.curly_quotes {
        let sign = text[at..].chars().next().unwrap_or('“');
        problems.report(checks::file::curly_quotes(site(base + at, base + at + sign.len_utf8()), sign));
        told.push(base + at);
    }
    let line_of = |at: usize| text[..text.floor_char_boundary(at)].rfind('\n').map_or(0, |end| end + 1);
    let is_told = |line: usize| {
        let end = text[line..].find('\n').map_or(text.len(), |length| line + length);
        told.iter().any(|at| (base + line..=base + end).contains(at))
    };
    let mut faults = faults(text);
    let cut_off = scan.cut_off.map(line_of);
    // A bracket is open as a rule because a text is: then only the text is told.
    if let Some(open) = scan.open.filter(|open| cut_off.is_none_or(|line| line_of(open.at) < line && is_quote(open))) {
        faults.retain(|fault| fault.start < open.at && line_of(fault.start) < line_of(open.at));
        let place = site(base + open.at, base + open.at + open.closed_by.len());
        problems.report(checks::file::not_toml_unclosed(place, open.closed_by));
    }
    if let Some(line) = cut_off {
        // What follows a text that is not closed is misread as well.
        let next_end = text[line..].match_indices('\n').nth(1).map_or(text.len(), |(at, _)| line + at);
        faults.retain(|fault| line_of(fault.start) <= line || fault.start > next_end);
    }
    let mut last_line = None;
    let mut count = 0;
    for fault in faults {
        let line = line_of(fault.start);
        if last_line == Some(line) || is_told(line) || count == MOST_FAULTS_OF_PIECE {
            continue;
        }
        last_line = Some(line);
        count += 1;
        let around = Around {
            before: text.get(..fault.start).and_then(|before| before.chars().next_back()),
            here: text.get(fault.start..fault.end.max(fault.start)).unwrap_or_default(),
            sign: text.get(fault.start..).and_then(|rest| rest.chars().next()),
        };
        problems.report(checks::file::not_toml(site(base + fault.start, base + fault.end), &fault.detail, around));
    }
    Piece { base, text, table: None }
}

fn is_quote(open: &scan::Open) -> bool {
    !matches!(open.closed_by, "]" | "}")
}
