//! Exchanging acts with other devices: segments in a folder, one folder per device, never the live
//! register.
//! Never a decision about which value is better: the greatest (stamp, device) wins, in `apply`.
//! Invariant: order never matters, twice is as good as once, and nothing missing means "deleted".

use super::acts::act_of;
use super::change::Act;
use super::clock::Stamp;
use super::{Book, Touched, apply, backup, blobs, hold, keep_stamp, last_stamp};
use crate::error::{Error, Result};
use flate2::read::GzDecoder;
use flate2::write::GzEncoder;
use rusqlite::{Connection, params};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::path::{Path, PathBuf};

/// A stamp this far ahead of the clock is put aside: a day, in milliseconds.
const AHEAD_MS: i64 = 24 * 3600 * 1000;
/// Largest unpacked segment that is read, in bytes.
const SEGMENT_MAX: u64 = 256 << 20;
/// Most acts in one segment.
const SEGMENT_ACTS: usize = 10_000;

/// What a merge did.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Merged {
    /// Acts that are new here.
    pub acts: usize,
    /// Of these, kept but not understood by this version.
    pub not_understood: usize,
    /// Acts that wait because an earlier one of their device is missing.
    pub waiting: usize,
    /// Devices whose clock is more than a day ahead: their acts were put aside.
    pub ahead: BTreeSet<String>,
    /// Files that are not complete or not what their name says; they were passed over.
    pub passed_over: Vec<String>,
    /// Blobs that came along.
    pub blobs: usize,
}

impl Book {
    /// All acts in this book, of all devices, oldest first by device.
    ///
    /// # Errors
    /// The register's own.
    pub fn all_acts(&self) -> Result<Vec<Act>> {
        self.read(|conn| acts_of(conn, None, 0))
    }

    /// Takes in acts of other devices, in one transaction; those already here are passed over.
    ///
    /// # Errors
    /// The register's own; then nothing was taken.
    pub fn take(&self, acts: &[Act]) -> Result<Merged> {
        let now = self.moment().ms;
        let mut by_device: BTreeMap<&str, BTreeMap<i64, &Act>> = BTreeMap::new();
        for act in acts {
            by_device.entry(&act.device).or_default().entry(act.seq).or_insert(act);
        }
        self.write(|tx| {
            let mut merged = Merged::default();
            let mut touched = Touched::default();
            let mut last = last_stamp(tx)?;
            for (device, acts) in by_device {
                let have = have(tx, device)?;
                let mut next = have + 1;
                for (seq, act) in acts.range(next..) {
                    let Some(stamp) = Stamp::parse(&act.stamp) else { continue };
                    if stamp.ms() > now + AHEAD_MS {
                        merged.ahead.insert(device.to_owned());
                        break;
                    }
                    if *seq != next {
                        merged.waiting += acts.range(next..).count();
                        break;
                    }
                    next += 1;
                    merged.acts += 1;
                    last = last.max(stamp);
                    let n = apply::record(tx, act, None)?;
                    match apply::apply_foreign(tx, &self.shape, act, n)? {
                        Some(more) => {
                            touched.things.extend(more.things);
                            touched.entries.extend(more.entries);
                        }
                        None => merged.not_understood += 1,
                    }
                }
            }
            (self.derive)(tx, &touched)?;
            keep_stamp(tx, last)?;
            Ok(merged)
        })
    }

