//! The kinds of complaints: every one there is, and a page about each.
//!
//! A code is a word for programs and a page for people: what it means, an example, what to do. The pages are Markdown under
//! `pages/`; `redtag explain CODE` prints one. A test holds that every kind has a page and that every kind can occur.

use serde::{Serialize, Serializer};
use std::fmt;

/// Declares the kinds, each with the word that reports carry.
macro_rules! codes {
    ($($variant:ident $word:literal,)*) => {
        /// What kind of complaint. A word never changes its meaning.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        #[expect(missing_docs, reason = "the page of each kind says what it is")]
        pub enum Code { $($variant,)* }

        impl Code {
            /// Every kind there is.
            pub const ALL: &[Self] = &[$(Self::$variant,)*];

            /// The word in reports, in kebab-case: `unknown-field`.
            pub const fn word(self) -> &'static str {
                match self { $(Self::$variant => $word,)* }
            }
        }
    };
}

codes! {
    // About every document: pages/documents.md.
    UnreadableFile "unreadable-file",
    TooLarge "too-large",
    NotUtf8 "not-utf8",
    ByteOrderMark "byte-order-mark",
    EmptyFile "empty-file",
    InvalidJson "invalid-json",
    TooDeep "too-deep",
    DuplicateKey "duplicate-key",
    UnknownSchema "unknown-schema",
    UnknownField "unknown-field",
    MissingField "missing-field",
    WrongType "wrong-type",
    UnknownChoice "unknown-choice",
    OutOfBounds "out-of-bounds",
    BadAmount "bad-amount",
    BareNumber "bare-number",
    BadDate "bad-date",
    ImpossibleAmount "impossible-amount",
    UnusualAmount "unusual-amount",
    DoesNotFit "does-not-fit",
    DuplicateId "duplicate-id",
    DanglingReference "dangling-reference",
    WrongReference "wrong-reference",
    MoreComplaints "more-complaints",
    BadSchema "bad-schema",
    ReaderDisagrees "reader-disagrees",
    // About projects: pages/projects.md.
    TooFewCorners "too-few-corners",
    TooManyCorners "too-many-corners",
    NoArea "no-area",
    RepeatedCorner "repeated-corner",
    CrossingOutline "crossing-outline",
    OutsideItsSpace "outside-its-space",
    AboveTheCeiling "above-the-ceiling",
    BodiesOverlap "bodies-overlap",
    OddPair "odd-pair",
    Contradiction "contradiction",
    BadPackReference "bad-pack-reference",
    NotReviewed "not-reviewed",
    // About packs: pages/packs.md.
    UnreadablePack "unreadable-pack",
    UnreadablePacks "unreadable-packs",
    NoManifest "no-manifest",
    NoBasePack "no-base-pack",
    NoPack "no-pack",
    MissingPack "missing-pack",
    NoVersionInRange "no-version-in-range",
    TwoVersions "two-versions",
    NotInForce "not-in-force",
    PackCycle "pack-cycle",
    PackIsSource "pack-is-source",
    MissingFile "missing-file",
    UnlistedModule "unlisted-module",
    NoDigest "no-digest",
    WrongDigest "wrong-digest",
    BadDigest "bad-digest",
    BadName "bad-name",
    BadVersion "bad-version",
    BadVersionRange "bad-version-range",
    BadPath "bad-path",
    BadPeriod "bad-period",
    NeverInForce "never-in-force",
    BadContract "bad-contract",
    UnknownContract "unknown-contract",
    DuplicateModule "duplicate-module",
    RuleInTwoModules "rule-in-two-modules",
    TooMany "too-many",
    TextTooLong "text-too-long",
    // About amendments: pages/amendments.md.
    UnknownRule "unknown-rule",
    UnknownFigure "unknown-figure",
    UnknownParameter "unknown-parameter",
    NotBelow "not-below",
    AmendedTwice "amended-twice",
    Conflict "conflict",
    NoEffect "no-effect",
    SetInOneRule "set-in-one-rule",
    CitesNothing "cites-nothing",
    ReplacedByItself "replaced-by-itself",
    ReplacedInACircle "replaced-in-a-circle",
    ReplacedByDormant "replaced-by-dormant",
    ReplacementWithdrawn "replacement-withdrawn",
    RepeatedChoice "repeated-choice",
    UnreadableAmount "unreadable-amount",
    WrongDimension "wrong-dimension",
    ValueOutOfRange "value-out-of-range",
    // About cases: pages/cases.md.
    BlockWithoutRole "block-without-role",
    UnknownBlock "unknown-block",
    MisplacedBlock "misplaced-block",
    RepeatedBlock "repeated-block",
    CaseWithoutKind "case-without-kind",
    UnknownKind "unknown-kind",
    CaseWithoutFindings "case-without-findings",
    CaseWithoutProject "case-without-project",
    KindNotShown "kind-not-shown",
    BadChange "bad-change",
    ChangeDoesNotFit "change-does-not-fit",
    // About trust: pages/trust.md.
    PackDrift "pack-drift",
    PackNotLocked "pack-not-locked",
    ModelCodeReplaced "model-code-replaced",
    RequiredPackDropped "required-pack-dropped",
    LocksDisagree "locks-disagree",
    LockedTwice "locked-twice",
    BadTrustPath "bad-trust-path",
    UnreadableTrust "unreadable-trust",
    NoSigners "no-signers",
    BadSigner "bad-signer",
    UnsignedPack "unsigned-pack",
    BadSignature "bad-signature",
    UntrustedSignature "untrusted-signature",
    BadKey "bad-key",
}

