//! The power goes: what was not forced to the disk is lost, kept, reordered or torn.
//! Never kinder than POSIX: a new name lasts only once its folder was forced, a write once its file was.
//! Invariant: the same states with the forcing left out do lose acts, or the test fails.

use super::script::Script;
use super::trace::{Did, record};
use super::witness::Witness;
use super::{Dice, each, room, share, told};
use std::collections::BTreeMap;
use std::path::Path;

/// A disk's smallest piece that is written whole.
const SECTOR: usize = 512;

/// What is on the disk for certain, and what was asked for since.
#[derive(Default, Clone)]
struct Disk {
    /// Contents by inode.
    files: Vec<Inode>,
    /// What programs see: path → inode; folders have none.
    now: BTreeMap<String, Option<usize>>,
    /// What is on the disk for certain.
    names: BTreeMap<String, Option<usize>>,
    /// Changes of names that are not on the disk for certain, by folder.
    pending: BTreeMap<String, Vec<Naming>>,
}

#[derive(Default, Clone)]
struct Inode {
    sure: Vec<u8>,
    pending: Vec<Change>,
}

#[derive(Clone)]
enum Change {
    Write(usize, Vec<u8>),
    Cut(usize),
}

#[derive(Clone)]
enum Naming {
    Put(String, Option<usize>),
    Gone(String),
    Moved(String, String, Option<usize>),
}

fn above(path: &str) -> String {
    path.rsplit_once('/').map_or(String::new(), |(folder, _)| folder.to_owned())
}

impl Disk {
    fn does(&mut self, did: &Did, forced: bool) {
        match did {
            Did::Acked => {}
            Did::MakeFolder { path } => self.put(path, None),
            Did::Create { path } if self.now.contains_key(path) => {}
            Did::Create { path } => {
                self.files.push(Inode::default());
                self.put(path, Some(self.files.len() - 1));
            }
            Did::Write { path, at, bytes } => {
                let at = usize::try_from(*at).expect("a place");
                self.inode(path).pending.push(Change::Write(at, bytes.clone()));
            }
            Did::Cut { path, length } => {
                let length = usize::try_from(*length).expect("a length");
                self.inode(path).pending.push(Change::Cut(length));
            }
            Did::Rename { from, to } => {
                let inode = self.now.remove(from).expect("a file to rename");
                self.now.insert(to.clone(), inode);
                let moved = Naming::Moved(from.clone(), to.clone(), inode);
                self.pending.entry(above(to)).or_default().push(moved);
            }
            Did::Unlink { path } => {
                self.now.remove(path);
                self.pending.entry(above(path)).or_default().push(Naming::Gone(path.clone()));
            }
            Did::Sync { path } if forced => self.sync(path),
            Did::Sync { .. } => {}
        }
    }

    fn put(&mut self, path: &str, inode: Option<usize>) {
        self.now.insert(path.to_owned(), inode);
        self.pending.entry(above(path)).or_default().push(Naming::Put(path.to_owned(), inode));
    }

    fn inode(&mut self, path: &str) -> &mut Inode {
        let number = self.now.get(path).copied().flatten().expect("an open file");
        &mut self.files[number]
    }

    fn sync(&mut self, path: &str) {
        match self.now.get(path).copied().flatten() {
            Some(number) => {
                let inode = &mut self.files[number];
                for change in std::mem::take(&mut inode.pending) {
                    change.onto(&mut inode.sure, &mut |_| true);
                }
            }
            None => {
                for naming in self.pending.remove(path).unwrap_or_default() {
                    naming.onto(&mut self.names);
                }
            }
        }
    }

    /// One way the disk may look after the power went, laid out in `folder`.
    fn after_the_power_went(&self, folder: &Path, dice: &mut Dice) {
        let mut names = self.names.clone();
        for pending in self.pending.values() {
            let kept = dice.below(pending.len() + 1);
            pending[..kept].iter().for_each(|naming| naming.clone().onto(&mut names));
        }
        // What hangs below a name that was lost is lost with it.
        let whole = |path: &str| {
            let mut up = above(path);
            while !up.is_empty() && names.contains_key(&up) {
                up = above(&up);
            }
            up.is_empty()
        };
        for (path, inode) in names.iter().filter(|(path, _)| whole(path)) {
            let target = folder.join(path.trim_start_matches('/'));
            match inode {
                None => std::fs::create_dir_all(target).expect("a folder"),
                Some(number) => {
                    let bytes = self.files[*number].after_the_power_went(dice);
                    std::fs::write(target, bytes).expect("a file");
                }
            }
        }
    }
}

