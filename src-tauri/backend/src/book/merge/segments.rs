//! How acts lie in a shared folder: whole, unchanging files, one folder per writing device.
//! Never a decision about an act, only whether a file is what its name says.
//! Invariant: a segment is read only when the hash in its name is that of its bytes.

use super::super::blobs;
use super::super::change::Act;
use crate::error::{Error, Result};
use flate2::read::GzDecoder;
use flate2::write::GzEncoder;
use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::path::{Path, PathBuf};

/// Largest packed segment that is read, bytes.
const PACKED_MAX: u64 = 128 << 20;
/// Largest unpacked segment that is read, bytes.
const UNPACKED_MAX: u64 = 512 << 20;
/// Most acts in one segment.
pub(super) const ACTS: usize = 10_000;
/// A segment is closed when it has grown past this, bytes before packing.
const ENOUGH: usize = 32 << 20;
const ENDING: &str = ".jsonl.gz";

/// One file of acts: `FIRST-LAST.HASH.jsonl.gz` of the device whose folder it lies in, or
/// `DEVICE.FIRST-LAST.HASH.jsonl.gz` passed on for another.
#[derive(Debug)]
pub(super) struct Segment {
    pub(super) path: PathBuf,
    /// Whose acts these are.
    pub(super) origin: String,
    pub(super) first: i64,
    pub(super) last: i64,
    hash: String,
}

impl Segment {
    fn of(path: &Path, writer: &str) -> Option<Self> {
        let name = path.file_name()?.to_str()?.strip_suffix(ENDING)?;
        let (front, hash) = name.rsplit_once('.')?;
        blobs::check_name(hash).ok()?;
        let (origin, span) = front.rsplit_once('.').unwrap_or((writer, front));
        let (first, last) = span.split_once('-')?;
        let (first, last): (i64, i64) = (first.parse().ok()?, last.parse().ok()?);
        let good = first >= 1 && last >= first && is_device(origin);
        good.then(|| Self {
            path: path.to_owned(),
            origin: origin.to_owned(),
            first,
            last,
            hash: hash.to_owned(),
        })
    }

    /// Whether the file is complete.
    pub(super) fn is_whole(&self) -> bool {
        self.bytes().is_ok()
    }

    fn bytes(&self) -> Result<Vec<u8>> {
        let bytes = read_at_most(&self.path, PACKED_MAX)?;
        if blake3::hash(&bytes).to_hex().as_str() == self.hash { Ok(bytes) } else { Err(damaged()) }
    }

    /// Its acts: of one device, without a gap, as many as its name says.
    pub(super) fn read(&self) -> Result<Vec<Act>> {
        let bytes = self.bytes()?;
        let acts = lines(BufReader::new(GzDecoder::new(bytes.as_slice()).take(UNPACKED_MAX)))?;
        let fits =
            acts.iter().zip(self.first..).all(|(act, seq)| act.seq == seq && act.device == self.origin);
        let all = acts.last().is_some_and(|act| act.seq == self.last);
        if fits && all { Ok(acts) } else { Err(damaged()) }
    }
}

/// Acts, one JSON object a line. Each is checked for what every act must be.
fn lines(mut text: impl BufRead) -> Result<Vec<Act>> {
    let mut acts = Vec::new();
    let mut line = Vec::new();
    loop {
        line.clear();
        if text.read_until(b'\n', &mut line).map_err(|_| damaged())? == 0 {
            return Ok(acts);
        }
        acts.push(Act::from_line(&line)?);
    }
}

/// Writes acts of one device as a segment into the folder of `writer`. Returns how many of them
/// went in: a segment that grows too large is closed early.
pub(super) fn write(place: &Path, writer: &str, acts: &[Act]) -> Result<usize> {
    let mut packed = GzEncoder::new(Vec::new(), flate2::Compression::default());
    let (mut count, mut size) = (0_usize, 0);
    for act in acts {
        let line = serde_json::to_vec(act)?;
        packed.write_all(&line)?;
        packed.write_all(b"\n")?;
        (count, size) = (count + 1, size + line.len());
        if size > ENOUGH {
            break;
        }
    }
    let (Some(first), Some(last)) = (acts.first(), acts.get(count.saturating_sub(1))) else { return Ok(0) };
    let bytes = packed.finish()?;
    let hash = blake3::hash(&bytes).to_hex();
    let origin = if first.device == writer { String::new() } else { format!("{}.", first.device) };
    let name = format!("{origin}{}-{}.{hash}{ENDING}", first.seq, last.seq);
    blobs::write_durably(&place.join(name), &bytes)?;
    Ok(count)
}

/// All segments in a shared folder by device and place, and the files that are called like one but
/// cannot be.
pub(super) fn all(folder: &Path) -> Result<(Vec<Segment>, Vec<String>)> {
    let (mut found, mut strange) = (Vec::new(), Vec::new());
    for place in folders(&folder.join("acts"))? {
        let writer = name_of(&place);
        for path in files(&place)? {
            match Segment::of(&path, &writer) {
                Some(segment) => found.push(segment),
                None if name_of(&path).ends_with(ENDING) => strange.push(within(folder, &path)),
                None => {}
            }
        }
    }
    found.sort_by(|a, b| (&a.origin, a.first, a.last).cmp(&(&b.origin, b.first, b.last)));
    Ok((found, strange))
}

/// The files in `folder/blobs` that are called by a hash, with that hash.
pub(super) fn blob_files(folder: &Path) -> Result<Vec<(String, PathBuf)>> {
    let mut found = Vec::new();
    for place in folders(&folder.join("blobs"))? {
        let paths = files(&place)?.into_iter().map(|path| (name_of(&path), path));
        found.extend(paths.filter(|(name, _)| blobs::check_name(name).is_ok()));
    }
    Ok(found)
}

/// A file's whole text, unless it is longer than `most` bytes.
#[allow(clippy::disallowed_methods, reason = "book/merge reads what other devices left in the shared folder")]
pub(super) fn read_at_most(path: &Path, most: u64) -> Result<Vec<u8>> {
    let file = fs::File::open(path)?;
    if file.metadata()?.len() > most {
        return Err(damaged());
    }
    let mut bytes = Vec::new();
    file.take(most).read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// A file's place below the shared folder, for saying which one it was.
pub(super) fn within(folder: &Path, path: &Path) -> String {
    path.strip_prefix(folder).unwrap_or(path).to_string_lossy().into_owned()
}

fn is_device(text: &str) -> bool {
    uuid::Uuid::parse_str(text).is_ok_and(|id| id.hyphenated().to_string() == text)
}

fn damaged() -> Error {
    Error::Damaged { what: "segment".into() }
}

fn name_of(path: &Path) -> String {
    path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default()
}

fn folders(place: &Path) -> Result<Vec<PathBuf>> {
    Ok(listing(place)?.into_iter().filter(|p| p.is_dir()).collect())
}

fn files(place: &Path) -> Result<Vec<PathBuf>> {
    Ok(listing(place)?.into_iter().filter(|p| p.is_file()).collect())
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
