//! Tells the build which files the window is made of.
//! Never builds the screens: they are served as they are.
//! Invariant: without the rendering library's copy there is no build, rather than a blank window.

use std::path::Path;

fn main() {
    println!("cargo:rerun-if-changed=../ui");
    let copied = Path::new("../ui/vendor/lit-html/lit-html.js");
    assert!(
        copied.exists(),
        "ui/vendor/lit-html is missing: run `cargo xtask run` or `cargo xtask test`, which copy it"
    );
    tauri_build::build();
}
