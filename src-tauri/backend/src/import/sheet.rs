//! From a file's bytes to headers and rows of cells: letters, separators, quotes, bounds.
//! Never what a column means.
//! Invariant: a row has the number a spreadsheet would show it under, and no row is lost unsaid.

use crate::error::{Error, Result};
use crate::words::words;
use base64::Engine;
use serde_json::json;

/// Largest file, bytes.
pub const MAX_BYTES: usize = 5_000_000;
/// Most rows below the headers.
pub const MAX_ROWS: usize = 20_000;
/// Most columns.
pub const MAX_COLUMNS: usize = 200;

words! {
    /// What parts one cell from the next.
    pub enum Delimiter {
        /// `,`
        Comma = "comma",
        /// `;`
        Semicolon = "semicolon",
        /// The tab.
        Tab = "tab",
    }
}

words! {
    /// How the file's bytes spell letters.
    pub enum Letters {
        /// UTF-8, with or without a byte order mark.
        Utf8 = "utf-8",
        /// UTF-16, little end first; with a byte order mark.
        Utf16Le = "utf-16le",
        /// UTF-16, big end first; with a byte order mark.
        Utf16Be = "utf-16be",
        /// What older Western spreadsheets write; taken when the bytes are no UTF-8.
        Windows1252 = "windows-1252",
    }
}

impl Delimiter {
    fn byte(self) -> u8 {
        match self {
            Self::Comma => b',',
            Self::Semicolon => b';',
            Self::Tab => b'\t',
        }
    }
}

/// A row of cells.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Its number in a spreadsheet: headers are row 1.
    pub row: usize,
    /// Its cells, without blanks at their ends.
    pub cells: Vec<String>,
}

/// A file that was read.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// How its letters were spelled.
    pub letters: Letters,
    /// What parts its cells.
    pub delimiter: Delimiter,
    /// The first row.
    pub headers: Vec<String>,
    /// The rows below, without empty ones.
    pub lines: Vec<Line>,
}

/// The file's text: as it is, or out of its bytes in base64.
///
/// # Errors
/// `Invalid` on `text` with why: `empty_file`, `too_big_bytes`, `not_text`.
pub fn text(text: Option<&str>, base64: Option<&str>) -> Result<(String, Letters)> {
    // Base64 takes four letters for three bytes.
    if text.map_or(0, str::len) > MAX_BYTES || base64.map_or(0, str::len) > MAX_BYTES / 3 * 4 + 4 {
        return Err(too_big());
    }
    let bytes = match (text, base64) {
        (Some(text), None) => text.as_bytes().to_vec(),
        (None, Some(coded)) => base64::engine::general_purpose::STANDARD
            .decode(coded)
            .map_err(|_| Error::invalid("base64", "not_text"))?,
        (None, None) => Vec::new(),
        (Some(_), Some(_)) => return Err(Error::invalid("base64", "unknown_word")),
    };
    if bytes.len() > MAX_BYTES {
        return Err(too_big());
    }
    let (text, letters) = spelled(&bytes).ok_or_else(|| refused("not_text"))?;
    // A nought or another control mark in it: a picture, a spreadsheet's own file, UTF-16 without its mark.
    if text.chars().any(|c| c.is_control() && !matches!(c, '\t' | '\n' | '\r')) {
        return Err(refused("not_text"));
    }
    if text.trim().is_empty() {
        return Err(refused("empty_file"));
    }
    Ok((text, letters))
}

fn refused(why: &'static str) -> Error {
    Error::invalid("text", why)
}

fn too_big() -> Error {
    Error::invalid_with("text", "too_big_bytes", json!({"max_bytes": MAX_BYTES}))
}

fn spelled(bytes: &[u8]) -> Option<(String, Letters)> {
    let pairs = |rest: &[u8], unit: fn([u8; 2]) -> u16| {
        let (pairs, odd) = rest.as_chunks::<2>();
        let units: Vec<u16> = pairs.iter().map(|p| unit(*p)).collect();
        odd.is_empty().then(|| String::from_utf16(&units).ok())?
    };
    if let Some(rest) = bytes.strip_prefix(b"\xFF\xFE") {
        return Some((pairs(rest, u16::from_le_bytes)?, Letters::Utf16Le));
    }
    if let Some(rest) = bytes.strip_prefix(b"\xFE\xFF") {
        return Some((pairs(rest, u16::from_be_bytes)?, Letters::Utf16Be));
    }
    let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
    match std::str::from_utf8(bytes) {
        Ok(text) => Some((text.to_owned(), Letters::Utf8)),
        Err(_) => Some((bytes.iter().map(|b| western(*b)).collect(), Letters::Windows1252)),
    }
}

