//! Fences of the pages: one door to the backend, no markup made from text, imports that go down only.
//!
//! Never here: colours (their own file). Invariant: what the content security policy would block in the
//! window is caught here before anyone opens the window.

use super::tree::{Breach, File, Tree, without_comments};

/// The only file that talks to the shell.
const DOOR: &str = "ui/api/call.js";

/// One door to the backend, and it is there.
pub fn one_call(tree: &Tree) -> Vec<Breach> {
    let needle = "__TAURI__";
    let mut breaches: Vec<Breach> = tree
        .pages(&[".js", ".html"])
        .filter(|file| file.path != DOOR)
        .filter_map(|file| without_comments(&file.text, false).find(needle).map(|at| (file, at)))
        .map(|(file, at)| file.breach(at, format!("only {DOOR} names {needle}")))
        .collect();
    let pages = tree.pages(&[".js"]).next().is_some();
    if pages && !tree.files.iter().any(|file| file.path == DOOR && file.text.contains(needle)) {
        let says = format!("{DOOR} is the one file that names {needle}, and it does not");
        breaches.push(Breach { path: DOOR.to_owned(), line: 1, says });
    }
    breaches
}

/// Ways by which a note with markup in it could become markup, and styles the policy blocks.
const MARKUP: [&str; 8] = [
    "innerHTML",
    "outerHTML",
    "insertAdjacentHTML",
    "document.write",
    "unsafeHTML",
    "unsafeSVG",
    "styleMap",
    "setAttribute('style'",
];

/// No markup made from text, no style attribute.
pub fn no_markup_from_text(tree: &Tree) -> Vec<Breach> {
    let mut breaches = Vec::new();
    for file in tree.pages(&[".js", ".html"]) {
        let code = without_comments(&file.text, false);
        for needle in MARKUP {
            breaches.extend(
                code.find(needle).map(|at| file.breach(at, format!("{needle}: text is never markup here"))),
            );
        }
        for (at, _) in code.match_indices("style=") {
            let before = code[..at].chars().next_back().unwrap_or(' ');
            if before.is_whitespace() {
                breaches
                    .push(file.breach(at, "the policy blocks a style attribute: use a class or el.style"));
            }
        }
        if file.path.ends_with(".html") {
            breaches.extend(inline(file));
        }
    }
    breaches
}

/// `<script>` without a source and `<style>` are blocked by the policy.
fn inline(file: &File) -> Vec<Breach> {
    let script = file.text.match_indices("<script").filter(|(at, _)| {
        let tag = &file.text[*at..];
        !tag[..tag.find('>').unwrap_or(tag.len())].contains("src=")
    });
    let style = file.text.match_indices("<style");
    script
        .chain(style)
        .map(|(at, _)| file.breach(at, "inline script and style are blocked: use a file"))
        .collect()
}

/// What of the door is no call: an address and a shape, worked out where it stands.
const NO_CALL: [&str; 2] = ["photoUrl", "refused"];

/// Components and lib never call the backend, and nothing is imported from elsewhere.
pub fn imports(tree: &Tree) -> Vec<Breach> {
    let mut breaches = Vec::new();
    for file in tree.pages(&[".js"]) {
        let below = file.path.starts_with("ui/components/") || file.path.starts_with("ui/lib/");
        for Import { at, target, names } in imported(file) {
            let types = target.starts_with("ui/api/types");
            let calls = names.is_empty() || names.iter().any(|name| !NO_CALL.contains(&name.as_str()));
            if below && target.starts_with("ui/api/") && !types && calls {
                breaches
                    .push(file.breach(at, format!("components and lib never call the backend: {target}")));
            }
            if target.starts_with("http") {
                breaches.push(file.breach(at, "everything is served from the app: no import from elsewhere"));
            }
        }
    }
    breaches
}

/// One import of a module.
struct Import {
    at: usize,
    /// As a path from the top.
    target: String,
    /// What is taken; none when the whole module is.
    names: Vec<String>,
}

