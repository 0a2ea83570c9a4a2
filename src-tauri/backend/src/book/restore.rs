//! Going back to a copy of the register.
//! Never a copy into place by hand while the register is sound: the pages go through SQLite, in one
//! transaction, so that at any moment the register is wholly the one now or wholly the one then.
//! Invariant: what is restored has a new device id, or its next acts would bear the numbers of acts
//! that others may already have.

use super::copies::{CopyFile, Place};
use super::jobs::Job;
use super::{Book, ReadingOnly, backup, blobs, check, hold, open};
use crate::error::{Error, Result};
use crate::ids::Id;
use rusqlite::backup::{Backup, StepResult};
use rusqlite::{Connection, OptionalExtension, params};
use std::path::{Path, PathBuf};
use std::sync::PoisonError;

/// The word for having been asked to stop.
const CANCELLED: &str = "cancelled";
/// Pages per step: about a megabyte.
const PAGES: i32 = 256;

impl Book {
    /// Makes the register what it was in a copy: the copy is checked, brought to today's version
    /// and given a new device id apart from the register; photos that are missing here are fetched
    /// from the backup folder; a snapshot is taken; then the register is changed in one transaction.
    /// This device's own facts and drafts stay. Of a damaged register no snapshot can be taken: its
    /// files are put aside as they are.
    ///
    /// # Errors
    /// `Missing`, `Damaged` naming the copy, `TooNew`, `DiskFull`. The register is then as it was.
    pub fn restore(&self, place: Place, name: &str, job: &Job) -> Result<()> {
        let damaged = match self.reading_only() {
            Some(newer @ ReadingOnly::Newer { .. }) => return Err(newer.refusal()),
            other => other.is_some(),
        };
        let copy = self.sound_copy(place, name)?;
        let part = self.folder.join("restore.part");
        let outcome = self.restore_by(&part, &copy, place, damaged, job);
        away_with(&part)?;
        match outcome {
            Err(Error::Conflict { why: CANCELLED, .. }) => Ok(()),
            other => other,
        }
    }

    fn restore_by(&self, part: &Path, copy: &CopyFile, place: Place, damaged: bool, job: &Job) -> Result<()> {
        let mut then = apart_copy(&copy.path, part)?;
        open::migrate(&mut then)?;
        self.fetch_photos(&then, job)?;
        let mut live = hold(&self.writer);
        self.make_ours(&live, &then, (place == Place::Backups).then_some(copy))?;
        if open::quick_check(&then)?.is_some() {
            return Err(Error::Damaged { what: copy.name.clone() });
        }
        if damaged {
            drop(then);
            self.put_in_place(&mut live, part)?;
            job.seal();
            drop(live);
        } else {
            self.snapshot_of(&live, "before-restore")?;
            pour(&then, &mut live, |done, total| {
                job.step(done, total);
                go_on(job)
            })?;
            job.seal();
            self.stand_anew(&live)?;
            drop(live);
            self.thin(&self.folder.join("snapshots"), "before-restore")?;
        }
        self.understand(open::understanding())?;
        job.result(copy.name.clone());
        Ok(())
    }

    /// How many photos of a copy are neither here nor in the backup folder.
    ///
    /// # Errors
    /// The copy's own.
    pub fn photos_out_of_reach(&self, then: &Connection) -> Result<usize> {
        let backups = self.copies_folder(Place::Backups)?;
        let named = named_blobs(then)?;
        let there = |hash: &str| [&self.folder, &backups].iter().any(|f| blobs::path(f, hash).is_file());
        Ok(named.iter().filter(|(hash, _)| !there(hash)).count())
    }

    /// Brings the photos of the copy here and marks which are.
    #[allow(clippy::disallowed_methods, reason = "book/restore reads photos in the backup folder")]
    fn fetch_photos(&self, then: &Connection, job: &Job) -> Result<()> {
        let backups = self.copies_folder(Place::Backups)?;
        let named = named_blobs(then)?;
        for (n, (hash, bytes)) in named.iter().enumerate() {
            go_on(job)?;
            job.step(n, named.len());
            let here = blobs::path(&self.folder, hash);
            let mut is_here = std::fs::metadata(&here).is_ok_and(|m| i64::try_from(m.len()) == Ok(*bytes));
            if !is_here && let Ok(kept) = std::fs::read(blobs::path(&backups, hash)) {
                is_here = blake3::hash(&kept).to_hex().as_str() == hash;
                if is_here {
                    blobs::write_durably(&here, &kept)?;
                }
            }
            then.execute("UPDATE blob SET here = ?2 WHERE hash = ?1", params![hash, is_here])?;
        }
        Ok(())
    }

