//! A plain PDF of text, lines, bars and pictures, for the season's report: A4, Helvetica, black.
//! Never a figure: lines and shapes come in.
//! Invariant: every page holds what is put on it; the file is PDF 1.4 (ISO 32000-1 reads it) with no font inside.

use super::shapes::{Drawing, drawn};
use std::fmt::Write as _;

const WIDTH: f64 = 595.0;
const HEIGHT: f64 = 842.0;
const MARGIN: f64 = 56.0;

/// What stands below a heading on its page at least, points.
const BELOW: f64 = 70.0;
/// A log's picture, its photo and their cards, points.
const PICTURE: f64 = 74.0;
const CARDS: usize = 3;
/// Size of the words under a card.
const SMALL: f64 = 8.5;

/// A photo, as the JPEG it is.
#[derive(Debug, Clone)]
pub struct Picture {
    /// Width, pixels.
    pub width: u32,
    /// Height, pixels.
    pub height: u32,
    /// The file, three colours.
    pub jpeg: Vec<u8>,
}

/// A log with its pictures.
#[derive(Debug, Clone)]
pub struct Card {
    /// Its end grain.
    pub grain: Vec<Drawing>,
    /// Its photo.
    pub photo: Option<Picture>,
    /// The words below, a line each.
    pub words: Vec<String>,
}

/// A document being written from top to bottom.
#[derive(Debug)]
pub struct Pdf {
    pages: Vec<String>,
    pictures: Vec<Picture>,
    y: f64,
}

impl Default for Pdf {
    fn default() -> Self {
        Self { pages: vec![String::new()], pictures: Vec::new(), y: HEIGHT - MARGIN }
    }
}

impl Pdf {
    /// A heading, on the page of what follows it.
    pub fn heading(&mut self, words: &str, size: f64) {
        self.y -= size * 0.4;
        if self.y - size * 1.4 - BELOW < MARGIN {
            self.turn();
        }
        self.text(words, size, true);
    }

    /// Words, broken into lines at this size, points; `bold` for headings.
    pub fn text(&mut self, words: &str, size: f64, bold: bool) {
        let fits = ((WIDTH - 2.0 * MARGIN) / (size * if bold { 0.56 } else { 0.5 })) as usize;
        for line in lines(words, fits) {
            self.room(size * 1.4);
            self.put(&line, MARGIN, size, bold);
        }
        self.y -= size * 0.5;
    }

    /// A row of a table: cells at these places, points from the margin.
    pub fn row(&mut self, cells: &[(f64, String)], size: f64, bold: bool) {
        self.room(size * 1.5);
        for (at, cell) in cells {
            self.put(cell, MARGIN + at, size, bold);
        }
    }

    /// A line of a chart: a name, an interval and its dot, on a scale from 0 to `end`.
    pub fn interval(&mut self, name: &str, figures: (f64, f64, f64), end: f64) {
        self.room(22.0);
        let x = |v: f64| MARGIN + 130.0 + (v / end).clamp(0.0, 1.0) * (WIDTH - 2.0 * MARGIN - 140.0);
        let (y, (mean, low, high)) = (self.y, figures);
        self.put(name, MARGIN, 10.0, false);
        let _ = writeln!(
            self.page(),
            "4 w 0.6 G {:.1} {:.1} m {:.1} {:.1} l S 0 G",
            x(low),
            y + 3.0,
            x(high),
            y + 3.0
        );
        let _ = writeln!(self.page(), "{:.1} {:.1} 6 6 re f", x(mean) - 3.0, y);
    }

    /// Bars side by side with a word under each.
    pub fn bars(&mut self, bars: &[(String, f64)], high: f64) {
        self.room(high + 18.0);
        let top = bars.iter().map(|b| b.1).fold(1e-9, f64::max);
        let step = (WIDTH - 2.0 * MARGIN) / bars.len().max(1) as f64;
        let y = self.y + 14.0;
        for (i, (word, value)) in bars.iter().enumerate() {
            let x = MARGIN + step * i as f64;
            let _ = writeln!(
                self.page(),
                "{x:.1} {y:.1} {:.1} {:.1} re f",
                step * 0.7,
                value / top * (high - 14.0)
            );
            self.put(word, x, 8.0, false);
        }
        self.y -= 6.0;
    }