/// Windows-1252 as the WHATWG Encoding Standard has it: Latin-1 but for 0x80 to 0x9F.
fn western(byte: u8) -> char {
    const HIGH: [char; 32] = [
        '€', '\u{81}', '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', '\u{8D}', 'Ž', '\u{8F}',
        '\u{90}', '‘', '’', '“', '”', '•', '–', '—', '˜', '™', 'š', '›', 'œ', '\u{9D}', 'ž', 'Ÿ',
    ];
    match byte {
        0x80..=0x9F => HIGH[usize::from(byte - 0x80)],
        _ => char::from(byte),
    }
}

/// Reads the text as rows of cells.
///
/// # Errors
/// `Invalid` on `text` with why: `quotes` {row}, `too_many_rows` {max}, `too_many_columns` {max}, `no_rows`.
pub fn read(text: &str, letters: Letters, delimiter: Option<Delimiter>) -> Result<Sheet> {
    let text = text.replace("\r\n", "\n").replace('\r', "\n");
    let delimiter = delimiter.unwrap_or_else(|| guessed(&text));
    if let Some(row) = loose_quote(&text, delimiter) {
        return Err(Error::invalid_with("text", "quotes", json!({"row": row})));
    }
    let mut lines = lines(&text, delimiter)?.into_iter();
    let headers = lines.next().map(|line| line.cells).ok_or_else(|| refused("empty_file"))?;
    let lines: Vec<Line> = lines.collect();
    if headers.len() > MAX_COLUMNS {
        return Err(Error::invalid_with("text", "too_many_columns", json!({"max": MAX_COLUMNS})));
    }
    if lines.is_empty() {
        return Err(refused("no_rows"));
    }
    Ok(Sheet { letters, delimiter, headers, lines })
}

fn reader(text: &str, delimiter: Delimiter) -> csv::Reader<&[u8]> {
    let mut builder = csv::ReaderBuilder::new();
    builder.delimiter(delimiter.byte()).has_headers(false).flexible(true).from_reader(text.as_bytes())
}

fn lines(text: &str, delimiter: Delimiter) -> Result<Vec<Line>> {
    // With a line end behind the last row, the reader's count of lines is one past every row it gave.
    let text = format!("{text}\n");
    let mut reader = reader(&text, delimiter);
    let mut record = csv::StringRecord::new();
    let (mut lines, mut inside) = (Vec::new(), 0);
    while reader.read_record(&mut record).map_err(|_| refused("not_text"))? {
        // A line end inside quotes starts no row; the reader passes over empty lines, a spreadsheet does not.
        inside += record.iter().map(|cell| cell.matches('\n').count()).sum::<usize>();
        let past = usize::try_from(reader.position().line()).unwrap_or(usize::MAX);
        let cells: Vec<String> = record.iter().map(clean).collect();
        if cells.iter().any(|cell| !cell.is_empty()) {
            lines.push(Line { row: past.saturating_sub(1 + inside), cells });
        }
        if lines.len() > MAX_ROWS + 1 {
            return Err(Error::invalid_with("text", "too_many_rows", json!({"max": MAX_ROWS})));
        }
    }
    Ok(lines)
}

/// A cell without blanks at its ends, and without the mark that keeps a spreadsheet from reckoning
/// with a text that begins like a formula.
fn clean(cell: &str) -> String {
    let cell = cell.trim();
    match cell.strip_prefix('\'') {
        Some(rest) if rest.starts_with(['=', '+', '-', '@']) => rest.to_owned(),
        _ => cell.to_owned(),
    }
}

/// The separator under which the first rows have the most cells and agree in their number.
fn guessed(text: &str) -> Delimiter {
    let score = |delimiter: Delimiter| {
        let rows = reader(text, delimiter).into_records().take(50).map_while(std::result::Result::ok);
        let widths: Vec<usize> = rows.map(|row| row.len()).collect();
        let wide = widths.first().copied().unwrap_or(0);
        let agree = widths.iter().filter(|n| **n == wide).count();
        (wide > 1, agree * 100 / widths.len().max(1), wide)
    };
    // The first of equals: the last that `max_by_key` meets.
    let best = Delimiter::ALL.iter().rev().max_by_key(|d| score(**d));
    best.copied().unwrap_or(Delimiter::Comma)
}

