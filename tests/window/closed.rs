//! A yard that can only be read, because a newer program wrote it or because it is damaged.
//!
//! Never here: every command that is refused (tested without a window). Invariant: the window says what is so,
//! what is safe and what to do, and the register's file stays as it is.

use std::path::{Path, PathBuf};

use serde_json::json;

use super::checks::axe;
use super::driver::Window;
use super::yards::{EVENING, Yard, done};

fn register(yard: &Path) -> PathBuf {
    yard.join("register.sqlite")
}

#[test]
fn a_newer_yard_is_shown_with_a_banner_on_every_tab_and_left_as_it_is() {
    let yard = Yard::of_seven();
    let elsewhere = tempfile::tempdir().expect("a folder");
    let conn = rusqlite::Connection::open(register(yard.folder())).expect("the register");
    conn.pragma_update(None, "user_version", 9999).expect("a newer version");
    drop(conn);
    let before = std::fs::read(register(yard.folder())).expect("its bytes");
    let window = Window::open("newer", yard.folder(), EVENING);
    for tab in ["yard", "review", "chores"] {
        window.click(&format!("#tab-{tab}"));
        window.wait_for(&format!(".screen-{tab} #closed"));
        window.wait_words("A newer Shadeyard wrote this yard, so here it can only be read.");
        window.picture(tab);
        axe(&window, &format!("{tab} of a newer yard"));
    }
    window.open_log("3");
    window.click("#look");
    window.wait_words("what is typed here cannot be saved");
    window.click(".chip[data-value=pin]");
    window.click("#save");
    window.wait_words("This register was written by a newer Shadeyard.");
    window.picture("refused");
    window.script("location.hash = '#/archive'", vec![]);
    window.fill("#folder", &elsewhere.path().to_string_lossy());
    window.click("#write");
    window.wait_for("#written");
    assert!(Path::new(&window.text("#written")).is_file());
    window.picture("archive");
    drop(window);
    assert!(std::fs::read(register(yard.folder())).expect("its bytes") == before, "not one byte was changed");
}

#[test]
fn a_damaged_yard_says_so_and_goes_on_from_a_backup() {
    let yard = Yard::of_seven();
    yard.at("2026-10-03T20:00:00+02:00", |book| done(book, "backup_now", json!({})));
    damage(yard.folder());
    let mut window = Window::open("damaged", yard.folder(), EVENING);
    window.click("#tab-yard");
    window.open_log("2");
    window.click("#back");
    window.click("#tab-chores");
    window.wait_for("#care-trouble");
    window.wait_words("A part of this yard is damaged, so now it can only be read.");
    window.picture("1-chores");
    window.press("To the backups");
    window.wait_screen("Care");
    window.wait_for("#found");
    window.picture("2-care");
    axe(&window, "Care of a damaged yard");
    window.click("#backups [data-copy]");
    window.wait_words("The damaged register is put aside as it is");
    window.click("#restore");
    window.wait_screen("Care");
    window.wait_until("the banner to go", "return !document.querySelector('#closed')");
    window.picture("3-restored");
    window.pull_the_battery();
    window.open_log("3");
    assert_eq!(window.count("#closed"), 0);
    window.click("#look");
    window.click(".chip[data-value=pin]");
    window.click("#save");
    window.wait_words("Looked: pins");
}

/// Overwrites the first page of an index: the tables can be read, the register is not sound.
fn damage(yard: &Path) {
    let conn = rusqlite::Connection::open(register(yard)).expect("the register");
    let page = "SELECT rootpage FROM sqlite_schema WHERE name = 'entry_act'";
    let page: usize = conn.query_row(page, [], |r| r.get::<_, u32>(0)).expect("its page") as usize;
    drop(conn);
    let mut bytes = std::fs::read(register(yard)).expect("its bytes");
    bytes[(page - 1) * 4096..page * 4096].fill(0xA5);
    std::fs::write(register(yard), bytes).expect("a damaged register");
}
