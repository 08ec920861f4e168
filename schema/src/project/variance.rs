//! Variances: what the authority has granted.

record! {
    /// An approval of the authority to depart from one rule for one subject. It settles the correction of that rule about that
    /// subject, which stays in the report, and nothing else; without a document and a last day it settles nothing.
    Variance("variance") {
        /// The rule it departs from, such as `combustion-air/indoor-volume`.
        rule: String, like "combustion-air/indoor-volume";
        /// What it is granted for: the id of anything in the project; nothing named means what has no id, such as the site or
        /// the project as a whole.
        subject: String => "any";
        /// The document that grants it. Without one it settles nothing.
        document: String, like "Variance 2025-07";
        /// Who granted it.
        granted_by: String;
        /// When, `YYYY-MM-DD`.
        granted_on: String, like "2025-02-11";
        /// Last day it is good for, `YYYY-MM-DD`, held against the day whose law is asked about. Without one it settles nothing.
        expires: String, like "2026-02-11";
        /// What it asks for in return.
        conditions: Vec<String>;
        /// The authority's signature of this record, as `redtag variance` prints it. Where the county's pack or the repository's
        /// lock file names those who sign, a variance without it settles nothing.
        signature: String;
    }
}
