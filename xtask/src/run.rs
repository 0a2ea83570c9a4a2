//! `run`: one command from a fresh copy to the app on screen, or to pictures of it where no screen is.
//!
//! Never here: how the window is driven; the walk is a test like any other, so it cannot rot.
//! Invariant: the user's own yard is never opened, only the demo yard or the one named by `--yard`.

use std::path::PathBuf;

use crate::steps::{after, cargo, program, run as start, target, top};
use crate::{Outcome, demo, setup};

/// The walk, by its path in the test binary.
const WALK: &str = "window::walk::a_walk_through_the_demo_yard_leaves_its_pictures";

/// `run [--walk] [--yard FOLDER]`.
pub fn run(words: &[String]) -> Outcome {
    let display = ["DISPLAY", "WAYLAND_DISPLAY"]
        .iter()
        .any(|name| std::env::var_os(name).is_some_and(|v| !v.is_empty()));
    let unix_screen = cfg!(any(target_os = "macos", target_os = "windows"));
    let walk = words.iter().any(|word| word == "--walk") || !(display || unix_screen);
    setup::setup(if walk { setup::For::Walk } else { setup::For::Window })?;
    if walk {
        return on_a_private_screen();
    }
    let yard = after(words, "--yard")?.map(PathBuf::from);
    start("build", &mut cargo(["build", "--package", "shadeyard"]))?;
    if yard.is_none() {
        demo::lay_if_absent()?;
    }
    let yard = yard.unwrap_or_else(demo::folder);
    println!("Opening the app on {}", yard.display());
    let app = target().join("debug/shadeyard");
    start("run", program(&app.to_string_lossy(), [] as [&str; 0]).env("SHADEYARD_YARD", top().join(yard)))
}

fn on_a_private_screen() -> Outcome {
    println!("No display here: walking through the real window on a private screen.");
    start("build", &mut cargo(["build", "--workspace", "--all-targets"]))?;
    start("walk", &mut cargo(["test", "--quiet", "--workspace", "--test", "all", "--", "--exact", WALK]))?;
    let pictures = target().join("pictures/walk");
    println!("\nWhat the window showed, in {}:", pictures.display());
    let mut names: Vec<String> = std::fs::read_dir(&pictures)
        .map_err(|err| format!("{}: {err}", pictures.display()))?
        .flatten()
        .map(|entry| entry.file_name().to_string_lossy().into_owned())
        .filter(|name| name.ends_with(".png"))
        .collect();
    names.sort();
    for name in &names {
        println!("  {name}");
    }
    if names.is_empty() { Err("The walk left no pictures.".into()) } else { Ok(()) }
}
