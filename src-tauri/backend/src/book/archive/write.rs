//! Writing an archive: what can be read goes in, what can't is named.
//! Never a row changed, and never a file of the grower's written over.
//! Invariant: the file gets its name only after it was read back whole.

use super::super::acts::act_of;
use super::super::change::Act;
use super::super::jobs::Job;
use super::super::{Book, open};
use super::{ACTS, HASHES, Hashing, README, REGISTER, Register, SCHEMA, TABLES, read};
use crate::error::{Error, Result};
use rusqlite::types::ValueRef;
use rusqlite::{Connection, OptionalExtension};
use serde_json::{Value, json};
use std::fs::File;
use std::io::{BufWriter, Write};
use std::path::{Path, PathBuf};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

/// A table for spreadsheets: its name, and the query whose columns it has.
pub type Topic = (&'static str, &'static str);

impl Book {
    /// Starts writing an archive into `folder`, also from a register that can only be read; returns
    /// the job's id. The job's result is the path; what is not in the archive stands in `found`.
    ///
    /// # Errors
    /// `Missing` when there is no such folder.
    pub fn write_archive(&self, folder: &Path, topics: &'static [Topic]) -> Result<String> {
        if !folder.is_dir() {
            return Err(Error::Missing { what: "folder" });
        }
        let folder = folder.to_owned();
        Ok(self.start(move |book, job| {
            if let Some((path, missing)) = book.archive_into(&folder, topics, job)? {
                missing.into_iter().for_each(|line| job.found(line));
                job.result(path.to_string_lossy().into_owned());
            }
            Ok(())
        }))
    }

    /// `None`: asked to stop; nothing is left behind then.
    #[allow(clippy::disallowed_methods, reason = "book/archive reads back what it wrote")]
    fn archive_into(
        &self,
        folder: &Path,
        topics: &[Topic],
        job: &Job,
    ) -> Result<Option<(PathBuf, Vec<String>)>> {
        let part = tempfile::Builder::new().prefix(".archive-").suffix(".part").tempfile_in(folder)?;
        let mut writing = Writing::new(part.as_file().try_clone()?, job);
        let Some(register) = writing.all(self, topics)? else { return Ok(None) };
        writing.finish()?;
        part.as_file().sync_all()?;
        let back = read::Archive::open(part.path())?.check(job)?;
        if let Some(what) = back.found.first() {
            return Err(Error::Damaged { what: what.clone() });
        }
        if back.cancelled || back.acts != register.acts {
            return if back.cancelled { Ok(None) } else { Err(super::damaged("acts are missing")) };
        }
        let path = named(part, folder, &self.moment().day().to_string())?;
        super::super::blobs::sync_folder(folder)?;
        Ok(Some((path, register.unreadable)))
    }
}

/// Gives the finished file the first name that is free.
fn named(part: tempfile::NamedTempFile, folder: &Path, day: &str) -> Result<PathBuf> {
    let mut part = part;
    for number in 1.. {
        let path = folder.join(format!("shadeyard-archive-{day}-{number}.zip"));
        match part.persist_noclobber(&path) {
            Ok(_) => return Ok(path),
            Err(error) if error.error.kind() == std::io::ErrorKind::AlreadyExists => part = error.file,
            Err(error) => return Err(error.error.into()),
        }
    }
    Err(Error::Bug("no name is free".into()))
}

/// An archive being written.
struct Writing<'a> {
    zip: ZipWriter<BufWriter<File>>,
    hashes: String,
    unreadable: Vec<String>,
    job: &'a Job,
    done: usize,
    total: usize,
}

impl<'a> Writing<'a> {
    fn new(file: File, job: &'a Job) -> Self {
        let zip = ZipWriter::new(BufWriter::with_capacity(1 << 20, file)).set_auto_large_file();
        Self { zip, hashes: String::new(), unreadable: Vec::new(), job, done: 0, total: 1 }
    }

