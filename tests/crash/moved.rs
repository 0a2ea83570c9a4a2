//! Killed while originals move out to a folder: each is whole here or there, and the next time the rest goes.
//! Never a look at the file that is being written only: all that was kept must be there.
//! Invariant: every call that reaches the disk is one case, those of the folder outside included.

use super::killed::{Call, calls, killed};
use super::script::Script;
use super::witness::{open, sound};
use super::{each, room, share, spread, told};
use serde_json::{Value, json};
use shadeyard_backend::book::Book;
use shadeyard_backend::commands;
use std::path::Path;

const PHOTOS: usize = 4;

#[test]
fn an_original_is_whole_here_or_there_when_moving_out_is_killed() {
    let place = room();
    let file = place.path().join("script");
    Script::of_moves(PHOTOS, &made(&place.path().join("count-out"))).write(&file);
    let Some(all) = calls(&file, &place.path().join("count")) else { return };
    let kept = 1 + 2 * PHOTOS;
    let cases: Vec<&Call> =
        spread(all.len(), share(24, usize::MAX)).into_iter().map(|n| &all[n - 1]).collect();
    let found = each(&cases, |call| one(call, kept).map_err(|e| format!("{call:?}: {e}")));
    told("killed while originals move out", cases.len(), &found);
}

fn made(folder: &Path) -> std::path::PathBuf {
    std::fs::create_dir_all(folder).expect("a folder");
    folder.to_owned()
}

fn one(call: &Call, kept: usize) -> Result<(), String> {
    let place = room();
    let (yard, out) = (place.path().join("yard"), made(&place.path().join("out")));
    let file = place.path().join("script");
    Script::of_moves(PHOTOS, &out).write(&file);
    let run = killed(call, &file, &yard)?;
    let book = open(&yard)?;
    let hashes = hashes(&book)?;
    // Each photo is kept by one line and used by the next: acknowledged lines 2, 4, 6 … are photos.
    let acknowledged = run.acked.iter().filter(|n| **n > 1 && **n <= kept && **n % 2 == 0).count();
    if hashes.len() < acknowledged {
        return Err(format!("lost: {} of {acknowledged} photos", hashes.len()));
    }
    whole(&book, &hashes)?;
    if run.acked.len() > kept + 1 && here(&book)? != 0 {
        return Err("acknowledged, and not moved".into());
    }
    sound(&book)?;
    // Once more, with the fault gone: all go, nothing is left behind, and all come home.
    finished(&book, "originals_out", json!({"folder": out, "keep_bytes": 0}))?;
    whole(&book, &hashes)?;
    let room = asked(&book, "photo_room", json!({}))?;
    if here(&book)? != 0 || room["moved"] != json!(hashes.len()) || files(&yard, &hashes) != 0 {
        return Err(format!("half: the rest did not go: {room}"));
    }
    finished(&book, "originals_home", json!({}))?;
    std::fs::remove_dir_all(&out).map_err(|e| e.to_string())?;
    whole(&book, &hashes)
}

/// All photos that the register names.
fn hashes(book: &Book) -> Result<Vec<String>, String> {
    let all = book.read(|conn| {
        let mut list = conn.prepare("SELECT hash FROM blob ORDER BY hash")?;
        let rows = list.query_map([], |r| r.get(0))?;
        Ok(rows.collect::<Result<_, _>>()?)
    });
    all.map_err(|e| e.to_string())
}

fn here(book: &Book) -> Result<i64, String> {
    let count = "SELECT count(*) FROM blob WHERE here = 1";
    book.read(|conn| Ok(conn.query_row(count, [], |r| r.get(0))?)).map_err(|e| e.to_string())
}

fn whole(book: &Book, hashes: &[String]) -> Result<(), String> {
    hashes.iter().try_for_each(|hash| {
        let shown = commands::photo(book, &format!("{hash}.whole"));
        shown.map(|_| ()).map_err(|e| format!("lost: a photo: {}", e.reply()))
    })
}

/// Originals that still lie in the yard.
fn files(yard: &Path, hashes: &[String]) -> usize {
    hashes.iter().filter(|hash| yard.join("blobs").join(&hash[..2]).join(hash).exists()).count()
}

fn asked(book: &Book, name: &str, request: Value) -> Result<Value, String> {
    commands::dispatch(book, name, request, None).map_err(|e| e.reply().to_string())
}

fn finished(book: &Book, name: &str, mut request: Value) -> Result<(), String> {
    request["request"] = json!(crate::journeys::uuid());
    let job = asked(book, name, request)?["job"].clone();
    loop {
        let view = asked(book, "job_show", json!({"job": job}))?;
        match view["state"].as_str() {
            Some("running") => std::thread::sleep(std::time::Duration::from_millis(2)),
            Some("done") if view["found"] == json!([]) => return Ok(()),
            _ => return Err(format!("{name}: {view}")),
        }
    }
}
