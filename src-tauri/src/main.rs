//! Starts the app.
//! Never anything else.
//! Invariant: the desktop and the phone start through the same `run`.

#![cfg_attr(not(debug_assertions), windows_subsystem = "windows")]

fn main() {
    shadeyard_app::run();
}
