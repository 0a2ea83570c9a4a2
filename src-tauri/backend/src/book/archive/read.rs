//! Reading an archive: looked over whole before anything is taken in.
//! Never a path made from what the file says, and never more read than was bounded.
//! Invariant: what is not as its list of hashes says is not taken in; damaged acts refuse the whole.

use super::super::change::Act;
use super::super::jobs::Job;
use super::super::merge::{CHUNK, Keeping, LookOver, Merged};
use super::super::{Book, blobs};
use super::{ACTS, HASHES, Hashing, Member, REGISTER, Register, damaged};
use crate::error::{Error, Result};
use rusqlite::Connection;
use std::collections::{BTreeMap, BTreeSet};
use std::fs::File;
use std::io::{BufRead, BufReader, Read};
use std::path::Path;
use zip::{CompressionMethod, ZipArchive};

/// Most members.
const MEMBERS: usize = 1_000_000;
/// A member larger than this must not have been packed further than [`RATIO`] to one: what packs
/// better than any record is a bomb.
const SMALL: u64 = 1 << 20;
const RATIO: u64 = 300;
/// Longest line of acts, bytes.
const LINE: u64 = 64 << 20;

/// What reading an archive would bring.
#[derive(Debug, Clone, PartialEq)]
pub struct Preview {
    /// Version of the schema it was written with.
    pub version: i64,
    /// Acts in it.
    pub acts: u64,
    /// Of these, new here.
    pub new_acts: usize,
    /// Rows by kind, as it says itself.
    pub rows: BTreeMap<String, u64>,
    /// Photos in it.
    pub photos: usize,
    /// Devices whose acts are in it.
    pub devices: usize,
    /// What is not as it should be; empty when sound.
    pub found: Vec<String>,
}

/// What looking an archive over has found.
pub(super) struct Checked {
    pub(super) register: Register,
    pub(super) acts: u64,
    devices: BTreeSet<String>,
    /// Place, name and hash of each sound photo.
    photos: Vec<(usize, String, String)>,
    pub(super) found: Vec<String>,
    pub(super) cancelled: bool,
}

impl Book {
    /// Looks an archive over and says what reading it would bring. Nothing is written.
    ///
    /// # Errors
    /// `Missing` without the file, `Damaged` when it can't be taken in.
    pub fn preview_archive(&self, file: &Path) -> Result<Preview> {
        let job = Job::unseen();
        let mut archive = Archive::open(file)?;
        let checked = archive.check(&job)?;
        let feed =
            |take: &mut dyn FnMut(&[Act]) -> Result<()>| archive.each_chunk(|acts| take(acts).map(|()| true));
        let (coming, ()) = self.rehearse(feed, |_: &Connection| Ok(()))?;
        Ok(Preview {
            version: checked.register.version,
            acts: checked.acts,
            new_acts: coming.merged.acts,
            rows: checked.register.rows,
            photos: checked.photos.len(),
            devices: checked.devices.len(),
            found: checked.found.into_iter().chain(coming.merged.remarks()).collect(),
        })
    }

    /// Starts taking an archive in, after a snapshot when there is something new; returns the job's
    /// id. The job's result is `{"acts", "blobs"}`.
    ///
    /// # Errors
    /// `TooNew` or `Damaged` when nothing may be written here.
    pub fn read_archive(&self, file: &Path, look_over: LookOver, request: &str) -> Result<String> {
        self.may_write()?;
        let file = file.to_owned();
        self.start_for(request, move |book, job| {
            let mut archive = Archive::open(&file)?;
            let checked = archive.check(job)?;
            checked.found.iter().for_each(|line| job.found(line.clone()));
            if checked.cancelled {
                return Ok(());
            }
            let merged = book.take_archive(&mut archive, &checked, look_over, job)?;
            merged.remarks().into_iter().for_each(|line| job.found(line));
            job.result(serde_json::json!({"acts": merged.acts, "blobs": merged.blobs}).to_string());
            Ok(())
        })
    }

    fn take_archive(
        &self,
        archive: &mut Archive,
        checked: &Checked,
        look_over: LookOver,
        job: &Job,
    ) -> Result<Merged> {
        let acts = usize::try_from(checked.acts).unwrap_or(usize::MAX);
        let total = acts.saturating_add(checked.photos.len());
        let mut keeping = Keeping { job, snapshot: Some("before-archive"), done: 0, total };
        let mut merged = Merged::default();
        archive.each_chunk(|acts| {
            self.take_in_chunks(acts, &mut keeping, &mut merged)?;
            Ok(!job.is_cancelled())
        })?;
        let here = self.blobs_here()?;
        let mut passed_over = Vec::new();
        let photos = checked.photos.iter().take_while(|_| !job.is_cancelled());
        let came = photos.filter_map(|(at, name, hash)| {
            keeping.done += 1;
            job.step(keeping.done, total);
            if here.contains_key(hash) && self.blob(hash).is_ok() {
                return None;
            }
            let photo = archive.photo(*at, hash, look_over);
            photo.map_err(|_| passed_over.push(name.clone())).ok()
        });
        merged.blobs += self.keep_as_they_come(came)?;
        merged.passed_over.extend(passed_over);
        Ok(merged)
    }
}