const PAGES: [&str; 6] = [
    include_str!("pages/documents.md"),
    include_str!("pages/projects.md"),
    include_str!("pages/packs.md"),
    include_str!("pages/amendments.md"),
    include_str!("pages/cases.md"),
    include_str!("pages/trust.md"),
];

impl Code {
    /// The kind with this word.
    pub fn find(word: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|code| code.word() == word)
    }

    /// Whether it says that a pack is not the one the lock file or the trust file allows. One such pack stops a whole run
    /// before any rule runs.
    pub fn breaks_trust(self) -> bool {
        matches!(
            self,
            Self::PackDrift
                | Self::PackNotLocked
                | Self::ModelCodeReplaced
                | Self::LocksDisagree
                | Self::UnsignedPack
                | Self::BadSignature
                | Self::UntrustedSignature
        )
    }

    /// Whether it says that what is told cannot be so: an amount nobody can build, two facts that cannot both be true. A case of
    /// a rule may hold such things: a rule answers the stricter way by itself, not because a document would have been refused.
    pub fn is_about_the_facts(self) -> bool {
        matches!(self, Self::Contradiction | Self::ImpossibleAmount)
    }

    /// Whether it only says that a drawing is not finished: rooms and bodies that do not fit one another yet. What can be
    /// reviewed is reviewed all the same where the reader is drawing.
    pub fn is_about_the_drawing(self) -> bool {
        matches!(
            self,
            Self::TooFewCorners
                | Self::TooManyCorners
                | Self::NoArea
                | Self::RepeatedCorner
                | Self::CrossingOutline
                | Self::OutsideItsSpace
                | Self::AboveTheCeiling
                | Self::BodiesOverlap
        )
    }

    /// Its page, in Markdown: what it means, an example, what to do. A test holds that each has one.
    pub fn page(self) -> &'static str {
        let heading = format!("## {}\n", self.word());
        let found = PAGES.iter().find_map(|pages| pages.split_once(heading.as_str()));
        found.map(|(_, rest)| rest.split("\n## ").next().unwrap_or(rest).trim()).unwrap_or_default()
    }
}

impl fmt::Display for Code {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

impl Serialize for Code {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.serialize_str(self.word())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn every_kind_has_a_page_of_three_parts() {
        for code in Code::ALL {
            let page = code.page();
            let parts: Vec<&str> = page.split("\n\n").collect();
            assert!(parts.len() >= 3, "{code}: what it means, an example, what to do:\n{page}");
            assert!(parts[1..].iter().any(|part| part.starts_with("Example: ")), "{code} shows no example");
            assert!(parts.last().is_some_and(|part| part.starts_with("What to do: ")), "{code} does not say what to do");
        }
    }

    #[test]
    fn no_page_is_about_a_kind_that_is_not_there() {
        let headings = PAGES.iter().flat_map(|pages| pages.lines()).filter_map(|line| line.strip_prefix("## "));
        let known: BTreeSet<&str> = Code::ALL.iter().map(|code| code.word()).collect();
        let mut seen = BTreeSet::new();
        for heading in headings {
            assert!(known.contains(heading) && seen.insert(heading), "{heading}");
        }
        assert_eq!(seen, known);
    }

    #[test]
    fn words_are_the_names_in_kebab_case() {
        for code in Code::ALL {
            let mut kebab = String::new();
            for letter in format!("{code:?}").chars() {
                if letter.is_ascii_uppercase() && !kebab.is_empty() {
                    kebab.push('-');
                }
                kebab.push(letter.to_ascii_lowercase());
            }
            assert_eq!(kebab, code.word());
            assert_eq!(Code::find(code.word()), Some(*code));
        }
        assert_eq!(Code::find("nothing"), None);
    }
}