    /// Writes this device's acts that are not yet in `folder`, its blobs, and what it has seen of
    /// others. Only files under this device's own name are written. Returns how many acts went out.
    ///
    /// # Errors
    /// The register's or the file system's own.
    #[allow(clippy::disallowed_methods, reason = "book/merge writes this device's segments")]
    pub fn send(&self, folder: &Path) -> Result<usize> {
        let place = folder.join("acts").join(&self.device);
        fs::create_dir_all(&place)?;
        let sent = segments(&place)?.iter().filter_map(|p| Name::of(p)).map(|n| n.last).max().unwrap_or(0);
        let acts = self.read(|conn| acts_of(conn, Some(&self.device), sent))?;
        for part in acts.chunks(SEGMENT_ACTS) {
            let (Some(first), Some(last)) = (part.first(), part.last()) else { continue };
            let mut zip = GzEncoder::new(Vec::new(), flate2::Compression::default());
            for act in part {
                serde_json::to_writer(&mut zip, act)?;
                zip.write_all(b"\n")?;
            }
            let bytes = zip.finish()?;
            let hash = blake3::hash(&bytes).to_hex();
            blobs::write_durably(&place.join(format!("{}-{}.{hash}.jsonl.gz", first.seq, last.seq)), &bytes)?;
        }
        self.send_blobs(folder)?;
        let seen: BTreeMap<String, i64> = self.read(|conn| {
            let mut list = conn.prepare("SELECT device, max(seq) FROM act GROUP BY device")?;
            let rows = list.query_map([], |r| Ok((r.get(0)?, r.get(1)?)))?;
            Ok(rows.collect::<rusqlite::Result<_>>()?)
        })?;
        let acks = folder.join("acks").join(format!("{}.json", self.device));
        blobs::write_durably(&acks, &serde_json::to_vec(&seen)?)?;
        Ok(acts.len())
    }

    #[allow(clippy::disallowed_methods, reason = "book/merge copies blobs into the shared folder")]
    fn send_blobs(&self, folder: &Path) -> Result<()> {
        for hash in self.blob_names("here = 1")? {
            let target = blobs::path(folder, &hash);
            if !target.exists() {
                blobs::write_durably(&target, &self.blob(&hash)?)?;
            }
        }
        Ok(())
    }

    /// Takes in everything complete that other devices left in `folder`, after a snapshot when there
    /// is something new.
    ///
    /// # Errors
    /// The register's or the file system's own.
    #[allow(clippy::disallowed_methods, reason = "book/merge reads other devices' segments")]
    pub fn receive(&self, folder: &Path) -> Result<Merged> {
        let mut acts = Vec::new();
        let mut passed_over = Vec::new();
        for place in folders(&folder.join("acts"))? {
            for path in segments(&place)? {
                match read_segment(&path) {
                    Ok(more) => acts.extend(more.into_iter().filter(|a| a.device != self.device)),
                    Err(_) => passed_over.push(path.to_string_lossy().into_owned()),
                }
            }
        }
        let new = self.read(|conn| {
            let mut new = false;
            for act in &acts {
                new |= act.seq > have(conn, &act.device)?;
            }
            Ok(new)
        })?;
        if new {
            backup::snapshot(&hold(&self.writer), &self.folder, "before-merge")?;
        }
        let mut merged = if new { self.take(&acts)? } else { Merged::default() };
        merged.passed_over = passed_over;
        merged.blobs = self.receive_blobs(folder)?;
        Ok(merged)
    }

    /// Fetches blobs that the record names and this device lacks.
    #[allow(clippy::disallowed_methods, reason = "book/merge reads blobs from the shared folder")]
    fn receive_blobs(&self, folder: &Path) -> Result<usize> {
        let mut came = 0;
        for place in folders(&folder.join("blobs"))? {
            for path in files(&place)? {
                let Some(hash) = path.file_name().and_then(|n| n.to_str()) else { continue };
                if blobs::check_name(hash).is_err() || self.about_blob(hash).is_ok() {
                    continue;
                }
                let bytes = fs::read(&path)?;
                if blake3::hash(&bytes).to_hex().as_str() == hash {
                    self.keep_blob(&bytes, &serde_json::json!({}))?;
                    came += 1;
                }
            }
        }
        Ok(came)
    }

    fn blob_names(&self, which: &str) -> Result<Vec<String>> {
        self.read(|conn| {
            let mut list = conn.prepare(&format!("SELECT hash FROM blob WHERE {which} ORDER BY hash"))?;
            let rows = list.query_map([], |r| r.get(0))?;
            Ok(rows.collect::<rusqlite::Result<_>>()?)
        })
    }

