//! The odd and hostile pictures that photos are tried on: fetched from the system's source packages.
//!
//! Never here: what becomes of them; never a copy in the repository. Invariant: the system's own lists stay as
//! they are, and where nothing can be fetched the tests go on and say so.

use std::fs;
use std::path::Path;

use crate::steps::{on_path, output, program, run, target};

/// Source packages with pictures made to break readers.
const PACKAGES: [&str; 3] = ["exiv2", "libheif", "libimage-exiftool-perl"];

/// Fetches and unpacks what is not there yet, under `target/corpus`. What can't be had is said and left out.
pub fn fetch() {
    let folder = target().join("corpus");
    if PACKAGES.iter().all(|name| folder.join(name).is_dir()) {
        return;
    }
    if let Err(says) = fetched(&folder) {
        println!(
            "The corpus of odd pictures could not be fetched ({says}); its test is skipped and says so."
        );
    }
}

fn fetched(folder: &Path) -> Result<(), String> {
    if !on_path("apt-get") || !on_path("tar") {
        return Err("the system's package tool is not apt".into());
    }
    let said = |e: std::io::Error| e.to_string();
    let apt = folder.join("apt");
    fs::create_dir_all(apt.join("lists/partial")).map_err(said)?;
    let suite = fs::read_to_string("/etc/os-release").map_err(said)?;
    let suite = suite.lines().find_map(|line| line.strip_prefix("VERSION_CODENAME=")).unwrap_or("stable");
    let sources = apt.join("sources.list");
    let format = "$(REPO_URI) $(CODENAME) $(COMPONENT)";
    let listed = output("corpus", &mut program("apt-get", ["indextargets", "--format", format]))?;
    let end = format!(" {suite} main");
    let archive = listed.lines().find_map(|line| line.strip_suffix(end.as_str()));
    let archive = archive.ok_or("the system's lists name no archive")?;
    fs::write(&sources, format!("deb-src {archive} {suite} main\n")).map_err(said)?;
    println!("Fetching source packages with odd pictures to {}: {}", folder.display(), PACKAGES.join(" "));
    let options = [
        format!("Dir::Etc::sourcelist={}", sources.display()),
        "Dir::Etc::sourceparts=-".to_owned(),
        format!("Dir::State::lists={}", apt.join("lists").display()),
        "Dir::Cache::pkgcache=".to_owned(),
        "Dir::Cache::srcpkgcache=".to_owned(),
    ];
    let with = |words: &[&str]| {
        let mut command = program("apt-get", ["-q"]);
        for option in &options {
            command.args(["-o", option]);
        }
        command.args(words).current_dir(folder);
        command
    };
    run("corpus", &mut with(&["update"]))?;
    run("corpus", with(&["source", "--download-only"]).args(PACKAGES))?;
    for file in fs::read_dir(folder).map_err(said)?.flatten() {
        let name = file.file_name().to_string_lossy().into_owned();
        let Some((package, _)) = name.split_once('_').filter(|_| name.contains(".orig.tar")) else {
            continue;
        };
        let into = folder.join(package);
        fs::create_dir_all(&into).map_err(said)?;
        let into = into.to_string_lossy().into_owned();
        run("corpus", program("tar", ["xf", &name, "-C", &into]).current_dir(folder))?;
    }
    Ok(())
}