    /// All members but the list of hashes. `None`: asked to stop.
    fn all(&mut self, book: &Book, topics: &[Topic]) -> Result<Option<Register>> {
        self.text(README, include_str!("README.txt").as_bytes())?;
        let mut register =
            Register { format: 1, device: book.device(), at: book.moment().rfc3339(), ..Register::default() };
        // One read transaction: every table shows the same moment.
        let blobs = book.read(|conn| {
            self.facts(conn, &mut register);
            self.total = usize::try_from(register.acts).unwrap_or(0) + topics.len() + 1;
            let schema = schema(conn)?;
            self.text(SCHEMA, &serde_json::to_vec_pretty(&schema)?)?;
            if register.version == open::known() {
                self.text(TABLES, include_str!("../schema.sql").as_bytes())?;
            }
            self.acts(conn, &mut register)?;
            for (name, sql) in topics {
                self.table(conn, name, sql)?;
            }
            Ok(self.part("photos", blobs(conn)).unwrap_or_default())
        })?;
        self.total = self.done + blobs.len() + 1;
        register.photos = self.photos(book, &blobs)?;
        register.unreadable.clone_from(&self.unreadable);
        self.text(REGISTER, &serde_json::to_vec_pretty(&register)?)?;
        Ok((!self.job.is_cancelled()).then_some(register))
    }

    fn finish(mut self) -> Result<()> {
        let hashes = std::mem::take(&mut self.hashes);
        self.text(HASHES, hashes.as_bytes())?;
        self.zip.finish()?.flush()?;
        Ok(())
    }

    /// What a damaged register may refuse to tell is named and left out.
    fn part<T>(&mut self, what: &str, outcome: Result<T>) -> Option<T> {
        match outcome {
            Ok(value) => Some(value),
            Err(error) => {
                self.unreadable.push(format!("unreadable {what}: {error}"));
                None
            }
        }
    }

    fn facts(&mut self, conn: &Connection, register: &mut Register) {
        let version = conn.query_row("PRAGMA user_version", [], |r| r.get(0));
        register.version = self.part("version", version.map_err(Error::from)).unwrap_or(0);
        let id = conn.query_row("SELECT v FROM meta WHERE k = 'register'", [], |r| r.get(0)).optional();
        register.register = self.part("register", id.map_err(Error::from)).flatten().unwrap_or_default();
        let acts = conn.query_row("SELECT count(*) FROM act", [], |r| r.get::<_, i64>(0));
        register.acts = self.part("act", acts.map_err(Error::from)).unwrap_or(0).unsigned_abs();
        let rows = rows_by_kind(conn);
        register.rows = self.part("kind", rows).unwrap_or_default();
    }

    /// Every act, in the order in which they came. Behind a damaged place it goes on from the end.
    fn acts(&mut self, conn: &Connection, register: &mut Register) -> Result<()> {
        let (job, total) = (self.job, self.total);
        let mut hashing = self.begin(ACTS)?;
        register.acts = 0;
        let mut line = |act: &Act| -> Result<()> {
            let mut text = serde_json::to_vec(act)?;
            text.push(b'\n');
            hashing.write_all(&text)?;
            register.acts += 1;
            *register.devices.entry(act.device.clone()).or_default() += 1;
            if register.acts.is_multiple_of(1000) {
                job.step(usize::try_from(register.acts).unwrap_or(0), total);
            }
            Ok(())
        };
        let mut last = 0;
        let forward = each(conn, "ORDER BY n", 0, |n, act| {
            last = n;
            line(act)
        });
        let mut behind = Vec::new();
        if let Err(Error::Damaged { .. } | Error::Bug(_)) = forward {
            let _as_far_as_it_goes = each(conn, "ORDER BY n DESC", last, |_, act| {
                behind.push(act.clone());
                Ok(())
            });
            behind.iter().rev().try_for_each(&mut line)?;
        } else {
            forward?;
        }
        let hash = hashing.hash();
        if !behind.is_empty() || register.acts == 0 && last > 0 {
            self.unreadable.push(format!("unreadable act: after row {last}"));
        }
        self.done = usize::try_from(register.acts).unwrap_or(0);
        self.end(ACTS, &hash);
        Ok(())
    }

