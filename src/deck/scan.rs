//! A look over a file's text before it is parsed: it knows strings and comments, brackets and line ends, and
//! nothing else of TOML. It keeps hostile input away from the parser and finds what the parser explains badly.

/// What the look found.
#[derive(Debug, Default)]
pub(crate) struct Scan {
    /// Where brackets first go deeper than [`MOST_DEPTH`].
    pub(crate) too_deep: Option<usize>,
    /// Where there first are more than [`MOST_PARTS`] parts.
    pub(crate) too_many_parts: Option<usize>,
    /// Where the first table after [`MOST_TABLES`] stands.
    pub(crate) too_many_tables: Option<usize>,
    /// Curly quotation marks that stand where only straight ones can, the first of each line.
    pub(crate) curly_quotes: Vec<usize>,
    /// What is still open at the end, or was open when another bracket closed.
    pub(crate) open: Option<Open>,
    /// The first quote that opens a text of one line which the line's end cuts off.
    pub(crate) cut_off: Option<usize>,
}

/// Something opened and never closed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Open {
    /// Where it was opened.
    pub(crate) at: usize,
    /// The sign that closes it.
    pub(crate) closed_by: &'static str,
}

/// Brackets may stand this deep.
pub(crate) const MOST_DEPTH: usize = 64;
/// A file may have this many parts: words, texts, commas, lines.
pub(crate) const MOST_PARTS: usize = 2_000_000;
/// A file may have this many tables: headers, braces, and dots between keys.
pub(crate) const MOST_TABLES: usize = 150_000;

struct Scanner<'a> {
    bytes: &'a [u8],
    at: usize,
    parts: usize,
    tables: usize,
    brackets: Vec<(usize, &'static str)>,
    curly_on_line: bool,
    found: Scan,
}

/// Looks over `text`.
pub(crate) fn scan(text: &str) -> Scan {
    let mut scanner = Scanner {
        bytes: text.as_bytes(),
        at: 0,
        parts: 0,
        tables: 0,
        brackets: Vec::new(),
        curly_on_line: false,
        found: Scan::default(),
    };
    scanner.line_start();
    while scanner.at < scanner.bytes.len() && scanner.found.too_deep.is_none() {
        scanner.step();
    }
    if scanner.found.open.is_none() {
        scanner.found.open = scanner.brackets.last().map(|&(at, closed_by)| Open { at, closed_by });
    }
    scanner.found
}

