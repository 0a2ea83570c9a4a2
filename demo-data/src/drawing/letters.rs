//! The words on every drawing, in letters of our own, five dots wide.
//! Never any other words.
//! Invariant: the words stand on their own dark plate, so they can be read on every ground.

use super::canvas::{Canvas, Frame, HEIGHT, Ink};

const WORDS: &str = "drawn, not a photo";
const DOT: f32 = 4.0;
const ADVANCE: f32 = 6.0 * DOT;
const TALL: f32 = 9.0 * DOT;

/// Nine rows from the top, five dots a row, the leftmost dot in the highest bit.
fn rows(letter: char) -> [u8; 9] {
    match letter {
        'a' => [0, 0, 0b01110, 0b00001, 0b01111, 0b10001, 0b01111, 0, 0],
        'd' => [0b00001, 0b00001, 0b01111, 0b10001, 0b10001, 0b10001, 0b01111, 0, 0],
        'h' => [0b10000, 0b10000, 0b11110, 0b10001, 0b10001, 0b10001, 0b10001, 0, 0],
        'n' => [0, 0, 0b11110, 0b10001, 0b10001, 0b10001, 0b10001, 0, 0],
        'o' => [0, 0, 0b01110, 0b10001, 0b10001, 0b10001, 0b01110, 0, 0],
        'p' => [0, 0, 0b11110, 0b10001, 0b10001, 0b10001, 0b11110, 0b10000, 0b10000],
        'r' => [0, 0, 0b10110, 0b11001, 0b10000, 0b10000, 0b10000, 0, 0],
        't' => [0b01000, 0b01000, 0b11100, 0b01000, 0b01000, 0b01001, 0b00110, 0, 0],
        'w' => [0, 0, 0b10001, 0b10001, 0b10101, 0b10101, 0b01010, 0, 0],
        ',' => [0, 0, 0, 0, 0, 0b00110, 0b00100, 0b01000, 0],
        _ => [0; 9],
    }
}

/// Writes the words into the lower left corner.
pub fn write(canvas: &mut Canvas) {
    let (left, top) = (36.0, HEIGHT as f32 - TALL - 40.0);
    let wide = WORDS.len() as f32 * ADVANCE;
    let plate = Frame { x0: left - 16.0, y0: top - 12.0, x1: left + wide + 10.0, y1: top + TALL + 8.0 };
    canvas.paint(plate, |_, _| Some((Ink(0.04, 0.05, 0.05), 0.78)));
    for (n, letter) in (0_u8..).zip(WORDS.chars()) {
        write_letter(canvas, letter, left + f32::from(n) * ADVANCE, top);
    }
}

fn write_letter(canvas: &mut Canvas, letter: char, left: f32, top: f32) {
    for (row, bits) in (0_u8..).zip(rows(letter)) {
        for column in 0..5_u8 {
            if bits & (0b10000 >> column) != 0 {
                let (x0, y0) = (left + f32::from(column) * DOT, top + f32::from(row) * DOT);
                let dot = Frame { x0, y0, x1: x0 + DOT, y1: y0 + DOT };
                canvas.paint(dot, |_, _| Some((Ink(0.96, 0.93, 0.84), 1.0)));
            }
        }
    }
}
