//! What a claim rests on.

record! {
    /// A document that a claimed fact rests on.
    Evidence {
        /// The document: report, submittal, letter, calculation.
        document: String, like "Blower door report 2025-041";
        /// Who signed it.
        by: String;
        /// Its date, `YYYY-MM-DD`.
        date: String, like "2025-03-14";
        /// Whether the authority has accepted it.
        accepted: bool;
    }
}

record! {
    /// A listing: the mark of a testing agency on the equipment.
    Listing {
        /// Whether it is listed and labelled.
        listed: bool;
        /// The standard it is listed to.
        standard: String, like "UL 9540";
        /// The edition of the standard.
        edition: String;
        /// What the listing allows it to be used for, in its own words.
        marked_for: String as descriptive;
    }
}