/// An open archive whose members all have names and sizes that may be read.
pub(super) struct Archive {
    zip: ZipArchive<BufReader<File>>,
}

impl Archive {
    #[allow(clippy::disallowed_methods, reason = "book/archive reads the file it was pointed to")]
    pub(super) fn open(path: &Path) -> Result<Self> {
        if !path.is_file() {
            return Err(Error::Missing { what: "archive" });
        }
        let file = File::open(path)?;
        let length = file.metadata()?.len();
        let zip = ZipArchive::new(BufReader::with_capacity(1 << 20, file)).map_err(not_a_zip)?;
        let mut archive = Self { zip };
        archive.bound(length)?;
        Ok(archive)
    }

    /// Refuses what may not be read, before any of it is.
    fn bound(&mut self, length: u64) -> Result<()> {
        if self.zip.len() > MEMBERS {
            return Err(damaged("too many members"));
        }
        let (mut names, mut packed) = (BTreeSet::new(), 0_u64);
        for at in 0..self.zip.len() {
            let member = self.zip.by_index_raw(at).map_err(not_a_zip)?;
            let name = std::str::from_utf8(member.name_raw()).map_err(|_| damaged("a strange name"))?;
            let kind = Member::of(name).ok_or_else(|| damaged("a strange name"))?;
            let plain =
                [CompressionMethod::Stored, CompressionMethod::Deflated].contains(&member.compression());
            if member.encrypted() || !plain || !member.is_file() {
                return Err(damaged("a strange member"));
            }
            let (size, small) = (member.size(), member.compressed_size());
            if size > kind.most() || size > SMALL && size / RATIO > small {
                return Err(damaged("a member is too large"));
            }
            packed = packed.saturating_add(small);
            if !names.insert(name.to_owned()) {
                return Err(damaged("two members of one name"));
            }
        }
        if packed > length {
            return Err(damaged("members lie over each other"));
        }
        if [ACTS, HASHES, REGISTER].iter().all(|name| names.contains(*name)) {
            Ok(())
        } else {
            Err(damaged("not an archive of a yard"))
        }
    }

    /// Reads every member once and compares it with the list of hashes.
    pub(super) fn check(&mut self, job: &Job) -> Result<Checked> {
        let hashes = hashes(&self.whole(HASHES)?)?;
        let register = self.whole(REGISTER)?;
        let mut checked = Checked {
            register: serde_json::from_slice(&register).map_err(|_| damaged(REGISTER))?,
            acts: 0,
            devices: BTreeSet::new(),
            photos: Vec::new(),
            found: Vec::new(),
            cancelled: false,
        };
        let total = self.zip.len();
        for at in 0..total {
            if job.is_cancelled() {
                checked.cancelled = true;
                break;
            }
            self.check_one(at, &hashes, &mut checked)?;
            job.step(at + 1, total);
        }
        let there: BTreeSet<String> =
            self.zip.file_names_raw().map(|n| String::from_utf8_lossy(n).into_owned()).collect();
        let absent = hashes.keys().filter(|name| !there.contains(*name));
        checked.found.extend(absent.map(|name| format!("missing {name}")));
        if hashes.contains_key(ACTS) && checked.cancelled | (checked.acts == checked.register.acts) {
            Ok(checked)
        } else {
            Err(damaged(ACTS))
        }
    }

    fn check_one(
        &mut self,
        at: usize,
        hashes: &BTreeMap<String, String>,
        checked: &mut Checked,
    ) -> Result<()> {
        let name = self.name(at)?;
        if name == HASHES {
            return Ok(());
        }
        let (mut acts, mut devices) = (0, BTreeSet::new());
        let hash = if name == ACTS {
            self.each_act(|act| {
                acts += 1;
                if !devices.contains(&act.device) {
                    devices.insert(act.device);
                }
                Ok(true)
            })?
        } else {
            self.hash_of(at).unwrap_or_default()
        };
        checked.acts += acts;
        checked.devices.extend(devices);
        let sound = hashes.get(&name).is_some_and(|written| *written == hash);
        match Member::of(&name) {
            Some(Member::Photo(named)) if sound && named == hash => {
                checked.photos.push((at, name.clone(), hash));
            }
            Some(Member::Acts) if !sound => return Err(damaged(ACTS)),
            _ if sound => {}
            _ if name == REGISTER => return Err(damaged(REGISTER)),
            _ => checked.found.push(format!("changed {name}")),
        }
        Ok(())
    }