    /// What the copy takes over from the register that it will replace: a device of its own, this
    /// device's facts and drafts, and a stamp that later acts will exceed.
    fn make_ours(&self, now: &Connection, then: &Connection, from: Option<&CopyFile>) -> Result<()> {
        then.execute_batch("BEGIN; DELETE FROM meta WHERE k LIKE 'device.%'")?;
        // A damaged register may not tell them any more.
        let kept = |sql: &str| rows(now, sql).unwrap_or_default();
        for (k, v) in
            kept("SELECT k, v, 0, '' FROM meta WHERE k LIKE 'device.%'").iter().map(|r| (&r.0, &r.1))
        {
            then.execute("INSERT OR REPLACE INTO meta(k, v) VALUES (?1, ?2)", [k, v])?;
        }
        for (k, v, at, zone) in kept("SELECT k, v, at, zone FROM draft") {
            then.execute(
                "INSERT OR REPLACE INTO draft(k, v, at, zone) VALUES (?1, ?2, ?3, ?4)",
                params![k, v, at, zone],
            )?;
        }
        let stamp = "SELECT v FROM meta WHERE k = 'stamp'";
        let last: Option<String> = now.query_row(stamp, [], |r| r.get(0)).optional().unwrap_or_default();
        then.execute("UPDATE meta SET v = max(v, ?1) WHERE k = 'stamp'", [last.unwrap_or_default()])?;
        let device = Id::new(self.moment().ms).to_string();
        then.execute("UPDATE meta SET v = ?1 WHERE k = 'device'", [device])?;
        let gone = [check::FACT, backup::GOOD].map(|fact| format!("device.{fact}"));
        then.execute("DELETE FROM meta WHERE k IN (?1, ?2)", gone)?;
        if let (Some(copy), Some(folder)) = (from, from.and_then(|c| c.path.parent())) {
            let n = then.query_row("SELECT coalesce(max(n), 0) FROM act", [], |r| r.get(0))?;
            let good = backup::Good { name: copy.name.clone(), folder: folder.to_owned(), ms: copy.at.ms, n };
            let fact = [format!("device.{}", backup::GOOD), serde_json::to_string(&good)?];
            then.execute("INSERT INTO meta(k, v) VALUES (?1, ?2)", fact)?;
        }
        Ok(then.execute_batch("COMMIT")?)
    }

    /// Puts a damaged register aside, as it is, and the prepared one in its place.
    #[allow(clippy::disallowed_methods, reason = "a damaged register is put aside, never deleted")]
    fn put_in_place(&self, live: &mut Connection, part: &Path) -> Result<()> {
        let file = self.folder.join(open::FILE);
        let aside = self.aside()?;
        *live = open::nothing()?;
        self.let_readers_go(open::Source::Live(file.clone()));
        // A second name first: a register stands under its own name at every moment.
        if std::fs::hard_link(&file, &aside).is_err() {
            std::fs::copy(&file, &aside)?;
            std::fs::File::options().write(true).open(&aside)?.sync_all()?;
        }
        let log = open::beside(&file, "-wal");
        if log.is_file() {
            std::fs::rename(&log, open::beside(&aside, "-wal"))?;
        }
        let index = open::beside(&file, "-shm");
        if index.is_file() {
            std::fs::remove_file(index)?;
        }
        std::fs::rename(part, &file)?;
        blobs::sync_folder(&self.folder)?;
        let opened = open::for_writing(&self.folder, Some(open::known()), &self.clock)?;
        *live = opened.conn;
        *self.standing.write().unwrap_or_else(PoisonError::into_inner) = opened.standing;
        Ok(())
    }

    /// A free name for a damaged register.
    fn aside(&self) -> Result<PathBuf> {
        let place = self.folder.join("damaged");
        std::fs::create_dir_all(&place)?;
        let stamp = self.moment().local().naive_utc().format("%Y%m%dT%H%M%SZ").to_string();
        let name = |n: u32| place.join(format!("register-{stamp}-{n}.sqlite"));
        Ok((1..).map(name).find(|p| !p.exists()).unwrap_or_else(|| name(0)))
    }

    /// Reads again what a restore changes; old readers are let go.
    fn stand_anew(&self, live: &Connection) -> Result<()> {
        let standing = open::standing(live)?;
        *self.standing.write().unwrap_or_else(PoisonError::into_inner) = standing;
        self.let_readers_go(open::Source::Live(self.folder.join(open::FILE)));
        // The log has grown by the whole register; when a reader hinders this, the next one does it.
        let _later = live.query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |_| Ok(()));
        Ok(())
    }

    fn let_readers_go(&self, source: open::Source) {
        let mut readers = hold(&self.readers);
        readers.spare.clear();
        readers.age += 1;
        readers.source = source;
    }
}

