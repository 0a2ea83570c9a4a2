//! Closed lists of words: one spelling in SQL, Rust, JSON and types.
//! Never a word for the screen.
//! Invariant: a word that this version does not know reads as `None`, never as another word.

/// Defines an enum whose values are fixed words.
macro_rules! words {
    ($(#[$doc:meta])* pub enum $name:ident { $($(#[$vdoc:meta])* $variant:ident = $word:literal),+ $(,)? }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize, serde::Deserialize, ts_rs::TS)]
        pub enum $name {
            $($(#[$vdoc])* #[serde(rename = $word)] $variant),+
        }

        impl $name {
            /// All of them, in their natural order.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];

            /// The word itself.
            pub fn word(self) -> &'static str {
                match self { $(Self::$variant => $word),+ }
            }

            /// The value of a word; `None` for one this version does not know.
            pub fn of(word: &str) -> Option<Self> {
                match word { $($word => Some(Self::$variant),)+ _ => None }
            }
        }

        impl From<$name> for serde_json::Value {
            fn from(value: $name) -> Self {
                Self::String(value.word().to_owned())
            }
        }
    };
}

pub(crate) use words;
