//! The plain app is watched by the system's own trace while it starts, lists logs and shows a photo.
//!
//! Sockets it may open: AF_UNIX, to the screen, to its own helpers and to the desktop's bus; AF_NETLINK,
//! by which GLib asks the kernel whether there is a network at all (nothing is sent anywhere). AF_INET
//! and AF_INET6 never: not by the app, not by the browser engine's helpers, not to this machine itself.
//! Invariant: the walk counts only when the photo's file was opened, so a window that stayed empty fails.

use super::pointer::Pointer;
use super::words;
use crate::window::children::{Group, Screen, app};
use crate::window::yards::Yard;
use std::collections::BTreeMap;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// How long a walk may take: the trace slows the browser engine down.
const WALK: Duration = Duration::from_secs(240);
/// Between a press and the next look, at first; each round waits this much longer.
const BEAT: Duration = Duration::from_millis(700);

#[test]
fn the_app_opens_no_internet_socket_and_says_nothing_of_the_yard() {
    sockets_of_a_walk(&[]);
}

#[test]
fn with_no_network_at_all_the_app_works_the_same() {
    let own =
        |words: &[&str]| Command::new("unshare").args(words).arg("true").status().is_ok_and(|s| s.success());
    // Root may part from the network as it is; others as root of a namespace of their own.
    let words: &[&str] = if own(&["--net"]) { &["--net"] } else { &["--map-root-user", "--net"] };
    assert!(own(words), "this system lets a program part from the network (unshare --net)");
    sockets_of_a_walk(&[&["unshare"], words].concat());
}

fn sockets_of_a_walk(before: &[&str]) {
    let yard = Yard::of_seven();
    let photo = words::plant(&yard);
    let elsewhere = tempfile::tempdir().expect("a folder of its own");
    let trace = elsewhere.path().join("trace");
    let screen = Screen::start();
    let mut walk = walk(before, &yard, elsewhere.path(), &trace, &screen);
    photo_is_shown(&screen, &trace, &photo);
    assert!(walk.0.try_wait().expect("its state").is_none(), "the app still runs");
    drop(walk);
    let text = std::fs::read_to_string(&trace).expect("the trace");
    let families = families(&text);
    let kept_apart = families.keys().all(|f| ["AF_UNIX", "AF_NETLINK"].contains(&f.as_str()));
    assert!(kept_apart, "only AF_UNIX and AF_NETLINK, not {families:?}");
    assert!(families.get("AF_UNIX").is_some_and(|n| *n > 0), "the trace sees sockets: {families:?}");
    assert!(!text.contains("sa_family=AF_INET"), "nothing was called over the internet");
    words::are_nowhere_but_in_the_register(yard.folder(), elsewhere.path());
}

/// Starts the app as its owner would, under the trace.
fn walk(before: &[&str], yard: &Yard, elsewhere: &Path, trace: &Path, screen: &Screen) -> Group {
    let said = std::fs::File::create(elsewhere.join("said")).expect("a file for what it says");
    let mut words: Vec<&str> = before.to_vec();
    words.extend(["strace", "--follow-forks", "--quiet=all", "--trace=socket,connect,openat", "-o"]);
    let mut command = Command::new(words[0]);
    command.args(&words[1..]).arg(trace).arg(app());
    command.env("DISPLAY", screen.display()).env("GDK_BACKEND", "x11").env_remove("WAYLAND_DISPLAY");
    for (name, folder) in
        [("XDG_DATA_HOME", "share"), ("XDG_CACHE_HOME", "cache"), ("XDG_CONFIG_HOME", "config")]
    {
        command.env(name, elsewhere.join(folder));
    }
    command
        .env("GSETTINGS_BACKEND", "memory")
        .env("NO_AT_BRIDGE", "1")
        .env("TZ", "UTC")
        .env("LC_ALL", "C.UTF-8");
    command.env("SHADEYARD_YARD", yard.folder()).env("SHADEYARD_CLOCK", crate::window::yards::EVENING);
    let too = said.try_clone().expect("the same file");
    Group::start(command.stdout(Stdio::from(said)).stderr(Stdio::from(too)))
}

/// Presses what a grower would until the system was asked for the photo's file: the yard, a log, down
/// its page. The window stands in the screen's corner and is 390 by 844. On a busy machine a press can
/// come before the list is there and open something else (it once opened a form from the chores, whose
/// foot then lay where the tabs had been, and never left it): each round first goes back, and then waits
/// longer than the round before.
fn photo_is_shown(screen: &Screen, trace: &Path, photo: &str) {
    let until = Instant::now() + WALK;
    let opened = |beat: Duration| {
        std::thread::sleep(beat);
        let text = std::fs::read_to_string(trace).unwrap_or_default();
        text.lines().any(|line| line.contains(photo) && line.contains(".small") && !line.contains("ENOENT"))
    };
    let mut pointer = Pointer::on(screen.display());
    let mut beat = BEAT;
    while Instant::now() < until {
        pointer.press(28, 28);
        let _wait = opened(beat);
        pointer.press(195, 810);
        let _wait = opened(beat);
        pointer.press(195, 380);
        let _wait = opened(beat);
        pointer.scroll_down(40);
        if opened(beat) || opened(beat) {
            return;
        }
        beat += BEAT;
    }
    panic!("the photo was never asked for");
}

/// How many sockets were asked for, by family.
fn families(trace: &str) -> BTreeMap<String, usize> {
    let mut found = BTreeMap::new();
    for (_, rest) in trace.lines().filter_map(|line| line.split_once(" socket(")) {
        let family = rest.split(',').next().unwrap_or_default();
        *found.entry(family.to_owned()).or_default() += 1;
    }
    found
}
