//! The real window, driven as a person would: press, type, read, look, pull the battery.
//!
//! Never here: what a journey does. Invariant: every wait ends: each step has its own limit and the whole
//! test a deadline, so a hang is a failure that says what it waited for.

use std::path::{Path, PathBuf};
use std::sync::{Condvar, Mutex, PoisonError};
use std::time::{Duration, Instant};

use fantoccini::{Client, ClientBuilder, Locator, elements::Element, error::CmdError};
use hyper_util::client::legacy::connect::HttpConnector;
use serde_json::{Value, json};

use super::children::{Driver, Screen, Surroundings, app, downloads, kill_app};

/// One step: a click, a wait for something to show.
const STEP: Duration = Duration::from_secs(15);
/// One test.
const TEST: Duration = Duration::from_secs(420);
/// Between two looks at the page.
const BEAT: Duration = Duration::from_millis(40);

/// The app's window on a private screen, on one yard.
pub struct Window {
    client: Option<Client>,
    runtime: tokio::runtime::Runtime,
    driver: Option<Driver>,
    screen: Screen,
    yard: PathBuf,
    elsewhere: tempfile::TempDir,
    clock: String,
    name: &'static str,
    until: Instant,
    _place: Place,
}

impl Window {
    /// Opens the app on the yard in this folder, at this local time. `name` is the test's: its pictures lie
    /// in `target/pictures/<name>`.
    pub fn open(name: &'static str, yard: &Path, clock: &str) -> Self {
        let place = Place::take();
        let until = Instant::now() + TEST;
        let _absent = std::fs::remove_dir_all(pictures(name));
        let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().expect("a runtime");
        let mut window = Self {
            client: None,
            runtime,
            driver: None,
            screen: Screen::start(),
            yard: yard.to_path_buf(),
            elsewhere: tempfile::tempdir().expect("a folder of its own"),
            clock: clock.to_owned(),
            name,
            until,
            _place: place,
        };
        window.start();
        window
    }

    /// Starts the app (again), at the same hour.
    pub fn start(&mut self) {
        let around = Surroundings { yard: &self.yard, elsewhere: self.elsewhere.path(), clock: &self.clock };
        let driver = Driver::start(&self.screen, &around);
        let options = json!({"webkitgtk:browserOptions": {"binary": app(), "args": []}});
        let Value::Object(options) = options else { unreachable!("an object was written above") };
        let mut builder = ClientBuilder::new(HttpConnector::new());
        builder.capabilities(options);
        let address = driver.address.clone();
        let client =
            self.runtime.block_on(async { tokio::time::timeout(STEP * 2, builder.connect(&address)).await });
        self.driver = Some(driver);
        self.client = Some(client.expect("the window opens in time").expect("the driver opens the window"));
        self.wait_until(
            "the first screen",
            "return document.readyState === 'complete' && !!document.querySelector('main, [role=main]')",
        );
    }

    /// The battery is pulled while the app runs, and the app is started again on the same yard.
    pub fn pull_the_battery(&mut self) {
        self.pull();
        self.start();
    }

    /// The battery is pulled; nothing is started.
    pub fn pull(&mut self) {
        kill_app(&self.yard);
        self.client = None;
        self.driver = None;
    }

    /// Presses the first thing that shows and matches.
    pub fn click(&self, css: &str) {
        let element = self.shown(css);
        self.must(&format!("press {css}"), async { element.click().await });
    }

    /// Presses the button or link with exactly these words on it, else with these words in it.
    pub fn press(&self, words: &str) {
        let find = "const [words] = arguments; const squeeze = t => (t || '').replace(/\\s+/g, ' ').trim();
            const said = el => squeeze(el.getAttribute('aria-label') || el.innerText);
            const all = [...document.querySelectorAll('button, a, summary, label, [role=button], [role=tab], [role=radio]')]
              .filter(el => el.getClientRects().length && !el.disabled);
            const hit = all.find(el => said(el) === words) || all.find(el => said(el).includes(words));
            document.querySelectorAll('[data-pressed]').forEach(el => el.removeAttribute('data-pressed'));
            if (hit) hit.setAttribute('data-pressed', ''); return !!hit;";
        self.wait_with(&format!("something to press that says '{words}'"), find, vec![json!(words)]);
        self.click("[data-pressed]");
    }

    /// Types at the end of what a field holds.
    pub fn type_in(&self, css: &str, text: &str) {
        let element = self.shown(css);
        self.must(&format!("type in {css}"), async { element.send_keys(text).await });
    }