    /// Logs side by side: the end grain, the photo beside it, the words below.
    pub fn cards(&mut self, cards: &[Card]) {
        let wide = (WIDTH - 2.0 * MARGIN) / CARDS as f64;
        let fits = ((wide - 8.0) / (SMALL * 0.5)) as usize;
        for row in cards.chunks(CARDS) {
            let words: Vec<Vec<String>> =
                row.iter().map(|c| c.words.iter().flat_map(|w| lines(w, fits)).collect()).collect();
            let most = words.iter().map(Vec::len).max().unwrap_or(0) as f64;
            self.room(PICTURE + most * SMALL * 1.4 + 8.0);
            let top = self.y + PICTURE + most * SMALL * 1.4;
            for (i, (card, words)) in row.iter().zip(&words).enumerate() {
                let x = MARGIN + wide * i as f64;
                self.page().push_str(&drawn(&card.grain, (x, top), PICTURE));
                if let Some(photo) = &card.photo {
                    self.photo(photo, (x + PICTURE + 4.0, top), (wide - PICTURE - 12.0, PICTURE));
                }
                for (n, line) in words.iter().enumerate() {
                    let y = top - PICTURE - SMALL * 1.4 * (n + 1) as f64;
                    self.put_at(line, (x, y), SMALL, n == 0);
                }
            }
        }
    }

    /// A photo within a box whose upper left corner is given, as large as fits.
    fn photo(&mut self, photo: &Picture, (x, top): (f64, f64), (wide, high): (f64, f64)) {
        let (w, h) = (f64::from(photo.width.max(1)), f64::from(photo.height.max(1)));
        let scale = (wide / w).min(high / h);
        let (w, h) = (w * scale, h * scale);
        let (n, y) = (self.pictures.len(), top - h);
        let _ = writeln!(self.page(), "q {w:.2} 0 0 {h:.2} {x:.2} {y:.2} cm /P{n} Do Q");
        self.pictures.push(photo.clone());
    }

    fn page(&mut self) -> &mut String {
        if self.pages.is_empty() {
            self.pages.push(String::new());
        }
        let last = self.pages.len() - 1;
        &mut self.pages[last]
    }

    fn room(&mut self, high: f64) {
        if self.y - high < MARGIN {
            self.turn();
        }
        self.y -= high;
    }

    fn turn(&mut self) {
        self.pages.push(String::new());
        self.y = HEIGHT - MARGIN;
    }

    fn put(&mut self, words: &str, x: f64, size: f64, bold: bool) {
        self.put_at(words, (x, self.y), size, bold);
    }

    fn put_at(&mut self, words: &str, (x, y): (f64, f64), size: f64, bold: bool) {
        let (font, text) = (if bold { "B" } else { "A" }, escaped(words));
        let _ = writeln!(self.page(), "BT /{font} {size} Tf {x:.1} {y:.1} Td ({text}) Tj ET");
    }

    /// The whole file.
    pub fn bytes(mut self) -> Vec<u8> {
        self.number_pages();
        let font = |name: &str| {
            format!("<< /Type /Font /Subtype /Type1 /BaseFont /{name} /Encoding /WinAnsiEncoding >>")
        };
        let page = |i: usize| 5 + 2 * i;
        let picture = |i: usize| page(self.pages.len()) + i;
        let kids: Vec<String> = (0..self.pages.len()).map(|i| format!("{} 0 R", page(i))).collect();
        let seen: Vec<String> =
            (0..self.pictures.len()).map(|i| format!("/P{i} {} 0 R", picture(i))).collect();
        let mut objects: Vec<Vec<u8>> = vec![
            b"<< /Type /Catalog /Pages 2 0 R /Lang (en) >>".to_vec(),
            format!("<< /Type /Pages /Kids [{}] /Count {} >>", kids.join(" "), kids.len()).into_bytes(),
            font("Helvetica").into_bytes(),
            font("Helvetica-Bold").into_bytes(),
        ];
        for (i, content) in self.pages.iter().enumerate() {
            let page = format!(
                "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 {WIDTH} {HEIGHT}] /Resources << \
                 /Font << /A 3 0 R /B 4 0 R >> /XObject << {} >> >> /Contents {} 0 R >>",
                seen.join(" "),
                page(i) + 1
            );
            objects.push(page.into_bytes());
            // Letters past ASCII are written as octal escapes, so a letter is a byte.
            objects.push(stream("", content.as_bytes()));
        }
        objects.extend(self.pictures.iter().map(|p| {
            let about = format!(
                "/Type /XObject /Subtype /Image /Width {} /Height {} /ColorSpace /DeviceRGB \
                 /BitsPerComponent 8 /Filter /DCTDecode ",
                p.width, p.height
            );
            stream(&about, &p.jpeg)
        }));
        written(&objects)
    }