/// Copies page by page in one transaction of `into`: on an error, or when the program is killed,
/// `into` is what it was.
fn pour(
    from: &Connection,
    into: &mut Connection,
    mut step: impl FnMut(usize, usize) -> Result<()>,
) -> Result<()> {
    let pages = Backup::new(from, into)?;
    loop {
        let state = pages.step(PAGES)?;
        if state == StepResult::Done {
            return Ok(());
        }
        if state != StepResult::More {
            return Err(Error::conflict("locked", serde_json::Value::Null));
        }
        let at = pages.progress();
        let total = usize::try_from(at.pagecount).unwrap_or(0);
        step(total.saturating_sub(usize::try_from(at.remaining).unwrap_or(0)), total)?;
    }
}

/// An error when asked to stop: whatever was begun is then rolled back.
fn go_on(job: &Job) -> Result<()> {
    if job.is_cancelled() { Err(Error::conflict(CANCELLED, serde_json::Value::Null)) } else { Ok(()) }
}

/// A copy of a copy, to be changed apart from both.
#[allow(clippy::disallowed_methods, reason = "the copy is closed: nobody writes to it")]
fn apart_copy(copy: &Path, part: &Path) -> Result<Connection> {
    away_with(part)?;
    std::fs::copy(copy, part)?;
    open::apart(part)
}

/// Removes what is left of a part file.
#[allow(clippy::disallowed_methods, reason = "removes its own part file")]
fn away_with(part: &Path) -> Result<()> {
    for end in ["", "-journal", "-wal", "-shm"] {
        let old = open::beside(part, end);
        if old.exists() {
            std::fs::remove_file(old)?;
        }
    }
    Ok(())
}

/// Blobs that were here when the copy was taken.
fn named_blobs(then: &Connection) -> Result<Vec<(String, i64)>> {
    let mut list = then.prepare("SELECT hash, bytes FROM blob ORDER BY hash")?;
    let rows = list.query_map([], |r| Ok((r.get::<_, String>(0)?, r.get(1)?)))?;
    let all: Vec<(String, i64)> = rows.collect::<rusqlite::Result<_>>()?;
    Ok(all.into_iter().filter(|(hash, _)| blobs::check_name(hash).is_ok()).collect())
}

type Row = (String, String, i64, String);

fn rows(conn: &Connection, sql: &str) -> Result<Vec<Row>> {
    let mut list = conn.prepare(sql)?;
    let rows = list.query_map([], |r| Ok((r.get(0)?, r.get(1)?, r.get(2)?, r.get(3)?)))?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

#[cfg(test)]
#[allow(clippy::disallowed_methods, reason = "a test breaks off and looks at files on purpose")]
mod tests {
    use super::*;
    use crate::book::Clock;

    /// A register in a folder of its own with `n` drafts, big enough for several steps.
    fn filled(word: &str, n: usize) -> (tempfile::TempDir, Book) {
        let folder = tempfile::tempdir().unwrap();
        let clock = Clock::fixed("2026-10-03T18:30:00+02:00").unwrap();
        let book = Book::open(folder.path(), clock, |_, _| Ok(())).unwrap();
        (0..n).for_each(|i| book.set_draft(&format!("{word}:{i}"), Some(&word.repeat(2000))).unwrap());
        (folder, book)
    }

    fn drafts(book: &Book) -> Vec<String> {
        book.read(|conn| {
            Ok(rows(conn, "SELECT k, v, 0, '' FROM draft ORDER BY k")?.into_iter().map(|r| r.0).collect())
        })
        .unwrap()
    }

    /// Pours 400 drafts of another register into this one and breaks off after the first step.
    fn break_off(book: &Book, at: impl FnOnce()) {
        let (_kept, other) = filled("then", 400);
        let then = other.reader().unwrap();
        let mut live = hold(&book.writer);
        let mut at = Some(at);
        let outcome = pour(&then, &mut live, |_, _| {
            at.take().into_iter().for_each(|at| at());
            Err(Error::DiskFull)
        });
        assert!(matches!(outcome, Err(Error::DiskFull)));
    }

    #[test]
    fn an_error_midway_leaves_the_register_as_it_was() {
        let (_folder, book) = filled("now", 300);
        let before = drafts(&book);
        break_off(&book, || {});
        assert_eq!(drafts(&book), before);
        book.set_draft("more", Some("it can still be written")).unwrap();
        assert_eq!(book.read(open::quick_check).unwrap(), None);
    }

    #[test]
    fn killed_midway_the_register_opens_as_it_was() {
        let (folder, book) = filled("now", 300);
        let before = drafts(&book);
        // What the disk holds at that moment is what a killed program leaves.
        let left = tempfile::tempdir().unwrap();
        break_off(&book, || {
            for file in ["register.sqlite", "register.sqlite-wal"] {
                std::fs::copy(folder.path().join(file), left.path().join(file)).unwrap();
            }
        });
        let clock = Clock::fixed("2026-10-03T19:30:00+02:00").unwrap();
        let again = Book::open(left.path(), clock, |_, _| Ok(())).unwrap();
        assert_eq!(again.reading_only(), None);
        assert_eq!(drafts(&again), before);
        assert_eq!(again.device(), book.device());
    }
}
