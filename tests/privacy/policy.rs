//! What the window may load and call: the policy and the permissions it is built with.
//! Never how a page looks.
//! Invariant: what is allowed is on a list here; anything new fails until it is on it.

use serde_json::{Value, json};
use std::collections::BTreeMap;

fn shell(file: &str) -> Value {
    let path = format!("{}/../src-tauri/{file}", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(&path).unwrap_or_else(|err| panic!("{path}: {err}"));
    serde_json::from_str(&text).unwrap_or_else(|err| panic!("{path}: {err}"))
}

fn directives(policy: &str) -> BTreeMap<String, Vec<String>> {
    let parts = policy.split(';').map(|part| part.split_whitespace().map(str::to_owned));
    parts.filter_map(|mut words| Some((words.next()?, words.collect()))).collect()
}

#[test]
fn the_policy_lets_the_window_load_its_own_files_and_photos_and_nothing_else() {
    let conf = shell("tauri.conf.json");
    let security = &conf["app"]["security"];
    let policy = directives(security["csp"].as_str().expect("a policy"));
    let expected: [(&str, &[&str]); 10] = [
        ("default-src", &["'none'"]),
        ("script-src", &["'self'"]),
        ("style-src", &["'self'"]),
        ("font-src", &["'self'"]),
        ("img-src", &["'self'", "photo:", "http://photo.localhost", "blob:"]),
        ("connect-src", &["'self'", "ipc:", "http://ipc.localhost"]),
        ("form-action", &["'none'"]),
        ("base-uri", &["'none'"]),
        ("object-src", &["'none'"]),
        ("frame-src", &["'none'"]),
    ];
    for (name, sources) in &policy {
        let allowed = expected.iter().find(|(known, _)| known == name).map(|(_, sources)| *sources);
        let allowed = allowed.unwrap_or_else(|| panic!("{name} is not on the list"));
        for source in sources {
            assert!(allowed.contains(&source.as_str()), "{name} allows {source}");
            assert!(!source.contains("unsafe") && !source.contains('*'), "{name} allows {source}");
            // Windows and Android speak to the app itself under these names; no packet leaves for them.
            let inside = ["http://photo.localhost", "http://ipc.localhost"].contains(&source.as_str());
            assert!(inside || !source.starts_with("http"), "{name} allows {source}");
        }
    }
    for (name, _) in expected {
        assert!(policy.contains_key(name), "{name} is said: what is not falls open or to the default");
    }
    for loose in ["devCsp", "dangerousDisableAssetCspModification", "assetProtocol", "headers"] {
        assert!(security.get(loose).is_none(), "{loose} loosens the policy");
    }
}

#[test]
fn the_window_may_call_nothing_of_the_shells() {
    let conf = shell("tauri.conf.json");
    assert_eq!(conf["app"]["security"]["capabilities"], json!(["main"]));
    assert_eq!(conf["app"]["security"]["freezePrototype"], true);
    assert!(conf.get("plugins").is_none(), "no plug-in is set up");
    let folder = format!("{}/../src-tauri/capabilities", env!("CARGO_MANIFEST_DIR"));
    let mut files: Vec<String> = std::fs::read_dir(folder)
        .expect("the capabilities")
        .map(|entry| entry.expect("a file").file_name().to_string_lossy().into_owned())
        .collect();
    files.sort();
    assert_eq!(files, ["main.json"]);
    let main = shell("capabilities/main.json");
    assert_eq!(main["permissions"], json!([]), "its own one command needs none");
    assert_eq!(main["windows"], json!(["main"]));
    assert!(main.get("remote").is_none() && main.get("webviews").is_none(), "no page from elsewhere");
}

#[test]
fn the_page_names_no_address_out_of_the_app() {
    let ui = format!("{}/../ui", env!("CARGO_MANIFEST_DIR"));
    let mut seen = 0;
    for file in pages(std::path::Path::new(&ui)) {
        let text = std::fs::read_to_string(&file).unwrap_or_default();
        for (at, _) in text.match_indices("://") {
            let before = text[..at].rsplit(|c: char| !c.is_ascii_alphanumeric()).next().unwrap_or_default();
            let line = text[at..].lines().next().unwrap_or_default();
            // The name of SVG's namespace is a name, not an address.
            let fine = line.starts_with("://www.w3.org/2000/svg")
                || !["http", "https", "ws", "wss"].contains(&before);
            assert!(fine, "{}: {before}{line}", file.display());
        }
        seen += 1;
    }
    assert!(seen > 20, "the pages were read");
}

/// Scripts, styles and pages of the app's own: the one library is checked by what it may load.
fn pages(folder: &std::path::Path) -> Vec<std::path::PathBuf> {
    let mut found = Vec::new();
    for entry in std::fs::read_dir(folder).expect("a folder").flatten() {
        let path = entry.path();
        let name = entry.file_name();
        if path.is_dir() && name != "vendor" && name != "node_modules" {
            found.extend(pages(&path));
        } else if path.extension().is_some_and(|end| ["js", "css", "html"].iter().any(|known| end == *known))
        {
            found.push(path);
        }
    }
    found
}
