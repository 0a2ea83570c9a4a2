//! The TypeScript declarations of what goes over to the screens, gathered from the Rust types.
//! Never written by hand.
//! Invariant: the same Rust types give the same text, and no two types share a name.

use std::collections::BTreeMap;
use std::collections::btree_map::Entry;
use std::fmt::Write as _;
use ts_rs::{Config, TS, TypeVisitor};

/// Declarations by name, and the commands that use them.
pub(crate) struct Types {
    config: Config,
    declarations: BTreeMap<String, String>,
    commands: Vec<String>,
}

impl Default for Types {
    fn default() -> Self {
        let config = Config::new().with_large_int("number");
        Self { config, declarations: BTreeMap::new(), commands: Vec::new() }
    }
}

impl Types {
    /// Adds a command with its request and reply.
    pub(crate) fn command<Ask: TS + 'static, Reply: TS + 'static>(&mut self, name: &str) {
        self.visit::<Ask>();
        self.visit::<Reply>();
        let (ask, reply) = (Ask::name(&self.config), Reply::name(&self.config));
        self.commands.push(format!("  {name}: {{ request: {ask}; reply: {reply} }};"));
    }

    /// The whole text.
    pub(crate) fn text(&self) -> String {
        let mut text =
            String::from("// Made from the Rust types by `cargo xtask types`. Never edited by hand.\n\n");
        for declaration in self.declarations.values() {
            let _ = writeln!(text, "export {declaration}\n");
        }
        let _ = writeln!(text, "export interface Commands {{\n{}\n}}", self.commands.join("\n"));
        text
    }
}

impl TypeVisitor for Types {
    fn visit<T: TS + 'static + ?Sized>(&mut self) {
        if T::output_path().is_none() {
            // A built-in type has no declaration, but those inside it may.
            T::visit_generics(self);
            return;
        }
        let (name, declaration) = (T::ident(&self.config), T::decl(&self.config));
        match self.declarations.entry(name) {
            Entry::Occupied(known) => {
                assert_eq!(*known.get(), declaration, "two types go to the screens as {}", known.key());
                return;
            }
            Entry::Vacant(free) => free.insert(declaration),
        };
        T::visit_dependencies(self);
        T::visit_generics(self);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    mod elsewhere {
        #[derive(ts_rs::TS)]
        pub(super) struct Row {
            _day: String,
        }
    }

    #[derive(TS)]
    struct Row {
        _grams: i64,
    }

    #[test]
    fn one_type_may_come_twice() {
        let mut types = Types::default();
        types.command::<Row, Row>("weigh");
        assert!(types.text().contains("weigh: { request: Row; reply: Row }"));
    }

    /// Two rooms once both had a `Row`, and the screens were told the fields of one only.
    #[test]
    #[should_panic(expected = "two types go to the screens as Row")]
    fn two_types_of_one_name_are_refused() {
        Types::default().command::<Row, elsewhere::Row>("weigh");
    }
}