impl Inode {
    fn after_the_power_went(&self, dice: &mut Dice) -> Vec<u8> {
        let mut bytes = self.sure.clone();
        let how = dice.below(5);
        let upto = dice.below(self.pending.len() + 1);
        for (n, change) in self.pending.iter().enumerate() {
            match how {
                0 => {}
                1 => change.onto(&mut bytes, &mut |_| true),
                // In order up to a point, the one at that point torn.
                2 if n < upto => change.onto(&mut bytes, &mut |_| true),
                2 if n == upto => change.onto(&mut bytes, &mut |_| dice.below(2) == 0),
                2 => {}
                3 if dice.below(2) == 0 => change.onto(&mut bytes, &mut |_| true),
                3 => {}
                _ => change.onto(&mut bytes, &mut |_| dice.below(4) > 0),
            }
        }
        bytes
    }
}

impl Change {
    /// Does the change, sector by sector of the file, where `kept` says so.
    fn onto(&self, file: &mut Vec<u8>, kept: &mut dyn FnMut(usize) -> bool) {
        match self {
            Self::Cut(length) => {
                if kept(0) {
                    file.resize(*length, 0);
                }
            }
            Self::Write(at, bytes) => {
                let mut from = 0;
                while from < bytes.len() {
                    let to = ((at + from) / SECTOR * SECTOR + SECTOR - at).min(bytes.len());
                    if kept(from) {
                        let end = at + to;
                        if file.len() < end {
                            file.resize(end, 0);
                        }
                        file[at + from..end].copy_from_slice(&bytes[from..to]);
                    }
                    from = to;
                }
            }
        }
    }
}

impl Naming {
    fn onto(self, names: &mut BTreeMap<String, Option<usize>>) {
        match self {
            Self::Put(path, inode) => names.insert(path, inode),
            Self::Gone(path) => names.remove(&path).flatten().map(Some),
            Self::Moved(from, to, inode) => {
                names.remove(&from);
                names.insert(to, inode)
            }
        };
    }
}

/// Strikes `states` times along the trace; returns what was lost or half.
fn struck(did: &[Did], witness: &Witness, states: usize, forced: bool) -> Vec<String> {
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    let shares: Vec<usize> = (0..cores).collect();
    // A fifth of the states up to the first promise, where the register is made; the rest evenly.
    let first = did.iter().position(|one| matches!(one, Did::Acked)).unwrap_or(did.len());
    let due = |done: usize| states / 5 * done.min(first) / first + states * 4 / 5 * done / did.len();
    let found = std::sync::Mutex::new(Vec::new());
    each(&shares, |share| {
        let mut disk = Disk::default();
        let mut acked = 0;
        let mut dice = Dice::new(7 + *share as u64);
        let mut made = 0;
        for (n, one) in did.iter().enumerate() {
            disk.does(one, forced);
            acked += usize::from(matches!(one, Did::Acked));
            while made < due(n + 1) / cores {
                made += 1;
                let folder = room();
                disk.after_the_power_went(folder.path(), &mut dice);
                if let Err(what) = witness.stands(folder.path(), acked) {
                    let said = format!("after call {n}: {what}, {}", one.short());
                    found.lock().expect("the list").push(said);
                }
            }
        }
        Ok(())
    });
    found.into_inner().expect("the list")
}

#[test]
fn what_was_acknowledged_survives_the_power_going_at_any_moment() {
    let place = room();
    let file = place.path().join("script");
    let script = Script::of(2, share(40, 200));
    script.write(&file);
    let Some(did) = record(&file, &place.path().join("yard")) else { return };
    let acked = did.iter().filter(|one| matches!(one, Did::Acked)).count();
    assert_eq!(acked, script.lines.len());
    let witness = Witness::of(&script);
    let states = share(200, 10_000);
    let found = struck(&did, &witness, states, true);
    told("power loss", states, &found);
    let careless = states / 10;
    let lost = struck(&did, &witness, careless, false);
    println!("fault power loss, nothing forced to the disk (must lose) | {careless} | {} lost", lost.len());
    assert!(lost.len() > careless / 10, "the harness sees a loss when there is one: {}", lost.len());
}