    /// Empties a field as fingers do, by marking all and pressing erase, and types.
    pub fn fill(&self, css: &str, text: &str) {
        const MARK_ALL_AND_ERASE: &str = "\u{e009}a\u{e000}\u{e003}";
        let element = self.shown(css);
        self.must(&format!("empty {css}"), async { element.send_keys(MARK_ALL_AND_ERASE).await });
        self.wait_with(
            &format!("{css} to be empty"),
            "return document.querySelector(arguments[0]).value === ''",
            vec![json!(css)],
        );
        if !text.is_empty() {
            self.must(&format!("type in {css}"), async { element.send_keys(text).await });
        }
    }

    /// Presses keys wherever the keyboard is.
    pub fn keys(&self, keys: &str) {
        let client = self.client();
        self.must("press keys", async { client.active_element().await?.send_keys(keys).await });
    }

    /// Chooses from a list by value. The list's own popup is the toolkit's and out of the driver's reach.
    pub fn choose(&self, css: &str, value: &str) {
        self.wait_for(css);
        let choose = "const [css, value] = arguments; const list = document.querySelector(css);
            list.value = value; list.dispatchEvent(new Event('change', {bubbles: true})); return list.value === value;";
        self.wait_with(&format!("{value} in {css}"), choose, vec![json!(css), json!(value)]);
    }

    /// Gives a file to a file field, shown or not.
    pub fn give_file(&self, css: &str, file: &Path) {
        self.wait_until(css, &format!("return !!document.querySelector({css:?})"));
        let client = self.client();
        let path = file.to_string_lossy().into_owned();
        self.must(&format!("give a file to {css}"), async {
            client.find(Locator::Css(css)).await?.send_keys(&path).await
        });
    }

    /// The words an element shows.
    pub fn text(&self, css: &str) -> String {
        let element = self.shown(css);
        self.must(&format!("read {css}"), async { element.text().await })
    }

    /// All the words on the page.
    pub fn page(&self) -> String {
        self.script("return document.body.innerText", vec![]).as_str().unwrap_or_default().to_owned()
    }

    /// What a field holds.
    pub fn value(&self, css: &str) -> String {
        let held =
            self.script("return document.querySelector(arguments[0])?.value ?? null", vec![json!(css)]);
        held.as_str().map_or_else(|| panic!("{css} is a field"), str::to_owned)
    }

    /// How many elements match and show.
    pub fn count(&self, css: &str) -> u64 {
        let count = "return [...document.querySelectorAll(arguments[0])].filter(el => el.getClientRects().length).length";
        self.script(count, vec![json!(css)]).as_u64().unwrap_or(0)
    }

    /// Waits until something matches and shows.
    pub fn wait_for(&self, css: &str) {
        let shown =
            "return [...document.querySelectorAll(arguments[0])].some(el => el.getClientRects().length)";
        self.wait_with(&format!("{css} to show"), shown, vec![json!(css)]);
    }

    /// Waits until these words stand on the page.
    pub fn wait_words(&self, words: &str) {
        let there = "return document.body.innerText.replace(/\\s+/g, ' ').includes(arguments[0])";
        self.wait_with(&format!("the words '{words}'"), there, vec![json!(words)]);
    }

    /// Waits until this screen is on show: its own name for itself, as the top heading says it.
    pub fn wait_screen(&self, heading: &str) {
        let there = "return document.querySelector('h1')?.innerText.trim() === arguments[0]";
        self.wait_with(&format!("the screen '{heading}'"), there, vec![json!(heading)]);
    }

    /// Opens the page of a log as one finds it: yard, tag, tap.
    pub fn open_log(&self, tag: &str) {
        self.script("location.hash = 'yard'", vec![]);
        self.wait_screen("Yard");
        self.fill("#search", tag);
        let find = "return [...document.querySelectorAll('.log-line')]
            .find(line => line.querySelector('.tag-label').innerText.trim() === arguments[0])?.dataset.log ?? null";
        let there = find.replace("?.dataset.log ?? null", " !== undefined");
        self.wait_with(&format!("log {tag} in the yard"), &there, vec![json!(tag)]);
        let log = self.script(find, vec![json!(tag)]);
        self.click(&format!(".log-line[data-log={log}]"));
        self.wait_screen(&format!("Log {tag}"));
    }

    /// Waits until a script returns true.
    pub fn wait_until(&self, what: &str, script: &str) {
        self.wait_with(what, script, vec![]);
    }

    /// Waits until something outside the window is so.
    pub fn wait_so(&self, what: &str, so: impl Fn() -> bool) {
        let until = self.limit();
        while !so() {
            assert!(Instant::now() < until, "waited in vain for {what}");
            std::thread::sleep(BEAT);
        }
    }

    /// Where the system keeps what the window hands out.
    pub fn downloads(&self) -> PathBuf {
        downloads(self.elsewhere.path())
    }

    /// Runs a script in the page and returns what it returns.
    pub fn script(&self, script: &str, words: Vec<Value>) -> Value {
        let client = self.client();
        self.must("a script", async { client.execute(script, words).await })
    }

