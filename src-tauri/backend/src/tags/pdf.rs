//! Draws a sheet of tags as PDF: codes and bar as filled shapes, letters in a font every reader has.
//! Never lays anything out: `rules` says where.
//! Invariant: one millimetre of `rules` is one millimetre on paper printed at 100 %.

use super::rules::{
    BAR, Face, MODULE, Paper, Place, TAG, bar_at, code, code_at, code_text, letter_size, place,
};
use pdf_writer::{Content, Finish, Name, Pdf, Rect, Ref, Str, TextStr};

/// Points in a millimetre (a point is 1/72 in).
const POINT: f32 = 72.0 / 25.4;
const BOLD: Name<'static> = Name(b"B");
const PLAIN: Name<'static> = Name(b"P");

/// Whether letters of this text can be printed: those of Western Europe (Windows code page 1252).
pub fn has_letters(text: &str) -> bool {
    text.chars().all(|c| letter(c).is_some())
}

/// The sheets, as one PDF. A tag whose letters can't be printed gets a line to write on.
pub fn sheets(faces: &[Face], paper: Paper) -> Vec<u8> {
    let mut pdf = Pdf::new();
    let (catalog, tree, bold, plain) = (Ref::new(1), Ref::new(2), Ref::new(3), Ref::new(4));
    let pages = faces.len().div_ceil(12).max(1);
    let page = |n: usize| Ref::new(i32::try_from(10 + 2 * n).unwrap_or(10));
    let mut root = pdf.catalog(catalog);
    root.pages(tree);
    // What a print dialog offers first: no scaling (PDF 32000-1, 12.2).
    root.viewer_preferences().pair(Name(b"PrintScaling"), Name(b"None"));
    root.finish();
    let count = i32::try_from(pages).unwrap_or(i32::MAX);
    pdf.pages(tree).kids((0..pages).map(page)).count(count);
    for (id, name) in [(bold, "Helvetica-Bold"), (plain, "Helvetica")] {
        pdf.type1_font(id).base_font(Name(name.as_bytes())).encoding_predefined(Name(b"WinAnsiEncoding"));
    }
    pdf.document_info(Ref::new(5)).title(TextStr("Tags"));
    for n in 0..pages {
        let content = Ref::new(page(n).get() + 1);
        let [width, height] = paper.size();
        let mut sheet = pdf.page(page(n));
        sheet.media_box(Rect::new(0.0, 0.0, width * POINT, height * POINT)).parent(tree).contents(content);
        sheet.resources().fonts().pair(BOLD, bold).pair(PLAIN, plain);
        sheet.finish();
        pdf.stream(content, &drawn(faces, n, paper));
    }
    pdf.finish()
}

fn drawn(faces: &[Face], sheet: usize, paper: Paper) -> Vec<u8> {
    let mut page = Content::new();
    // From here on in millimetres.
    page.transform([POINT, 0.0, 0.0, POINT, 0.0, 0.0]);
    bar(&mut page, paper);
    for (n, face) in faces.iter().enumerate() {
        let Place { sheet: on, at } = place(n, paper);
        if on == sheet {
            tag(&mut page, face, at);
        }
    }
    page.finish().to_vec()
}

/// The check bar: a dark bar of exactly 50 mm, and what it is for.
fn bar(page: &mut Content, paper: Paper) {
    let [x, y] = bar_at(paper);
    page.rect(x, y, BAR, 3.0).fill_nonzero();
    let words = "This bar is 50 mm long. If it is not, print at 100 %, without fitting to the page.";
    text(page, PLAIN, 2.9, [x - 26.0, y - 4.2], words);
}

fn tag(page: &mut Content, face: &Face, [x, y]: [f32; 2]) {
    page.set_line_width(0.15).set_stroke_gray(0.6).rect(x, y, TAG[0], TAG[1]).stroke();
    let Some(modules) = code(&code_text(&face.id)) else { return };
    let [left, low] = code_at(modules.len());
    let number = |n: usize| f32::from(u8::try_from(n).unwrap_or(0));
    for (row, line) in modules.iter().enumerate() {
        let up = y + low + (number(modules.len()) - number(row) - 1.0) * MODULE;
        let mut from = 0;
        // Neighbours as one shape: no hairlines between them.
        while from < line.len() {
            let length = line[from..].iter().take_while(|dark| **dark).count();
            if length > 0 {
                page.rect(x + left + number(from) * MODULE, up, number(length) * MODULE, MODULE);
            }
            from += length.max(1);
        }
    }
    page.fill_nonzero();
    let at = x + left + number(modules.len()) * MODULE + 5.0;
    let room = x + TAG[0] - 3.0 - at;
    if has_letters(&face.tag) {
        let size = letter_size(ems(&face.tag), room);
        text(page, BOLD, size, [at, y + TAG[1] / 2.0 + 1.0 - size * 0.3], &face.tag);
    } else {
        page.set_stroke_gray(0.0).move_to(at, y + 12.0).line_to(at + room, y + 12.0).stroke();
    }
    let size = letter_size(ems(&face.small), room).min(3.6);
    text(page, PLAIN, size, [at, y + 4.0], &face.small);
}

fn text(page: &mut Content, font: Name<'_>, size: f32, [x, y]: [f32; 2], words: &str) {
    let bytes: Vec<u8> = words.chars().filter_map(letter).collect();
    page.begin_text().set_font(font, size).next_line(x, y).show(Str(&bytes)).end_text();
}

/// A letter's byte in code page 1252.
fn letter(c: char) -> Option<u8> {
    match c {
        ' '..='~' | '\u{a0}'..='\u{ff}' => u8::try_from(u32::from(c)).ok(),
        '–' => Some(0x96),
        '—' => Some(0x97),
        '‘' => Some(0x91),
        '’' => Some(0x92),
        '“' => Some(0x93),
        '”' => Some(0x94),
        '€' => Some(0x80),
        'Š' => Some(0x8A),
        'š' => Some(0x9A),
        'Ž' => Some(0x8E),
        'ž' => Some(0x9E),
        'Œ' => Some(0x8C),
        'œ' => Some(0x9C),
        _ => None,
    }
}

/// How wide a text is in the bold font, ems: digits as they are, others by their widest kind, so that it fits.
fn ems(text: &str) -> f32 {
    text.chars()
        .map(|c| match c {
            '0'..='9' => 0.556,
            ' ' | '.' | ',' | '/' | 'i' | 'j' | 'l' | 'I' | '|' => 0.278,
            '-' | '(' | ')' | 'f' | 't' | ':' => 0.334,
            'm' | 'M' | '%' => 0.89,
            'W' | 'w' | '@' => 0.98,
            'A'..='Z' => 0.78,
            'a'..='z' => 0.612,
            _ => 1.0,
        })
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_that_no_reader_is_sure_to_have_are_told() {
        assert!(has_letters("37") && has_letters("Ä–12"));
        assert!(!has_letters("дуб 3"));
    }

    #[test]
    fn thirteen_tags_take_two_sheets() {
        let face = Face {
            tag: "37".into(),
            id: "0198f3a2-7b1c-7def-8abc-0123456789ab".into(),
            small: String::new(),
        };
        let pdf = sheets(&vec![face; 13], Paper::A4);
        assert!(pdf.starts_with(b"%PDF-"));
        assert_eq!(pdf.windows(11).filter(|w| w == b"/Type /Page").count(), 3, "two pages and their tree");
    }
}
