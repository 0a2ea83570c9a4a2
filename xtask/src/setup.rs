//! What the machine must have: system packages by the system's own package tool, then the npm parts.
//!
//! Never here: building. Invariant: nothing is installed that was not named to the user first, and on a
//! system whose package tool we don't drive, the exact line to type is printed instead.

use std::process::Command;

use crate::steps::{on_path, output, program, run};
use crate::{Outcome, npm};

/// What the packages are needed for; each takes all that the one before it takes.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum For {
    /// Building the app and opening it on a display.
    Window,
    /// Driving the window where there is no display.
    Walk,
    /// The whole of the tests, a share of the faults included.
    Tests,
    /// All of the faults.
    Faults,
    /// What speed is compared with.
    Bench,
}

/// The oldest Node whose test runner and modules we rely on.
const NODE: u32 = 18;

const WINDOW: [&str; 3] = ["build-essential", "libwebkit2gtk-4.1-dev", "pkg-config"];
const WALK: [&str; 2] = ["webkit2gtk-driver", "xvfb"];
/// Readers from elsewhere that photos, tags and their sheets are held against.
const TESTS: [&str; 5] = ["strace", "util-linux", "zbar-tools", "poppler-utils", "libimage-exiftool-perl"];
const FAULTS: [&str; 1] = ["faketime"];
const BENCH: [&str; 2] = ["sqlite3", "libvips-tools"];

/// Installs what is missing, then the npm parts.
pub fn setup(for_what: For) -> Outcome {
    packages(for_what)?;
    node_is_new_enough()?;
    tools(for_what)?;
    if for_what >= For::Tests {
        crate::corpus::fetch();
    }
    npm::install()
}

fn packages(for_what: For) -> Outcome {
    if !on_path("dpkg-query") || !on_path("apt-get") {
        return elsewhere(for_what);
    }
    let missing: Vec<&str> = wanted(for_what).into_iter().filter(|name| !installed(name)).collect();
    if missing.is_empty() {
        return Ok(());
    }
    println!("Installing from the system's packages: {}", missing.join(" "));
    apt(&["update"])?;
    let mut words = vec!["install", "--yes", "--no-install-recommends"];
    words.extend(missing);
    apt(&words)
}

fn wanted(for_what: For) -> Vec<&'static str> {
    let mut wanted = WINDOW.to_vec();
    if for_what >= For::Walk {
        wanted.extend(WALK);
    }
    if for_what >= For::Tests {
        wanted.extend(TESTS);
    }
    if for_what >= For::Faults {
        wanted.extend(FAULTS);
    }
    if for_what >= For::Bench {
        wanted.extend(BENCH);
    }
    // A Node that came by another way than the system's packages serves as well.
    wanted.extend(["node", "npm"].iter().filter(|name| !on_path(name)).map(|name| match *name {
        "node" => "nodejs",
        other => other,
    }));
    wanted
}

fn installed(package: &str) -> bool {
    Command::new("dpkg-query")
        .args(["--show", "--showformat=${db:Status-Status}", package])
        .output()
        .is_ok_and(|out| out.status.success() && out.stdout.starts_with(b"installed"))
}

fn apt(words: &[&str]) -> Outcome {
    let root = output("setup", program("id", ["-u"]).env("LC_ALL", "C"))?.trim() == "0";
    let mut command = match (root, on_path("sudo")) {
        (true, _) => program("apt-get", words),
        (false, true) => program("sudo", [&["apt-get"], words].concat()),
        (false, false) => {
            return Err(format!("Please run as root: apt-get {}", words.join(" ")));
        }
    };
    run("setup", command.env("DEBIAN_FRONTEND", "noninteractive"))
}

/// Systems whose package tool we don't drive: look for the tools themselves, and name the line to type.
fn elsewhere(for_what: For) -> Outcome {
    let webkit = Command::new("pkg-config")
        .args(["--exists", "webkit2gtk-4.1"])
        .status()
        .is_ok_and(|status| status.success());
    let apple = cfg!(target_os = "macos");
    if (webkit || apple) && lacking(for_what).is_empty() {
        return Ok(());
    }
    let line = if on_path("dnf") {
        "sudo dnf install webkit2gtk4.1-devel webkit2gtk-driver xorg-x11-server-Xvfb gcc make pkgconf strace util-linux zbar poppler-utils perl-Image-ExifTool nodejs npm"
    } else if on_path("pacman") {
        "sudo pacman -S --needed webkit2gtk-4.1 xorg-server-xvfb base-devel strace util-linux zbar poppler perl-image-exiftool nodejs npm"
    } else if apple {
        "xcode-select --install && brew install node   (the window tests and faults need Linux)"
    } else {
        "your package tool: WebKitGTK 4.1 with headers and its WebKitWebDriver, Xvfb, a C compiler, pkg-config, strace, unshare, zbar, poppler’s tools, exiftool, Node"
    };
    Err(format!(
        "Something the build or the tests need is missing. Install it with:\n  {line}\nand run this again."
    ))
}

fn lacking(for_what: For) -> Vec<&'static str> {
    let mut tools = vec!["cc", "node", "npm"];
    if for_what >= For::Walk {
        tools.extend(["Xvfb", "WebKitWebDriver"]);
    }
    if for_what >= For::Tests {
        tools.extend(["strace", "unshare", "git", "zbarimg", "pdftoppm", "exiftool"]);
    }
    if for_what >= For::Faults {
        tools.push("faketime");
    }
    if for_what >= For::Bench {
        tools.extend(["sqlite3", "vipsthumbnail"]);
    }
    tools.into_iter().filter(|name| !on_path(name)).collect()
}

fn tools(for_what: For) -> Outcome {
    let lacking = lacking(for_what);
    if lacking.is_empty() { Ok(()) } else { Err(format!("Not found on the PATH: {}.", lacking.join(", "))) }
}

fn node_is_new_enough() -> Outcome {
    let says = output("setup", &mut program("node", ["--version"]))?;
    match major(&says) {
        Some(major) if major >= NODE => Ok(()),
        _ => Err(format!("Node {} is too old: version {NODE} or newer is needed.", says.trim())),
    }
}

fn major(version: &str) -> Option<u32> {
    version.trim().trim_start_matches('v').split('.').next()?.parse().ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_major_version_of_node_is_read_from_what_it_says() {
        assert_eq!(major("v18.20.4\n"), Some(18));
        assert_eq!(major("node"), None);
    }

    #[test]
    fn the_tests_want_all_that_the_window_wants() {
        let tests = wanted(For::Tests);
        assert!(wanted(For::Window).iter().all(|name| tests.contains(name)));
        assert!(tests.contains(&"strace") && !wanted(For::Walk).contains(&"strace"));
    }
}
