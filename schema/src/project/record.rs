//! The two shapes everything in a project has: a record and a word.
//!
//! Written once here, so that no field can break the rules of the document: everything but ids and kinds may be left out
//! (and then rules say `unresolved`), names are snake_case, words are kebab-case, ids and references say in the JSON Schema
//! what they identify and refer to, a misspelt field is refused by the JSON Schema, and a rule module built years ago still
//! reads a project that has fields and words it does not know: to it they are not said.

/// A record: `Name("class"): Kind { field: Type as descriptive => "class referred to", like "example"; }`.
///
/// * `("class")` gives the record an `id`, unique in the whole file, and a `note` for people.
/// * `: Kind` gives it a `kind`, which must be there.
/// * Every other field becomes an `Option`.
/// * `as descriptive` marks a fact that is there for people: no rule reads it, and that is meant so.
/// * `=> "class"` or `=> ["class", "class"]` makes a field, or each item of a list, the id of another record.
/// * `like "example"` shows how the field is written.
macro_rules! record {
    (
        $(#[$meta:meta])*
        $name:ident $(($class:literal))? $(: $kind:ty)? {
            $($(#[$field_meta:meta])* $field:ident: $type:ty $(as $mark:ident)? $(=> $refers:tt)? $(, like $example:tt)?;)*
        }
    ) => {
        $(#[$meta])*
        #[derive(Debug, Clone, Default, PartialEq, serde::Serialize)]
        #[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema), schemars(deny_unknown_fields))]
        pub struct $name {
            $(
                /// Its id, unique in the whole file.
                #[cfg_attr(feature = "json-schema", schemars(extend("x-identifies" = $class)))]
                pub id: String,
            )?
            $(
                /// What kind it is.
                pub kind: $kind,
            )?
            $(
                $(#[$field_meta])*
                #[serde(skip_serializing_if = "Option::is_none")]
                $(#[cfg_attr(feature = "json-schema", schemars(extend("x-descriptive" = stringify!($mark) == "descriptive")))])?
                $(#[cfg_attr(feature = "json-schema", schemars(extend("x-refers-to" = $refers)))])?
                $(#[cfg_attr(feature = "json-schema", schemars(extend("examples" = [$example])))])?
                pub $field: Option<$type>,
            )*
            $(
                #[doc = concat!("A remark for people about this ", $class, "; no rule reads it.")]
                #[cfg_attr(feature = "json-schema", schemars(extend("x-descriptive" = true)))]
                #[serde(skip_serializing_if = "Option::is_none")]
                pub note: Option<String>,
            )?
        }

        impl crate::project::Read for $name {
            #[allow(unused_variables)] // A record without fields leaves them idle.
            fn read_from(value: &mut serde_json::Value, reader: &mut crate::project::Reader) -> Self {
                let mut record = Self::default();
                if let Some(fields) = reader.object(value) {
                    $(crate::project::read::required(fields, { let _: &str = $class; "id" }, &mut record.id, reader);)?
                    $(crate::project::read::required::<$kind>(fields, "kind", &mut record.kind, reader);)?
                    $(crate::project::read::optional(fields, stringify!($field), &mut record.$field, reader);)*
                    $(crate::project::read::optional(fields, { let _: &str = $class; "note" }, &mut record.note, reader);)?
                }
                record
            }
        }

        read_by_value!($name);
    };
}

/// A closed set of words: `Name { Variant "word", }`.
macro_rules! words {
    ($(#[$meta:meta])* $name:ident { $($(#[$variant_meta:meta])* $variant:ident $word:literal,)+ }) => {
        $(#[$meta])*
        #[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Hash, PartialOrd, Ord, serde::Serialize)]
        #[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
        pub enum $name {
            $(
                $(#[$variant_meta])*
                #[serde(rename = $word)]
                $variant,
            )+
            /// A word of a later version of this document. To a rule it says no more than nothing.
            #[default]
            #[serde(rename = "unrecognised")]
            #[cfg_attr(feature = "json-schema", schemars(skip))]
            Unrecognised,
        }

        impl $name {
            /// Every word of this version.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];

            /// The word in documents.
            pub const fn word(self) -> &'static str {
                match self {
                    $(Self::$variant => $word,)+
                    Self::Unrecognised => "unrecognised",
                }
            }
        }

        impl crate::project::Read for $name {
            fn read_from(value: &mut serde_json::Value, reader: &mut crate::project::Reader) -> Self {
                const WORDS: &[&str] = &[$($word),+];
                let at = reader.word(value, WORDS);
                Self::ALL.get(at).copied().unwrap_or(Self::Unrecognised)
            }

            fn is_said(&self) -> bool {
                *self != Self::Unrecognised
            }
        }

        read_by_value!($name);

        impl crate::contract::IntoPart for $name {
            fn part(&self) -> crate::contract::Part {
                crate::contract::Part::Words(self.to_string())
            }
        }

        /// The word in a sentence, without hyphens.
        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str(&self.word().replace('-', " "))
            }
        }
    };
}
