//! Meeting in a shared folder: taking in what others left there, leaving there what it lacks.
//! Never the live register, and never a file under another device's folder of acts.
//! Invariant: stopped at any point it goes on when run again; with nothing new it writes nothing.

use super::super::{Book, blobs, jobs::Job};
use super::{Keeping, LookOver, Merged, acts_of, have, segments, totals};
use crate::error::{Error, Result};
use std::collections::{BTreeMap, HashMap};
use std::path::{Path, PathBuf};

/// Largest blob that is read, bytes.
pub(in super::super) const BLOB_MAX: u64 = 64 << 20;

impl Book {
    /// Takes in everything complete that other devices left in `folder`, after a snapshot when there
    /// is something new. Blobs are kept when `look_over` lets them pass.
    ///
    /// # Errors
    /// The register's or the file system's own.
    pub fn receive(&self, folder: &Path, look_over: LookOver) -> Result<Merged> {
        self.receive_on(folder, look_over, &Job::unseen())
    }

    /// Writes what `folder` lacks: acts of this device, acts of others that only this register still
    /// has, blobs, and what has been seen of others. Returns how many acts went out.
    ///
    /// # Errors
    /// The register's or the file system's own.
    pub fn send(&self, folder: &Path) -> Result<usize> {
        Ok(self.send_on(folder, &Job::unseen())?.sent)
    }

    /// Starts receiving from and then sending to `folder`; returns the job's id. The job's result is
    /// `{"acts", "blobs", "sent"}`, what was passed over stands in `found`.
    ///
    /// # Errors
    /// `Missing` when there is no such folder; `TooNew` or `Damaged` when nothing may be written.
    pub fn merge(&self, folder: &Path, look_over: LookOver, request: &str) -> Result<String> {
        self.may_write()?;
        let folder = existing(folder)?;
        self.start_for(request, move |book, job| {
            let mut merged = book.receive_on(&folder, look_over, job)?;
            if !job.is_cancelled() {
                merged.add(book.send_on(&folder, job)?);
            }
            merged.remarks().into_iter().for_each(|line| job.found(line));
            let told = serde_json::json!({"acts": merged.acts, "blobs": merged.blobs, "sent": merged.sent});
            job.result(told.to_string());
            Ok(())
        })
    }

    fn receive_on(&self, folder: &Path, look_over: LookOver, job: &Job) -> Result<Merged> {
        let (segments, strange) = segments::all(folder)?;
        let mut merged = Merged { passed_over: strange, ..Merged::default() };
        let total = segments.iter().map(|s| count(s.last - s.first + 1)).sum();
        let mut keeping = Keeping { job, snapshot: Some("before-merge"), done: 0, total };
        for segment in segments {
            if job.is_cancelled() {
                return Ok(merged);
            }
            let have = self.read(|conn| have(conn, &segment.origin))?;
            if segment.last <= have {
                keeping.done += count(segment.last - segment.first + 1);
            } else if segment.first > have + 1 {
                merged.waiting += count(segment.last - segment.first + 1);
            } else {
                match segment.read() {
                    Ok(acts) => self.take_in_chunks(&acts, &mut keeping, &mut merged)?,
                    Err(Error::Damaged { .. }) => {
                        merged.passed_over.push(segments::within(folder, &segment.path));
                    }
                    Err(error) => return Err(error),
                }
            }
            job.step(keeping.done, total);
        }
        self.receive_blobs(folder, look_over, job, &mut merged)?;
        Ok(merged)
    }

    /// Fetches blobs that this device lacks.
    fn receive_blobs(
        &self,
        folder: &Path,
        look_over: LookOver,
        job: &Job,
        merged: &mut Merged,
    ) -> Result<()> {
        let lacking = self.lacking(folder)?;
        let came = lacking.iter().enumerate().take_while(|_| !job.is_cancelled());
        let came = came.filter_map(|(n, (hash, path))| {
            job.step(n + 1, lacking.len());
            let fetched = fetched(hash, path, look_over);
            fetched.map_err(|_| merged.passed_over.push(segments::within(folder, path))).ok()
        });
        merged.blobs += self.keep_as_they_come(came)?;
        Ok(())
    }

    /// Blobs in a shared folder that are not whole here.
    pub(super) fn lacking(&self, folder: &Path) -> Result<Vec<(String, PathBuf)>> {
        let here = self.blobs_here()?;
        let whole = |hash: &str| here.get(hash).is_some_and(|len| length(&self.folder, hash) == Some(*len));
        Ok(segments::blob_files(folder)?.into_iter().filter(|(hash, _)| !whole(hash)).collect())
    }

    /// The blobs whose rows say that they are here, with their lengths.
    pub(in super::super) fn blobs_here(&self) -> Result<HashMap<String, u64>> {
        self.read(|conn| {
            let mut list = conn.prepare_cached("SELECT hash, bytes FROM blob WHERE here = 1")?;
            let rows = list.query_map([], |r| Ok((r.get(0)?, r.get::<_, i64>(1)?.unsigned_abs())))?;
            Ok(rows.collect::<rusqlite::Result<_>>()?)
        })
    }

