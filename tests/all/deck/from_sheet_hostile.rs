//! Sheets and decks that cannot be read or written, whole or in part: damage, bombs, other encodings, too many rows.

use std::fs;

use bedplate::sheets;

use super::from_sheet::{COLUMNS, bytes, deck, draft, places, reference, written};

#[test]
fn a_sheet_or_a_deck_that_cannot_be_read_ends_with_2() {
    let folder = deck();
    let row = "figure,a,A-III/1.1.4,,How much?,,,,,,30 bar,,So.,practice\n";
    let good = written(&folder, "good.csv", format!("{COLUMNS}\n{row}"));
    let utf16: Vec<u8> = [0xFF, 0xFE].into_iter().chain(COLUMNS.encode_utf16().flat_map(u16::to_le_bytes)).collect();
    for (name, bytes, words) in [
        ("a.csv", format!("{COLUMNS}\n{row}why,\"b,c\n").into_bytes(), "opens in row 3 is never closed"),
        ("b.csv", utf16, "UTF-16"),
        ("c.csv", Vec::new(), "nothing stands in it"),
        ("d.xls", b"x".to_vec(), ".xlsx, .ods or .csv"),
        ("e.xlsx", b"PK\x03\x04 and no more".to_vec(), "damaged"),
        ("f.xlsx", b"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1".to_vec(), "password"),
        ("g.ods", fs::read(reference("questions.xlsx")).expect("there"), "damaged"),
        ("h.xlsx", fs::read(reference("questions.ods")).expect("there"), "damaged"),
        ("i.ods", fs::read(reference("repeated.ods")).expect("there"), "too far apart"),
        ("j.xlsx", bomb(true), "larger than 256 MB"),
        ("k.ods", bomb(true), "larger than 256 MB"),
        ("l.xlsx", bomb(false), "damaged"),
    ] {
        let (code, out, err) = draft(&folder, &written(&folder, name, bytes), &[]);
        assert_eq!((code, out.as_str()), (2, ""), "{name}: {err}");
        assert!(err.contains(words), "{name}: {err}");
    }
    let (code, _, err) = draft(&folder, &folder.path().join("none.csv"), &[]);
    assert!(code == 2 && err.contains("none.csv"), "{err}");
    // A file of the deck that is no TOML may hold any card.
    fs::write(folder.path().join("deck/broken.toml"), "[[why]]\nid = \n").expect("written");
    let (code, _, err) = draft(&folder, &good, &[]);
    assert!(code == 2 && err.contains("broken.toml"), "{err}");
    fs::remove_dir_all(folder.path().join("deck")).expect("removed");
    let (code, _, err) = draft(&folder, &good, &[]);
    assert!(code == 2 && err.contains("deck.toml"), "{err}");
}

#[test]
fn signs_of_another_encoding_are_told_by_their_cell() {
    let folder = deck();
    let text = format!(
        "{COLUMNS}\nfigure,a,A-III/1.1.4,,How hot?,,,,,,98 ~C,,So.,practice\nfigure,b,A-III/1.1.4,,How cold?,,,,,,5 bar,,So.,practice\n"
    );
    let bytes: Vec<u8> = text.bytes().map(|byte| if byte == b'~' { 0xB0 } else { byte }).collect();
    let (code, out, _) = draft(&folder, &written(&folder, "s.csv", bytes), &["--keep-good"]);
    assert_eq!((code, places(&out)), (1, vec!["row 2, column K (value)".to_owned()]), "{out}");
    assert!(out.contains("1 card new") && out.contains("UTF-8"), "{out}");
}

#[test]
fn a_hundred_thousand_rows_are_read_or_refused() {
    let folder = deck();
    let row = |n: usize| format!("figure,n{n},A-III/1.1.4,,How much is {n}?,,,,,,{n} bar,,So.,practice\n");
    let blank = "\n,,,,,,,,,,,,,\n".repeat(50_000);
    let sheet = written(&folder, "blank.csv", format!("{COLUMNS}\n{}{blank}{}", row(1), row(2)));
    let (code, out, err) = draft(&folder, &sheet, &[]);
    assert!(code == 0 && out.contains("2 cards new"), "{out}{err}");
    let full: String = (0..100_000).map(row).collect();
    let (code, _, err) = draft(&folder, &written(&folder, "full.csv", format!("{COLUMNS}\n{full}")), &[]);
    assert!(code == 2 && err.contains("at most 20,000 cards"), "{err}");
}