fn imported(file: &File) -> Vec<Import> {
    let code = without_comments(&file.text, false);
    let mut found = Vec::new();
    for word in ["from ", "import ", "import("] {
        for (at, _) in code.match_indices(word) {
            let rest = code[at + word.len()..].trim_start();
            let Some(quote) = rest.chars().next().filter(|c| *c == '\'' || *c == '"') else { continue };
            let Some(target) = rest[1..].split(quote).next() else { continue };
            let names = if word == "from " { named(&code[..at]) } else { Vec::new() };
            found.push(Import { at, target: resolve(&file.path, target), names });
        }
    }
    found
}

/// The names in the braces that end just before `from`, without what they are renamed to.
fn named(before: &str) -> Vec<String> {
    let Some(open) =
        before.trim_end().strip_suffix('}').and_then(|text| text.rfind('{').map(|at| &text[at + 1..]))
    else {
        return Vec::new();
    };
    let name = |part: &str| part.split_whitespace().next().map(str::to_owned);
    open.split(',').filter_map(name).collect()
}

fn resolve(from: &str, target: &str) -> String {
    if target.contains("://") {
        return target.to_owned();
    }
    let mut parts: Vec<&str> = if target.starts_with('/') { vec!["ui"] } else { from.split('/').collect() };
    if !target.starts_with('/') {
        parts.pop();
    }
    for part in target.split('/') {
        match part {
            "" | "." => {}
            ".." => {
                parts.pop();
            }
            other => parts.push(other),
        }
    }
    parts.join("/")
}

#[cfg(test)]
mod tests {
    use super::*;

    const CALL: (&str, &str) = (DOOR, "window.__TAURI__.core");

    #[test]
    fn a_second_door_to_the_backend_is_caught() {
        assert_eq!(one_call(&Tree::of(&[CALL])).len(), 0);
        assert_eq!(one_call(&Tree::of(&[CALL, ("ui/yard/screen.js", "window.__TAURI__.x")])).len(), 1);
        assert_eq!(one_call(&Tree::of(&[("ui/yard/screen.js", "")])).len(), 1, "no door at all");
    }

    #[test]
    fn text_made_into_markup_is_caught() {
        let of = |text| no_markup_from_text(&Tree::of(&[("ui/yard/parts.js", text)])).len();
        assert_eq!(of("el.innerHTML = note"), 1);
        assert_eq!(of("html`<p style=\"color:x\">`"), 1);
        assert_eq!(of("// innerHTML never\nel.style.width = w; html`<p class=${c}>`"), 0);
        let of = |text| no_markup_from_text(&Tree::of(&[("ui/index.html", text)])).len();
        assert_eq!(of("<script>go()</script><style>a{}</style>"), 2);
        assert_eq!(of("<script type=\"module\" src=\"app.js\"></script>"), 0);
    }

    #[test]
    fn a_component_that_calls_the_backend_is_caught() {
        let of = |path, text| imports(&Tree::of(&[(path, text)])).len();
        assert_eq!(of("ui/components/tally.js", "import { call } from '../api/call.js'"), 1);
        assert_eq!(of("ui/lib/format.js", "const m = await import('../api/call.js')"), 1);
        assert_eq!(of("ui/lib/format.js", "import { html } from '../vendor/lit-html/lit-html.js'"), 0);
        assert_eq!(of("ui/yard/screen.js", "import { call } from '../api/call.js'"), 0);
        assert_eq!(of("ui/components/photo.js", "import { photoUrl } from '../api/call.js'"), 0);
        assert_eq!(of("ui/lib/x.js", "import { photoUrl, call as ask } from '../api/call.js'"), 1);
        assert_eq!(of("ui/lib/x.js", "import * as door from '../api/call.js'"), 1);
        assert_eq!(of("ui/yard/screen.js", "import x from 'https://elsewhere/x.js'"), 1);
    }
}
