//! A pointer on a private screen: presses where a finger would, without a driver beside the app.
//!
//! Never here: what is pressed. A driver would not do: the browser engine answers it over a socket of
//! its own, and this is about the sockets of the plain app. Invariant: the screen is reached by its
//! file under /tmp/.X11-unix, so that it is there without any network too.

use std::io::{Read, Write};
use std::os::unix::net::UnixStream;

const BUTTON_DOWN: u8 = 4;
const BUTTON_UP: u8 = 5;
const MOTION: u8 = 6;

/// A connection to the screen's server (X11 protocol, version 11) and its XTEST extension (version 2.2).
pub struct Pointer {
    screen: UnixStream,
    xtest: u8,
}

impl Pointer {
    /// Reaches the screen `:N`.
    pub fn on(display: &str) -> Self {
        let file = format!("/tmp/.X11-unix/X{}", display.trim_start_matches(':'));
        let mut screen = UnixStream::connect(file).expect("the screen's own file");
        // Little end first, version 11.0, no names or keys to prove who asks.
        screen.write_all(&[b'l', 0, 11, 0, 0, 0, 0, 0, 0, 0, 0, 0]).expect("a greeting");
        let head = answer::<8>(&mut screen);
        assert_eq!(head[0], 1, "the screen lets us in");
        skip(&mut screen, usize::from(u16::from_le_bytes([head[6], head[7]])) * 4);
        // QueryExtension "XTEST": length 4 units, name of 5 letters, padded.
        screen.write_all(b"\x62\0\x04\0\x05\0\0\0XTEST\0\0\0").expect("a question");
        let found = answer::<32>(&mut screen);
        assert_eq!((found[0], found[8]), (1, 1), "the screen has XTEST");
        Self { screen, xtest: found[9] }
    }

    /// Presses at this point of the screen.
    pub fn press(&mut self, x: i16, y: i16) {
        self.fake(MOTION, 0, x, y);
        self.fake(BUTTON_DOWN, 1, 0, 0);
        self.fake(BUTTON_UP, 1, 0, 0);
    }

    /// Turns the wheel down.
    pub fn scroll_down(&mut self, turns: usize) {
        for _ in 0..turns {
            self.fake(BUTTON_DOWN, 5, 0, 0);
            self.fake(BUTTON_UP, 5, 0, 0);
        }
    }

    /// FakeInput: length 9 units, kind, detail, time 0 (at once), root 0 (this screen's), x, y.
    fn fake(&mut self, kind: u8, detail: u8, x: i16, y: i16) {
        let mut request = [0_u8; 36];
        request[..6].copy_from_slice(&[self.xtest, 2, 9, 0, kind, detail]);
        request[24..26].copy_from_slice(&x.to_le_bytes());
        request[26..28].copy_from_slice(&y.to_le_bytes());
        self.screen.write_all(&request).expect("a press");
    }
}

fn answer<const N: usize>(from: &mut UnixStream) -> [u8; N] {
    let mut bytes = [0; N];
    from.read_exact(&mut bytes).expect("the screen answers");
    bytes
}

fn skip(from: &mut UnixStream, long: usize) {
    let mut rest = vec![0; long];
    from.read_exact(&mut rest).expect("the screen answers in full");
}