    /// One table for spreadsheets.
    fn table(&mut self, conn: &Connection, name: &str, sql: &str) -> Result<()> {
        let name = format!("csv/{name}.csv");
        let mut hashing = self.begin(&name)?;
        let outcome = csv_of(conn, sql, &mut hashing);
        let hash = hashing.hash();
        self.end(&name, &hash);
        self.step();
        match outcome {
            Err(error @ Error::DiskFull) => Err(error),
            other => {
                self.part(&name, other);
                Ok(())
            }
        }
    }

    /// Photos as they are, not packed again: the next ones are read while one is written. Returns how
    /// many there are; those that are not here, or not what their name says, are named.
    fn photos(&mut self, book: &Book, blobs: &[(String, String)]) -> Result<u64> {
        std::thread::scope(|scope| {
            let (send, ready) = std::sync::mpsc::sync_channel(3);
            // It ends with the list, or when nobody listens any more.
            scope.spawn(move || blobs.iter().all(|(hash, _)| send.send(book.blob(hash)).is_ok()));
            let mut photos = 0;
            for ((hash, ending), bytes) in blobs.iter().zip(ready) {
                if self.job.is_cancelled() {
                    break;
                }
                match bytes {
                    Ok(bytes) => {
                        self.photo(hash, ending, &bytes)?;
                        photos += 1;
                    }
                    Err(Error::Missing { .. }) => self.unreadable.push(format!("missing {hash}")),
                    Err(_) => self.unreadable.push(format!("swapped {hash}")),
                }
                self.step();
            }
            Ok(photos)
        })
    }

    fn photo(&mut self, hash: &str, ending: &str, bytes: &[u8]) -> Result<()> {
        let name = format!("photos/{hash}.{ending}");
        let options = SimpleFileOptions::default().compression_method(CompressionMethod::Stored);
        self.zip.start_file(&name, options)?;
        self.zip.write_all(bytes)?;
        self.end(&name, hash);
        Ok(())
    }

    fn text(&mut self, name: &str, bytes: &[u8]) -> Result<()> {
        let mut hashing = self.begin(name)?;
        hashing.write_all(bytes)?;
        let hash = hashing.hash();
        self.end(name, &hash);
        Ok(())
    }

    fn begin(&mut self, name: &str) -> Result<Hashing<&mut ZipWriter<BufWriter<File>>>> {
        // Packing harder costs more time than the disk takes for the difference.
        let options = SimpleFileOptions::default()
            .compression_method(CompressionMethod::Deflated)
            .compression_level(Some(1));
        self.zip.start_file(name, options)?;
        Ok(Hashing::new(&mut self.zip))
    }

    fn end(&mut self, name: &str, hash: &str) {
        self.hashes.push_str(&format!("{hash}  {name}\n"));
    }

    fn step(&mut self) {
        self.done += 1;
        self.job.step(self.done, self.total);
    }
}

fn each(
    conn: &Connection,
    order: &str,
    after: i64,
    mut see: impl FnMut(i64, &Act) -> Result<()>,
) -> Result<()> {
    let sql =
        format!("SELECT device, seq, stamp, at, zone, name, undoes, body, n FROM act WHERE n > ?1 {order}");
    let mut list = conn.prepare(&sql)?;
    let mut rows = list.query([after])?;
    while let Some(row) = rows.next()? {
        see(row.get(8)?, &act_of(row)?)?;
    }
    Ok(())
}