    /// Empties every shared table and applies all acts again. What stands afterwards must be what
    /// stood before.
    ///
    /// # Errors
    /// The register's own; then nothing changed.
    pub fn rebuild(&self) -> Result<()> {
        self.write(|tx| {
            tx.execute_batch("PRAGMA defer_foreign_keys = ON")?;
            for table in self.shape.tables() {
                tx.execute(&format!("DELETE FROM \"{table}\""), [])?;
            }
            tx.execute_batch("DELETE FROM field; UPDATE act SET applied = 0")?;
            let acts: Vec<(i64, Act)> = tx
                .prepare("SELECT device, seq, stamp, at, zone, name, undoes, body, n FROM act ORDER BY n")?
                .query_map([], |r| Ok((r.get(8)?, act_of(r)?)))?
                .collect::<rusqlite::Result<_>>()?;
            let mut touched = Touched::default();
            for (n, act) in acts {
                if let Some(more) = apply::apply_foreign(tx, &self.shape, &act, n)? {
                    touched.things.extend(more.things);
                    touched.entries.extend(more.entries);
                }
            }
            (self.derive)(tx, &touched)
        })
    }
}

fn acts_of(conn: &Connection, device: Option<&str>, after: i64) -> Result<Vec<Act>> {
    let mut list = conn.prepare_cached(
        "SELECT device, seq, stamp, at, zone, name, undoes, body FROM act
         WHERE (?1 IS NULL OR device = ?1) AND seq > ?2 ORDER BY device, seq",
    )?;
    let rows = list.query_map(params![device, after], act_of)?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

fn have(conn: &Connection, device: &str) -> Result<i64> {
    let have = conn
        .prepare_cached("SELECT coalesce(max(seq), 0) FROM act WHERE device = ?1")?
        .query_row([device], |r| r.get(0))?;
    Ok(have)
}

/// A segment's name: `FIRST-LAST.HASH.jsonl.gz`.
struct Name {
    last: i64,
    hash: String,
}

impl Name {
    fn of(path: &Path) -> Option<Self> {
        let name = path.file_name()?.to_str()?.strip_suffix(".jsonl.gz")?;
        let (span, hash) = name.split_once('.')?;
        let (_, last) = span.split_once('-')?;
        Some(Self { last: last.parse().ok()?, hash: hash.to_owned() })
    }
}

#[allow(clippy::disallowed_methods, reason = "book/merge reads other devices' segments")]
fn read_segment(path: &Path) -> Result<Vec<Act>> {
    let damaged = || Error::Damaged { what: "segment".into() };
    let name = Name::of(path).ok_or_else(damaged)?;
    let bytes = fs::read(path)?;
    if blake3::hash(&bytes).to_hex().as_str() != name.hash {
        return Err(damaged());
    }
    let text = BufReader::new(GzDecoder::new(bytes.as_slice()).take(SEGMENT_MAX));
    text.lines().map(|line| Ok(serde_json::from_str(&line?)?)).collect()
}

fn folders(place: &Path) -> Result<Vec<PathBuf>> {
    Ok(listing(place)?.into_iter().filter(|p| p.is_dir()).collect())
}

fn files(place: &Path) -> Result<Vec<PathBuf>> {
    Ok(listing(place)?.into_iter().filter(|p| p.is_file()).collect())
}

fn segments(place: &Path) -> Result<Vec<PathBuf>> {
    Ok(files(place)?.into_iter().filter(|p| Name::of(p).is_some()).collect())
}

/// What lies in a folder, sorted; a folder that is not there holds nothing.
#[allow(clippy::disallowed_methods, reason = "book/merge lists the shared folder")]
fn listing(place: &Path) -> Result<Vec<PathBuf>> {
    match fs::read_dir(place) {
        Ok(list) => {
            let mut found: Vec<PathBuf> =
                list.map(|e| e.map(|e| e.path())).collect::<std::io::Result<_>>()?;
            found.sort();
            Ok(found)
        }
        Err(e) if e.kind() == std::io::ErrorKind::NotFound => Ok(Vec::new()),
        Err(e) => Err(e.into()),
    }
}
