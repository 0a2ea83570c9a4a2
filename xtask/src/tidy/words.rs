//! Words that never stand in the repository.
//!
//! Never here: spelling. Invariant: each needle is put together from pieces, so that this file does not
//! catch itself.

use super::tree::{Breach, Tree};

/// Folders of one machine.
pub fn machine(tree: &Tree) -> Vec<Breach> {
    let needles = [["/wo", "rk/"], ["/tmp/ho", "use"], ["/ro", "ot/"]];
    find(tree, &needles, "a folder of one machine: nobody else has it", |_| true)
}

/// Hosts packages were fetched from: which registry serves is each operator's own matter.
pub fn registries(tree: &Tree) -> Vec<Breach> {
    let needles = [
        ["registry.npm", "js.org"],
        ["index.crates", ".io"],
        ["static.crates", ".io"],
        ["files.python", "hosted"],
        ["deb.deb", "ian.org"],
        ["\"resol", "ved\":"],
    ];
    find(tree, &needles, "names where packages come from", |_| true)
}

/// Work left for later, and tests switched off.
pub fn unfinished(tree: &Tree) -> Vec<Breach> {
    let anywhere = [["TO", "DO"], ["FIX", "ME"]];
    let rust = [
        ["todo", "!("],
        ["unimplemented", "!("],
        ["#[igno", "re"],
        ["assert!(tr", "ue)"],
        ["assert!(tr", "ue,"],
    ];
    let js =
        [["test.sk", "ip"], ["it.sk", "ip"], ["describe.sk", "ip"], ["test.to", "do"], ["@ts-igno", "re"]];
    let says = "nothing is left for later here: finish it or leave it out";
    let mut breaches = find(tree, &anywhere, says, |_| true);
    breaches.extend(find(tree, &rust, says, |path| path.ends_with(".rs")));
    breaches.extend(find(tree, &js, says, |path| path.ends_with(".js") || path.ends_with(".mjs")));
    breaches
}

fn find(tree: &Tree, needles: &[[&str; 2]], says: &str, wanted: impl Fn(&str) -> bool) -> Vec<Breach> {
    let mut breaches = Vec::new();
    for file in tree.files.iter().filter(|file| wanted(&file.path)) {
        for needle in needles.iter().map(|pieces| pieces.concat()) {
            breaches.extend(file.text.find(&needle).map(|at| file.breach(at, format!("'{needle}': {says}"))));
        }
    }
    breaches
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tree(path: &str, pieces: [&str; 2]) -> Tree {
        Tree::of(&[(path, &pieces.concat())])
    }

    #[test]
    fn a_folder_of_one_machine_is_caught() {
        assert_eq!(machine(&tree("README.md", ["see /wo", "rk/main"])).len(), 1);
        assert_eq!(machine(&tree("README.md", ["see ", "target/pictures"])).len(), 0);
    }

    #[test]
    fn a_registry_host_is_caught() {
        assert_eq!(registries(&tree("xtask/npm/package-lock.json", ["\"resol", "ved\": \"x\""])).len(), 1);
        assert_eq!(registries(&tree("xtask/npm/package-lock.json", ["\"integ", "rity\": \"x\""])).len(), 0);
    }

    #[test]
    fn work_left_for_later_and_tests_switched_off_are_caught() {
        assert_eq!(unfinished(&tree("ui/a.css", ["/* TO", "DO */"])).len(), 1);
        assert_eq!(unfinished(&tree("tests/a.rs", ["#[igno", "re]"])).len(), 1);
        assert_eq!(unfinished(&tree("tests/ui/a.test.js", ["test.sk", "ip('x')"])).len(), 1);
        assert_eq!(unfinished(&tree("tests/a.rs", ["assert!(tr", "ue)"])).len(), 1);
        assert_eq!(unfinished(&tree("tests/a.rs", ["assert!(tr", "ue_life > 3)"])).len(), 0);
    }
}