/// The row in which a quote is opened and never closed, or is followed by letters: a reader would
/// swallow whole rows there and not say so.
fn loose_quote(text: &str, delimiter: Delimiter) -> Option<usize> {
    #[derive(PartialEq)]
    enum At {
        Start,
        Plain,
        Quoted,
        Closed,
    }
    let (mut at, mut row, mut opened) = (At::Start, 1, 1);
    for byte in text.bytes() {
        at = match (at, byte) {
            (At::Start, b'"') => {
                opened = row;
                At::Quoted
            }
            (At::Quoted, b'"') => At::Closed,
            (At::Closed, b'"') | (At::Quoted, _) => At::Quoted,
            (At::Closed, b'\n') | (At::Start | At::Plain, b'\n') => {
                row += 1;
                At::Start
            }
            (_, byte) if byte == delimiter.byte() => At::Start,
            (At::Closed, _) => return Some(opened),
            (At::Start | At::Plain, _) => At::Plain,
        };
    }
    (at == At::Quoted).then_some(opened)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sheet(bytes: &[u8]) -> Result<Sheet> {
        let coded = base64::engine::general_purpose::STANDARD.encode(bytes);
        let (text, letters) = text(None, Some(&coded))?;
        read(&text, letters, None)
    }

    fn why(bytes: &[u8]) -> String {
        sheet(bytes).map_or_else(|e| e.reply()["detail"]["why"].to_string(), |s| format!("{s:?}"))
    }

    fn utf16(text: &str, unit: fn(u16) -> [u8; 2]) -> Vec<u8> {
        text.encode_utf16().flat_map(unit).collect()
    }

    #[test]
    fn one_text_in_five_spellings_is_one_sheet() {
        let text = "tag;note\n1;Süd, am Bächle\n";
        let spelled: [(Letters, Vec<u8>); 5] = [
            (Letters::Utf8, text.into()),
            (Letters::Utf8, [b"\xEF\xBB\xBF", text.as_bytes()].concat()),
            (Letters::Utf16Le, utf16(&format!("\u{FEFF}{text}"), u16::to_le_bytes)),
            (Letters::Utf16Be, utf16(&format!("\u{FEFF}{text}"), u16::to_be_bytes)),
            (Letters::Windows1252, text.chars().map(|c| u8::try_from(c).unwrap_or(b'?')).collect()),
        ];
        for (letters, bytes) in spelled {
            let found = sheet(&bytes).unwrap();
            assert_eq!((found.letters, found.delimiter), (letters, Delimiter::Semicolon));
            assert_eq!(found.headers, ["tag", "note"]);
            assert_eq!(found.lines, [Line { row: 2, cells: vec!["1".into(), "Süd, am Bächle".into()] }]);
        }
        assert_eq!(western(0x80), '€');
        assert_eq!(western(0x92), '’');
    }

    #[test]
    fn rows_are_counted_as_a_spreadsheet_counts_them() {
        for end in ["\n", "\r\n", "\r"] {
            let text = ["tag,note", "1,\"two", "lines\"", "", "2,\"say \"\"pin\"\"\"", ",", "3,x"].join(end);
            let found = sheet(text.as_bytes()).unwrap();
            let rows: Vec<usize> = found.lines.iter().map(|l| l.row).collect();
            assert_eq!(rows, [2, 4, 6], "{end:?}");
            assert_eq!(found.lines[0].cells, ["1", "two\nlines"]);
            assert_eq!(found.lines[1].cells, ["2", "say \"pin\""]);
        }
    }

    #[test]
    fn a_quote_that_would_swallow_rows_is_refused_with_its_row() {
        for text in ["tag,note\n1,fine\n2,\"open\n3,x\n", "tag,note\n1,fine\n2,\"open\n3,\"shut\"\n"] {
            let Err(error) = sheet(text.as_bytes()) else { unreachable!("{text}") };
            assert_eq!(error.reply()["detail"], json!({"why": "quotes", "row": 3}));
        }
        assert_eq!(sheet(b"tag,note\n1,a 5\" log\n").unwrap().lines[0].cells[1], "a 5\" log");
    }

    #[test]
    fn what_is_no_sheet_is_refused_with_its_reason() {
        assert_eq!(why(b""), "\"empty_file\"");
        assert_eq!(why(b" \n\n"), "\"empty_file\"");
        assert_eq!(why(b"tag,note\n"), "\"no_rows\"");
        assert_eq!(why(b"PK\x03\x04\0\0"), "\"not_text\"");
        assert_eq!(why(&utf16("tag,note\n1,x", u16::to_le_bytes)), "\"not_text\"");
        assert_eq!(why(b"\xFF\xFE\x41"), "\"not_text\"");
        assert_eq!(why(&vec![b'a'; MAX_BYTES + 1]), "\"too_big_bytes\"");
        assert_eq!(why("a\n".repeat(MAX_ROWS + 2).as_bytes()), "\"too_many_rows\"");
        assert!(sheet("a\n".repeat(MAX_ROWS + 1).as_bytes()).is_ok());
        assert_eq!(
            why(format!("{}\n1\n", ",".repeat(300).replace(',', "a,")).as_bytes()),
            "\"too_many_columns\""
        );
    }

    #[test]
    fn the_separator_is_the_one_the_rows_agree_on() {
        for (text, delimiter) in [
            ("tag,wood\n1,oak\n", Delimiter::Comma),
            ("tag;grams\n1;1,5\n2;2\n", Delimiter::Semicolon),
            ("tag\tnote\n1\ta, b; c\n", Delimiter::Tab),
            ("tag\n1\n2\n", Delimiter::Comma),
        ] {
            assert_eq!(sheet(text.as_bytes()).unwrap().delimiter, delimiter, "{text}");
        }
    }
}
