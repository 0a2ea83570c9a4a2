//! Nothing leaks: no socket to anywhere, no loose policy, no stray field, no word in an output, no
//! place in a photo that is handed on.
//! Never what the register holds.
//! Invariant: each test looks from outside: at the system's own trace, at the files, at the bytes.

mod network;
mod pointer;
mod policy;
mod requests;
mod sharing;
mod words;
