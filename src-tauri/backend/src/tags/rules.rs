//! A sheet of tags: where each tag lies on the paper, its code, its letters.
//! Never a file format: `pdf` draws what is laid out here.
//! Invariant: lengths are millimetres on the paper, from its lower left corner.

use crate::words::words;

words! {
    /// The paper.
    pub enum Paper {
        /// 210 × 297 mm (ISO 216).
        A4 = "a4",
        /// 8.5 × 11 in.
        Letter = "letter",
    }
}

impl Paper {
    /// Width and height, mm.
    pub fn size(self) -> [f32; 2] {
        match self {
            Self::A4 => [210.0, 297.0],
            Self::Letter => [215.9, 279.4],
        }
    }
}

/// A tag's width and height, mm.
pub const TAG: [f32; 2] = [92.0, 40.0];
/// Tags on a sheet: across and down.
pub const GRID: [usize; 2] = [2, 6];
/// The length of the check bar, mm.
pub const BAR: f32 = 50.0;
/// A module of the code, mm: 25 of them make 30 mm, which photos are measured by.
pub const MODULE: f32 = 1.2;
/// The light border a code needs, modules (ISO/IEC 18004).
const QUIET: f32 = 4.0;
/// From the upper edge of the paper to the first tags, mm.
const TOP: f32 = 8.0;
/// The lower edge of the check bar, mm.
const BAR_AT: f32 = 11.0;

/// What stands on one tag.
#[derive(Debug, Clone, PartialEq)]
pub struct Face {
    /// The label, in large letters.
    pub tag: String,
    /// The log's id.
    pub id: String,
    /// What it is, in small letters.
    pub small: String,
}

/// One tag's place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// Its sheet, from 0.
    pub sheet: usize,
    /// Its lower left corner, mm.
    pub at: [f32; 2],
}

/// Where the `n`-th tag lies.
pub fn place(n: usize, paper: Paper) -> Place {
    let [across, down] = GRID;
    let (sheet, rest) = (n / (across * down), n % (across * down));
    let number = |n: usize| f32::from(u8::try_from(n).unwrap_or(0));
    let [width, height] = paper.size();
    let left = (width - TAG[0] * number(across)) / 2.0;
    let (column, row) = (number(rest % across), number(rest / across));
    Place { sheet, at: [left + column * TAG[0], height - TOP - (row + 1.0) * TAG[1]] }
}

/// The lower left corner of the check bar.
pub fn bar_at(paper: Paper) -> [f32; 2] {
    [(paper.size()[0] - BAR) / 2.0, BAR_AT]
}

/// Where the code lies on its tag, mm from the tag's lower left corner: its quiet border fits beside the edge.
pub fn code_at(modules: usize) -> [f32; 2] {
    let side = f32::from(u8::try_from(modules).unwrap_or(25)) * MODULE;
    [QUIET * MODULE + 0.4, (TAG[1] - side) / 2.0]
}

/// What the code says: the id's 32 digits, upper case, which the alphanumeric mode carries.
pub fn code_text(id: &str) -> String {
    id.chars().filter(|c| *c != '-').collect::<String>().to_uppercase()
}

/// The code's modules, row by row; `true` is dark. `None` when the text does not fit.
pub fn code(text: &str) -> Option<Vec<Vec<bool>>> {
    let made = fast_qr::QRBuilder::new(text)
        .mode(fast_qr::Mode::Alphanumeric)
        .ecl(fast_qr::ECL::M)
        .version(fast_qr::Version::V02)
        .build()
        .ok()?;
    let size = made.size;
    Some((0..size).map(|y| (0..size).map(|x| made[y][x].value()).collect()).collect())
}

/// The largest letters, mm of height of the font's body, that a tag of this width in ems fits in.
pub fn letter_size(ems: f32, room: f32) -> f32 {
    if ems <= 0.0 { 0.0 } else { (room / ems).min(34.0) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_tag_leaves_its_paper_or_touches_the_bar() {
        for paper in Paper::ALL {
            let [width, _] = paper.size();
            for n in 0..12 {
                let Place { sheet, at: [x, y] } = place(n, *paper);
                assert_eq!(sheet, 0);
                assert!(x > 5.0 && x + TAG[0] < width - 5.0, "{paper:?} {n} {x}");
                assert!(y > bar_at(*paper)[1] + 6.0, "{paper:?} {n} {y}");
            }
            assert_eq!(place(12, *paper).sheet, 1);
        }
    }

    #[test]
    fn a_code_has_25_modules_and_room_around_it() {
        let made = code(&code_text("0198f3a2-7b1c-7def-8abc-0123456789ab")).expect("a code");
        assert_eq!((made.len(), made[0].len()), (25, 25));
        assert!(made[0][..7].iter().all(|dark| *dark), "the finder's edge");
        let [x, y] = code_at(25);
        assert!(x >= 4.8 && y >= 4.8, "{x} {y}");
    }
}
