//! The table of the text font's signs against the font itself.
//!
//! Source of the layout read here: OpenType specification, "cmap: character to glyph index mapping table",
//! format 12 (segmented coverage).

use std::fs;
use std::path::Path;

use bedplate::deck::font_signs;

fn number(bytes: &[u8], at: usize, length: usize) -> usize {
    bytes[at..at + length].iter().fold(0, |number, byte| number * 256 + usize::from(*byte))
}

/// The code points that a font file maps to a glyph.
fn signs_of(font: &[u8]) -> Vec<bool> {
    let tables = number(font, 4, 2);
    let record = (0..tables).map(|n| 12 + 16 * n).find(|at| &font[*at..at + 4] == b"cmap").expect("a cmap table");
    let cmap = number(font, record + 8, 4);
    let subtable = (0..number(font, cmap + 2, 2))
        .map(|n| cmap + number(font, cmap + 4 + 8 * n + 4, 4))
        .find(|at| number(font, *at, 2) == 12)
        .expect("a subtable of format 12");
    let mut has = vec![false; 0x11_0000];
    for group in 0..number(font, subtable + 12, 4) {
        let at = subtable + 16 + 12 * group;
        let (first, last, glyph) = (number(font, at, 4), number(font, at + 4, 4), number(font, at + 8, 4));
        for (n, has) in has[first..=last].iter_mut().enumerate() {
            *has = glyph + n != 0;
        }
    }
    has
}

#[test]
fn the_table_is_that_of_the_font() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("assets/fonts/SourceSans3_400Regular.ttf");
    let has = signs_of(&fs::read(path).expect("the font is there"));
    let mut count = 0;
    for code in 0x20..0x11_0000 {
        let Some(sign) = char::from_u32(code) else { continue };
        assert_eq!(font_signs::has(sign), has[code as usize], "U+{code:04X}");
        count += usize::from(has[code as usize]);
    }
    assert!(count > 1_000, "the font was read");
    for sign in "≤→✓ΔνΩ²₁°×µ".chars() {
        assert!(font_signs::has(sign), "{sign}");
    }
}
