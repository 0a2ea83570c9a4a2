//! The programs a window test starts: a private screen, and the driver that opens the app on it.
//!
//! Never here: what is done in the window. Invariant: each child leads its own process group, and the group
//! is killed when the child is dropped, whether the test passed or not.

use std::fs;
use std::io::{BufRead, BufReader};
use std::net::{Ipv4Addr, TcpListener, TcpStream};
use std::os::unix::process::CommandExt;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::mpsc;
use std::time::{Duration, Instant};

/// How long a program may take to come up.
const UP: Duration = Duration::from_secs(30);

/// A child and all that it started.
pub struct Group(pub Child);

impl Group {
    /// Starts a program at the head of a group of its own.
    pub fn start(command: &mut Command) -> Self {
        let name = command.get_program().to_string_lossy().into_owned();
        match command.process_group(0).stdin(Stdio::null()).spawn() {
            Ok(child) => Self(child),
            Err(err) => panic!("cannot start {name}: {err}; `cargo xtask setup` installs it"),
        }
    }
}

impl Drop for Group {
    fn drop(&mut self) {
        kill(&format!("-{}", self.0.id()));
        let _reaped = self.0.wait();
    }
}

/// Ends a process, or a group when the id has a minus, with no chance to tidy up.
fn kill(id: &str) {
    let _ended = Command::new("kill").args(["-s", "KILL", "--", id]).stderr(Stdio::null()).status();
}

/// A screen nobody sees.
pub struct Screen {
    _server: Group,
    display: String,
}

impl Screen {
    /// Starts the server; it picks a free display number itself.
    pub fn start() -> Self {
        let mut command = Command::new("Xvfb");
        command.args(["-displayfd", "1", "-screen", "0", "1024x1200x24", "-nolisten", "tcp"]);
        let mut server = Group::start(command.stdout(Stdio::piped()).stderr(Stdio::null()));
        let out = server.0.stdout.take().expect("a piped output");
        let (said, hears) = mpsc::channel();
        std::thread::spawn(move || {
            let mut line = String::new();
            let _read = BufReader::new(out).read_line(&mut line);
            let _heard = said.send(line);
        });
        let number = hears.recv_timeout(UP).expect("Xvfb says its display");
        assert!(number.trim().parse::<u32>().is_ok(), "Xvfb came up: it said '{number}'");
        Self { _server: server, display: format!(":{}", number.trim()) }
    }

    /// Its name, `:N`.
    pub fn display(&self) -> &str {
        &self.display
    }
}

/// The driver, and through it the app.
pub struct Driver {
    _server: Group,
    /// Where it listens.
    pub address: String,
}

/// What the app is opened with.
pub struct Surroundings<'a> {
    /// The yard's folder.
    pub yard: &'a Path,
    /// Where the app may put what is not the yard: caches, settings of the toolkit.
    pub elsewhere: &'a Path,
    /// When the app believes it is: RFC 3339; it runs on from there.
    pub clock: &'a str,
}

impl Driver {
    /// Starts the driver on a free port.
    pub fn start(screen: &Screen, around: &Surroundings<'_>) -> Self {
        let port = TcpListener::bind((Ipv4Addr::LOCALHOST, 0))
            .and_then(|free| free.local_addr())
            .expect("a free port")
            .port();
        let mut command = Command::new("WebKitWebDriver");
        command.arg(format!("--port={port}"));
        command.env("DISPLAY", &screen.display).env("GDK_BACKEND", "x11").env_remove("WAYLAND_DISPLAY");
        for (name, folder) in
            [("XDG_DATA_HOME", "share"), ("XDG_CACHE_HOME", "cache"), ("XDG_CONFIG_HOME", "config")]
        {
            command.env(name, around.elsewhere.join(folder));
        }
        say_where_downloads_go(around.elsewhere);
        command
            .env("TAURI_WEBVIEW_AUTOMATION", "true")
            .env("GSETTINGS_BACKEND", "memory")
            .env("NO_AT_BRIDGE", "1");
        command.env("TZ", "UTC").env("LC_ALL", "C.UTF-8");
        command.env("SHADEYARD_YARD", around.yard).env("SHADEYARD_CLOCK", around.clock);
        let log = fs::File::create(around.elsewhere.join("driver.log")).expect("a log for the driver");
        let server = Group::start(command.stdout(Stdio::null()).stderr(log));
        let began = Instant::now();
        while TcpStream::connect((Ipv4Addr::LOCALHOST, port)).is_err() {
            assert!(began.elapsed() < UP, "the driver listens on its port");
            std::thread::sleep(Duration::from_millis(20));
        }
        Self { _server: server, address: format!("http://127.0.0.1:{port}") }
    }
}

/// Where the system keeps what the app hands out.
pub fn downloads(elsewhere: &Path) -> PathBuf {
    elsewhere.join("downloads")
}

/// As a desktop says it (freedesktop.org's xdg-user-dirs).
fn say_where_downloads_go(elsewhere: &Path) {
    let (config, folder) = (elsewhere.join("config"), downloads(elsewhere));
    fs::create_dir_all(&config).and_then(|()| fs::create_dir_all(&folder)).expect("folders of its own");
    let says = format!("XDG_DOWNLOAD_DIR=\"{}\"\n", folder.display());
    fs::write(config.join("user-dirs.dirs"), says).expect("it is said");
}

/// The app as cargo built it, beside the test binary's own folder.
pub fn app() -> PathBuf {
    let me = std::env::current_exe().expect("this test's own path");
    let built = me.ancestors().nth(2).expect("the folder cargo builds in");
    let app = built.join("shadeyard");
    assert!(app.is_file(), "{} is not built: `cargo xtask test` builds it first", app.display());
    app
}

/// Kills the app that holds this yard, as a flat battery would; returns once the system has let go of all it held.
pub fn kill_app(yard: &Path) {
    let wanted = format!("SHADEYARD_YARD={}", yard.display());
    let app = app().to_string_lossy().into_owned();
    let holds = |id: &str| {
        let proc = Path::new("/proc").join(id);
        // A build in between leaves the running program with a mark behind its path.
        let same = fs::read_link(proc.join("exe"))
            .is_ok_and(|exe| exe.to_string_lossy().trim_end_matches(" (deleted)") == app);
        same && fs::read(proc.join("environ"))
            .is_ok_and(|all| all.split(|b| *b == 0).any(|one| one == wanted.as_bytes()))
    };
    let ids: Vec<String> = fs::read_dir("/proc")
        .expect("the list of processes")
        .flatten()
        .filter_map(|entry| entry.file_name().into_string().ok())
        .filter(|name| name.bytes().all(|b| b.is_ascii_digit()))
        .filter(|id| holds(id))
        .collect();
    assert!(!ids.is_empty(), "the app runs on {}", yard.display());
    ids.iter().for_each(|id| kill(id));
    let began = Instant::now();
    while !ids.iter().all(|id| gone(id)) {
        assert!(began.elapsed() < UP, "the app ends when it is killed");
        std::thread::sleep(Duration::from_millis(10));
    }
}

/// Whether nothing of a killed process is left but its name: as long as one of its threads is, so are its locks.
fn gone(id: &str) -> bool {
    let proc = Path::new("/proc").join(id);
    let Ok(stat) = fs::read_to_string(proc.join("stat")) else { return true };
    let ended = stat.rsplit(')').next().is_some_and(|after| after.trim_start().starts_with('Z'));
    ended && fs::read_dir(proc.join("task")).map_or(0, Iterator::count) <= 1
}