    /// Runs a script that calls its last argument when it is done.
    pub fn script_later(&self, script: &str, words: Vec<Value>) -> Value {
        let client = self.client();
        self.must("a script that ends later", async { client.execute_async(script, words).await })
    }

    /// Asks the backend through the window's own door; a refusal comes back as `{"refused": …}`.
    pub fn ask(&self, name: &str, request: Value) -> Value {
        let invoke = "const [name, request, done] = arguments;
            window.__TAURI__.core.invoke('call', {name, request}).then(done, refused => done({refused}));";
        self.script_later(invoke, vec![json!(name), request])
    }

    /// A picture of the window as it is after two frames, kept under the test's name.
    pub fn picture(&self, name: &str) -> Vec<u8> {
        let frames = "const done = arguments[arguments.length - 1];
            requestAnimationFrame(() => requestAnimationFrame(() => done(true)));";
        self.script_later(frames, vec![]);
        let client = self.client();
        let png = self.must("a picture", async { client.screenshot().await });
        let folder = pictures(self.name);
        std::fs::create_dir_all(&folder).expect("a folder for pictures");
        std::fs::write(folder.join(format!("{name}.png")), &png).expect("the picture is kept");
        png
    }

    /// Makes the window this wide and high.
    pub fn resize(&self, width: u32, height: u32) {
        let client = self.client();
        self.must("resize", async { client.set_window_size(width, height).await });
        self.wait_with("the new width", "return window.innerWidth === arguments[0]", vec![json!(width)]);
    }

    /// The way back, as the phone's own button goes it.
    pub fn back(&self) {
        let client = self.client();
        self.must("back", async { client.back().await });
    }

    fn client(&self) -> Client {
        self.client.clone().expect("the window is open")
    }

    fn shown(&self, css: &str) -> Element {
        self.wait_for(css);
        let client = self.client();
        let found = self.must(&format!("find {css}"), async {
            for element in client.find_all(Locator::Css(css)).await? {
                if element.is_displayed().await? {
                    return Ok(Some(element));
                }
            }
            Ok(None)
        });
        let found = found.unwrap_or_else(|| panic!("{css} shows; the page says:\n{}", self.page()));
        // As a thumb does: into the middle, away from the bars at the edges.
        let middle = "arguments[0].scrollIntoView({block: 'center', inline: 'nearest', behavior: 'instant'})";
        let element = serde_json::to_value(&found).expect("an element");
        self.script(middle, vec![element]);
        found
    }

    fn wait_with(&self, what: &str, script: &str, words: Vec<Value>) {
        let until = self.limit();
        loop {
            if self.script(script, words.clone()) == Value::Bool(true) {
                return;
            }
            assert!(Instant::now() < until, "waited in vain for {what}; the page says:\n{}", self.page());
            std::thread::sleep(BEAT);
        }
    }

    fn must<T>(&self, what: &str, work: impl Future<Output = Result<T, CmdError>>) -> T {
        let left = self.limit().saturating_duration_since(Instant::now());
        match self.runtime.block_on(async { tokio::time::timeout(left, work).await }) {
            Ok(Ok(value)) => value,
            Ok(Err(err)) => panic!("{what}: {err:?}"),
            Err(_) => panic!("{what}: no answer within {left:?}"),
        }
    }

    fn limit(&self) -> Instant {
        (Instant::now() + STEP).min(self.until)
    }
}

impl Drop for Window {
    /// A failed test leaves a picture of where it stood.
    fn drop(&mut self) {
        let Some(client) = self.client.take().filter(|_| std::thread::panicking()) else { return };
        let last = self.runtime.block_on(async { tokio::time::timeout(STEP, client.screenshot()).await });
        if let Ok(Ok(png)) = last {
            let folder = pictures(self.name);
            let _made = std::fs::create_dir_all(&folder);
            let _kept = std::fs::write(folder.join("failed.png"), png);
        }
    }
}

/// Where a test's pictures lie.
pub fn pictures(name: &str) -> PathBuf {
    let built = app().parent().and_then(Path::parent).map(Path::to_path_buf);
    built.expect("the folder cargo builds in").join("pictures").join(name)
}

/// At most two windows at once: each is an app, a browser engine and a screen.
struct Place;

static OPEN: (Mutex<u8>, Condvar) = (Mutex::new(0), Condvar::new());

impl Place {
    fn take() -> Self {
        let mut open = OPEN.0.lock().unwrap_or_else(PoisonError::into_inner);
        while *open >= 2 {
            open = OPEN.1.wait(open).unwrap_or_else(PoisonError::into_inner);
        }
        *open += 1;
        Self
    }
}

impl Drop for Place {
    fn drop(&mut self) {
        *OPEN.0.lock().unwrap_or_else(PoisonError::into_inner) -= 1;
        OPEN.1.notify_one();
    }
}