/// RFC 4180. Numbers stay numbers; text that a spreadsheet would take for a formula is guarded.
fn csv_of(conn: &Connection, sql: &str, out: impl Write) -> Result<()> {
    let mut list = conn.prepare(sql)?;
    let names: Vec<String> = list.column_names().into_iter().map(str::to_owned).collect();
    let mut csv = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(out);
    csv.write_record(&names).map_err(csv_error)?;
    let mut rows = list.query([])?;
    while let Some(row) = rows.next()? {
        for at in 0..names.len() {
            let cell = match row.get_ref(at)? {
                ValueRef::Null | ValueRef::Blob(_) => String::new(),
                ValueRef::Integer(i) => i.to_string(),
                ValueRef::Real(f) => f.to_string(),
                ValueRef::Text(text) => guarded(&String::from_utf8_lossy(text)),
            };
            csv.write_field(cell).map_err(csv_error)?;
        }
        csv.write_record(None::<&[u8]>).map_err(csv_error)?;
    }
    csv.flush()?;
    Ok(())
}

fn guarded(text: &str) -> String {
    let formula = text.starts_with(['=', '+', '-', '@', '\t', '\r']);
    if formula { format!("'{text}") } else { text.to_owned() }
}

fn csv_error(error: csv::Error) -> Error {
    match error.into_kind() {
        csv::ErrorKind::Io(error) => error.into(),
        other => Error::Bug(format!("csv: {other:?}")),
    }
}

impl From<zip::result::ZipError> for Error {
    fn from(error: zip::result::ZipError) -> Self {
        match error {
            zip::result::ZipError::Io(error) => error.into(),
            other => super::damaged(&other.to_string()),
        }
    }
}

/// The schema of a line, and the kinds with their columns as they are in this register.
fn schema(conn: &Connection) -> Result<Value> {
    let mut schema: Value = serde_json::from_str(include_str!("schema.json"))?;
    let columns = |table: &str| -> Result<Vec<String>> {
        let mut list = conn.prepare_cached("SELECT name FROM pragma_table_info(?1)")?;
        let names = list.query_map([table], |r| r.get(0))?;
        Ok(names.collect::<rusqlite::Result<_>>()?)
    };
    let mut kinds = serde_json::Map::new();
    for (kind, sort) in kinds_of(conn).unwrap_or_default() {
        kinds.insert(kind.clone(), json!({"sort": sort, "columns": columns(&kind).unwrap_or_default()}));
    }
    kinds.insert(
        "entry".into(),
        json!({"sort": "all entries", "columns": columns("entry").unwrap_or_default()}),
    );
    schema["kinds"] = Value::Object(kinds);
    Ok(schema)
}

fn kinds_of(conn: &Connection) -> Result<Vec<(String, String)>> {
    let mut list = conn.prepare_cached("SELECT name, sort FROM kind ORDER BY name")?;
    let rows = list.query_map([], |r| Ok((r.get(0)?, r.get(1)?)))?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

fn rows_by_kind(conn: &Connection) -> Result<std::collections::BTreeMap<String, u64>> {
    let mut found = std::collections::BTreeMap::new();
    for (kind, sort) in kinds_of(conn)? {
        let sql = if sort == "thing" {
            format!("SELECT count(*) FROM \"{kind}\" WHERE void = 0")
        } else {
            format!("SELECT count(*) FROM entry WHERE kind = '{kind}' AND void = 0")
        };
        found.insert(kind, conn.query_row(&sql, [], |r| r.get::<_, i64>(0))?.unsigned_abs());
    }
    Ok(found)
}

/// The blobs that should be here or where they were moved to, each with the ending its file gets.
fn blobs(conn: &Connection) -> Result<Vec<(String, String)>> {
    let mut list = conn.prepare(
        "SELECT hash, about ->> 'mime' FROM blob WHERE here = 1 OR moved IS NOT NULL ORDER BY hash",
    )?;
    let rows = list.query_map([], |r| Ok((r.get::<_, String>(0)?, r.get::<_, Option<String>>(1)?)))?;
    let mut found = Vec::new();
    for row in rows {
        let (hash, mime) = row?;
        let ending = match mime.as_deref() {
            Some("image/jpeg") => "jpg",
            Some("image/png") => "png",
            Some("image/webp") => "webp",
            Some("image/heic") => "heic",
            _ => "bin",
        };
        found.push((hash, ending.to_owned()));
    }
    Ok(found)
}