impl Scanner<'_> {
    fn step(&mut self) {
        match self.bytes[self.at] {
            b'\n' => {
                self.at += 1;
                self.curly_on_line = false;
                self.part();
                self.line_start();
            }
            b'#' => {
                self.part();
                self.at = self.line_end();
            }
            quote @ (b'"' | b'\'') => {
                self.part();
                self.string(quote);
            }
            b'[' => self.open_bracket("]"),
            b'{' => {
                self.table();
                self.open_bracket("}");
            }
            b']' | b'}' => self.close_bracket(),
            b'.' => {
                self.table();
                self.part();
                self.at += 1;
            }
            b'=' | b',' => {
                self.part();
                self.at += 1;
            }
            b' ' | b'\t' => {
                self.part();
                self.at += self.blanks();
            }
            0xE2 if is_curly(&self.bytes[self.at..]) => {
                if !self.curly_on_line {
                    self.curly_on_line = true;
                    self.found.curly_quotes.push(self.at);
                }
                self.at += 3;
            }
            _ => self.at += 1,
        }
    }

    fn part(&mut self) {
        self.parts += 1;
        if self.parts == MOST_PARTS + 1 {
            self.found.too_many_parts = Some(self.at);
        }
    }

    fn open_bracket(&mut self, closed_by: &'static str) {
        self.part();
        if self.brackets.len() == MOST_DEPTH {
            self.found.too_deep = Some(self.at);
        }
        self.brackets.push((self.at, closed_by));
        self.at += 1;
    }

    fn close_bracket(&mut self) {
        self.part();
        let closed = self.brackets.pop();
        if let Some((at, closed_by)) = closed.filter(|(_, closed_by)| closed_by.as_bytes()[0] != self.bytes[self.at]) {
            self.found.open.get_or_insert(Open { at, closed_by });
        }
        self.at += 1;
    }

    /// A table header stands at the start of a line and outside brackets; an array's own `[` may too.
    fn line_start(&mut self) {
        if self.bytes.get(self.at + self.blanks()) == Some(&b'[') {
            self.table();
        }
    }

    fn table(&mut self) {
        self.tables += 1;
        if self.tables == MOST_TABLES + 1 {
            self.found.too_many_tables = Some(self.at);
        }
    }

    /// How many spaces and tabs stand here.
    fn blanks(&self) -> usize {
        self.bytes[self.at..].iter().take_while(|b| **b == b' ' || **b == b'\t').count()
    }

    fn line_end(&self) -> usize {
        let rest = &self.bytes[self.at..];
        self.at + rest.iter().position(|b| *b == b'\n').unwrap_or(rest.len())
    }

    fn string(&mut self, quote: u8) {
        let start = self.at;
        let triple = [quote; 3];
        if self.bytes[self.at..].starts_with(&triple) {
            self.at += 3;
            self.long_string(start, quote, triple);
        } else {
            self.at += 1;
            self.short_string(start, quote);
        }
    }

    /// A string on one line; it ends at the line's end even where its quote is missing.
    fn short_string(&mut self, start: usize, quote: u8) {
        while let Some(&byte) = self.bytes.get(self.at) {
            match byte {
                b'\n' => break,
                b'\\' if quote == b'"' && self.bytes.get(self.at + 1).is_some_and(|b| *b != b'\n') => self.at += 2,
                _ if byte == quote => {
                    self.at += 1;
                    return;
                }
                _ => self.at += 1,
            }
        }
        self.found.cut_off.get_or_insert(start);
    }

    fn long_string(&mut self, start: usize, quote: u8, triple: [u8; 3]) {
        while let Some(&byte) = self.bytes.get(self.at) {
            if byte == b'\\' && quote == b'"' {
                self.at += 2;
            } else if self.bytes[self.at..].starts_with(&triple) {
                // Up to two quotes may stand right before the closing three.
                let run = self.bytes[self.at..].iter().take(5).take_while(|b| **b == quote).count();
                self.at += run;
                return;
            } else {
                self.at += 1;
            }
        }
        self.at = self.bytes.len();
        let closed_by = if quote == b'"' { "\"\"\"" } else { "'''" };
        self.found.open.get_or_insert(Open { at: start, closed_by });
    }
}

/// Whether a table that a card file or a deck file is cut at begins here: `[[word]]` or `[source.key]`.
fn is_header(rest: &[u8]) -> bool {
    let word = |bytes: &[u8]| {
        bytes.iter().take_while(|b| b.is_ascii_alphanumeric() || matches!(b, b'-' | b'_' | b' ' | b'\t')).count()
    };
    if let Some(inner) = rest.strip_prefix(b"[[") {
        let length = word(inner);
        length > 0 && inner.get(length) != Some(&b'.')
    } else if let Some(inner) = rest.strip_prefix(b"[") {
        inner.starts_with(b"source.")
    } else {
        false
    }
}

fn is_curly(bytes: &[u8]) -> bool {
    matches!(bytes, [0xE2, 0x80, 0x98 | 0x99 | 0x9C | 0x9D | 0x9E | 0x9F, ..])
}

/// The kind whose header a line is meant to be, where it stands in one pair of brackets: such a table can stand once.
pub(crate) fn single_header<'k>(line: &str, kinds: &[&'k str]) -> Option<&'k str> {
    let inner = line.trim_start().strip_prefix('[')?;
    let word = inner.split_once(']').map(|(word, _)| word.trim())?;
    kinds.iter().find(|kind| **kind == word).copied()
}

/// Where to cut a text that the parser refused, so that one bad card hides no other. Strings and brackets are
/// not trusted here: every line that looks like the start of a card or a source counts.
pub(crate) fn cuts(text: &str, kinds: &[&str]) -> Vec<usize> {
    let mut cuts = vec![0];
    let mut at = 0;
    for line in text.split_inclusive('\n') {
        let blanks = line.len() - line.trim_start_matches([' ', '\t']).len();
        if at > 0 && (is_header(&line.as_bytes()[blanks..]) || single_header(line, kinds).is_some()) {
            cuts.push(at);
        }
        at += line.len();
    }
    cuts.push(text.len());
    cuts
}
