//! Two windows on one yard: one is refused while the other holds it, and they may take turns.
//! Never two writers at once.
//! Invariant: of two times a thousand writes none is lost and none is half.

use super::script::Script;
use super::witness::{open, sound};
use super::{Run, each, play, room, share, told};
use std::path::Path;
use std::process::Command;

/// Writes before a window lets go and takes its next turn.
const TURN: usize = 100;
const TURNS: usize = 10;

#[test]
fn two_windows_on_one_yard_take_turns_and_lose_nothing() {
    let runs: Vec<usize> = (0..share(2, 50)).collect();
    let found: Vec<String> = runs.iter().filter_map(|_| both().err()).collect();
    told("two instances", runs.len(), &found);
}

fn both() -> Result<(), String> {
    let place = room();
    let folder = place.path().join("yard");
    let refused = each(&[0, 1], |who| window(*who, place.path(), &folder));
    if let Some(what) = refused.first() {
        return Err(what.clone());
    }
    let book = open(&folder)?;
    let found = book.read(|conn| {
        let sql = "SELECT count(*), count(DISTINCT request), max(seq), sum(applied) FROM act";
        Ok(conn.query_row(sql, [], |r| Ok([r.get::<_, i64>(0)?, r.get(1)?, r.get(2)?, r.get(3)?]))?)
    });
    let wanted = 2 * (TURN * TURNS) as i64;
    match found {
        Ok(counts) if counts == [wanted; 4] => sound(&book),
        other => Err(format!("lost: {other:?} of {wanted}")),
    }
}

/// One window's writes, in turns; a turn that finds the yard taken is tried again.
fn window(who: usize, place: &Path, folder: &Path) -> Result<(), String> {
    for turn in 0..TURNS {
        let file = place.join(format!("script-{who}-{turn}"));
        Script::of_logs((1 + who * TURNS + turn) as u64, TURN).write(&file);
        let words = play(&file, folder);
        loop {
            let run = Run::of(Command::new(&words[0]).args(&words[1..]));
            if run.status.success() && run.acked.len() == TURN {
                break;
            }
            if !(run.acked.is_empty() && run.error.contains("\"locked\"")) {
                return Err(format!("window {who}: {} {:?}", run.error, run.refused));
            }
        }
    }
    Ok(())
}