    /// Hands the acts over in chunks until `see` says to stop.
    fn each_chunk(&mut self, mut see: impl FnMut(&[Act]) -> Result<bool>) -> Result<()> {
        let mut chunk = Vec::new();
        let mut on = true;
        self.each_act(|act| {
            chunk.push(act);
            if chunk.len() == CHUNK {
                on = see(&std::mem::take(&mut chunk))?;
            }
            Ok(on)
        })?;
        if on && !chunk.is_empty() {
            see(&chunk)?;
        }
        Ok(())
    }

    /// Hands every act over until `see` says to stop; returns the hash of what was read.
    fn each_act(&mut self, mut see: impl FnMut(Act) -> Result<bool>) -> Result<String> {
        let broken = |_| damaged(ACTS);
        let member = self.zip.by_name(ACTS).map_err(not_a_zip)?;
        let size = member.size();
        let mut text = BufReader::with_capacity(1 << 16, Hashing::new(member.take(size.saturating_add(1))));
        let mut line = Vec::new();
        loop {
            line.clear();
            let read = (&mut text).take(LINE).read_until(b'\n', &mut line).map_err(broken)?;
            if read == 0 {
                break;
            }
            if line.last() != Some(&b'\n') || !see(Act::from_line(&line)?)? {
                break;
            }
        }
        Ok(text.into_inner().hash())
    }

    fn hash_of(&mut self, at: usize) -> Result<String> {
        let mut member = self.zip.by_index(at).map_err(not_a_zip)?;
        let (size, mut read) = (member.size(), 0_u64);
        let mut hasher = blake3::Hasher::new();
        let mut buffer = vec![0; 1 << 17];
        loop {
            let n = member.read(&mut buffer).map_err(|_| damaged("cut short"))?;
            read += n as u64;
            if n == 0 || read > size {
                break;
            }
            hasher.update(&buffer[..n]);
        }
        if read == size {
            Ok(hasher.finalize().to_hex().to_string())
        } else {
            Err(damaged("a member's size"))
        }
    }

    /// A small member as a whole.
    fn whole(&mut self, name: &str) -> Result<Vec<u8>> {
        let member = self.zip.by_name(name).map_err(not_a_zip)?;
        let size = member.size();
        bytes_of(member, size)
    }

    fn name(&mut self, at: usize) -> Result<String> {
        let name = self.zip.name_for_index(at).ok_or_else(|| damaged("a strange name"))?;
        Ok(name.map_err(not_a_zip)?.into_owned())
    }

    fn photo(&mut self, at: usize, hash: &str, look_over: LookOver) -> Result<(Vec<u8>, serde_json::Value)> {
        blobs::check_name(hash)?;
        let member = self.zip.by_index(at).map_err(not_a_zip)?;
        let size = member.size();
        let bytes = bytes_of(member, size)?;
        if blake3::hash(&bytes).to_hex().as_str() != hash {
            return Err(damaged("a photo"));
        }
        let about = look_over(&bytes)?;
        Ok((bytes, about))
    }
}

/// Exactly `size` bytes, which were bounded before.
fn bytes_of(from: impl Read, size: u64) -> Result<Vec<u8>> {
    let mut bytes = Vec::with_capacity(usize::try_from(size.min(super::super::merge::BLOB_MAX)).unwrap_or(0));
    from.take(size.saturating_add(1)).read_to_end(&mut bytes).map_err(|_| damaged("cut short"))?;
    if bytes.len() as u64 == size { Ok(bytes) } else { Err(damaged("a member's size")) }
}

/// Name → hash, from lines of `HASH  NAME`.
fn hashes(text: &[u8]) -> Result<BTreeMap<String, String>> {
    let text = std::str::from_utf8(text).map_err(|_| damaged(HASHES))?;
    let mut all = BTreeMap::new();
    for line in text.lines() {
        let (hash, name) = line.split_once("  ").ok_or_else(|| damaged(HASHES))?;
        blobs::check_name(hash).map_err(|_| damaged(HASHES))?;
        Member::of(name).ok_or_else(|| damaged(HASHES))?;
        all.insert(name.to_owned(), hash.to_owned());
    }
    Ok(all)
}

fn not_a_zip(error: zip::result::ZipError) -> Error {
    damaged(&error.to_string())
}
