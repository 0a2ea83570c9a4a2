//! A plain PDF of text, lines and bars, for the season's report: A4, Helvetica, black.
//! Never a figure: lines and shapes come in.
//! Invariant: every page holds what is put on it; the file is PDF 1.4 (ISO 32000-1 reads it) with no font inside.

use std::fmt::Write as _;

const WIDTH: f64 = 595.0;
const HEIGHT: f64 = 842.0;
const MARGIN: f64 = 56.0;

/// A document being written from top to bottom.
#[derive(Debug)]
pub struct Pdf {
    pages: Vec<String>,
    y: f64,
}

impl Default for Pdf {
    fn default() -> Self {
        Self { pages: vec![String::new()], y: HEIGHT - MARGIN }
    }
}

impl Pdf {
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

    fn page(&mut self) -> &mut String {
        if self.pages.is_empty() {
            self.pages.push(String::new());
        }
        let last = self.pages.len() - 1;
        &mut self.pages[last]
    }

    fn room(&mut self, high: f64) {
        if self.y - high < MARGIN {
            self.pages.push(String::new());
            self.y = HEIGHT - MARGIN;
        }
        self.y -= high;
    }

    fn put(&mut self, words: &str, x: f64, size: f64, bold: bool) {
        let (font, y, text) = (if bold { "B" } else { "A" }, self.y, escaped(words));
        let _ = writeln!(self.page(), "BT /{font} {size} Tf {x:.1} {y:.1} Td ({text}) Tj ET");
    }

    /// The whole file.
    pub fn bytes(self) -> Vec<u8> {
        let font = |name: &str| {
            format!("<< /Type /Font /Subtype /Type1 /BaseFont /{name} /Encoding /WinAnsiEncoding >>")
        };
        let kids: Vec<String> = (0..self.pages.len()).map(|i| format!("{} 0 R", 5 + 2 * i)).collect();
        let mut objects = vec![
            "<< /Type /Catalog /Pages 2 0 R /Lang (en) >>".to_owned(),
            format!("<< /Type /Pages /Kids [{}] /Count {} >>", kids.join(" "), kids.len()),
            font("Helvetica"),
            font("Helvetica-Bold"),
        ];
        for (i, content) in self.pages.iter().enumerate() {
            objects.push(format!(
                "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 {WIDTH} {HEIGHT}] /Resources << /Font << /A 3 0 R /B 4 0 R >> >> /Contents {} 0 R >>",
                6 + 2 * i
            ));
            // Letters past ASCII are written as octal escapes, so a letter is a byte.
            objects.push(format!("<< /Length {} >>\nstream\n{content}endstream", content.len()));
        }
        let mut file = "%PDF-1.4\n".to_owned();
        let mut places = Vec::new();
        for (i, object) in objects.iter().enumerate() {
            places.push(file.len());
            let _ = write!(file, "{} 0 obj\n{object}\nendobj\n", i + 1);
        }
        let start = file.len();
        let _ = write!(file, "xref\n0 {}\n0000000000 65535 f \n", objects.len() + 1);
        for place in places {
            let _ = writeln!(file, "{place:010} 00000 n ");
        }
        let _ = write!(
            file,
            "trailer\n<< /Size {} /Root 1 0 R >>\nstartxref\n{start}\n%%EOF\n",
            objects.len() + 1
        );
        file.into_bytes()
    }
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