#[test]
fn damaged_sheets_are_refused_or_read_and_never_worse() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut random = 7_u64;
    let mut next = |most: usize| {
        random = random.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(random >> 33).expect("31 bits") % most
    };
    for name in ["questions.xlsx", "questions.ods", "spoilt.xlsx", "spoilt.ods", "questions.csv"] {
        let whole = fs::read(reference(name)).expect("it is there");
        let path = folder.path().join(name);
        let mut refused = 0;
        for round in 0..60 {
            let mut bytes = whole.clone();
            if round % 3 == 0 {
                bytes.truncate(next(whole.len()));
            } else {
                for _ in 0..=round / 10 {
                    bytes[next(whole.len())] ^= 1 << next(8);
                }
            }
            fs::write(&path, bytes).expect("written");
            refused += usize::from(sheets::read(&path).is_err());
        }
        assert!(refused > 0 || name.ends_with("csv"), "{name}: damage is found");
    }
}

#[test]
fn a_file_that_cannot_be_written_leaves_the_deck_as_it_was() {
    let folder = deck();
    let card = "[[figure]]\nid = \"a\"\ntopic = \"A-III/1.1.4\"\nask = \"How much?\"\nvalue = \"3 bar\"\nbecause = \"So.\"\n\
        sources = [\"practice\"]\nseconds = 9\n";
    fs::write(folder.path().join("deck/a.toml"), card).expect("written");
    // A folder stands where the file of the new cards is to go.
    fs::create_dir_all(folder.path().join("deck/cards/s.toml/in-the-way")).expect("made");
    fs::write(folder.path().join("deck/cards/s.toml/in-the-way/x"), "x").expect("written");
    let rows = "figure,a,A-III/1.1.4,,How much?,,,,,,4 bar,,So.,practice\nfigure,b,A-III/1.1.4,,How little?,,,,,,1 bar,,So.,practice\n";
    let sheet = written(&folder, "s.csv", format!("{COLUMNS}\n{rows}"));
    let before = bytes(&folder);
    let (code, out, err) = draft(&folder, &sheet, &[]);
    assert_eq!(code, 2, "{out}{err}");
    assert!(err.contains("cards/s.toml") && err.contains("the deck stands as it did"), "{err}");
    assert_eq!(bytes(&folder), before);
}

/// A packed file with one part of more than 256 MB, which is small as long as it is packed; it says so, or else lies.
fn bomb(is_honest: bool) -> Vec<u8> {
    const REPEATS: u32 = (260 << 20) / 258;
    // One block with fixed codes: a nought, then as often as is wanted 258 bytes like the one before.
    let (mut packed, mut held, mut bits) = (Vec::new(), 0_u32, 0);
    let mut push = |value: u32, length: u32| {
        held |= value << bits;
        bits += length;
        while bits >= 8 {
            packed.push(u8::try_from(held & 0xFF).expect("a byte"));
            held >>= 8;
            bits -= 8;
        }
    };
    push(0b011, 3);
    push(0b0000_1100, 8);
    for _ in 0..REPEATS {
        push(0b1010_0011, 8);
        push(0, 5);
    }
    push(0, 7);
    push(0, 8);
    let size = u32::try_from(packed.len()).expect("small");
    let name = b"xl/worksheets/sheet1.xml";
    let promised = if is_honest { 1 + 258 * REPEATS } else { 1_000 };
    // Version, no flags, deflated, no time, no checksum, the sizes, and the length of the name.
    let about: Vec<u8> = [20_u16, 0, 8, 0, 0]
        .into_iter()
        .flat_map(u16::to_le_bytes)
        .chain([0, size, promised].into_iter().flat_map(u32::to_le_bytes))
        .chain([24_u16, 0].into_iter().flat_map(u16::to_le_bytes))
        .collect();
    let mut file = [b"PK\x03\x04".as_slice(), &about, name, &packed].concat();
    let directory = u32::try_from(file.len()).expect("small");
    file.extend([b"PK\x01\x02\x14\x00".as_slice(), &about, &[0; 14], name].concat());
    let length = u32::try_from(file.len()).expect("small") - directory;
    file.extend(
        [b"PK\x05\x06\0\0\0\0\x01\0\x01\0".as_slice(), &length.to_le_bytes(), &directory.to_le_bytes(), &[0, 0]]
            .concat(),
    );
    file
}
