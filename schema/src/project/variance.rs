//! Variances: what the authority has granted.

record! {
    /// An approval of the authority to depart from a rule.
    Variance("variance") {
        /// The rule it departs from, such as `combustion-air/indoor-volume`.
        rule: String, like "combustion-air/indoor-volume";
        /// What it is granted for: the id of anything in the project; nothing named means the whole project.
        subject: String => "any";
        /// The document that grants it.
        document: String, like "Variance 2025-07";
        /// Who granted it.
        granted_by: String;
        /// When, `YYYY-MM-DD`.
        granted_on: String, like "2025-02-11";
        /// Last day it is good for, `YYYY-MM-DD`.
        expires: String, like "2026-02-11";
        /// What it asks for in return.
        conditions: Vec<String>;
    }
}
