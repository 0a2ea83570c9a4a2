//! `demo`: lays the invented yard in a folder.
//!
//! Never here: what is in that yard. Invariant: a folder that holds anything is left alone unless `--again`
//! says otherwise, and even then only a folder that holds a register is emptied.

use std::fs;
use std::io::Read;
use std::path::{Path, PathBuf};

use crate::Outcome;
use crate::steps::{after, cargo, output, program, run, target};

/// `demo [FOLDER] [--until DAY] [--again]`.
pub fn demo(words: &[String]) -> Outcome {
    let until = after(words, "--until")?;
    let folder = words
        .iter()
        .find(|word| !word.starts_with("--") && Some(word.as_str()) != until)
        .map_or_else(folder, PathBuf::from);
    let again = words.iter().any(|word| word == "--again");
    if !empty(&folder) {
        if !again {
            return Err(format!(
                "{} is not empty. Name another folder, or say --again to make it anew.",
                folder.display()
            ));
        }
        clear(&folder)?;
    }
    lay(&folder, until)
}

/// Where the demo yard lies when no folder is named.
pub fn folder() -> PathBuf {
    target().join("demo-yard")
}

/// Makes the demo yard in its usual place unless a register is there already.
pub fn lay_if_absent() -> Outcome {
    if empty(&folder()) { lay(&folder(), None) } else { Ok(()) }
}

fn lay(folder: &Path, until: Option<&str>) -> Outcome {
    println!("Making the demo yard in {}", folder.display());
    let mut command = cargo(["run", "--quiet", "--package", "shadeyard-demo", "--bin", "demo", "--"]);
    let today = output("demo", &mut program("date", ["+%F"]))?;
    command.arg(folder).args(["--until", until.unwrap_or(today.trim())]);
    let made = run("demo", &mut command);
    if made.is_err() && folder.starts_with(target()) {
        // Half a yard must not be taken for the whole one next time.
        let _gone = fs::remove_dir_all(folder);
    }
    made
}

fn empty(folder: &Path) -> bool {
    fs::read_dir(folder).map_or(true, |mut entries| entries.next().is_none())
}

fn clear(folder: &Path) -> Outcome {
    if !holds_a_register(folder) {
        return Err(format!("{} holds no register, so it is not emptied.", folder.display()));
    }
    fs::remove_dir_all(folder).map_err(|err| format!("{}: {err}", folder.display()))
}

/// Known by the head that SQLite gives every database file.
fn holds_a_register(folder: &Path) -> bool {
    let Ok(entries) = fs::read_dir(folder) else { return false };
    entries.flatten().any(|entry| {
        let mut head = [0_u8; 15];
        let read = fs::File::open(entry.path()).and_then(|mut file| file.read_exact(&mut head));
        read.is_ok() && head == *b"SQLite format 3"
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_folder_without_a_register_is_never_emptied() {
        let folder = std::env::temp_dir().join(format!("shadeyard-demo-{}", std::process::id()));
        assert!(empty(&folder), "a folder that is not there counts as empty");
        assert!(fs::create_dir_all(&folder).is_ok() && fs::write(folder.join("letters.txt"), "dear").is_ok());
        assert!(!empty(&folder));
        assert!(clear(&folder).is_err() && folder.join("letters.txt").is_file());
        assert!(fs::write(folder.join("register"), "SQLite format 3\0 and more").is_ok());
        assert!(clear(&folder).is_ok() && !folder.exists());
    }
}