    fn send_on(&self, folder: &Path, job: &Job) -> Result<Merged> {
        let device = self.device();
        let place = folder.join("acts").join(&device);
        let out = self.unsent(folder)?;
        let total: i64 = out.iter().map(|(_, after, have)| have - after).sum();
        let mut merged = Merged::default();
        for (origin, after, have) in out {
            let mut after = after;
            while after < have && !job.is_cancelled() {
                let acts = self.read(|conn| acts_of(conn, &origin, after, segments::ACTS))?;
                let went = segments::write(&place, &device, &acts)?;
                if went == 0 {
                    break;
                }
                after += i64::try_from(went).unwrap_or(i64::MAX);
                merged.sent += went;
                job.step(merged.sent, count(total));
            }
        }
        self.send_blobs(folder, job, &mut merged)?;
        if !job.is_cancelled() {
            self.acknowledge(folder)?;
        }
        Ok(merged)
    }

    /// For each device known here: how far the folder holds its acts without a gap, and how far this
    /// register does, where that is further.
    pub(in super::super) fn unsent(&self, folder: &Path) -> Result<Vec<(String, i64, i64)>> {
        let device = self.device();
        let known = self.read(totals)?;
        let (segments, _) = segments::all(folder)?;
        let mut covered: BTreeMap<&str, i64> = BTreeMap::new();
        for segment in &segments {
            let so_far = covered.entry(&segment.origin).or_default();
            let mine = segment.origin == device;
            let believed = !mine || known.get(&device).is_some_and(|have| segment.last <= *have);
            if segment.first <= *so_far + 1 && segment.last > *so_far && believed && segment.is_whole() {
                *so_far = segment.last;
            }
        }
        let lack = known.into_iter().map(|(origin, have)| {
            let after = covered.get(origin.as_str()).copied().unwrap_or(0);
            (origin, after, have)
        });
        Ok(lack.filter(|(_, after, have)| after < have).collect())
    }

    fn send_blobs(&self, folder: &Path, job: &Job, merged: &mut Merged) -> Result<()> {
        let mut here: Vec<(String, u64)> = self.blobs_here()?.into_iter().collect();
        here.retain(|(hash, bytes)| length(folder, hash) != Some(*bytes));
        here.sort_unstable();
        let mut batch = Vec::new();
        for (n, (hash, _)) in here.iter().enumerate() {
            if job.is_cancelled() {
                break;
            }
            match self.blob(hash) {
                Ok(bytes) => batch.push((blobs::path(folder, hash), bytes)),
                Err(Error::Missing { .. } | Error::Damaged { .. }) => {
                    merged.passed_over.push(format!("blobs/{}/{hash}", &hash[..2]));
                }
                Err(error) => return Err(error),
            }
            if batch.iter().map(|(_, bytes)| bytes.len()).sum::<usize>() > blobs::TOGETHER {
                write_out(&std::mem::take(&mut batch))?;
            }
            job.step(n + 1, here.len());
        }
        write_out(&batch)
    }

    /// Says in the folder what this device has seen of each other one, when that has changed.
    fn acknowledge(&self, folder: &Path) -> Result<()> {
        let seen = serde_json::to_vec(&self.read(totals)?)?;
        let path = folder.join("acks").join(format!("{}.json", self.device()));
        if segments::read_at_most(&path, BLOB_MAX).is_ok_and(|old| old == seen) {
            return Ok(());
        }
        blobs::write_durably(&path, &seen)
    }
}

/// The bytes of another device's blob, when they are what their name says, with what they are.
fn fetched(hash: &str, path: &Path, look_over: LookOver) -> Result<(Vec<u8>, serde_json::Value)> {
    let bytes = segments::read_at_most(path, BLOB_MAX)?;
    if blake3::hash(&bytes).to_hex().as_str() != hash {
        return Err(Error::Damaged { what: "photo".into() });
    }
    let about = look_over(&bytes)?;
    Ok((bytes, about))
}

fn write_out(batch: &[(PathBuf, Vec<u8>)]) -> Result<()> {
    let files: Vec<(PathBuf, &[u8])> =
        batch.iter().map(|(path, bytes)| (path.clone(), bytes.as_slice())).collect();
    blobs::write_all_durably(&files)
}

/// A folder that is there: a wrong path must not quietly become a new, empty folder.
pub(super) fn existing(folder: &Path) -> Result<PathBuf> {
    if folder.is_dir() { Ok(folder.to_owned()) } else { Err(Error::Missing { what: "folder" }) }
}

/// The length of a blob's file below `folder`, when there is one.
#[allow(clippy::disallowed_methods, reason = "asks only how long a file is")]
fn length(folder: &Path, hash: &str) -> Option<u64> {
    std::fs::metadata(blobs::path(folder, hash)).ok().map(|m| m.len())
}

fn count(n: i64) -> usize {
    usize::try_from(n).unwrap_or(0)
}