    fn number_pages(&mut self) {
        let all = self.pages.len();
        for (n, page) in self.pages.iter_mut().enumerate().filter(|_| all > 1) {
            let words = format!("{} of {all}", n + 1);
            let _ =
                writeln!(page, "BT /A 8 Tf {:.1} {:.1} Td ({words}) Tj ET", WIDTH / 2.0 - 10.0, MARGIN / 2.0);
        }
    }
}

fn stream(about: &str, bytes: &[u8]) -> Vec<u8> {
    let mut object = format!("<< {about}/Length {} >>\nstream\n", bytes.len()).into_bytes();
    object.extend(bytes);
    object.extend(b"\nendstream");
    object
}

/// The objects, numbered from 1, with the table of their places.
fn written(objects: &[Vec<u8>]) -> Vec<u8> {
    let mut file = b"%PDF-1.4\n".to_vec();
    let mut table = format!("xref\n0 {}\n0000000000 65535 f \n", objects.len() + 1);
    for (i, object) in objects.iter().enumerate() {
        let _ = writeln!(table, "{:010} 00000 n ", file.len());
        file.extend(format!("{} 0 obj\n", i + 1).into_bytes());
        file.extend(object);
        file.extend(b"\nendobj\n");
    }
    let start = file.len();
    let _ =
        write!(table, "trailer\n<< /Size {} /Root 1 0 R >>\nstartxref\n{start}\n%%EOF\n", objects.len() + 1);
    file.extend(table.into_bytes());
    file
}

fn lines(words: &str, fits: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in words.split_whitespace() {
        match lines.last_mut() {
            Some(line) if line.chars().count() + 1 + word.chars().count() <= fits => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

/// Text as a PDF string in Windows' Western letters; what they lack is a question mark.
fn escaped(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        let byte = match c {
            '\u{2019}' => 0o222,
            '\u{2013}' => 0o226,
            '\u{202f}' => 0o240,
            '\u{b7}' | '\u{a0}'..='\u{ff}' => c as u32,
            '(' | ')' | '\\' => {
                out.push('\\');
                c as u32
            }
            ' '..='~' => c as u32,
            _ => 0o77,
        };
        match char::from_u32(byte).filter(char::is_ascii) {
            Some(c) => out.push(c),
            None => {
                let _ = write!(out, "\\{byte:03o}");
            }
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_photo_is_in_the_file_as_it_is_and_a_heading_stands_on_the_page_of_what_follows() {
        let jpeg = vec![0xff, 0xd8, 0x00, 0x29, 0xff, 0xd9];
        let photo = Picture { width: 40, height: 20, jpeg: jpeg.clone() };
        let card = Card { grain: Vec::new(), photo: Some(photo), words: vec!["Log 7".into()] };
        let mut pdf = Pdf::default();
        pdf.cards(&vec![card; 4]);
        while pdf.pages.len() == 1 && pdf.y > MARGIN + 60.0 {
            pdf.text("A line.", 12.0, false);
        }
        pdf.heading("What comes next", 13.0);
        assert_eq!(pdf.pages.len(), 2, "it would have stood alone at the foot");
        assert!(pdf.pages[0].matches(" Do Q").count() == 4 && pdf.pages[0].contains("(Log 7)"));
        let file = pdf.bytes();
        assert_eq!(file.windows(jpeg.len()).filter(|w| *w == jpeg).count(), 4);
        let start = file.windows(10).rposition(|w| w == b"startxref\n").map_or(0, |at| at + 10);
        let at: String =
            file[start..].iter().take_while(|b| b.is_ascii_digit()).map(|b| *b as char).collect();
        assert!(at.parse().is_ok_and(|at: usize| file[at..].starts_with(b"xref")), "{at}");
    }

    #[test]
    fn a_file_has_its_pages_and_every_place_is_where_it_says() {
        let mut pdf = Pdf::default();
        for _ in 0..80 {
            pdf.text(
                "A line (with brackets) and “ä” that’s long enough to be broken somewhere about here, twice",
                12.0,
                false,
            );
        }
        pdf.bars(&[("J".into(), 1.0), ("F".into(), 0.0)], 60.0);
        let file = String::from_utf8(pdf.bytes()).unwrap_or_default();
        assert!(
            file.is_ascii()
                && file.contains("\\(with brackets\\) and ?\\344?")
                && file.contains("that\\222s")
        );
        assert!(file.matches("/Type /Page ").count() >= 3);
        let start = file.rsplit("startxref\n").next().and_then(|t| t.lines().next()?.parse::<usize>().ok());
        assert!(start.is_some_and(|s| file[s..].starts_with("xref")));
        let first = file.find("1 0 obj").map(|at| format!("{at:010} 00000 n"));
        assert!(first.is_some_and(|place| file.contains(&place)));
    }
}
