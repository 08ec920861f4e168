//! Skerry County's own rules for buildings on the shore. The county and its ordinances are invented.

redtag_rule::module!("skerry-shore");
